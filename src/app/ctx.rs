//! What every pane may read beside its own state, and may not change: the book, the day, the unit, the card in hand.

use crate::app::state::settling::Settling;
use crate::domain::book::Book;
use crate::domain::cards::country::Country;
use crate::domain::length::Unit;
use crate::domain::project::ProjectCard;
use crate::domain::sheet::Formats;
use crate::domain::stock::field::Terms;
use jiff::civil::Date;

/// The read-only surroundings of a pane.
#[derive(Clone, Copy, Debug)]
pub struct Ctx<'a> {
    /// The book as it stands, the active project in it.
    pub book: &'a Book,
    /// The day that new log lines carry.
    pub today: Date,
    /// Seconds since the sitting began.
    pub moment: u64,
    /// The unit that bare lengths are read and shown in.
    pub unit: Unit,
    /// Where the person posts; nothing until they were asked.
    pub country: Option<Country>,
    /// Sheet formats by name.
    pub formats: &'a Formats,
    /// The card in hand in Mats.
    pub card: &'a ProjectCard,
    /// Plans behind the figures of projects.
    pub settling: &'a Settling,
}

impl<'a> Ctx<'a> {
    /// What fields of a shelf line are shown and read by.
    pub fn terms(&self) -> Terms<'a> {
        Terms { book: self.book, formats: self.formats, unit: self.unit }
    }
}
