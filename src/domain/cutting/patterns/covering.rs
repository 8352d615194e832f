//! The linear program of a whole job over known layouts (set covering), which goes on from one mix to the next: when layouts
//! are taken up, and when some of the pieces are made already.

use super::capped::Capped;
use super::known::Known;
use super::master::Master;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};

/// What a piece costs that is on no sheet, in dearest sheets: a little more than a sheet of its own.
const MISSING: f64 = 1.1;
/// Layouts taken up from one table at once.
const AT_ONCE: usize = 8;
/// A layout helps where it is worth more than its sheet by this share of the dearest one.
const GAIN: f64 = 1e-5;

/// The program: a row for each kind, then one for each row of sheets of which there are so many only.
#[derive(Clone)]
pub(super) struct Covering {
    master: Master,
    /// Layouts in it: the first of those known.
    taken_up: usize,
    limited: Vec<usize>,
}

/// What is still to be made, and from what.
#[derive(Clone)]
pub(super) struct Needed {
    /// Pieces of each kind; below zero where there are too many.
    pub pieces: Vec<i64>,
    /// Sheets of each row; [`NO_LIMIT`] where they never run out.
    pub stock: Vec<u32>,
}

impl Needed {
    /// All of a job.
    pub(super) fn all(model: &Instance) -> Self {
        Self {
            pieces: model.kinds.iter().map(|k| i64::from(k.count)).collect(),
            stock: model.formats.iter().map(|f| f.available).collect(),
        }
    }
}

impl Covering {
    /// The program of all of a job, over no layouts yet.
    pub(super) fn new(model: &Instance) -> Self {
        let rows = 0..model.formats.len();
        let limited: Vec<usize> = rows.filter(|&f| model.formats[f].available != NO_LIMIT).collect();
        let demands: Vec<f64> = model.kinds.iter().map(|k| f64::from(k.count)).collect();
        let stocks: Vec<f64> = limited.iter().map(|&f| f64::from(model.formats[f].available)).collect();
        let master = Master::new(&demands, &stocks, MISSING * model.dearest());
        Self { master, taken_up: 0, limited }
    }

    /// Takes up the known layouts that it does not have yet.
    pub(super) fn take_up(&mut self, model: &Instance, known: &Known) {
        for layout in &known.list()[self.taken_up..] {
            let format = usize::from(layout.format);
            let mut entries: Vec<(u16, f64)> =
                layout.counts.iter().map(|&(k, n)| (k, f64::from(n))).collect();
            if let Ok(row) = self.limited.binary_search(&format) {
                entries.push(((model.kinds.len() + row) as u16, 1.0));
            }
            self.master.add(model.formats[format].cost as f64, entries);
        }
        self.taken_up = known.list().len();
    }

    /// Asks for what is still needed; to be solved anew then.
    pub(super) fn ask_for(&mut self, model: &Instance, needed: &Needed) {
        for (row, &n) in needed.pieces.iter().enumerate() {
            self.master.ask_for(row, n.max(0) as f64);
        }
        for (row, &f) in self.limited.iter().enumerate() {
            self.master.ask_for(model.kinds.len() + row, f64::from(needed.stock[f]));
        }
    }

    /// Solves it; false where the budget (in additions) runs out before.
    pub(super) fn solve(&mut self, budget: &mut u64) -> bool {
        self.within(budget, Master::solve)
    }

    /// The same after other numbers were asked for.
    pub(super) fn solve_anew(&mut self, budget: &mut u64) -> bool {
        *budget = budget.saturating_sub(self.work_of_a_pivot());
        self.within(budget, Master::recover) && self.solve(budget)
    }

    fn within(&mut self, budget: &mut u64, pivot: impl Fn(&mut Master, u32) -> bool) -> bool {
        let (each, before) = (self.work_of_a_pivot(), self.master.pivots);
        let is_done = pivot(&mut self.master, u32::try_from(*budget / each).unwrap_or(u32::MAX));
        *budget = budget.saturating_sub(each * u64::from(self.master.pivots - before));
        is_done
    }

    /// Additions of one pivot, about.
    pub(super) fn work_of_a_pivot(&self) -> u64 {
        self.master.work_of_a_pivot()
    }

    /// What the mix costs.
    pub(super) fn cost(&self) -> f64 {
        self.master.cost()
    }

    /// Layouts of the mix and how much of each.
    pub(super) fn mix(&self) -> Vec<(usize, f64)> {
        self.master.solution()
    }

    /// The price of a piece of each kind.
    pub(super) fn prices(&self, model: &Instance) -> Vec<f64> {
        self.master.prices().into_iter().take(model.kinds.len()).map(|price| price.max(0.0)).collect()
    }

    /// Adds layouts to those known that are worth more than their sheets. False where the tables find none.
    pub(super) fn price(
        &self,
        model: &Instance,
        tables: &mut Tables,
        known: &mut Known,
        budget: &mut u64,
    ) -> bool {
        let all = self.master.prices();
        let prices = self.prices(model);
        let mut is_better = false;
        for (row, table) in &mut tables.0 {
            *budget = budget.saturating_sub(table.work);
            let place = self.limited.binary_search(row);
            let stock_price = place.map_or(0.0, |at| all[model.kinds.len() + at]);
            let least = model.formats[*row].cost as f64 - stock_price + GAIN * model.dearest();
            for layout in table.best(model, &prices, (least, AT_ONCE)) {
                is_better |= layout.worth(&prices) > least && known.add(layout);
            }
        }
        is_better
    }
}

/// A table for each row of sheets.
pub(super) struct Tables(Vec<(usize, Capped)>);

impl Tables {
    /// For the rows of which there are sheets left and that something needed goes on.
    pub(super) fn new(model: &Instance, needed: &Needed) -> Self {
        let pieces: Vec<u32> = needed.pieces.iter().map(|&n| u32::try_from(n).unwrap_or(0)).collect();
        let there = (0..model.formats.len()).filter(|&f| needed.stock[f] > 0);
        Self(there.filter_map(|f| Some((f, Capped::new(model, f, &pieces)?))).collect())
    }
}
