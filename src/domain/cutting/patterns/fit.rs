//! Could so many sheets of each row hold all pieces? A linear program that leaves out as few as possible, with new layouts
//! asked for at its prices. Where some stay out in any mix of layouts, the prices are an inequality that keeps these numbers
//! of sheets out, and often many others with them; where none does, the mix is a place to set out from.

use super::master::Master;
use crate::domain::cutting::covers::Cover;
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::planner::model::Instance;

/// Price steps in the worth of one piece that stays out.
const FINE: f64 = (1_u64 << 32) as f64;
/// Less than this of a piece outside is none.
const NOISE: f64 = 1e-6;
/// Turns after which a program is given up: its last steps gain next to nothing.
const MOST_TURNS: u32 = 150;

/// Kinds on a sheet and their numbers.
pub(crate) type Counts = Vec<(u16, u32)>;

/// What a sheet is worth at some prices.
pub(crate) struct Priced {
    /// No layout is worth more.
    pub bound: f64,
    /// The layout found: its place among all layouts and its pieces; none where none was.
    pub layout: Option<(usize, Counts)>,
}

/// Layouts of one sheet at prices for its pieces.
pub(crate) trait Pricer {
    /// The best layout of a row, at whole values for each kind; `None` where it cannot be said. Counts down what it went through.
    fn price(&mut self, row: usize, values: &[f64], budget: &mut u64) -> Option<Priced>;
}

/// Whoever knows layouts and finds more.
pub(crate) trait Layouts {
    /// A program for some numbers of sheets, with every layout known.
    fn begin(&self, model: &Instance, counts: Vec<u32>) -> Fit;
    /// Works on it until the answer is there or about so many additions are spent.
    fn work(&mut self, model: &Instance, fit: &mut Fit, budget: &mut u64) -> Fitted;
}

/// What came of a program.
pub(crate) enum Fitted {
    /// The budget ran out before its end.
    Open,
    /// These sheets are too few, as the inequality shows.
    TooFew(Cover),
    /// Parts of layouts would make all pieces from them: layouts and how much of each.
    Fits(Vec<(usize, f64)>),
    /// Nothing can be said.
    Unknown,
}

/// The program for some numbers of sheets.
pub(crate) struct Fit {
    /// Sheets of each row.
    pub counts: Vec<u32>,
    master: Master,
    /// The place of each column among all layouts.
    layouts: Vec<usize>,
    kinds: usize,
    turns: u32,
}

impl Fit {
    /// A program that knows no layout yet.
    pub(crate) fn new(model: &Instance, counts: Vec<u32>) -> Self {
        let demands: Vec<f64> = model.kinds.iter().map(|k| f64::from(k.count)).collect();
        let stocks: Vec<f64> = counts.iter().map(|&n| f64::from(n)).collect();
        let kinds = demands.len();
        Self { counts, master: Master::new(&demands, &stocks, 1.0), layouts: Vec::new(), kinds, turns: 0 }
    }

    /// Takes up a layout.
    pub(crate) fn add(&mut self, place: usize, row: usize, counts: &Counts) {
        let mut entries: Vec<(u16, f64)> = counts.iter().map(|&(k, n)| (k, f64::from(n))).collect();
        entries.push(((self.kinds + row) as u16, 1.0));
        self.master.add(0.0, entries);
        self.layouts.push(place);
    }

    /// Works until the answer is there or the budget is spent.
    pub(crate) fn work(&mut self, model: &Instance, pricer: &mut dyn Pricer, budget: &mut u64) -> Fitted {
        loop {
            if *budget == 0 || model.stop.is_asked() {
                return Fitted::Open;
            }
            self.turns += 1;
            self.master.solve(2_000);
            *budget = budget.saturating_sub(self.master.work_of_a_pivot() * 10);
            if self.master.cost() < NOISE {
                return Fitted::Fits(self.mix());
            }
            if self.turns > MOST_TURNS {
                return Fitted::Unknown;
            }
            let prices = self.master.prices();
            let values: Vec<f64> = prices[..self.kinds].iter().map(|p| (p * FINE).floor().max(0.0)).collect();
            let (mut holds, mut has_helped) = (Vec::new(), false);
            for row in 0..self.counts.len() {
                let Some(priced) = pricer.price(row, &values, budget) else { return Fitted::Unknown };
                holds.push(priced.bound as i128);
                let Some((place, counts)) = priced.layout.filter(|_| self.counts[row] > 0) else { continue };
                let worth: f64 = counts.iter().map(|&(k, n)| prices[usize::from(k)] * f64::from(n)).sum();
                if worth + prices[self.kinds + row] > NOISE {
                    self.add(place, row, &counts);
                    has_helped = true;
                }
            }
            let volume: i128 =
                model.kinds.iter().zip(&values).map(|(k, &v)| i128::from(k.count) * v as i128).sum();
            let held: i128 = holds.iter().zip(&self.counts).map(|(h, &n)| h * i128::from(n)).sum();
            if volume > held {
                return Cover::new(volume, &holds, BoundName::Prices).map_or(Fitted::Unknown, Fitted::TooFew);
            }
            if !has_helped {
                return Fitted::Unknown;
            }
        }
    }

    /// Layouts and how much of each.
    pub(crate) fn mix(&self) -> Vec<(usize, f64)> {
        self.master.solution().into_iter().map(|(at, share)| (self.layouts[at], share)).collect()
    }
}
