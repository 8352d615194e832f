//! The figures of a project that are typed: each read from a text, and refused in a sentence. One edit carries any number
//! of them. Knows no cards.

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::{Money, in_currency};
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
    SetsASeat,
    SpareSets,
    Prepare,
    Teach,
    Room,
    Adhesive,
    Ink,
    Margin,
    Note,
}

impl ProjectField {
    /// Those of every project, in the order of its form.
    pub const ALL: &[Self] = Self::OF_CLASS.split_at(9).0;

    /// All of a class, in the order of its form: those of every project first. The note has its own line.
    pub const OF_CLASS: [Self; 17] = [
        Self::Name,
        Self::Day,
        Self::Seats,
        Self::Samples,
        Self::SpoilagePercent,
        Self::SpoilagePieces,
        Self::SeatPrice,
        Self::Minutes,
        Self::HourRate,
        Self::SetsASeat,
        Self::SpareSets,
        Self::Prepare,
        Self::Teach,
        Self::Room,
        Self::Adhesive,
        Self::Ink,
        Self::Margin,
    ];

    /// Those of the form of this project: a batch that is no class has no seats to speak of.
    pub const fn of(project: &Project) -> &'static [Self] {
        if project.seats > 0 { &Self::OF_CLASS } else { Self::ALL }
    }

    /// What is asked where it is typed.
    pub const fn question(self) -> &'static str {
        match self {
            Self::Name => "Name:",
            Self::Day => "Day (12 dec, sat, +10; empty for none):",
            Self::Seats => "Seats (0 for a batch that is no class):",
            Self::Samples => "Sample sets made beside the seats:",
            Self::SpoilagePercent => "Spoilage in percent of the pieces:",
            Self::SpoilagePieces => "Spoilage in pieces of each kind, beside the percentage:",
            Self::SeatPrice => "What a seat is charged (empty for none):",
            Self::Minutes => "Minutes of work a card (0 leaves work out):",
            Self::HourRate => "What an hour of work is worth (empty for none):",
            Self::SetsASeat => "Sets that each seat makes, a kit each:",
            Self::SpareSets => "Sets packed to spare, beside seats and samples:",
            Self::Prepare => "Hours preparing (2, 2.5, 2:30), beside the minutes a card:",
            Self::Teach => "Hours teaching (2, 2.5, 2:30):",
            Self::Room => "What the room costs (empty for none):",
            Self::Adhesive => "Adhesive for one set, as money (empty for none):",
            Self::Ink => "Ink for one set, as money (empty for none):",
            Self::Margin => "Margin you want, as a percentage of the seat price (empty for none):",
            Self::Note => "Note:",
        }
    }

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
            Self::SetsASeat => "sets a seat",
            Self::SpareSets => "spare sets",
            Self::Prepare => "hours preparing",
            Self::Teach => "hours teaching",
            Self::Room => "room",
            Self::Adhesive => "adhesive a set",
            Self::Ink => "ink a set",
            Self::Margin => "margin wanted",
            Self::Note => "note",
        }
    }

    /// What a project has of it, as it can be typed again: empty where it has none.
    pub fn typed(self, project: &Project) -> String {
        let money = |m: Option<Money>| m.map_or_else(String::new, |m| m.to_string());
        let teaching = &project.teaching;
        match self {
            Self::Name => project.name.clone(),
            Self::Day => project.date.map_or_else(String::new, |d| d.to_string()),
            Self::Seats => project.seats.to_string(),
            Self::Samples => project.samples.to_string(),
            Self::SpoilagePercent => project.spoilage_percent.to_string(),
            Self::SpoilagePieces => project.spoilage_fixed.to_string(),
            Self::SeatPrice => money(project.seat_price),
            Self::Minutes => project.minutes_a_card.to_string(),
            Self::HourRate => money(project.hour_rate),
            Self::SetsASeat => teaching.sets_a_seat.to_string(),
            Self::SpareSets => teaching.spare_sets.to_string(),
            Self::Prepare => hours_words(teaching.prepare_minutes),
            Self::Teach => hours_words(teaching.teach_minutes),
            Self::Room => money(teaching.room),
            Self::Adhesive => money(teaching.adhesive),
            Self::Ink => money(teaching.ink),
            Self::Margin => teaching.margin.map_or_else(String::new, |n| n.to_string()),
            Self::Note => project.note.clone(),
        }
    }

    /// The same as it is shown: with its currency or sign, a dash where there is none.
    pub fn shown(self, project: &Project, currency: &str) -> String {
        let text = self.typed(project);
        match self {
            _ if text.is_empty() => "-".to_owned(),
            Self::Minutes | Self::Prepare | Self::Teach if text == "0" => "-".to_owned(),
            Self::SpoilagePercent | Self::Margin => format!("{text} %"),
            Self::SeatPrice | Self::HourRate | Self::Room | Self::Adhesive | Self::Ink => {
                in_currency(currency, &text)
            }
            _ => text,
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
            Self::Seats => {
                let seats = count(text, 0)?;
                if project.seats == 0 && seats > 0 {
                    project.make_for_seats();
                }
                project.seats = seats;
            }
            Self::Samples => project.samples = count(text, 0)?,
            Self::SpoilagePercent => project.spoilage_percent = percent(text)?,
            Self::SpoilagePieces => project.spoilage_fixed = count(text, 0)?,
            Self::SeatPrice => project.seat_price = money()?,
            Self::Minutes => project.minutes_a_card = count(text, 0)?,
            Self::HourRate => project.hour_rate = money()?,
            Self::SetsASeat => project.teaching.sets_a_seat = count(text, 1)?,
            Self::SpareSets => project.teaching.spare_sets = count(text, 0)?,
            Self::Prepare => project.teaching.prepare_minutes = hours(text)?,
            Self::Teach => project.teaching.teach_minutes = hours(text)?,
            Self::Room => project.teaching.room = money()?,
            Self::Adhesive => project.teaching.adhesive = money()?,
            Self::Ink => project.teaching.ink = money()?,
            Self::Margin => project.teaching.margin = margin(text)?,
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

/// Most minutes of one kind of work: six weeks of days and nights, a slip of the finger.
const MOST_MINUTES: u32 = 60_000;

/// Hours as minutes: `2`, `2.5`, `2:30`, `2 1/2`, `90 min`; an empty text is none.
///
/// # Errors
/// A sentence.
pub fn hours(text: &str) -> Result<u32, String> {
    let text = text.trim();
    let refused =
        || format!("\"{text}\" is not a time: write hours as 2, 2.5, 2:30 or 2 1/2, or minutes as 90 min");
    let minutes = match text {
        "" => Some(0),
        _ => minutes_of(text),
    };
    minutes.filter(|n| *n <= MOST_MINUTES).ok_or_else(refused)
}

fn minutes_of(text: &str) -> Option<u32> {
    let number = |t: &str| t.trim().parse::<u32>().ok();
    let lower = text.to_lowercase();
    if let Some(minutes) = lower.strip_suffix("minutes").or_else(|| lower.strip_suffix("min")) {
        return number(minutes);
    }
    let hours =
        ["hours", "hour", "h"].iter().find_map(|word| lower.strip_suffix(word)).unwrap_or(&lower).trim();
    if let Some((hours, minutes)) = hours.split_once(':') {
        let minutes = number(minutes).filter(|n| *n < 60)?;
        return number(hours)?.checked_mul(60)?.checked_add(minutes);
    }
    if let Some((whole, part)) = hours.rsplit_once(' ').or(Some(("", hours))).filter(|(_, p)| p.contains('/'))
    {
        let (over, under) = part.split_once('/')?;
        let (over, under) = (number(over)?, number(under).filter(|n| *n > 0)?);
        let minutes = over.checked_mul(60)?;
        let whole = if whole.trim().is_empty() { 0 } else { number(whole)? };
        return (minutes % under == 0).then_some(whole.checked_mul(60)?.checked_add(minutes / under)?);
    }
    // Decimals of an hour are hundredths: the minute that is nearest counts.
    let hundredths = Money::parse(hours, "").ok()?.minor();
    u32::try_from((hundredths * 60 + 50) / 100).ok()
}

/// Minutes as hours: `2`, `2:30`; `0` for none.
pub fn hours_words(minutes: u32) -> String {
    match minutes % 60 {
        0 => (minutes / 60).to_string(),
        rest => format!("{}:{rest:02}", minutes / 60),
    }
}

/// A margin in percent of the price; an empty text is none.
///
/// # Errors
/// A sentence.
pub fn margin(text: &str) -> Result<Option<u32>, String> {
    let bare = text.trim().trim_end_matches('%').trim();
    if bare.is_empty() {
        return Ok(None);
    }
    match bare.parse::<u32>() {
        Ok(n) if n < 100 => Ok(Some(n)),
        _ => Err(format!(
            "\"{}\" is not a margin: write the share of the price to keep, from 0 to 99 percent",
            text.trim()
        )),
    }
}
