//! Projects and classes as they are kept: cards made in a batch, pieces wanted, supplies, seats and the day.
//! What they need in sheets is worked out elsewhere from these figures.

use crate::domain::length::Length;
use crate::domain::money::Money;
use crate::domain::size::Size;
use crate::domain::stock::ids::ItemId;
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

    /// Every item that the project names.
    pub fn items(&self) -> impl Iterator<Item = ItemId> + '_ {
        let cards = self.cards.iter().flat_map(ProjectCard::items);
        let pieces = self.pieces.iter().filter_map(|p| p.paper);
        cards.chain(pieces).chain(self.supplies.iter().map(|s| s.item))
    }
}

/// A card of a project. The app turns it into a construction; here it is plain figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProjectCard {
    /// What it is called.
    pub name: String,
    /// The finished front.
    pub face: Size,
    /// How the base folds, by the fold's word: `side`, `top`, ...
    pub fold: String,
    /// The flat base as cut, where it is known or set by hand.
    pub base: Option<Size>,
    /// The paper of the base.
    pub base_paper: Option<ItemId>,
    /// Reveals from the first mat inward: how much of the layer below shows on each side.
    pub reveals: Vec<Length>,
    /// The paper of each layer, in the order of `reveals`.
    pub papers: Vec<Option<ItemId>>,
    /// The envelope it goes into.
    pub envelope: Option<ItemId>,
    /// Cards of this kind in a set.
    pub count: u32,
    /// More of them, made to spare over the whole project.
    pub spares: u32,
}

impl ProjectCard {
    /// A card with this front, no layers, one a set.
    pub fn new(name: impl Into<String>, face: Size) -> Self {
        Self {
            name: name.into(),
            face,
            fold: "side".to_owned(),
            base: None,
            base_paper: None,
            reveals: Vec::new(),
            papers: Vec::new(),
            envelope: None,
            count: 1,
            spares: 0,
        }
    }

    /// The layers' exact sizes, from the first mat inward: each is smaller by twice its reveal in both directions.
    /// Stops before a layer that nothing would be left of.
    pub fn layer_sizes(&self) -> Vec<Size> {
        let mut sizes = Vec::new();
        let mut at = self.face;
        for reveal in &self.reveals {
            at = Size::new(at.width - *reveal * 2, at.height - *reveal * 2);
            if !at.width.is_positive() || !at.height.is_positive() {
                break;
            }
            sizes.push(at);
        }
        sizes
    }

    /// Every item that the card names.
    pub fn items(&self) -> impl Iterator<Item = ItemId> + '_ {
        self.base_paper.into_iter().chain(self.papers.iter().flatten().copied()).chain(self.envelope)
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
}

/// A counted thing: so many a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supply {
    /// What.
    pub item: ItemId,
    /// How many a set.
    pub count: u32,
}
