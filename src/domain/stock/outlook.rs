//! How a class stands against the shelf: each paper's need, what is cut, what is set aside for it, what is wanting by the
//! day, what a seat's kit holds and what it all costs. One look for the screen, the plain mode and the command line.

use crate::domain::book::Book;
use crate::domain::planning;
use crate::domain::project::Progress;
use crate::domain::stock::class::{KitLine, kit};
use crate::domain::stock::cost::{Costs, costs};
use crate::domain::stock::lot::mixed_lots;
use crate::domain::stock::needs::{Basis, Needs, Settled, needs};
use crate::domain::stock::reorder::order_day;
use crate::domain::stock::shared_shelf::{Other, others};
use crate::domain::stock::shortage::missing_for;
use crate::domain::stock::{ItemId, OffcutId, ProjectId, booked};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// One item of a class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// Which.
    pub item: ItemId,
    /// Sheets or things needed in all: used, and still to be used.
    pub needed: u64,
    /// Logged for this class so far.
    pub used: u64,
    /// Set aside for this class.
    pub booked: u64,
    /// On hand less all that is booked, whoever booked it; below zero where more is booked than there is.
    pub free: i64,
    /// Wanting on the day, with all that is served before it.
    pub missing: u64,
    /// The last day to order what is wanting; `None` where nothing is, or no day is set.
    pub order_by: Option<Date>,
}

impl Need {
    /// How many are short, and by when to order them: `1 of moss pool, letter, order by 2026-12-01`.
    fn short_words(&self, book: &Book) -> String {
        let by = self.order_by.map_or_else(String::new, |day| format!(", order by {day}"));
        format!("{} of {}{by}", self.missing, book.items().name_of(self.item))
    }

    /// Still to be cut or used.
    pub fn still(&self) -> u64 {
        self.needed.saturating_sub(self.used)
    }
}

/// Offcuts of one kind that a class takes: no sheets, and counted apart from them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OffcutNeed {
    /// Which.
    pub offcut: OffcutId,
    /// Needed in all: used, and still to be used.
    pub needed: u64,
    /// Logged for this class so far.
    pub used: u64,
    /// Set aside for this class.
    pub booked: u64,
}

/// The whole look.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outlook {
    /// The day it is needed.
    pub on: Option<Date>,
    /// Whether the figures are of the booked plan, of a plan that is not booked, or only a bound.
    pub basis: Basis,
    /// Item by item.
    pub needs: Vec<Need>,
    /// The offcuts that it takes.
    pub offcuts: Vec<OffcutNeed>,
    /// Pieces to cut in all, and pieces still to be cut.
    pub pieces: (u64, u64),
    /// Pieces that are cut by now, whether or not the rest will be.
    pub cut: u64,
    /// Whole sheets by which the plan that was made anew is better than the booked one.
    pub better_by: u64,
    /// What goes to each seat.
    pub kit: Vec<KitLine>,
    /// How many of each line of the kit are still to be cut, or used up; a row each.
    pub kit_still: Vec<u64>,
    /// What it costs.
    pub costs: Costs,
    /// What others have set aside of the same things.
    pub others: Vec<Other>,
    /// What could not be worked out, and dye lots that would mix, in sentences.
    pub notes: Vec<String>,
}

/// The look at a project; `None` where it is not in the book. `settled` is its plan from the background, where that is
/// there by now.
pub fn outlook(book: &Book, id: ProjectId, settled: Option<Settled<'_>>) -> Option<Outlook> {
    let project = book.projects().get(id)?;
    let wanted = needs(book, id, settled)?;
    let is_open = project.progress == Progress::Open;
    let booked = booked::items(book, id);
    let (still, mut items) = (wanted.still(), wanted.in_all());
    for item in booked.keys() {
        items.entry(*item).or_default();
    }
    let mut notes = wanted.notes.clone();
    let mut rows = Vec::new();
    for (item, needed) in items {
        let own = booked.get(&item).copied().unwrap_or(0);
        let open = still.get(&item).copied().unwrap_or(0).max(own);
        let missing = if is_open { missing_for(book, id, item, open, project.date) } else { 0 };
        if is_open {
            notes.extend(mixed_lots(book, item, open));
        }
        let used = wanted.done.items.get(&item).copied().unwrap_or(0);
        let order_by = project.date.filter(|_| missing > 0).map(|day| order_day(book, item, id, day));
        rows.push(Need { item, needed, used, booked: own, free: book.free(item), missing, order_by });
    }
    let named: Vec<ItemId> = rows.iter().map(|n| n.item).collect();
    Some(Outlook {
        others: if is_open { others(book, id, &named) } else { Vec::new() },
        on: project.date,
        basis: wanted.basis,
        needs: rows,
        offcuts: offcut_rows(book, id, &wanted),
        pieces: wanted.pieces(),
        cut: wanted.cut,
        better_by: better_by(&wanted, settled),
        kit: kit(&wanted.list),
        kit_still: kit_still(&wanted),
        costs: costs(book, id, &wanted).unwrap_or_default(),
        notes,
    })
}

/// What is still to be cut, or used, of each line of the kit, in its order.
fn kit_still(wanted: &Needs) -> Vec<u64> {
    let cut = wanted.list.pieces.iter().zip(&wanted.open).filter(|(p, _)| p.a_set > 0);
    let cut = cut.map(|(p, open)| if p.paper.is_some() { u64::from(*open) } else { 0 });
    let counted = wanted.list.counted.iter().filter(|c| c.a_set > 0);
    let counted = counted.map(|c| wanted.counted.get(&c.item).copied().unwrap_or(0));
    cut.chain(counted).collect()
}

fn offcut_rows(book: &Book, id: ProjectId, wanted: &Needs) -> Vec<OffcutNeed> {
    let booked = booked::offcuts(book, id);
    let mut all: BTreeMap<OffcutId, u64> =
        wanted.takes.offcuts.iter().map(|(o, n)| (*o, u64::from(*n))).collect();
    for (offcut, n) in &wanted.done.offcuts {
        *all.entry(*offcut).or_default() += n;
    }
    for offcut in booked.keys() {
        all.entry(*offcut).or_default();
    }
    let row = |(offcut, needed)| OffcutNeed {
        offcut,
        needed,
        used: wanted.done.offcuts.get(&offcut).copied().unwrap_or(0),
        booked: booked.get(&offcut).copied().unwrap_or(0),
    };
    all.into_iter().map(row).collect()
}

/// Whole sheets that a plan made anew would save against the booked one.
fn better_by(wanted: &Needs, settled: Option<Settled<'_>>) -> u64 {
    let Some(settled) = settled.filter(|_| wanted.basis == Basis::Booked) else { return 0 };
    let anew = planning::takes(settled.job, settled.plan);
    wanted.takes.sheet_total().saturating_sub(anew.sheet_total())
}

impl Outlook {
    /// True where what is set aside is what is still to be used.
    pub fn is_booked(&self) -> bool {
        let offcuts = self.offcuts.iter().all(|o| o.booked == o.needed.saturating_sub(o.used));
        !self.needs.is_empty() && self.needs.iter().all(|n| n.booked == n.still()) && offcuts
    }

    /// Whole sheets and offcuts of its plan that are still to be cut; counted things are not among them.
    pub fn still_to_cut(&self, book: &Book) -> (u64, u64) {
        let is_paper = |n: &&Need| book.items().get(n.item).is_some_and(|i| i.kind.is_paper());
        let sheets = self.needs.iter().filter(is_paper).map(Need::still).sum();
        let offcuts = self.offcuts.iter().map(|o| o.needed.saturating_sub(o.used)).sum();
        (sheets, offcuts)
    }

    /// All that will be short, and by when, in one sentence; `None` where nothing is.
    pub fn shortage_line(&self, book: &Book) -> Option<String> {
        let short = self.needs.iter().filter(|n| n.missing > 0);
        let words: Vec<String> = short.map(|n| n.short_words(book)).collect();
        let on = self.on.map_or_else(|| "no day set".to_owned(), |day| format!("on {day}"));
        (!words.is_empty()).then(|| format!("SHORT {on}: {}", words.join("; ")))
    }

    /// One sentence for each item that will be short.
    pub fn shortages(&self, book: &Book) -> Vec<String> {
        let on = self.on.map_or_else(|| "no day set".to_owned(), |day| format!("on {day}"));
        let short = self.needs.iter().filter(|n| n.missing > 0);
        let by = |n: &Need| n.order_by.map_or_else(String::new, |day| format!("; order by {day}"));
        short
            .map(|n| format!("{} of {} short {on}{}", n.missing, book.items().name_of(n.item), by(n)))
            .collect()
    }
}
