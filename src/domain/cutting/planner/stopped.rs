//! Plans with stop cuts, beside those from edge to edge: some sheets are cut by pinwheel layouts of one kind, what is then
//! still wanted is planned as ever, perhaps from what those sheets leave, too.
//!
//! Each part of the job is looked at on its own, in rounds of fixed work: first the kinds of which a sheet holds more
//! with stop cuts, then trials of how many sheets are cut like that, then with how few of them the cost stands. A plan with
//! stop cuts is proposed only where it makes more pieces or costs less than the one from edge to edge. Its bound holds
//! for any way of cutting: area, scales, squares, and the most pieces of one kind that any cutting gives.

mod columns;
mod trial;

use super::assemble::StopPart;
use super::parts::Part;
use super::work::{Lanes, Work};
use crate::domain::cutting::bounds;
use crate::domain::cutting::dual::{self, Bound};
use crate::domain::cutting::grid;
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::planner::model::{Format, Instance, PieceKind, TURNED, UPRIGHT};
use crate::domain::length::Length;
use crate::domain::size::Size;
use columns::{Column, Pair};
use trial::{Trial, Uses};

/// Rounds that one trial gets.
const TRIAL_ROUNDS: u32 = 5;
/// Rounds for less work at the same cost, once nothing else is left to try.
const POLISH_ROUNDS: u32 = 12;

/// Kinds times rows of sheets up to which each is asked for its own bound (about a millisecond).
const MOST_SINGLE: usize = 200;

/// What decides between trials: pieces not made, cost, sheets with stop cuts.
type Standing = (u64, u64, u32);

/// The plans with stop cuts of all parts.
pub(super) struct Stopped {
    parts: Vec<Seeker>,
    next: usize,
}

impl Stopped {
    /// Nothing is looked at yet; `None` where the trimmer cannot stop inside a sheet.
    pub(super) fn new(job: &Job, works: &[Work], seed: u64) -> Option<Self> {
        let seeker = |work: &Work| Seeker::new(job, &work.part, works.len(), seed);
        job.trimmer.stop_cuts.then(|| Self { parts: works.iter().map(seeker).collect(), next: 0 })
    }

    /// One round on the next part that has anything left to try; false where none has.
    pub(super) fn round(&mut self, job: &Job, works: &[Work], lanes: &mut dyn Lanes) -> bool {
        let n = self.parts.len();
        for step in 0..n {
            let at = (self.next + step) % n;
            let (Some(seeker), Some(work)) = (self.parts.get_mut(at), works.get(at)) else { continue };
            if !seeker.is_settled(work) {
                seeker.round(job, work, lanes);
                self.next = at + 1;
                return true;
            }
        }
        false
    }

    /// True where nothing is left to try.
    pub(super) fn is_settled(&self, works: &[Work]) -> bool {
        self.parts.iter().zip(works).all(|(seeker, work)| seeker.is_settled(work))
    }

    /// Pieces that are not made, and what the sheets cost, over all parts.
    pub(super) fn standing(&self, works: &[Work]) -> (u64, Cost) {
        let of = |(seeker, work): (&Seeker, &Work)| {
            let best = seeker.standing().map_or(edge(work), |trial| trial.standing().min(edge(work)));
            (best.0, best.1)
        };
        let (mut outside, mut cost) = (0, 0);
        for (missing, parts) in self.parts.iter().zip(works).map(of) {
            outside += missing;
            cost += parts;
        }
        (outside, Cost::from_parts(cost))
    }

    /// The last touch of the plans that stand.
    pub(super) fn finish(&mut self, works: &[Work], lanes: &mut dyn Lanes) {
        for (seeker, work) in self.parts.iter_mut().zip(works) {
            let all =
                seeker.best.iter_mut().map(|b| &mut b.0).chain(seeker.trial.iter_mut().map(|t| &mut t.0));
            let stands = all.min_by_key(|trial| trial.standing());
            if let Some(trial) = stands.filter(|trial| trial.standing() < edge(work)) {
                trial.rest.finish(lanes);
            }
        }
    }

    /// The plan of a part, where it makes more than the one from edge to edge or costs less.
    pub(super) fn part(&self, job: &Job, works: &[Work], at: usize) -> Option<StopPart> {
        let (seeker, work) = (self.parts.get(at)?, works.get(at)?);
        let trial = seeker.standing()?;
        (trial.standing() < edge(work)).then(|| trial.plan(job, &work.part))
    }

    /// What any cutting of a part costs at least.
    pub(super) fn bound(&self, at: usize) -> Bound {
        let nothing = Bound { cost: 0, name: BoundName::Nothing };
        self.parts.get(at).map_or(nothing, |seeker| seeker.bound)
    }
}

/// How the plan from edge to edge stands.
fn edge(work: &Work) -> Standing {
    (u64::from(work.best.grade.outside), work.best.grade.cost, 0)
}

/// Which sheets with stop cuts could be left out at the same cost.
struct Fewer {
    /// Place among the uses.
    at: usize,
    /// With fewer of them the cost goes up.
    low: u32,
}

/// One part of the job.
struct Seeker {
    seed: u64,
    bound: Bound,
    pairs: Vec<Pair>,
    columns: Vec<Column>,
    waiting: Option<Vec<Uses>>,
    trial: Option<(Trial, u32)>,
    best: Option<(Trial, Standing)>,
    fewer: Option<Fewer>,
    polish: u32,
}

impl Seeker {
    fn new(job: &Job, part: &Part, parts: usize, seed: u64) -> Self {
        let mut pairs = columns::pairs(job, part);
        pairs.reverse();
        Self {
            seed,
            bound: any_cutting(job, part, parts),
            pairs,
            columns: Vec::new(),
            waiting: None,
            trial: None,
            best: None,
            fewer: None,
            polish: 0,
        }
    }

    /// The best trial so far, the one in hand among them.
    fn standing(&self) -> Option<&Trial> {
        let all = self.best.iter().map(|b| &b.0).chain(self.trial.iter().map(|t| &t.0));
        all.min_by_key(|trial| trial.standing())
    }

    /// True where nothing is left to try, or no cutting could do with less than the plan from edge to edge.
    fn is_settled(&self, work: &Work) -> bool {
        if work.best.grade.outside == 0 && work.best.grade.cost <= self.bound.cost {
            return true;
        }
        let tried = match &self.waiting {
            Some(waiting) => waiting.is_empty(),
            None => self.columns.is_empty(),
        };
        let is_least = self.fewer.as_ref().is_some_and(|f| f.at == usize::MAX);
        let is_done = self.best.is_none() || (is_least && self.polish >= POLISH_ROUNDS);
        self.pairs.is_empty() && self.trial.is_none() && tried && is_done
    }

    fn round(&mut self, job: &Job, work: &Work, lanes: &mut dyn Lanes) {
        if let Some(pair) = self.pairs.pop() {
            self.columns.extend(columns::column(job, &work.part, pair));
            return;
        }
        if self.trial.is_none() {
            self.trial = self.next_uses(work).map(|uses| {
                let trial = Trial::new(job, &work.part, &self.columns, uses, self.seed);
                (trial, 0)
            });
        }
        if let Some((trial, rounds)) = self.trial.take() {
            self.work_on(trial, rounds, work, lanes);
            return;
        }
        self.polish += 1;
        if let Some((trial, _)) = &mut self.best
            && !trial.rest.round(lanes)
        {
            self.polish = POLISH_ROUNDS;
        }
    }

    /// What is tried next.
    fn next_uses(&mut self, work: &Work) -> Option<Uses> {
        let columns = &self.columns;
        let waiting = self.waiting.get_or_insert_with(|| {
            let mut all = trial::first_uses(columns, &work.part.model);
            all.reverse();
            all
        });
        if let Some(uses) = waiting.pop() {
            return Some(uses);
        }
        // Then with fewer sheets: halves between what stands and what does not.
        let (trial, _) = self.best.as_ref()?;
        let fewer = self.fewer.get_or_insert(Fewer { at: 0, low: 0 });
        while let Some(&(_, copies)) = trial.uses.sheets.get(fewer.at) {
            if fewer.low < copies {
                let mut uses = trial.uses.clone();
                if let Some(one) = uses.sheets.get_mut(fewer.at) {
                    one.1 = u32::midpoint(fewer.low, copies);
                }
                return Some(uses);
            }
            *fewer = Fewer { at: fewer.at + 1, low: 0 };
        }
        fewer.at = usize::MAX;
        None
    }

    fn work_on(&mut self, mut trial: Trial, rounds: u32, work: &Work, lanes: &mut dyn Lanes) {
        let to_beat = self.best.as_ref().map_or(edge(work), |b| b.1.min(edge(work)));
        let is_hopeless = trial.least() >= to_beat;
        let go_on = rounds < TRIAL_ROUNDS && !is_hopeless && trial.rest.round(lanes);
        let standing = trial.standing();
        let is_enough = standing < to_beat && self.fewer.is_some();
        if go_on && !is_enough && rounds + 1 < TRIAL_ROUNDS {
            self.trial = Some((trial, rounds + 1));
            return;
        }
        let is_better = standing < to_beat;
        if let Some(fewer) = self.fewer.as_mut().filter(|_| !is_better)
            && let Some(&(_, copies)) = trial.uses.sheets.get(fewer.at)
        {
            fewer.low = copies + 1;
        }
        if is_better {
            self.best = Some((trial, standing));
        }
    }
}

/// The least cost of a part however it is cut; nothing is claimed where a longer cut could bring in other sheets.
fn any_cutting(job: &Job, part: &Part, parts: usize) -> Bound {
    let nothing = Bound { cost: 0, name: BoundName::Nothing };
    let Some(model) = without_limit(job, part) else { return nothing };
    let mut best = nothing.or(dual::bound(&model, parts));
    if model.kinds.len() * model.formats.len() > MOST_SINGLE {
        return best;
    }
    for kind in &model.kinds {
        if model.stop.is_asked() {
            break;
        }
        let holds: Vec<i128> =
            model.formats.iter().enumerate().map(|(f, format)| most_of(kind, f, format)).collect();
        let cost = dual::least_cost(&model, i128::from(kind.count), &holds);
        best = best.or(Bound { cost, name: BoundName::Fullest });
    }
    best
}

/// The most pieces of a kind that any cutting of a sheet gives.
fn most_of(kind: &PieceKind, format: usize, sheet: &Format) -> i128 {
    let size = |w: i32, h: i32| Size::new(Length::from_units(w.into()), Length::from_units(h.into()));
    let room = size(sheet.w, sheet.h);
    let most = match kind.ways[format] {
        0 => 0,
        UPRIGHT => grid::count(room, size(kind.w, kind.h)),
        TURNED => grid::count(room, size(kind.h, kind.w)),
        _ => bounds::any_cutting(room, size(kind.w, kind.h)),
    };
    i128::from(most)
}

/// The part's model on a trimmer that makes any cut. A cut that stops inside a sheet may be short where no cut from edge
/// to edge is.
fn without_limit(job: &Job, part: &Part) -> Option<Instance> {
    let mut free = job.clone();
    free.trimmer.longest_cut = None;
    let mut kinds = part.model.kinds.clone();
    for (kind, rows) in kinds.iter_mut().zip(&part.rows) {
        let row = rows.first()?;
        let piece = job.pieces.get(row.piece)?;
        for sheet in 0..job.sheets.len() {
            if job.sheets.get(sheet)?.available == Some(0) {
                continue;
            }
            let (a, b) = free.ways(piece, sheet);
            let (upright, turned) = if row.swapped { (b, a) } else { (a, b) };
            let ways = if upright { UPRIGHT } else { 0 } | if turned { TURNED } else { 0 };
            match part.sheets.iter().position(|&s| s == sheet) {
                Some(at) => kind.ways[at] |= ways,
                None if ways != 0 => return None,
                None => {}
            }
        }
    }
    let stop = part.model.stop.clone();
    Some(Instance { stop, ..Instance::new(kinds, part.model.formats.clone(), i32::MAX) })
}
