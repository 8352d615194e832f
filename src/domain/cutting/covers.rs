//! What the sheets of a job must hold together, as inequalities, and the cheapest whole sheets that meet all of them.
//!
//! Every bound by volume says: sheets of row `f` hold at most so much each, and all pieces together take so much. Filled
//! with fractions of sheets such a bound loses what lies between the sums that sheets can cost (three letter sheets, or two
//! letter and a large one, and nothing between). Here the numbers of sheets are whole, and they have to meet every
//! inequality at once.

use super::plan::BoundName;
use super::planner::model::Instance;

/// Rows of sheets up to which whole numbers are gone through.
pub(crate) const MOST_ROWS: usize = 4;
/// Inequalities kept; beyond them the older ones go.
const MOST_COVERS: usize = 48;
/// Numbers of sheets gone through for one answer, times inequalities (a few milliseconds).
const MOST_LOOKS: u64 = 400_000;

/// Sheets of row `f` hold at most `holds[f]` each, and together they have to hold `volume`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cover {
    volume: i64,
    holds: Vec<i64>,
    name: BoundName,
}

impl Cover {
    /// `None` where the figures are too large to be gone through.
    pub(crate) fn new(volume: i128, holds: &[i128], name: BoundName) -> Option<Self> {
        let small = |n: i128| i64::try_from(n).ok().filter(|n| *n >= 0 && *n < i64::MAX >> 2);
        let holds: Option<Vec<i64>> = holds.iter().map(|&n| small(n)).collect();
        Some(Self { volume: small(volume)?, holds: holds?, name })
    }

    /// What is to be held, what a sheet of each row holds, and where that comes from.
    pub(crate) fn parts(&self) -> (i128, Vec<i128>, BoundName) {
        (i128::from(self.volume), self.holds.iter().map(|&h| i128::from(h)).collect(), self.name)
    }

    /// What is still to be held once some sheets are taken.
    fn rest(&self, counts: &[u32]) -> i128 {
        let held = self.holds.iter().zip(counts).map(|(&h, &n)| i128::from(h) * i128::from(n));
        i128::from(self.volume) - held.sum::<i128>()
    }
}

/// Numbers of sheets and what they cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Sum {
    /// Of each row.
    pub counts: Vec<u32>,
    /// Of all.
    pub cost: u64,
    /// Where the inequality comes from that keeps it from costing less.
    pub name: BoundName,
}

/// All that is known about how many sheets it takes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Covers {
    all: Vec<Cover>,
}

impl Covers {
    /// Takes up an inequality.
    pub(crate) fn add(&mut self, cover: Cover) {
        if self.all.contains(&cover) {
            return;
        }
        if self.all.len() >= MOST_COVERS {
            self.all.remove(MOST_COVERS / 4);
        }
        self.all.push(cover);
    }

    /// True where so many sheets of each row meet everything.
    pub(crate) fn allow(&self, counts: &[u32]) -> bool {
        self.all.iter().all(|cover| cover.rest(counts) <= 0)
    }

    /// The cheapest numbers of sheets that meet everything and are none of `tried`. `None` where there are too many rows, too
    /// many numbers, or no numbers that do.
    pub(crate) fn cheapest(&self, model: &Instance, tried: &[Vec<u32>]) -> Option<Sum> {
        let rows = model.formats.len();
        if self.all.is_empty() || rows > MOST_ROWS {
            return None;
        }
        let mut order: Vec<usize> = (0..rows).collect();
        // The row that holds most goes last: its number follows from those of the others.
        order.sort_by_key(|&f| (model.formats[f].area(), f));
        let rest = self.all.iter().map(|cover| i128::from(cover.volume)).collect();
        let mut walk =
            Walk { model, covers: self, tried, order, counts: vec![0; rows], best: None, looks: 0 };
        walk.go(0, 0, rest);
        let best = walk.best.filter(|_| walk.looks <= MOST_LOOKS)?;
        let name = self.name(model, &best.0);
        Some(Sum { counts: best.0, cost: best.1, name })
    }

    /// The inequality that one sheet less of any row would break, the first of them.
    fn name(&self, model: &Instance, counts: &[u32]) -> BoundName {
        let breaks = |cover: &&Cover| {
            let least = cover.holds.iter().zip(counts).filter(|(_, n)| **n > 0).map(|(&h, _)| h).min();
            cover.rest(counts) + i128::from(least.unwrap_or(0)) > 0
        };
        let nothing = if model.kinds.is_empty() { BoundName::Nothing } else { BoundName::Fullest };
        self.all.iter().rev().find(breaks).map_or(nothing, |cover| cover.name)
    }
}

/// Going through numbers of sheets, row by row.
struct Walk<'a> {
    model: &'a Instance,
    covers: &'a Covers,
    tried: &'a [Vec<u32>],
    order: Vec<usize>,
    counts: Vec<u32>,
    best: Option<(Vec<u32>, u64)>,
    looks: u64,
}

impl Walk<'_> {
    fn go(&mut self, depth: usize, cost: u64, mut rest: Vec<i128>) {
        let Some(&row) = self.order.get(depth) else { return };
        let is_last = depth + 1 == self.order.len();
        let format = &self.model.formats[row];
        let enough = self.enough(row, &rest);
        let most =
            if is_last { u64::from(format.available) } else { enough.min(u64::from(format.available)) };
        let first = if is_last { enough } else { 0 };
        if first > 0 {
            self.take(row, first, &mut rest);
        }
        let mut n = first;
        while n <= most && self.looks <= MOST_LOOKS {
            let paid = cost.saturating_add(format.cost.saturating_mul(n));
            if self.best.as_ref().is_some_and(|best| paid >= best.1) {
                break;
            }
            self.looks += rest.len() as u64;
            self.counts[row] = u32::try_from(n).unwrap_or(u32::MAX);
            if !is_last {
                self.go(depth + 1, paid, rest.clone());
            } else if !self.tried.contains(&self.counts) {
                self.best = Some((self.counts.clone(), paid));
                break;
            }
            n += 1;
            self.take(row, 1, &mut rest);
        }
        self.counts[row] = 0;
    }

    /// Sheets of a row that would do alone, as far as it holds anything; on the last row more than there can be where it
    /// does not.
    fn enough(&self, row: usize, rest: &[i128]) -> u64 {
        let need = |(cover, &rest): (&Cover, &i128)| match i128::from(cover.holds[row]) {
            _ if rest <= 0 => 0,
            0 => u64::from(u32::MAX) + 1,
            holds => u64::try_from((rest + holds - 1) / holds).unwrap_or(u64::MAX),
        };
        self.covers.all.iter().zip(rest).map(need).max().unwrap_or(0).min(u64::from(u32::MAX) + 1)
    }

    fn take(&self, row: usize, sheets: u64, rest: &mut [i128]) {
        for (cover, rest) in self.covers.all.iter().zip(rest) {
            *rest -= i128::from(cover.holds[row]) * i128::from(sheets);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::model::{Format, NO_LIMIT, PieceKind, UPRIGHT};

    fn model(costs: &[u64], available: u32) -> Instance {
        let kinds = vec![PieceKind { w: 1, h: 1, count: 1, ways: vec![UPRIGHT; costs.len()] }];
        let format = |&cost: &u64| Format { w: cost as i32, h: 1, available, cost };
        Instance::new(kinds, costs.iter().map(format).collect(), 100)
    }

    fn cover(volume: i128, holds: &[i128]) -> Cover {
        Cover::new(volume, holds, BoundName::Area).unwrap()
    }

    #[test]
    fn only_sums_that_sheets_can_cost_are_bounds() {
        // Letter sheets at 9.35 and 12 x 12 at 14.40, area 25: by fractions 25.00; three letter are 28.05, a letter and a
        // large one are 23.75, which is too little, so two large ones at 28.80 or three letter: 28.05 it is.
        let model = model(&[935, 1440], NO_LIMIT);
        let mut covers = Covers::default();
        covers.add(cover(2_500, &[935, 1440]));
        let sum = covers.cheapest(&model, &[]).unwrap();
        assert_eq!((sum.counts, sum.cost, sum.name), (vec![3, 0], 2_805, BoundName::Area));
        // All inequalities at once: a second one that letter sheets hardly help with.
        covers.add(cover(10, &[1, 10]));
        assert_eq!(covers.cheapest(&model, &[]).unwrap().counts, [0, 2]);
        assert_eq!(covers.cheapest(&model, &[vec![0, 2]]).unwrap().counts, [2, 1]);
    }

    #[test]
    fn sheets_that_run_out_are_kept_to() {
        let model = model(&[2, 3], 2);
        let mut covers = Covers::default();
        covers.add(cover(9, &[2, 3]));
        assert_eq!(covers.cheapest(&model, &[]).unwrap().counts, [2, 2]);
        covers.add(cover(11, &[2, 3]));
        assert_eq!(covers.cheapest(&model, &[]), None, "that much is not there");
    }

    #[test]
    fn rows_that_hold_nothing_do_not_end_the_walk() {
        let model = model(&[5, 1], NO_LIMIT);
        let mut covers = Covers::default();
        covers.add(cover(3, &[1, 0]));
        let sum = covers.cheapest(&model, &[]).unwrap();
        assert_eq!((sum.counts, sum.cost), (vec![3, 0], 15));
    }
}
