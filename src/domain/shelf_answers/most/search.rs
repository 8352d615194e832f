//! The search for the most sets of one paper: which numbers can be made, and which cannot.

use super::sets::{MostAsk, PaperPart, PaperPlan};
use crate::domain::cutting::job::Cost;
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::planner::{Lanes, Solver};
use crate::domain::cutting::stop::Stop;
use crate::domain::planning::SEED;

/// Rounds of work for one number of sets.
const ROUNDS: u32 = 12;

/// What was found of a paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Span {
    /// The most sets that a plan was found for.
    pub sets: u64,
    /// No more than this.
    pub bound: u64,
}

/// What is known of one number of sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    /// There is a plan.
    Made,
    /// It cannot be made.
    TooMany,
    /// No plan was found, and none is ruled out.
    Open,
}

/// The most sets of a paper, with so many more sheets than there are; so many sets are known to be made.
pub(super) fn most_of(
    part: &PaperPart,
    ask: &MostAsk,
    (known, more): (u64, u32),
    lanes: &mut dyn Lanes,
    stop: &Stop,
) -> Span {
    let mut made = known;
    // The least number that is ruled out, and the least that no plan was found for.
    let mut ruled_out = part.by_area(more).saturating_add(1);
    let mut open = ruled_out;
    while made + 1 < open && !stop.is_asked() {
        let middle = made + (open - made) / 2;
        match verdict(part, ask, (middle, more), lanes, stop) {
            Verdict::Made => made = middle,
            Verdict::TooMany => (open, ruled_out) = (middle, middle),
            Verdict::Open => open = middle,
        }
    }
    // Between what was made and what is ruled out the bound alone is asked.
    let mut low = made;
    while low + 1 < ruled_out && !stop.is_asked() {
        let middle = low + (ruled_out - low) / 2;
        match verdict(part, ask, (middle, more), lanes, stop) {
            Verdict::TooMany => ruled_out = middle,
            Verdict::Made => (low, made) = (middle, made.max(middle)),
            Verdict::Open => low = middle,
        }
    }
    Span { sets: made, bound: ruled_out - 1 }
}

fn verdict(
    part: &PaperPart,
    ask: &MostAsk,
    (sets, more): (u64, u32),
    lanes: &mut dyn Lanes,
    stop: &Stop,
) -> Verdict {
    planned(part, ask, (sets, more), lanes, stop).0
}

/// Rounds until a plan keeps to the sheets that are there, or the bound rules it out.
fn planned(
    part: &PaperPart,
    ask: &MostAsk,
    (sets, more): (u64, u32),
    lanes: &mut dyn Lanes,
    stop: &Stop,
) -> (Verdict, Option<Solver>) {
    let Some(job) = part.job(ask, sets) else { return (Verdict::Open, None) };
    let held = Cost::from_parts(Cost::ONE.parts().saturating_mul(u64::from(part.held) + u64::from(more)));
    let mut solver = Solver::heeding(job, SEED, stop);
    if solver.has_unplaced() {
        // A piece that goes on no sheet of its paper.
        return (Verdict::TooMany, None);
    }
    loop {
        let now = solver.progress();
        if now.outside == 0 && now.cost <= held {
            return (Verdict::Made, Some(solver));
        }
        if now.lower_bound > held {
            return (Verdict::TooMany, None);
        }
        if now.work >= ROUNDS || !solver.round(lanes) || stop.is_asked() {
            return (Verdict::Open, None);
        }
    }
}

/// How so many sets are cut, paper by paper; fewer where a plan is not found again.
pub(super) fn plans(ask: &MostAsk, sets: &mut u64, lanes: &mut dyn Lanes, stop: &Stop) -> Vec<PaperPlan> {
    while *sets > 0 && !stop.is_asked() {
        let all: Option<Vec<PaperPlan>> =
            ask.papers.iter().map(|part| plan(part, ask, *sets, lanes, stop)).collect();
        if let Some(all) = all {
            return all;
        }
        *sets -= 1;
    }
    Vec::new()
}

fn plan(part: &PaperPart, ask: &MostAsk, sets: u64, lanes: &mut dyn Lanes, stop: &Stop) -> Option<PaperPlan> {
    let (verdict, solver) = planned(part, ask, (sets, 0), lanes, stop);
    let mut solver = solver.filter(|_| verdict == Verdict::Made)?;
    solver.finish(lanes);
    let plan: Plan = solver.plan();
    Some(PaperPlan { job: part.job(ask, sets)?, from: part.from.clone(), plan })
}
