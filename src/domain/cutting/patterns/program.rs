//! The linear program of what a dive has still to make, and the tables that find new layouts for it.

use super::capped::Capped;
use super::master::Master;
use super::pattern::Pattern;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};

/// Pivots of one solution.
const MOST_PIVOTS: u32 = 2_000;
/// Layouts taken up from one table at once: of many copies there are few layouts that matter.
const AT_ONCE: usize = 1;
/// What a piece costs that is on no sheet, in dearest sheets.
const MISSING: f64 = 1.1;
/// A layout helps where it is worth more than its sheet by this share of the dearest one.
const GAIN: f64 = 1e-5;

/// What is still to be made, and from what.
#[derive(Clone)]
pub(super) struct Wanted {
    /// Pieces of each kind.
    pub need: Vec<u32>,
    /// Sheets of each row; [`NO_LIMIT`] where they never run out.
    pub stock: Vec<u32>,
}

/// The cheapest mix: layouts and how much of each, what it costs.
#[derive(Clone)]
pub(super) struct Mix {
    pub parts: Vec<(usize, f64)>,
    pub cost: f64,
}

/// The program of what is left.
pub(super) struct Program {
    master: Master,
    /// The layout of each column.
    columns: Vec<usize>,
    /// Kinds still wanted and rows of sheets of which there are so many only: a row of the program for each.
    needed: Vec<usize>,
    limited: Vec<usize>,
}

impl Program {
    /// The program of what is wanted over the layouts known.
    pub(super) fn new(model: &Instance, wanted: &Wanted, layouts: &[Pattern]) -> Self {
        let needed: Vec<usize> = (0..wanted.need.len()).filter(|&k| wanted.need[k] > 0).collect();
        let limited: Vec<usize> = (0..wanted.stock.len()).filter(|&f| wanted.stock[f] != NO_LIMIT).collect();
        let demands: Vec<f64> = needed.iter().map(|&k| f64::from(wanted.need[k])).collect();
        let there: Vec<f64> = limited.iter().map(|&f| f64::from(wanted.stock[f])).collect();
        let master = Master::new(&demands, &there, MISSING * model.dearest());
        let mut program = Self { master, columns: Vec::new(), needed, limited };
        for column in layouts.iter().enumerate() {
            program.add(model, wanted, column);
        }
        program
    }

    /// Takes up a layout with its number, as far as it makes what is needed.
    pub(super) fn add(&mut self, model: &Instance, wanted: &Wanted, (at, layout): (usize, &Pattern)) {
        let format = usize::from(layout.format);
        if wanted.stock[format] == 0 {
            return;
        }
        let mut entries: Vec<(u16, f64)> = Vec::new();
        for &(kind, n) in &layout.counts {
            if let Ok(row) = self.needed.binary_search(&usize::from(kind)) {
                entries.push((row as u16, f64::from(n.min(wanted.need[usize::from(kind)]))));
            }
        }
        if entries.is_empty() {
            return;
        }
        if let Ok(row) = self.limited.binary_search(&format) {
            entries.push(((self.needed.len() + row) as u16, 1.0));
        }
        self.master.add(model.formats[format].cost as f64, entries);
        self.columns.push(at);
    }

    /// Solves it within so many pivots, takes them off a budget, and tells what the mix costs.
    pub(super) fn solve(&mut self, budget: &mut u64) -> f64 {
        let before = self.master.pivots;
        self.master.solve(MOST_PIVOTS);
        let pivots = u64::from(self.master.pivots - before);
        *budget = budget.saturating_sub(pivots * self.master.work_of_a_pivot());
        self.master.cost()
    }

    /// The price of each kind of the job; nothing for what is made.
    pub(super) fn prices(&self, model: &Instance) -> Vec<f64> {
        let mut prices = vec![0.0; model.kinds.len()];
        for (&k, price) in self.needed.iter().zip(self.master.prices()) {
            prices[k] = price.max(0.0);
        }
        prices
    }

    /// What the last sheet of a limited row is worth, as a negative price; zero where there are enough.
    fn stock_price(&self, row: usize) -> f64 {
        let place = self.limited.binary_search(&row);
        place.map_or(0.0, |at| self.master.prices()[self.needed.len() + at])
    }

    /// The mix of the last solution.
    pub(super) fn mix(&self) -> Mix {
        let used = self.master.solution();
        Mix {
            parts: used.iter().map(|&(column, x)| (self.columns[column], x)).collect(),
            cost: self.master.cost(),
        }
    }
}

/// A table for each row of sheets, for the numbers wanted at one wanted.
pub(super) struct Tables(Vec<(usize, Capped)>);

impl Tables {
    /// Tables for the rows of which there are sheets left and that something wanted goes on.
    pub(super) fn new(model: &Instance, wanted: &Wanted) -> Self {
        let there = (0..model.formats.len()).filter(|&f| wanted.stock[f] > 0);
        Self(there.filter_map(|f| Some((f, Capped::new(model, f, &wanted.need)?))).collect())
    }

    /// Layouts that are worth more than their sheets at the prices of a program, one for each row at most, as far as the budget
    /// goes.
    pub(super) fn best(&mut self, model: &Instance, program: &Program, budget: &mut u64) -> Vec<Pattern> {
        let prices = program.prices(model);
        let mut found = Vec::new();
        for (row, table) in &mut self.0 {
            if *budget == 0 {
                break;
            }
            *budget = budget.saturating_sub(table.work);
            let least = model.formats[*row].cost as f64 - program.stock_price(*row) + GAIN * model.dearest();
            let layouts = table.best(model, &prices, (least, AT_ONCE));
            found.extend(layouts.into_iter().filter(|layout| layout.worth(&prices) > least));
        }
        found
    }
}
