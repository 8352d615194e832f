//! Large jobs: one sheet is given up, and its pieces are worked in among the others, some sheets at a time.
//!
//! The same goal-driven ruin and recreate as for small jobs, but a step looks at a few sheets only, so its cost does
//! not grow with the job. What stays outside is carried from one handful of sheets to the next.

use super::aim::Aim;
use super::dice::Dice;
use super::model::Instance;
use super::packing::{Engine, Packing, stock_without};
use crate::domain::cutting::recreate::bin::Bin;
use crate::domain::cutting::recreate::search::Search;

/// Handfuls in one round, and steps for each.
const HANDFULS: u32 = 6;
const STEPS: u32 = 700;
/// What one handful may go through besides; only sheets of hundreds of pieces come near it.
const WORK: u64 = 4_000_000;
/// Pieces and sheets of one handful.
const MOST_PIECES: u32 = 130;
const MOST_SHEETS: usize = 24;
/// Pieces outside that are tried at once.
const MOST_OUTSIDE: u32 = 130;

/// The state that is worked on over many rounds.
pub(crate) struct Wide {
    bins: Vec<Bin>,
    outside: Vec<(u16, u32)>,
    /// Pieces outside and cost of the plan it set out from.
    from: (u32, u64),
    /// Which parting its sheets belong to, where they are one lane's half of the plan.
    serial: Option<u32>,
}

impl Wide {
    /// Sets out from the best plan: without one of its sheets, or with what it leaves undone.
    fn set_out(aim: &Aim<'_>, dice: &mut Dice) -> Self {
        let from = (aim.best.grade.outside, aim.best.grade.cost);
        let mut wide =
            Self { bins: aim.best.bins.clone(), outside: aim.best.outside.clone(), from, serial: None };
        if aim.best.outside.is_empty() {
            wide.give_up_one(aim.model, dice);
        }
        wide
    }

    /// Puts the pieces of a sheet with much left over outside.
    fn give_up_one(&mut self, model: &Instance, dice: &mut Dice) {
        let paid: Vec<usize> = (0..self.bins.len())
            .filter(|&at| model.formats[usize::from(self.bins[at].format)].cost > 0)
            .collect();
        if paid.is_empty() {
            return;
        }
        let thrown = (0..4).map(|_| paid[dice.below(paid.len())]);
        let Some(at) = thrown.max_by_key(|&at| (self.bins[at].left_area, at)) else { return };
        let mut kinds: Vec<u16> = self.bins.swap_remove(at).kinds().collect();
        kinds.sort_unstable();
        self.outside = kinds.chunk_by(|a, b| a == b).map(|same| (same[0], same.len() as u32)).collect();
    }

    /// One round of work; a better plan, if one came of it.
    pub(crate) fn round(
        state: &mut Option<Self>,
        aim: &Aim<'_>,
        search: &mut Search,
        dice: &mut Dice,
    ) -> Option<Packing> {
        let from = (aim.best.grade.outside, aim.best.grade.cost);
        let mut wide = state
            .take()
            .filter(|w| w.from == from && w.serial.is_none())
            .unwrap_or_else(|| Self::set_out(aim, dice));
        let mut found = None;
        for _ in 0..HANDFULS {
            wide.work_in(aim, search, dice);
            let missing: u32 = wide.outside.iter().map(|o| o.1).sum();
            if missing < from.0 || missing == 0 {
                let bins = wide.bins.clone();
                found = Some(Packing::new(
                    aim.model,
                    aim.taste,
                    bins,
                    wide.outside.clone(),
                    Engine::Neighbourhood,
                ));
                break;
            }
        }
        if found.is_none() {
            *state = Some(wide);
        }
        found
    }

    /// One round of work on one lane's half of the sheets of a parting; the half at less cost, if that came of it.
    pub(crate) fn half(
        state: &mut Option<Self>,
        aim: &Aim<'_>,
        (own, serial): (&[Bin], u32),
        search: &mut Search,
        dice: &mut Dice,
    ) -> Option<Vec<Bin>> {
        let from = (0, cost(aim.model, own));
        let kept = state.take().filter(|w| w.from == from && w.serial == Some(serial));
        let mut wide = kept.unwrap_or_else(|| {
            let mut wide = Self { bins: own.to_vec(), outside: Vec::new(), from, serial: Some(serial) };
            wide.give_up_one(aim.model, dice);
            wide
        });
        let mut found = None;
        for _ in 0..HANDFULS {
            wide.work_in(aim, search, dice);
            if wide.outside.is_empty() {
                found = Some(wide.bins.clone());
                wide.from.1 = cost(aim.model, &wide.bins);
                wide.give_up_one(aim.model, dice);
            }
        }
        *state = Some(wide);
        found
    }

    /// Takes some sheets in hand and tries to work in what is outside; keeps what came out no worse.
    fn work_in(&mut self, aim: &Aim<'_>, search: &mut Search, dice: &mut Dice) {
        let model = aim.model;
        let stock = stock_without(model, &self.bins);
        let hand = self.handful(dice);
        let tried = self.some_outside(dice);
        let in_part = !self.outside.is_empty();
        let allowed = self.from.1.saturating_sub(model.cost_step);
        let limit = if self.from.0 > 0 { u64::MAX } else { allowed.saturating_sub(cost(model, &self.bins)) };
        search.load(model, &hand, &tried, (&stock, limit));
        if self.from.0 > 0 {
            search.count_pieces(model);
        }
        let before = search.now();
        let end = search.work + WORK;
        for _ in 0..STEPS {
            search.step(model);
            if search.complete() || search.work > end {
                break;
            }
        }
        if search.now().no_worse(&before) {
            self.outside.extend(search.outside());
            self.bins.extend(search.bins.iter().cloned());
        } else {
            self.outside.extend(tried);
            self.bins.extend(hand);
        }
        if in_part {
            self.join();
        }
    }

    /// A kind that was taken in hand in part stands outside once again.
    fn join(&mut self) {
        self.outside.sort_unstable();
        self.outside.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            kept.1 += if same { next.1 } else { 0 };
            same
        });
    }

    /// Takes what is outside in hand, or some of it where it is much: a step looks at all that it has in hand.
    fn some_outside(&mut self, dice: &mut Dice) -> Vec<(u16, u32)> {
        let count: u32 = self.outside.iter().map(|o| o.1).sum();
        if count <= MOST_OUTSIDE {
            return std::mem::take(&mut self.outside);
        }
        let (mut tried, mut left) = (Vec::new(), MOST_OUTSIDE);
        while left > 0 && !self.outside.is_empty() {
            let at = dice.below(self.outside.len());
            let (kind, many) = self.outside[at];
            let taken = many.min(left);
            left -= taken;
            tried.push((kind, taken));
            if taken == many {
                self.outside.swap_remove(at);
            } else {
                self.outside[at].1 -= taken;
            }
        }
        tried
    }

    /// Some sheets, those with much left over more likely.
    fn handful(&mut self, dice: &mut Dice) -> Vec<Bin> {
        let mut hand: Vec<Bin> = Vec::new();
        let mut pieces = 0;
        while hand.len() < MOST_SHEETS && pieces < MOST_PIECES && !self.bins.is_empty() {
            let (a, b) = (dice.below(self.bins.len()), dice.below(self.bins.len()));
            let pick = if self.bins[a].left_area >= self.bins[b].left_area { a } else { b };
            let bin = self.bins.swap_remove(pick);
            pieces += bin.pieces;
            hand.push(bin);
        }
        hand
    }
}

/// What sheets cost.
fn cost(model: &Instance, bins: &[Bin]) -> u64 {
    bins.iter().map(|bin| model.formats[usize::from(bin.format)].cost).sum()
}
