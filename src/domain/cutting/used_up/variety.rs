//! The most different sizes of panel that one set of settings makes.
//!
//! For each panel the recursion keeps sets of sizes, each with the most cards that were found with it, of which none holds
//! another (or none that has as many cards, where cards are looked for too). What cannot become more than is known, by the bound on what lies around the panel ([`bound`](super::bound)), is
//! left out. Where a list still grows longer than allowed it is cut to the sets with the most sizes, which is said.

use super::ask::Cuts;
use super::board::Board;
use super::bound::{Around, Bound};
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::stop::Stop;

/// Sizes as bits, cards, and how they come about.
#[derive(Clone, Copy, Debug)]
struct Set {
    kinds: u128,
    cards: u32,
    how: How,
}

#[derive(Clone, Copy, Debug)]
enum How {
    Panel,
    Rest,
    /// By this cut, from these sets of both parts.
    Cut(CutLine, i64, (usize, usize), (usize, usize)),
}

/// What one set of settings has beyond what is known.
pub(super) struct Best {
    /// Sizes, cards and cuts; `None` where none beats what is known.
    pub layout: Option<(u32, u32, Cuts)>,
    /// False once a list was cut or the steps ran out.
    pub whole: bool,
}

/// Sizes that have bits.
const MOST_KINDS: usize = 128;

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
    /// Steps that are left: comparisons of two sets, and cuts that are added up.
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
    let bound = Bound::new(board, enough);
    let is_left = reach.take(bound.looked);
    if bound.sizes() <= enough {
        return Best { layout: None, whole: true };
    }
    if !is_left || board.areas.len() > MOST_KINDS {
        return Best { layout: None, whole: false };
    }
    let around = bound.around(board);
    let mut lists = Lists { board, around, enough, better, table: Vec::new(), whole: true };
    for slot in 0..=board.whole() {
        let list = lists.of(slot, reach);
        lists.table.push(list);
    }
    let whole = &lists.table[board.whole()];
    let figures = |s: &Set| (s.kinds.count_ones(), s.cards);
    let most = whole.iter().max_by_key(|s| figures(s)).filter(|s| figures(s) > known);
    let layout = most.map(|s| (s.kinds.count_ones(), s.cards, lists.cuts(s.how)));
    Best { layout, whole: lists.whole }
}

struct Lists<'a> {
    board: &'a Board,
    around: Around,
    /// Sizes that are not worth while.
    enough: u32,
    better: Better,
    /// The sets of each slot.
    table: Vec<Vec<Set>>,
    whole: bool,
}

impl Lists<'_> {
    fn of(&mut self, slot: usize, reach: &mut Reach<'_>) -> Vec<Set> {
        let mut all = Vec::new();
        if self.board.is_rest[slot] {
            self.offer(slot, &mut all, Set { kinds: 0, cards: 0, how: How::Rest });
        }
        if let Some(kind) = self.board.kind_at[slot] {
            self.offer(slot, &mut all, Set { kinds: 1 << kind, cards: 1, how: How::Panel });
        }
        for (line, setting, a, b) in &self.board.cuts[slot] {
            let (first, second) = (&self.table[*a], &self.table[*b]);
            for (n, p) in first.iter().enumerate() {
                if !reach.take(second.len() * (1 + all.len())) {
                    self.whole = false;
                    break;
                }
                for (m, q) in second.iter().enumerate() {
                    let how = How::Cut(*line, *setting, (*a, n), (*b, m));
                    let set = Set { kinds: p.kinds | q.kinds, cards: p.cards + q.cards, how };
                    self.offer(slot, &mut all, set);
                }
            }
            if all.len() > reach.longest {
                self.whole = false;
                all.sort_by_key(|s| std::cmp::Reverse((s.kinds.count_ones(), s.cards)));
                all.truncate(reach.longest);
            }
        }
        all
    }

    /// Adds a set unless one beats it or it leads nowhere; what it beats goes. Places in a list are named only by larger
    /// panels, which come once the list is whole.
    fn offer(&self, slot: usize, all: &mut Vec<Set>, set: Set) {
        let more = |a: &Set, b: &Set| a.kinds != b.kinds && self.better == Better::Sizes;
        let beats = |a: &Set, b: &Set| a.kinds & b.kinds == b.kinds && (more(a, b) || a.cards >= b.cards);
        if all.iter().any(|other| beats(other, &set)) || self.around.sizes(slot, set.kinds) <= self.enough {
            return;
        }
        all.retain(|other| !beats(&set, other));
        all.push(set);
    }

    fn cuts(&self, how: How) -> Cuts {
        match how {
            How::Panel => Cuts::Panel,
            How::Rest => Cuts::Rest,
            How::Cut(line, setting, a, b) => {
                let part = |(slot, n): (usize, usize)| self.cuts(self.table[slot][n].how);
                Cuts::At(line, setting, Box::new((part(a), part(b))))
            }
        }
    }
}
