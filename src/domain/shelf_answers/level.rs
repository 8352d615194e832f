//! How many of a line of the shelf lay there on each day that something came or went, and will lie there on the days ahead.

use super::ahead::ahead;
use crate::domain::book::Book;
use crate::domain::stock::ItemId;
use crate::domain::stock::calendar::StillWanted;
use jiff::civil::Date;

/// What is there from a day on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// The day.
    pub on: Date,
    /// How many are left when it ends; below zero where the days ahead take more than there is.
    pub left: i64,
}

/// From the first line of the log on, a level a day on which something changed, today and the days ahead that are known among
/// them. Offcuts are no part of it. Empty where the log has no line.
pub fn levels(book: &Book, item: ItemId, today: Date, wanted: &[StillWanted]) -> Vec<Level> {
    let mut changes: Vec<(Date, i64)> =
        book.lines_of(item).filter(|l| l.offcut.is_none()).map(|l| (l.date, l.change)).collect();
    if changes.is_empty() {
        return Vec::new();
    }
    changes.push((today, 0));
    // What is due today or late is still to come: until then what is on hand is there.
    let next = today.tomorrow().unwrap_or(today);
    let ahead = ahead(book, item, None, wanted).into_iter();
    changes.extend(ahead.filter_map(|c| Some((c.on?.max(next), c.change))));
    changes.sort_by_key(|(on, _)| *on);
    let mut all: Vec<Level> = Vec::new();
    let mut left = 0i64;
    for (on, change) in changes {
        left = left.saturating_add(change);
        match all.last_mut().filter(|last| last.on == on) {
            Some(last) => last.left = left,
            None => all.push(Level { on, left }),
        }
    }
    all
}
