//! The figures of a class or batch as options, for `stock class new`, `stock class edit`, `project add` and `project change`.

use crate::domain::book::Book;
use crate::domain::days::{self, DayWay};
use crate::domain::figures::ProjectField;
use crate::domain::harmless::harmless;
use crate::domain::project::Project;

/// The figures of a project.
#[derive(clap::Args, Debug, Default)]
pub struct Figures {
    /// The day it is needed or taught, as 2027-03-14, 12 dec, sat or +40 days; none takes it away
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Paying seats; 0 for a batch that is no class
    #[arg(long, value_name = "N")]
    pub seats: Option<String>,
    /// Sample sets made beside the seats
    #[arg(long, value_name = "N")]
    pub samples: Option<String>,
    /// Spoilage in percent of the pieces
    #[arg(long, value_name = "PERCENT")]
    pub spoilage: Option<String>,
    /// Spoilage in pieces of each kind, beside the percentage
    #[arg(long, value_name = "N")]
    pub spoilage_pieces: Option<String>,
    /// What a seat is charged; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub seat_price: Option<String>,
    /// Minutes of work a card
    #[arg(long, value_name = "N")]
    pub minutes: Option<String>,
    /// What an hour of work is worth; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub hour: Option<String>,
    /// Sets that each seat makes
    #[arg(long, value_name = "N")]
    pub sets_a_seat: Option<String>,
    /// Sets packed to spare, beside seats and samples
    #[arg(long, value_name = "N")]
    pub spare_sets: Option<String>,
    /// Hours of preparing, beside the minutes a card: 2, 2.5 or 2:30
    #[arg(long, value_name = "HOURS")]
    pub prepare: Option<String>,
    /// Hours of teaching
    #[arg(long, value_name = "HOURS")]
    pub teach: Option<String>,
    /// What the room costs; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub room: Option<String>,
    /// The share of adhesive that a set takes; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub adhesive: Option<String>,
    /// The share of ink that a set takes; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub ink: Option<String>,
    /// The margin you want, in percent of the price of a seat; none takes it away
    #[arg(long, value_name = "PERCENT")]
    pub margin: Option<String>,
    /// Your own words about it; none takes them away
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    pub note: Option<String>,
}

impl Figures {
    /// Those that were given, each with the option that names it.
    fn given(&self) -> Vec<(&'static str, ProjectField, String)> {
        use ProjectField as Field;
        let all: [(&str, Field, &Option<String>); 17] = [
            ("--date", Field::Day, &self.date),
            ("--seats", Field::Seats, &self.seats),
            ("--samples", Field::Samples, &self.samples),
            ("--spoilage", Field::SpoilagePercent, &self.spoilage),
            ("--spoilage-pieces", Field::SpoilagePieces, &self.spoilage_pieces),
            ("--seat-price", Field::SeatPrice, &self.seat_price),
            ("--minutes", Field::Minutes, &self.minutes),
            ("--hour", Field::HourRate, &self.hour),
            ("--sets-a-seat", Field::SetsASeat, &self.sets_a_seat),
            ("--spare-sets", Field::SpareSets, &self.spare_sets),
            ("--prepare", Field::Prepare, &self.prepare),
            ("--teach", Field::Teach, &self.teach),
            ("--room", Field::Room, &self.room),
            ("--adhesive", Field::Adhesive, &self.adhesive),
            ("--ink", Field::Ink, &self.ink),
            ("--margin", Field::Margin, &self.margin),
            ("--note", Field::Note, &self.note),
        ];
        let text = |text: &String| if text == "none" { String::new() } else { text.clone() };
        all.into_iter()
            .filter_map(|(option, field, given)| Some((option, field, text(given.as_ref()?))))
            .collect()
    }

    /// The figures with the texts that were given, each once read, so that the option that is wrong is named.
    ///
    /// # Errors
    /// The sentence of the first that cannot be read.
    pub fn checked(&self, book: &Book) -> Result<Vec<(ProjectField, String)>, String> {
        let mut all = Vec::new();
        for (option, field, text) in self.given() {
            let text = match field {
                ProjectField::Day => in_full(&text).map_err(|why| format!("{option}: {}", harmless(&why)))?,
                _ => text,
            };
            let mut nobody = Project::default();
            let currency = &book.settings().currency;
            field
                .read(&mut nobody, &text, currency)
                .map_err(|why| format!("{option}: {}", harmless(&why)))?;
            all.push((field, text));
        }
        Ok(all)
    }
}

/// A day as it may be typed, written out: from today on where it is told by its month, its weekday or in days. None stays
/// none.
fn in_full(text: &str) -> Result<String, String> {
    if text.trim().is_empty() {
        return Ok(String::new());
    }
    let today = crate::cli::today().map_err(|why| why.to_string())?;
    days::read(text, today, DayWay::Ahead).map(|day| day.to_string())
}
