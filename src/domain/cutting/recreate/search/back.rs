//! Putting back what was taken off: kind by kind, the one with the fewest places first.

use super::Search;
use crate::domain::cutting::planner::model::Instance;
use crate::domain::cutting::recreate::bin::{NONE, Spot};
use crate::domain::cutting::recreate::candidate::Candidate;

impl Search {
    /// Puts pieces back. False as soon as more stays outside than `ceiling` allows.
    pub(super) fn recreate(&mut self, model: &Instance, ceiling: i64) -> bool {
        let mut cands = std::mem::take(&mut self.cands);
        cands.clear();
        for i in 0..self.list.len() {
            let kind = self.list[i];
            let mut c = Candidate::nowhere(kind, self.outside[usize::from(kind)]);
            self.look_everywhere(model, &mut c);
            cands.push(c);
        }
        let fine = self.put_all_back(model, ceiling, &mut cands);
        self.cands = cands;
        if fine {
            self.measure_touched();
        }
        fine
    }

    fn put_all_back(&mut self, model: &Instance, ceiling: i64, cands: &mut Vec<Candidate>) -> bool {
        let mut lost: i64 = 0;
        while !cands.is_empty() {
            if model.stop.is_asked() {
                return false;
            }
            let pick = self.fewest_places(cands);
            if cands[pick].node != NONE {
                self.put_back(model, pick, cands);
            } else if let Some(weight) = self.left_outside(model, pick, cands) {
                lost += weight;
                if lost > ceiling {
                    return false;
                }
            }
        }
        true
    }

    /// The kind with the fewest places; ties at random.
    #[inline]
    fn fewest_places(&mut self, cands: &[Candidate]) -> usize {
        let mut pick = 0;
        let mut ties = 1;
        for (i, c) in cands.iter().enumerate().skip(1) {
            if c.places < cands[pick].places {
                pick = i;
                ties = 1;
            } else if c.places == cands[pick].places {
                ties += 1;
                if self.dice.one_in(ties) {
                    pick = i;
                }
            }
        }
        pick
    }

    /// What a kind without a place weighs that stays outside; `None` where a fresh sheet has a place for it.
    fn left_outside(&mut self, model: &Instance, pick: usize, cands: &mut Vec<Candidate>) -> Option<i64> {
        let c = cands[pick];
        if c.places == 0 && self.open_for(model, c.kind) {
            let new = self.bins.len() - 1;
            for c in cands.iter_mut() {
                self.look_at_bin(model, new, c);
            }
            if cands[pick].node != NONE {
                return None;
            }
        }
        cands.swap_remove(pick);
        Some(self.weight(model, c.kind) * i64::from(c.number))
    }

    /// One piece goes where its kind lies best; the others look at what is left around it.
    #[inline]
    fn put_back(&mut self, model: &Instance, pick: usize, cands: &mut Vec<Candidate>) {
        let c = cands[pick];
        let at = c.bin as usize;
        self.touch(at);
        let used = c.node;
        let tag = self.bins[at].nodes[usize::from(used)].tag;
        let old = self.bins[at].lefts[usize::from(tag)];
        let spot = Spot { left: tag, turned: c.turned, down_first: c.down_first };
        let fresh = self.bins[at].insert(model, c.kind, spot);
        self.take_in(c.kind);
        self.work += 2 * cands.len() as u64;
        cands[pick].number -= 1;
        if cands[pick].number == 0 {
            cands.swap_remove(pick);
        }
        for c in cands {
            self.forget_left(model, at, &old, c);
            if c.node == used && c.bin as usize == at {
                c.places = 0;
                c.cost = f64::INFINITY;
                c.node = NONE;
                self.look_everywhere(model, c);
            } else {
                for &node in fresh.iter().filter(|&&node| node != NONE) {
                    let left = self.bins[at].nodes[usize::from(node)].tag;
                    self.look_at(model, at, usize::from(left), c);
                }
            }
        }
    }

    /// Measures the sheets that pieces were taken from or put on.
    fn measure_touched(&mut self) {
        for i in 0..self.saved.len() {
            let at = self.saved[i].0 as usize;
            self.bins[at].measure();
        }
        for at in self.marks.len()..self.bins.len() {
            self.bins[at].measure();
        }
    }
}
