//! Things folded from one sheet: blank size, score lines, cuts and tabs, drawn to scale. Knows no card and no paper.
//!
//! | room | makes |
//! |---|---|
//! | [`envelope`] | an envelope from a turned square, and one cut straight |
//! | [`boxes`] | a box, its lid, a sleeve |
//! | [`bag`] | a gusset bag and a pocket |
//!
//! Every figure that is told is also drawn, so that it can be measured from the lines again.

pub mod bag;
pub mod boxes;
pub mod envelope;

use super::error::{CardError, CardReason};
use super::tools::{Reading, Tool, Tools};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// What a line on the blank is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineKind {
    /// Cut through.
    Cut,
    /// Score, then fold.
    Score,
}

impl LineKind {
    /// The word in answers.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Score => "score",
        }
    }
}

/// A line on the blank: origin top left, x right, y down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct BlankLine {
    /// What it is for.
    pub kind: LineKind,
    /// Start, x.
    pub x0: Length,
    /// Start, y.
    pub y0: Length,
    /// End, x.
    pub x1: Length,
    /// End, y.
    pub y1: Length,
}

impl BlankLine {
    /// A line between two points.
    pub const fn new(kind: LineKind, from: (Length, Length), to: (Length, Length)) -> Self {
        Self { kind, x0: from.0, y0: from.1, x1: to.0, y1: to.1 }
    }

    /// A line down the blank at a distance from its left side.
    pub const fn down(kind: LineKind, x: Length, y0: Length, y1: Length) -> Self {
        Self::new(kind, (x, y0), (x, y1))
    }

    /// A line across the blank at a distance from its top side.
    pub const fn across(kind: LineKind, y: Length, x0: Length, x1: Length) -> Self {
        Self::new(kind, (x0, y), (x1, y))
    }
}

/// A named figure of a construction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// What it is.
    pub name: &'static str,
    /// How long.
    pub value: Length,
    /// True where a fence, board or ruler is set to it, so that marks matter.
    pub is_set: bool,
}

/// Something folded from one blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Construction {
    /// What it is.
    pub name: &'static str,
    /// The sheet to cut.
    pub blank: Size,
    /// Its figures, in the order a person needs them.
    pub figures: Vec<Figure>,
    /// Cuts and scores inside the blank.
    pub lines: Vec<BlankLine>,
    /// What to know beside the figures.
    pub notes: Vec<String>,
}

impl Construction {
    /// The figure of a name.
    pub fn figure(&self, name: &str) -> Option<Length> {
        self.figures.iter().find(|f| f.name == name).map(|f| f.value)
    }

    /// The figures that are set on a tool, with what its marks do to them.
    pub fn readings(&self, tool: Tool, tools: &Tools) -> Vec<(&'static str, Reading)> {
        self.figures.iter().filter(|f| f.is_set).map(|f| (f.name, tools.reading(tool, f.value))).collect()
    }
}

const fn told(name: &'static str, value: Length) -> Figure {
    Figure { name, value, is_set: false }
}

const fn set(name: &'static str, value: Length) -> Figure {
    Figure { name, value, is_set: true }
}

/// Refuses a measure below one mark.
fn positive(name: &str, value: Length, tools: &Tools) -> Result<(), CardError> {
    if value >= tools.trimmer {
        return Ok(());
    }
    let text = format!(
        "{name} of {} cannot be folded: use at least {}",
        value.show_with_unit(tools.unit),
        tools.trimmer.show_with_unit(tools.unit)
    );
    Err(CardError::new(CardReason::TooSmall, text))
}

/// Refuses a tab, flap or overlap longer than it has room.
fn at_most(name: &str, value: Length, most: Length, tools: &Tools) -> Result<(), CardError> {
    if value <= most {
        return Ok(());
    }
    let text = format!(
        "{name} of {} has no room: at most {} works",
        value.show_with_unit(tools.unit),
        most.show_with_unit(tools.unit)
    );
    Err(CardError::new(CardReason::TooLarge, text))
}
