//! The numbers of sheets that a better plan could take, cheapest first: each is shown to be too few, or gives a mix of
//! layouts to set out from.

use super::aim::Aim;
use crate::domain::cutting::covers::Cover;
use crate::domain::cutting::patterns::fit::{Fit, Fitted, Layouts};

/// Numbers of sheets that may do, looked for at once.
const MOST_OPEN: usize = 8;

/// Numbers of sheets that no inequality keeps out.
pub(super) struct Open {
    pub counts: Vec<u32>,
    pub cost: u64,
    /// Layouts and how much of each.
    pub mix: Vec<(usize, f64)>,
    /// How often a plan was looked for.
    pub tries: u32,
}

/// What is known about numbers of sheets so far.
#[derive(Default)]
pub(super) struct Sums {
    pub open: Vec<Open>,
    /// Numbers that need not be asked about again.
    known: Vec<Vec<u32>>,
    fit: Option<Fit>,
}

impl Sums {
    /// Goes on through the numbers of sheets that cost less than the best plan, within a budget: inequalities that keep some
    /// of them out go into `covers`. True while there is more to ask about.
    pub(super) fn ask(
        &mut self,
        aim: &Aim<'_>,
        found: &mut Vec<Cover>,
        budget: &mut u64,
        layouts: &mut dyn Layouts,
    ) -> bool {
        self.open.retain(|open| open.cost < aim.best.grade.cost);
        let mut covers = aim.covers.clone();
        for cover in found.iter() {
            covers.add(cover.clone());
        }
        while *budget > 0 && self.open.len() < MOST_OPEN {
            let sum = covers.cheapest(aim.model, &self.known);
            let Some(sum) = sum.filter(|sum| sum.cost < aim.best.grade.cost) else { return false };
            let begun = self.fit.take().filter(|fit| fit.counts == sum.counts);
            let mut fit = begun.unwrap_or_else(|| layouts.begin(aim.model, sum.counts.clone()));
            let mix = match layouts.work(aim.model, &mut fit, budget) {
                Fitted::Open => {
                    self.fit = Some(fit);
                    return true;
                }
                Fitted::TooFew(cover) => {
                    found.push(cover.clone());
                    covers.add(cover);
                    continue;
                }
                Fitted::Fits(mix) => mix,
                Fitted::Unknown => fit.mix(),
            };
            self.known.push(sum.counts.clone());
            self.open.push(Open { counts: sum.counts, cost: sum.cost, mix, tries: 0 });
        }
        *budget == 0 && self.open.len() < MOST_OPEN
    }

    /// The numbers that were tried least, the cheapest of them.
    pub(super) fn next(&mut self) -> Option<&mut Open> {
        self.open.iter_mut().min_by_key(|open| (open.tries, open.cost))
    }
}
