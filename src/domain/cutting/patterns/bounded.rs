//! The most valuable layout of one sheet when each kind may be used only so often: exact, best first.
//!
//! Small builds are joined side by side and one above the other until none can grow into something better (Wang 1983;
//! best first and the bound for the rest of the sheet after Viswanathan & Bagchi 1993 and Hifi 1997). The bound is the
//! unlimited recursion, capped by a knapsack over areas. Where the work runs out the answer is not exact and says so.

use super::exact::Exact;
use crate::domain::cutting::planner::model::{Model, TURNED, UPRIGHT};
use crate::domain::cutting::planner::shape::Shape;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// No build.
const NONE: u32 = u32::MAX;
/// Most kinds that are handled.
const MOST_KINDS: usize = 64;
/// Largest area, in square steps, for which the knapsack over areas is worked out.
const MOST_AREA: i64 = 400_000;

/// What one search found.
#[derive(Clone, Debug)]
pub(crate) struct Bounded {
    /// Value of the best layout found.
    pub value: f64,
    /// No layout is worth more than this; equal to `value` where the search came to its end.
    pub most: f64,
    /// The layout.
    pub shape: Shape,
}

#[derive(Clone, Copy)]
struct Build {
    w: i32,
    h: i32,
    value: f64,
    hope: f64,
    parts: [u32; 2],
    down: bool,
    kind: u16,
    turned: bool,
    /// The next build with as many of each kind.
    twin: u32,
}

struct Open {
    hope: f64,
    at: u32,
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        self.hope.total_cmp(&other.hope).then_with(|| other.at.cmp(&self.at))
    }
}

struct Hunt<'a> {
    model: &'a Model,
    limits: Vec<u8>,
    builds: Vec<Build>,
    counts: Vec<u8>,
    buckets: Vec<u32>,
    open: BinaryHeap<Open>,
    hope: Hope,
    best: f64,
    best_at: u32,
    w: i32,
    h: i32,
}

/// The best layout of one sheet of a format at these values (whole numbers), with at most `work` joins looked at.
///
/// `None` where the job has too many kinds or the table would be too large.
pub(crate) fn best(model: &Model, format: usize, values: &[f64], work: u64) -> Option<Bounded> {
    let n = model.kinds.len();
    if n > MOST_KINDS {
        return None;
    }
    let f = &model.formats[format];
    let mut limits = Vec::new();
    for kind in &model.kinds {
        let fits = f.area() / kind.area().max(1);
        limits.push(u8::try_from(i64::from(kind.count).min(fits)).ok()?);
    }
    let knapsack = knapsack(model, format, values, &limits);
    let mut table = Exact::new(model, format)?;
    table.solve_capped(values, knapsack.as_deref());
    let hope = Hope::new(&table, knapsack.as_deref());
    let mut hunt = Hunt {
        model,
        limits,
        builds: Vec::new(),
        counts: Vec::new(),
        buckets: vec![NONE; 1 << 14],
        open: BinaryHeap::new(),
        hope,
        best: 0.0,
        best_at: NONE,
        w: f.w,
        h: f.h,
    };
    for (k, kind) in model.kinds.iter().enumerate() {
        for way in [UPRIGHT, TURNED] {
            if kind.ways[format] & way != 0 && hunt.limits[k] > 0 && values[k] > 0.0 {
                let turned = way == TURNED;
                let (w, h) = kind.lying(turned);
                let mut counts = vec![0; n];
                counts[k] = 1;
                let blank = Build {
                    w,
                    h,
                    value: values[k],
                    hope: 0.0,
                    parts: [NONE; 2],
                    down: false,
                    kind: k as u16,
                    turned,
                    twin: NONE,
                };
                hunt.keep(blank, &counts);
            }
        }
    }
    let most = hunt.run(work);
    let shape = if hunt.best_at == NONE { Shape::Left } else { hunt.shape(hunt.best_at, hunt.w, hunt.h) };
    Some(Bounded { value: hunt.best, most, shape })
}

impl Hunt<'_> {
    /// Joins builds until the best is proved or the work is spent; returns the bound that is left.
    fn run(&mut self, mut work: u64) -> f64 {
        let mut closed: Vec<u32> = Vec::new();
        let mut counts = vec![0; self.limits.len()];
        while let Some(Open { hope, at }) = self.open.pop() {
            if hope <= self.best {
                break;
            }
            closed.push(at);
            if work < closed.len() as u64 {
                return hope;
            }
            work -= closed.len() as u64;
            let one = self.builds[at as usize];
            for &other in &closed {
                let two = self.builds[other as usize];
                let wide = one.w + two.w <= self.w;
                let high = one.h + two.h <= self.h;
                if !(wide || high) || !self.allowed(at, other, &mut counts) {
                    continue;
                }
                let joined = Build { value: one.value + two.value, parts: [at, other], twin: NONE, ..one };
                if wide {
                    self.keep(Build { w: one.w + two.w, h: one.h.max(two.h), down: true, ..joined }, &counts);
                }
                if high {
                    self.keep(
                        Build { w: one.w.max(two.w), h: one.h + two.h, down: false, ..joined },
                        &counts,
                    );
                }
            }
        }
        self.best
    }

    /// Adds up two builds' counts; false where a kind is used too often.
    fn allowed(&self, a: u32, b: u32, sum: &mut [u8]) -> bool {
        let n = self.limits.len();
        let (a, b) = (a as usize * n, b as usize * n);
        let (a, b) = (&self.counts[a..a + n], &self.counts[b..b + n]);
        let mut fine = true;
        for (((s, x), y), most) in sum.iter_mut().zip(a).zip(b).zip(&self.limits) {
            *s = x.saturating_add(*y);
            fine &= *s <= *most;
        }
        fine
    }

    /// Keeps a build that may become part of something better, unless a smaller one holds the same.
    fn keep(&mut self, mut build: Build, counts: &[u8]) {
        build.hope = build.value + self.hope.of(build.w, build.h);
        if build.value > self.best {
            self.best = build.value;
            self.best_at = self.builds.len() as u32;
        } else if build.hope <= self.best {
            return;
        }
        let n = self.limits.len();
        let mut hash: u64 = 0;
        for &c in counts {
            hash = (hash ^ u64::from(c)).wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(29);
        }
        let bucket = (hash >> 7) as usize % self.buckets.len();
        let mut twin = self.buckets[bucket];
        while twin != NONE {
            let t = self.builds[twin as usize];
            let same = self.counts[twin as usize * n..(twin as usize + 1) * n] == *counts;
            if same && t.w <= build.w && t.h <= build.h {
                return;
            }
            twin = t.twin;
        }
        build.twin = self.buckets[bucket];
        let at = self.builds.len() as u32;
        self.buckets[bucket] = at;
        self.builds.push(build);
        self.counts.extend_from_slice(counts);
        if build.hope > self.best {
            self.open.push(Open { hope: build.hope, at });
        }
    }

    /// The layout of a build in the corner of a panel.
    fn shape(&self, at: u32, w: i32, h: i32) -> Shape {
        let build = self.builds[at as usize];
        let inside = if build.parts[0] == NONE {
            Shape::Piece { kind: build.kind, turned: build.turned }
        } else {
            let [a, b] = build.parts;
            let (first, second) = (self.builds[a as usize], self.builds[b as usize]);
            let parts = if build.down {
                vec![(first.w, self.shape(a, first.w, build.h)), (second.w, self.shape(b, second.w, build.h))]
            } else {
                vec![(first.h, self.shape(a, build.w, first.h)), (second.h, self.shape(b, build.w, second.h))]
            };
            Shape::Parts { down: build.down, parts }
        };
        debug_assert!(self.model.kinds.len() == self.limits.len());
        super::exact::trimmed(w, h, build.w, build.h, inside)
    }
}

/// The most that can be had outside a build in the corner of the sheet.
struct Hope {
    ny: usize,
    floor_x: Vec<u16>,
    floor_y: Vec<u16>,
    most: Vec<f64>,
}

impl Hope {
    fn new(table: &Exact, knapsack: Option<&[f64]>) -> Self {
        let (w, h) = table.size();
        let (xs, ys, inside) = table.values();
        // The last row and column stand for the sheet's own edges.
        let (nx, ny) = (xs.len() + 1, ys.len() + 1);
        let x_at = |i: usize| if i < xs.len() { xs[i] } else { w };
        let y_at = |j: usize| if j < ys.len() { ys[j] } else { h };
        let mut most = vec![0.0; nx * ny];
        for i in (0..nx).rev() {
            for j in (0..ny).rev() {
                let (x, y) = (x_at(i), y_at(j));
                let mut best: f64 = 0.0;
                if i + 1 < nx {
                    best = best.max(most[(i + 1) * ny + j]);
                }
                if j + 1 < ny {
                    best = best.max(most[i * ny + j + 1]);
                }
                let column = table.column_of(y);
                for (u, &width) in xs.iter().enumerate().skip(1) {
                    if x + width > w {
                        break;
                    }
                    let beside = if x + width == w { nx - 1 } else { table.row_of(x + width) };
                    best = best.max(inside[u * ys.len() + column] + most[beside * ny + j]);
                }
                let row = table.row_of(x);
                for (v, &height) in ys.iter().enumerate().skip(1) {
                    if y + height > h {
                        break;
                    }
                    let above = if y + height == h { ny - 1 } else { table.column_of(y + height) };
                    best = best.max(inside[row * ys.len() + v] + most[i * ny + above]);
                }
                if let Some(knapsack) = knapsack {
                    let left = i64::from(w) * i64::from(h) - i64::from(x) * i64::from(y);
                    best = best.min(knapsack[left as usize]);
                }
                most[i * ny + j] = best;
            }
        }
        let (floor_x, floor_y) = table.floors();
        Self { ny, floor_x: floor_x.to_vec(), floor_y: floor_y.to_vec(), most }
    }

    fn of(&self, w: i32, h: i32) -> f64 {
        let (i, j) = (usize::from(self.floor_x[w as usize]), usize::from(self.floor_y[h as usize]));
        self.most[i * self.ny + j]
    }
}

/// The most value for every area, each kind no more often than it may be; `None` where the sheet has too many steps.
fn knapsack(model: &Model, format: usize, values: &[f64], limits: &[u8]) -> Option<Vec<f64>> {
    let whole = model.formats[format].area();
    if whole > MOST_AREA {
        return None;
    }
    let mut best = vec![0.0_f64; whole as usize + 1];
    for ((kind, &value), &most) in model.kinds.iter().zip(values).zip(limits) {
        // Bundles of 1, 2, 4, ... make every number up to the limit.
        let (mut left, mut bundle) = (i64::from(most), 1);
        while left > 0 && value > 0.0 {
            let n = bundle.min(left);
            let area = (kind.area() * n) as usize;
            for at in (area..best.len()).rev() {
                let with = best[at - area] + value * n as f64;
                if with > best[at] {
                    best[at] = with;
                }
            }
            left -= n;
            bundle *= 2;
        }
    }
    Some(best)
}
