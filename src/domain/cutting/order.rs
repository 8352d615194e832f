//! The order of cuts: a panel must exist before it is cut; then as few moves of the fence as can be; then the longest cut
//! first and narrow settings last.
//!
//! Doing every cut that is possible at the present setting never hurts, so only the next setting is searched, by
//! iterative deepening; the first order found with the fewest moves is also the best by the tie rules. Past a fixed
//! amount of search (never met by real lists) the tie rules alone decide.

use super::question::Trimmer;
use super::runs::Run;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::step::{CutPart, StopCut};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// Positions looked at before the tie rules alone decide.
const MOST_LOOKS: usize = 2_000;
/// Runs gone through for those positions together: a sheet of thousands of pieces has too many for a search.
const MOST_RUNS: usize = 400_000;

/// Runs in cutting order, equal ones together.
pub(super) fn groups(runs: &[Run], trimmer: &Trimmer) -> Vec<Vec<usize>> {
    let mut bench = Bench::new(runs, trimmer);
    let start = vec![false; runs.len()];
    let least = bench.settings.len();
    let settings = (least..=least + 4)
        .find_map(|moves| bench.search(&start, moves))
        .unwrap_or_else(|| bench.by_rule_alone());
    let mut done = start;
    settings.into_iter().flat_map(|setting| bench.emit(&mut done, setting)).collect()
}

struct Bench<'a> {
    runs: &'a [Run],
    trimmer: &'a Trimmer,
    /// The different settings, ascending.
    settings: Vec<Length>,
    /// The place of each run's setting among them, and the runs of each setting.
    place: Vec<usize>,
    at: Vec<Vec<usize>>,
    looks: usize,
    most_looks: usize,
}

/// What makes two runs one step.
type Alike = (Edge, Size, usize, (CutPart, Size), (CutPart, Size), bool, Option<StopCut>);

fn alike(run: &Run) -> Alike {
    (run.edge, run.panel.size, run.cuts.len(), run.part, run.rest, run.exact_fit, run.stop.clone())
}

impl<'a> Bench<'a> {
    fn new(runs: &'a [Run], trimmer: &'a Trimmer) -> Self {
        let mut settings: Vec<Length> = runs.iter().map(|run| run.fence).collect();
        settings.sort_unstable();
        settings.dedup();
        let place: Vec<usize> =
            runs.iter().map(|run| settings.partition_point(|&setting| setting < run.fence)).collect();
        let mut at = vec![Vec::new(); settings.len()];
        for (run, &place) in place.iter().enumerate() {
            at[place].push(run);
        }
        let looks = MOST_LOOKS.min(MOST_RUNS / runs.len().max(1));
        // An order takes a look for each of its settings.
        let most_looks = if looks < settings.len() { 0 } else { looks };
        Self { runs, trimmer, settings, place, at, looks: 0, most_looks }
    }

    fn can_do(&self, done: &[bool], run: usize) -> bool {
        !done[run] && self.runs[run].parent.is_none_or(|p| done[p])
    }

    /// How many different settings are left.
    fn left(&self, done: &[bool]) -> usize {
        self.at.iter().filter(|runs| runs.iter().any(|&r| !done[r])).count()
    }

    /// Settings that some cut could be made at now, as their places, best first: not narrow, longest cut, widest.
    fn choices(&self, done: &[bool]) -> Vec<usize> {
        let mut longest: Vec<Option<Length>> = vec![None; self.settings.len()];
        for run in (0..done.len()).filter(|&r| self.can_do(done, r)) {
            let known = &mut longest[self.place[run]];
            *known = (*known).max(Some(self.runs[run].along));
        }
        let mut all: Vec<(usize, Length)> =
            longest.iter().enumerate().filter_map(|(at, along)| along.map(|along| (at, along))).collect();
        all.sort_by_key(|&(at, along)| {
            (self.trimmer.is_narrow(self.settings[at]), -along, std::cmp::Reverse(at))
        });
        all.into_iter().map(|c| c.0).collect()
    }

    /// Does everything that can be done at a setting. Parents stand before their children, so one pass is enough.
    fn close(&self, done: &mut [bool], setting: usize) {
        for &run in &self.at[setting] {
            if self.can_do(done, run) {
                done[run] = true;
            }
        }
    }

    /// An order of settings with no more than `moves`.
    fn search(&mut self, done: &[bool], moves: usize) -> Option<Vec<usize>> {
        let left = self.left(done);
        if left == 0 {
            return Some(Vec::new());
        }
        self.looks += 1;
        if left > moves || self.looks > self.most_looks {
            return None;
        }
        for setting in self.choices(done) {
            let mut after = done.to_vec();
            self.close(&mut after, setting);
            if let Some(mut rest) = self.search(&after, moves - 1) {
                rest.insert(0, setting);
                return Some(rest);
            }
        }
        None
    }

    fn by_rule_alone(&self) -> Vec<usize> {
        let mut done = vec![false; self.runs.len()];
        let mut settings = Vec::new();
        while let Some(&setting) = self.choices(&done).first() {
            self.close(&mut done, setting);
            settings.push(setting);
        }
        settings
    }

    /// Groups at one setting: longest cut first, then the larger panel, then from the top left.
    fn emit(&self, done: &mut [bool], setting: usize) -> Vec<Vec<usize>> {
        let mut groups = Vec::new();
        loop {
            let mut open: Vec<usize> =
                self.at[setting].iter().copied().filter(|&r| self.can_do(done, r)).collect();
            open.sort_by_key(|&r| self.rank(r));
            let Some(&first) = open.first() else { return groups };
            let kind = alike(&self.runs[first]);
            open.retain(|&r| alike(&self.runs[r]) == kind);
            for &run in &open {
                done[run] = true;
            }
            groups.push(open);
        }
    }

    fn rank(&self, run: usize) -> (Length, i128, Length, Length) {
        let Run { along, panel, .. } = &self.runs[run];
        (-*along, -panel.size.area(), panel.y, panel.x)
    }
}
