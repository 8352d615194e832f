//! A job cut from edge to edge: rounds of work on its parts by turns.

use super::work::{Lanes, Work};
use super::{assemble, parts};
use crate::domain::cutting::job::Job;
use crate::domain::cutting::plan::{Plan, Unplaced};
use crate::domain::cutting::stop::Stop;

/// Rounds of the last touch.
const LAST_ROUNDS: u32 = 8;
/// Pieces that the rounds of the last touch go through together, about.
const LAST_PIECES: u64 = 8_000;

/// Plans one job with cuts from edge to edge only.
pub(super) struct EdgeSolver {
    pub job: Job,
    pub works: Vec<Work>,
    pub unplaced: Vec<Unplaced>,
    pub rounds: u32,
    next: usize,
    pub stop: Stop,
}

impl EdgeSolver {
    /// Takes the job apart and makes a first plan; heeds a request to stop from then on.
    pub(super) fn new(job: Job, seed: u64, stop: &Stop) -> Self {
        let (mut parts, unplaced) = parts::split(&job);
        for part in &mut parts {
            part.model.stop = stop.clone();
        }
        let many = parts.len();
        let works: Vec<Work> = parts
            .into_iter()
            .enumerate()
            .map(|(at, part)| Work::new(&job, part, many, seed.wrapping_add(at as u64 * 0x1_0000)))
            .collect();
        Self { job, works, unplaced, rounds: 0, next: 0, stop: stop.clone() }
    }

    /// One counted round on the next part that can still get better. False where there is none.
    pub(super) fn round(&mut self, lanes: &mut dyn Lanes) -> bool {
        let is_done = self.work_on(lanes);
        self.count(is_done);
        is_done
    }

    /// Counts a round that was worked to its end: what a round found when time was up is dropped.
    pub(super) fn count(&mut self, is_done: bool) {
        self.rounds += u32::from(is_done && !self.stop.is_asked());
    }

    /// The same, not counted.
    pub(super) fn work_on(&mut self, lanes: &mut dyn Lanes) -> bool {
        let n = self.works.len();
        let Some(at) = (0..n).map(|i| (self.next + i) % n).find(|&i| !self.works[i].settled) else {
            return false;
        };
        self.next = at + 1;
        let polish = self.works[at].is_least();
        self.works[at].round(lanes, polish);
        true
    }

    /// The last touch: a fixed number of rounds for less work at the same cost, for parts that still looked for less
    /// paper. They are not counted, since every plan ends with them.
    pub(super) fn finish(&mut self, lanes: &mut dyn Lanes) {
        let open: Vec<usize> = (0..self.works.len()).filter(|&i| !self.works[i].is_least()).collect();
        for turn in 0..self.last_rounds() {
            let at = open[turn as usize % open.len()];
            self.works[at].round(lanes, true);
        }
    }

    /// How many rounds the last touch has: fewer for jobs so large that a round of them takes long.
    pub(super) fn last_rounds(&self) -> u32 {
        let open = self.works.iter().filter(|work| !work.is_least());
        let (parts, pieces) = open.fold((0, 0), |(parts, pieces), work| (parts + 1, pieces + work.pieces()));
        LAST_ROUNDS.min(parts * 4).min((LAST_PIECES / pieces.max(1)).max(1) as u32 * u32::from(parts > 0))
    }

    /// Sheets of the plan so far.
    pub(super) fn sheets(&self) -> u32 {
        self.works.iter().map(|w| w.best.bins.len() as u32).sum()
    }

    /// Pieces without a place, and what the sheets cost.
    pub(super) fn standing(&self) -> (u64, u64) {
        let outside: u64 = self.works.iter().map(|w| u64::from(w.best.grade.outside)).sum();
        (outside + self.nowhere(), self.works.iter().map(|w| w.best.grade.cost).sum())
    }

    /// Pieces that fit nowhere.
    pub(super) fn nowhere(&self) -> u64 {
        self.unplaced.iter().map(|u| u64::from(u.count)).sum()
    }

    /// What no plan costs less than.
    pub(super) fn least_cost(&self) -> u64 {
        self.works.iter().map(|w| w.bound.cost).sum()
    }

    /// The plan of parts that were put in the person's terms before.
    pub(super) fn plan_of(&self, parts: &[assemble::Planned]) -> Plan {
        assemble::edge_to_edge(&self.job, parts, &self.unplaced, self.rounds)
    }

    /// The best plan so far; what is missing of papers is not looked for.
    pub(super) fn plan(&self) -> Plan {
        self.plan_of(&assemble::parts(&self.job, &self.works))
    }
}
