//! How many pieces a panel gives: by any cuts, all one way, or within the limits of a trimmer.
//!
//! The recursion of [`super::recursion`] floors sizes, which is right only while every cut can be made. With a longest
//! cut or a largest fence setting the size that a panel really has decides which cuts it can take, so [`Counter::Limited`]
//! recurses on real sizes: the fence is set to a sum of finished sizes, the rest keeps its slack.
//! With a longest cut that loses nothing (a rest with slack can be trimmed by one more cut of the same length); with a
//! largest setting it is exact for settings that are sums of finished sizes, which is how a person sets a fence.

use super::question::Limits;
use super::recursion::{MOST_STEPS, Part, Recursion};
use rustc_hash::FxHashMap;

/// Splits looked at under limits before the answer is given as not proved.
const LIMITED_STEPS: u64 = 30_000_000;

/// Counts the pieces in panels of one sheet. Sizes in units.
#[derive(Debug)]
pub enum Counter {
    /// Every piece the same way round, any cut possible: columns times rows.
    OneWay(Part),
    /// Any edge-to-edge cuts.
    Free(Box<Recursion>),
    /// Edge-to-edge cuts within limits.
    Limited(Box<Limited>),
}

impl Counter {
    /// A counter for panels of a sheet of this size, with pieces lying in the given ways.
    pub fn new(width: i64, height: i64, ways: &[Part], limits: Limits) -> Self {
        if !limits.allow_all(width, height) {
            return Self::Limited(Box::new(Limited::new(width, height, ways, limits)));
        }
        match ways {
            [one] => Self::OneWay(*one),
            _ => Self::Free(Box::new(Recursion::new(width, height, ways, MOST_STEPS))),
        }
    }

    /// The most pieces in a panel.
    pub fn count(&mut self, width: i64, height: i64) -> i64 {
        match self {
            Self::OneWay(p) => (width / p.width) * (height / p.height),
            Self::Free(g) => g.value(width, height),
            Self::Limited(l) => l.count(width, height),
        }
    }

    /// The sums of finished sizes along either side, ascending: what the fence may be set to.
    pub fn sums(&self) -> Vec<i64> {
        let free = match self {
            Self::OneWay(p) => return vec![p.width.min(p.height), p.width.max(p.height)],
            Self::Free(g) => g,
            Self::Limited(l) => &l.free,
        };
        let mut sums = [free.xs().sums(), free.ys().sums()].concat();
        sums.sort_unstable();
        sums.dedup();
        sums
    }

    /// True while every count given was proved.
    pub fn is_exact(&self) -> bool {
        match self {
            Self::OneWay(_) => true,
            Self::Free(g) => g.is_exact(),
            Self::Limited(l) => l.is_exact(),
        }
    }
}

/// Exact counts within limits, with their table.
#[derive(Debug)]
pub struct Limited {
    ways: Vec<Part>,
    limits: Limits,
    free: Recursion,
    table: FxHashMap<(i64, i64), i64>,
    steps_left: u64,
    exact: bool,
}

impl Limited {
    fn new(width: i64, height: i64, ways: &[Part], limits: Limits) -> Self {
        Self {
            ways: ways.to_vec(),
            limits,
            free: Recursion::new(width, height, ways, MOST_STEPS),
            table: FxHashMap::default(),
            steps_left: LIMITED_STEPS,
            exact: true,
        }
    }

    fn is_exact(&self) -> bool {
        self.exact && self.free.is_exact()
    }

    fn count(&mut self, x: i64, y: i64) -> i64 {
        let most = self.free.value(x, y);
        if most == 0 || self.ways.iter().any(|p| (p.width, p.height) == (x, y)) {
            return most;
        }
        if self.limits.allow_all(x, y) {
            return most;
        }
        if let Some(&known) = self.table.get(&(x, y)) {
            return known;
        }
        let mut best = 0;
        if y <= self.limits.cut {
            best = self.best_down(x, y, most);
        }
        if x <= self.limits.cut && best < most {
            best = best.max(self.best_across(x, y, most));
        }
        self.table.insert((x, y), best);
        best
    }

    fn best_down(&mut self, x: i64, y: i64, most: i64) -> i64 {
        let mut best = 0;
        for row in 1..self.free.xs().len() {
            let at = self.free.xs().sums()[row];
            if at >= x || at > self.limits.setting || best == most || !self.step() {
                break;
            }
            if self.free.value(at, y) + self.free.value(x - at, y) > best {
                best = best.max(self.both((at, y), (x - at, y)));
            }
        }
        best
    }

    fn best_across(&mut self, x: i64, y: i64, most: i64) -> i64 {
        let mut best = 0;
        for row in 1..self.free.ys().len() {
            let at = self.free.ys().sums()[row];
            if at >= y || at > self.limits.setting || best == most || !self.step() {
                break;
            }
            if self.free.value(x, at) + self.free.value(x, y - at) > best {
                best = best.max(self.both((x, at), (x, y - at)));
            }
        }
        best
    }

    /// Both parts of a cut; nothing where the part against the fence is waste, since the finished rest would not be set.
    fn both(&mut self, held: (i64, i64), beyond: (i64, i64)) -> i64 {
        match self.count(held.0, held.1) {
            0 => 0,
            held => held + self.count(beyond.0, beyond.1),
        }
    }

    fn step(&mut self) -> bool {
        if self.steps_left == 0 {
            self.exact = false;
            return false;
        }
        self.steps_left -= 1;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ways(w: i64, h: i64) -> Vec<Part> {
        vec![Part { width: w, height: h, value: 1 }, Part { width: h, height: w, value: 1 }]
    }

    #[test]
    fn a_short_cut_costs_pieces() {
        let count = |cut, setting| Counter::new(12, 12, &ways(3, 4), Limits { cut, setting }).count(12, 12);
        assert_eq!(count(i64::MAX, i64::MAX), 12);
        assert_eq!(count(12, 12), 12);
        // No cut can be made through a panel of 12 by 12 when 11 is the longest.
        assert_eq!(count(11, i64::MAX), 0);
        // Threes alone: four strips of 3 x 12, but 4 cannot be set; the rest of 4 after 3s never appears.
        assert_eq!(
            count(i64::MAX, 3),
            Counter::new(12, 12, &ways(3, 4), Limits { cut: i64::MAX, setting: 3 }).count(12, 12)
        );
        assert_eq!(count(i64::MAX, 2), 0);
    }

    #[test]
    fn trimming_first_opens_the_other_way() {
        // 13 x 10 with cuts up to 12: shorten the long side to 12 first, then cut along it.
        let mut c = Counter::new(13, 10, &ways(12, 5), Limits { cut: 12, setting: i64::MAX });
        assert_eq!(c.count(13, 10), 2);
    }
}
