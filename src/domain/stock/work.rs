//! What was done for a project so far, as the log tells it: sheets, offcuts and counted things that went into it, the
//! pieces that were cut, the layouts of its booked plan that are done. Voided lines count for nothing.

use crate::domain::book::{Book, is_job_of};
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, LogLine, OffcutId, ProjectId, Reason};
use std::collections::BTreeMap;

/// Pieces of one kind that were cut for a project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutPiece {
    /// Their paper.
    pub paper: ItemId,
    /// What they were called when they were cut.
    pub name: String,
    /// The size that they were cut to.
    pub size: Size,
    /// How many.
    pub count: u32,
}

/// All that went into a project so far.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WorkDone {
    /// Sheets and counted things used.
    pub items: BTreeMap<ItemId, u64>,
    /// Offcuts used.
    pub offcuts: BTreeMap<OffcutId, u64>,
    /// Good pieces, kind by kind.
    pub pieces: Vec<CutPiece>,
}

/// The lines that still count for a project, oldest first: those of its work, and those that were logged by hand under
/// its name.
fn lines(book: &Book, project: ProjectId) -> impl Iterator<Item = &LogLine> {
    let name = book.projects().name_of(project);
    let is_of = move |l: &LogLine| match &l.work {
        Some(work) => work.project == project,
        None => is_job_of(&l.job, &name) && matches!(l.reason, Reason::Used | Reason::OffcutUsed),
    };
    let stands = |l: &LogLine| l.voids.is_none() && !book.is_voided(l.seq);
    book.log().iter().filter(move |l| is_of(l) && stands(l))
}

/// The numbers of the last lines of the log that are a project's, the newest first.
pub fn last_lines(book: &Book, project: ProjectId, most: usize) -> Vec<u64> {
    let mut all: Vec<u64> = lines(book, project).map(|l| l.seq).collect();
    all.reverse();
    all.truncate(most);
    all
}

/// What was done for a project.
pub fn work_done(book: &Book, project: ProjectId) -> WorkDone {
    let mut done = WorkDone::default();
    for line in lines(book, project) {
        let used = line.change.min(0).unsigned_abs();
        match line.offcut {
            Some(id) => *done.offcuts.entry(id).or_default() += used,
            None => *done.items.entry(line.item).or_default() += used,
        }
        for made in line.work.iter().flat_map(|w| &w.pieces) {
            let same = |c: &&mut CutPiece| c.paper == line.item && c.name == made.name && c.size == made.size;
            match done.pieces.iter_mut().find(same) {
                Some(same) => same.count = same.count.saturating_add(made.count),
                None => done.pieces.push(CutPiece {
                    paper: line.item,
                    name: made.name.clone(),
                    size: made.size,
                    count: made.count,
                }),
            }
        }
    }
    done.items.retain(|_, n| *n > 0);
    done.offcuts.retain(|_, n| *n > 0);
    done
}

/// How many sheets of each layout of a project's booked plan are cut.
pub fn layouts_cut(book: &Book, project: ProjectId, plan: u32) -> BTreeMap<u32, u32> {
    let mut cut = BTreeMap::new();
    let works = lines(book, project).filter_map(|l| l.work.as_ref());
    for work in works.filter(|w| w.plan == Some(plan)) {
        for (layout, copies) in &work.layouts {
            *cut.entry(*layout).or_default() += copies;
        }
    }
    cut
}
