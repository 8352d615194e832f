//! One piece more than the five blocks found, where next to nothing would be left over: an exhaustive fill from one side.
//!
//! The lowest gap on the left is filled with a piece lying or standing, or with one cell of waste; the waste allowed is
//! what that many pieces leave, so that a few cells cut the search short. Positions seen before are not entered again.
//! Sides are counted in the common divisor of the piece's two sides, in which every packed piece can be made to stand
//! (normal patterns: Christofides & Whitlock 1977). Exhausted, the search proves that there is no such layout.
//! A few published pallet sizes need it; craft sizes are answered before.

use super::reach::gcd;
use rustc_hash::FxHashSet;

/// Gaps looked at before the search gives up (about a tenth of a second).
const MOST_LOOKS: u32 = 400_000;
/// Most cells of waste worth a search; with more of it the search does not end in time.
const MOST_WASTE: i64 = 12;

/// What the search came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FillFound {
    /// Pieces as `(x, y, width, height)` in units.
    Found(Vec<[i64; 4]>),
    /// There is no layout with so many.
    Impossible,
    /// Too much waste or too many gaps.
    Unknown,
}

/// Looks for `wanted` pieces `a` by `b` on a panel whose sides are sums of `a` and `b`.
pub fn fill(width: i64, height: i64, (a, b): (i64, i64), wanted: i64) -> FillFound {
    let cell = gcd(a, b);
    let waste = (width * height - wanted * a * b) / (cell * cell);
    if waste < 0 {
        return FillFound::Impossible;
    }
    if waste > MOST_WASTE {
        return FillFound::Unknown;
    }
    // A narrow front ends sooner, so the fill rises along the longer side.
    let rises_along_width = width > height;
    let (front, top) = if rises_along_width { (height, width) } else { (width, height) };
    let mut search = Search {
        front: vec![0; (front / cell) as usize],
        top: (top / cell) as u32,
        sides: [(a / cell) as usize, (b / cell) as usize],
        placed: Vec::new(),
        seen: FxHashSet::default(),
        looks: 0,
    };
    if !search.go(waste as u32, wanted) {
        return if search.looks > MOST_LOOKS { FillFound::Unknown } else { FillFound::Impossible };
    }
    let real = |[x, y, w, h]: [usize; 4]| {
        let [x, y, w, h] = [x, y, w, h].map(|n| n as i64 * cell);
        if rises_along_width { [y, x, h, w] } else { [x, y, w, h] }
    };
    FillFound::Found(search.placed.into_iter().map(real).collect())
}

struct Search {
    /// How far each column is filled.
    front: Vec<u32>,
    top: u32,
    sides: [usize; 2],
    placed: Vec<[usize; 4]>,
    seen: FxHashSet<(Vec<u32>, u32)>,
    looks: u32,
}

/// Columns beside each other that are filled equally far, lower than their neighbours.
#[derive(Clone, Copy)]
struct Gap {
    left: usize,
    wide: usize,
    low: u32,
}

impl Search {
    fn go(&mut self, waste: u32, wanted: i64) -> bool {
        if wanted == 0 {
            return true;
        }
        self.looks += 1;
        let Some(low) = self.front.iter().copied().min() else { return false };
        if self.looks > MOST_LOOKS || low == self.top {
            return false;
        }
        let left = self.front.iter().position(|&f| f == low).unwrap_or(0);
        let gap = self.front[left..].iter().take_while(|&&f| f == low).count();
        let room = (self.top - low) as usize;
        let shorter = self.sides[0].min(self.sides[1]);
        if gap < shorter || room < shorter {
            return self.waste_gap(Gap { left, wide: gap, low }, room < shorter, waste, wanted);
        }
        if !self.seen.insert((self.front.clone(), waste)) {
            return false;
        }
        let [a, b] = self.sides;
        let ways = if a == b { &[(a, b)][..] } else { &[(a, b), (b, a)] };
        for &(w, h) in ways.iter().filter(|&&(w, h)| w <= gap && h <= room) {
            self.raise(left, w, h as u32);
            self.placed.push([left, low as usize, w, h]);
            if self.go(waste, wanted - 1) {
                return true;
            }
            self.placed.pop();
            self.lower(left, w, h as u32);
        }
        if waste > 0 {
            self.raise(left, 1, 1);
            if self.go(waste - 1, wanted) {
                return true;
            }
            self.lower(left, 1, 1);
        }
        false
    }

    /// A gap that no piece fits is waste up to its lower neighbour, or to the top.
    fn waste_gap(&mut self, gap: Gap, to_top: bool, waste: u32, wanted: i64) -> bool {
        let Gap { left, wide, low } = gap;
        let before = left.checked_sub(1).and_then(|l| self.front.get(l)).copied();
        let after = self.front.get(left + wide).copied();
        let neighbour = before.into_iter().chain(after).min().unwrap_or(self.top);
        let rise = if to_top { self.top - low } else { neighbour - low };
        let lost = rise * wide as u32;
        if lost > waste {
            return false;
        }
        self.raise(left, wide, rise);
        if self.go(waste - lost, wanted) {
            return true;
        }
        self.lower(left, wide, rise);
        false
    }

    fn raise(&mut self, left: usize, wide: usize, by: u32) {
        self.front[left..left + wide].iter_mut().for_each(|f| *f += by);
    }

    fn lower(&mut self, left: usize, wide: usize, by: u32) {
        self.front[left..left + wide].iter_mut().for_each(|f| *f -= by);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 43 x 26 with 7 x 3, and 49 x 28 with 8 x 3: pallet sizes that five blocks miss (Birgin, Lobato & Morabito 2010).
    #[test]
    fn fills_what_five_blocks_miss() {
        for (w, h, side, wanted) in [(43, 26, (7, 3), 53), (49, 28, (8, 3), 57)] {
            let FillFound::Found(placed) = fill(w, h, side, wanted) else { panic!("{w} x {h}") };
            assert_eq!(placed.len() as i64, wanted);
            for (n, a) in placed.iter().enumerate() {
                assert!(a[0] + a[2] <= w && a[1] + a[3] <= h);
                assert!(placed[n + 1..].iter().all(|b| {
                    a[0] + a[2] <= b[0] || b[0] + b[2] <= a[0] || a[1] + a[3] <= b[1] || b[1] + b[3] <= a[1]
                }));
            }
        }
    }

    #[test]
    fn says_what_cannot_be() {
        assert_eq!(fill(4, 4, (3, 1), 6), FillFound::Impossible);
        // 10 x 10 has the area for 25 bars of 4 x 1, and no place for the last (a classic, from memory).
        assert_eq!(fill(10, 10, (4, 1), 25), FillFound::Impossible);
        assert_eq!(fill(100, 100, (9, 7), 50), FillFound::Unknown);
    }
}
