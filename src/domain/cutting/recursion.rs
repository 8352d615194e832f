//! The exact value of a panel cut edge to edge: dynamic programming over the reachable positions.
//!
//! `G(x, y)` is the most value that a panel `x` by `y` gives by any number of edge-to-edge cuts:
//! the best of one kind of piece in rows and columns, and of every first cut at a sum of sizes,
//! `G(s, y) + G(x - s, y)` and `G(x, s) + G(x, y - s)`, with sizes floored to sums and `s` up to the half
//! (Gilmore & Gomory 1966; positions after Herz 1972; Beasley 1985). A panel whose value meets the bound by area is
//! left at once, which is most of them.
//!
//! Works on plain units and plain values, so that it serves one size (every value 1) and many. It knows no trimmer.

use super::reach::Reach;
use super::stop::Stop;

/// A piece in one orientation and what it is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PieceWay {
    /// Along x, in units.
    pub width: i64,
    /// Along y, in units.
    pub height: i64,
    /// Above zero.
    pub value: i64,
}

/// Splits looked at before an answer is given as not proved (well under a second). No real paper comes near.
pub const MOST_STEPS: u64 = 100_000_000;

/// Steps between two looks whether anybody still waits.
const LOOK_UP: u64 = 4_096;

const UNKNOWN: i64 = -1;

/// The recursion with its table.
#[derive(Clone, Debug)]
pub struct Recursion {
    parts: Vec<PieceWay>,
    xs: Reach,
    ys: Reach,
    table: Vec<i64>,
    /// Most value for the area of one piece: value and area.
    density: (i64, i64),
    steps_left: u64,
    exact: bool,
    stop: Stop,
}

impl Recursion {
    /// A table for panels up to `width` by `height`. Parts that do not fit are left out.
    pub fn new(width: i64, height: i64, parts: &[PieceWay], steps: u64) -> Self {
        let fits = |p: &&PieceWay| p.width > 0 && p.height > 0 && p.width <= width && p.height <= height;
        let parts: Vec<PieceWay> = parts.iter().filter(fits).copied().collect();
        let side = |f: fn(&PieceWay) -> i64| parts.iter().map(f).collect::<Vec<_>>();
        let xs = Reach::new(width, &side(|p| p.width));
        let ys = Reach::new(height, &side(|p| p.height));
        let table = vec![UNKNOWN; xs.len() * ys.len()];
        let density = parts.iter().map(|p| (p.value, p.width * p.height)).fold((0, 1), denser);
        Self { parts, xs, ys, table, density, steps_left: steps, exact: true, stop: Stop::default() }
    }

    /// How many steps it is worth to write down the sums for a panel, before the first cut is looked at.
    pub fn set_up(width: i64, height: i64, parts: &[PieceWay]) -> u64 {
        let side = |f: fn(&PieceWay) -> i64| parts.iter().map(f).collect::<Vec<_>>();
        Reach::slots(width, &side(|p| p.width)) + Reach::slots(height, &side(|p| p.height))
    }

    /// Counts no further once this is asked for.
    pub fn heed(&mut self, stop: &Stop) {
        self.stop = stop.clone();
    }

    /// Steps that are left before answers are given as not proved.
    pub fn steps_left(&self) -> u64 {
        self.steps_left
    }

    /// The sums along x.
    pub fn xs(&self) -> &Reach {
        &self.xs
    }

    /// The sums along y.
    pub fn ys(&self) -> &Reach {
        &self.ys
    }

    /// True while every value given was proved; false once the steps ran out or sums had to be left out.
    pub fn is_exact(&self) -> bool {
        self.exact
    }

    /// The value of a panel no larger than the table was made for.
    pub fn value(&mut self, width: i64, height: i64) -> i64 {
        let (i, j) = (self.xs.row(width), self.ys.row(height));
        let best = self.solve(i, j);
        if self.xs.is_thinned() || self.ys.is_thinned() {
            self.exact &= best == self.bound(width, height);
        }
        best
    }

    /// Upper bound by area on sizes already floored to sums.
    fn bound(&self, x: i64, y: i64) -> i64 {
        let (value, area) = self.density;
        if value == 1 {
            return x * y / area;
        }
        let worth = i128::from(x * y) * i128::from(value) / i128::from(area);
        i64::try_from(worth).unwrap_or(i64::MAX)
    }

    /// The best of one kind of piece in columns and rows.
    fn one_kind(&self, x: i64, y: i64) -> i64 {
        self.parts.iter().map(|p| (x / p.width) * (y / p.height) * p.value).max().unwrap_or(0)
    }

    fn solve(&mut self, i: usize, j: usize) -> i64 {
        let slot = i * self.ys.len() + j;
        if self.table[slot] != UNKNOWN {
            return self.table[slot];
        }
        let (x, y) = (self.xs.sums()[i], self.ys.sums()[j]);
        let bound = self.bound(x, y);
        let mut best = self.one_kind(x, y);
        if best < bound && bound > 0 {
            best = self.best_down(i, j, best, bound);
            best = self.best_across(i, j, best, bound);
        }
        self.table[slot] = best;
        best
    }

    fn best_down(&mut self, i: usize, j: usize, mut best: i64, bound: i64) -> i64 {
        let (x, y) = (self.xs.sums()[i], self.ys.sums()[j]);
        for a in 1..i {
            let s = self.xs.sums()[a];
            if 2 * s > x || best >= bound || !self.step() {
                break;
            }
            let b = self.xs.row(x - s);
            if self.bound(s, y) + self.bound(self.xs.sums()[b], y) > best {
                best = best.max(self.solve(a, j) + self.solve(b, j));
            }
        }
        best
    }

    fn best_across(&mut self, i: usize, j: usize, mut best: i64, bound: i64) -> i64 {
        let (x, y) = (self.xs.sums()[i], self.ys.sums()[j]);
        for a in 1..j {
            let s = self.ys.sums()[a];
            if 2 * s > y || best >= bound || !self.step() {
                break;
            }
            let b = self.ys.row(y - s);
            if self.bound(x, s) + self.bound(x, self.ys.sums()[b]) > best {
                best = best.max(self.solve(i, a) + self.solve(i, b));
            }
        }
        best
    }

    fn step(&mut self) -> bool {
        if self.steps_left.is_multiple_of(LOOK_UP) && self.stop.is_asked() {
            self.steps_left = 0;
        }
        if self.steps_left == 0 {
            self.exact = false;
            return false;
        }
        self.steps_left -= 1;
        true
    }
}

fn denser(a: (i64, i64), b: (i64, i64)) -> (i64, i64) {
    let of = |p: (i64, i64), q: (i64, i64)| i128::from(p.0) * i128::from(q.1);
    if of(b, a) > of(a, b) { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn both_ways(w: i64, h: i64) -> [PieceWay; 2] {
        [PieceWay { width: w, height: h, value: 1 }, PieceWay { width: h, height: w, value: 1 }]
    }

    #[test]
    fn mixed_layouts_beat_one_way() {
        // 2x3 in from letter, in half inches: 12 upright, 10 turned, 14 mixed (area bound 15).
        let mut g = Recursion::new(17, 22, &both_ways(4, 6), MOST_STEPS);
        assert_eq!(g.value(17, 22), 14);
        assert!(g.is_exact());
        // A panel between two sums holds what the lower one holds.
        assert_eq!(g.value(16, 21), g.value(16, 20));
    }

    #[test]
    fn values_are_weighed() {
        let parts = [PieceWay { width: 3, height: 3, value: 10 }, PieceWay { width: 2, height: 5, value: 3 }];
        let mut g = Recursion::new(5, 5, &parts, MOST_STEPS);
        assert_eq!(g.value(5, 5), 13);
    }

    #[test]
    fn running_out_of_steps_is_said() {
        let mut g = Recursion::new(192, 192, &both_ways(40, 56), 3);
        assert!((12..=14).contains(&g.value(192, 192)));
        assert!(!g.is_exact());
    }
}
