//! How fast an item goes by its log, how long it lasts at that pace, and the low mark that follows.
//!
//! Counted are whole calendar months from the month of the item's first line to the one before today's, twelve at the
//! most; the month that runs is left out, since it is not over. Sheets that were taken back count for nothing.
//!
//! The mark is the reorder point with safety stock: lead time x use + Z x sqrt(lead time) x spread, where use is the mean
//! and spread the standard deviation (n - 1) of the months, the lead time is in months of 365/12 days, and Z = 1.65 covers
//! 19 deliveries of 20 (P. L. King, "Crack the code: understanding safety stock and mastering its equations", APICS
//! magazine, July/August 2011, for a demand that varies and a lead time that does not; from memory).

use crate::domain::book::Book;
use crate::domain::stock::ItemId;
use crate::domain::stock::shelf::{known_since, used_by_month};
use jiff::civil::Date;

/// Months that are looked back at the most.
pub const MOST_MONTHS: usize = 12;
/// The factor of the spread: 95 of 100 deliveries come before the shelf is empty.
pub const Z: f64 = 1.65;

/// Days of a month, on average.
const MONTH: f64 = 365.0 / 12.0;

/// How fast an item goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Whole months that were counted, one or more.
    pub months: usize,
    /// How many were used in them.
    pub used: u64,
    /// The standard deviation of the months; `None` with less than two.
    pub spread: Option<f64>,
    /// Days that what is free lasts at this pace, rounded down; `None` where none was used. What is booked is as good as gone.
    pub days_left: Option<u64>,
    /// The low mark that the formula gives; `None` with less than two months, or where the line gives no days of delivery.
    pub low_mark: Option<u64>,
}

impl Pace {
    /// How many are used in a month, on average.
    pub fn a_month(&self) -> f64 {
        self.used as f64 / self.months as f64
    }

    /// How many are used in a month, to one decimal.
    pub fn a_month_words(&self) -> String {
        shown(self.a_month())
    }

    /// `6 a month over the last 6 months, what is free lasts 35 days`.
    pub fn words(&self) -> String {
        let use_ = self.a_month_words();
        let months = match self.months {
            1 => "month".to_owned(),
            n => format!("{n} months"),
        };
        let lasts = match self.days_left {
            Some(days) => format!(", what is free lasts {}", crate::domain::plural::count_of(days, "day")),
            None => String::new(),
        };
        format!("{use_} a month over the last {months}{lasts}")
    }
}

/// A mean or a spread to one decimal, none where it is whole.
fn shown(n: f64) -> String {
    let text = format!("{n:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// How fast an item goes; `None` before a whole month has gone by since its first line.
pub fn pace(book: &Book, item: ItemId, today: Date) -> Option<Pace> {
    let number = |d: Date| i64::from(d.year()) * 12 + i64::from(d.month());
    let first = number(known_since(book, item)?);
    let since = usize::try_from(number(today) - first).ok().filter(|n| *n > 0)?;
    let months = since.min(MOST_MONTHS);
    // The month that runs is the last of them.
    let mut each = used_by_month(book, item, today, months + 1);
    each.pop();
    let used: u64 = each.iter().sum();
    let spread = spread(&each);
    let days_left = (used > 0).then(|| {
        let free = u128::from(book.free(item).max(0).unsigned_abs());
        // Free over used a day: free x months x 365 / 12 / used.
        u64::try_from(free * months as u128 * 365 / (12 * u128::from(used))).unwrap_or(u64::MAX)
    });
    let lead = book.items().get(item).map_or(0, |i| i.lead_days);
    let mean = used as f64 / months as f64;
    let low_mark = spread.filter(|_| lead > 0).map(|s| mark(mean, s, f64::from(lead) / MONTH));
    Some(Pace { months, used, spread, days_left, low_mark })
}

/// The standard deviation of a sample.
fn spread(each: &[u64]) -> Option<f64> {
    if each.len() < 2 {
        return None;
    }
    let (n, sum) = (each.len() as f64, each.iter().sum::<u64>() as f64);
    let squares: f64 = each.iter().map(|x| (*x as f64 - sum / n).powi(2)).sum();
    Some((squares / (n - 1.0)).sqrt())
}

/// The reorder point, rounded up to a whole one.
fn mark(mean: f64, spread: f64, lead: f64) -> u64 {
    // A hair is taken off, so that a whole number stays itself.
    (mean.mul_add(lead, Z * lead.sqrt() * spread) - 1e-9).ceil().max(0.0) as u64
}
