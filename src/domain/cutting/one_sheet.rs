//! The most valuable choice of pieces from one sheet, edge to edge, where each kind may be used only so often.
//!
//! Exact, best first and from the bottom up: builds are put beside or below each other, the one with the most value in
//! sight goes on first (Wang 1983; Viswanathan & Bagchi 1993; Hifi 1997). What a build may still gain is bounded by the
//! unlimited optimum of the space around it (Gilmore & Gomory 1966) and by what the pieces' areas allow.
//!
//! Lengths are whole steps of any size; only their sums matter.

use std::collections::{BTreeMap, BinaryHeap};

/// Steps of area above which the bounds would not fit the time.
const MOST_AREA: i64 = 400_000;

/// How much may be looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Sums for the bounds: positions times positions times both together.
    pub sums: usize,
    /// Builds; each is put beside and below those before it.
    pub builds: usize,
}

/// A kind of piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SheetPiece {
    /// Width in steps.
    pub w: i32,
    /// Height in steps.
    pub h: i32,
    /// How many there are at most.
    pub count: u32,
    /// What one is worth.
    pub value: i64,
    /// It may lie as given.
    pub upright: bool,
    /// It may lie turned by a quarter.
    pub turned: bool,
}

/// What one sheet can be worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Worth {
    /// The best choice found.
    pub value: i64,
    /// No choice is worth more.
    pub bound: i64,
}

impl Worth {
    /// True where the best choice is known.
    pub const fn is_proved(self) -> bool {
        self.value == self.bound
    }
}

/// The most valuable choice from a sheet of `w` by `h` steps. `None` where the sheet has more steps or positions than
/// the effort allows; where the builds do not suffice, value and bound differ.
pub fn most_valuable(w: i32, h: i32, kinds: &[SheetPiece], effort: Effort) -> Option<Worth> {
    best_choice(w, h, kinds, effort).map(|choice| choice.0)
}

/// The same, with how many of each kind are chosen.
pub fn best_choice(w: i32, h: i32, kinds: &[SheetPiece], effort: Effort) -> Option<(Worth, Vec<u16>)> {
    let bounds = Bounds::new(w, h, kinds, effort.sums)?;
    Some(Search::new(w, h, kinds, &bounds, effort.builds).run())
}

/// Positions that sums of sides reach, and for each length the last of them not above it.
struct Axis {
    at: Vec<i32>,
    floor: Vec<usize>,
}

impl Axis {
    fn new(length: i32, sides: &[(i32, u32)]) -> Self {
        let slots = length as usize + 1;
        let mut reached = vec![false; slots];
        reached[0] = true;
        for &(side, count) in sides {
            let side = side as usize;
            let mut used = vec![0_u32; slots];
            for at in side..slots {
                if !reached[at] && reached[at - side] && used[at - side] < count {
                    reached[at] = true;
                    used[at] = used[at - side] + 1;
                }
            }
        }
        let at: Vec<i32> = (0..=length).filter(|&x| reached[x as usize]).collect();
        let floor = (0..=length).map(|x| at.partition_point(|&p| p <= x) - 1).collect();
        Self { at, floor }
    }

    fn row(&self, length: i32) -> usize {
        self.floor[length as usize]
    }
}

/// What a build of each size can gain outside itself.
struct Bounds {
    across: Axis,
    along: Axis,
    outside: Vec<i64>,
}

impl Bounds {
    fn new(w: i32, h: i32, kinds: &[SheetPiece], most_sums: usize) -> Option<Self> {
        let area = i64::from(w) * i64::from(h);
        if w <= 0 || h <= 0 || area > MOST_AREA {
            return None;
        }
        let ways = |k: &SheetPiece| [k.upright.then_some((k.w, k.h)), k.turned.then_some((k.h, k.w))];
        let lying: Vec<((i32, i32), &SheetPiece)> =
            kinds.iter().flat_map(|k| ways(k).into_iter().flatten().map(move |size| (size, k))).collect();
        let across = Axis::new(w, &lying.iter().map(|(s, k)| (s.0, k.count)).collect::<Vec<_>>());
        let along = Axis::new(h, &lying.iter().map(|(s, k)| (s.1, k.count)).collect::<Vec<_>>());
        let (nx, ny) = (across.at.len(), along.at.len());
        if nx * ny * (nx + ny) > most_sums {
            return None;
        }
        let by_area = by_area(area as usize, kinds);
        let mut inside = vec![0_i64; nx * ny];
        for &((pw, ph), kind) in &lying {
            if pw <= w && ph <= h {
                let slot = &mut inside[across.row(pw) * ny + along.row(ph)];
                *slot = (*slot).max(kind.value);
            }
        }
        let mut bounds = Self { across, along, outside: Vec::new() };
        bounds.fill_inside(&mut inside, &by_area);
        bounds.outside = bounds.fill_outside(&inside, &by_area, area);
        Some(bounds)
    }

    /// The most that a panel of each size is worth with as many pieces of each kind as one likes.
    fn fill_inside(&self, inside: &mut [i64], by_area: &[i64]) {
        let (xs, ys) = (&self.across.at, &self.along.at);
        let n = ys.len();
        for i in 1..xs.len() {
            for j in 1..n {
                let mut most = inside[i * n + j].max(inside[(i - 1) * n + j]).max(inside[i * n + j - 1]);
                for s in 1..i {
                    if 2 * xs[s] > xs[i] {
                        break;
                    }
                    most = most.max(inside[s * n + j] + inside[self.across.row(xs[i] - xs[s]) * n + j]);
                }
                for s in 1..j {
                    if 2 * ys[s] > ys[j] {
                        break;
                    }
                    most = most.max(inside[i * n + s] + inside[i * n + self.along.row(ys[j] - ys[s])]);
                }
                inside[i * n + j] = most.min(by_area[xs[i] as usize * ys[j] as usize]);
            }
        }
    }

    fn fill_outside(&self, inside: &[i64], by_area: &[i64], area: i64) -> Vec<i64> {
        let (xs, ys) = (&self.across.at, &self.along.at);
        let n = ys.len();
        let (w, h) = (self.across.floor.len() as i32 - 1, self.along.floor.len() as i32 - 1);
        let mut outside = vec![0_i64; xs.len() * n];
        for i in (0..xs.len()).rev() {
            for j in (0..n).rev() {
                // A build that is widened or made higher, since it lies beside a larger one, has no less before it.
                let wider = (i + 1 < xs.len()).then(|| outside[(i + 1) * n + j]);
                let higher = (j + 1 < n).then(|| outside[i * n + j + 1]);
                let mut most = wider.into_iter().chain(higher).max().unwrap_or(0);
                // A build that is put beside this one, then the same question about both together. A sum that is no
                // position would take more pieces than there are.
                for u in 1..xs.len() {
                    if xs[i] + xs[u] > w {
                        break;
                    }
                    let to = self.across.row(xs[i] + xs[u]);
                    if xs[to] == xs[i] + xs[u] {
                        most = most.max(inside[u * n + j] + outside[to * n + j]);
                    }
                }
                for v in 1..n {
                    if ys[j] + ys[v] > h {
                        break;
                    }
                    let to = self.along.row(ys[j] + ys[v]);
                    if ys[to] == ys[j] + ys[v] {
                        most = most.max(inside[i * n + v] + outside[i * n + to]);
                    }
                }
                let free = area - i64::from(xs[i]) * i64::from(ys[j]);
                outside[i * n + j] = most.min(by_area[free as usize]);
            }
        }
        outside
    }

    fn around(&self, w: i32, h: i32) -> i64 {
        self.outside[self.across.row(w) * self.along.at.len() + self.along.row(h)]
    }
}

/// The most value that pieces of so much area together can have.
fn by_area(area: usize, kinds: &[SheetPiece]) -> Vec<i64> {
    let mut best = vec![0_i64; area + 1];
    for kind in kinds {
        let one = kind.w as usize * kind.h as usize;
        let mut left = kind.count.min((area / one.max(1)) as u32);
        let mut lot = 1;
        while left > 0 {
            let take = lot.min(left);
            let (size, value) = (one * take as usize, kind.value * i64::from(take));
            for at in (size..=area).rev() {
                best[at] = best[at].max(best[at - size] + value);
            }
            left -= take;
            lot *= 2;
        }
    }
    best
}

/// Pieces put together: their sides, worth and numbers.
struct Build {
    w: i32,
    h: i32,
    value: i64,
    counts: Box<[u16]>,
}

/// Waiting builds: the one with the most value in sight first, then the older.
type Waiting = BinaryHeap<(i64, std::cmp::Reverse<usize>)>;

struct Search<'a> {
    w: i32,
    h: i32,
    kinds: &'a [SheetPiece],
    bounds: &'a Bounds,
    most: usize,
    builds: Vec<Build>,
    same: BTreeMap<u64, Vec<usize>>,
    waiting: Waiting,
    best: i64,
    /// The build that is worth that.
    chosen: Option<usize>,
}

impl<'a> Search<'a> {
    fn new(w: i32, h: i32, kinds: &'a [SheetPiece], bounds: &'a Bounds, most: usize) -> Self {
        let (builds, same, waiting) = (Vec::new(), BTreeMap::new(), BinaryHeap::new());
        Self { w, h, kinds, bounds, most, builds, same, waiting, best: 0, chosen: None }
    }

    /// The choice and what it is worth.
    fn run(mut self) -> (Worth, Vec<u16>) {
        let worth = self.worth();
        let chosen = self.chosen.and_then(|at| self.builds.get(at));
        (worth, chosen.map_or_else(|| vec![0; self.kinds.len()], |build| build.counts.to_vec()))
    }

    fn worth(&mut self) -> Worth {
        for (k, kind) in self.kinds.iter().enumerate() {
            for (lies, w, h) in [(kind.upright, kind.w, kind.h), (kind.turned, kind.h, kind.w)] {
                if lies && kind.count > 0 {
                    let mut counts = vec![0; self.kinds.len()].into_boxed_slice();
                    counts[k] = 1;
                    self.offer(Build { w, h, value: kind.value, counts });
                }
            }
        }
        let mut done: Vec<usize> = Vec::new();
        while let Some((in_sight, std::cmp::Reverse(at))) = self.waiting.pop() {
            if in_sight <= self.best {
                break;
            }
            if self.builds.len() >= self.most {
                return Worth { value: self.best, bound: in_sight };
            }
            done.push(at);
            for &other in &done {
                self.join(at, other);
            }
        }
        Worth { value: self.best, bound: self.best }
    }

    /// Both builds beside and below each other, where there are pieces and room enough.
    fn join(&mut self, one: usize, other: usize) {
        let (a, b) = (&self.builds[one], &self.builds[other]);
        let beside = (a.w + b.w, a.h.max(b.h));
        let below = (a.w.max(b.w), a.h + b.h);
        let value = a.value + b.value;
        let fits =
            |(w, h): (i32, i32)| w <= self.w && h <= self.h && value + self.bounds.around(w, h) > self.best;
        let (beside, below) = (fits(beside).then_some(beside), fits(below).then_some(below));
        if beside.is_none() && below.is_none() {
            return;
        }
        let both = a.counts.iter().zip(&b.counts).map(|(n, m)| n + m);
        if both.clone().zip(self.kinds).any(|(n, kind)| u32::from(n) > kind.count) {
            return;
        }
        let counts: Box<[u16]> = both.collect();
        for (w, h) in beside.into_iter().chain(below) {
            self.offer(Build { w, h, value, counts: counts.clone() });
        }
    }

    /// Takes a build up, unless the same pieces are known in no more room.
    fn offer(&mut self, build: Build) {
        if build.w > self.w || build.h > self.h {
            return;
        }
        let in_sight = build.value + self.bounds.around(build.w, build.h);
        if in_sight <= self.best && build.value <= self.best {
            return;
        }
        let known = self.same.entry(mark(&build.counts)).or_default();
        let is_no_smaller = |&at: &usize| {
            let old = &self.builds[at];
            old.w <= build.w && old.h <= build.h && old.counts == build.counts
        };
        if known.iter().any(is_no_smaller) {
            return;
        }
        known.push(self.builds.len());
        if build.value > self.best {
            (self.best, self.chosen) = (build.value, Some(self.builds.len()));
        }
        self.waiting.push((in_sight, std::cmp::Reverse(self.builds.len())));
        self.builds.push(build);
    }
}

/// A number that equal counts share: FNV-1a (Fowler, Noll & Vo) over the counts.
fn mark(counts: &[u16]) -> u64 {
    counts
        .iter()
        .fold(0xCBF2_9CE4_8422_2325, |mark, &n| (mark ^ u64::from(n)).wrapping_mul(0x0000_0100_0000_01B3))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(w: i32, h: i32, count: u32, value: i64) -> SheetPiece {
        SheetPiece { w, h, count, value, upright: true, turned: false }
    }

    fn builds(builds: usize) -> Effort {
        Effort { sums: 1_000_000, builds }
    }

    #[test]
    fn counts_are_kept_to() {
        // By hand: of one 3x2 and many 2x2 a 5x4 holds the 3x2 and three 2x2 (the last 3x2 of the sheet cut to 2x2).
        let kinds = [kind(3, 2, 1, 6), kind(2, 2, 9, 4)];
        let worth = most_valuable(5, 4, &kinds, builds(10_000)).unwrap();
        assert_eq!(worth, Worth { value: 18, bound: 18 });
        // Two 3x2 would fill it.
        let worth = most_valuable(5, 4, &[kind(3, 2, 2, 6), kinds[1]], builds(10_000)).unwrap();
        assert_eq!(worth.value, 20);
    }

    #[test]
    fn a_build_beside_a_higher_one_is_not_given_up() {
        // By hand: on 10 x 7 the 6 x 3 lies beside the 4 x 7 that is 4 higher, and no sum of sides is 4 high.
        let kinds = [kind(6, 3, 1, 2), kind(4, 7, 1, 1)];
        for kinds in [kinds, [kinds[1], kinds[0]]] {
            assert_eq!(most_valuable(10, 7, &kinds, builds(100)), Some(Worth { value: 3, bound: 3 }));
        }
    }

    #[test]
    fn a_search_that_is_cut_short_says_so() {
        let kinds: Vec<SheetPiece> = (3..12).map(|n| kind(n, 17 - n, 3, i64::from(n * (17 - n)))).collect();
        let worth = most_valuable(40, 41, &kinds, builds(50)).unwrap();
        assert!(worth.value < worth.bound && worth.bound <= 40 * 41, "{worth:?}");
    }

    #[test]
    fn nothing_fits_and_nothing_is_asked() {
        assert_eq!(most_valuable(5, 5, &[kind(6, 1, 2, 9)], builds(100)), Some(Worth { value: 0, bound: 0 }));
        assert_eq!(most_valuable(5, 5, &[], builds(100)), Some(Worth { value: 0, bound: 0 }));
        assert_eq!(most_valuable(100_000, 100_000, &[], builds(100)), None);
    }
}
