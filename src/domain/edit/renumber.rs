//! New records' numbers, made fit for a book that has moved on. Two windows may both add a record and choose the same
//! number for it; the later one is given the next free number, and every other part of its edit that means the new
//! record follows.

use super::{Edit, Row};
use crate::domain::book::Book;
use crate::domain::book::table::{Record, Records};
use crate::domain::project::{Project, ProjectCard};
use crate::domain::stock::ids::RecordKey;
use crate::domain::stock::{
    AssortmentId, BookingId, FormatId, ItemId, OffcutId, OrderId, ProjectId, SwatchId, TrioId,
};
use std::collections::BTreeMap;

/// Which numbers of new records were exchanged for which.
#[derive(Clone, Debug, Default)]
pub struct Renumbering {
    items: BTreeMap<ItemId, ItemId>,
    swatches: BTreeMap<SwatchId, SwatchId>,
    projects: BTreeMap<ProjectId, ProjectId>,
    offcuts: BTreeMap<OffcutId, OffcutId>,
    bookings: BTreeMap<BookingId, BookingId>,
    orders: BTreeMap<OrderId, OrderId>,
    assortments: BTreeMap<AssortmentId, AssortmentId>,
    formats: BTreeMap<FormatId, FormatId>,
    trios: BTreeMap<TrioId, TrioId>,
}

impl Edit {
    /// The same edit with a free number for each new record whose number is taken in `book`; unchanged where none is.
    #[must_use]
    pub fn with_free_numbers(&self, book: &Book) -> Self {
        Renumbering::default().apply(self, book)
    }
}

fn note<K: RecordKey, T: Record>(fresh: &mut BTreeMap<K, K>, row: &Row<K, T>, table: &Records<K, T>) {
    let Row::Add(id, new) = row else { return };
    if !fresh.contains_key(id) && table.is_taken(*id, new) {
        let after_ours = fresh.values().map(|k| k.number() + 1).max().unwrap_or(0);
        let free = table.next().number().max(after_ours);
        fresh.insert(*id, K::from_number(free));
    }
}

fn swap<K: RecordKey>(fresh: &BTreeMap<K, K>, id: &mut K) {
    if let Some(new) = fresh.get(id) {
        *id = *new;
    }
}

fn swap_row<K: RecordKey, T>(fresh: &BTreeMap<K, K>, row: &mut Row<K, T>) {
    match row {
        Row::Add(id, _) | Row::Remove(id) | Row::Alter { id, .. } => swap(fresh, id),
    }
}

fn each<K, T>(row: &mut Row<K, T>, change: impl Fn(&mut T)) {
    match row {
        Row::Add(_, new) => change(new),
        Row::Remove(_) => {}
        Row::Alter { was, now, .. } => {
            change(was);
            change(now);
        }
    }
}

impl Renumbering {
    /// The edit with every number exchanged that was exchanged before, and a free number for each new record whose
    /// own is taken in `book`.
    pub fn apply(&mut self, edit: &Edit, book: &Book) -> Edit {
        self.collect(edit, book);
        let mut edit = edit.clone();
        if !self.is_empty() {
            self.put_into(&mut edit);
        }
        edit
    }

    fn is_empty(&self) -> bool {
        self.items.is_empty()
            && self.swatches.is_empty()
            && self.projects.is_empty()
            && self.offcuts.is_empty()
            && self.bookings.is_empty()
            && self.orders.is_empty()
            && self.assortments.is_empty()
            && self.formats.is_empty()
            && self.trios.is_empty()
    }

    fn collect(&mut self, edit: &Edit, book: &Book) {
        match edit {
            Edit::Batch { edits, .. } => edits.iter().for_each(|e| self.collect(e, book)),
            Edit::Item(row) => note(&mut self.items, row, book.items()),
            Edit::Swatch(row) => note(&mut self.swatches, row, book.swatches()),
            Edit::Project(row) => note(&mut self.projects, row, book.projects()),
            Edit::Offcut(row) => note(&mut self.offcuts, row, book.offcuts()),
            Edit::Booking(row) => note(&mut self.bookings, row, book.bookings()),
            Edit::Order(row) => note(&mut self.orders, row, book.orders()),
            Edit::Assortment(row) => note(&mut self.assortments, row, book.assortments()),
            Edit::Format(row) => note(&mut self.formats, row, book.formats()),
            Edit::Trio(row) => note(&mut self.trios, row, book.trios()),
            Edit::Settings { .. }
            | Edit::LooseCard { .. }
            | Edit::Activate { .. }
            | Edit::Log(_)
            | Edit::Void { .. } => {}
        }
    }

    fn put_into(&self, edit: &mut Edit) {
        match edit {
            Edit::Batch { edits, .. } => edits.iter_mut().for_each(|e| self.put_into(e)),
            Edit::Item(row) => {
                swap_row(&self.items, row);
                each(row, |i| i.swatches_mut().for_each(|s| swap(&self.swatches, s)));
            }
            Edit::Swatch(row) => swap_row(&self.swatches, row),
            Edit::Project(row) => {
                swap_row(&self.projects, row);
                each(row, |p| self.put_into_project(p));
            }
            Edit::Offcut(row) => {
                swap_row(&self.offcuts, row);
                each(row, |o| swap(&self.items, &mut o.item));
            }
            Edit::Booking(row) => {
                swap_row(&self.bookings, row);
                each(row, |b| {
                    swap(&self.items, &mut b.item);
                    swap(&self.projects, &mut b.project);
                    b.offcut.iter_mut().for_each(|o| swap(&self.offcuts, o));
                });
            }
            Edit::Order(row) => {
                swap_row(&self.orders, row);
                each(row, |o| swap(&self.items, &mut o.item));
            }
            Edit::Assortment(row) => {
                swap_row(&self.assortments, row);
                each(row, |a| a.contents.iter_mut().for_each(|(i, _)| swap(&self.items, i)));
            }
            Edit::Format(row) => swap_row(&self.formats, row),
            Edit::Trio(row) => {
                swap_row(&self.trios, row);
                each(row, |t| t.swatches.iter_mut().for_each(|s| swap(&self.swatches, s)));
            }
            Edit::LooseCard { was, now } => {
                [was, now].into_iter().flatten().for_each(|c| self.put_into_card(c));
            }
            Edit::Activate { was, now } => {
                [was, now].into_iter().flatten().for_each(|p| swap(&self.projects, p));
            }
            Edit::Log(line) => {
                swap(&self.items, &mut line.item);
                line.offcut.iter_mut().for_each(|o| swap(&self.offcuts, o));
                line.work.iter_mut().for_each(|w| swap(&self.projects, &mut w.project));
            }
            Edit::Settings { was, now } => {
                let cards = [was, now].into_iter().flat_map(|s| &mut s.forgotten.cards);
                cards.flatten().for_each(|s| swap(&self.swatches, s));
            }
            Edit::Void { .. } => {}
        }
    }

    fn put_into_card(&self, card: &mut ProjectCard) {
        card.items_mut().for_each(|i| swap(&self.items, i));
        card.swatches_mut().for_each(|s| swap(&self.swatches, s));
    }

    fn put_into_project(&self, project: &mut Project) {
        project.cards.iter_mut().for_each(|c| self.put_into_card(c));
        project.pieces.iter_mut().filter_map(|p| p.paper.as_mut()).for_each(|i| swap(&self.items, i));
        project.supplies.iter_mut().for_each(|s| swap(&self.items, &mut s.item));
        if let Some(plan) = &mut project.plan {
            plan.items_mut().for_each(|i| swap(&self.items, i));
            plan.offcuts_mut().for_each(|o| swap(&self.offcuts, o));
        }
    }
}
