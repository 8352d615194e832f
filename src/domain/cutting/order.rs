//! The order of cuts: a panel must exist before it is cut; then as few moves of the fence as can be; then the longest cut
//! first and narrow settings last.
//!
//! Doing every cut that is possible at the present setting never hurts, so only the next setting is searched, by
//! iterative deepening; the first order found with the fewest moves is also the best by the tie rules. Past a fixed
//! amount of search (never met by real lists) the tie rules alone decide.

use super::question::Trimmer;
use super::runs::Run;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::step::{CutPart, Stop};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// Positions looked at before the tie rules alone decide.
const MOST_LOOKS: u32 = 2_000;

/// Runs in cutting order, equal ones together.
pub(super) fn groups(runs: &[Run], trimmer: &Trimmer) -> Vec<Vec<usize>> {
    let mut bench = Bench { runs, trimmer, looks: 0 };
    let start = vec![false; runs.len()];
    let least = bench.left(&start);
    let settings = (least..=least + 4)
        .find_map(|moves| bench.search(&start, moves))
        .unwrap_or_else(|| bench.by_rule_alone());
    let mut done = start;
    settings.into_iter().flat_map(|setting| bench.emit(&mut done, setting)).collect()
}

struct Bench<'a> {
    runs: &'a [Run],
    trimmer: &'a Trimmer,
    looks: u32,
}

/// What makes two runs one step.
type Alike = (Edge, Size, usize, (CutPart, Size), (CutPart, Size), bool, Option<Stop>);

fn alike(run: &Run) -> Alike {
    (run.edge, run.panel.size, run.cuts.len(), run.part, run.rest, run.exact_fit, run.stop.clone())
}

impl Bench<'_> {
    fn can_do(&self, done: &[bool], run: usize) -> bool {
        !done[run] && self.runs[run].parent.is_none_or(|p| done[p])
    }

    /// How many different settings are left.
    fn left(&self, done: &[bool]) -> usize {
        let mut all: Vec<Length> =
            (0..done.len()).filter(|&r| !done[r]).map(|r| self.runs[r].fence).collect();
        all.sort_unstable();
        all.dedup();
        all.len()
    }

    /// Settings that some cut could be made at now, best first: not narrow, longest cut, widest.
    fn choices(&self, done: &[bool]) -> Vec<Length> {
        let mut all: Vec<(bool, Length, Length)> = Vec::new();
        for run in (0..done.len()).filter(|&r| self.can_do(done, r)) {
            let Run { fence, along, .. } = self.runs[run];
            match all.iter_mut().find(|c| c.2 == fence) {
                Some(known) => known.1 = known.1.max(along),
                None => all.push((self.trimmer.is_narrow(fence), along, fence)),
            }
        }
        all.sort_by_key(|&(narrow, along, fence)| (narrow, -along, -fence));
        all.into_iter().map(|c| c.2).collect()
    }

    /// Does everything that can be done at a setting. Parents stand before their children, so one pass is enough.
    fn close(&self, done: &mut [bool], setting: Length) {
        for run in 0..done.len() {
            if self.runs[run].fence == setting && self.can_do(done, run) {
                done[run] = true;
            }
        }
    }

    /// An order of settings with no more than `moves`.
    fn search(&mut self, done: &[bool], moves: usize) -> Option<Vec<Length>> {
        let left = self.left(done);
        if left == 0 {
            return Some(Vec::new());
        }
        self.looks += 1;
        if left > moves || self.looks > MOST_LOOKS {
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

    fn by_rule_alone(&self) -> Vec<Length> {
        let mut done = vec![false; self.runs.len()];
        let mut settings = Vec::new();
        while let Some(&setting) = self.choices(&done).first() {
            self.close(&mut done, setting);
            settings.push(setting);
        }
        settings
    }

    /// Groups at one setting: longest cut first, then the larger panel, then from the top left.
    fn emit(&self, done: &mut [bool], setting: Length) -> Vec<Vec<usize>> {
        let mut groups = Vec::new();
        loop {
            let first = (0..done.len())
                .filter(|&r| self.runs[r].fence == setting && self.can_do(done, r))
                .min_by_key(|&r| self.rank(r));
            let Some(first) = first else { return groups };
            let kind = alike(&self.runs[first]);
            let mut group: Vec<usize> = (0..done.len())
                .filter(|&r| {
                    self.runs[r].fence == setting && self.can_do(done, r) && alike(&self.runs[r]) == kind
                })
                .collect();
            group.sort_by_key(|&r| self.rank(r));
            for &run in &group {
                done[run] = true;
            }
            groups.push(group);
        }
    }

    fn rank(&self, run: usize) -> (Length, i128, Length, Length) {
        let Run { along, panel, .. } = &self.runs[run];
        (-*along, -panel.size.area(), panel.y, panel.x)
    }
}
