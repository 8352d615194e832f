//! From which paper of the run lost pieces are cut again: leftovers that lie here or will lie here cost nothing, another sheet
//! comes last. What is cut again stands in the run behind the sheets that leave its paper, so that what is begun goes on.

use crate::app::state::bench::{BenchRun, BenchSheet, Gone, PaperSource};
use crate::domain::book::Book;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::remains::{OpenPanel, contains};
use crate::domain::cutting::spoiled::{self, Recut, Recuts};
use crate::domain::cutting::tree::Tree;
use crate::domain::size::Size;

/// How many sheets like these are at hand beyond those of the run.
pub fn more(book: &Book, bench: &BenchRun, sheet: &BenchSheet) -> u32 {
    match sheet.source {
        PaperSource::Shelf(item) => {
            let mine = bench.sheets.iter().filter(|s| s.source == sheet.source);
            let in_run: u32 = mine.map(|s| s.copies).sum();
            let logged: u32 =
                logged(bench).filter(|(s, _)| s.source == sheet.source).map(|(_, logged)| logged).sum();
            let taken = bench.before.sheets.iter().filter(|t| t.0 == item).map(|t| t.1).sum::<u32>();
            u32::try_from(book.on_hand(item)).unwrap_or(u32::MAX).saturating_sub(in_run - logged + taken)
        }
        PaperSource::Loose => LOOSE,
        PaperSource::Bin(_) | PaperSource::OnBench => 0,
    }
}

/// Sheets of a paper that is no line in stock: as many as anybody needs.
const LOOSE: u32 = 1_000;

/// Each layout with the number of its sheets that are logged.
fn logged(bench: &BenchRun) -> impl Iterator<Item = (&BenchSheet, u32)> {
    let mut left = bench.logged;
    bench.sheets.iter().map(move |sheet| {
        let logged = left.min(sheet.copies);
        left -= logged;
        (sheet, logged)
    })
}

/// A leftover of a layout that is counted no more.
pub fn gone(sheet: &BenchSheet, size: Size) -> Gone {
    let grain = sheet.grain.of_part(sheet.size, size);
    Gone { paper_name: sheet.paper_name.clone(), paper: sheet.paper, size: size.upright(), grain }
}

/// When paper is at hand: it lies here, it comes from the sheet in hand, from a later one, or it is another sheet.
const HERE: u8 = 0;
const IN_HAND: u8 = 1;
const LATER: u8 = 2;
const ANOTHER: u8 = 3;

/// Paper that lost pieces can be cut from.
pub struct Papers {
    /// What is to be made again, and what it can be made from.
    job: Job,
    stage: Vec<u8>,
    /// For each row of sheets the layout of the run that it comes from.
    from: Vec<usize>,
}

impl Papers {
    /// What there is for so many of each row's pieces, with the sheet in hand at `index`.
    pub fn of(book: &Book, run: &BenchRun, index: usize, again: &[u32], trimmer: Trimmer) -> Self {
        let wanted = |(n, p): (&u32, &JobPiece)| JobPiece { count: *n, sheet: None, ..p.clone() };
        let pieces = again.iter().zip(&run.pieces).map(wanted).collect();
        let preference = Preference::default();
        let job = Job { pieces, sheets: Vec::new(), trimmer, preference, keep: run.keep };
        let mut papers = Self { job, stage: Vec::new(), from: Vec::new() };
        let states: Vec<_> = run.progress().map(|(sheet, steps)| sheet.state(steps)).collect();
        for (at, ((sheet, logged), state)) in logged(run).zip(&states).enumerate() {
            let open = sheet.copies - logged;
            for offcut in &sheet.layout.offcuts {
                let stage = match at.cmp(&index) {
                    _ if state.offcuts.contains(offcut) => HERE,
                    std::cmp::Ordering::Greater => LATER,
                    _ => IN_HAND,
                };
                papers.add((at, sheet), offcut.size, open, stage);
            }
        }
        for gone in &run.gone {
            papers.leave_out(run, gone);
        }
        let mut seen: Vec<(PaperSource, Size)> = Vec::new();
        for (at, sheet) in run.sheets.iter().enumerate() {
            let kind = (sheet.source, sheet.size);
            if !seen.contains(&kind) {
                seen.push(kind);
                papers.add((at, sheet), sheet.size, more(book, run, sheet), ANOTHER);
            }
        }
        papers
    }

    fn add(&mut self, (at, sheet): (usize, &BenchSheet), size: Size, n: u32, stage: u8) {
        if n == 0 {
            return;
        }
        let rows = self.job.sheets.iter_mut().zip(&self.from).zip(&self.stage);
        let same = |((row, from), s): &((&mut JobSheet, &usize), &u8)| {
            **from == at && **s == stage && row.size == size
        };
        let mut rows = rows.filter(same);
        if let Some(((row, _), _)) = rows.next() {
            row.available = row.available.map(|a| a + n);
            return;
        }
        self.job.sheets.push(JobSheet {
            name: sheet.name.clone(),
            paper: Some(sheet.paper_name.clone()),
            size,
            grain: sheet.grain.of_part(sheet.size, size),
            available: Some(n),
            cost: if stage == ANOTHER { Cost::ONE } else { Cost::FREE },
        });
        self.from.push(at);
        self.stage.push(stage);
    }

    fn leave_out(&mut self, run: &BenchRun, out: &Gone) {
        let rows = self.job.sheets.iter_mut().zip(&self.from).zip(&self.stage);
        for ((row, from), stage) in rows {
            let is_it =
                *stage != ANOTHER && run.sheets.get(*from).map(|s| gone(s, row.size)).as_ref() == Some(out);
            if is_it && row.available.is_some_and(|n| n > 0) {
                row.available = row.available.map(|n| n - 1);
                return;
            }
        }
    }

    /// The same without other sheets.
    pub fn free(&self) -> Job {
        let mut job = self.job.clone();
        for (row, _) in job.sheets.iter_mut().zip(&self.stage).filter(|(_, stage)| **stage == ANOTHER) {
            row.available = Some(0);
        }
        job
    }

    /// Where the pieces of a job over these papers come from.
    pub fn recuts(&self, job: &Job) -> Recuts {
        spoiled::recuts(job, &self.stage)
    }

    /// True for a leftover.
    pub fn is_free(&self, recut: &Recut) -> bool {
        self.job.sheets.get(recut.sheet).is_some_and(|row| row.cost == Cost::FREE)
    }

    /// All of it from leftovers and other sheets; a lost panel is cut again as it was, where a sheet has room for it.
    pub fn with_sheets(&self, whole: Option<Recut>) -> Recuts {
        match whole {
            Some(recut) => Recuts { cut: vec![recut], missing: Vec::new() },
            None => self.recuts(&self.job),
        }
    }

    /// The lost panel once more with all that was to come from it, from another sheet.
    pub fn panel_again(&self, bench: &BenchRun, index: usize, panel: &OpenPanel) -> Option<Recut> {
        let sheet = bench.sheets.get(index)?;
        if panel.stop_cuts > 0 || panel.pieces.len() < 2 {
            return None;
        }
        let tree = part_of(&sheet.tree, sheet.size, panel)?;
        let is_another = |row: &usize| self.stage[*row] == ANOTHER;
        let like = (0..self.stage.len())
            .find(|row| is_another(row) && self.job.sheets[*row].paper.as_ref() == Some(&sheet.paper_name))?;
        let mut job = self.job.clone();
        for row in (0..self.stage.len()).filter(|row| !is_another(row)) {
            job.sheets[row].available = Some(0);
        }
        let again = spoiled::panel_again(&job, like, panel.panel.size, &tree)?;
        // A piece by itself needs two steps at most: a panel with much to trim is not worth more than that.
        let steps = self.job.sheets[again.sheet].cut_list(&again.tree, &self.job.trimmer, 1).steps;
        (steps.len() <= 2 * panel.pieces.len()).then_some(again)
    }

    /// Puts what is cut again into the run, each after the sheets that leave its paper, behind what is begun.
    pub fn put(&self, run: &mut BenchRun, index: usize, recuts: &Recuts, trimmer: &Trimmer) {
        let mut new: Vec<(usize, BenchSheet)> = Vec::new();
        let first = run.sheets.get(index).map_or(0, |_| index + 1).max(behind_logged(run));
        for Recut { sheet: row, tree } in &recuts.cut {
            let (from, stage) = (self.from[*row], self.stage[*row]);
            let of = &run.sheets[from];
            let size = self.job.sheets[*row].size;
            let at = match stage {
                HERE | IN_HAND => first,
                LATER => first.max(from + 1),
                _ => {
                    let last = run.sheets.iter().rposition(|s| s.paper_name == of.paper_name);
                    first.max(last.map_or(0, |at| at + 1))
                }
            };
            if stage != ANOTHER {
                run.gone.push(gone(of, size));
            }
            let same = |(place, s): &&mut (usize, BenchSheet)| {
                *place == at
                    && s.size == size
                    && s.tree == *tree
                    && (s.source == PaperSource::OnBench) == (stage != ANOTHER)
            };
            match new.iter_mut().find(same) {
                Some((_, sheet)) => sheet.copies += 1,
                None => new.push((at, self.bench_sheet(*row, of, tree))),
            }
        }
        for (_, sheet) in &mut new {
            let list = sheet.source.cut_list(sheet.size, &sheet.tree, trimmer, sheet.copies);
            (sheet.layout, sheet.steps) = (list.layout, list.steps);
        }
        new.sort_by_key(|(at, _)| *at);
        for (at, sheet) in new.into_iter().rev() {
            run.sheets.insert(at, sheet);
        }
    }

    fn bench_sheet(&self, row: usize, of: &BenchSheet, tree: &Tree) -> BenchSheet {
        let (paper, is_another) = (&self.job.sheets[row], self.stage[row] == ANOTHER);
        let name = &of.name;
        let on_bench = if name.ends_with(ON_BENCH) { name.clone() } else { format!("{name}{ON_BENCH}") };
        BenchSheet {
            name: if is_another { name.clone() } else { on_bench },
            source: if is_another { of.source } else { PaperSource::OnBench },
            size: paper.size,
            grain: paper.grain,
            tree: tree.clone(),
            steps: Vec::new(),
            copies: 1,
            lost: Vec::new(),
            booked_as: None,
            ..of.clone()
        }
    }
}

/// The first place behind all sheets that are logged.
fn behind_logged(run: &BenchRun) -> usize {
    logged(run).filter(|(_, logged)| *logged > 0).count()
}

/// Stands behind the name of paper that was begun.
const ON_BENCH: &str = ", on the bench";

/// The part of a tree that a panel of its sheet was to be cut by.
fn part_of(tree: &Tree, sheet: Size, panel: &OpenPanel) -> Option<Tree> {
    let (mut tree, mut at) = (tree, Panel::whole(sheet));
    while at != panel.panel {
        let Tree::Split { line, at: distance, first, second } = tree else { return None };
        let (a, b) = at.parts(*line, *distance);
        (tree, at) = if contains(&a, &panel.panel) { (first, a) } else { (second, b) };
    }
    Some(tree.clone())
}
