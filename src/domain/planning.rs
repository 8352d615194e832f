//! From a project to a cutting job, and from a cut plan to the lines of the log. Knows the book and the job, not how a
//! plan is found.
//!
//! Pieces are rounded up first (sets times count, spares, then spoilage), then cut from sheets: on hand less what other
//! projects have booked, with the offcut bin first at no cost.

pub mod parts;

use crate::domain::book::{Book, is_job_of};
use crate::domain::cardwork;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::edit::{Edit, Row};
use crate::domain::length::Length;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::size::{Grain, Size};
use crate::domain::stock::class;
use crate::domain::stock::{ItemId, NewLine, Offcut, OffcutId, ProjectId};

/// Where a row of the job's sheets comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// Sheets of a line of stock.
    Shelf(ItemId),
    /// Pieces of the bin.
    Bin(OffcutId),
}

/// A project's job, with the way back to the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProjectJob {
    /// The project's name: log lines carry it.
    pub name: String,
    /// What is cut from what.
    pub job: Job,
    /// How many of each row of pieces are made to spare: for spoilage, and beyond what is asked for.
    pub spares: Vec<u32>,
    /// Where each row of sheets comes from.
    pub from: Vec<From>,
    /// What was left out and why, in sentences.
    pub notes: Vec<String>,
}

/// The job of a project on a trimmer; `None` where the project is gone. Where the trimmer's longest cut is not said, the
/// book's holds.
pub fn job_of(book: &Book, id: ProjectId, trimmer: &Trimmer) -> Option<ProjectJob> {
    let project = book.projects().get(id)?;
    let mut out = ProjectJob {
        name: project.name.clone(),
        job: Job {
            pieces: Vec::new(),
            sheets: Vec::new(),
            trimmer: Trimmer { longest_cut: trimmer.longest_cut.or(book.settings().longest_cut), ..*trimmer },
            preference: Preference::default(),
            keep: book.settings().offcut_floor,
        },
        spares: Vec::new(),
        from: Vec::new(),
        notes: Vec::new(),
    };
    let mut papers = Vec::new();
    for card in &project.cards {
        card_pieces(book, project, card, &mut out, &mut papers);
    }
    for wanted in &project.pieces {
        let wanted = Wanted {
            name: wanted.name.clone(),
            size: wanted.size,
            count: made(project, wanted.count, 0),
            needed: needed(project, wanted.count),
            allowance: wanted.allowance,
            may_turn: wanted.turn,
            grain: wanted.grain,
            paper: wanted.paper,
        };
        add(book, &mut out, &mut papers, wanted);
    }
    papers.sort_unstable();
    papers.dedup();
    for paper in papers {
        add_sheets(book, id, paper, &mut out);
    }
    Some(out)
}

/// Pieces asked for of something that a set holds `a_set` of.
fn needed(project: &Project, a_set: u32) -> u32 {
    u32::try_from(project.sets() * u64::from(a_set)).unwrap_or(u32::MAX)
}

/// Pieces to make of something that a set holds `a_set` of: sets, spares, then spoilage rounded up.
pub fn made(project: &Project, a_set: u32, spares: u32) -> u32 {
    let wanted = project.sets() * u64::from(a_set) + u64::from(spares);
    let spoiled =
        (wanted * u64::from(project.spoilage_percent)).div_ceil(100) + u64::from(project.spoilage_fixed);
    u32::try_from(if wanted == 0 { 0 } else { wanted + spoiled }).unwrap_or(u32::MAX)
}

/// The base, every layer and everything made beside a card.
fn card_pieces(
    book: &Book,
    project: &Project,
    card: &ProjectCard,
    out: &mut ProjectJob,
    papers: &mut Vec<ItemId>,
) {
    let (pieces, notes) = cardwork::pieces(book, card);
    out.notes.extend(notes);
    for piece in pieces {
        if piece.is_base && piece.paper.is_none() {
            continue;
        }
        let (a_set, spares) =
            (card.count.saturating_mul(piece.count), card.spares.saturating_mul(piece.count));
        let wanted = Wanted {
            name: piece.name,
            size: piece.size,
            count: made(project, a_set, spares),
            needed: needed(project, a_set),
            allowance: piece.allowance,
            may_turn: piece.may_turn,
            grain: piece.grain,
            paper: piece.paper,
        };
        add(book, out, papers, wanted);
    }
}

/// A row of the cut list.
struct Wanted {
    name: String,
    size: Size,
    count: u32,
    /// How many of them are asked for; the others are spares.
    needed: u32,
    allowance: Length,
    may_turn: bool,
    grain: Grain,
    paper: Option<ItemId>,
}

fn add(book: &Book, out: &mut ProjectJob, papers: &mut Vec<ItemId>, wanted: Wanted) {
    let Wanted { name, size, count, needed, allowance, may_turn, grain, paper } = wanted;
    let Some(paper) = paper else {
        out.notes.push(format!("{name}: no paper is chosen, so it is not planned"));
        return;
    };
    if count == 0 {
        return;
    }
    let one_way = book.items().get(paper).is_some_and(|i| i.one_way);
    papers.push(paper);
    out.spares.push(count.saturating_sub(needed));
    out.job.pieces.push(JobPiece {
        name,
        finished: size,
        allowance,
        count,
        may_turn: may_turn && !one_way,
        grain,
        paper: Some(book.items().name_of(paper)),
        sheet: None,
    });
}

/// The bin first, then the shelf.
fn add_sheets(book: &Book, project: ProjectId, paper: ItemId, out: &mut ProjectJob) {
    let name = book.items().name_of(paper);
    for (id, offcut) in book.offcuts().iter().filter(|(_, o)| o.item == paper) {
        let available = u32::try_from(book.offcut_count(id)).unwrap_or(u32::MAX);
        if available > 0 {
            out.from.push(From::Bin(id));
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
    let Some(item) = book.items().get(paper) else { return };
    let Some(size) = item.cutting_size() else {
        out.notes.push(format!("{name} has no size, so nothing can be cut from it"));
        return;
    };
    let own: u64 = book
        .bookings()
        .iter()
        .filter(|(_, b)| b.project == project && b.item == paper)
        .map(|(_, b)| u64::from(b.count))
        .sum();
    let held = book.free(paper) + i64::try_from(own).unwrap_or(i64::MAX);
    out.from.push(From::Shelf(paper));
    out.job.sheets.push(JobSheet {
        name: name.clone(),
        paper: Some(name),
        size,
        grain: item.grain,
        available: Some(u32::try_from(held.max(0)).unwrap_or(u32::MAX)),
        cost: Cost::ONE,
    });
}

/// What was cut, ready to be logged.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutSheets {
    /// Sheets taken from the shelf.
    pub sheets: Vec<(ItemId, u32)>,
    /// Pieces taken from the bin.
    pub offcuts: Vec<(OffcutId, u32)>,
    /// Leftovers to keep.
    pub left: Vec<Left>,
}

/// Leftovers of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// Their paper.
    pub item: ItemId,
    /// Their size, upright.
    pub size: Size,
    /// Which of its sides the grain follows, where the sheet's was known.
    pub grain: Grain,
    /// How many.
    pub count: u32,
}

impl CutSheets {
    /// True for nothing at all.
    pub fn is_empty(&self) -> bool {
        self.sheets.is_empty() && self.offcuts.is_empty() && self.left.is_empty()
    }
}

/// The one edit that logs a cut job: sheets and offcuts used, leftovers put in the bin. Where the job is a project's, the
/// sheets that it had set aside are not set aside any more.
pub fn log_edit(book: &Book, job: &str, cut: &CutSheets) -> Edit {
    let project = book.projects().iter().find(|(_, p)| is_job_of(job, &p.name)).map(|(id, _)| id);
    let mut edits: Vec<Edit> = project.map(|id| class::unbook(book, id, &cut.sheets)).unwrap_or_default();
    edits.extend(cut.sheets.iter().map(|(item, n)| Edit::Log(NewLine::used(*item, *n, job))));
    for (id, n) in &cut.offcuts {
        if let Some(offcut) = book.offcuts().get(*id) {
            edits.push(Edit::Log(NewLine::offcut_used(offcut.item, *id, *n, job)));
        }
    }
    let mut next = book.offcuts().next();
    for Left { item, size, grain, count: n } in &cut.left {
        let size = size.upright();
        let known = book
            .offcuts()
            .iter()
            .find(|(_, o)| o.item == *item && o.size.upright() == size && o.grain == *grain)
            .map(|(id, _)| id);
        let id = known.unwrap_or(next);
        if known.is_none() {
            next = OffcutId(next.0 + 1);
            let offcut = Offcut {
                item: *item,
                size,
                grain: *grain,
                job: job.to_owned(),
                since: None,
                place: String::new(),
                note: String::new(),
            };
            edits.push(Edit::Offcut(Row::add(id, offcut)));
        }
        edits.push(Edit::Log(NewLine::offcut_made(*item, id, *n, job)));
    }
    Edit::batch(format!("logged {job}"), edits)
}
