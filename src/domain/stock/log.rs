//! The log: lines that are only ever added. On hand is the sum of the lines for an item, an offcut's count the sum of
//! the lines for that offcut; a mistake is voided by a counter line, never rubbed out.

use crate::domain::money::Money;
use crate::domain::size::Size;
use crate::domain::stock::ids::{ItemId, OffcutId, ProjectId};
use jiff::civil::Date;

/// Why a count changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reason {
    /// Came in.
    Received,
    /// Went into work.
    Used,
    /// The shelf was counted and differed.
    Adjusted,
    /// Left over and kept.
    OffcutMade,
    /// Taken from the bin.
    OffcutUsed,
    /// Counters an earlier line.
    Voided,
}

impl Reason {
    /// The words shown, stored and answered.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Received => "received",
            Self::Used => "used",
            Self::Adjusted => "adjusted",
            Self::OffcutMade => "offcut made",
            Self::OffcutUsed => "offcut used",
            Self::Voided => "voided",
        }
    }
}

/// A line of the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogLine {
    /// Its number: 1 for the first, then one more each.
    pub seq: u64,
    /// The day it counts for.
    pub date: Date,
    /// The item it is about.
    pub item: ItemId,
    /// Where it is about pieces in the bin: which. Such a line leaves the item's sheets alone.
    pub offcut: Option<OffcutId>,
    /// How many came (above zero) or went (below).
    pub change: i64,
    /// Why.
    pub reason: Reason,
    /// What for, in the person's words.
    pub job: String,
    /// The line that this one counters.
    pub voids: Option<u64>,
    /// What the whole lot cost, on a received line.
    pub price: Option<Money>,
    /// The maker's mark on the lot (dye lot), on a received line.
    pub lot: String,
    /// The project that it went into, and what was cut from it.
    pub work: Option<ProjectWork>,
}

/// What a line of the log did for a project. How far a project is cut is the sum of these, as on hand is the sum of the
/// counts: a voided line takes its pieces back with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProjectWork {
    /// For which.
    pub project: ProjectId,
    /// The number of the booked plan that it followed.
    pub plan: Option<u32>,
    /// Layouts of that plan that were cut, each with the number of sheets.
    pub layouts: Vec<(u32, u32)>,
    /// The good pieces that came out.
    pub pieces: Vec<MadePiece>,
}

impl ProjectWork {
    /// Something that went into a project, without pieces: an envelope, a sheet cut by hand.
    pub fn of(project: ProjectId) -> Self {
        Self { project, plan: None, layouts: Vec::new(), pieces: Vec::new() }
    }
}

/// Good pieces of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MadePiece {
    /// What it was called when it was cut.
    pub name: String,
    /// The size that it was cut to, its allowance included.
    pub size: Size,
    /// How many.
    pub count: u32,
}

/// What a person asks to have logged; the book gives it its number and day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewLine {
    /// The item it is about.
    pub item: ItemId,
    /// The pieces in the bin it is about, if any.
    pub offcut: Option<OffcutId>,
    /// How many came or went.
    pub change: i64,
    /// Why; never [`Reason::Voided`], which has an edit of its own.
    pub reason: Reason,
    /// What for.
    pub job: String,
    /// The day it counts for, where that is not the day of logging.
    pub on: Option<Date>,
    /// What the whole lot cost.
    pub price: Option<Money>,
    /// The maker's mark on the lot.
    pub lot: String,
    /// The project that it goes into, and what was cut from it.
    pub work: Option<ProjectWork>,
}

impl NewLine {
    fn plain(item: ItemId, change: i64, reason: Reason, job: impl Into<String>) -> Self {
        Self {
            item,
            offcut: None,
            change,
            reason,
            job: job.into(),
            on: None,
            price: None,
            lot: String::new(),
            work: None,
        }
    }

    /// `count` of them went into work.
    pub fn used(item: ItemId, count: u32, job: impl Into<String>) -> Self {
        Self::plain(item, -i64::from(count), Reason::Used, job)
    }

    /// `count` of them came in.
    pub fn received(item: ItemId, count: u32, job: impl Into<String>) -> Self {
        Self::plain(item, i64::from(count), Reason::Received, job)
    }

    /// The shelf holds `difference` more (or fewer) than the book says.
    pub fn adjusted(item: ItemId, difference: i64, job: impl Into<String>) -> Self {
        Self::plain(item, difference, Reason::Adjusted, job)
    }

    /// `count` pieces were put into the bin.
    pub fn offcut_made(item: ItemId, offcut: OffcutId, count: u32, job: impl Into<String>) -> Self {
        Self { offcut: Some(offcut), ..Self::plain(item, i64::from(count), Reason::OffcutMade, job) }
    }

    /// `count` pieces were taken from the bin.
    pub fn offcut_used(item: ItemId, offcut: OffcutId, count: u32, job: impl Into<String>) -> Self {
        Self { offcut: Some(offcut), ..Self::plain(item, -i64::from(count), Reason::OffcutUsed, job) }
    }

    /// The same line for another day.
    #[must_use]
    pub fn on(self, day: Date) -> Self {
        Self { on: Some(day), ..self }
    }

    /// The same line with what the lot cost.
    #[must_use]
    pub fn for_price(self, price: Money) -> Self {
        Self { price: Some(price), ..self }
    }

    /// The same line as part of a project's work.
    #[must_use]
    pub fn for_work(self, work: ProjectWork) -> Self {
        Self { work: Some(work), ..self }
    }
}
