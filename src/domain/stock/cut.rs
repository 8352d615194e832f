//! What was cut, as lines of the log: sheets and offcuts used, leftovers kept, good pieces, and the bookings that end
//! with it.

use crate::domain::book::Book;
use crate::domain::cutting::plan_words::count_words;
use crate::domain::edit::{Edit, Row};
use crate::domain::plural::count_of;
use crate::domain::project::Source;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{ItemId, MadePiece, NewLine, Offcut, OffcutId, ProjectId, ProjectWork, booked};
use std::collections::BTreeSet;

/// What was cut, ready to be logged.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutSheets {
    /// Sheets taken from the shelf.
    pub sheets: Vec<(ItemId, u32)>,
    /// Pieces taken from the bin.
    pub offcuts: Vec<(OffcutId, u32)>,
    /// Leftovers to keep.
    pub left: Vec<Left>,
    /// Good pieces that came out, by their paper.
    pub pieces: Vec<(ItemId, MadePiece)>,
    /// Layouts of the booked plan that were cut: where its sheets came from, its place in the plan, how many sheets.
    pub layouts: Vec<(Source, u32, u32)>,
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
        self.sheets.is_empty() && self.offcuts.is_empty() && self.left.is_empty() && self.pieces.is_empty()
    }

    /// Adds good pieces of one kind.
    pub fn add_pieces(&mut self, paper: ItemId, made: MadePiece) {
        let same =
            |(p, m): &&mut (ItemId, MadePiece)| (*p, &m.name, m.size) == (paper, &made.name, made.size);
        match self.pieces.iter_mut().find(same) {
            Some((_, same)) => same.count = same.count.saturating_add(made.count),
            None if made.count > 0 => self.pieces.push((paper, made)),
            None => {}
        }
    }
}

/// What a cut job was for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutFor {
    /// The project.
    pub project: ProjectId,
    /// The number of the booked plan that was followed.
    pub plan: Option<u32>,
}

/// The one edit that logs a cut job: sheets and offcuts used, leftovers put in the bin. Where it was cut for a project,
/// the bookings that it fulfils end, and the pieces count as cut.
pub fn log_edit(book: &Book, job: &str, of: Option<CutFor>, cut: &CutSheets) -> Edit {
    let mut edits: Vec<Edit> =
        of.map(|of| booked::take_off(book, of.project, &fulfilled(book, cut))).unwrap_or_default();
    edits.extend(used_lines(book, job, of, cut).into_iter().map(Edit::Log));
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
    Edit::batch(format!("logged {job}: {}", cut_words(cut)), edits)
}

/// What a cut took and gave, in a few words: `25 sheets, 104 pieces`.
fn cut_words(cut: &CutSheets) -> String {
    let sum = |counts: &mut dyn Iterator<Item = u32>| counts.map(u64::from).sum::<u64>();
    let sheets = sum(&mut cut.sheets.iter().map(|(_, n)| *n));
    let offcuts = sum(&mut cut.offcuts.iter().map(|(_, n)| *n));
    let pieces = sum(&mut cut.pieces.iter().map(|(_, made)| made.count));
    let taken = count_words(sheets, offcuts);
    if pieces == 0 { taken } else { format!("{taken}, {}", count_of(pieces, "piece")) }
}

/// What a cut takes, as bookings name it.
fn fulfilled(book: &Book, cut: &CutSheets) -> Vec<(ItemId, Option<OffcutId>, u32)> {
    let sheets = cut.sheets.iter().map(|(item, n)| (*item, None, *n));
    let offcuts =
        cut.offcuts.iter().filter_map(|(id, n)| Some((book.offcuts().get(*id)?.item, Some(*id), *n)));
    sheets.chain(offcuts).collect()
}

/// A line for each source. The pieces of a paper stand on its first line; where it has none, since they came from panels
/// whose sheet was logged before, they have a line of their own that takes no sheet.
fn used_lines(book: &Book, job: &str, of: Option<CutFor>, cut: &CutSheets) -> Vec<NewLine> {
    let sheets = cut.sheets.iter().map(|(item, n)| (Source::Shelf(*item), NewLine::used(*item, *n, job)));
    let offcuts = cut.offcuts.iter().filter_map(|(id, n)| {
        let paper = book.offcuts().get(*id)?.item;
        Some((Source::Bin(*id), NewLine::offcut_used(paper, *id, *n, job)))
    });
    let mut lines: Vec<(Source, NewLine)> = sheets.chain(offcuts).collect();
    let Some(of) = of else { return lines.into_iter().map(|(_, line)| line).collect() };
    for (paper, _) in &cut.pieces {
        if !lines.iter().any(|(_, line)| line.item == *paper) {
            lines.push((Source::Shelf(*paper), NewLine::used(*paper, 0, job)));
        }
    }
    let mut given: BTreeSet<ItemId> = BTreeSet::new();
    let mut with_work = |(from, line): (Source, NewLine)| {
        let is_first = given.insert(line.item);
        let mine = |(s, at, n): &(Source, u32, u32)| (*s == from).then_some((*at, *n));
        let of_paper = cut.pieces.iter().filter(|(p, _)| is_first && *p == line.item);
        let work = ProjectWork {
            layouts: cut.layouts.iter().filter_map(mine).collect(),
            pieces: of_paper.map(|(_, made)| made.clone()).collect(),
            plan: of.plan,
            ..ProjectWork::of(of.project)
        };
        line.for_work(work)
    };
    lines.into_iter().map(&mut with_work).collect()
}
