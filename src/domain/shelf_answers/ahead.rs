//! What comes of a line of the shelf, or of one kind of offcut, and what goes, day by day: orders, bookings, and what open
//! work still takes and has not booked; and what is left after each. Orders come before what goes on the same day, as
//! in [`crate::domain::stock::shortage`]; what has no day stands last.

use crate::domain::book::Book;
use crate::domain::stock::calendar::StillWanted;
use crate::domain::stock::orders::seller_of;
use crate::domain::stock::shortage::day_of;
use crate::domain::stock::{ItemId, OffcutId};
use jiff::civil::Date;

/// Why a count changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// Something ordered comes.
    Comes,
    /// Set aside for a project.
    Booked,
    /// A project takes it, and has not booked it.
    NotBooked,
}

impl Why {
    /// The word shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Comes => "arrives",
            Self::Booked => "booked",
            Self::NotBooked => "not booked",
        }
    }
}

/// A change to come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChangeAhead {
    /// The day; `None` where none is set.
    pub on: Option<Date>,
    /// Why.
    pub why: Why,
    /// For whom, or from whom.
    pub who: String,
    /// How many come, or go where it is below zero.
    pub change: i64,
    /// What is left then; below zero where it does not suffice.
    pub left: i64,
}

/// When, in which order on one day, how many, for whom or from whom.
type Row = ((bool, Option<Date>), Why, i64, String);

/// All changes to come, the soonest first. `wanted` is what open work takes and has not booked.
pub fn ahead(
    book: &Book,
    item: ItemId,
    offcut: Option<OffcutId>,
    wanted: &[StillWanted],
) -> Vec<ChangeAhead> {
    let name = |id| book.projects().name_of(id);
    let mut all: Vec<Row> = Vec::new();
    let turn = |on: Option<Date>| (on.is_none(), on);
    for (_, b) in book.bookings().iter().filter(|(_, b)| (b.item, b.offcut) == (item, offcut)) {
        all.push((turn(day_of(book, b)), Why::Booked, -i64::from(b.count), name(b.project)));
    }
    if offcut.is_none() {
        for (_, order) in book.orders().iter().filter(|(_, o)| o.item == item) {
            all.push((turn(order.expected), Why::Comes, order.count.into(), seller_of(book, order)));
        }
        for want in wanted.iter().filter(|w| w.item == item) {
            let count = i64::try_from(want.count).unwrap_or(i64::MAX);
            all.push((turn(want.on), Why::NotBooked, -count, name(want.project)));
        }
    }
    // Stable: on one day those stay in their order that booked first.
    all.sort_by_key(|(turn, why, ..)| (*turn, *why));
    let there = offcut.map_or_else(|| book.on_hand(item), |id| book.offcut_count(id));
    let mut left = i64::try_from(there).unwrap_or(i64::MAX);
    let row = |((_, on), why, change, who)| {
        left = left.saturating_add(change);
        ChangeAhead { on, why, who, change, left }
    };
    all.into_iter().map(row).collect()
}
