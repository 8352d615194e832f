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
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::planner::Progress;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::remains::{self, Remains};
use crate::domain::cutting::steps::cut_list;
use crate::domain::size::{Grain, Size};
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
    let mut all: Vec<usize> = states(bench).flat_map(|(_, r)| r.made).collect();
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
    let replan = prepare(&model.book, bench, what, model.yields.trimmer, number);
    let job = replan.job.clone();
    model.asked = number;
    if job.pieces.is_empty() {
        let words = replan.words.clone();
        model.bench = Some(replan.next);
        model.tell(Status::done(words));
        return vec![Effect::Remember];
    }
    model.replan = Some(replan);
    model.tell(Status::note("Planning the rest again from what lies on the bench."));
    vec![Effect::StopPlan, Effect::Plan { number, job: Box::new(job), seconds: SECONDS }]
}

/// The job that is left, and the run that waits for its plan.
fn prepare(book: &Book, bench: &BenchRun, what: Spoiled, trimmer: Trimmer, number: u64) -> Replan {
    let mut next = BenchRun { sheets: Vec::new(), done: 0, logged: 0, ..bench.clone() };
    let mut wanted = vec![0_u32; bench.pieces.len()];
    let mut stock = Vec::new();
    let logged_before = bench.logged;
    let mut first = 0;
    let mut lost_panel = matches!(what, Spoiled::Panel(_));
    for (sheet, state) in states(bench) {
        let is_whole = matches!(state.panels.as_slice(), [only] if only.size == sheet.size);
        let is_begun = !is_whole;
        for piece in state.to_come() {
            wanted[piece] += sheet.copies;
        }
        let sizes: Vec<Size> = state.panels.iter().map(|p| p.size).collect();
        let here = matches!(what, Spoiled::Panel(size) if lost_panel && sizes.contains(&size));
        // Taken from the shelf: begun, or the sheet itself is what was spoiled.
        let taken = if is_begun { sheet.copies } else { u32::from(here) };
        let unlogged = taken.saturating_sub(logged_before.saturating_sub(first).min(taken));
        first += sheet.copies;
        run::take(&mut next.before, sheet, unlogged);
        if is_begun {
            for size in sizes.iter().chain(&state.offcuts) {
                let lost = u32::from(here && matches!(what, Spoiled::Panel(s) if s == *size) && lost_panel);
                lost_panel &= lost == 0;
                add(
                    &mut stock,
                    (Source::OnBench, sheet.paper),
                    format!("{}, on the bench", sheet.name),
                    *size,
                    sheet.copies - lost,
                    Cost::FREE,
                );
            }
        } else {
            lost_panel &= !here;
            add(
                &mut stock,
                (sheet.source, sheet.paper),
                sheet.name.clone(),
                sheet.size,
                sheet.copies - u32::from(here),
                Cost::ONE,
            );
        }
    }
    let lost: u32 = match what {
        Spoiled::Piece(row) => {
            if let Some(n) = wanted.get_mut(row) {
                *n += 1;
            }
            1
        }
        Spoiled::Panel(size) => lost_pieces(bench, size),
    };
    next.spoiled += lost;
    let covered = lost.min(next.spares);
    next.spares -= covered;
    if let Some(n) = wanted.first_mut().filter(|_| bench.pieces.len() == 1) {
        *n = n.saturating_sub(covered);
    }
    more_sheets(book, bench, &mut stock);
    let words = if covered == lost {
        format!("The spares cover it: {} left to spare.", next.spares)
    } else {
        format!("{} to make again; the rest was planned anew.", lost - covered)
    };
    let pieces: Vec<JobPiece> = bench
        .pieces
        .iter()
        .zip(&wanted)
        .map(|(p, n)| JobPiece { count: *n, sheet: None, ..p.clone() })
        .filter(|p| p.count > 0)
        .collect();
    next.pieces.clone_from(&pieces);
    let (from, sheets) = stock.into_iter().unzip();
    let job = Job { pieces, sheets, trimmer, preference: Preference::default(), keep: bench.keep };
    Replan { number, job, from, next, words, progress: None }
}

type Row = ((Source, Option<ItemId>), JobSheet);

fn add(stock: &mut Vec<Row>, from: (Source, Option<ItemId>), name: String, size: Size, n: u32, cost: Cost) {
    let same = stock.iter_mut().find(|(f, s)| *f == from && s.size == size && s.cost == cost);
    match same {
        Some((_, sheet)) => sheet.available = sheet.available.map(|a| a + n),
        None => stock.push((
            from,
            JobSheet { name, paper: None, size, grain: Grain::Unknown, available: Some(n), cost },
        )),
    }
}

/// Pieces that would have come from one panel of this size, of the layout in hand.
fn lost_pieces(bench: &BenchRun, size: Size) -> u32 {
    let index = bench.spot().map_or(0, |s| s.index);
    let state = states(bench).nth(index).map(|(_, r)| r).unwrap_or_default();
    state.panels.iter().find(|p| p.size == size).map_or(0, |p| p.pieces.len() as u32)
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
            add(stock, (sheet.source, sheet.paper), sheet.name.clone(), sheet.size, more, Cost::ONE);
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
    for planned in &plan.sheets {
        let (Some(row), Some((source, paper))) = (job.sheets.get(planned.sheet), from.get(planned.sheet))
        else {
            continue;
        };
        let list = cut_list(row.size, &planned.tree, &job.trimmer, planned.copies);
        next.sheets.push(BenchSheet {
            name: row.name.clone(),
            source: *source,
            paper: *paper,
            size: row.size,
            layout: list.layout,
            tree: planned.tree.clone(),
            steps: list.steps,
            copies: planned.copies,
        });
    }
    let short: Vec<String> = plan.unplaced.iter().map(|u| u.sentence(&job, model.screen.unit)).collect();
    model.bench = Some(next);
    model.tell(if short.is_empty() { Status::done(words) } else { Status::refused(short.join("; ")) });
    vec![Effect::Remember]
}
