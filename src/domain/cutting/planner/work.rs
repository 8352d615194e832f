//! One part of a job: the best plan of it so far, and the two lanes that look for a better one.

use super::aim::Aim;
use super::grade::{Grade, Taste};
use super::lane::Lane;
use super::packing::{Engine, Packing};
use super::parts::Part;
use super::{alike, first};
use crate::domain::cutting::covers::Covers;
use crate::domain::cutting::dual::{self, Bound};
use crate::domain::cutting::job::Job;
use crate::domain::cutting::one_size::SheetYield;

/// Rounds without gain after which a part is done.
const IDLE: u32 = 24;

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

/// What decides among plans of a part.
fn taste(job: &Job, part: &Part) -> Taste {
    let steps = |units: i64| ((units + part.step - 1) / part.step) as i32;
    let keep = (steps(job.keep.short().units()), steps(job.keep.long().units()));
    Taste { preference: job.preference, keep, sheets_per_stroke: job.trimmer.sheets_per_stroke }
}

/// The first plan of a part: the best of largest pieces first, one kind to a sheet, and Yield's answer.
fn first(job: &Job, part: &Part, taste: Taste, alike: Option<&SheetYield>) -> Packing {
    let model = &part.model;
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
    let as_yield = alike.and_then(|answer| alike::packing(job, answer, part, taste));
    if let Some(packing) = as_yield.filter(|p| p.grade < best.grade) {
        best = packing;
    }
    best
}

/// The first plan of a part, where nothing more is asked of it.
pub(super) fn first_packing(job: &Job, part: &Part) -> Packing {
    first(job, part, taste(job, part), alike::answer(job, part).as_ref())
}

/// One part of a job with the best plan so far and its two lanes.
pub(super) struct Work {
    pub part: Part,
    pub taste: Taste,
    pub best: Packing,
    pub bound: Bound,
    covers: Covers,
    lanes: [Lane; 2],
    /// Yield's answer, where the part is one size on one kind of sheet.
    pub alike: Option<SheetYield>,
    /// Times that the sheets were parted between the lanes.
    parted: u32,
    /// Rounds since the last gain once the cost is known to be least.
    idle: u32,
    pub settled: bool,
}

impl Work {
    /// One of so many parts, with a first plan.
    pub(super) fn new(job: &Job, part: Part, parts: usize, seed: u64) -> Self {
        let model = &part.model;
        let taste = taste(job, &part);
        let alike = alike::answer(job, &part);
        let best = first(job, &part, taste, alike.as_ref());
        let mut covers = Covers::default();
        let bound = dual::bound_with(model, parts, &mut covers);
        let lanes = [Lane::new(model, seed, 0), Lane::new(model, seed, 1)];
        let mut work =
            Self { part, taste, best, bound, covers, lanes, alike, parted: 0, idle: 0, settled: false };
        work.share_out();
        work
    }

    /// Pieces of it.
    pub(super) fn pieces(&self) -> u64 {
        self.part.model.pieces()
    }

    /// True where no plan can cost less.
    pub(super) fn is_least(&self) -> bool {
        self.best.outside.is_empty() && self.best.grade.cost <= self.bound.cost
    }

    /// True where the part is cut as Yield says.
    pub(super) fn is_as_yield(&self) -> bool {
        self.alike.as_ref().is_some_and(|a| alike::numbers(a, &self.part, &self.best).is_some())
    }

    pub(super) fn round(&mut self, lanes: &mut dyn Lanes, polish: bool) {
        let before = self.best.grade;
        let (model, taste) = (&self.part.model, self.taste);
        let aim = Aim { model, taste, best: &self.best, bound: self.bound, covers: &self.covers, polish };
        let [first, second] = &mut self.lanes;
        lanes.both(&mut || first.run(&aim), &mut || second.run(&aim));
        if self.part.model.stop.is_asked() {
            return;
        }
        self.merge();
        if !polish {
            self.share_out();
        }
        self.idle = if polish && self.best.grade == before { self.idle + 1 } else { 0 };
        // What is cut as Yield cuts it needs no polish.
        self.settled = self.is_least() && (self.idle >= IDLE || self.is_as_yield());
    }

    /// Parts the sheets between the lanes, where less paper is still looked for and they are not parted yet.
    fn share_out(&mut self) {
        if self.best.halves.is_none() && !self.is_least() {
            self.parted += 1;
            self.best.part(&self.part.model, self.parted);
        }
    }

    /// Takes over what the lanes found, in their order.
    fn merge(&mut self) {
        Lane::share(&mut self.lanes);
        let [first, second] = &mut self.lanes;
        let both = first.found.as_ref().zip(second.found.as_ref());
        if let Some(joined) = both.and_then(|(a, b)| Packing::join(&self.part.model, self.taste, a, b)) {
            (first.found, second.found) = (Some(joined), None);
        }
        let mut is_news = false;
        for lane in &mut self.lanes {
            if let Some(bound) = lane.bound {
                self.bound = self.bound.or(bound);
            }
            is_news |= !lane.covers.is_empty();
            for cover in lane.covers.drain(..) {
                self.covers.add(cover);
            }
            if let Some(packing) = lane.found.take()
                && packing.grade < self.best.grade
            {
                self.best = packing;
            }
        }
        if is_news {
            self.bound = self.bound.or(dual::by_sums(&self.part.model, &self.covers));
        }
    }

    pub(super) fn grade(&self) -> Grade {
        self.best.grade
    }
}
