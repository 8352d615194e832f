//! A card with everything that a file can tell of it, and a project of such cards: what one maker hands to another.
//! Knows names, not the shelf of whoever reads it.

use super::job::CardSpec;
use super::make::Make;
use super::paper::Paper;
use crate::domain::length::Length;
use crate::domain::size::{Grain, Size};
use jiff::civil::Date;

/// A card as a file tells it.
#[derive(Clone, Debug, PartialEq)]
pub struct CardFile {
    /// The card and all that is known of it.
    pub job: CardSpec,
    /// What else is to be made.
    pub make: Vec<Extra>,
    /// The name of the envelopes on the shelf that it goes into, where it was given one.
    pub shelf_envelope: Option<String>,
}

impl CardFile {
    /// A card with nothing made beside it.
    pub fn of(job: CardSpec) -> Self {
        Self { job, make: Vec::new(), shelf_envelope: None }
    }
}

/// Something made beside a card, with the paper it is cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Extra {
    /// What.
    pub make: Make,
    /// Its paper, where chosen.
    pub paper: Option<Paper>,
    /// How many a card takes.
    pub count: u32,
}

impl Extra {
    /// One of it, of no paper yet.
    pub const fn of(make: Make) -> Self {
        Self { make, paper: None, count: 1 }
    }
}

/// A project as a file tells it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct ProjectFile {
    /// What it is called.
    pub name: String,
    /// The day it is needed, or taught.
    pub date: Option<Date>,
    /// Paying seats of a class.
    pub seats: u32,
    /// Sample sets beside the seats.
    pub samples: u32,
    /// Spoilage in percent.
    pub spoilage_percent: u32,
    /// Spoilage in pieces a kind.
    pub spoilage_fixed: u32,
    /// Anything else.
    pub note: String,
    /// The cards.
    pub cards: Vec<CardFile>,
    /// Loose pieces.
    pub pieces: Vec<LoosePiece>,
    /// Counted things by name, so many a set.
    pub supplies: Vec<(String, u32)>,
}

/// A loose piece of a project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoosePiece {
    /// What it is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// How many a set.
    pub count: u32,
    /// Name of its paper, where chosen.
    pub paper: Option<String>,
    /// It may lie turned.
    pub turn: bool,
    /// Paper needed around it on every side.
    pub allowance: Length,
    /// Which of its sides the grain has to follow.
    pub grain: Grain,
}

/// What a file held.
#[derive(Clone, Debug, PartialEq)]
pub enum Handed {
    /// One card.
    Card(Box<CardFile>),
    /// A whole project.
    Project(Box<ProjectFile>),
}
