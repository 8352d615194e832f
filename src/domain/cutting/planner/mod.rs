//! Planning a whole job: which engine works when, and which plan is kept.
//!
//! A [`Solver`] works in rounds of fixed work. Each round goes to one part of the job (parts share no paper); its two
//! lanes work on their own and are then merged in their order, so a number of rounds always gives the same plan,
//! however many threads there were. What a round takes in time is known to the caller only.

mod aim;
mod alike;
mod dives;
mod edge;
mod few;
mod first;
mod fullest;
mod lane;
mod polish;
mod rooms;
mod shares;
mod short;
mod stopped;
mod sums;
mod tight;
mod wide;
mod work;

pub(crate) mod assemble;
pub(crate) mod dice;
pub(crate) mod grade;
pub(crate) mod hands;
pub(crate) mod model;
pub(crate) mod packing;
pub(crate) mod parts;
pub(crate) mod shape;

pub use packing::Engine;
pub use work::{InTurn, Lanes};

use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::stop::Stop;
use edge::EdgeSolver;
use stopped::Stopped;

/// How far the work has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlanProgress {
    /// Rounds done.
    pub work: u32,
    /// Sheets of the best plan so far.
    pub sheets: u32,
    /// Its cost.
    pub cost: Cost,
    /// No plan costs less.
    pub lower_bound: Cost,
    /// Pieces without a place so far.
    pub outside: u32,
    /// Pieces without a place and cost of the plan with stop cuts, on a trimmer that can make them.
    pub with_stop_cuts: Option<(u64, Cost)>,
    /// True once more rounds would change nothing.
    pub settled: bool,
}

/// Plans one job.
pub struct Solver {
    edge: EdgeSolver,
    /// Plans with stop cuts, where the trimmer can make them.
    stopped: Option<Stopped>,
}

impl Solver {
    /// Takes the job apart and makes a first plan.
    pub fn new(job: Job, seed: u64) -> Self {
        Self::heeding(job, seed, &Stop::default())
    }

    /// The same, ending at once when that is asked for: a round that is not worked to its end then changes nothing and is not
    /// counted, so that the rounds a plan reports still make it again.
    pub fn heeding(job: Job, seed: u64, stop: &Stop) -> Self {
        let edge = EdgeSolver::new(job, seed, stop);
        let stopped = Stopped::new(&edge.job, &edge.works, seed);
        Self { edge, stopped }
    }

    /// One round of work on the next part that can still get better, or on its plan with stop cuts, by turns. False where
    /// there is none.
    pub fn round(&mut self, lanes: &mut dyn Lanes) -> bool {
        let is_stop_turn = self.edge.rounds % 2 == 1;
        let is_done = (is_stop_turn && self.stop_round(lanes))
            || self.edge.work_on(lanes)
            || (!is_stop_turn && self.stop_round(lanes));
        self.edge.count(is_done);
        is_done
    }

    fn stop_round(&mut self, lanes: &mut dyn Lanes) -> bool {
        self.stopped.as_mut().is_some_and(|stopped| stopped.round(&self.edge.job, &self.edge.works, lanes))
    }

    /// Rounds, one lane after the other, until `work` are done or nothing is left to do.
    pub fn rounds(&mut self, work: u32) {
        while self.edge.rounds < work && self.round(&mut InTurn) {}
    }

    /// The last touch: a fixed number of rounds for less work at the same cost, for parts that still looked for less
    /// paper. They are not counted, since every plan ends with them.
    pub fn finish(&mut self, lanes: &mut dyn Lanes) {
        self.edge.finish(lanes);
        if let Some(stopped) = &mut self.stopped {
            stopped.finish(&self.edge.works, lanes);
        }
    }

    /// How many rounds the last touch has.
    pub fn last_rounds(&self) -> u32 {
        self.edge.last_rounds()
    }

    /// How far the work has come.
    pub fn progress(&self) -> PlanProgress {
        let works = &self.edge.works;
        PlanProgress {
            work: self.edge.rounds,
            sheets: self.edge.sheets(),
            cost: Cost::from_parts(works.iter().map(|w| w.best.grade.cost).sum()),
            lower_bound: Cost::from_parts(self.edge.least_cost()),
            outside: works.iter().map(|w| w.best.grade.outside).sum(),
            with_stop_cuts: self.stopped.as_ref().map(|stopped| stopped.standing(works)),
            settled: works.iter().all(|w| w.settled)
                && self.stopped.as_ref().is_none_or(|stopped| stopped.is_settled(works)),
        }
    }

    /// True where plans with stop cuts are looked for, too.
    pub fn has_stop_cuts(&self) -> bool {
        self.stopped.is_some()
    }

    /// True where a piece goes on no sheet at all, however many there were.
    pub fn has_unplaced(&self) -> bool {
        !self.edge.unplaced.is_empty()
    }

    /// The engine that each part's best plan came from.
    pub fn engines(&self) -> Vec<Engine> {
        self.edge.works.iter().map(|w| w.best.engine).collect()
    }

    /// The best plan so far, beside it the one with stop cuts where the trimmer can make them, and what is missing of papers.
    pub fn plan(&self) -> Plan {
        let EdgeSolver { job, works, unplaced, rounds, .. } = &self.edge;
        let parts = assemble::parts(job, works);
        let mut plan = self.edge.plan_of(&parts);
        short::look(job, &mut plan);
        if let Some(stopped) = &self.stopped {
            let stops = (0..works.len()).map(|at| (stopped.part(job, works, at), stopped.bound(at)));
            let mut stop = assemble::with_stops(job, parts, stops, (unplaced, *rounds));
            short::look(job, &mut stop);
            plan.stop = Some(Box::new(stop));
        }
        plan
    }
}
