//! What is asked about the most complete sets, paper by paper, and the shape of the answer.

use crate::domain::cutting::job::{Job, JobPiece, JobSheet, MOST_PIECES};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::plural::count_of;
use crate::domain::project::Source;
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, ProjectId};

/// Where the paper comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// The shelf and the bin.
    Shelf,
    /// The bin alone.
    Bin,
}

/// What one paper has to give for a set, and what there is of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperPart {
    /// Which paper.
    pub paper: ItemId,
    /// Its name.
    pub name: String,
    /// The pieces, each with its number in one set.
    pub pieces: Vec<JobPiece>,
    /// Offcuts as they are there, then whole sheets without a limit.
    pub sheets: Vec<JobSheet>,
    /// Where each row of sheets comes from.
    pub from: Vec<Source>,
    /// Whole sheets that are there.
    pub held: u32,
}

/// A counted thing, or pieces of a paper: what is there and what a set takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountedPart {
    /// What it is called.
    pub name: String,
    /// How many are there.
    pub held: u64,
    /// How many a set takes.
    pub a_set: u32,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MostAsk {
    /// The project.
    pub project: ProjectId,
    /// What it is called.
    pub name: String,
    /// What one set is: `1 card`, or so many cards of each kind.
    pub set: String,
    /// Cards in a set.
    pub cards_a_set: u32,
    /// Paper by paper.
    pub papers: Vec<PaperPart>,
    /// Counted things.
    pub counted: Vec<CountedPart>,
    /// The trimmer.
    pub trimmer: Trimmer,
    /// Leftovers smaller than this count for nothing.
    pub keep: Size,
    /// What is not counted and why, in sentences.
    pub notes: Vec<String>,
}

/// What one paper or counted thing allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What it is called.
    pub name: String,
    /// The most sets that were found for it.
    pub sets: u64,
    /// No more can be had of it.
    pub bound: u64,
    /// What there is: `3 sheets and 2 offcuts`, `12`.
    pub held: String,
    /// The most sets with one more sheet, or one more of it.
    pub with_one_more: u64,
}

/// The plan of one paper for the most sets.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperPlan {
    /// Its job, sheets without a limit.
    pub job: Job,
    /// Where each row of sheets comes from.
    pub from: Vec<Source>,
    /// The plan.
    pub plan: Plan,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Most {
    /// The most complete sets that were found.
    pub sets: u64,
    /// No more can be made.
    pub bound: u64,
    /// Cards in them.
    pub cards: u64,
    /// What each paper and counted thing allows, the scarcest first.
    pub limits: Vec<Limit>,
    /// How many of the limits run out first, all at the same number.
    pub first: usize,
    /// The most sets with one more sheet of each of those.
    pub with_one_more: u64,
    /// How the most is cut, paper by paper.
    pub plans: Vec<PaperPlan>,
}

impl Most {
    /// True where no more can be made.
    pub fn is_proved(&self) -> bool {
        self.sets >= self.bound
    }
}

impl PaperPart {
    /// The job for so many sets; `None` past what a job may ask for.
    pub(super) fn job(&self, ask: &MostAsk, sets: u64) -> Option<Job> {
        let mut pieces = self.pieces.clone();
        for piece in &mut pieces {
            piece.count = u32::try_from(u64::from(piece.count).checked_mul(sets)?).ok()?;
        }
        let job = Job {
            pieces,
            sheets: self.sheets.clone(),
            trimmer: ask.trimmer,
            preference: Preference::default(),
            keep: ask.keep,
        };
        (job.piece_total() <= MOST_PIECES).then_some(job)
    }

    /// By area no more sets than these can come of it.
    pub(super) fn by_area(&self, more: u32) -> u64 {
        let area = |sheet: &JobSheet| match sheet.available {
            Some(n) => sheet.size.area() * i128::from(n),
            None => sheet.size.area() * (i128::from(self.held) + i128::from(more)),
        };
        let paper: i128 = self.sheets.iter().map(area).sum();
        let set: i128 = self.pieces.iter().map(|p| p.cut_size().area() * i128::from(p.count)).sum();
        u64::try_from(paper / set.max(1)).unwrap_or(u64::MAX)
    }

    pub(super) fn held_words(&self) -> String {
        let offcuts: u64 = self.sheets.iter().filter_map(|s| s.available).map(u64::from).sum();
        match (self.held, offcuts) {
            (held, 0) => count_of(u64::from(held), "sheet"),
            (0, offcuts) => count_of(offcuts, "offcut"),
            (held, offcuts) => {
                format!("{} and {}", count_of(u64::from(held), "sheet"), count_of(offcuts, "offcut"))
            }
        }
    }
}
