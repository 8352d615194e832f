//! The book: everything that is saved. Shelf, colours, projects, bin, orders, and the log that all counts come from.
//!
//! It can be read by anyone and is changed by [`crate::domain::edit::Edit`] alone. On hand is kept nowhere but as the
//! fold of the log; the totals here are that fold carried along, and [`Book::check`] verifies them.

mod find;
pub mod format;
pub(crate) mod ledger;
mod records;
pub mod table;

pub use super::near::folded;
use crate::domain::book::format::SheetFormat;
pub use find::FindError;
pub use ledger::Ledger;

use crate::domain::edit::Edit;
use crate::domain::length::Unit;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::settings::BookSettings;
use crate::domain::stock::{
    Assortment, AssortmentId, Booking, BookingId, FormatId, Item, ItemId, KeptTrio, LogLine, NamedColour,
    Offcut, OffcutId, Order, OrderId, ProjectId, SwatchId, TrioId,
};
use find::Names;
use jiff::civil::Date;
use std::collections::BTreeMap;
use table::Records;

/// The tables of a book and its settings, free to take and to look at.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tables {
    /// The shelf.
    pub items: Records<ItemId, Item>,
    /// The colours.
    pub swatches: Records<SwatchId, NamedColour>,
    /// Projects and classes.
    pub projects: Records<ProjectId, Project>,
    /// The bin.
    pub offcuts: Records<OffcutId, Offcut>,
    /// Sheets set aside.
    pub bookings: Records<BookingId, Booking>,
    /// What is awaited.
    pub orders: Records<OrderId, Order>,
    /// Packs of several items.
    pub assortments: Records<AssortmentId, Assortment>,
    /// Sheet formats of the person's own.
    pub formats: Records<FormatId, SheetFormat>,
    /// Trios that are kept.
    pub trios: Records<TrioId, KeptTrio>,
    /// Settings that belong to the data.
    pub settings: BookSettings,
    /// The card that is in no project, once one was made.
    pub loose_card: Option<Box<ProjectCard>>,
    /// The project that all panes work on.
    pub active: Option<ProjectId>,
}

/// Everything that is saved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Book {
    pub(crate) seq: u64,
    pub(crate) tables: Tables,
    pub(crate) ledger: Ledger,
    names: Names,
    booked: BTreeMap<ItemId, u64>,
    booked_offcuts: BTreeMap<OffcutId, u64>,
    on_order: BTreeMap<ItemId, u64>,
    /// Not saved: the unit in which its offcuts are named.
    shown_in: Unit,
}

impl Book {
    /// A book put together from what was saved. The totals are folded from the log.
    ///
    /// # Errors
    /// A sentence where the parts do not fit together, such as a count below zero or a line about nothing.
    pub fn from_parts(seq: u64, tables: Tables, log: Vec<LogLine>) -> Result<Self, String> {
        let ledger = Ledger::from_lines(log)?;
        let names = Names::of(&tables.items);
        let (booked, booked_offcuts) = booked(&tables);
        let on_order = on_order(&tables);
        let shown_in = tables.settings.unit;
        let book = Self { seq, tables, ledger, names, booked, booked_offcuts, on_order, shown_in };
        book.check_log()?;
        Ok(book)
    }

    /// How many edits have been applied: the number of the last one.
    pub fn seq(&self) -> u64 {
        self.seq
    }

    /// Counts on from a higher number, when an old book takes the place of a newer one.
    pub fn jump_to(&mut self, seq: u64) {
        self.seq = self.seq.max(seq);
    }

    /// All tables, for those who save or list them.
    pub fn tables(&self) -> &Tables {
        &self.tables
    }

    /// The shelf.
    pub fn items(&self) -> &Records<ItemId, Item> {
        &self.tables.items
    }

    /// The colours.
    pub fn swatches(&self) -> &Records<SwatchId, NamedColour> {
        &self.tables.swatches
    }

    /// Projects and classes.
    pub fn projects(&self) -> &Records<ProjectId, Project> {
        &self.tables.projects
    }

    /// The bin. How many of each: [`Book::offcut_count`].
    pub fn offcuts(&self) -> &Records<OffcutId, Offcut> {
        &self.tables.offcuts
    }

    /// Sheets set aside.
    pub fn bookings(&self) -> &Records<BookingId, Booking> {
        &self.tables.bookings
    }

    /// What is awaited.
    pub fn orders(&self) -> &Records<OrderId, Order> {
        &self.tables.orders
    }

    /// Packs of several items.
    pub fn assortments(&self) -> &Records<AssortmentId, Assortment> {
        &self.tables.assortments
    }

    /// Sheet formats of the person's own.
    pub fn formats(&self) -> &Records<FormatId, SheetFormat> {
        &self.tables.formats
    }

    /// Trios that are kept.
    pub fn trios(&self) -> &Records<TrioId, KeptTrio> {
        &self.tables.trios
    }

    /// Settings that belong to the data.
    pub fn settings(&self) -> &BookSettings {
        &self.tables.settings
    }

    /// The card that is in no project, once one was made.
    pub fn loose_card(&self) -> Option<&ProjectCard> {
        self.tables.loose_card.as_deref()
    }

    /// The project that all panes work on.
    pub fn active(&self) -> Option<ProjectId> {
        self.tables.active
    }

    /// The active project itself.
    pub fn active_project(&self) -> Option<&Project> {
        self.tables.projects.get(self.tables.active?)
    }

    /// The log, oldest line first.
    pub fn log(&self) -> &[LogLine] {
        self.ledger.lines()
    }

    /// The lines about one item, oldest first, its offcuts' lines among them.
    pub fn lines_of(&self, item: ItemId) -> impl DoubleEndedIterator<Item = &LogLine> {
        self.ledger.lines_of(item)
    }

    /// True where a later line counters this one.
    pub fn is_voided(&self, line: u64) -> bool {
        self.ledger.voided_by(line).is_some()
    }

    /// Sheets (or pads, envelopes, ...) on the shelf: the sum of the log's lines for the item.
    pub fn on_hand(&self, item: ItemId) -> u64 {
        self.ledger.on_hand(item)
    }

    /// Pieces of this kind in the bin.
    pub fn offcut_count(&self, offcut: OffcutId) -> u64 {
        self.ledger.offcut_count(offcut)
    }

    /// Since when an offcut is in the bin: as written, else the day of the first line that stands and put some there.
    pub fn kept_since(&self, offcut: OffcutId) -> Option<Date> {
        let kept = self.offcuts().get(offcut)?;
        let is_of_it = |l: &&LogLine| l.offcut == Some(offcut) && l.change > 0 && self.ledger.stands(l);
        kept.since.or_else(|| self.lines_of(kept.item).find(is_of_it).map(|l| l.date))
    }

    /// Sheets set aside for projects.
    pub fn booked(&self, item: ItemId) -> u64 {
        self.booked.get(&item).copied().unwrap_or(0)
    }

    /// Pieces of this kind in the bin that are set aside for projects.
    pub fn booked_offcuts(&self, offcut: OffcutId) -> u64 {
        self.booked_offcuts.get(&offcut).copied().unwrap_or(0)
    }

    /// Pieces of this kind in the bin that nobody has booked.
    pub fn free_offcuts(&self, offcut: OffcutId) -> u64 {
        self.offcut_count(offcut).saturating_sub(self.booked_offcuts(offcut))
    }

    /// Sheets ordered and not yet here.
    pub fn on_order(&self, item: ItemId) -> u64 {
        self.on_order.get(&item).copied().unwrap_or(0)
    }

    /// On hand less what is booked, whoever booked it; below zero where more is booked than there is.
    pub fn free(&self, item: ItemId) -> i64 {
        self.on_hand(item) as i64 - self.booked(item) as i64
    }

    /// The item that a name or an order number means.
    ///
    /// # Errors
    /// A sentence: none of that name (with the nearest names), or several.
    pub fn find_item(&self, text: &str) -> Result<ItemId, FindError> {
        self.names.find(&self.tables.items, text)
    }

    /// The project of this name, whatever the case of its letters.
    pub fn find_project(&self, name: &str) -> Option<ProjectId> {
        let wanted = folded(name);
        self.tables.projects.iter().find(|(_, p)| folded(&p.name) == wanted).map(|(id, _)| id)
    }

    /// The swatch of this name, whatever the case of its letters; else the one that had the name formerly.
    pub fn find_swatch(&self, name: &str) -> Option<SwatchId> {
        let wanted = folded(name);
        let now = self.tables.swatches.iter().find(|(_, s)| folded(&s.name) == wanted);
        let formerly =
            || self.tables.swatches.iter().find(|(_, s)| s.former_names.iter().any(|n| folded(n) == wanted));
        now.or_else(formerly).map(|(id, _)| id)
    }

    /// Names offcuts in the unit that the person measures with now, which may be another than the book was begun with.
    pub fn show_in(&mut self, unit: Unit) {
        self.shown_in = unit;
    }

    /// The unit in which offcuts are named.
    pub fn shown_in(&self) -> Unit {
        self.shown_in
    }

    /// What an offcut is called: its paper and its size.
    pub fn offcut_title(&self, offcut: OffcutId) -> String {
        match self.tables.offcuts.get(offcut) {
            Some(o) => format!(
                "{} offcut {}",
                self.tables.items.name_of(o.item),
                o.size.show_with_unit(self.shown_in)
            ),
            None => format!("offcut {}", self.tables.offcuts.name_of(offcut)),
        }
    }

    /// The same under a heading that says what it is, or where room is short: `moss, letter 4 x 11`.
    pub fn offcut_short_title(&self, offcut: OffcutId) -> String {
        self.tables.offcuts.get(offcut).map_or_else(
            || self.offcut_title(offcut),
            |o| {
                let unit = self.shown_in;
                let (width, height) = (o.size.width.about(unit), o.size.height.about(unit));
                format!("{} {width} x {height}", self.tables.items.name_of(o.item))
            },
        )
    }

    /// True where a line that still counts was logged for this job: the same plan is about to be logged twice.
    pub fn has_logged(&self, job: &str) -> bool {
        let counts = |l: &LogLine| is_job_of(&l.job, job) && !self.is_voided(l.seq) && l.voids.is_none();
        !job.is_empty() && self.log().iter().rev().any(counts)
    }

    /// Verifies what is carried along against what it is carried from.
    ///
    /// # Errors
    /// A sentence that names the first figure that differs.
    pub fn check(&self) -> Result<(), String> {
        self.check_log()?;
        if Ledger::from_lines(self.log().to_vec())? != self.ledger {
            return Err("the totals on hand differ from the sum of the log".to_owned());
        }
        if Names::of(&self.tables.items) != self.names {
            return Err("the index of names differs from the shelf".to_owned());
        }
        let carried = (self.booked.clone(), self.booked_offcuts.clone());
        if booked(&self.tables) != carried || on_order(&self.tables) != self.on_order {
            return Err("the totals of bookings and orders differ from their rows".to_owned());
        }
        Ok(())
    }

    fn check_log(&self) -> Result<(), String> {
        if let Some((_, line)) = self.ledger.items().find(|(item, _)| !self.tables.items.knows(*item)) {
            return Err(format!("line {line} of the log is about an item that is not in the book"));
        }
        if self.ledger.offcuts().any(|o| self.tables.offcuts.get(o).is_none()) {
            return Err("the log counts offcuts that are not in the book".to_owned());
        }
        Ok(())
    }

    /// Keeps the names and the totals of bookings and orders in step, given the inverse of what was just done.
    pub(crate) fn carry_along(&mut self, inverse: &Edit) {
        match inverse {
            Edit::Item(row) => {
                if let Some(before) = row.now() {
                    self.names.remove(row.id(), before);
                }
                if let Some(now) = self.tables.items.get(row.id()) {
                    self.names.add(row.id(), now);
                }
            }
            Edit::Booking(row) => {
                if let Some(before) = row.now() {
                    self.shift_booked(before.item, before.offcut, 0, before.count);
                }
                if let Some(now) = self.tables.bookings.get(row.id()) {
                    let (item, offcut, count) = (now.item, now.offcut, now.count);
                    self.shift_booked(item, offcut, count, 0);
                }
            }
            Edit::Order(row) => {
                if let Some(before) = row.now() {
                    shift(&mut self.on_order, before.item, 0, before.count);
                }
                if let Some(now) = self.tables.orders.get(row.id()) {
                    shift(&mut self.on_order, now.item, now.count, 0);
                }
            }
            _ => {}
        }
    }

    fn shift_booked(&mut self, item: ItemId, offcut: Option<OffcutId>, plus: u32, minus: u32) {
        match offcut {
            Some(offcut) => shift(&mut self.booked_offcuts, offcut, plus, minus),
            None => shift(&mut self.booked, item, plus, minus),
        }
    }

    /// Items of this name in any kind and size.
    pub fn items_named(&self, name: &str) -> impl Iterator<Item = (ItemId, &Item)> {
        self.names.named(name).filter_map(|id| self.tables.items.get(id).map(|item| (id, item)))
    }
}

/// True for a line's job that is this job, or this job with its spoiled pieces named behind it.
pub fn is_job_of(line: &str, job: &str) -> bool {
    let rest = line.strip_prefix(job);
    rest.is_some_and(|r| r.is_empty() || (r.starts_with(" (") && r.ends_with(" spoiled)")))
}

/// Sheets by item, and pieces of the bin, that are set aside.
fn booked(tables: &Tables) -> (BTreeMap<ItemId, u64>, BTreeMap<OffcutId, u64>) {
    let (mut sheets, mut offcuts) = (BTreeMap::new(), BTreeMap::new());
    for (_, b) in tables.bookings.iter() {
        match b.offcut {
            Some(offcut) => shift(&mut offcuts, offcut, b.count, 0),
            None => shift(&mut sheets, b.item, b.count, 0),
        }
    }
    (sheets, offcuts)
}

fn on_order(tables: &Tables) -> BTreeMap<ItemId, u64> {
    let mut totals = BTreeMap::new();
    tables.orders.iter().for_each(|(_, o)| shift(&mut totals, o.item, o.count, 0));
    totals
}

/// A total carried along; a total of nothing has no entry, so that equal books compare equal.
fn shift<K: Ord + Copy>(totals: &mut BTreeMap<K, u64>, key: K, plus: u32, minus: u32) {
    let total = (totals.get(&key).copied().unwrap_or(0) + u64::from(plus)).saturating_sub(u64::from(minus));
    if total == 0 {
        totals.remove(&key);
    } else {
        totals.insert(key, total);
    }
}
