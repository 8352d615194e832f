//! Figures and names as they are typed in Stock, each with the sentence that refuses it; a prompt and a row of the pane.

use crate::app::overlay::PickRow;
use crate::app::overlay::Purpose;
use crate::app::overlay::Target;
use crate::app::reply::Reply;
use crate::app::state::stock::texts::StockChoice;
use crate::app::state::stock::texts::StockText;
use crate::domain::book::Book;
use crate::domain::days::{self, DayWay};
pub use crate::domain::figures::{count, day};
use crate::domain::money::Money;
use crate::domain::size::Grain;
use crate::domain::stock::shelf::Come;
use crate::domain::stock::{ItemId, Offcut, OffcutId, State};
use jiff::civil::Date;

/// A count and what is known of the parcel: `24, 9.00, 2026-11-25, lot B`.
///
/// # Errors
/// A sentence.
pub fn come(text: &str, currency: &str, today: Date) -> Result<(u32, Come), String> {
    let mut parts = text.split(',').map(str::trim);
    let n = count(parts.next().unwrap_or_default(), 1)?;
    let mut come = Come::default();
    for part in parts.filter(|p| !p.is_empty()) {
        if let Ok(on) = days::read(part, today, DayWay::Back) {
            come.on = Some(on);
        } else if let Some(mark) = part.strip_prefix("lot ") {
            mark.trim().clone_into(&mut come.lot);
        } else if part.starts_with(|c: char| c.is_ascii_digit()) || part.starts_with(currency) {
            come.price = Some(Money::parse(part, currency).map_err(|e| e.to_string())?);
        } else {
            part.clone_into(&mut come.lot);
        }
    }
    Ok((n, come))
}

/// A price a hundred times another one, or a hundredth of it, is more often a slip than meant.
pub fn is_far(now: Money, was: Money) -> bool {
    let (now, was) = (now.minor(), was.minor());
    let is_more = |a: i64, b: i64| b > 0 && a / b >= 100;
    is_more(now, was) || is_more(was, now)
}

/// The name of a file.
///
/// # Errors
/// A sentence where nothing is typed.
pub fn file(text: &str) -> Result<String, String> {
    match text.trim() {
        "" => Err("write the name of a file, such as stock.csv".to_owned()),
        path => Ok(path.to_owned()),
    }
}

/// Where an item stands in the range.
///
/// # Errors
/// A sentence.
pub fn state(text: &str) -> Result<State, String> {
    State::from_words(text).ok_or_else(|| {
        format!("\"{}\": write current, leaving 2027-08-31, gone or arriving 2027-09-01", text.trim())
    })
}

/// A low mark, and the days from order to arrival where they are said.
///
/// # Errors
/// A sentence.
pub fn low_mark(text: &str) -> Result<(u32, Option<u16>), String> {
    let Some((low, days)) = text.split_once(',') else { return Ok((count(text, 0)?, None)) };
    let words = || format!("\"{}\" is not a number of days: write 0 to 365", days.trim());
    let days = days.trim().parse::<u16>().ok().filter(|d| *d <= 365).ok_or_else(words)?;
    Ok((count(low, 0)?, Some(days)))
}

/// The name of the active project, which log lines carry.
pub fn job_in_hand(book: &Book) -> String {
    book.active_project().map(|p| p.name.clone()).unwrap_or_default()
}

/// The paper of an offcut.
///
/// # Errors
/// A sentence where the offcut is gone.
pub fn paper_of(book: &Book, id: OffcutId) -> Result<ItemId, String> {
    book.offcuts().get(id).map(|o| o.item).ok_or_else(|| "this offcut is gone".to_owned())
}

/// `long, bin 2`: which way the grain runs, where that is the first word, and where the offcut lies.
pub fn kept(seen: &Offcut, text: &str) -> Offcut {
    let (first, rest) = text.split_once(',').unwrap_or((text, ""));
    let (grain, place) = match Grain::from_word(first.trim().trim_start_matches("grain ")) {
        Some(grain) => (grain, rest),
        None => (seen.grain, text),
    };
    Offcut { grain, place: place.trim().to_owned(), ..seen.clone() }
}

/// A prompt of this pane.
pub fn prompt(text: StockText, label: impl Into<String>, now: impl Into<String>) -> Reply {
    Reply::prompt(Purpose::Stock(text), label, now)
}

/// A row to choose.
pub fn row(label: impl Into<String>, detail: impl Into<String>, choice: StockChoice) -> PickRow {
    PickRow::new(label, detail, Target::Stock(choice))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_of_a_parcel_are_told_apart_by_what_they_are() {
        let read = |t: &str| come(t, "$", jiff::civil::date(2026, 11, 25));
        assert_eq!(read("24").unwrap(), (24, Come::default()));
        let (n, all) = read("24, $9.50, 2026-11-20, lot 77").unwrap();
        assert_eq!((n, all.price, all.on), (24, Some(Money::from_minor(950)), "2026-11-20".parse().ok()));
        assert_eq!(all.lot, "77");
        assert_eq!(read("3,,blue mark").unwrap().1.lot, "blue mark");
        for bad in ["", "0", "x", "3, 9.999", "-4"] {
            assert!(read(bad).is_err(), "{bad}");
        }
    }
}
