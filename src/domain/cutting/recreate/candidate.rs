//! Where a search stands, and the best place found for a piece. Knows no sheets, only what places cost.

use super::bin::NONE;
use super::places::Place;
use crate::domain::cutting::planner::dice::Dice;

/// One in this many places is overlooked, so that the search does not repeat itself.
const BLINK: usize = 20;

/// What counts, smaller first: area outside (or number of pieces), then worth of leftovers (more is better).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Standing {
    pub outside: i64,
    pub value: f64,
}

impl Standing {
    /// True where the other state is no better.
    pub(crate) fn no_worse(&self, than: &Self) -> bool {
        self.outside < than.outside || (self.outside == than.outside && self.value >= than.value)
    }
}

/// A kind of piece that is outside, with the best place found for it so far.
#[derive(Clone, Copy)]
pub(super) struct Candidate {
    pub kind: u16,
    pub number: u32,
    pub places: i32,
    pub cost: f64,
    pub bin: u32,
    pub node: u16,
    pub turned: bool,
    pub down_first: bool,
}

impl Candidate {
    /// So many pieces of a kind, no place seen yet.
    pub(super) fn nowhere(kind: u16, number: u32) -> Self {
        let (places, cost, bin, node) = (0, f64::INFINITY, 0, NONE);
        Self { kind, number, places, cost, bin, node, turned: false, down_first: false }
    }

    /// Takes a place that spoils less than the best so far, unless it is overlooked.
    #[inline]
    pub(super) fn consider(&mut self, dice: &mut Dice, at: usize, node: u16, place: Place) {
        for (cost, down_first) in [place.better(), place.other()] {
            if cost >= self.cost {
                return;
            }
            if !dice.one_in(BLINK) {
                self.cost = cost;
                self.bin = at as u32;
                self.node = node;
                self.turned = place.turned;
                self.down_first = down_first;
                return;
            }
        }
    }
}
