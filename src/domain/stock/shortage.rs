//! When an item runs short: what is booked and what is awaited, day by day.

use crate::domain::book::Book;
use crate::domain::stock::{Booking, ItemId, ProjectId};
use jiff::civil::Date;

/// The first booking that what is there, and what comes before, does not cover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shortage {
    /// The day it is needed; `None` for now.
    pub on: Option<Date>,
    /// Who needs it.
    pub project: ProjectId,
    /// How many are wanting by then.
    pub missing: u64,
    /// How many are wanting in all, when everything awaited is here.
    pub missing_in_all: u64,
}

/// The first shortage of an item. What is awaited counts from the day it is expected; without such a day it counts
/// only for the sum.
pub fn shortage(book: &Book, item: ItemId) -> Option<Shortage> {
    let mut bookings: Vec<_> = book.bookings().iter().map(|(_, b)| b).filter(|b| b.item == item).collect();
    bookings.sort_by_key(|b| (b.on, b.project));
    let on_hand = book.on_hand(item);
    let mut needed = 0_u64;
    let mut first = None;
    for b in bookings {
        needed += u64::from(b.count);
        let missing = needed.saturating_sub(on_hand + awaited_by(book, item, b.on));
        if missing > 0 && first.is_none() {
            first = Some((b.on, b.project, missing));
        }
    }
    let missing_in_all = needed.saturating_sub(on_hand + book.on_order(item));
    first.map(|(on, project, missing)| Shortage { on, project, missing, missing_in_all })
}

/// How many of `count` are wanting for a project on a day, when all that others have booked for that day or before is
/// served first. Bookings without a day count as now.
pub fn missing_for(book: &Book, project: ProjectId, item: ItemId, count: u64, on: Option<Date>) -> u64 {
    let before = |b: &Booking| b.project != project && b.item == item && (b.on.is_none() || b.on <= on);
    let others: u64 =
        book.bookings().iter().filter(|(_, b)| before(b)).map(|(_, b)| u64::from(b.count)).sum();
    (others + count).saturating_sub(book.on_hand(item) + awaited_by(book, item, on)).min(count)
}

fn awaited_by(book: &Book, item: ItemId, day: Option<Date>) -> u64 {
    let Some(day) = day else { return 0 };
    let in_time = book
        .orders()
        .iter()
        .map(|(_, o)| o)
        .filter(|o| o.item == item && o.expected.is_some_and(|e| e <= day));
    in_time.map(|o| u64::from(o.count)).sum()
}
