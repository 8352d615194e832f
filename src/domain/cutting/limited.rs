//! How many pieces a panel gives: by any cuts, all one way, or within the limits of a trimmer.
//!
//! The recursion of [`super::recursion`] floors sizes, which is right only while every cut can be made. With a longest
//! cut or a largest fence setting the size that a panel really has decides which cuts it can take, so [`Limited`]
//! recurses on real sizes: the fence is set to a sum of finished sizes, the rest keeps its slack.
//! With a longest cut that loses nothing (a rest with slack can be trimmed by one more cut of the same length). With a
//! largest setting it is exact under the rule that every finished size is set at the fence or fills a panel without
//! slack: the part against the fence must be [`Filled`], and so must whatever a filled panel is cut into.

use super::question::Limits;
use super::recursion::{MOST_STEPS, PieceWay, Recursion};
use super::stop::Stop;
use crate::domain::cutting::geometry::CutLine;
use rustc_hash::FxHashMap;

/// Splits looked at under limits before the answer is given as not proved.
const LIMITED_STEPS: u64 = 3_000_000;
/// Cuts looked at while a layout is chosen, before the best so far is taken (about a second; real sizes need a hundredth).
const MOST_LOOKS: u64 = 4_000_000;
/// Steps between two looks whether anybody still waits.
const LOOK_UP: u64 = 4_096;

/// In which directions finished sizes must fill a panel, so that no offcut takes up slack there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Filled {
    /// Across the width.
    pub width: bool,
    /// Across the height.
    pub height: bool,
}

impl Filled {
    /// No demand.
    pub const NOT: Self = Self { width: false, height: false };

    fn is_asked(self) -> bool {
        self.width || self.height
    }

    /// What the parts of a cut must fill when the whole must fill `self`, the first part lying against the fence.
    ///
    /// In the direction that the cut divides both parts must fill; in the other one of them is enough.
    pub fn of_parts(self, line: CutLine) -> impl Iterator<Item = (Self, Self)> {
        let (along, other) = match line {
            CutLine::Down => (self.width, self.height),
            CutLine::Across => (self.height, self.width),
        };
        let one = move |along, other| match line {
            CutLine::Down => Self { width: along, height: other },
            CutLine::Across => Self { width: other, height: along },
        };
        let held = (one(true, other), one(along, false));
        let beyond = other.then(|| (one(true, false), one(along, true)));
        std::iter::once(held).chain(beyond)
    }

    /// False where the sums of finished sizes cannot fill a panel of this size.
    fn is_possible(self, free: &Recursion, width: i64, height: i64) -> bool {
        (!self.width || free.xs().has(width)) && (!self.height || free.ys().has(height))
    }
}

/// Counts the pieces in panels of one sheet, and knows how much work may still go into choosing a layout. Sizes in units.
#[derive(Debug)]
pub struct Counter {
    kind: Kind,
    looks_left: u64,
    stop: Stop,
}

#[derive(Debug)]
enum Kind {
    /// Every piece the same way round, any cut possible: columns times rows.
    OneWay(PieceWay),
    /// Any edge-to-edge cuts.
    Free(Box<Recursion>),
    /// Edge-to-edge cuts within limits.
    Limited(Box<Limited>),
}

impl Counter {
    /// A counter for panels of a sheet of this size, with pieces lying in the given ways.
    pub fn new(width: i64, height: i64, ways: &[PieceWay], limits: Limits) -> Self {
        Self::within(width, height, ways, limits, MOST_STEPS)
    }

    /// The same with at most so many steps of the recursion.
    pub fn within(width: i64, height: i64, ways: &[PieceWay], limits: Limits, steps: u64) -> Self {
        Self::of(if !limits.allow_all(width, height) {
            Kind::Limited(Box::new(Limited::new(width, height, ways, limits, steps)))
        } else if let [one] = ways {
            Kind::OneWay(*one)
        } else {
            Kind::Free(Box::new(Recursion::new(width, height, ways, steps)))
        })
    }

    /// A counter over a recursion that was begun elsewhere.
    pub fn free(recursion: Recursion) -> Self {
        Self::of(Kind::Free(Box::new(recursion)))
    }

    fn of(kind: Kind) -> Self {
        Self { kind, looks_left: MOST_LOOKS, stop: Stop::default() }
    }

    /// Counts no further once this is asked for.
    #[must_use]
    pub fn heeding(mut self, stop: &Stop) -> Self {
        self.stop = stop.clone();
        match &mut self.kind {
            Kind::OneWay(_) => {}
            Kind::Free(g) => g.heed(stop),
            Kind::Limited(l) => {
                l.stop = stop.clone();
                l.free.heed(stop);
            }
        }
        self
    }

    /// One more cut is looked at while a layout is chosen; false where there were enough, or nobody waits.
    pub fn look(&mut self) -> bool {
        if self.looks_left.is_multiple_of(LOOK_UP) && self.stop.is_asked() {
            self.looks_left = 0;
        }
        self.looks_left = self.looks_left.saturating_sub(1);
        self.looks_left > 0
    }

    /// True once [`Counter::look`] has said no.
    pub fn has_looked_enough(&self) -> bool {
        self.looks_left == 0
    }

    /// Steps that went into the recursion, of so many that were allowed.
    pub fn steps_of(&self, allowed: u64) -> u64 {
        match &self.kind {
            Kind::OneWay(_) => 0,
            Kind::Free(g) => allowed - g.steps_left(),
            Kind::Limited(l) => allowed - l.free.steps_left() + (LIMITED_STEPS - l.steps_left),
        }
    }

    /// The most pieces in a panel.
    pub fn count(&mut self, width: i64, height: i64) -> i64 {
        match &mut self.kind {
            Kind::OneWay(p) => (width / p.width) * (height / p.height),
            Kind::Free(g) => g.value(width, height),
            Kind::Limited(l) => l.count(width, height, Filled::NOT).unwrap_or(0),
        }
    }

    /// The most pieces in a panel that finished sizes fill as asked; `None` where they cannot.
    ///
    /// Where every cut can be made a filled panel is not counted by itself: it either reaches the count of the panel
    /// or is of no use to a layout with the most pieces.
    pub fn count_filled(&mut self, width: i64, height: i64, filled: Filled) -> Option<i64> {
        match &mut self.kind {
            Kind::Limited(l) => l.count(width, height, filled),
            Kind::Free(g) if !filled.is_possible(g, width, height) => None,
            _ => Some(self.count(width, height)).filter(|&n| n > 0 || !filled.is_asked()),
        }
    }

    /// The sums of finished sizes along either side, ascending: what the fence may be set to.
    pub fn sums(&self) -> Vec<i64> {
        let free = match &self.kind {
            Kind::OneWay(p) => return vec![p.width.min(p.height), p.width.max(p.height)],
            Kind::Free(g) => g,
            Kind::Limited(l) => &l.free,
        };
        let mut sums = [free.xs().sums(), free.ys().sums()].concat();
        sums.sort_unstable();
        sums.dedup();
        sums
    }

    /// True where there are so many sums of finished sizes that some were left out.
    pub fn is_thinned(&self) -> bool {
        let free = match &self.kind {
            Kind::OneWay(_) => return false,
            Kind::Free(g) => g,
            Kind::Limited(l) => &l.free,
        };
        free.xs().is_thinned() || free.ys().is_thinned()
    }

    /// True while every count given was proved.
    pub fn is_exact(&self) -> bool {
        match &self.kind {
            Kind::OneWay(_) => true,
            Kind::Free(g) => g.is_exact(),
            Kind::Limited(l) => l.is_exact(),
        }
    }
}

/// Exact counts within limits, with their table.
#[derive(Debug)]
pub struct Limited {
    ways: Vec<PieceWay>,
    limits: Limits,
    /// True where the fence has a limit, so that filled parts must be kept apart from others.
    has_fence_limit: bool,
    free: Recursion,
    table: FxHashMap<(i64, i64, Filled), Option<i64>>,
    steps_left: u64,
    exact: bool,
    stop: Stop,
}

impl Limited {
    fn new(width: i64, height: i64, ways: &[PieceWay], limits: Limits, steps: u64) -> Self {
        Self {
            ways: ways.to_vec(),
            limits,
            has_fence_limit: limits.setting < width.max(height),
            free: Recursion::new(width, height, ways, steps),
            table: FxHashMap::default(),
            steps_left: LIMITED_STEPS,
            exact: true,
            stop: Stop::default(),
        }
    }

    fn is_exact(&self) -> bool {
        self.exact && self.free.is_exact()
    }

    fn count(&mut self, x: i64, y: i64, filled: Filled) -> Option<i64> {
        let filled = if self.has_fence_limit { filled } else { Filled::NOT };
        let most = self.free.value(x, y);
        if most == 0 || !filled.is_possible(&self.free, x, y) {
            return (!filled.is_asked()).then_some(0);
        }
        let is_piece = self.ways.iter().any(|p| (p.width, p.height) == (x, y));
        if is_piece || (!filled.is_asked() && self.limits.allow_all(x, y)) {
            return Some(most);
        }
        if let Some(&known) = self.table.get(&(x, y, filled)) {
            return known;
        }
        let mut best = (!filled.is_asked()).then_some(0);
        for line in [CutLine::Down, CutLine::Across] {
            best = best.max(self.best_cut((x, y), line, filled, most));
        }
        self.table.insert((x, y, filled), best);
        best
    }

    /// The best of all first cuts in one direction.
    fn best_cut(&mut self, (x, y): (i64, i64), line: CutLine, filled: Filled, most: i64) -> Option<i64> {
        let (side, length, rows) = match line {
            CutLine::Down => (x, y, self.free.xs().len()),
            CutLine::Across => (y, x, self.free.ys().len()),
        };
        if length > self.limits.cut {
            return None;
        }
        let mut best: Option<i64> = None;
        for row in 1..rows {
            let reach = if line == CutLine::Down { self.free.xs() } else { self.free.ys() };
            let at = reach.sums()[row];
            if at >= side || at > self.limits.setting || best == Some(most) || !self.step() {
                break;
            }
            let (held, beyond) = match line {
                CutLine::Down => ((at, y), (x - at, y)),
                CutLine::Across => ((x, at), (x, y - at)),
            };
            if self.free.value(held.0, held.1) + self.free.value(beyond.0, beyond.1) > best.unwrap_or(-1) {
                best = best.max(self.both(held, beyond, line, filled));
            }
        }
        best
    }

    /// Both parts of a cut; nothing where the part against the fence is waste, since the finished rest would not be set.
    fn both(&mut self, held: (i64, i64), beyond: (i64, i64), line: CutLine, filled: Filled) -> Option<i64> {
        let count = |(a, b)| {
            let held = self.count(held.0, held.1, a).filter(|&n| n > 0)?;
            Some(held + self.count(beyond.0, beyond.1, b)?)
        };
        filled.of_parts(line).filter_map(count).max()
    }

    fn step(&mut self) -> bool {
        if self.steps_left.is_multiple_of(LOOK_UP) && self.stop.is_asked() {
            self.steps_left = 0;
        }
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

    fn ways(w: i64, h: i64) -> Vec<PieceWay> {
        vec![PieceWay { width: w, height: h, value: 1 }, PieceWay { width: h, height: w, value: 1 }]
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
