//! Column generation: prices against layouts until no layout is worth more than its sheet, then whole sheets.
//!
//! At every step the prices are also a proof: rounded to whole numbers, with the exact most that each sheet can be
//! worth, they give a lower bound on cost for any edge-to-edge plan, limited stock and free offcuts included.

use super::exact::Exact;
use super::master::Master;
use super::pattern::{Pattern, Rounded};
use crate::domain::cutting::dual::{Bound, least_cost};
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};
use crate::domain::cutting::planner::shape::Shape;
use crate::domain::cutting::recreate::bin::Bin;

/// Most kinds for which prices are worked out.
const MOST_KINDS: usize = 120;
/// Layouts asked for before giving up on reaching the best mix.
const MOST_LAYOUTS: usize = 3_000;
/// Price steps in the cost of the dearest sheet.
const FINE: f64 = (1_u64 << 42) as f64;

/// The state of one column generation.
pub(crate) struct Columns {
    master: Master,
    tables: Vec<Exact>,
    stock_rows: Vec<Option<usize>>,
    dearest: f64,
    patterns: Vec<Pattern>,
    /// The best bound so far.
    pub bound: Bound,
    /// True once no layout helps any more (or none can be asked for).
    pub done: bool,
    format: usize,
    worth: Vec<i128>,
    helped: bool,
    prices: Vec<f64>,
    scaled: Vec<f64>,
}

impl Columns {
    /// Prepares a job; `None` where it has too many sizes for exact prices.
    pub(crate) fn new(model: &Instance) -> Option<Self> {
        if model.kinds.len() > MOST_KINDS || model.formats.len() > MOST_KINDS {
            return None;
        }
        let tables: Option<Vec<Exact>> = (0..model.formats.len()).map(|f| Exact::new(model, f)).collect();
        let tables = tables?;
        let demands: Vec<f64> = model.kinds.iter().map(|k| f64::from(k.count)).collect();
        let mut stocks = Vec::new();
        let mut stock_rows = Vec::new();
        for f in &model.formats {
            stock_rows.push((f.available != NO_LIMIT).then_some(demands.len() + stocks.len()));
            if f.available != NO_LIMIT {
                stocks.push(f64::from(f.available));
            }
        }
        let dearest = model.dearest();
        let master = Master::new(&demands, &stocks, 100.0 * dearest);
        Some(Self {
            master,
            tables,
            stock_rows,
            dearest,
            patterns: Vec::new(),
            bound: Bound { cost: 0, name: BoundName::Prices },
            done: false,
            format: 0,
            worth: Vec::new(),
            helped: false,
            prices: Vec::new(),
            scaled: Vec::new(),
        })
    }

    /// Adds a layout found elsewhere.
    pub(crate) fn add(&mut self, model: &Instance, pattern: Pattern) {
        let format = usize::from(pattern.format);
        let mut entries: Vec<(u16, f64)> = pattern.counts.iter().map(|&(k, n)| (k, f64::from(n))).collect();
        if let Some(row) = self.stock_rows[format] {
            entries.push((row as u16, 1.0));
        }
        self.master.add(model.formats[format].cost as f64, entries);
        self.patterns.push(pattern);
    }

    /// Works until about `budget` additions are spent or nothing is left to do.
    pub(crate) fn work(&mut self, model: &Instance, mut budget: u64) {
        while !self.done && !model.stop.is_asked() {
            if self.format == 0 {
                self.master.solve(5_000);
                self.prices = self.master.prices();
                let scale = FINE / self.dearest;
                self.scaled =
                    self.prices[..model.kinds.len()].iter().map(|p| (p * scale).floor().max(0.0)).collect();
                self.worth.clear();
                self.helped = false;
            }
            let spent = self.ask(model, self.format);
            self.format += 1;
            if self.format == self.tables.len() {
                self.format = 0;
                self.prove(model);
                self.done = !self.helped || self.patterns.len() >= MOST_LAYOUTS;
            }
            if spent >= budget {
                return;
            }
            budget -= spent;
        }
    }

    /// Asks for the best layout of one format at the present prices.
    fn ask(&mut self, model: &Instance, format: usize) -> u64 {
        let table = &mut self.tables[format];
        let worth = table.solve(&self.scaled);
        self.worth.push(worth as i128);
        let scale = FINE / self.dearest;
        let stock_price = self.stock_rows[format].map_or(0.0, |row| self.prices[row]);
        let gain = worth / scale + stock_price - model.formats[format].cost as f64;
        if gain > 1e-6 * self.dearest {
            let shape = table.layout(&self.scaled);
            self.accept(model, format, shape);
        }
        self.tables[format].work
    }

    fn accept(&mut self, model: &Instance, format: usize, shape: Shape) {
        let bin = Bin::build(model, format as u16, shape);
        if bin.is_empty() || !bin.keeps_to(model.max_cut) {
            return;
        }
        let pattern = Pattern::of(bin);
        let known = self.patterns.iter().any(|p| p.format == pattern.format && p.counts == pattern.counts);
        if !known {
            self.helped = true;
            self.add(model, pattern);
        }
    }

    /// Turns the present prices into a bound: no sheet is worth more than was found, and all pieces must be paid for.
    fn prove(&mut self, model: &Instance) {
        let volume: i128 =
            model.kinds.iter().zip(&self.scaled).map(|(k, &p)| i128::from(k.count) * p as i128).sum();
        let cost = least_cost(model, volume, &self.worth);
        self.bound = self.bound.or(Bound { cost, name: BoundName::Prices });
    }

    /// Every layout known.
    pub(crate) fn patterns(&self) -> &[Pattern] {
        &self.patterns
    }

    /// The best mix: layout and how often.
    pub(crate) fn mix(&self) -> Vec<(usize, f64)> {
        self.master.solution()
    }

    /// Rounds the mix to whole sheets, each number down after adding between `-spread` and 0 (or more), so that
    /// every call may give another start for the rest.
    pub(crate) fn round(&self, model: &Instance, dice: &mut Dice, share: f64, spread: f64) -> Rounded {
        let mut need: Vec<i64> = model.kinds.iter().map(|k| i64::from(k.count)).collect();
        let mut stock: Vec<u32> = model.formats.iter().map(|f| f.available).collect();
        let mut taken: Vec<(usize, u32)> = Vec::new();
        let mut mix = self.mix();
        // Large numbers first: what they leave over shows which of the rest is still of use.
        mix.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        for (at, times) in mix {
            let throw = dice.below(1000) as f64 / 1000.0;
            let wanted = (times * share + spread * throw + 1e-6).floor().max(0.0) as u32;
            let pattern = &self.patterns[at];
            let format = usize::from(pattern.format);
            let mut copies = wanted;
            if stock[format] != NO_LIMIT {
                copies = copies.min(stock[format]);
            }
            // A sheet of which half would be surplus is not worth taking.
            while copies > 0 && !pattern.is_mostly_needed(model, &need, copies) {
                copies -= 1;
            }
            if copies == 0 {
                continue;
            }
            if stock[format] != NO_LIMIT {
                stock[format] -= copies;
            }
            for &(k, n) in &pattern.counts {
                need[usize::from(k)] -= i64::from(n * copies);
            }
            taken.push((at, copies));
        }
        Rounded::new(model, &self.patterns, &taken, need)
    }
}
