//! What runs low next: lines that are not to be ordered yet, by the days until their pace takes them down to the low mark.
//! Whoever orders from a seller anyway may add them to the parcel.

use crate::domain::book::Book;
use crate::domain::stock::pace::{Pace, pace};
use crate::domain::stock::reorder::wanting;
use crate::domain::stock::summary::standing;
use crate::domain::stock::{ItemId, State, shelf};
use jiff::Span;
use jiff::civil::Date;

/// A line that is not to be ordered yet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextLow {
    /// Which.
    pub item: ItemId,
    /// On hand and on order less what is booked and the low mark: how many can go before it is to be ordered.
    pub spare: u64,
    /// How fast it goes, and days until those are gone, rounded down; `None` where none of it went yet.
    pub pace: Option<(Pace, u64)>,
}

impl NextLow {
    /// The day on which it is down to its mark.
    pub fn on(&self, today: Date) -> Option<Date> {
        let days = i64::try_from(self.pace?.1).ok()?;
        today.checked_add(Span::new().try_days(days).ok()?).ok()
    }

    /// How many go in a month, to one decimal; nothing where none went yet.
    pub fn a_month(&self) -> String {
        self.pace.map_or_else(String::new, |(pace, _)| pace.a_month_words())
    }
}

/// The lines that can be ordered and are not to be ordered yet, but for those that leave, which have no mark and stand among the last
/// orders: the soonest first, then those of which none went yet, the least
/// above their mark first.
pub fn next_low(book: &Book, today: Date) -> Vec<NextLow> {
    let mut all: Vec<NextLow> = Vec::new();
    for (item, line) in book.items().iter().filter(|(_, i)| i.state.can_be_ordered(today)) {
        if wanting(book, item) > 0 || matches!(line.state, State::Leaving(_)) {
            continue;
        }
        let s = standing(book, item);
        let spare = (s.on_hand + s.on_order).saturating_sub(s.booked + u64::from(line.mark()));
        let pace = pace(book, item, today).filter(|p| p.used > 0).map(|pace| {
            // Spare over used a day: spare x months x 365 / 12 / used.
            let days = u128::from(spare) * pace.months as u128 * 365 / (12 * u128::from(pace.used));
            (pace, u64::try_from(days).unwrap_or(u64::MAX))
        });
        if pace.is_some() || line.mark() > 0 {
            all.push(NextLow { item, spare, pace });
        }
    }
    let name = |row: &NextLow| book.items().name_of(row.item).to_lowercase();
    all.sort_by_cached_key(|row| {
        let days = row.pace.map(|(_, days)| days);
        (days.is_none(), days, row.spare, name(row))
    });
    all
}

/// How many of an item went in each of the last months, with the first day of each, the present month last. The list begins with
/// the month of its first line in the log: what went before is not known, which is not none.
pub fn months(book: &Book, item: ItemId, today: Date, count: usize) -> Vec<(Date, u64)> {
    let used = shelf::used_by_month(book, item, today, count);
    let Some(known) = shelf::known_since(book, item).map(Date::first_of_month) else { return Vec::new() };
    let first = today.first_of_month();
    let back = |n: usize| first.saturating_sub(Span::new().months(i64::try_from(n).unwrap_or(0)));
    let all = used.into_iter().enumerate().map(|(n, used)| (back(count - 1 - n), used));
    all.filter(|(month, _)| *month >= known).collect()
}
