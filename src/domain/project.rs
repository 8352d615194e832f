//! Projects and classes as they are kept: cards made in a batch, pieces wanted, supplies, seats and the day.
//! What they need in sheets is worked out elsewhere from these figures.

mod booked;
mod card;
mod stages;
mod teaching;

pub use booked::{BookedLayout, BookedPiece, BookedPlan, Source};
pub use card::{CardColour, CardExtra, CardLayer, PaperRef, ProjectCard, on_shelf};
pub use stages::{Stage, Stages};
pub use teaching::{Afterwards, Sale, SaleKind, Teaching};

use crate::domain::cards::made_by::MadeBy;
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
    /// Sets a seat and to spare, hours, room, shares.
    pub teaching: Teaching,
    /// Who came and what sold.
    pub afterwards: Afterwards,
    /// Names of those who come, where the person wants to keep them; they stand in no list and on no page.
    pub attendees: Vec<String>,
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

    /// How many sets are made: for the seats, as samples and to spare; one, and those to spare, for a plain batch.
    pub fn sets(&self) -> u64 {
        let wanted = match self.seat_sets() + u64::from(self.samples) {
            0 => 1,
            n => n,
        };
        wanted + u64::from(self.teaching.spare_sets)
    }

    /// Whom it is made for: `14 seats and 1 sample set`, `8 seats of 2 sets and 1 spare set`, or `one batch`.
    pub fn made_for(&self) -> String {
        let seats = count_of(u64::from(self.seats), "seat");
        let seats = match self.teaching.sets_a_seat {
            _ if self.seats == 0 => None,
            1 => Some(seats),
            n => Some(format!("{seats} of {n} sets")),
        };
        let counted = [(self.samples, "sample set"), (self.teaching.spare_sets, "spare set")];
        let counted = counted.into_iter().filter(|(n, _)| *n > 0);
        let mut parts: Vec<String> =
            seats.into_iter().chain(counted.map(|(n, word)| count_of(u64::from(n), word))).collect();
        if self.seats == 0 && self.samples == 0 {
            parts.insert(0, "one batch".to_owned());
        }
        match parts.pop() {
            Some(last) if parts.is_empty() => last,
            Some(last) => format!("{} and {last}", parts.join(", ")),
            None => String::new(),
        }
    }

    /// What a kit goes to: a seat of a class, a set of a batch without seats or of seats that make several.
    pub const fn kit_of(&self) -> &'static str {
        if self.seats > 0 && self.teaching.sets_a_seat == 1 { "seat" } else { "set" }
    }

    /// Sets that the seats make.
    pub fn seat_sets(&self) -> u64 {
        u64::from(self.seats) * u64::from(self.teaching.sets_a_seat)
    }

    /// Kits that are packed: a set each, for the seats and to spare; none for a batch.
    pub fn kits(&self) -> u64 {
        if self.seats == 0 { 0 } else { self.seat_sets() + u64::from(self.teaching.spare_sets) }
    }

    /// Kits that were made: those that were packed where that was noted, else all.
    fn kits_made(&self) -> u64 {
        match u64::from(self.stages.done(Stage::Packed)) {
            0 => self.kits(),
            packed => packed.min(self.kits()),
        }
    }

    /// Kits of a class that was taught which nobody took home and nobody has bought or used since; 0 as long as it is
    /// not known how many came.
    pub fn kits_left(&self) -> u64 {
        let Some(came) = self.afterwards.came else { return 0 };
        let taken = u64::from(came) * u64::from(self.teaching.sets_a_seat);
        self.kits_made().saturating_sub(taken).saturating_sub(self.afterwards.kits_gone())
    }

    /// Turns what a batch makes in all into what a seat makes: each card once, loose pieces and counted things in their
    /// proportion to the card that is made most often, rounded up. 24 to make would be 24 a seat otherwise. Cards to spare
    /// stay as they are: they are counted over the whole project either way.
    pub fn make_for_seats(&mut self) {
        let most = self.cards.iter().map(|c| c.count).max().filter(|n| *n > 0);
        let others = || self.pieces.iter().map(|p| p.count).chain(self.supplies.iter().map(|s| s.count));
        let over = most.unwrap_or_else(|| others().fold(0, common)).max(1);
        for card in &mut self.cards {
            card.count = card.count.min(1);
        }
        for piece in &mut self.pieces {
            piece.count = piece.count.div_ceil(over);
        }
        for supply in &mut self.supplies {
            supply.count = supply.count.div_ceil(over);
        }
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
    /// How it is made.
    pub made_by: MadeBy,
    /// Paper needed around it on every side for that.
    pub allowance: Length,
    /// Which of its sides the grain has to follow, where it is folded.
    pub grain: Grain,
}

impl PieceWanted {
    /// A piece that is cut straight, may turn, and has no paper yet.
    pub fn new(name: impl Into<String>, size: Size, count: u32) -> Self {
        Self {
            name: name.into(),
            size,
            count,
            paper: None,
            turn: true,
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            grain: Grain::Unknown,
        }
    }
}

/// A counted thing: so many a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supply {
    /// What.
    pub item: ItemId,
    /// How many a set.
    pub count: u32,
}

/// The greatest common divisor (Euclid).
const fn common(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { common(b, a % b) }
}
