//! Something was spoiled. What was begun goes on and the rest stays as it is; the lost pieces are covered by spares, else cut
//! beside it: from offcuts that lie here or will lie here, which cost nothing, and only then from another sheet. Which
//! paper a piece takes is decided in [`crate::domain::cutting::spoiled`]; here is what it means for the run.

use crate::app::ctx::Ctx;
use crate::app::reply::Reply;
use crate::app::state::cutting::Spoiled;
use crate::app::state::yields::YieldChoice;
use crate::app::state::yields::YieldPane;
use crate::domain::length::Unit;

use super::loss::{cancelled, lose, replaces, the_panel};
use super::recut::Papers;
use crate::app::effect::Effect;
use crate::app::overlay::{PickRow, Target};
use crate::app::state::bench::{BenchRun, BenchSheet};
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cutting::job::JobPiece;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::spoiled::Lost;

/// Offers what can be spoiled: a panel that this step takes, or a piece that is finished.
pub fn offer(run: &BenchRun, unit: Unit) -> Reply {
    let mut rows = Vec::new();
    let mut row = |label: String, detail: &str, what: Spoiled| {
        rows.push(PickRow::new(label, detail, Target::Yield(YieldChoice::Spoiled(what))));
    };
    if let Some(spot) = run.spot() {
        let label = format!("one {} {}", spot.step.takes.word(), spot.step.from.about(unit));
        row(label, "that this step takes", Spoiled::Panel(spot.step.from));
    }
    for piece in made(run) {
        if let Some(p) = run.pieces.get(piece) {
            let detail = format!("{}, finished", p.finished.about(unit));
            row(format!("one {}", p.called()), &detail, Spoiled::Piece(piece));
        }
    }
    if rows.is_empty() {
        return Reply::Tell(Status::note("There is nothing on the bench to spoil."));
    }
    Reply::pick("What was spoiled? Esc if nothing was", rows)
}

/// Rows of pieces of which at least one is finished, by now.
fn made(bench: &BenchRun) -> Vec<usize> {
    let counts = finished(bench);
    (0..counts.len()).filter(|row| counts[*row] > 0).collect()
}

/// How many pieces of each row are finished by now, without those that were spoiled.
pub fn finished(bench: &BenchRun) -> Vec<u32> {
    let mut made = vec![0_u32; bench.pieces.len()];
    let mut not = bench.ruined.clone();
    not.resize(made.len(), 0);
    // Paper that is a piece without a cut is one once what comes before it is done.
    let reached = bench.spot().map_or(bench.sheets.len(), |spot| spot.index + 1);
    for (sheet, steps) in bench.progress().take(reached) {
        for piece in &sheet.state(steps).made {
            bump(&mut made, piece.piece, sheet.copies);
            let is_lost = |lost: &&Lost| lost.holds(&piece.panel);
            bump(&mut not, piece.piece, sheet.lost.iter().filter(is_lost).count() as u32);
        }
    }
    made.iter().zip(not).map(|(made, not)| made.saturating_sub(not)).collect()
}

fn bump(counts: &mut [u32], row: usize, by: u32) {
    if let Some(n) = counts.get_mut(row) {
        *n += by;
    }
}

/// Takes what was spoiled into the run.
pub fn spoiled(pane: &mut YieldPane, ctx: &Ctx, what: Spoiled) -> Vec<Reply> {
    let Some(run) = &pane.run else { return Vec::new() };
    let (run, told) = after(ctx.book, run, what, pane.trimmer);
    pane.run = Some(run);
    let words = told.words();
    let status = if told.missing.is_empty() { Status::done(words) } else { Status::refused(words) };
    vec![Reply::Tell(status), Reply::Do(Effect::Remember)]
}

/// What became of a loss.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LossOutcome {
    /// Names of the lost pieces with numbers.
    pub lost: Vec<(String, u32)>,
    /// How many of them spares cover.
    pub covered: u32,
    /// Spares left of what was lost.
    pub spare: u32,
    /// Pieces that are cut again from offcuts.
    pub free: u32,
    /// Other sheets that are taken.
    pub sheets: u32,
    /// Pieces that were to be cut again from what is lost with the panel.
    pub moved: u32,
    /// Steps that the run has more, or fewer.
    pub more_steps: i64,
    /// Names of pieces that there is no paper for, with numbers.
    pub missing: Vec<(String, u32)>,
}

impl LossOutcome {
    fn words(&self) -> String {
        let all: u32 = self.lost.iter().map(|l| l.1).sum();
        if all == 0 {
            return "Nothing you need was lost; the rest stays as it is.".to_owned();
        }
        let again = all - self.covered + self.moved;
        let lost = format!("Lost {}.", listed(&self.lost));
        let spares = match (self.covered, again) {
            (_, 0) => format!(" The spares cover it: {} left to spare.", self.spare),
            (0, _) => format!(" No spares: {again} to make again"),
            (n, _) => format!(" The spares cover {n}, {again} to make again"),
        };
        if again == 0 {
            return format!("{lost}{spares}");
        }
        if !self.missing.is_empty() {
            return format!("{lost}{spares}, but there is no paper left for {}.", listed(&self.missing));
        }
        let sheet = match self.sheets {
            1 => "another sheet".to_owned(),
            n => format!("{n} other sheets"),
        };
        let from = match (self.free, self.sheets) {
            (_, 0) => "leftovers".to_owned(),
            (0, _) => sheet,
            _ => format!("leftovers and {sheet}"),
        };
        let steps = match self.more_steps {
            1 => ", 1 more step".to_owned(),
            n if n > 1 => format!(", {n} more steps"),
            _ => String::new(),
        };
        format!("{lost}{spares} from {from}{steps}; the rest stays as it is.")
    }
}

fn listed(all: &[(String, u32)]) -> String {
    all.iter().map(|(name, n)| format!("{n} x {name}")).collect::<Vec<_>>().join(", ")
}

/// The run after a loss, and what to say of it.
pub fn after(book: &Book, bench: &BenchRun, what: Spoiled, trimmer: Trimmer) -> (BenchRun, LossOutcome) {
    let trimmer = Trimmer { sheets_per_stroke: bench.per_stroke.max(1), stop_cuts: false, ..trimmer };
    let mut run = bench.clone();
    run.spares.resize(run.pieces.len(), 0);
    run.ruined.resize(run.pieces.len(), 0);
    let index = bench.spot().map_or(bench.sheets.len().saturating_sub(1), |s| s.index);
    let panel = match what {
        Spoiled::Piece(row) => {
            bump(&mut run.ruined, row, 1);
            None
        }
        Spoiled::Panel(size) => the_panel(bench, size),
    };
    let mut lost = vec![0; run.pieces.len()];
    match (&panel, what) {
        (Some(panel), _) => panel.pieces.iter().for_each(|row| bump(&mut lost, *row, 1)),
        (None, Spoiled::Piece(row)) => bump(&mut lost, row, 1),
        (None, Spoiled::Panel(_)) => {}
    }
    let named = |counts: &[u32]| names(&bench.pieces, counts);
    let mut told = LossOutcome { lost: named(&lost), ..LossOutcome::default() };
    run.spoiled += lost.iter().sum::<u32>();
    let mut again = lost.clone();
    for (wanted, spare) in again.iter_mut().zip(&mut run.spares) {
        let by_spares = (*wanted).min(*spare);
        *wanted -= by_spares;
        *spare -= by_spares;
        told.covered += by_spares;
    }
    told.spare = lost.iter().zip(&run.spares).filter(|(n, _)| **n > 0).map(|(_, s)| *s).sum();
    if let Some(panel) = &panel {
        // A sheet that was not cut yet is replaced by the next one of its kind: nothing else changes.
        if told.covered == 0 && replaces(book, bench, index, panel) {
            crate::app::state::bench::take_sheets(
                &mut run.before,
                &BenchSheet { copies: 1, ..bench.sheets[index].clone() },
                1,
            );
            told.sheets = 1;
            return (run, told);
        }
        lose(&mut run, index, panel, &trimmer);
        for row in cancelled(&mut run, index, &trimmer) {
            bump(&mut again, row, 1);
            told.moved += 1;
        }
    }
    let papers = Papers::of(book, &run, index, &again, trimmer);
    let mut recuts = papers.recuts(&papers.free());
    if !recuts.missing.is_empty() {
        let whole = panel.as_ref().filter(|_| told.covered + told.moved == 0);
        recuts = papers.with_sheets(whole.and_then(|p| papers.panel_again(bench, index, p)));
    }
    let mut missing = vec![0; run.pieces.len()];
    recuts.missing.iter().for_each(|row| bump(&mut missing, *row, 1));
    told.missing = named(&missing);
    for recut in &recuts.cut {
        let is_free = papers.is_free(recut);
        told.sheets += u32::from(!is_free);
        told.free += if is_free { recut.tree.piece_count() as u32 } else { 0 };
    }
    papers.put(&mut run, index, &recuts, &trimmer);
    told.more_steps = run.len() as i64 - bench.len() as i64;
    (run, told)
}

fn names(pieces: &[JobPiece], counts: &[u32]) -> Vec<(String, u32)> {
    let some = counts.iter().zip(pieces).filter(|(n, _)| **n > 0);
    some.map(|(n, p)| (p.called(), *n)).collect()
}
