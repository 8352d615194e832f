//! Full sheets that ruin and recreate came across, new ones that suit them, and the best choice among them.
//!
//! A search sees thousands of well-filled sheets and keeps those of one plan only. Here they are remembered, the
//! cheapest mix that makes all pieces is worked out as a linear program (set covering, as Monaci & Toth 2006 do for
//! bin packing in two dimensions), tables add layouts that the search did not see, and the mix is made whole, a sheet at a
//! time. The rest goes back to a search.

use super::covering::{Covering, Needed, Tables};
use super::descent::Descent;
use super::harvest::Harvest;
use super::known::Known;
use super::pattern::Rounded;
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::Instance;

/// Sheets kept; beyond them, the half that is worth most stays.
const MOST_SHEETS: usize = 4_000;
/// A mix that costs more than this share of a sheet too much is not made whole: that hardly ever comes off.
const REACH: f64 = 0.05;
/// Additions of one round (about 50 ms: longer ones would keep the other lane waiting), and those of them that go to the mix of
/// all at most.
const ADDITIONS: u64 = 100_000_000;
const FOR_ALL: u64 = 50_000_000;
/// A round that took less has time for a search, too.
const SHORT: u64 = 20_000_000;
/// Pieces to a sheet up to which new layouts are looked for and the way goes on to the end; with more a search finds more.
const FEW_TO_A_SHEET: f64 = 5.0;
/// Rounds without a use for the pool double up to so many.
const LONGEST_WAIT: u32 = 8;

/// The sheets picked up so far.
#[derive(Default)]
pub(crate) struct Pool {
    known: Known,
    /// The program of the whole job, and the tables that go with it.
    root: Option<Covering>,
    tables: Option<Tables>,
    descent: Descent,
    /// Worth of one piece of each kind at the last program; empty before it.
    prices: Vec<f64>,
    /// Rounds to wait before the next try, and how long the last wait was.
    wait: u32,
    last_wait: u32,
}

/// What came of a round.
pub(crate) enum Chosen {
    /// No mix comes near the limit; there is time for something else.
    Nothing,
    /// The round was spent, nothing came of it yet.
    Open,
    /// Whole sheets and what they leave to be made.
    Sheets(Rounded),
}

impl Pool {
    /// Takes over what a search picked up and tells it what pieces are worth now.
    pub(crate) fn gather(&mut self, harvest: &mut Harvest) {
        for sheet in harvest.found.drain(..) {
            self.known.add(sheet);
        }
        if !self.prices.is_empty() {
            harvest.prices.clone_from(&self.prices);
        }
    }

    /// Forgets the sheets that are worth least where there are too many.
    pub(crate) fn weed(&mut self) {
        if self.known.list().len() > MOST_SHEETS && !self.prices.is_empty() {
            self.known.keep_best(&self.prices, MOST_SHEETS / 2);
            self.root = None;
            self.descent.stop();
        }
    }

    /// True where it is time for another try.
    pub(crate) fn is_due(&mut self) -> bool {
        let due = self.wait == 0 && !self.known.list().is_empty();
        self.wait = self.wait.saturating_sub(1);
        due
    }

    /// Whole sheets that cost no more than `limit`, and a rest that a search can see to.
    pub(crate) fn choose(&mut self, model: &Instance, dice: &mut Dice, limit: u64) -> Chosen {
        let mut budget = ADDITIONS;
        let mut root = self.root.take().unwrap_or_else(|| Covering::new(model));
        let is_coarse = model.pieces() as f64 * model.dearest() <= FEW_TO_A_SHEET * limit as f64;
        let is_solved = self.work_out(model, &mut root, is_coarse, &mut budget);
        self.prices = root.prices(model);
        let mut chosen = Chosen::Open;
        if is_solved && root.cost() <= limit as f64 + REACH * model.dearest() {
            self.descent.goes_deep = is_coarse;
            let found = self.descent.work(model, (&mut self.known, &root), (dice, limit), &mut budget);
            // After each rest the lane's own search has a round.
            (self.wait, self.last_wait) = (u32::from(found.is_some() || !is_coarse), 0);
            chosen = found.map_or(Chosen::Open, Chosen::Sheets);
        } else if is_solved {
            self.postpone();
            if budget > ADDITIONS - SHORT {
                chosen = Chosen::Nothing;
            }
        }
        self.root = Some(root);
        chosen
    }

    /// The cheapest mix for the whole job, with new layouts of few pieces as long as they help and their share of the budget lasts. False
    /// where not even the mix of those known is found.
    fn work_out(&mut self, model: &Instance, root: &mut Covering, is_coarse: bool, budget: &mut u64) -> bool {
        let tables = self.tables.get_or_insert_with(|| Tables::new(model, &Needed::all(model)));
        let least = budget.saturating_sub(FOR_ALL);
        loop {
            root.take_up(model, &self.known);
            if !root.solve(budget) {
                return false;
            }
            if !is_coarse || *budget < least || !root.price(model, tables, &mut self.known, budget) {
                return true;
            }
        }
    }

    /// Waits longer each time that there was nothing to choose.
    fn postpone(&mut self) {
        self.last_wait = (2 * self.last_wait).clamp(1, LONGEST_WAIT);
        self.wait = self.last_wait;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::model::{Format, NO_LIMIT, PieceKind, UPRIGHT};
    use crate::domain::cutting::planner::shape::Shape;
    use crate::domain::cutting::recreate::bin::Bin;

    /// Strips as wide as the sheet, which is a hundred high.
    fn strips(heights: &[i32], available: u32) -> Instance {
        let kinds = heights.iter().map(|&h| PieceKind { w: 10, h, count: 1, ways: vec![UPRIGHT] }).collect();
        Instance::new(kinds, vec![Format { w: 10, h: 100, available, cost: 1 }], 100)
    }

    fn sheet(model: &Instance, kinds: &[u16]) -> Bin {
        let piece = |&kind: &u16| (model.kinds[usize::from(kind)].h, Shape::Piece { kind, turned: false });
        let mut parts: Vec<(i32, Shape)> = kinds.iter().map(piece).collect();
        let used: i32 = parts.iter().map(|p| p.0).sum();
        if used < 100 {
            parts.push((100 - used, Shape::Left));
        }
        Bin::build(model, 0, Shape::Parts { down: false, parts })
    }

    fn pool(model: &Instance, sheets: &[&[u16]]) -> Pool {
        let mut harvest = Harvest::new(model);
        for kinds in sheets {
            harvest.offer(&sheet(model, kinds));
        }
        let mut pool = Pool::default();
        pool.gather(&mut harvest);
        pool
    }

    /// Every piece is on a sheet or missing, none twice.
    fn check(model: &Instance, rounded: &Rounded) {
        let mut made: Vec<u32> = vec![0; model.kinds.len()];
        for bin in &rounded.bins {
            bin.kinds().for_each(|k| made[usize::from(k)] += 1);
        }
        rounded.missing.iter().for_each(|&(k, n)| made[usize::from(k)] += n);
        assert!(model.kinds.iter().zip(&made).all(|(kind, &n)| kind.count == n), "{made:?}");
    }

    /// Works until sheets are chosen.
    fn chosen(pool: &mut Pool, model: &Instance, dice: &mut Dice, limit: u64) -> Option<Rounded> {
        for _ in 0..40 {
            if let Chosen::Sheets(rounded) = pool.choose(model, dice, limit) {
                return Some(rounded);
            }
        }
        None
    }

    #[test]
    fn of_sheets_seen_apart_those_that_belong_together_are_chosen() {
        // 51 + 49, 52 + 48 and so on fill a sheet each; the others seen leave something.
        let heights: Vec<i32> = (1..=20).flat_map(|more| [50 + more, 50 - more]).collect();
        let model = strips(&heights, NO_LIMIT);
        let seen: Vec<[u16; 2]> = (0..39).map(|at| [at, at + 1]).collect();
        let fits = |two: &&[u16; 2]| two.iter().map(|&k| heights[usize::from(k)]).sum::<i32>() <= 100;
        let seen: Vec<&[u16]> = seen.iter().filter(fits).map(<[u16; 2]>::as_slice).collect();
        let (mut pool, mut dice) = (pool(&model, &seen), Dice::new(7));
        for _ in 0..6 {
            let rounded = chosen(&mut pool, &model, &mut dice, 20).expect("twenty sheets are enough");
            check(&model, &rounded);
            assert!(!rounded.bins.is_empty() && rounded.cost == rounded.bins.len() as u64);
            let missing: i32 = rounded.missing.iter().map(|&(k, n)| n as i32 * heights[usize::from(k)]).sum();
            assert!(missing <= 100 * (20 - rounded.cost as i32), "the rest fits on what is left");
        }
    }

    #[test]
    fn where_no_mix_comes_near_the_limit_nothing_is_chosen() {
        let model = strips(&[60, 61, 62, 38], NO_LIMIT);
        let mut pool = pool(&model, &[&[0, 3], &[1, 3], &[2, 3]]);
        assert!(matches!(pool.choose(&model, &mut Dice::new(7), 2), Chosen::Nothing));
        assert!(!pool.is_due(), "it waits before it tries again");
    }

    #[test]
    fn surplus_pieces_are_taken_off_and_stock_is_kept_to() {
        let mut dice = Dice::new(3);
        let (mut rests, mut loose) = (0, 0);
        for _ in 0..12 {
            let heights: Vec<i32> = (0..40).map(|at| 14 + at + dice.below(5) as i32).collect();
            let sheets = (heights.iter().sum::<i32>() as u32).div_ceil(100) + 1;
            let model = strips(&heights, sheets);
            let mut seen: Vec<Vec<u16>> = (0..40).map(|at| vec![at, (at + 7) % 40, (at + 16) % 40]).collect();
            seen.retain(|three| three.iter().map(|&k| heights[usize::from(k)]).sum::<i32>() <= 100);
            let seen: Vec<&[u16]> = seen.iter().map(Vec::as_slice).collect();
            let mut pool = pool(&model, &seen);
            for _ in 0..6 {
                let Some(rounded) = chosen(&mut pool, &model, &mut dice, u64::from(sheets)) else { break };
                check(&model, &rounded);
                assert!(rounded.bins.len() as u32 <= sheets);
                rests += 1;
                loose += rounded.loose;
            }
        }
        assert!(rests > 30 && loose > 0, "{rests} {loose}");
    }

    #[test]
    fn the_same_pieces_are_picked_up_once() {
        let model = strips(&[60, 40], NO_LIMIT);
        let mut harvest = Harvest::new(&model);
        harvest.offer(&sheet(&model, &[0, 1]));
        harvest.offer(&sheet(&model, &[1, 0]));
        harvest.offer(&sheet(&model, &[1]));
        assert_eq!(harvest.found.len(), 1, "and a sheet that is mostly empty is not");
    }
}
