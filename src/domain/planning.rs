//! From a project's cut list to a cutting job, to its plan, and to the plan that is booked.
//!
//! Planned is what is still to be cut. Offcuts that nobody else has booked come first, at no cost; whole sheets are asked
//! for without a limit, so that the plan says how many the project takes, and the shelf then says how many of them are
//! missing. A fixed number of rounds makes the figures: every machine, pane and command gives the same.

mod kept;

pub use kept::{difference, settle_project};

use crate::domain::book::Book;
use crate::domain::cutlist::{self, CutList};
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::plan_words;
use crate::domain::cutting::planner::{Lanes, Solver};
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::relaid::{self, Relaid};
use crate::domain::project::{BookedLayout, BookedPiece, BookedPlan, Project, Source};
use crate::domain::stock::shortage::{missing_for, missing_words, there_for};
use crate::domain::stock::work::{layouts_cut, work_done};
use crate::domain::stock::{ItemId, OffcutId, ProjectId, booked};
use std::collections::BTreeMap;

/// The seed of every plan: the same job gives the same plan everywhere.
pub const SEED: u64 = 1;
/// Rounds of work behind the figures of a project.
pub const WORK: u32 = 24;

/// What is still to be cut of a project as a job, with the way back to the cut list and to the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProjectJob {
    /// Which project.
    pub project: ProjectId,
    /// Its name: log lines carry it.
    pub name: String,
    /// What is cut from what.
    pub job: Job,
    /// The paper of each row of pieces.
    pub papers: Vec<ItemId>,
    /// How many of each row of pieces are made to spare: for spoilage, and beyond what is asked for.
    pub spares: Vec<u32>,
    /// Where each row of sheets comes from.
    pub from: Vec<Source>,
    /// Layouts of its booked plan that stay as they are, where something else about it was changed since it was booked.
    pub kept: Vec<Relaid>,
    /// What was left out and why, in sentences.
    pub notes: Vec<String>,
}

impl ProjectJob {
    /// True where this is what the project asks for as the book stands, on the same trimmer and by the same preference.
    pub fn is_asked_by(&self, book: &Book) -> bool {
        let Some(mut now) = job_of(book, self.project, &self.job.trimmer) else { return false };
        now.job.preference = self.job.preference;
        now.kept.clone_from(&self.kept);
        now == *self
    }

    /// The line of the shelf that a row of sheets is of, cut or uncut.
    pub fn paper_of(&self, book: &Book, row: usize) -> Option<ItemId> {
        match self.from.get(row)? {
            Source::Shelf(id) => Some(*id),
            Source::Bin(id) => book.offcuts().get(*id).map(|offcut| offcut.item),
        }
    }
}

/// The trimmer that figures of the book rest on: its longest cut is the book's, nothing else of it decides a count.
pub fn trimmer(book: &Book) -> Trimmer {
    Trimmer { longest_cut: book.settings().longest_cut, ..Trimmer::default() }
}

/// What is still to be cut of a project, on a trimmer; `None` where the project is gone. Where the trimmer's longest cut is
/// not given, the book's holds.
pub fn job_of(book: &Book, id: ProjectId, trimmer: &Trimmer) -> Option<ProjectJob> {
    let project = book.projects().get(id)?;
    let list = cutlist::of_project(book, project);
    let open = list.still_to_cut(&work_done(book, id).pieces);
    Some(job_for(book, (id, project), &list, &open, trimmer))
}

/// The same where the cut list, and how many of each row are still to be cut, are known already.
pub fn job_for(
    book: &Book,
    (id, project): (ProjectId, &Project),
    list: &CutList,
    open: &[u32],
    trimmer: &Trimmer,
) -> ProjectJob {
    let mut out = ProjectJob {
        project: id,
        name: project.name.clone(),
        job: Job {
            pieces: Vec::new(),
            sheets: Vec::new(),
            trimmer: Trimmer { longest_cut: trimmer.longest_cut.or(book.settings().longest_cut), ..*trimmer },
            preference: Preference::default(),
            keep: book.settings().offcut_floor,
        },
        papers: Vec::new(),
        spares: Vec::new(),
        from: Vec::new(),
        kept: Vec::new(),
        notes: list.notes.clone(),
    };
    for (piece, open) in list.pieces.iter().zip(open) {
        let Some(paper) = piece.paper.filter(|_| *open > 0) else { continue };
        out.papers.push(paper);
        out.spares.push((*open).min(piece.made.saturating_sub(piece.asked)));
        out.job.pieces.push(piece.for_job(*open, book.items().name_of(paper)));
    }
    let mut papers = out.papers.clone();
    papers.sort_unstable();
    papers.dedup();
    for paper in papers {
        add_sheets(book, id, paper, &mut out);
    }
    out.kept = kept::kept(book, &out);
    out
}

/// The bin first, then the shelf.
fn add_sheets(book: &Book, project: ProjectId, paper: ItemId, out: &mut ProjectJob) {
    let name = book.items().name_of(paper);
    for (id, offcut) in book.offcuts().iter().filter(|(_, o)| o.item == paper) {
        let held = book.free_offcuts(id) + booked::offcuts_of(book, project, id);
        let available = u32::try_from(held.min(book.offcut_count(id))).unwrap_or(u32::MAX);
        if available > 0 {
            out.from.push(Source::Bin(id));
            out.job.sheets.push(JobSheet {
                name: book.offcut_title(id),
                paper: Some(name.clone()),
                size: offcut.size,
                grain: offcut.grain,
                available: Some(available),
                cost: Cost::FREE,
            });
        }
    }
    match whole_sheet(book, paper) {
        Some(sheet) => {
            out.from.push(Source::Shelf(paper));
            out.job.sheets.push(sheet);
        }
        None => out.notes.push(format!("{name} has no size, so nothing can be cut from it")),
    }
}

/// Whole sheets of a line of the shelf as a row of a job, without a limit; `None` for a line without a size.
pub fn whole_sheet(book: &Book, paper: ItemId) -> Option<JobSheet> {
    let item = book.items().get(paper)?;
    Some(JobSheet {
        name: item.name.clone(),
        paper: Some(item.name.clone()),
        size: item.cutting_size()?,
        grain: item.grain,
        available: None,
        cost: Cost::ONE,
    })
}

/// The plan of a job: a fixed number of rounds, the same on every machine.
pub fn settle(job: &Job, lanes: &mut dyn Lanes) -> Plan {
    let mut solver = Solver::new(job.clone(), SEED);
    while solver.progress().work < WORK && solver.round(lanes) {}
    solver.finish(lanes);
    solver.plan()
}

/// What a plan takes: whole sheets by line of the shelf, and pieces of the bin.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Takes {
    /// Whole sheets.
    pub sheets: BTreeMap<ItemId, u32>,
    /// Offcuts.
    pub offcuts: BTreeMap<OffcutId, u32>,
}

impl Takes {
    /// Adds sheets of one source.
    pub fn add(&mut self, from: Source, n: u32) {
        match from {
            _ if n == 0 => {}
            Source::Shelf(item) => *self.sheets.entry(item).or_default() += n,
            Source::Bin(offcut) => *self.offcuts.entry(offcut).or_default() += n,
        }
    }

    /// True for nothing at all.
    pub fn is_empty(&self) -> bool {
        self.sheets.is_empty() && self.offcuts.is_empty()
    }

    /// Whole sheets over all papers.
    pub fn sheet_total(&self) -> u64 {
        self.sheets.values().map(|n| u64::from(*n)).sum()
    }

    /// Offcuts over all papers.
    pub fn offcut_total(&self) -> u64 {
        self.offcuts.values().map(|n| u64::from(*n)).sum()
    }

    /// `24 sheets and 5 offcuts`: whole sheets and offcuts are never added up.
    pub fn words(&self) -> String {
        plan_words::count_words(self.sheet_total(), self.offcut_total())
    }
}

/// What a plan of a project takes.
pub fn takes(of: &ProjectJob, plan: &Plan) -> Takes {
    let mut takes = Takes::default();
    for sheet in &plan.sheets {
        if let Some(from) = of.from.get(sheet.sheet) {
            takes.add(*from, sheet.copies);
        }
    }
    takes
}

/// Each layout of a plan in words: how many sheets, of what, and what one of them gives:
/// `2 x chalk, letter: 2 thank-you, base; 4 tag`.
pub fn layout_words(of: &ProjectJob, plan: &Plan) -> Vec<(u32, String)> {
    layouts_words(of, plan.sheets.iter())
}

/// The same of some of its layouts.
pub fn layouts_words<'a>(
    of: &ProjectJob,
    sheets: impl Iterator<Item = &'a PlannedSheet>,
) -> Vec<(u32, String)> {
    let words = |sheet: &PlannedSheet| {
        let mut counts: BTreeMap<usize, u32> = BTreeMap::new();
        for row in sheet.tree.rows() {
            *counts.entry(row).or_default() += 1;
        }
        let name = |row: usize| of.job.pieces.get(row).map_or_else(String::new, JobPiece::called);
        let pieces: Vec<String> = counts.into_iter().map(|(row, n)| format!("{n} {}", name(row))).collect();
        let from = of.job.sheets.get(sheet.sheet).map_or("", |s| s.name.as_str());
        (sheet.copies, format!("{from}: {}", pieces.join("; ")))
    };
    sheets.map(words).collect()
}

/// A plan as it is kept with the bookings that are made for it.
pub fn to_book(number: u32, of: &ProjectJob, plan: &Plan) -> BookedPlan {
    let rows = of.job.pieces.iter().zip(&of.papers).zip(&of.spares);
    let pieces = rows.map(|((p, paper), spare)| BookedPiece {
        name: p.name.clone(),
        finished: p.finished,
        allowance: p.allowance,
        count: p.count,
        spare: *spare,
        may_turn: p.may_turn,
        grain: p.grain,
        paper: *paper,
    });
    let layouts = plan.sheets.iter().filter_map(|s| {
        let (row, from) = (of.job.sheets.get(s.sheet)?, *of.from.get(s.sheet)?);
        Some(BookedLayout { from, size: row.size, grain: row.grain, copies: s.copies, tree: s.tree.clone() })
    });
    BookedPlan {
        number,
        pieces: pieces.collect(),
        layouts: layouts.collect(),
        lower_bound: plan.totals.lower_bound,
        bound: plan.totals.bound,
    }
}

/// How many sheets of each layout of a project's booked plan are still to be cut.
pub fn still_booked(book: &Book, id: ProjectId, plan: &BookedPlan) -> Vec<u32> {
    let cut = layouts_cut(book, id, plan.number);
    let left = |(at, layout): (usize, &BookedLayout)| {
        let done = u32::try_from(at).ok().and_then(|at| cut.get(&at)).copied().unwrap_or(0);
        layout.copies.saturating_sub(done)
    };
    plan.layouts.iter().enumerate().map(left).collect()
}

/// Pieces that are still to be cut from each source of a project's booked plan.
pub fn pieces_still_booked(book: &Book, id: ProjectId) -> BTreeMap<Source, u64> {
    let mut all = BTreeMap::new();
    let Some(plan) = book.projects().get(id).and_then(|p| p.plan.as_deref()) else { return all };
    for (layout, copies) in plan.layouts.iter().zip(still_booked(book, id, plan)).filter(|(_, n)| *n > 0) {
        *all.entry(layout.from).or_default() += u64::from(copies) * layout.tree.rows().len() as u64;
    }
    all
}

/// What is left of a booked plan.
#[derive(Clone, Debug, PartialEq)]
pub struct BookedNow {
    /// As a plan for what is still to be cut.
    pub plan: Plan,
    /// The place of each of its layouts among those that were booked.
    pub layouts: Vec<u32>,
}

/// What is left of a project's booked plan, as a plan for the job of what is still to be cut. `None` where none is booked,
/// or where it no longer fits: other pieces are wanted by now, a paper's size is another, an offcut is gone.
pub fn booked_plan(book: &Book, of: &ProjectJob) -> Option<BookedNow> {
    let booked = book.projects().get(of.project)?.plan.as_deref()?;
    let rows = rows_of(booked, of)?;
    let left = still_booked(book, of.project, booked);
    let (mut layouts, mut places) = (Vec::new(), Vec::new());
    for (place, (layout, copies)) in (0..).zip(booked.layouts.iter().zip(left)).filter(|(_, (_, n))| *n > 0) {
        let fits = |(at, row): (usize, &JobSheet)| {
            of.from.get(at) == Some(&layout.from) && row.size == layout.size && row.grain == layout.grain
        };
        let sheet = of.job.sheets.iter().enumerate().position(|(at, row)| fits((at, row)))?;
        let tree = layout.tree.with_rows(&|row| rows.get(row).copied().flatten())?;
        layouts.push(Relaid { sheet, copies, tree });
        places.push(place);
    }
    // Sheets that are cut have paid their part of the bound.
    let all: u64 = sheets_of(booked.layouts.iter().map(|l| (l.from, l.copies)));
    let open: u64 = sheets_of(layouts.iter().filter_map(|l| Some((*of.from.get(l.sheet)?, l.copies))));
    let paid = Cost::ONE.parts().saturating_mul(all - open.min(all));
    let least = Cost::from_parts(booked.lower_bound.parts().saturating_sub(paid));
    let plan = relaid::plan(&of.job, layouts, least, booked.bound);
    let takes = takes(of, &plan);
    let has_offcuts = takes.offcuts.iter().all(|(o, n)| u64::from(*n) <= book.offcut_count(*o));
    let is_whole = makes_all(of, &plan, &left_out(booked, &rows, of));
    (is_whole && has_offcuts).then_some(BookedNow { plan, layouts: places })
}

fn sheets_of(layouts: impl Iterator<Item = (Source, u32)>) -> u64 {
    layouts.filter(|(from, _)| matches!(from, Source::Shelf(_))).map(|(_, n)| u64::from(n)).sum()
}

/// The row of the job that each piece of a booked plan is now; a piece of which none is left to cut has none. `None` where
/// the job has a row that the plan does not know.
fn rows_of(booked: &BookedPlan, of: &ProjectJob) -> Option<Vec<Option<usize>>> {
    let mut rows = vec![None; booked.pieces.len()];
    for (at, (piece, paper)) in of.job.pieces.iter().zip(&of.papers).enumerate() {
        let same = |b: &BookedPiece| {
            (b.paper, b.finished, b.allowance, b.grain)
                == (*paper, piece.finished, piece.allowance, piece.grain)
                && b.may_turn == piece.may_turn
        };
        let free = |(row, b): &(usize, &BookedPiece)| rows.get(*row) == Some(&None) && same(b);
        let named = booked.pieces.iter().enumerate().filter(free).find(|(_, b)| b.name == piece.name);
        let found = named.or_else(|| booked.pieces.iter().enumerate().find(free))?.0;
        if let Some(row) = rows.get_mut(found) {
            *row = Some(at);
        }
    }
    Some(rows)
}

/// How many of each row of the job the booked plan had no paper for from the start: pieces that fit on offcuts alone may
/// find too few of them.
fn left_out(booked: &BookedPlan, rows: &[Option<usize>], of: &ProjectJob) -> Vec<u32> {
    let mut out = vec![0_u32; of.job.pieces.len()];
    for (at, piece) in booked.pieces.iter().enumerate() {
        let on = |l: &BookedLayout| l.tree.rows().iter().filter(|row| **row == at).count() as u64;
        let made: u64 = booked.layouts.iter().map(|l| u64::from(l.copies) * on(l)).sum();
        if let Some(n) = rows.get(at).copied().flatten().and_then(|row| out.get_mut(row)) {
            *n = u64::from(piece.count).saturating_sub(made) as u32;
        }
    }
    out
}

/// True where a plan makes every piece of the job that fits on a sheet at all, but for those that it left out when it was
/// booked, and none beyond.
fn makes_all(of: &ProjectJob, plan: &Plan, left_out: &[u32]) -> bool {
    use crate::domain::cutting::plan::UndoneReason;
    let made: u64 = plan.sheets.iter().map(|s| s.layout.pieces.len() as u64 * u64::from(s.copies)).sum();
    let not_made: u64 = plan.unplaced.iter().map(|u| u64::from(u.count)).sum();
    plan.unplaced
        .iter()
        .all(|u| u.reason != UndoneReason::NotEnough || left_out.get(u.piece).is_some_and(|n| u.count <= *n))
        && made + not_made == of.job.piece_total()
}

/// How many sheets of each row are there for a project: on hand less what is served before it. Rows of the bin say so
/// themselves.
pub fn held(book: &Book, of: &ProjectJob) -> Vec<Option<u32>> {
    let day = book.projects().get(of.project).and_then(|p| p.date);
    let there = |from: &Source| match from {
        Source::Shelf(item) => u32::try_from(there_for(book, of.project, *item, day)).ok(),
        Source::Bin(_) => None,
    };
    of.from.iter().map(there).collect()
}

/// How many sheets of each layout can be cut now: as many as are on hand, in the order of the plan.
pub fn sheets_to_cut_now(book: &Book, of: &ProjectJob, plan: &Plan) -> Vec<u32> {
    let mut left: BTreeMap<ItemId, u64> = BTreeMap::new();
    let mut now = Vec::with_capacity(plan.sheets.len());
    for sheet in &plan.sheets {
        now.push(match of.from.get(sheet.sheet) {
            Some(Source::Shelf(item)) => {
                let left = left.entry(*item).or_insert_with(|| book.on_hand(*item));
                let n = u64::from(sheet.copies).min(*left);
                *left -= n;
                n as u32
            }
            _ => sheet.copies,
        });
    }
    now
}

/// Sheets that a plan takes and that will be missing on the day, by paper.
pub fn short(book: &Book, of: &ProjectJob, plan: &Plan) -> Vec<(ItemId, u64)> {
    let day = book.projects().get(of.project).and_then(|p| p.date);
    let takes = takes(of, plan);
    let missing = takes
        .sheets
        .iter()
        .map(|(item, n)| (*item, missing_for(book, of.project, *item, u64::from(*n), day)));
    missing.filter(|(_, n)| *n > 0).collect()
}

/// The same in sentences: `2 more sheets of fern floor, letter, by Sat 2026-12-12`.
pub fn short_words(book: &Book, of: &ProjectJob, plan: &Plan) -> Vec<String> {
    let day = book.projects().get(of.project).and_then(|p| p.date);
    short(book, of, plan).into_iter().map(|(item, n)| missing_words(book, item, n, day)).collect()
}
