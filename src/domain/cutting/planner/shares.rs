//! Whether a few dozen pieces, or a few kinds of more, go on cheaper sheets than the best plan takes, exactly: every choice of
//! pieces that one sheet has room for is known, and for the numbers of sheets that would be cheaper every way is tried to
//! share the pieces out.
//!
//! The largest piece that has no sheet yet says which choices come next; each leaves no room for another of the pieces
//! that wait (a sheet that has room for more loses nothing by taking it), and each is as full as the sheets after it make
//! necessary. What failed once is remembered.

use super::aim::Aim;
use super::model::{Format, Instance};
use super::rooms::{Choices, Table};
use crate::domain::cutting::recreate::bin::Bin;
use std::collections::BTreeSet;

/// Choices up to which it is tried, kinds, pieces of one kind, and sheets of the best plan.
const MOST_CHOICES: usize = 4_000_000;
const MOST_KINDS: usize = 16;
const MOST_OF_A_KIND: u32 = 127;
const MOST_SHEETS: usize = 40;
/// What one round may go through (about 60 ms; a parting of a choice counts as eight choices), and all together.
const WORK: u64 = 3_000_000;
const ALL_WORK: u64 = 300_000_000;
/// Numbers of sheets gone through.
const MOST_SUMS: usize = 2_000;

/// What came of it.
pub(super) enum Shared {
    /// The budget of the round ran out.
    Open,
    /// Cheaper sheets that hold all pieces.
    Cheaper(Vec<Bin>),
    /// Nothing is cheaper than the best plan.
    NoneCheaper,
    /// It takes too much work.
    Unknown,
}

/// A choice that a sheet has room for.
#[derive(Clone, Copy)]
struct Load {
    choice: usize,
    area: i64,
    /// Its numbers, a byte for each kind.
    counts: u128,
}

/// The top bit of every byte: borrowed from where a number is too small.
const GUARDS: u128 = u128::from_be_bytes([0x80; 16]);

/// The search, which goes on from round to round.
pub(super) struct Shares {
    table: Table,
    /// By row of sheets and by largest kind: fullest first. Empty until the table is whole.
    loads: Vec<Vec<Vec<Load>>>,
    /// Kinds by area, largest first.
    order: Vec<usize>,
    /// Pieces and numbers of sheets that are too few for them.
    failed: BTreeSet<(usize, Vec<u32>)>,
    left: u64,
}

impl Shares {
    /// A search that has not begun; `None` where there are too many pieces.
    pub(super) fn new(model: &Instance) -> Option<Self> {
        let is_small =
            model.kinds.len() <= MOST_KINDS && model.kinds.iter().all(|k| k.count <= MOST_OF_A_KIND);
        let choices = is_small.then(|| Choices::new(model, MOST_CHOICES)).flatten()?;
        let mut order: Vec<usize> = (0..model.kinds.len()).collect();
        order.sort_by_key(|&k| (std::cmp::Reverse(model.kinds[k].area()), k));
        let table = Table::new(model, choices)?;
        Some(Self { table, loads: Vec::new(), order, failed: BTreeSet::default(), left: ALL_WORK })
    }

    /// One round of it.
    pub(super) fn round(&mut self, aim: &Aim<'_>) -> Shared {
        if !aim.best.outside.is_empty() || aim.best.bins.len() > MOST_SHEETS || self.left == 0 {
            return Shared::Unknown;
        }
        let mut budget = WORK.min(self.left);
        self.left -= budget;
        if !self.table.work(aim.model, &mut budget) {
            return Shared::Open;
        }
        if self.loads.is_empty() {
            self.loads = (0..aim.model.formats.len()).map(|row| self.loads_of(aim.model, row)).collect();
        }
        let Some(sums) = cheaper_sums(aim) else { return Shared::Unknown };
        for counts in sums {
            let mut sheets = Vec::new();
            let mut search = Sharing { shares: self, model: aim.model, budget: &mut budget };
            match search.share(search.shares.table.choices.all - 1, counts, &mut sheets) {
                Some(true) => return self.bins(aim.model, &sheets).map_or(Shared::Unknown, Shared::Cheaper),
                Some(false) => {}
                None => return Shared::Open,
            }
        }
        Shared::NoneCheaper
    }

    /// Every choice that a sheet of a row has room for.
    fn loads_of(&self, model: &Instance, row: usize) -> Vec<Vec<Load>> {
        let mut loads = vec![Vec::new(); model.kinds.len()];
        for choice in 1..self.table.choices.all {
            if self.table.fits(model, row, choice) {
                loads[self.largest(choice)].push(self.load(model, choice));
            }
        }
        for of_kind in &mut loads {
            of_kind.sort_by_key(|load| (std::cmp::Reverse(load.area), load.choice));
        }
        loads
    }

    fn load(&self, model: &Instance, choice: usize) -> Load {
        let (mut area, mut counts) = (0, 0);
        for (k, kind) in model.kinds.iter().enumerate() {
            let n = self.table.choices.of(choice, k);
            area += kind.area() * i64::from(n);
            counts |= u128::from(n) << (8 * k);
        }
        Load { choice, area, counts }
    }

    /// The largest kind of a choice that is not empty.
    fn largest(&self, choice: usize) -> usize {
        self.order.iter().copied().find(|&k| self.table.choices.of(choice, k) > 0).unwrap_or(0)
    }

    /// True where a sheet has no room for another of the pieces that wait.
    fn is_full(&self, model: &Instance, row: usize, choice: usize, waiting: usize) -> bool {
        let choices = &self.table.choices;
        let more = |k: usize| choices.of(waiting, k) > choices.of(choice, k);
        let takes = |k: usize| more(k) && self.table.fits(model, row, choice + choices.place[k]);
        !(0..model.kinds.len()).any(takes)
    }

    fn bins(&self, model: &Instance, sheets: &[(usize, usize)]) -> Option<Vec<Bin>> {
        sheets.iter().map(|&(row, choice)| self.table.bin(model, row, choice)).collect()
    }
}

/// Sharing pieces out among sheets.
struct Sharing<'a> {
    shares: &'a mut Shares,
    model: &'a Instance,
    budget: &'a mut u64,
}

impl Sharing<'_> {
    /// True where so many sheets of each row hold a choice, with the row and the choice of each sheet; `None` where the budget
    /// ran out before that is known.
    fn share(&mut self, waiting: usize, counts: Vec<u32>, sheets: &mut Vec<(usize, usize)>) -> Option<bool> {
        if waiting == 0 {
            return Some(true);
        }
        let all = self.shares.load(self.model, waiting);
        let areas = || self.model.formats.iter().map(Format::area);
        let room: i64 = areas().zip(&counts).map(|(area, &n)| area * i64::from(n)).sum();
        if all.area > room || self.shares.failed.contains(&(waiting, counts.clone())) {
            return Some(false);
        }
        let largest = self.shares.largest(waiting);
        for row in 0..counts.len() {
            if counts[row] == 0 {
                continue;
            }
            let mut rest = counts.clone();
            rest[row] -= 1;
            let least = all.area - (room - self.model.formats[row].area());
            for at in 0..self.shares.loads[row][largest].len() {
                let load = self.shares.loads[row][largest][at];
                if load.area < least {
                    break;
                }
                *self.budget = self.budget.checked_sub(1)?;
                let is_part = ((all.counts | GUARDS) - load.counts) & GUARDS == GUARDS;
                if !is_part || !self.shares.is_full(self.model, row, load.choice, waiting) {
                    continue;
                }
                sheets.push((row, load.choice));
                if self.share(waiting - load.choice, rest.clone(), sheets)? {
                    return Some(true);
                }
                sheets.pop();
            }
        }
        self.shares.failed.insert((waiting, counts));
        Some(false)
    }
}

/// Numbers of sheets that cost less than the best plan, meet all that is known, and are no part of one another; `None` where
/// there are too many.
fn cheaper_sums(aim: &Aim<'_>) -> Option<Vec<Vec<u32>>> {
    let formats = &aim.model.formats;
    let pieces = u32::try_from(aim.model.pieces()).unwrap_or(u32::MAX);
    let mut sums: Vec<(Vec<u32>, u64)> = vec![(Vec::new(), 0)];
    for format in formats {
        let mut longer = Vec::new();
        for (counts, cost) in sums {
            for n in 0..=format.available.min(pieces) {
                let cost = cost + format.cost * u64::from(n);
                if cost >= aim.best.grade.cost {
                    break;
                }
                longer.push(([counts.as_slice(), &[n]].concat(), cost));
            }
            if longer.len() > MOST_SUMS {
                return None;
            }
        }
        sums = longer;
    }
    let mut known: Vec<Vec<u32>> = sums.into_iter().map(|s| s.0).filter(|s| aim.covers.allow(s)).collect();
    let all = known.clone();
    let is_in = |a: &[u32], b: &[u32]| a != b && a.iter().zip(b).all(|(a, b)| a <= b);
    known.retain(|counts| !all.iter().any(|more| is_in(counts, more)));
    Some(known)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::covers::Covers;
    use crate::domain::cutting::dual::Bound;
    use crate::domain::cutting::plan::BoundName;
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::grade::Taste;
    use crate::domain::cutting::planner::model::{NO_LIMIT, PieceKind, TURNED, UPRIGHT};
    use crate::domain::cutting::planner::packing::{Engine, Packing};
    use crate::domain::cutting::planner::{few, first};
    use crate::domain::cutting::question::Preference;

    const TASTE: Taste = Taste { preference: Preference::LargestOffcut, keep: (1, 1), sheets_per_stroke: 1 };

    /// Works until nothing is cheaper; returns what that costs.
    fn least(model: &Instance, mut best: Packing) -> u64 {
        let mut shares = Shares::new(model).unwrap();
        let bound = Bound { cost: 0, name: BoundName::Nothing };
        loop {
            let covers = Covers::default();
            let aim = Aim { model, taste: TASTE, best: &best, bound, covers: &covers, polish: false };
            match shares.round(&aim) {
                Shared::Open => {}
                Shared::Cheaper(bins) => {
                    let better = Packing::new(model, TASTE, bins, Vec::new(), Engine::Few);
                    assert!(better.grade.cost < best.grade.cost);
                    best = better;
                }
                Shared::NoneCheaper => return best.grade.cost,
                Shared::Unknown => panic!("so few pieces take too much work: {model:?}"),
            }
        }
    }

    #[test]
    fn the_cheapest_sheets_are_those_that_all_choices_of_a_few_pieces_show() {
        let mut dice = Dice::new(9);
        let mut shared = 0;
        for _ in 0..150 {
            let mut kind = || PieceKind {
                w: 2 + dice.below(9) as i32,
                h: 2 + dice.below(9) as i32,
                count: 1 + dice.below(3) as u32,
                ways: vec![[UPRIGHT, UPRIGHT | TURNED][dice.below(2)]; 2],
            };
            let kinds: Vec<PieceKind> = (0..5).map(|_| kind()).collect();
            let row = |w, h, cost| Format { w, h, available: [NO_LIMIT, 2][usize::from(cost == 5)], cost };
            let model = Instance::new(kinds, vec![row(12, 12, 7), row(8, 11, 5)], 100);
            let (bins, outside) = first::greedy(&model);
            let best = Packing::new(&model, TASTE, bins, outside, Engine::Greedy);
            let Some(few) = few::cheapest(&model).filter(|_| best.bins.len() <= MOST_SHEETS) else {
                continue;
            };
            let cost: u64 = few.iter().map(|bin| model.formats[usize::from(bin.format)].cost).sum();
            assert_eq!(least(&model, best), cost, "{model:?}");
            shared += 1;
        }
        assert!(shared > 100, "{shared}");
    }
}
