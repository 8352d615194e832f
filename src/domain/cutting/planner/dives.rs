//! Dives of one lane: which sheets each may take, and what comes of them.

use super::aim::Aim;
use super::dice::Dice;
use super::model::Instance;
use super::sums::Sums;
use crate::domain::cutting::patterns::capped;
use crate::domain::cutting::patterns::columns::Columns;
use crate::domain::cutting::patterns::dive::Dive;
use crate::domain::cutting::patterns::harvest::Harvest;
use crate::domain::cutting::patterns::pattern::Rounded;

/// Rows of sheets up to which there are dives: each has a table of its own at every choice.
const MOST_ROWS: usize = 8;
/// So many dives from all the sheets that there are come to one from each of the numbers of sheets that may do.
const FREE: usize = 2;
/// Sheets that the search for a rest comes across are kept where they are worth this share of their cost at the prices of the
/// whole job.
const WORTH: f64 = 0.97;

/// The dives of a lane.
#[derive(Default)]
pub(super) struct Dives {
    dive: Dive,
    /// Layouts of the column generation that were taken up.
    given: usize,
    /// Numbers of sheets that may do for a better plan.
    targets: Vec<Vec<u32>>,
    begun: usize,
}

impl Dives {
    /// True where the job is of a kind that dives were found to pay for, and layouts to begin with are known.
    pub(super) fn are_ready(&self, model: &Instance) -> bool {
        self.dive.known() > 0 && model.kinds.len() <= capped::MOST_KINDS && model.formats.len() <= MOST_ROWS
    }

    /// Goes on with a dive, within a budget of additions: whole sheets that cost no more than `limit`, what they leave to be
    /// made, and the sheets that there are for all of it.
    pub(super) fn round(
        &mut self,
        aim: &Aim<'_>,
        dice: &mut Dice,
        (limit, budget): (u64, u64),
    ) -> Option<(Rounded, Vec<u32>)> {
        if self.dive.is_at_start() {
            let model = aim.model;
            self.targets.retain(|counts| cost(model, counts) <= limit);
            self.begun += 1;
            let at = self.begun % (FREE + self.targets.len());
            let all = || model.formats.iter().map(|f| f.available).collect();
            self.dive.set_stock(at.checked_sub(FREE).map_or_else(all, |at| self.targets[at].clone()));
        }
        let rounded = self.dive.work(aim.model, dice, limit, budget)?;
        (rounded.cost <= limit).then(|| (rounded, self.dive.stock().to_vec()))
    }

    /// Says which sheets are worth keeping.
    pub(super) fn ask(&self, model: &Instance, harvest: &mut Option<Harvest>) {
        if !self.dive.prices.is_empty() {
            harvest.get_or_insert_with(|| Harvest::new(model)).ask_for(model, &self.dive.prices, WORTH);
        }
    }

    /// Takes up the sheets that were kept.
    pub(super) fn gather(&mut self, harvest: &mut Option<Harvest>) {
        for pattern in harvest.iter_mut().flat_map(|h| h.found.drain(..)) {
            self.dive.add(&pattern);
        }
    }

    /// Gives both lanes what the column generation and the dives of the other found, and the numbers of sheets to dive for.
    pub(super) fn share([first, second]: [&mut Self; 2], columns: &Columns, sums: &Sums) {
        let patterns = columns.patterns();
        for pattern in &patterns[second.given.min(patterns.len())..] {
            second.dive.add(pattern);
            first.dive.add(pattern);
        }
        second.given = patterns.len();
        let news = [std::mem::take(&mut first.dive.news), std::mem::take(&mut second.dive.news)];
        for pattern in &news[0] {
            second.dive.add(pattern);
        }
        for pattern in &news[1] {
            first.dive.add(pattern);
        }
        second.targets = sums.open.iter().map(|open| open.counts.clone()).collect();
        first.targets.clone_from(&second.targets);
    }
}

/// What so many sheets of each row cost.
fn cost(model: &Instance, counts: &[u32]) -> u64 {
    counts.iter().zip(&model.formats).map(|(&n, f)| u64::from(n) * f.cost).sum()
}
