//! When an item runs short: what is booked and what is awaited, day by day.

use crate::domain::book::Book;
use crate::domain::cutlist;
use crate::domain::days::named;
use crate::domain::edit::Edit;
use crate::domain::plural::count_of;
use crate::domain::stock::{Booking, BookingId, ItemId, ProjectId};
use jiff::Span;
use jiff::civil::Date;

/// The first booking that what is there, and what comes before, does not cover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shortage {
    /// The day it is needed; `None` for work without a day.
    pub on: Option<Date>,
    /// Who needs it.
    pub project: ProjectId,
    /// How many are wanting by then.
    pub missing: u64,
    /// How many are wanting in all, when everything awaited is here.
    pub missing_in_all: u64,
}

impl Shortage {
    /// Where its line is named beside it: `1 more sheet for Winter class, by Sat 2026-12-12`.
    pub fn words(&self, book: &Book, item: ItemId) -> String {
        format!("{}{}", more(book, item, self.missing), self.for_whom(book))
    }

    /// The same with its line: `1 more sheet of moss pool, letter for Winter class, by Sat 2026-12-12`.
    pub fn whole_words(&self, book: &Book, item: ItemId) -> String {
        let more = more(book, item, self.missing);
        format!("{more} of {}{}", book.items().name_of(item), self.for_whom(book))
    }

    fn for_whom(&self, book: &Book) -> String {
        format!(" for {}{}", book.projects().name_of(self.project), by(self.on))
    }
}

/// So many that one piece of work lacks, where that is named beside it: `2 more sheets of fern floor, letter, by Sat 2026-12-12`.
pub fn missing_words(book: &Book, item: ItemId, missing: u64, on: Option<Date>) -> String {
    format!("{} of {}{}", more(book, item, missing), book.items().name_of(item), by(on))
}

fn more(book: &Book, item: ItemId, n: u64) -> String {
    let is_paper = book.items().get(item).is_some_and(|i| i.kind.is_paper());
    if is_paper { count_of(n, "more sheet") } else { format!("{n} more") }
}

fn by(on: Option<Date>) -> String {
    on.map_or_else(String::new, |day| format!(", by {}", named(day)))
}

/// The day that a booking is for: its project's, which may have been moved since.
pub fn day_of(book: &Book, b: &Booking) -> Option<Date> {
    book.projects().get(b.project).map_or(b.on, |p| p.date)
}

/// The day by which sheets are cut and kits are packed: the one before (common practice: the morning belongs to the room).
pub fn made_ready_on(day: Date) -> Date {
    day.saturating_sub(Span::new().days(1))
}

/// The day on which a project that is due on a day takes an item at the latest: what is cut, and what goes into kits, the day
/// before; what is only handed over, on the day itself.
pub fn taken_on(book: &Book, project: ProjectId, item: ItemId, day: Date) -> Date {
    let is_ready_before = book.projects().get(project).is_some_and(|p| {
        let list = cutlist::of_project(book, p);
        let is_packed = || p.kits() > 0 && list.counted.iter().any(|c| c.item == item);
        list.pieces.iter().any(|piece| piece.paper == Some(item)) || is_packed()
    });
    if is_ready_before { made_ready_on(day) } else { day }
}

/// Who is served first: by day, and what has no day after all that has one.
type Turn = (bool, Option<Date>);

fn turn(day: Option<Date>) -> Turn {
    (day.is_none(), day)
}

/// The bookings of an item's sheets in the order in which they are served.
fn in_turn(book: &Book, item: ItemId) -> Vec<(Turn, BookingId, &Booking)> {
    let of_item = book.bookings().iter().filter(|(_, b)| b.item == item && b.offcut.is_none());
    let mut all: Vec<_> = of_item.map(|(id, b)| (turn(day_of(book, b)), id, b)).collect();
    all.sort_by_key(|(turn, id, _)| (*turn, *id));
    all
}

/// The first shortage of an item. What is awaited counts from the day it is expected; without such a day it counts
/// only for the sum, and for work that has no day itself.
pub fn shortage(book: &Book, item: ItemId) -> Option<Shortage> {
    let on_hand = book.on_hand(item);
    let mut needed = 0_u64;
    let mut first = None;
    for ((_, day), _, b) in in_turn(book, item) {
        needed += u64::from(b.count);
        let missing = needed.saturating_sub(on_hand + awaited_by(book, item, day));
        if missing > 0 && first.is_none() {
            first = Some((day, b.project, missing));
        }
    }
    let missing_in_all = needed.saturating_sub(on_hand + book.on_order(item));
    first.map(|(on, project, missing)| Shortage { on, project, missing, missing_in_all })
}

/// How many of `count` are wanting for a project on a day, when all that is served before it has had its part: earlier
/// days, on the same day what was booked earlier, and every day before work without one.
pub fn missing_for(book: &Book, project: ProjectId, item: ItemId, count: u64, on: Option<Date>) -> u64 {
    let there = book.on_hand(item) + awaited_by(book, item, on);
    count.saturating_sub(there.saturating_sub(before(book, project, item, on)))
}

/// Sheets of an item that others have booked and that are served before a project's.
fn before(book: &Book, project: ProjectId, item: ItemId, on: Option<Date>) -> u64 {
    served_before(book, project, item, on).iter().map(|(_, b)| u64::from(b.count)).sum()
}

/// The bookings of others that are served before a project's, the last to be served first.
pub fn served_before(
    book: &Book,
    project: ProjectId,
    item: ItemId,
    on: Option<Date>,
) -> Vec<(BookingId, &Booking)> {
    let own =
        book.bookings().iter().find(|(_, b)| b.project == project && b.item == item && b.offcut.is_none());
    let own = own.map(|(id, _)| id);
    let first = |(t, id, b): &(Turn, BookingId, &Booking)| {
        b.project != project && (*t < turn(on) || (*t == turn(on) && own.is_none_or(|own| *id < own)))
    };
    in_turn(book, item).into_iter().filter(first).rev().map(|(_, id, b)| (id, b)).collect()
}

/// How many sheets of an item are there for a project: on hand less what is served before it.
pub fn there_for(book: &Book, project: ProjectId, item: ItemId, on: Option<Date>) -> u64 {
    book.on_hand(item).saturating_sub(before(book, project, item, on))
}

/// Whose booked sheets a use of `count` would take, in a sentence: `takes 2 of plum that Winter class of 2026-12-12 has
/// booked`; `None` where enough is free. A project's own bookings are its to use.
pub fn taken_from_others(
    book: &Book,
    project: Option<ProjectId>,
    item: ItemId,
    count: u64,
) -> Option<String> {
    let of_others: Vec<_> =
        in_turn(book, item).into_iter().filter(|(_, _, b)| Some(b.project) != project).collect();
    let booked: u64 = of_others.iter().map(|(_, _, b)| u64::from(b.count)).sum();
    let taken = (booked + count).saturating_sub(book.on_hand(item)).min(count).min(booked);
    // The last to be served are the first to go without.
    let ((_, day), _, last) = of_others.last().filter(|_| taken > 0)?;
    let day = day.map_or_else(String::new, |d| format!(" of {d}"));
    let (name, whose) = (book.items().name_of(item), book.projects().name_of(last.project));
    Some(format!("takes {taken} of {name} that {whose}{day} has booked"))
}

/// Whose booked sheets a booking of a project takes, a sentence an item: what comes later must not make short what has a
/// day without saying so.
pub fn taken_by(book: &Book, project: ProjectId, booking: &Edit) -> Vec<String> {
    let Edit::Batch { edits, .. } = booking else { return Vec::new() };
    let wanted = edits.iter().filter_map(|e| match e {
        Edit::Booking(row) => row.now().filter(|b| b.offcut.is_none()),
        _ => None,
    });
    wanted.filter_map(|b| taken_from_others(book, Some(project), b.item, u64::from(b.count))).collect()
}

/// What is on order and comes by a day. Work without a day can wait for all of it.
fn awaited_by(book: &Book, item: ItemId, day: Option<Date>) -> u64 {
    let of_item = book.orders().iter().map(|(_, o)| o).filter(|o| o.item == item);
    let in_time = of_item.filter(|o| day.is_none_or(|day| o.expected.is_some_and(|e| e <= day)));
    in_time.map(|o| u64::from(o.count)).sum()
}
