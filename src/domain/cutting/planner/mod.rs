//! Planning a whole job: which engine works when, and which plan is kept.
//!
//! A [`Solver`] works in rounds of fixed work. Each round goes to one part of the job (parts share no paper); its two
//! lanes work on their own and are then merged in their order, so a number of rounds always gives the same plan,
//! however many threads there were. What a round takes in time is known to the caller only.

mod aim;
mod alike;
mod first;
mod fullest;
mod lane;
mod polish;
mod short;
mod stopped;
mod wide;

pub(crate) mod assemble;
pub(crate) mod dice;
pub(crate) mod grade;
pub(crate) mod hands;
pub(crate) mod model;
pub(crate) mod packing;
pub(crate) mod parts;
pub(crate) mod shape;

pub use packing::Engine;

use crate::domain::cutting::dual::{self, Bound};
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::one_size::SheetYield;
use crate::domain::cutting::plan::{Plan, Unplaced};
use aim::Aim;
use grade::{Grade, Taste};
use lane::Lane;
use packing::Packing;
use parts::Part;
use stopped::Stopped;

/// Rounds without gain after which a part is done.
const IDLE: u32 = 24;
/// Rounds of the last touch.
const LAST_ROUNDS: u32 = 8;

/// Runs the two lanes of a round: one after the other, or abreast on two threads.
pub trait Lanes {
    /// Calls both, in any order.
    fn both(&mut self, first: &mut (dyn FnMut() + Send), second: &mut (dyn FnMut() + Send));
}

/// One lane after the other.
#[derive(Clone, Copy, Debug, Default)]
pub struct InTurn;

impl Lanes for InTurn {
    fn both(&mut self, first: &mut (dyn FnMut() + Send), second: &mut (dyn FnMut() + Send)) {
        first();
        second();
    }
}

/// How far the work has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
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

struct Work {
    part: Part,
    taste: Taste,
    best: Packing,
    bound: Bound,
    lanes: [Lane; 2],
    /// Yield's answer, where the part is one size on one kind of sheet.
    alike: Option<SheetYield>,
    /// Rounds since the last gain once the cost is known to be least.
    idle: u32,
    settled: bool,
}

/// Plans one job.
pub struct Solver {
    job: Job,
    works: Vec<Work>,
    unplaced: Vec<Unplaced>,
    rounds: u32,
    next: usize,
    /// Plans with stop cuts, where the trimmer can make them.
    stopped: Option<Stopped>,
}

impl Solver {
    /// Takes the job apart and makes a first plan.
    pub fn new(job: Job, seed: u64) -> Self {
        let (parts, unplaced) = parts::split(&job);
        let works: Vec<Work> = parts
            .into_iter()
            .enumerate()
            .map(|(at, part)| Work::new(&job, part, seed.wrapping_add(at as u64 * 0x1_0000)))
            .collect();
        let stopped = Stopped::new(&job, &works, seed);
        Self { job, works, unplaced, rounds: 0, next: 0, stopped }
    }

    /// One round of work on the next part that can still get better, or on its plan with stop cuts, by turns. False where
    /// there is none.
    pub fn round(&mut self, lanes: &mut dyn Lanes) -> bool {
        let is_stop_turn = self.rounds % 2 == 1;
        let is_done = (is_stop_turn && self.stop_round(lanes))
            || self.edge_round(lanes)
            || (!is_stop_turn && self.stop_round(lanes));
        self.rounds += u32::from(is_done);
        is_done
    }

    fn stop_round(&mut self, lanes: &mut dyn Lanes) -> bool {
        self.stopped.as_mut().is_some_and(|stopped| stopped.round(&self.job, &self.works, lanes))
    }

    /// One round on the next part from edge to edge.
    fn edge_round(&mut self, lanes: &mut dyn Lanes) -> bool {
        let n = self.works.len();
        let Some(at) = (0..n).map(|i| (self.next + i) % n).find(|&i| !self.works[i].settled) else {
            return false;
        };
        self.next = at + 1;
        let polish = self.works[at].is_least();
        self.works[at].round(lanes, polish);
        true
    }

    /// Rounds, one lane after the other, until `work` are done or nothing is left to do.
    pub fn rounds(&mut self, work: u32) {
        while self.rounds < work && self.round(&mut InTurn) {}
    }

    /// The last touch: a fixed number of rounds for less work at the same cost, for parts that still looked for less
    /// paper. They are not counted, since every plan ends with them.
    pub fn finish(&mut self, lanes: &mut dyn Lanes) {
        let open: Vec<usize> = (0..self.works.len()).filter(|&i| !self.works[i].is_least()).collect();
        for turn in 0..LAST_ROUNDS.min(open.len() as u32 * 4) {
            let at = open[turn as usize % open.len()];
            self.works[at].round(lanes, true);
        }
        if let Some(stopped) = &mut self.stopped {
            stopped.finish(&self.works, lanes);
        }
    }

    /// Pieces without a place, and what the sheets cost.
    fn standing(&self) -> (u64, u64) {
        let outside: u64 = self.works.iter().map(|w| u64::from(w.best.grade.outside)).sum();
        (outside + self.nowhere(), self.works.iter().map(|w| w.best.grade.cost).sum())
    }

    /// Pieces that fit nowhere.
    fn nowhere(&self) -> u64 {
        self.unplaced.iter().map(|u| u64::from(u.count)).sum()
    }

    /// What no plan costs less than.
    fn least_cost(&self) -> u64 {
        self.works.iter().map(|w| w.bound.cost).sum()
    }

    /// How far the work has come.
    pub fn progress(&self) -> Progress {
        let cost = self.works.iter().map(|w| w.best.grade.cost).sum();
        Progress {
            work: self.rounds,
            sheets: self.works.iter().map(|w| w.best.bins.len() as u32).sum(),
            cost: Cost::from_parts(cost),
            lower_bound: Cost::from_parts(self.works.iter().map(|w| w.bound.cost).sum()),
            outside: self.works.iter().map(|w| w.best.grade.outside).sum(),
            with_stop_cuts: self.stopped.as_ref().map(|stopped| stopped.standing(&self.works)),
            settled: self.works.iter().all(|w| w.settled)
                && self.stopped.as_ref().is_none_or(|stopped| stopped.is_settled(&self.works)),
        }
    }

    /// The engine that each part's best plan came from.
    pub fn engines(&self) -> Vec<Engine> {
        self.works.iter().map(|w| w.best.engine).collect()
    }

    /// The best plan so far.
    pub fn plan(&self) -> Plan {
        assemble::plan(&self.job, &self.works, self.stopped.as_ref(), &self.unplaced, self.rounds)
    }
}

impl Work {
    fn new(job: &Job, part: Part, seed: u64) -> Self {
        let model = &part.model;
        let steps = |units: i64| ((units + part.step - 1) / part.step) as i32;
        let keep = (steps(job.keep.short().units()), steps(job.keep.long().units()));
        let sheets_per_stroke = job.trimmer.sheets_per_stroke;
        let taste = Taste { preference: job.preference, keep, sheets_per_stroke };
        let (bins, outside) = first::greedy(model);
        let mut best = Packing::new(model, taste, bins, outside, Engine::Greedy);
        if model.kinds.len() <= 40 {
            let patterns = first::one_kind_patterns(model);
            if let Some((bins, outside)) = first::one_kind(model, &patterns) {
                let packing = Packing::new(model, taste, bins, outside, Engine::OneKind);
                if packing.grade < best.grade {
                    best = packing;
                }
            }
        }
        let bound = dual::bound(model);
        let lanes = [Lane::new(model, seed, 0), Lane::new(model, seed, 1)];
        let alike = alike::answer(job, &part);
        let as_yield = alike.as_ref().and_then(|answer| alike::packing(job, answer, &part, taste));
        if let Some(packing) = as_yield.filter(|p| p.grade < best.grade) {
            best = packing;
        }
        Self { part, taste, best, bound, lanes, alike, idle: 0, settled: false }
    }

    /// True where no plan can cost less.
    fn is_least(&self) -> bool {
        self.best.outside.is_empty() && self.best.grade.cost <= self.bound.cost
    }

    /// True where the part is cut as Yield says.
    fn is_as_yield(&self) -> bool {
        self.alike.as_ref().is_some_and(|a| alike::numbers(a, &self.part, &self.best).is_some())
    }

    fn round(&mut self, lanes: &mut dyn Lanes, polish: bool) {
        let before = self.best.grade;
        let aim =
            Aim { model: &self.part.model, taste: self.taste, best: &self.best, bound: self.bound, polish };
        let [first, second] = &mut self.lanes;
        lanes.both(&mut || first.run(&aim), &mut || second.run(&aim));
        self.merge();
        self.idle = if polish && self.best.grade == before { self.idle + 1 } else { 0 };
        // What is cut as Yield cuts it needs no polish.
        self.settled = self.is_least() && (self.idle >= IDLE || self.is_as_yield());
    }

    /// Takes over what the lanes found, in their order.
    fn merge(&mut self) {
        Lane::share(&mut self.lanes);
        for lane in &mut self.lanes {
            if let Some(bound) = lane.bound {
                self.bound = self.bound.or(bound);
            }
            if let Some(packing) = lane.found.take()
                && packing.grade < self.best.grade
            {
                self.best = packing;
            }
        }
    }

    fn grade(&self) -> Grade {
        self.best.grade
    }
}
