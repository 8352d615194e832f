//! Something was spoiled: the rest is planned again from the panels that really lie on the bench.
//!
//! The pieces still wanted are those to come and those that were lost, less what the spares cover. They are cut from the
//! panels and offcuts at hand first, which cost nothing, then from the sheets that were to be cut anyway, then from more.

use super::run::{self, BenchRun, BenchSheet, Source};
use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::model::Model;
use crate::app::overlay::{Overlay, PickRow, Target};
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::planner::Progress;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::remains::{self, Remains};
use crate::domain::cutting::steps::cut_list;
use crate::domain::planning::{CutSheets, Left};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

/// Seconds that the new plan is improved for: the person stands at the trimmer.
const SECONDS: f64 = 0.5;

/// What was spoiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spoiled {
    /// One panel of this size, before it was cut.
    Panel(Size),
    /// One finished piece of this row.
    Piece(usize),
}

/// A new plan that is being worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Replan {
    /// Number of the request.
    pub number: u64,
    job: Job,
    from: Vec<(Source, Option<ItemId>)>,
    next: BenchRun,
    words: String,
    /// How far the planner has come, and the thousandths of its time that are gone.
    pub progress: Option<(Progress, u16)>,
}

/// Asks which: a panel that this step takes, or a piece that is finished.
pub fn open(model: &mut Model) {
    let Some(bench) = &model.bench else { return };
    let unit = model.screen.unit;
    let mut rows = Vec::new();
    let mut row = |label: String, detail: &str, what: Spoiled| {
        rows.push(PickRow { label, detail: detail.to_owned(), target: Target::Spoil(what), is_live: true });
    };
    if let Some(spot) = bench.spot() {
        let word = if spot.step.whole_sheet { "one sheet" } else { "one panel" };
        row(
            format!("{word} {}", spot.step.from.about(unit)),
            "that this step takes",
            Spoiled::Panel(spot.step.from),
        );
    }
    for piece in made(bench) {
        if let Some(p) = bench.pieces.get(piece) {
            row(
                format!("one {} {}", p.name, p.finished.about(unit)),
                "that is finished",
                Spoiled::Piece(piece),
            );
        }
    }
    if rows.is_empty() {
        model.tell(Status::note("Nothing lies on the bench that could be spoiled."));
        return;
    }
    model.overlays.push(Overlay::Picker(finder::picker("What was spoiled? Esc: nothing", rows)));
}

/// Rows of pieces of which at least one is finished, by now.
fn made(bench: &BenchRun) -> Vec<usize> {
    let before = bench.finished.iter().enumerate().filter(|(_, n)| **n > 0).map(|(row, _)| row);
    let mut all: Vec<usize> = states(bench).flat_map(|(_, r)| r.made).chain(before).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Each layout with what has become of one of its sheets.
fn states(bench: &BenchRun) -> impl Iterator<Item = (&BenchSheet, Remains)> {
    let mut left = bench.done;
    bench.sheets.iter().map(move |s| {
        let steps = left.min(s.steps.len());
        left -= steps;
        let cuts = steps.checked_sub(1).and_then(|n| s.steps.get(n)).map_or(0, |step| step.cuts.end);
        (s, remains::after(s.size, &s.layout, cuts))
    })
}

/// Starts planning the rest anew.
pub fn spoiled(model: &mut Model, what: Spoiled) -> Vec<Effect> {
    let Some(bench) = &model.bench else { return Vec::new() };
    let number = model.asked + 1;
    let trimmer = Trimmer { stop_cuts: model.yields.stop_cuts, ..model.yields.trimmer };
    let replan = prepare(&model.book, bench, what, trimmer, number);
    let job = replan.job.clone();
    model.asked = number;
    if job.piece_total() == 0 {
        let Replan { job, from, mut next, words, .. } = replan;
        put_by(&mut next, &job, &from, &[]);
        model.bench = Some(next);
        model.tell(Status::done(words));
        return vec![Effect::Remember];
    }
    model.replan = Some(replan);
    model.tell(Status::note("Planning the rest again from what lies on the bench."));
    vec![Effect::StopPlan, Effect::Plan { number, job: Box::new(job), seconds: SECONDS }]
}

/// The job that is left, and the run that waits for its plan.
fn prepare(book: &Book, bench: &BenchRun, what: Spoiled, trimmer: Trimmer, number: u64) -> Replan {
    let mut rest = Rest::of(bench, what);
    let lost = lost(bench, what);
    let mut spares = bench.spares.clone();
    spares.resize(bench.pieces.len(), 0);
    let mut covered = 0;
    for (row, n) in lost.iter().enumerate() {
        let by_spares = spares.get(row).map_or(0, |s| *n.min(s));
        if let (Some(spare), Some(wanted)) = (spares.get_mut(row), rest.wanted.get_mut(row)) {
            *spare -= by_spares;
            *wanted = wanted.saturating_sub(by_spares);
        }
        covered += by_spares;
    }
    more_sheets(book, bench, &mut rest.stock);
    let mut words = told(bench, &lost, covered, &spares);
    if rest.is_begun {
        words.push_str(" First make the last stop cut through to the edge.");
    }
    let with = |n: &u32, p: &JobPiece| JobPiece { count: *n, sheet: None, ..p.clone() };
    let pieces: Vec<JobPiece> = rest.wanted.iter().zip(&bench.pieces).map(|(n, p)| with(n, p)).collect();
    let next = BenchRun {
        sheets: Vec::new(),
        done: 0,
        logged: 0,
        pieces: pieces.clone(),
        before: rest.before,
        finished: rest.finished,
        spares,
        spoiled: bench.spoiled + lost.iter().sum::<u32>(),
        ..bench.clone()
    };
    let trimmer = Trimmer { sheets_per_stroke: bench.per_stroke.max(1), ..trimmer };
    let (from, sheets) = rest.stock.into_iter().unzip();
    let job = Job { pieces, sheets, trimmer, preference: Preference::default(), keep: bench.keep };
    Replan { number, job, from, next, words, progress: None }
}

/// What there is to cut from, and what is still wanted, before any spare is counted.
struct Rest {
    wanted: Vec<u32>,
    finished: Vec<u32>,
    stock: Vec<Row>,
    before: CutSheets,
    /// A panel has stop cuts, and has not come apart.
    is_begun: bool,
}

impl Rest {
    fn of(bench: &BenchRun, what: Spoiled) -> Self {
        let mut finished = bench.finished.clone();
        finished.resize(bench.pieces.len(), 0);
        let wanted = vec![0; bench.pieces.len()];
        let mut rest =
            Self { wanted, finished, stock: Vec::new(), before: bench.before.clone(), is_begun: false };
        let (mut first, mut spoiled) = (0, None);
        if let Spoiled::Panel(size) = what {
            spoiled = Some(size);
        }
        for (sheet, state) in states(bench) {
            bump(&mut rest.wanted, &state.to_come().collect::<Vec<_>>(), sheet.copies);
            bump(&mut rest.finished, &state.made, sheet.copies);
            let logged = bench.logged.saturating_sub(first);
            first += sheet.copies;
            rest.sheet(sheet, &state, logged, &mut spoiled);
        }
        if let Spoiled::Piece(row) = what {
            bump(&mut rest.wanted, &[row], 1);
            if let Some(n) = rest.finished.get_mut(row) {
                *n = n.saturating_sub(1);
            }
        }
        rest
    }

    /// The paper of one layout: panels on the bench where it was begun, else its sheets. The first panel of the spoiled
    /// size is left out.
    fn sheet(&mut self, sheet: &BenchSheet, state: &Remains, logged: u32, spoiled: &mut Option<Size>) {
        let is_whole =
            matches!(state.panels.as_slice(), [only] if only.size == sheet.size && !only.is_begun());
        if is_whole {
            let lost = u32::from(*spoiled == Some(sheet.size));
            if lost > 0 {
                *spoiled = None;
            }
            run::take(&mut self.before, sheet, lost.saturating_sub(logged));
            let from = (sheet.source, sheet.paper);
            add(&mut self.stock, from, sheet, sheet.name.clone(), sheet.size, sheet.copies - lost, Cost::ONE);
            return;
        }
        run::take(&mut self.before, sheet, sheet.copies.saturating_sub(logged));
        for panel in &state.panels {
            let lost = u32::from(*spoiled == Some(panel.size));
            if lost > 0 {
                *spoiled = None;
            }
            self.is_begun |= panel.is_begun() && sheet.copies > lost;
            for size in &panel.gives {
                self.on_bench(sheet, *size, sheet.copies - lost);
            }
        }
        for size in &state.offcuts {
            self.on_bench(sheet, *size, sheet.copies);
        }
    }

    /// Paper of a begun sheet: it costs nothing.
    fn on_bench(&mut self, sheet: &BenchSheet, size: Size, count: u32) {
        let name = &sheet.name;
        let name = if name.ends_with(ON_BENCH) { name.clone() } else { format!("{name}{ON_BENCH}") };
        add(&mut self.stock, (Source::OnBench, sheet.paper), sheet, name, size, count, Cost::FREE);
    }
}

/// Stands behind the name of paper that was begun.
const ON_BENCH: &str = ", on the bench";

fn bump(counts: &mut [u32], rows: &[usize], by: u32) {
    for row in rows {
        if let Some(n) = counts.get_mut(*row) {
            *n += by;
        }
    }
}

/// Pieces of each row that are lost.
fn lost(bench: &BenchRun, what: Spoiled) -> Vec<u32> {
    let mut lost = vec![0; bench.pieces.len()];
    match what {
        Spoiled::Piece(row) => bump(&mut lost, &[row], 1),
        Spoiled::Panel(size) => {
            let index = bench.spot().map_or(0, |s| s.index);
            let state = states(bench).nth(index).map(|(_, r)| r).unwrap_or_default();
            if let Some(panel) = state.panels.iter().find(|p| p.size == size) {
                bump(&mut lost, &panel.pieces, 1);
            }
        }
    }
    lost
}

/// Whether the spares cover what was lost, in words.
fn told(bench: &BenchRun, lost: &[u32], covered: u32, spares: &[u32]) -> String {
    let names = lost.iter().zip(&bench.pieces).filter(|(n, _)| **n > 0);
    let names: Vec<String> = names.map(|(n, p)| format!("{n} x {}", p.name)).collect();
    let all: u32 = lost.iter().sum();
    let left: u32 = lost.iter().zip(spares).filter(|(n, _)| **n > 0).map(|(_, s)| *s).sum();
    let names = names.join(", ");
    match (all, all - covered) {
        (0, _) => "Nothing was lost that is wanted; the rest was planned anew.".to_owned(),
        (_, 0) => format!("Lost {names}. The spares cover it: {left} left to spare."),
        (_, more) if covered > 0 => {
            format!(
                "Lost {names}. The spares cover {covered}, {more} to make again; the rest was planned anew."
            )
        }
        (_, more) => format!("Lost {names}. No spares: {more} to make again; the rest was planned anew."),
    }
}

type Row = ((Source, Option<ItemId>), JobSheet);

fn add(
    stock: &mut Vec<Row>,
    from: (Source, Option<ItemId>),
    of: &BenchSheet,
    name: String,
    size: Size,
    n: u32,
    cost: Cost,
) {
    let paper = Some(of.paper_name.clone());
    let same =
        stock.iter_mut().find(|(f, s)| *f == from && s.size == size && s.cost == cost && s.paper == paper);
    if let Some((_, sheet)) = same {
        sheet.available = sheet.available.map(|a| a + n);
    } else {
        let grain = of.grain.of_part(of.size, size);
        stock.push((from, JobSheet { name, paper, size, grain, available: Some(n), cost }));
    }
}

/// More of the same paper, should what lies here not be enough.
fn more_sheets(book: &Book, bench: &BenchRun, stock: &mut Vec<Row>) {
    let mut seen: Vec<(Source, Size)> = Vec::new();
    for sheet in &bench.sheets {
        if seen.contains(&(sheet.source, sheet.size)) {
            continue;
        }
        seen.push((sheet.source, sheet.size));
        let more = match sheet.source {
            Source::Shelf(item) => {
                let in_run: u32 =
                    bench.sheets.iter().filter(|s| s.source == sheet.source).map(|s| s.copies).sum();
                u32::try_from(book.on_hand(item))
                    .unwrap_or(u32::MAX)
                    .saturating_sub(in_run.saturating_sub(bench.logged))
            }
            Source::Loose => 1_000,
            Source::Bin(_) | Source::OnBench => 0,
        };
        if more > 0 {
            let from = (sheet.source, sheet.paper);
            add(stock, from, sheet, sheet.name.clone(), sheet.size, more, Cost::ONE);
        }
    }
}

/// Panels and offcuts on the bench that the new plan leaves alone are leftovers now: they are logged with what was cut.
fn put_by(next: &mut BenchRun, job: &Job, from: &[(Source, Option<ItemId>)], planned: &[PlannedSheet]) {
    for (at, (row, (source, paper))) in job.sheets.iter().zip(from).enumerate() {
        let (Source::OnBench, Some(paper)) = (source, paper) else { continue };
        let used: u32 = planned.iter().filter(|p| p.sheet == at).map(|p| p.copies).sum();
        let left = row.available.unwrap_or(0).saturating_sub(used);
        if left > 0 && next.keep.upright().fits_in(row.size.upright()) {
            let (size, grain) = (row.size.upright(), row.grain);
            run::leave_one(&mut next.before, Left { item: *paper, size, grain, count: left });
        }
    }
}

/// The plan of the rest has come.
pub fn planned(model: &mut Model, done: Result<Plan, String>) -> Vec<Effect> {
    let Some(Replan { job, from, mut next, words, .. }) = model.replan.take() else { return Vec::new() };
    let plan = match done {
        Ok(plan) => plan,
        Err(why) => {
            model.tell(Status::refused(why));
            return Vec::new();
        }
    };
    let plan = plan.to_cut();
    for planned in &plan.sheets {
        let (Some(row), Some((source, paper))) = (job.sheets.get(planned.sheet), from.get(planned.sheet))
        else {
            continue;
        };
        let list = cut_list(row.size, &planned.tree, &job.trimmer, planned.copies);
        next.sheets.push(BenchSheet {
            name: row.name.clone(),
            grain: row.grain,
            paper_name: row.paper.clone().unwrap_or_else(|| row.name.clone()),
            source: *source,
            paper: *paper,
            size: row.size,
            layout: list.layout,
            tree: planned.tree.clone(),
            steps: list.steps,
            copies: planned.copies,
        });
    }
    put_by(&mut next, &job, &from, &plan.sheets);
    let short: Vec<String> = plan.unplaced.iter().map(|u| u.sentence(&job, model.screen.unit)).collect();
    model.bench = Some(next);
    model.tell(if short.is_empty() { Status::done(words) } else { Status::refused(short.join("; ")) });
    vec![Effect::Remember]
}
