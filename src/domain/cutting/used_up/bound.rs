//! How many sizes of panel one set of settings can have at most.
//!
//! A size counts once, however many panels of it are cut: min(1, n) for n panels. For any worth `a` from 0 to 1 this is at
//! most `(1 - a) + a n`, so that the sizes of a layout are at most the sum of all `1 - a`, and the worth of its panels; and
//! the layout of the most worth is found by a recursion that adds. Worths that make the bound small are looked for step by
//! step: less for a size that is cut too often, more for one that is not cut (Lagrangian relaxation with subgradient
//! steps: Fisher, "The Lagrangian relaxation method for solving integer programming problems", Management Science 27, 1981;
//! from memory). Worths are whole numbers of a fine unit and the sums are exact, so that no rounding makes a bound too small.

use super::board::Board;
use super::panels::Places;
use crate::domain::size::Size;

/// One, in the unit of worths.
const ONE: i64 = 1 << 20;
/// Steps without gain after which the next ones are smaller.
const PATIENCE: usize = 6;
/// What cannot be used up is worth this.
const NONE: i64 = i64::MIN / 4;

/// No more sizes than the smallest that fill the sheet once each.
fn by_area(board: &Board) -> u32 {
    fill(board.sheet, board.areas.iter().copied())
}

/// How many areas fill the sheet once each, the smallest first.
fn fill(mut sheet: i128, areas: impl Iterator<Item = i128>) -> u32 {
    let fits = |area: &i128| {
        sheet -= area;
        sheet >= 0
    };
    areas.take_while(fits).count() as u32
}

/// The same for every size of panel that comes up, whether or not the sheet can be used up with it.
pub(super) fn by_sides(places: &Places<'_>) -> u32 {
    let goes = places.all().map(|at| places.size(at)).filter(|size| places.ask.goes_on(*size));
    let mut kinds: Vec<(i128, Size)> = goes.map(|s| places.ask.on_front(s)).map(|s| (s.area(), s)).collect();
    kinds.sort_unstable();
    kinds.dedup();
    fill(places.ask.sheet.area(), kinds.iter().map(|k| k.0))
}

/// A bound by the worth of sizes.
pub(super) struct Bound {
    /// The worth of each size.
    worth: Vec<i64>,
    /// Worth that a slot can become at most.
    inside: Vec<i64>,
    /// The most worth of a layout.
    most: i64,
    /// Cuts that were added up.
    pub looked: usize,
}

impl Bound {
    /// The smallest bound that was found in so many steps; the search ends once it is no more than `enough`.
    pub(super) fn new(board: &Board, enough: u32, steps: usize) -> Self {
        let mut best = Self::with(board, by_size(board));
        let each = board.cuts.iter().map(Vec::len).sum::<usize>();
        let mut looked = each;
        let (mut at, mut length, mut without_gain) = (best.worth.clone(), 0.9, 0);
        for _ in 0..steps {
            if best.sizes() <= enough {
                break;
            }
            let here = Self::with(board, at);
            looked += each;
            let next = here.stepped(board, enough, length);
            if here.sum() < best.sum() {
                (best, without_gain, at) = (here, 0, next);
                continue;
            }
            without_gain += 1;
            at = next;
            if without_gain == PATIENCE {
                (length, without_gain, at) = (length * 0.6, 0, best.stepped(board, enough, length * 0.6));
            }
        }
        Self { looked, ..best }
    }

    /// No layout has more sizes.
    pub(super) fn sizes(&self) -> u32 {
        u32::try_from(self.sum() / ONE).unwrap_or(0)
    }

    /// What a slot has to be worth, so that a layout around it may have more sizes than `enough`; `None` where more sizes
    /// may be in such a layout than there are bits.
    pub(super) fn around(&self, board: &Board, enough: u32) -> Option<Around> {
        let mut outside = vec![NONE; self.inside.len()];
        outside[board.whole()] = 0;
        for slot in (0..outside.len()).rev() {
            let here = outside[slot];
            for (_, _, a, b) in &board.cuts[slot] {
                outside[*a] = outside[*a].max(here + self.inside[*b]);
                outside[*b] = outside[*b].max(here + self.inside[*a]);
            }
        }
        let missing: i64 = self.worth.iter().map(|a| ONE - a).sum();
        let least = (i64::from(enough) + 1) * ONE - missing;
        let need: Vec<i64> = outside.iter().map(|most| least - most).collect();
        let mut may_be = vec![false; self.worth.len()];
        for (slot, kind) in board.kind_at.iter().enumerate().filter_map(|(slot, kind)| Some((slot, (*kind)?)))
        {
            may_be[kind] |= self.worth[kind] >= need[slot];
        }
        Around::new(&self.worth, &may_be, need)
    }

    fn with(board: &Board, worth: Vec<i64>) -> Self {
        let mut inside = vec![NONE; board.cuts.len()];
        for slot in 0..inside.len() {
            let panel = board.kind_at[slot].map_or(NONE, |kind| worth[kind]);
            let rest = if board.is_rest[slot] { 0 } else { NONE };
            let cut = board.cuts[slot].iter().map(|(_, _, a, b)| inside[*a] + inside[*b]).max();
            inside[slot] = panel.max(rest).max(cut.unwrap_or(NONE)).max(NONE);
        }
        let most = inside[board.whole()];
        Self { worth, inside, most, looked: 0 }
    }

    fn sum(&self) -> i64 {
        self.worth.iter().map(|a| ONE - a).sum::<i64>() + self.most
    }

    /// How many panels of each size the layout of the most worth has.
    fn counts(&self, board: &Board) -> Vec<i64> {
        let mut counts = vec![0; self.worth.len()];
        let mut open = vec![board.whole()];
        while let Some(slot) = open.pop() {
            let worth = self.inside[slot];
            let cut = board.cuts[slot].iter().find(|c| self.inside[c.2] + self.inside[c.3] == worth);
            match (board.kind_at[slot], cut) {
                (Some(kind), _) if self.worth[kind] == worth => counts[kind] += 1,
                (_, Some((_, _, a, b))) => open.extend([*a, *b]),
                _ => {}
            }
        }
        counts
    }

    /// The worths of the next step.
    fn stepped(&self, board: &Board, enough: u32, length: f64) -> Vec<i64> {
        let excess: Vec<i64> = self.counts(board).iter().map(|n| n - 1).collect();
        let norm = excess.iter().map(|e| e * e).sum::<i64>().max(1) as f64;
        let gap = (self.sum() - (i64::from(enough) + 1) * ONE).max(ONE / 4) as f64;
        let moved = |(a, e): (&i64, &i64)| (a - (length * gap * *e as f64 / norm) as i64).clamp(0, ONE);
        self.worth.iter().zip(&excess).map(moved).collect()
    }
}

/// Worths by area: with them the bound is that of [`by_area`], or less.
fn by_size(board: &Board) -> Vec<i64> {
    let at = (by_area(board) as usize).min(board.areas.len().saturating_sub(1));
    let full = board.areas.get(at).copied().unwrap_or(1).max(1);
    let worth = |area: &i128| i64::try_from(*area * i128::from(ONE) / full).unwrap_or(ONE).min(ONE);
    board.areas.iter().map(worth).collect()
}

/// Sizes that have bits.
const MOST_KINDS: usize = 128;

/// What sets of sizes are worth, and what they have to be worth.
pub(super) struct Around {
    /// The sizes that have bits, ascending.
    kinds: Vec<usize>,
    /// The worth of the size of each bit.
    worth: Vec<i64>,
    /// What each slot has to be worth.
    need: Vec<i64>,
}

impl Around {
    fn new(all: &[i64], may_be: &[bool], need: Vec<i64>) -> Option<Self> {
        let kinds: Vec<usize> = (0..all.len()).filter(|kind| may_be[*kind]).collect();
        if kinds.len() > MOST_KINDS {
            return None;
        }
        let worth: Vec<i64> = kinds.iter().map(|kind| all[*kind]).collect();
        Some(Self { kinds, worth, need })
    }

    /// The bit of a size; `None` where no layout that is looked for has it.
    pub(super) fn bit(&self, kind: usize) -> Option<usize> {
        self.kinds.binary_search(&kind).ok()
    }

    /// The worth of these sizes together.
    pub(super) fn worth(&self, kinds: u128) -> i64 {
        let mut left = kinds;
        let mut sum = 0;
        while left != 0 {
            sum += self.worth[left.trailing_zeros() as usize];
            left &= left - 1;
        }
        sum
    }

    /// What a slot has to be worth at least.
    pub(super) fn need(&self, slot: usize) -> i64 {
        self.need[slot]
    }

    /// The worth of sizes that both parts of a cut have; `None` where it is more than may be lost.
    pub(super) fn lost(&self, both: u128, may_lose: i64) -> Option<i64> {
        let mut sum = 0;
        for (half, from) in [(both as u64, 0), ((both >> 64) as u64, 64)] {
            let mut left = half;
            while left != 0 {
                sum += self.worth[from + left.trailing_zeros() as usize];
                if sum > may_lose {
                    return None;
                }
                left &= left - 1;
            }
        }
        Some(sum)
    }
}
