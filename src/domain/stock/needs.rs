//! What a project needs: the sheets and offcuts that its plan takes, and counted things. Used, still to be used, and the
//! sum of both.
//!
//! The figures come from the booked plan where it still fits, else from the plan that a fixed number of rounds makes; until
//! that is there they are a bound, and say so.

use crate::domain::book::Book;
use crate::domain::cutlist::{self, CutList, ListPiece};
use crate::domain::cutting::chart;
use crate::domain::cutting::job::{Job, JobPiece};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::planning::{self, ProjectJob, Takes};
use crate::domain::project::{Progress, Source};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;
use crate::domain::stock::work::{WorkDone, work_done};
use crate::domain::stock::{Item, ItemId, ProjectId};
use std::collections::BTreeMap;

/// Where the figures come from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Basis {
    /// The plan that is booked.
    Booked,
    /// The plan of a fixed number of rounds, not booked yet.
    Planned,
    /// No plan yet: at least this many sheets, by area.
    #[default]
    Bound,
}

/// A plan with the job that it answers.
#[derive(Clone, Copy, Debug)]
pub struct Settled<'a> {
    /// What was asked.
    pub job: &'a ProjectJob,
    /// The answer.
    pub plan: &'a Plan,
}

/// All that a project needs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Needs {
    /// Its cut list.
    pub list: CutList,
    /// How many of each row of pieces are still to be cut: none of a project that is done or given up.
    pub open: Vec<u32>,
    /// Pieces that are cut by now, of those with a paper.
    pub cut: u64,
    /// What went into it so far.
    pub done: WorkDone,
    /// What the rest of it takes: sheets and offcuts.
    pub takes: Takes,
    /// Where that comes from.
    pub basis: Basis,
    /// Counted things still to be used.
    pub counted: BTreeMap<ItemId, u64>,
    /// What could not be worked out, in sentences.
    pub notes: Vec<String>,
}

impl Needs {
    /// How many of each item are still to be used: sheets and counted things.
    pub fn still(&self) -> BTreeMap<ItemId, u64> {
        let mut sums: BTreeMap<ItemId, u64> =
            self.takes.sheets.iter().map(|(i, n)| (*i, u64::from(*n))).collect();
        for (item, n) in &self.counted {
            *sums.entry(*item).or_default() += n;
        }
        sums.retain(|_, n| *n > 0);
        sums
    }

    /// How many of each item are needed in all: used, and still to be used.
    pub fn in_all(&self) -> BTreeMap<ItemId, u64> {
        let mut sums = self.still();
        for (item, n) in &self.done.items {
            *sums.entry(*item).or_default() += n;
        }
        sums
    }

    /// Pieces in all, pieces still to be cut.
    pub fn pieces(&self) -> (u64, u64) {
        counted(&self.list, &self.open)
    }
}

/// Pieces of a list that have a paper, and how many of them are open by row.
fn counted(list: &CutList, open: &[u32]) -> (u64, u64) {
    let planned = || list.pieces.iter().zip(open).filter(|(p, _)| p.paper.is_some());
    (planned().map(|(p, _)| u64::from(p.made)).sum(), planned().map(|(_, n)| u64::from(*n)).sum())
}

/// The needs of a project; `None` where it is not in the book. `settled` is the plan that was made in the background; it
/// counts only where it answers what is asked now. A project that is done or given up needs no more.
pub fn needs(book: &Book, id: ProjectId, settled: Option<Settled<'_>>) -> Option<Needs> {
    let project = book.projects().get(id)?;
    let list = cutlist::of_project(book, project);
    let done = work_done(book, id);
    let open = list.still_to_cut(&done.pieces);
    let (all, still) = counted(&list, &open);
    let mut out = Needs { notes: list.notes.clone(), list, open, cut: all - still, done, ..Needs::default() };
    if project.progress != Progress::Open {
        out.basis = Basis::Planned;
        out.open = vec![0; out.open.len()];
        return Some(out);
    }
    for counted in &out.list.counted {
        let used = out.done.items.get(&counted.item).copied().unwrap_or(0);
        out.counted.insert(counted.item, u64::from(counted.made).saturating_sub(used));
    }
    let now = planning::job_for(book, (id, project), &out.list, &out.open, &planning::trimmer(book));
    out.notes.clone_from(&now.notes);
    let booked = planning::booked_plan(book, &now).map(|b| b.plan);
    let settled = settled.filter(|s| *s.job == now).map(|s| s.plan);
    let (plan, basis) = match (&booked, settled) {
        (Some(plan), _) => (Some(plan), Basis::Booked),
        (None, Some(plan)) => (Some(plan), Basis::Planned),
        // Nothing that could be cut: there is no plan to wait for.
        (None, None) if !now.job.pieces.iter().any(|p| fits_anywhere(&now.job, p)) => (None, Basis::Planned),
        (None, None) => (None, Basis::Bound),
    };
    out.basis = basis;
    out.takes = match plan {
        Some(plan) => planning::takes(&now, plan),
        None => at_least(&now),
    };
    let unit = book.settings().unit;
    out.notes.extend(plan.into_iter().flat_map(|p| &p.unplaced).map(|u| u.sentence(&now.job, unit)));
    Some(out)
}

/// At least so many whole sheets: the area of the pieces less that of the offcuts, over the area of a sheet.
fn at_least(of: &ProjectJob) -> Takes {
    let mut takes = Takes::default();
    for (at, from) in of.from.iter().enumerate() {
        let (Source::Shelf(_), Some(sheet)) = (from, of.job.sheets.get(at)) else { continue };
        let pieces = of.job.pieces.iter().filter(|p| p.paper == sheet.paper && fits(&of.job, p, at));
        let wanted: i128 = pieces.map(|p| p.cut_size().area() * i128::from(p.count)).sum();
        let bin = of.job.sheets.iter().filter(|s| s.paper == sheet.paper && s.available.is_some());
        let bin: i128 = bin.map(|s| s.size.area() * i128::from(s.available.unwrap_or(0))).sum();
        let area = sheet.size.area().max(1);
        let sheets = ((wanted - bin).max(0) + area - 1) / area;
        takes.add(*from, u32::try_from(sheets).unwrap_or(u32::MAX));
    }
    takes
}

fn fits_anywhere(job: &Job, piece: &JobPiece) -> bool {
    (0..job.sheets.len()).any(|sheet| fits(job, piece, sheet))
}

fn fits(job: &Job, piece: &JobPiece, sheet: usize) -> bool {
    let (upright, turned) = job.ways(piece, sheet);
    upright || turned
}

/// How a row of the cut list may lie on a whole sheet of its paper: the size as it lies, and whether it may be turned from
/// there. Grain and pattern decide. `None` where it has no paper, or does not fit.
pub fn way_on_a_sheet(book: &Book, piece: &ListPiece) -> Option<(Size, bool)> {
    let sheet = planning::whole_sheet(book, piece.paper?)?;
    let asked = piece.for_job(1, sheet.name.clone());
    let job = Job {
        pieces: Vec::new(),
        sheets: vec![sheet],
        trimmer: planning::trimmer(book),
        preference: Preference::default(),
        keep: book.settings().offcut_floor,
    };
    let cut = piece.cut_size();
    match job.ways(&asked, 0) {
        (false, false) => None,
        (true, turned) => Some((cut, turned)),
        (false, true) => Some((cut.turned(), false)),
    }
}

/// The most pieces of a row from one whole sheet of its paper, when nothing else is cut from it; 0 where it does not fit.
pub fn alone_on_a_sheet(book: &Book, piece: &ListPiece) -> u32 {
    let item = piece.paper.and_then(|p| book.items().get(p));
    let (Some((lying, may_turn)), Some(size)) =
        (way_on_a_sheet(book, piece), item.and_then(Item::cutting_size))
    else {
        return 0;
    };
    let sheet = Sheet::new(String::new(), size);
    // The number alone: the layout that the whole answer brings along takes most of its time.
    chart::cell(sheet.usable().size, lying, may_turn, Trimmer::default().limits()).best
}
