//! The figures of a project that are typed: each read from a text, and refused in a sentence. One edit carries any number
//! of them. Knows no cards.

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::project::Project;
use crate::domain::stock::ids::ProjectId;
use jiff::civil::Date;

/// Largest count that may be typed.
const MOST: u32 = 1_000_000;

/// A figure that is typed, in the order in which they are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)] // the words say it
pub enum ProjectField {
    Name,
    Day,
    Seats,
    Samples,
    SpoilagePercent,
    SpoilagePieces,
    SeatPrice,
    Minutes,
    HourRate,
    Note,
}

impl ProjectField {
    /// Those of the form, in its order: all but the note.
    pub const ALL: [Self; 9] = [
        Self::Name,
        Self::Day,
        Self::Seats,
        Self::Samples,
        Self::SpoilagePercent,
        Self::SpoilagePieces,
        Self::SeatPrice,
        Self::Minutes,
        Self::HourRate,
    ];

    /// What it is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Day => "day",
            Self::Seats => "seats",
            Self::Samples => "sample sets",
            Self::SpoilagePercent => "spoilage, percent",
            Self::SpoilagePieces => "spoilage, pieces a kind",
            Self::SeatPrice => "price of a seat",
            Self::Minutes => "minutes a card",
            Self::HourRate => "an hour of work",
            Self::Note => "note",
        }
    }

    /// Takes a text over; an empty one takes a day or a price away. `currency` is the sign that a price may bear.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn read(self, project: &mut Project, text: &str, currency: &str) -> Result<(), String> {
        let text = text.trim();
        let money = || match text {
            "" => Ok(None),
            text => Money::parse(text, currency).map(Some).map_err(|e| e.to_string()),
        };
        match self {
            Self::Name => text.clone_into(&mut project.name),
            Self::Day => project.date = if text.is_empty() { None } else { Some(day(text)?) },
            Self::Seats => project.seats = count(text, 0)?,
            Self::Samples => project.samples = count(text, 0)?,
            Self::SpoilagePercent => project.spoilage_percent = percent(text)?,
            Self::SpoilagePieces => project.spoilage_fixed = count(text, 0)?,
            Self::SeatPrice => project.seat_price = money()?,
            Self::Minutes => project.minutes_a_card = count(text, 0)?,
            Self::HourRate => project.hour_rate = money()?,
            Self::Note => text.clone_into(&mut project.note),
        }
        Ok(())
    }
}

/// The edit that gives a project these figures; `None` where it has them all.
///
/// # Errors
/// The sentence that refuses one of them, or says that the project is gone.
pub fn changed(
    book: &Book,
    id: ProjectId,
    figures: &[(ProjectField, String)],
) -> Result<Option<Edit>, String> {
    let was = book.projects().get(id).cloned().ok_or("this project is gone")?;
    let mut now = was.clone();
    for (field, text) in figures {
        field.read(&mut now, text, &book.settings().currency)?;
    }
    if now == was {
        return Ok(None);
    }
    let words: Vec<&str> = figures.iter().map(|(field, _)| field.word()).collect();
    let label = format!("changed {}, {}", now.name, words.join(", "));
    Ok(Some(Edit::batch(label, vec![Edit::Project(Row::alter(id, was, now))])))
}

/// A whole number from `least`.
///
/// # Errors
/// A sentence.
pub fn count(text: &str, least: u32) -> Result<u32, String> {
    match text.trim().parse::<u32>() {
        Ok(n) if n >= least && n <= MOST => Ok(n),
        _ => Err(format!("\"{}\" is not a count: write a whole number from {least} to {MOST}", text.trim())),
    }
}

/// A day.
///
/// # Errors
/// A sentence.
pub fn day(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_| format!("\"{}\" is not a day: write it as 2026-11-25", text.trim()))
}

fn percent(text: &str) -> Result<u32, String> {
    let n = count(text.trim_end_matches('%').trim(), 0)?;
    if n > 100 { Err("spoilage is a percentage from 0 to 100".to_owned()) } else { Ok(n) }
}
