//! The paper that lies here is not what the run took: its sheets measure another size, or are fewer. What is begun goes on;
//! what was to be cut from the others of its kind is planned anew on the paper as it is, the pieces to spare last.

use super::loss::{cancelled, count_lost_again};
use super::recut::more;
use crate::app::ctx::Ctx;
use crate::app::effect::Effect;
use crate::app::overlay::Purpose;
use crate::app::reply::{Replies, Reply};
use crate::app::state::bench::{BenchRun, BenchSheet};
use crate::app::state::yields::{YieldPane, YieldText};
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::planner::{InTurn, Solver};
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::length::Unit;
use crate::domain::planning;
use crate::domain::plural::count_of;
use crate::domain::reckon;
use crate::domain::size::Size;

/// Rounds of work behind the new layouts: as many as leave a key unanswered for no longer than an eye notices.
const WORK: u32 = 2;

/// The paper as the person finds it; what is not said is as the run took it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PaperHere {
    /// What its sheets measure.
    pub size: Option<Size>,
    /// How many sheets that are not begun are there.
    pub count: Option<u32>,
}

impl PaperHere {
    /// Reads `8 7/16 x 11`, `3` or `3, 8 7/16 x 11`.
    ///
    /// # Errors
    /// A sentence where it is none of these.
    pub fn read(text: &str, unit: Unit) -> Result<Self, String> {
        let count = |text: &str| text.trim().parse::<u32>().ok();
        let (before, after) = text.split_once(',').map_or((text, None), |(a, b)| (a, Some(b)));
        match (count(before), after) {
            (Some(n), None) => Ok(Self { count: Some(n), size: None }),
            (Some(n), Some(size)) => Ok(Self { count: Some(n), size: Some(reckon::size(size, unit)?) }),
            (None, _) => Ok(Self { count: None, size: Some(reckon::size(text, unit)?) }),
        }
    }

    /// `3 sheets, 8 7/16 x 11 in`.
    pub fn words(self, unit: Unit) -> String {
        let count = self.count.map(|n| count_of(n.into(), "sheet"));
        let size = self.size.map(|size| size.show_with_unit(unit));
        count.into_iter().chain(size).collect::<Vec<_>>().join(", ")
    }
}

/// Asks what the sheets in hand measure and how many there are.
pub fn ask(run: &BenchRun, unit: Unit) -> Reply {
    let Some(spot) = run.spot() else { return Reply::Tell(Status::note("All is cut.")) };
    let name = &spot.sheet.name;
    let label = format!("{name} as it lies here (8 7/16 x 11; 3 for how many; 3, 8 7/16 x 11):");
    Reply::prompt(Purpose::Yield(YieldText::PaperHere), label, spot.sheet.size.exact(unit))
}

/// Plans the rest with what was typed.
///
/// # Errors
/// A sentence where it says nothing, or nothing can be planned with it.
pub fn accept(pane: &mut YieldPane, ctx: &Ctx, text: &str) -> Replies {
    let Some(run) = &pane.run else { return Ok(Vec::new()) };
    let here = PaperHere::read(text, ctx.unit)?;
    let (run, told) = planned_anew(ctx.book, run, here, pane.trimmer)?;
    pane.run = Some(run);
    let words = told.words(here, ctx.unit);
    let status = if told.missing.is_empty() { Status::done(words) } else { Status::refused(words) };
    Ok(vec![Reply::Tell(status), Reply::Do(Effect::Remember)])
}

/// What became of the run.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RunOutcome {
    /// Sheets that were to be cut, and that are now.
    pub sheets: (u32, u32),
    /// Steps that the run has more, or fewer.
    pub more_steps: i64,
    /// Names of pieces that there is no paper for, with numbers.
    pub missing: Vec<(String, u32)>,
}

impl RunOutcome {
    fn words(&self, here: PaperHere, unit: Unit) -> String {
        let (was, now) = self.sheets;
        let steps = match self.more_steps {
            0 => String::new(),
            n if n > 0 => format!(", {} more", count_of(n.unsigned_abs(), "step")),
            n => format!(", {} fewer", count_of(n.unsigned_abs(), "step")),
        };
        let planned = format!(
            "{}: cut from {} instead of {was}{steps}.",
            here.words(unit),
            count_of(now.into(), "sheet")
        );
        if self.missing.is_empty() {
            return planned;
        }
        let missing: Vec<String> = self.missing.iter().map(|(name, n)| format!("{n} x {name}")).collect();
        format!("{planned} No paper for {}.", missing.join(", "))
    }
}

/// The run with all that is not begun of the paper in hand planned anew.
///
/// # Errors
/// A sentence where nothing of it is open, or nothing fits on what is there.
pub fn planned_anew(
    book: &Book,
    bench: &BenchRun,
    here: PaperHere,
    trimmer: Trimmer,
) -> Result<(BenchRun, RunOutcome), String> {
    let trimmer = Trimmer { sheets_per_stroke: bench.per_stroke.max(1), stop_cuts: false, ..trimmer };
    let spot = bench.spot().ok_or("all is cut")?;
    let of = spot.sheet.clone();
    let is_begun = spot.at > 0 || bench.strokes() > 0;
    let first = spot.index + usize::from(is_begun);
    let is_open = |(at, s): &(usize, &BenchSheet)| *at >= first && s.source == of.source && s.size == of.size;
    let open: Vec<usize> = bench.sheets.iter().enumerate().filter(is_open).map(|(at, _)| at).collect();
    if open.is_empty() {
        return Err(format!(
            "nothing else is cut from {}: what is begun goes on, <bench-spoiled> makes a lost piece again",
            of.name
        ));
    }
    let was: u32 = open.iter().map(|at| bench.sheets[*at].copies).sum();
    let there = here.count.unwrap_or_else(|| was.saturating_add(more(book, bench, &of)));
    let mut run = bench.clone();
    let wanted = take_out(&mut run, &open, first, &trimmer);
    let row = JobSheet {
        name: of.name.clone(),
        paper: Some(of.paper_name.clone()),
        size: here.size.unwrap_or(of.size),
        grain: of.grain,
        available: Some(there),
        cost: Cost::ONE,
    };
    let (plan, missing) = plan(&mut run, &wanted, &row, trimmer);
    if plan.sheets.is_empty() {
        return Err(format!("nothing that is still to be cut from {} fits on what lies here", of.name));
    }
    let now = plan.sheets.iter().map(|s| s.copies).sum();
    let new = plan.sheets.into_iter().map(|s| {
        let list = of.source.cut_list(row.size, &s.tree, &trimmer, s.copies);
        let (layout, steps) = (list.layout, list.steps);
        let (copies, tree) = (s.copies, s.tree);
        BenchSheet {
            size: row.size,
            layout,
            steps,
            tree,
            copies,
            lost: Vec::new(),
            booked_as: None,
            ..of.clone()
        }
    });
    run.sheets.splice(first..first, new);
    let missing = missing.iter().zip(&run.pieces).filter(|(n, _)| **n > 0);
    let missing = missing.map(|(n, piece)| (piece.called(), *n)).collect();
    let more_steps = run.len() as i64 - bench.len() as i64;
    Ok((run, RunOutcome { sheets: (was, now), more_steps, missing }))
}

/// Takes layouts out of the run, with what was to be cut again from their leftovers; returns what they were to make.
fn take_out(run: &mut BenchRun, open: &[usize], first: usize, trimmer: &Trimmer) -> Vec<u32> {
    let mut wanted = vec![0_u32; run.pieces.len()];
    for at in open.iter().rev() {
        let sheet = run.sheets.remove(*at);
        for piece in &sheet.layout.pieces {
            let lost = sheet.lost.iter().filter(|l| l.holds(&piece.panel)).count() as u32;
            if let Some(n) = wanted.get_mut(piece.piece) {
                *n += sheet.copies.saturating_sub(lost);
            }
        }
        count_lost_again(run, &sheet);
        if *at < run.proof {
            run.proof = 0;
        }
    }
    for row in cancelled(run, first.saturating_sub(1), trimmer) {
        if let Some(n) = wanted.get_mut(row) {
            *n += 1;
        }
    }
    wanted
}

/// The new layouts, and the pieces of each row that find no paper. Where it does not reach for all, the spares go first.
fn plan(run: &mut BenchRun, wanted: &[u32], row: &JobSheet, trimmer: Trimmer) -> (Plan, Vec<u32>) {
    run.spares.resize(run.pieces.len(), 0);
    let whole = solved(run, wanted, row, trimmer);
    if whole.unplaced.is_empty() {
        return (whole, vec![0; wanted.len()]);
    }
    let spares: Vec<u32> = wanted.iter().zip(&run.spares).map(|(n, spare)| (*n).min(*spare)).collect();
    let bare: Vec<u32> = wanted.iter().zip(&spares).map(|(n, spare)| n - spare).collect();
    let plan = solved(run, &bare, row, trimmer);
    run.spares.iter_mut().zip(&spares).for_each(|(left, gone)| *left -= gone);
    let mut missing = vec![0; wanted.len()];
    for unplaced in &plan.unplaced {
        missing[unplaced.piece] += unplaced.count;
    }
    (plan, missing)
}

fn solved(run: &BenchRun, counts: &[u32], row: &JobSheet, trimmer: Trimmer) -> Plan {
    let piece = |(count, p): (&u32, &JobPiece)| JobPiece { count: *count, sheet: None, ..p.clone() };
    let pieces = counts.iter().zip(&run.pieces).map(piece).collect();
    let preference = Preference::default();
    let job = Job { pieces, sheets: vec![row.clone()], trimmer, preference, keep: run.keep };
    let mut solver = Solver::new(job, planning::SEED);
    solver.rounds(WORK);
    solver.finish(&mut InTurn);
    solver.plan()
}
