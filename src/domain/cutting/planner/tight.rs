//! How many sheets a few pieces take at least, where no sheet may hold more of a kind than there are: the same programs as
//! with column generation, over layouts that keep to the numbers wanted. Slow for a sheet, so that it is for few pieces.

use super::model::{Instance, TURNED, UPRIGHT};
use crate::domain::cutting::one_sheet::{Effort, SheetPiece, best_choice};
use crate::domain::cutting::patterns::fit::{Counts, Fit, Fitted, Layouts, Priced, Pricer};

/// Pieces up to which it pays.
pub(super) const MOST_PIECES: u64 = 60;
/// What is looked at for one row of sheets (20 to 60 ms).
const EFFORT: Effort = Effort { sums: 20_000_000, builds: 2_000 };
/// The same in additions.
const COST: u64 = 12_000_000;

/// Layouts met so far.
#[derive(Default)]
pub(super) struct Tight {
    layouts: Vec<(usize, Counts)>,
}

impl Tight {
    /// Takes up a layout that is known already.
    pub(super) fn add(&mut self, row: usize, counts: Counts) -> usize {
        if let Some(place) = self.layouts.iter().position(|l| l.0 == row && l.1 == counts) {
            return place;
        }
        self.layouts.push((row, counts));
        self.layouts.len() - 1
    }
}

impl Layouts for Tight {
    fn begin(&self, model: &Instance, counts: Vec<u32>) -> Fit {
        let mut fit = Fit::new(model, counts);
        for (place, (row, counts)) in self.layouts.iter().enumerate() {
            fit.add(place, *row, counts);
        }
        fit
    }

    fn work(&mut self, model: &Instance, fit: &mut Fit, budget: &mut u64) -> Fitted {
        fit.work(model, &mut Asked { tight: self, model }, budget)
    }
}

struct Asked<'a> {
    tight: &'a mut Tight,
    model: &'a Instance,
}

impl Pricer for Asked<'_> {
    fn price(&mut self, row: usize, values: &[f64], budget: &mut u64) -> Option<Priced> {
        *budget = budget.saturating_sub(COST);
        let sheet = self.model.formats.get(row)?;
        let fits: Vec<usize> =
            (0..self.model.kinds.len()).filter(|&k| self.model.kinds[k].ways[row] != 0).collect();
        let kinds: Vec<SheetPiece> =
            fits.iter().map(|&k| kind(self.model, k, row, values[k] as i64)).collect();
        let (worth, chosen) = best_choice(sheet.w, sheet.h, &kinds, EFFORT)?;
        let counts: Counts =
            fits.iter().zip(chosen).filter(|(_, n)| *n > 0).map(|(&k, n)| (k as u16, u32::from(n))).collect();
        let layout = (!counts.is_empty()).then(|| (self.tight.add(row, counts.clone()), counts));
        Some(Priced { bound: worth.bound as f64, layout })
    }
}

fn kind(model: &Instance, at: usize, row: usize, value: i64) -> SheetPiece {
    let kind = &model.kinds[at];
    SheetPiece {
        w: kind.w,
        h: kind.h,
        count: kind.count,
        value,
        upright: kind.ways[row] & UPRIGHT != 0,
        turned: kind.ways[row] & TURNED != 0,
    }
}
