//! Full sheets that ruin and recreate came across, and the best choice among them.
//!
//! A search sees thousands of well-filled sheets and keeps those of one plan only. Here they are remembered, the
//! cheapest mix that makes all pieces is worked out as a linear program (set covering, as Monaci & Toth 2006 do for
//! bin packing in two dimensions), and its fractions are made whole, a sheet at a time. The rest goes back to a search.

use super::harvest::Harvest;
use super::master::Master;
use super::pattern::{Pattern, Rounded};
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};

/// Sheets kept; beyond them, the half that is worth most stays.
const MOST_SHEETS: usize = 4_000;
/// Sheets worth less than this share of their cost are not chosen from.
const NEAR: f64 = 0.85;
/// A mix that costs more than this share of a sheet too much is not made whole: that hardly ever comes off.
const REACH: f64 = 0.25;
/// A sheet of which the mix takes this much is taken.
const ALMOST_WHOLE: f64 = 0.9;
/// How much of a sheet chance adds to what the mix takes of it.
const CHANCE: f64 = 0.2;
/// What a piece costs that is on no sheet, in dearest sheets.
const MISSING: f64 = 1.1;
/// Additions that the programs of one choice may take (0.2 s at most, a quarter of it as a rule).
const ADDITIONS: u64 = 300_000_000;
/// Rounds without a use for the pool double up to so many.
const LONGEST_WAIT: u32 = 8;

/// The sheets picked up so far.
#[derive(Clone, Debug, Default)]
pub(crate) struct Pool {
    sheets: Vec<Pattern>,
    /// Worth of one piece of each kind at the last program; empty before it.
    prices: Vec<f64>,
    /// Rounds to wait before the next try, and how long the last wait was.
    wait: u32,
    last_wait: u32,
}

/// The cheapest mix: sheets and how much of each, what pieces are worth, what it costs.
struct Mix {
    parts: Vec<(usize, f64)>,
    prices: Vec<f64>,
    cost: f64,
}

/// A choice in the making.
struct Choice {
    need: Vec<i64>,
    stock: Vec<u32>,
    spent: u64,
    taken: Vec<(usize, u32)>,
}

impl Pool {
    /// Takes over what a search picked up and tells it what pieces are worth now.
    pub(crate) fn gather(&mut self, harvest: &mut Harvest) {
        self.sheets.append(&mut harvest.found);
        if !self.prices.is_empty() {
            harvest.prices.clone_from(&self.prices);
        }
    }

    /// Forgets the sheets that are worth least where there are too many.
    pub(crate) fn weed(&mut self) {
        if self.sheets.len() > MOST_SHEETS && !self.prices.is_empty() {
            let prices = &self.prices;
            self.sheets.sort_by(|a, b| b.worth(prices).total_cmp(&a.worth(prices)));
            self.sheets.truncate(MOST_SHEETS / 2);
        }
    }

    /// True where it is time for another try.
    pub(crate) fn is_due(&mut self) -> bool {
        let due = self.wait == 0 && !self.sheets.is_empty();
        self.wait = self.wait.saturating_sub(1);
        due
    }

    /// Whole sheets of the cheapest mix, until `share` of `limit` is spent. `None` where no mix comes near the limit.
    pub(crate) fn choose(
        &mut self,
        model: &Instance,
        dice: &mut Dice,
        limit: u64,
        share: f64,
    ) -> Option<Rounded> {
        let mut choice = Choice {
            need: model.kinds.iter().map(|k| i64::from(k.count)).collect(),
            stock: model.formats.iter().map(|f| f.available).collect(),
            spent: 0,
            taken: Vec::new(),
        };
        let all: Vec<usize> = (0..self.sheets.len()).collect();
        let mut budget = ADDITIONS;
        let Some(mut mix) = self.mix(model, &all, &choice, &mut budget) else {
            self.postpone();
            return None;
        };
        self.prices = std::mem::take(&mut mix.prices);
        if mix.cost > limit as f64 + REACH * model.dearest() {
            self.postpone();
            return None;
        }
        (self.wait, self.last_wait) = (1, 1);
        let near = self.near(model);
        let enough = (share * limit as f64) as u64;
        while self.take_some(model, &mut choice, mix.ranked(dice), limit.min(enough)) && choice.spent < enough
        {
            match self.mix(model, &near, &choice, &mut budget) {
                Some(next) => mix = next,
                None => break,
            }
        }
        Some(Rounded::new(model, &self.sheets, &choice.taken, choice.need))
    }

    /// Waits longer each time that there was nothing to choose.
    fn postpone(&mut self) {
        self.last_wait = (2 * self.last_wait).clamp(1, LONGEST_WAIT);
        self.wait = self.last_wait;
    }

    /// Takes the first of ranked sheets, and all that the mix takes nearly whole.
    fn take_some(
        &self,
        model: &Instance,
        choice: &mut Choice,
        ranked: Vec<(f64, usize)>,
        limit: u64,
    ) -> bool {
        let before = choice.spent;
        for (n, (x, at)) in ranked.into_iter().enumerate() {
            if n > 0 && x < ALMOST_WHOLE {
                break;
            }
            choice.take(model, at, &self.sheets[at], limit);
        }
        choice.spent > before
    }

    /// The sheets that are worth nearly their cost.
    fn near(&self, model: &Instance) -> Vec<usize> {
        let is_near = |sheet: &Pattern| {
            sheet.worth(&self.prices) >= NEAR * model.formats[usize::from(sheet.format)].cost as f64
        };
        (0..self.sheets.len()).filter(|&at| is_near(&self.sheets[at])).collect()
    }

    /// The cheapest mix of some sheets for what a choice still needs; `None` where the budget runs out before it is found.
    fn mix(&self, model: &Instance, sheets: &[usize], choice: &Choice, budget: &mut u64) -> Option<Mix> {
        let needed: Vec<usize> = (0..choice.need.len()).filter(|&k| choice.need[k] > 0).collect();
        let limited: Vec<usize> = (0..choice.stock.len()).filter(|&f| choice.stock[f] != NO_LIMIT).collect();
        let demands: Vec<f64> = needed.iter().map(|&k| choice.need[k] as f64).collect();
        let stocks: Vec<f64> = limited.iter().map(|&f| f64::from(choice.stock[f])).collect();
        // A piece that stays out is a little dearer than a sheet of its own.
        let mut master = Master::new(&demands, &stocks, MISSING * model.dearest());
        let mut columns = Vec::new();
        for &at in sheets {
            let sheet = &self.sheets[at];
            let format = usize::from(sheet.format);
            let mut entries: Vec<(u16, f64)> = Vec::new();
            for &(kind, n) in &sheet.counts {
                if let Ok(row) = needed.binary_search(&usize::from(kind)) {
                    entries.push((row as u16, i64::from(n).min(choice.need[usize::from(kind)]) as f64));
                }
            }
            if entries.is_empty() {
                continue;
            }
            if let Ok(row) = limited.binary_search(&format) {
                entries.push(((needed.len() + row) as u16, 1.0));
            }
            master.add(model.formats[format].cost as f64, entries);
            columns.push(at);
        }
        let each = master.work_of_a_pivot();
        let is_solved = master.solve(u32::try_from(*budget / each).unwrap_or(u32::MAX));
        *budget = budget.saturating_sub(each * u64::from(master.pivots));
        if !is_solved {
            return None;
        }
        let mut prices = vec![0.0; choice.need.len()];
        for (&kind, price) in needed.iter().zip(master.prices()) {
            prices[kind] = price.max(0.0);
        }
        let parts = master.solution().iter().map(|&(column, x)| (columns[column], x)).collect();
        Some(Mix { parts, prices, cost: master.cost() })
    }
}

impl Mix {
    /// Its sheets, that of which it takes most first, give or take some chance.
    fn ranked(self, dice: &mut Dice) -> Vec<(f64, usize)> {
        let mut chance = || CHANCE * dice.below(1_000) as f64 / 1_000.0;
        let mut ranked: Vec<(f64, usize)> =
            self.parts.into_iter().map(|(at, x)| (x + chance(), at)).collect();
        ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        ranked
    }
}

impl Choice {
    /// Takes a sheet if there is one, it may be paid and most of it is needed.
    fn take(&mut self, model: &Instance, at: usize, sheet: &Pattern, limit: u64) {
        let format = usize::from(sheet.format);
        let cost = model.formats[format].cost;
        if self.stock[format] == 0
            || self.spent + cost > limit
            || !sheet.is_mostly_needed(model, &self.need, 1)
        {
            return;
        }
        if self.stock[format] != NO_LIMIT {
            self.stock[format] -= 1;
        }
        self.spent += cost;
        for &(kind, n) in &sheet.counts {
            self.need[usize::from(kind)] -= i64::from(n);
        }
        match self.taken.iter_mut().find(|t| t.0 == at) {
            Some(taken) => taken.1 += 1,
            None => self.taken.push((at, 1)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::model::{Format, PieceKind, UPRIGHT};
    use crate::domain::cutting::planner::shape::Shape;
    use crate::domain::cutting::recreate::bin::Bin;

    /// Strips as wide as the sheet, which is ten high.
    fn strips(heights: &[i32], available: u32) -> Instance {
        let kinds = heights.iter().map(|&h| PieceKind { w: 10, h, count: 1, ways: vec![UPRIGHT] }).collect();
        Instance::new(kinds, vec![Format { w: 10, h: 10, available, cost: 1 }], 10)
    }

    fn sheet(model: &Instance, kinds: &[u16]) -> Bin {
        let piece = |&kind: &u16| (model.kinds[usize::from(kind)].h, Shape::Piece { kind, turned: false });
        let mut parts: Vec<(i32, Shape)> = kinds.iter().map(piece).collect();
        let used: i32 = parts.iter().map(|p| p.0).sum();
        if used < 10 {
            parts.push((10 - used, Shape::Left));
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

    #[test]
    fn of_sheets_seen_apart_those_that_belong_together_are_chosen() {
        // 6 + 4, 7 + 3, 5 + 5 fill three sheets; the others seen lead to four.
        let model = strips(&[6, 4, 7, 3, 5, 5], NO_LIMIT);
        let seen: [&[u16]; 6] = [&[0, 1], &[0, 3], &[2, 3], &[4, 1], &[4, 5], &[5, 1]];
        let mut pool = pool(&model, &seen);
        let rounded = pool.choose(&model, &mut Dice::new(7), 3, 1.0).expect("three sheets are near");
        check(&model, &rounded);
        assert_eq!((rounded.bins.len(), rounded.cost, rounded.missing.len()), (3, 3, 0));
    }

    #[test]
    fn where_no_mix_comes_near_the_limit_nothing_is_chosen() {
        let model = strips(&[6, 6, 6, 4], NO_LIMIT);
        let mut pool = pool(&model, &[&[0, 3], &[1, 3], &[2, 3]]);
        assert!(pool.choose(&model, &mut Dice::new(7), 2, 1.0).is_none());
        assert!(!pool.is_due(), "it waits before it tries again");
    }

    #[test]
    fn surplus_pieces_are_taken_off_and_stock_is_kept_to() {
        // The first 2 is on both sheets that are needed; there are two sheets only.
        let model = strips(&[6, 2, 2, 6, 2], 2);
        let mut pool = pool(&model, &[&[0, 1, 2], &[3, 4, 1]]);
        let rounded = pool.choose(&model, &mut Dice::new(3), 2, 1.0).expect("two sheets are near");
        check(&model, &rounded);
        assert_eq!((rounded.bins.len(), rounded.loose), (2, 1));
    }

    #[test]
    fn the_same_pieces_are_picked_up_once() {
        let model = strips(&[6, 4], NO_LIMIT);
        let mut harvest = Harvest::new(&model);
        harvest.offer(&sheet(&model, &[0, 1]));
        harvest.offer(&sheet(&model, &[1, 0]));
        harvest.offer(&sheet(&model, &[1]));
        assert_eq!(harvest.found.len(), 1, "and a sheet that is mostly empty is not");
    }
}
