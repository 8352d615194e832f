//! Column generation: prices against layouts until no layout is worth more than its sheet, then whole sheets.
//!
//! At every step the prices are also a proof: rounded to whole numbers, with the exact most that each sheet can be
//! worth, they give a lower bound on cost for any edge-to-edge plan, limited stock and free offcuts included.

use super::exact::Exact;
use super::fit::{Fit, Fitted, Layouts, Priced, Pricer};
use super::master::Master;
use super::pattern::{Pattern, Rounded};
use crate::domain::cutting::covers::Cover;
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
/// How near the prices asked at lie to those of the best bound so far.
const PULL: f64 = 0.6;
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
    /// The prices that layouts are asked for at, and whether they lie between others.
    asked: Vec<f64>,
    is_between: bool,
    /// The prices of the best bound so far, and that bound.
    middle: Vec<f64>,
    height: f64,
    /// What the prices say about how many sheets it takes, not handed over yet.
    pub covers: Vec<Cover>,
}

/// Inequalities handed over at the end: the last ones are the strongest.
const HANDED_OVER: usize = 3;

/// Layouts, how much of each, and the sheets that there are.
pub(crate) struct Mix {
    /// Layout and how often.
    pub parts: Vec<(usize, f64)>,
    /// Sheets of each row.
    pub stock: Vec<u32>,
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
            asked: Vec::new(),
            is_between: false,
            middle: Vec::new(),
            height: 0.0,
            covers: Vec::new(),
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
                self.set_prices(model.kinds.len());
                self.worth.clear();
                self.helped = false;
            }
            let spent = self.ask(model, self.format);
            self.format += 1;
            if self.format == self.tables.len() {
                self.format = 0;
                self.prove(model);
                // Where prices from between help no more, those of the mix itself decide.
                let is_end = !self.helped && !self.is_between;
                self.is_between = self.helped;
                self.done = is_end || self.patterns.len() >= MOST_LAYOUTS;
            }
            if spent >= budget {
                return;
            }
            budget -= spent;
        }
    }

    /// The prices to ask at: between those of the mix and those that gave the best bound so far, since the prices of a mix
    /// swing widely from one layout to the next (smoothing after Wentges 1997).
    fn set_prices(&mut self, kinds: usize) {
        let scale = FINE / self.dearest;
        let pull = if self.is_between && !self.middle.is_empty() { PULL } else { 0.0 };
        let asked = |(at, p): (usize, &f64)| p * (1.0 - pull) + self.middle.get(at).unwrap_or(p) * pull;
        self.asked = self.prices[..kinds].iter().enumerate().map(asked).collect();
        self.scaled = self.asked.iter().map(|p| (p * scale).floor().max(0.0)).collect();
    }

    /// Asks for the best layout of one format at the present prices.
    fn ask(&mut self, model: &Instance, format: usize) -> u64 {
        let table = &mut self.tables[format];
        let worth = table.solve(&self.scaled);
        self.worth.push(worth as i128);
        let scale = FINE / self.dearest;
        let stock_price = self.stock_rows[format].map_or(0.0, |row| self.prices[row]);
        let least = 1e-6 * self.dearest + model.formats[format].cost as f64 - stock_price;
        // At prices of the mix itself no layout is worth more than this one.
        if self.is_between || worth / scale > least {
            let shape = table.layout(&self.scaled);
            self.accept(model, format, shape, least);
        }
        self.tables[format].work
    }

    /// Takes up a layout that is worth more than so much at the prices of the mix.
    fn accept(&mut self, model: &Instance, format: usize, shape: Shape, least: f64) {
        let bin = Bin::build(model, format as u16, shape);
        if bin.is_empty() || !bin.keeps_to(model.max_cut) {
            return;
        }
        let pattern = Pattern::of(bin);
        if pattern.worth(&self.prices) <= least {
            return;
        }
        if self.place_of(&pattern).is_none() {
            self.helped = true;
            self.add(model, pattern);
        }
    }

    fn place_of(&self, pattern: &Pattern) -> Option<usize> {
        self.patterns.iter().position(|p| p.format == pattern.format && p.counts == pattern.counts)
    }

    /// Turns the present prices into a bound: no sheet is worth more than was found, and all pieces must be paid for.
    fn prove(&mut self, model: &Instance) {
        let volume: i128 =
            model.kinds.iter().zip(&self.scaled).map(|(k, &p)| i128::from(k.count) * p as i128).sum();
        let cost = least_cost(model, volume, &self.worth);
        if cost >= self.bound.cost {
            self.covers.extend(Cover::new(volume, &self.worth, BoundName::Prices));
            self.covers.drain(..self.covers.len().saturating_sub(HANDED_OVER));
        }
        self.bound = self.bound.or(Bound { cost, name: BoundName::Prices });
        let by_row = self.worth.iter().zip(&model.formats).filter(|(worth, _)| **worth > 0);
        let cheapest = by_row.map(|(&worth, f)| f.cost as f64 / worth as f64).fold(f64::INFINITY, f64::min);
        let height = cheapest * volume as f64;
        if height > self.height {
            self.height = height;
            self.middle.clone_from(&self.asked);
        }
    }

    /// Every layout known.
    pub(crate) fn patterns(&self) -> &[Pattern] {
        &self.patterns
    }

    /// The best mix, from all the sheets that there are.
    pub(crate) fn mix(&self, model: &Instance) -> Mix {
        Mix { parts: self.master.solution(), stock: model.formats.iter().map(|f| f.available).collect() }
    }

    /// Rounds a mix to whole sheets, each number down after it was multiplied by the share and up to `spread` was added, so
    /// that every call may give another start for the rest.
    pub(crate) fn round(
        &self,
        model: &Instance,
        mix: Mix,
        dice: &mut Dice,
        (share, spread): (f64, f64),
    ) -> Rounded {
        let mut need: Vec<i64> = model.kinds.iter().map(|k| i64::from(k.count)).collect();
        let Mix { parts: mut mix, mut stock } = mix;
        let mut taken: Vec<(usize, u32)> = Vec::new();
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

impl Layouts for Columns {
    fn begin(&self, model: &Instance, counts: Vec<u32>) -> Fit {
        let mut fit = Fit::new(model, counts);
        for (place, pattern) in self.patterns.iter().enumerate() {
            fit.add(place, usize::from(pattern.format), &pattern.counts);
        }
        fit
    }

    fn work(&mut self, model: &Instance, fit: &mut Fit, budget: &mut u64) -> Fitted {
        fit.work(model, &mut Asked { columns: self, model }, budget)
    }
}

/// Layouts for the programs of [`Fit`]: any number of each kind on a sheet; new ones are known from then on.
struct Asked<'a> {
    columns: &'a mut Columns,
    model: &'a Instance,
}

impl Pricer for Asked<'_> {
    fn price(&mut self, row: usize, values: &[f64], budget: &mut u64) -> Option<Priced> {
        let table = self.columns.tables.get_mut(row)?;
        let bound = table.solve(values);
        *budget = budget.saturating_sub(table.work);
        let bin = Bin::build(self.model, row as u16, table.layout(values));
        if bin.is_empty() || !bin.keeps_to(self.model.max_cut) {
            return Some(Priced { bound, layout: None });
        }
        let pattern = Pattern::of(bin);
        let counts = pattern.counts.clone();
        let known = self.columns.place_of(&pattern);
        let place = known.unwrap_or_else(|| {
            self.columns.add(self.model, pattern);
            self.columns.patterns.len() - 1
        });
        Some(Priced { bound, layout: Some((place, counts)) })
    }
}
