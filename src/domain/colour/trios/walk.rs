//! The order of trios, one after the other, without working all of them out.
//!
//! Guests stand by how well they go with the base. Whatever holds the next guest has a weakest pair no better than that
//! guest with the base; so a trio that is better than this is the next one, and most trios need never be looked at.
//! Knows figures and places, not why a trio may stand or not.

use std::cell::Cell;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// How much may be looked at for one question, in pairs of guests that are not asked for (about a second). Libraries of 500
/// swatches are gone through whole by the question that asks for most; larger ones nearly always end long before, since the
/// list is full.
pub(super) const MOST_LOOKS: u64 = 16_000_000;
/// A pair that is asked for is kept and put in its place, which takes as long as passing over so many.
const KEPT: u64 = 16;

/// A trio with what its place follows from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Candidate {
    /// Places in the library; the base comes first.
    pub swatches: [usize; 3],
    /// Figures of first and second, first and third, second and third.
    pub liked: [f64; 3],
    /// Where both guests stand on the shelf; settles what is equal otherwise.
    turn: [usize; 2],
}

impl Candidate {
    /// The figure that its place follows from.
    pub fn weakest(&self) -> f64 {
        self.liked.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// The three figures from the least up: of two trios with the same weakest pair the better second pair leads.
    fn rising(&self) -> [f64; 3] {
        let mut pairs = self.liked;
        pairs.sort_unstable_by(f64::total_cmp);
        pairs
    }
}

impl Eq for Candidate {}

impl Ord for Candidate {
    fn cmp(&self, other: &Self) -> Ordering {
        let (mine, theirs) = (self.rising(), other.rising());
        let by_pairs = (0..3).map(|n| mine[n].total_cmp(&theirs[n])).find(|order| order.is_ne());
        by_pairs.unwrap_or(Ordering::Equal).then_with(|| other.turn.cmp(&self.turn))
    }
}

impl PartialOrd for Candidate {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// A guest beside a base.
#[derive(Clone, Copy, Debug)]
pub(super) struct Guest {
    /// Its place in the library.
    pub place: usize,
    /// Its figure with the base.
    pub to_base: f64,
    /// Where it stands on the shelf.
    pub turn: usize,
}

/// Trios of one base, best first.
pub(super) struct Walk<'a> {
    base: usize,
    guests: Vec<Guest>,
    /// Guests met so far.
    met: usize,
    heap: BinaryHeap<Candidate>,
    pair: &'a dyn Fn(usize, usize) -> f64,
    fits: &'a dyn Fn([usize; 3]) -> bool,
    /// How much may still be looked at, by all walks of a part of the list together.
    looks: &'a Cell<u64>,
}

impl<'a> Walk<'a> {
    /// Readies the walk: `pair` is the figure of two places, `fits` says which trios are asked for at all.
    pub fn new(
        base: usize,
        mut guests: Vec<Guest>,
        pair: &'a dyn Fn(usize, usize) -> f64,
        fits: &'a dyn Fn([usize; 3]) -> bool,
        looks: &'a Cell<u64>,
    ) -> Self {
        guests.sort_unstable_by(|x, y| y.to_base.total_cmp(&x.to_base).then(x.turn.cmp(&y.turn)));
        Self { base, guests, met: 0, heap: BinaryHeap::new(), pair, fits, looks }
    }

    /// The next trio, not taken yet.
    pub fn peek(&mut self) -> Option<&Candidate> {
        while let Some(guest) = self.guests.get(self.met).copied() {
            // One that is equally good may still come, and stand before it by its other pairs.
            if self.heap.peek().is_some_and(|best| best.weakest() > guest.to_base) {
                break;
            }
            // Where enough was looked at, what was met stands.
            if self.looks.get() == 0 {
                break;
            }
            self.meet(guest);
            self.met += 1;
        }
        self.heap.peek()
    }

    fn meet(&mut self, guest: Guest) {
        let mut looks = self.looks.get();
        for earlier in &self.guests[..self.met] {
            looks = looks.saturating_sub(1);
            let (one, two) = if earlier.turn < guest.turn { (*earlier, guest) } else { (guest, *earlier) };
            let swatches = [self.base, one.place, two.place];
            if (self.fits)(swatches) {
                let liked = [one.to_base, two.to_base, (self.pair)(one.place, two.place)];
                self.heap.push(Candidate { swatches, liked, turn: [one.turn, two.turn] });
                looks = looks.saturating_sub(KEPT);
            }
        }
        self.looks.set(looks);
    }
}

impl Iterator for Walk<'_> {
    type Item = Candidate;

    fn next(&mut self) -> Option<Candidate> {
        self.peek()?;
        self.heap.pop()
    }
}

/// The best of several walks, one after the other.
pub(super) fn best_of(mut walks: Vec<Walk<'_>>) -> impl Iterator<Item = Candidate> + use<'_> {
    std::iter::from_fn(move || {
        let heads = walks.iter_mut().enumerate().filter_map(|(n, walk)| Some((n, *walk.peek()?)));
        // Of equal ones that of the earlier base.
        let (n, _) = heads.reduce(|best, next| if next.1 > best.1 { next } else { best })?;
        walks.get_mut(n)?.next()
    })
}
