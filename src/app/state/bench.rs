//! A cut list in hand: sheets with their steps, how far the person has come, what is to be logged of it. What was spoiled
//! is part of it; what becomes of that is decided in [`crate::app::panes::bench::spoil`].

mod step_words;

use crate::domain::cutting::job::JobPiece;
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::leftover;
use crate::domain::cutting::plan_words::{self, KeptLeftover};
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::remains::{self, Remains};
use crate::domain::cutting::spoiled::Lost;
use crate::domain::cutting::step::{CutPart, CutStep, StepList, Taken};
use crate::domain::cutting::steps::{self, cut_list_taking};
use crate::domain::cutting::tree::Tree;
use crate::domain::cutting::words::kind_word;
use crate::domain::length::Unit;
use crate::domain::plural::count_of;
use crate::domain::project;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::cut::{CutFor, CutSheets, Left};
use crate::domain::stock::{ItemId, MadePiece, OffcutId};

/// Where a sheet comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperSource {
    /// A line of the shelf.
    Shelf(ItemId),
    /// The offcut bin.
    Bin(OffcutId),
    /// A panel that lies on the bench already: its sheet was counted when it was taken.
    OnBench,
    /// Paper that is no line in stock.
    Loose,
}

impl PaperSource {
    /// What it is at the trimmer.
    pub const fn taken(self) -> Taken {
        match self {
            Self::Bin(_) => Taken::Offcut,
            Self::OnBench => Taken::Leftover,
            Self::Shelf(_) | Self::Loose => Taken::Sheet,
        }
    }

    /// The steps of so many sheets that are cut alike.
    pub fn cut_list(self, size: Size, tree: &Tree, trimmer: &Trimmer, copies: u32) -> StepList {
        cut_list_taking(self.taken(), size, tree, trimmer, copies)
    }
}

/// Sheets that are cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchSheet {
    /// What the sheet is called.
    pub name: String,
    /// What its paper is called: leftovers are marked with it.
    pub paper_name: String,
    /// Where it comes from.
    pub source: PaperSource,
    /// Its paper in stock, if it has one: leftovers are kept under it.
    pub paper: Option<ItemId>,
    /// Its size.
    pub size: Size,
    /// Which of its sides the grain follows.
    pub grain: Grain,
    /// Where everything lies.
    pub layout: Layout,
    /// How it is cut.
    pub tree: Tree,
    /// What to do, over all copies.
    pub steps: Vec<CutStep>,
    /// How many sheets are cut like this.
    pub copies: u32,
    /// Panels of single sheets that were spoiled.
    pub lost: Vec<Lost>,
    /// Its place in the booked plan that the run follows.
    pub booked_as: Option<u32>,
}

impl BenchSheet {
    /// What is done for each sheet while so many of its layout's steps are done.
    pub fn state(&self, steps: usize) -> Remains {
        let cuts = steps.checked_sub(1).and_then(|n| self.steps.get(n)).map_or(0, |step| step.cuts.end);
        remains::after(self.size, &self.layout, cuts)
    }
}

/// A leftover that a layout speaks of and that will not be there: it was cut again, or lost with its panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Gone {
    /// What its paper is called.
    pub paper_name: String,
    /// Its paper in stock.
    pub paper: Option<ItemId>,
    /// Its size, upright.
    pub size: Size,
    /// Which of its sides the grain follows.
    pub grain: Grain,
}

/// A cut list in hand.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct BenchRun {
    /// What is being cut.
    pub title: String,
    /// The project that it is cut for, and the booked plan that it follows.
    pub of: Option<CutFor>,
    /// The pieces, by the row that layouts speak of.
    pub pieces: Vec<JobPiece>,
    /// The paper of each row of pieces, where the run is a project's.
    pub papers: Vec<ItemId>,
    /// Sheets in the order of cutting.
    pub sheets: Vec<BenchSheet>,
    /// Leftovers smaller than this, either way round, are not kept.
    pub keep: Size,
    /// Steps done so far, over all sheets.
    pub done: usize,
    /// Sheets that were logged, in the order of cutting.
    pub logged: u32,
    /// Taken beside the sheets of the run, and not logged yet: whole sheets that were spoiled.
    pub before: CutSheets,
    /// Leftovers that are counted with no sheet any more.
    pub gone: Vec<Gone>,
    /// Pieces of each row that come out beyond what is asked for.
    pub spares: Vec<u32>,
    /// Finished pieces of each row that were spoiled.
    pub ruined: Vec<u32>,
    /// How many of those the log has left out by now.
    pub ruined_logged: Vec<u32>,
    /// Strokes counted so far in a step, and which step that is: the count of any other step is none.
    pub counted: (usize, u32),
    /// Sheets that one stroke takes, as it was said for this run.
    pub per_stroke: u32,
    /// Pieces spoiled so far.
    pub spoiled: u32,
    /// How many of its first layouts make up one whole card that is cut before the rest; 0 where none is.
    pub proof: usize,
}

/// Where a run is.
#[derive(Clone, Copy, Debug)]
pub struct RunSpot<'a> {
    /// The sheets in hand.
    pub sheet: &'a BenchSheet,
    /// Their place among the run's.
    pub index: usize,
    /// The step in hand.
    pub step: &'a CutStep,
    /// Its place among the sheet's steps.
    pub at: usize,
}

impl BenchRun {
    /// Sheets after number `from` up to number `to` are logged.
    pub fn note_logged(&mut self, from: u32, to: u32) {
        self.ruined_logged = self.ruined_after(from, to);
        self.gone = self.gone_after(from, to);
        self.logged = to;
        self.before = CutSheets::default();
    }

    /// Says every step for the trimmer as it is now; order and numbers stay.
    pub fn say_for(&mut self, trimmer: &Trimmer) {
        self.sheets.iter_mut().for_each(|sheet| steps::say_for(&mut sheet.steps, trimmer));
    }

    /// Steps over all sheets.
    pub fn len(&self) -> usize {
        self.sheets.iter().map(|s| s.steps.len()).sum()
    }

    /// True where there is nothing to do.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The step in hand, or `None` after the last.
    pub fn spot(&self) -> Option<RunSpot<'_>> {
        let mut at = self.done;
        for (index, sheet) in self.sheets.iter().enumerate() {
            match sheet.steps.get(at) {
                Some(step) => return Some(RunSpot { sheet, index, step, at }),
                None => at -= sheet.steps.len(),
            }
        }
        None
    }

    /// Strokes counted in the step in hand.
    pub fn strokes(&self) -> u32 {
        let (step, strokes) = self.counted;
        if step == self.done { strokes } else { 0 }
    }

    /// Counts one stroke more, or one less, in the step in hand. False where there is none more, or none to take back.
    pub fn count_stroke(&mut self, more: bool) -> bool {
        let Some(of) = self.spot().map(|spot| spot.step.strokes) else { return false };
        let now = self.strokes();
        let next = if more { now.checked_add(1).filter(|n| *n <= of) } else { now.checked_sub(1) };
        let Some(next) = next else { return false };
        self.counted = if next > 0 { (self.done, next) } else { (0, 0) };
        true
    }

    /// Sheets over all layouts.
    pub fn sheet_total(&self) -> u32 {
        self.sheets.iter().map(|s| s.copies).sum()
    }

    /// Sheets whose layout is wholly cut by now.
    pub fn sheets_cut(&self) -> u32 {
        let mut left = self.done;
        let mut cut = 0;
        for sheet in &self.sheets {
            if left < sheet.steps.len() {
                break;
            }
            left -= sheet.steps.len();
            cut += sheet.copies;
        }
        cut
    }

    /// Each layout with the number of its steps that are done.
    pub fn progress(&self) -> impl Iterator<Item = (&BenchSheet, usize)> {
        let mut left = self.done;
        self.sheets.iter().map(move |sheet| {
            let steps = left.min(sheet.steps.len());
            left -= steps;
            (sheet, steps)
        })
    }

    /// What the sheets from number `from` up to number `to` (in the order of cutting) took and left, and what was taken
    /// beside them.
    pub fn cut(&self, from: u32, to: u32) -> CutSheets {
        let mut cut = self.before.clone();
        let mut first = 0;
        for sheet in &self.sheets {
            let last = first + sheet.copies;
            let n = last.min(to).saturating_sub(first.max(from));
            first = last;
            if n > 0 {
                take_sheets(&mut cut, sheet, n);
                leave(&mut cut, sheet, n, self.keep);
                follow_plan(&mut cut, sheet, n);
            }
        }
        for (row, (made, ruined)) in self.made(from, to).into_iter().zip(self.ruined_open()).enumerate() {
            self.count_pieces(&mut cut, row, made.saturating_sub(ruined));
        }
        for gone in &self.gone {
            take_back(&mut cut.left, gone);
        }
        cut
    }

    /// Pieces of each row that the sheets between two numbers give, without those of panels that were spoiled.
    fn made(&self, from: u32, to: u32) -> Vec<u32> {
        let mut made = vec![0_u32; self.pieces.len()];
        let mut first = 0;
        for sheet in &self.sheets {
            let last = first + sheet.copies;
            let n = last.min(to).saturating_sub(first.max(from));
            first = last;
            for piece in sheet.layout.pieces.iter().filter(|_| n > 0) {
                // What a single sheet lost is left out once all sheets alike are counted.
                let is_lost = |lost: &&Lost| last <= to && lost.holds(&piece.panel);
                let lost = sheet.lost.iter().filter(is_lost).count() as u32;
                if let Some(row) = made.get_mut(piece.piece) {
                    *row += n.saturating_sub(lost);
                }
            }
        }
        made
    }

    /// Finished pieces of each row that were spoiled and are still counted as good.
    fn ruined_open(&self) -> Vec<u32> {
        let of = |all: &[u32], row: usize| all.get(row).copied().unwrap_or(0);
        let open = |row| of(&self.ruined, row).saturating_sub(of(&self.ruined_logged, row));
        (0..self.pieces.len()).map(open).collect()
    }

    /// How many spoiled pieces of each row the log has left out once the sheets between two numbers are logged.
    pub fn ruined_after(&self, from: u32, to: u32) -> Vec<u32> {
        let all = self.made(from, to).into_iter().zip(self.ruined_open()).enumerate();
        let before = |row: usize| self.ruined_logged.get(row).copied().unwrap_or(0);
        all.map(|(row, (made, open))| before(row) + made.min(open)).collect()
    }

    /// Counts good pieces of a row, where the run is a project's.
    fn count_pieces(&self, cut: &mut CutSheets, row: usize, count: u32) {
        let of_project = self.papers.get(row).filter(|_| self.of.is_some() && count > 0);
        if let (Some(paper), Some(piece)) = (of_project, self.pieces.get(row)) {
            cut.add_pieces(*paper, MadePiece { name: piece.name.clone(), size: piece.cut_size(), count });
        }
    }

    /// The leftovers that are still to be left out once the sheets between two numbers are logged.
    pub fn gone_after(&self, from: u32, to: u32) -> Vec<Gone> {
        let whole = Self { gone: Vec::new(), ..self.clone() }.cut(from, to);
        let mut left = whole.left;
        self.gone.iter().filter(|gone| !take_back(&mut left, gone)).cloned().collect()
    }

    /// What comes off in a step and where it goes: finished, to a later step, to the bin, to the waste.
    pub fn goes(&self, spot: RunSpot<'_>, unit: Unit) -> Vec<String> {
        let step = spot.step;
        let of = |(kind, size): (CutPart, Size), n: u32| match kind {
            CutPart::Piece(row) => match self.pieces.get(row) {
                Some(p) => p.made_words(unit).unwrap_or_else(|| format!("{}, finished", p.name)),
                None => "finished".to_owned(),
            },
            CutPart::Panel => {
                let later = spot.sheet.steps.iter().skip(spot.at + 1).position(|s| s.from == size);
                let pile = spot.sheet.pile_words(size);
                later.map_or(format!("lay aside as {pile}"), |k| {
                    format!("lay aside as {pile} (step {})", spot.at + k + 2)
                })
            }
            CutPart::Offcut if leftover::is_kept(size, self.keep) => {
                let grain = spot.sheet.grain.of_part(spot.sheet.size, size);
                let paper = spot.sheet.paper_name.clone();
                KeptLeftover { paper, size: size.upright(), grain, count: n }.words(unit)
            }
            CutPart::Offcut => "waste".to_owned(),
        };
        if let Some(stop) = &step.stop {
            let mut all: Vec<String> = Vec::new();
            for &(kind, size) in &stop.off {
                let n = step.panels;
                let words = format!(
                    "Comes off: {} {}: {}.",
                    count_of(u64::from(n), kind_word(kind)),
                    size.show_with_unit(unit),
                    of((kind, size), n)
                );
                all.push(words);
            }
            if all.is_empty() {
                all.push(step.off_words(unit));
            }
            return all;
        }
        let (part, rest) = (of(step.part, step.panels * step.each), of(step.rest, step.panels));
        let (set, over) = step.profile.set_by.places();
        vec![
            format!("{set}: {}: {part}.", step.part_words(unit)),
            format!("{over}: {}: {rest}.", step.rest_words(unit)),
        ]
    }

    /// True where something was cut or logged already.
    pub fn is_begun(&self) -> bool {
        self.done > 0 || self.strokes() > 0 || self.logged > 0 || self.spoiled > 0 || !self.before.is_empty()
    }

    /// What is left to keep of all its sheets.
    pub fn kept(&self) -> Vec<KeptLeftover> {
        let mut all = Vec::new();
        for sheet in self.sheets.iter().filter(|s| s.paper.is_some() || s.source == PaperSource::Loose) {
            let left = sheet.layout.offcuts.iter().map(|o| (o.size, sheet.grain.of_part(sheet.size, o.size)));
            plan_words::keep(&mut all, &sheet.paper_name, left, sheet.copies, self.keep);
        }
        for gone in &self.gone {
            let is_it = |k: &&mut KeptLeftover| {
                k.paper == gone.paper_name && k.size == gone.size && k.grain == gone.grain && k.count > 0
            };
            if let Some(kept) = all.iter_mut().find(is_it) {
                kept.count -= 1;
            }
        }
        all.retain(|k| k.count > 0);
        all
    }

    /// True where the whole run is in the log.
    pub fn is_logged(&self) -> bool {
        self.logged >= self.sheet_total() && self.before.is_empty()
    }

    /// True where any of its paper is a line in stock.
    pub fn is_from_stock(&self) -> bool {
        !self.before.is_empty()
            || self.sheets.iter().any(|s| matches!(s.source, PaperSource::Shelf(_) | PaperSource::Bin(_)))
    }
}

/// Counts sheets as taken.
pub fn take_sheets(cut: &mut CutSheets, sheet: &BenchSheet, n: u32) {
    if n == 0 {
        return;
    }
    match sheet.source {
        PaperSource::Shelf(item) => bump(&mut cut.sheets, item, n),
        PaperSource::Bin(id) => bump(&mut cut.offcuts, id, n),
        PaperSource::OnBench | PaperSource::Loose => {}
    }
}

/// Counts sheets of the booked plan as cut.
fn follow_plan(cut: &mut CutSheets, sheet: &BenchSheet, n: u32) {
    let from = match sheet.source {
        PaperSource::Shelf(item) => project::Source::Shelf(item),
        PaperSource::Bin(offcut) => project::Source::Bin(offcut),
        PaperSource::OnBench | PaperSource::Loose => return,
    };
    if let Some(at) = sheet.booked_as {
        cut.layouts.push((from, at, n));
    }
}

/// Counts what is worth keeping of cut sheets.
fn leave(cut: &mut CutSheets, sheet: &BenchSheet, n: u32, keep: Size) {
    let Some(item) = sheet.paper else { return };
    for offcut in sheet.layout.offcuts.iter().filter(|o| leftover::is_kept(o.size, keep)) {
        let grain = sheet.grain.of_part(sheet.size, offcut.size);
        leave_one(cut, Left { item, size: offcut.size.upright(), grain, count: n });
    }
}

/// Leaves one leftover out; false where it is not among them.
fn take_back(left: &mut Vec<Left>, gone: &Gone) -> bool {
    let is_it = |l: &Left| Some(l.item) == gone.paper && l.size == gone.size && l.grain == gone.grain;
    let Some(at) = left.iter().position(is_it) else { return false };
    left[at].count -= 1;
    if left[at].count == 0 {
        left.remove(at);
    }
    true
}

/// Counts leftovers of one size.
fn leave_one(cut: &mut CutSheets, left: Left) {
    let same = |l: &&mut Left| l.item == left.item && l.size == left.size && l.grain == left.grain;
    match cut.left.iter_mut().find(same) {
        Some(same) => same.count += left.count,
        None => cut.left.push(left),
    }
}

fn bump<K: PartialEq>(list: &mut Vec<(K, u32)>, key: K, by: u32) {
    match list.iter_mut().find(|(k, _)| *k == key) {
        Some((_, n)) => *n += by,
        None => list.push((key, by)),
    }
}
