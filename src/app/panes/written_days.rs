//! Days typed in a short form, `12 dec` or `sat`, written out before a text is read: in every prompt that takes a day alone
//! or a state with its day. Nothing else of a text is touched.

use crate::app::overlay::Purpose;
use crate::app::panes::stock::classes::DAY;
use crate::app::state::palette::{ItemField as SwatchItemField, PaletteText};
use crate::app::state::stock::texts::{PackField, StockText};
use crate::domain::days::{self, DayWay};
use crate::domain::stock::field::Field;
use jiff::civil::Date;

/// The text with its day in full.
///
/// # Errors
/// The sentence that refuses the day.
pub fn in_full(purpose: &Purpose, text: &str, today: Date) -> Result<String, String> {
    let is_blank = text.trim().is_empty();
    match purpose {
        _ if is_blank => Ok(text.to_owned()),
        Purpose::Stock(
            StockText::ClassField(_, DAY)
            | StockText::BookingDay(_)
            | StockText::ListLast
            | StockText::ListFirst,
        ) => days::read(text, today, DayWay::Ahead).map(|d| d.to_string()),
        Purpose::Stock(
            StockText::State(_)
            | StockText::ItemField(Field::State, _)
            | StockText::PackField(_, PackField::State, _),
        )
        | Purpose::Palette(PaletteText::ItemField(_, SwatchItemField::State)) => state(text, today),
        _ => Ok(text.to_owned()),
    }
}

/// `leaving 31 aug`: the word, and the day in full.
fn state(text: &str, today: Date) -> Result<String, String> {
    let Some((word, day)) = text.trim().split_once(char::is_whitespace) else { return Ok(text.to_owned()) };
    if !["leaving", "arriving"].contains(&word.to_lowercase().as_str()) {
        return Ok(text.to_owned());
    }
    days::read(day, today, DayWay::Ahead).map(|d| format!("{word} {d}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::stock::{ItemId, ProjectId};
    use jiff::civil::date;

    #[test]
    fn a_day_and_a_state_with_its_day_are_written_out_and_nothing_else() {
        let read = |what, text| in_full(&Purpose::Stock(what), text, date(2026, 11, 25));
        let class = |row| StockText::ClassField(ProjectId(1), row);
        assert_eq!(read(class(DAY), "12 dec").as_deref(), Ok("2026-12-12"));
        assert_eq!(read(class(DAY), "").as_deref(), Ok(""));
        assert!(read(class(DAY), "soon").unwrap_err().contains("+10"));
        assert_eq!(read(class(0), "12 dec").as_deref(), Ok("12 dec"), "a name is a name");
        let state = || StockText::State(ItemId(1));
        assert_eq!(read(state(), "leaving 31 aug").as_deref(), Ok("leaving 2027-08-31"));
        assert_eq!(read(state(), "gone").as_deref(), Ok("gone"));
        assert!(read(state(), "leaving never").is_err());
    }
}
