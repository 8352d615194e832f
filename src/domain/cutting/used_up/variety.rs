//! The most different sizes of panel that one set of settings makes.
//!
//! For each panel the recursion keeps sets of sizes, each once, with the most cards that were found with it. What a set is
//! worth is added up from the worths of its sizes, each counted once ([`bound`](super::bound)): a size that both parts of a
//! cut have is lost once. A set that is worth too little to become more than is known, by the bound on what lies around the
//! panel, is left out; and as few sizes may be lost, most pairs of sets are passed over at a glance. Where a list still
//! grows longer than allowed it is cut to the sets of the most worth, which is said.

use super::ask::{Cuts, parts};
use super::board::Board;
use super::bound::{Around, Bound};
use crate::domain::cutting::stop::Stop;
use crate::domain::size::Size;

/// Sizes as bits, their worth, cards, and how they come about.
#[derive(Clone, Copy, Debug)]
struct Set {
    kinds: u128,
    worth: i64,
    cards: u32,
    how: How,
}

#[derive(Clone, Copy, Debug)]
enum How {
    Panel,
    Rest,
    /// By the cut of this number, from the sets at these places of both lists.
    Cut(u32, u32, u32),
}

/// What one set of settings has beyond what is known.
pub(super) struct Best {
    /// Sizes, cards and cuts; `None` where none beats what is known.
    pub layout: Option<(u32, u32, Cuts)>,
    /// False once a list was cut or the steps ran out.
    pub whole: bool,
}

/// What is looked for beyond what is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Better {
    /// More sizes.
    Sizes,
    /// More cards with as many sizes; more sizes too, where there are any.
    Cards,
}

/// How far one look goes.
pub(super) struct Reach<'a> {
    /// The longest list of a panel.
    pub longest: usize,
    /// Steps that the bound is looked for.
    pub bound: usize,
    /// Steps that are left: pairs of sets, and cuts that are added up.
    pub steps: &'a mut u64,
    /// Asks it to end.
    pub stop: &'a Stop,
}

impl Reach<'_> {
    /// True where no steps are left, or it is asked to end.
    pub(super) fn is_over(&self) -> bool {
        *self.steps == 0 || self.stop.is_asked()
    }

    /// Takes so many steps; false where they are not left.
    fn take(&mut self, steps: usize) -> bool {
        let is_left = *self.steps >= steps as u64 && !self.is_over();
        *self.steps = self.steps.saturating_sub(steps as u64);
        is_left
    }
}

/// A layout that is better than one of so many sizes and cards.
pub(super) fn best(board: &Board, (known, better): ((u32, u32), Better), reach: &mut Reach<'_>) -> Best {
    let enough = match better {
        Better::Sizes => known.0,
        Better::Cards => known.0.saturating_sub(1),
    };
    let bound = Bound::new(board, enough, reach.bound);
    let is_left = reach.take(bound.looked);
    if bound.sizes() <= enough {
        return Best { layout: None, whole: true };
    }
    let around = bound.around(board, enough);
    let Some(around) = around.filter(|_| is_left) else {
        return Best { layout: None, whole: false };
    };
    let mut lists = Lists { board, around, table: Vec::new(), whole: true };
    for slot in 0..=board.whole() {
        let list = lists.of(slot, reach);
        lists.table.push(list);
    }
    let whole = &lists.table[board.whole()];
    let figures = |s: &Set| (s.kinds.count_ones(), s.cards);
    let most = whole.iter().max_by_key(|s| figures(s)).filter(|s| figures(s) > known);
    let layout = most.map(|s| {
        (s.kinds.count_ones(), s.cards, lists.cuts(board.sizes[board.whole()], board.whole(), s.how))
    });
    Best { layout, whole: lists.whole }
}

struct Lists<'a> {
    board: &'a Board,
    around: Around,
    /// The sets of each slot, the most worth first.
    table: Vec<Vec<Set>>,
    whole: bool,
}

impl Lists<'_> {
    fn of(&mut self, slot: usize, reach: &mut Reach<'_>) -> Vec<Set> {
        let mut all = Vec::new();
        if self.board.is_rest[slot] {
            all.push(Set { kinds: 0, worth: 0, cards: 0, how: How::Rest });
        }
        if let Some(bit) = self.board.kind_at[slot].and_then(|kind| self.around.bit(kind)) {
            let kinds = 1 << bit;
            all.push(Set { kinds, worth: self.around.worth(kinds), cards: 1, how: How::Panel });
        }
        all.retain(|set| set.worth >= self.around.need(slot));
        let mut floor = i64::MIN;
        for cut in 0..self.board.cuts[slot].len() {
            self.add(slot, cut, (&mut all, &mut floor), reach);
        }
        self.shorten(&mut all, reach.longest);
        all
    }

    /// Adds what becomes of both parts of a cut.
    fn add(
        &mut self,
        slot: usize,
        cut: usize,
        (all, floor): (&mut Vec<Set>, &mut i64),
        reach: &mut Reach<'_>,
    ) {
        let (_, _, a, b) = self.board.cuts[slot][cut];
        let need = self.around.need(slot);
        let mut limit = 2 * all.len() + SHORTEN_AT;
        for n in 0..self.table[a].len() {
            let (first, second) = (&self.table[a], &self.table[b]);
            let p = first[n];
            let pairs = second.partition_point(|q| p.worth + q.worth >= need);
            if pairs == 0 {
                break;
            }
            if !reach.take(pairs) {
                self.whole = false;
                return;
            }
            for (m, q) in second[..pairs].iter().enumerate() {
                let may_lose = p.worth + q.worth - need;
                let both = p.kinds & q.kinds;
                let Some(lost) = self.around.lost(both, may_lose) else { continue };
                let (kinds, worth) = (p.kinds | q.kinds, p.worth + q.worth - lost);
                if worth + chance(kinds) > *floor {
                    let how = How::Cut(cut as u32, n as u32, m as u32);
                    all.push(Set { kinds, worth, cards: p.cards + q.cards, how });
                }
            }
            if all.len() > limit {
                if let Some(least) = self.shorten(all, reach.longest) {
                    *floor = least;
                }
                limit = 2 * all.len() + SHORTEN_AT;
            }
        }
    }

    /// Each set once, with its most cards; no more than allowed.
    fn shorten(&mut self, all: &mut Vec<Set>, longest: usize) -> Option<i64> {
        let order = |s: &Set| (std::cmp::Reverse(s.worth), s.kinds, std::cmp::Reverse(s.cards));
        all.sort_unstable_by_key(order);
        all.dedup_by_key(|s| s.kinds);
        if all.len() <= longest {
            return None;
        }
        self.whole = false;
        all.select_nth_unstable_by_key(longest, |s| std::cmp::Reverse(s.worth + chance(s.kinds)));
        let least = all.get(longest).map(|s| s.worth + chance(s.kinds));
        all.truncate(longest);
        all.sort_unstable_by_key(order);
        least
    }

    /// How a panel is cut that is that of the slot, or the same one turned.
    fn cuts(&self, panel: Size, slot: usize, how: How) -> Cuts {
        match how {
            How::Panel => Cuts::Panel,
            How::Rest => Cuts::Rest,
            How::Cut(cut, n, m) => {
                let (line, setting, a, b) = self.board.cuts[slot][cut as usize];
                let line = if panel == self.board.sizes[slot] { line } else { line.other() };
                let (first, second) = parts(panel, line, setting);
                let part =
                    |panel, slot: usize, at: u32| self.cuts(panel, slot, self.table[slot][at as usize].how);
                Cuts::At(line, setting, Box::new((part(first, a, n), part(second, b, m))))
            }
        }
    }
}

/// Sets that are added before the list is gone through again.
const SHORTEN_AT: usize = 64;

/// Sets of like worth are kept by chance, so that those of a list are not all alike.
fn chance(kinds: u128) -> i64 {
    let mixed = (kinds as u64 ^ (kinds >> 64) as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    (mixed >> 46) as i64
}
