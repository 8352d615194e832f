//! What a search picks up on its way: sheets filled well enough that a plan may want them.

use super::pattern::Pattern;
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::Instance;
use crate::domain::cutting::recreate::bin::Bin;
use std::collections::BTreeSet;

/// A sheet is picked up if it is worth this share of its cost.
const WORTH: f64 = 0.9;
/// A sheet without cost counts as this share of what new paper of its area costs.
const FREE: f64 = 0.7;
/// Sheets remembered as seen; beyond them all are forgotten.
const MOST_SEEN: usize = 200_000;

/// Sheets picked up, each once.
#[derive(Clone, Debug)]
pub(crate) struct Harvest {
    /// Worth of one piece of each kind, in costs; by area before anybody says better.
    pub prices: Vec<f64>,
    /// What a sheet of each format has to be worth.
    least: Vec<f64>,
    seen: BTreeSet<u64>,
    /// Sheets not handed over yet.
    pub found: Vec<Pattern>,
}

impl Harvest {
    /// Nothing picked up yet.
    pub(crate) fn new(model: &Instance) -> Self {
        let paid = model.formats.iter().filter(|f| f.cost > 0);
        let per_area = paid.map(|f| f.cost as f64 / f.area() as f64).fold(f64::INFINITY, f64::min);
        let per_area = if per_area.is_finite() { per_area } else { 1.0 };
        let prices = model.kinds.iter().map(|k| k.area() as f64 * per_area).collect();
        let least =
            |cost: u64, area: i64| WORTH * if cost > 0 { cost as f64 } else { FREE * per_area * area as f64 };
        let least = model.formats.iter().map(|f| least(f.cost, f.area())).collect();
        Self { prices, least, seen: BTreeSet::new(), found: Vec::new() }
    }

    /// Keeps to sheets that are worth so much of their cost at these prices.
    pub(crate) fn ask_for(&mut self, model: &Instance, prices: &[f64], share: f64) {
        self.prices = prices.to_vec();
        for (least, format) in self.least.iter_mut().zip(&model.formats) {
            if format.cost > 0 {
                *least = share * format.cost as f64;
            }
        }
    }

    /// Looks at a filled sheet and keeps a copy where it is worth its cost and new.
    pub(crate) fn offer(&mut self, bin: &Bin) {
        let (mut worth, mut key) = (0.0, u64::from(bin.format));
        for kind in bin.kinds() {
            worth += self.prices[usize::from(kind)];
            // A sum of scattered numbers names the pieces in whatever order they lie.
            key = key.wrapping_add(Dice::new((1 + u64::from(kind)) << 20).bits());
        }
        if worth < self.least[usize::from(bin.format)] || !self.seen.insert(key) {
            return;
        }
        if self.seen.len() > MOST_SEEN {
            self.seen.clear();
        }
        self.found.push(Pattern::of(bin.clone()));
    }
}
