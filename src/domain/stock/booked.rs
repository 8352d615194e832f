//! What a project has set aside: whole sheets, pieces of the bin and counted things. Free is on hand less all of it,
//! whoever booked it, on every screen.

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::project::Source;
use crate::domain::stock::{Booking, BookingId, ItemId, OffcutId, ProjectId};
use std::collections::BTreeMap;

/// A project's bookings, in the order they were made.
pub fn bookings_of(book: &Book, project: ProjectId) -> impl Iterator<Item = (BookingId, &Booking)> {
    book.bookings().iter().filter(move |(_, b)| b.project == project)
}

/// Sheets and counted things that a project has booked.
pub fn items(book: &Book, project: ProjectId) -> BTreeMap<ItemId, u64> {
    let mut all = BTreeMap::new();
    for (_, b) in bookings_of(book, project).filter(|(_, b)| b.offcut.is_none()) {
        *all.entry(b.item).or_default() += u64::from(b.count);
    }
    all
}

/// Pieces of the bin that a project has booked.
pub fn offcuts(book: &Book, project: ProjectId) -> BTreeMap<OffcutId, u64> {
    let mut all = BTreeMap::new();
    for (_, b) in bookings_of(book, project) {
        if let Some(id) = b.offcut {
            *all.entry(id).or_default() += u64::from(b.count);
        }
    }
    all
}

/// How many offcuts of a kind a project has booked.
pub fn offcuts_of(book: &Book, project: ProjectId, offcut: OffcutId) -> u64 {
    bookings_of(book, project)
        .filter(|(_, b)| b.offcut == Some(offcut))
        .map(|(_, b)| u64::from(b.count))
        .sum()
}

/// Gives free all that a project has booked.
pub fn release(book: &Book, project: ProjectId) -> Vec<Edit> {
    bookings_of(book, project).map(|(id, _)| Edit::Booking(Row::Remove(id))).collect()
}

/// Takes what is used off what a project has booked: so many of each item or offcut, and no more than it has booked.
pub fn take_off(book: &Book, project: ProjectId, used: &[(ItemId, Option<OffcutId>, u32)]) -> Vec<Edit> {
    let mut edits = Vec::new();
    for (item, offcut, n) in used {
        let mut left = *n;
        for (id, b) in bookings_of(book, project).filter(|(_, b)| b.item == *item && b.offcut == *offcut) {
            let taken = left.min(b.count);
            left -= taken;
            if taken == b.count {
                edits.push(Edit::Booking(Row::Remove(id)));
            } else if taken > 0 {
                let now = Booking { count: b.count - taken, ..b.clone() };
                edits.push(Edit::Booking(Row::alter(id, b.clone(), now)));
            }
        }
    }
    edits
}

/// What a booking sets aside, by name: the offcut with its size, else the item.
pub fn title(book: &Book, booking: &Booking) -> String {
    booking.offcut.map_or_else(|| book.items().name_of(booking.item), |o| book.offcut_title(o))
}

/// Where it comes from.
pub fn source(booking: &Booking) -> Source {
    booking.offcut.map_or(Source::Shelf(booking.item), Source::Bin)
}
