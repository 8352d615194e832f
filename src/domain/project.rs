//! Projects and classes as they are kept: cards made in a batch, pieces wanted, supplies, seats and the day.
//! What they need in sheets is worked out elsewhere from these figures.

mod booked;
mod card;
mod stages;

pub use booked::{BookedLayout, BookedPiece, BookedPlan, Source};
pub use card::{CardColour, CardExtra, CardLayer, PaperRef, ProjectCard, on_shelf};
pub use stages::{Stage, Stages};

use crate::domain::length::Length;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::ids::{ItemId, SwatchId};
use jiff::civil::Date;

/// How far a project has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Progress {
    /// Being planned.
    #[default]
    Open,
    /// Made, or taught.
    Done,
    /// Given up; nothing is set aside for it.
    Cancelled,
}

impl Progress {
    /// The word shown and stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Done => "done",
            Self::Cancelled => "cancelled",
        }
    }
}

/// A batch of cards, or a class with seats.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Project {
    /// What it is called.
    pub name: String,
    /// The day it is needed, or taught.
    pub date: Option<Date>,
    /// Paying seats of a class; 0 for a batch that is not a class.
    pub seats: u32,
    /// Sample sets made beside the seats.
    pub samples: u32,
    /// Spoilage in percent of the pieces.
    pub spoilage_percent: u32,
    /// Spoilage in pieces a kind, added to the percentage.
    pub spoilage_fixed: u32,
    /// What a seat is charged.
    pub seat_price: Option<Money>,
    /// Minutes of work a card.
    pub minutes_a_card: u32,
    /// What an hour of work counts for.
    pub hour_rate: Option<Money>,
    /// The cards.
    pub cards: Vec<ProjectCard>,
    /// Loose pieces: strips, panels, tags.
    pub pieces: Vec<PieceWanted>,
    /// Counted things: envelopes, adhesive.
    pub supplies: Vec<Supply>,
    /// How far it has come.
    pub progress: Progress,
    /// What is done of the stages after the cutting.
    pub stages: Stages,
    /// The plan that its sheets were booked for.
    pub plan: Option<Box<BookedPlan>>,
    /// Anything else.
    pub note: String,
}

impl Project {
    /// An empty project of this name.
    pub fn new(name: impl Into<String>) -> Self {
        Self { name: name.into(), ..Self::default() }
    }

    /// How many sets are made: seats and samples for a class, one for a plain batch.
    pub fn sets(&self) -> u64 {
        match u64::from(self.seats) + u64::from(self.samples) {
            0 => 1,
            n => n,
        }
    }

    /// Whom it is made for: `14 seats and 1 sample set`, or `one batch`.
    pub fn made_for(&self) -> String {
        made_for(self.seats, self.samples)
    }

    /// What a kit goes to: a seat of a class, a set of a batch without seats.
    pub const fn kit_of(&self) -> &'static str {
        if self.seats > 0 { "seat" } else { "set" }
    }

    /// Every item that the project names.
    pub fn items(&self) -> impl Iterator<Item = ItemId> + '_ {
        let cards = self.cards.iter().flat_map(ProjectCard::items);
        let pieces = self.pieces.iter().filter_map(|p| p.paper);
        cards.chain(pieces).chain(self.supplies.iter().map(|s| s.item))
    }

    /// Every swatch that the project names.
    pub fn swatches(&self) -> impl Iterator<Item = SwatchId> + '_ {
        self.cards.iter().flat_map(ProjectCard::swatches)
    }
}

/// A loose piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceWanted {
    /// What it is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// How many a set.
    pub count: u32,
    /// The paper it is cut from.
    pub paper: Option<ItemId>,
    /// It may lie turned on the sheet.
    pub turn: bool,
    /// Paper needed around it on every side: die-cut, embossed, torn, or printed to the edge.
    pub allowance: Length,
    /// Which of its sides the grain has to follow, where it is folded.
    pub grain: Grain,
}

/// A counted thing: so many a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supply {
    /// What.
    pub item: ItemId,
    /// How many a set.
    pub count: u32,
}

/// Whom something is made for: `14 seats and 1 sample set`, or `one batch`.
pub fn made_for(seats: u32, samples: u32) -> String {
    let counted = [(seats, "seat"), (samples, "sample set")].into_iter().filter(|(n, _)| *n > 0);
    let parts: Vec<String> = counted.map(|(n, word)| count_of(u64::from(n), word)).collect();
    if parts.is_empty() { "one batch".to_owned() } else { parts.join(" and ") }
}
