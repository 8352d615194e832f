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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::covers::Covers;
    use crate::domain::cutting::dual;
    use crate::domain::cutting::patterns::columns::Columns;
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::grade::Taste;
    use crate::domain::cutting::planner::model::{Format, Instance, NO_LIMIT, PieceKind, TURNED, UPRIGHT};
    use crate::domain::cutting::planner::packing::{Engine, Packing};
    use crate::domain::cutting::planner::tight::Tight;
    use crate::domain::cutting::planner::{few, first, fullest};
    use crate::domain::cutting::question::Preference;

    const TASTE: Taste = Taste { preference: Preference::LargestOffcut, keep: (1, 1), sheets_per_stroke: 1 };

    /// A few pieces on one or two rows of sheets; ways that a sheet has no room for are none.
    fn thrown(dice: &mut Dice) -> Instance {
        let rows = 1 + dice.below(2);
        let row = |w, h, cost| Format { w, h, available: NO_LIMIT, cost };
        let formats: Vec<Format> = [row(12, 12, 7), row(8, 11, 5)].into_iter().take(rows).collect();
        let mut kind = || {
            let (w, h) = (2 + dice.below(9) as i32, 2 + dice.below(9) as i32);
            let (count, may_turn) = (1 + dice.below(3) as u32, dice.below(2) == 0);
            let bit = |bit: u8, may: bool| if may { bit } else { 0 };
            let ways = |f: &Format| {
                bit(UPRIGHT, w <= f.w && h <= f.h) | bit(TURNED, may_turn && h <= f.w && w <= f.h)
            };
            PieceKind { w, h, count, ways: formats.iter().map(ways).collect() }
        };
        let kinds: Vec<PieceKind> = (0..5).map(|_| kind()).collect();
        Instance::new(kinds, formats, 100)
    }

    /// Every inequality that anything finds, each from its own way of looking.
    fn found(model: &Instance, best: &Packing) -> Covers {
        let mut covers = Covers::default();
        let bound = dual::bound_with(model, 1, &mut covers);
        let mut news: Vec<Cover> = fullest::cover(model).into_iter().collect();
        let mut columns = Columns::new(model).unwrap();
        while !columns.done {
            columns.work(model, 1_000_000);
        }
        news.append(&mut columns.covers);
        for layouts in [&mut columns as &mut dyn Layouts, &mut Tight::default()] {
            // What the others found is left out, so that each has to find its own.
            let mut known = Covers::default();
            dual::bound_with(model, 1, &mut known);
            let aim = Aim { model, taste: TASTE, best, bound, covers: &known, polish: false };
            let mut sums = Sums::default();
            for _ in 0..60 {
                if !sums.ask(&aim, &mut news, &mut { 10_000_000 }, layouts) {
                    break;
                }
            }
        }
        for cover in news {
            covers.add(cover);
        }
        covers
    }

    #[test]
    fn no_inequality_keeps_out_the_cheapest_plan() {
        let mut dice = Dice::new(21);
        let mut tried = 0;
        for _ in 0..60 {
            let model = thrown(&mut dice);
            let Some(few) = few::cheapest(&model) else { continue };
            let mut counts = vec![0; model.formats.len()];
            for bin in &few {
                counts[usize::from(bin.format)] += 1;
            }
            let (bins, outside) = first::greedy(&model);
            let best = Packing::new(&model, TASTE, bins, outside, Engine::Greedy);
            let cost: u64 = few.iter().map(|bin| model.formats[usize::from(bin.format)].cost).sum();
            let covers = found(&model, &best);
            assert!(covers.allow(&counts), "{counts:?} sheets hold all of it\n{covers:?}\n{model:?}");
            assert!(dual::bound(&model, 1).cost <= cost);
            tried += 1;
        }
        assert!(tried > 40, "{tried}");
    }
}
