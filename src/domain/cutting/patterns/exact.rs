//! The most valuable layout of one sheet, edge to edge, any number of each kind: dynamic programming.
//!
//! Recursion of Gilmore & Gomory (1965, 1966) over sums of piece sides (Herz 1972), first cut up to the half, in whole
//! rows at a time: `F(x, y) = max(F(s, y) + F(x - s, y), F(x, s) + F(x, y - s))`. Values are whole numbers held in
//! floating point below 2^53, so sums are exact and a value can be part of a proof.

use crate::domain::cutting::planner::model::{Instance, TURNED, UPRIGHT};
use crate::domain::cutting::planner::shape::Shape;

/// Additions that one call may take; tables that need more are not made (about 50 ms).
const MOST_ADDITIONS: u64 = 80_000_000;

/// A place where a kind fits exactly.
#[derive(Clone, Copy, Debug)]
struct Place {
    kind: u16,
    turned: bool,
    w: i32,
    h: i32,
    row: usize,
    column: usize,
}

/// The table of one sheet row.
#[derive(Clone, Debug)]
pub(crate) struct Exact {
    w: i32,
    h: i32,
    xs: Vec<i32>,
    ys: Vec<i32>,
    floor_x: Vec<u16>,
    floor_y: Vec<u16>,
    places: Vec<Place>,
    best: Vec<f64>,
    max_cut: i32,
    /// Additions of one call.
    pub work: u64,
}

impl Exact {
    /// A table for one format; `None` where it would be too large to be quick.
    pub(crate) fn new(model: &Instance, format: usize) -> Option<Self> {
        let f = &model.formats[format];
        let mut across: Vec<(i32, u32)> = Vec::new();
        let mut along: Vec<(i32, u32)> = Vec::new();
        for kind in &model.kinds {
            for way in [UPRIGHT, TURNED] {
                if kind.ways[format] & way != 0 {
                    let (w, h) = kind.lying(way == TURNED);
                    across.push((w, kind.count));
                    along.push((h, kind.count));
                }
            }
        }
        let (xs, floor_x) = sums(f.w, &across)?;
        let (ys, floor_y) = sums(f.h, &along)?;
        let (nx, ny) = (xs.len() as u64, ys.len() as u64);
        let work = nx * ny * (nx + ny) / 4 + nx * ny;
        if work > MOST_ADDITIONS {
            return None;
        }
        let mut places = Vec::new();
        for (k, kind) in model.kinds.iter().enumerate() {
            for way in [UPRIGHT, TURNED] {
                if kind.ways[format] & way != 0 {
                    let turned = way == TURNED;
                    let (w, h) = kind.lying(turned);
                    let row = usize::from(floor_x[w as usize]);
                    let column = usize::from(floor_y[h as usize]);
                    places.push(Place { kind: k as u16, turned, w, h, row, column });
                }
            }
        }
        let best = vec![0.0; xs.len() * ys.len()];
        Some(Self { w: f.w, h: f.h, xs, ys, floor_x, floor_y, places, best, max_cut: model.max_cut, work })
    }

    fn row_of(&self, x: i32) -> usize {
        usize::from(self.floor_x[x as usize])
    }

    fn column_of(&self, y: i32) -> usize {
        usize::from(self.floor_y[y as usize])
    }

    /// The most that a sheet is worth at these values (whole numbers).
    ///
    /// Cuts longer than the trimmer makes are left out where that is certain; the value is never too small.
    pub(crate) fn solve(&mut self, values: &[f64]) -> f64 {
        let n = self.ys.len();
        self.best.fill(0.0);
        for place in &self.places {
            let slot = &mut self.best[place.row * n + place.column];
            *slot = slot.max(values[usize::from(place.kind)]);
        }
        let short = self.ys.partition_point(|&y| y <= self.max_cut);
        for row in 1..self.xs.len() {
            let (above, below) = self.best.split_at_mut(row * n);
            let line = &mut below[..n];
            for (x, up) in line.iter_mut().zip(&above[(row - 1) * n..]) {
                *x = x.max(*up);
            }
            let width = self.xs[row];
            for part in 1..row {
                let s = self.xs[part];
                if 2 * s > width {
                    break;
                }
                let rest = usize::from(self.floor_x[(width - s) as usize]);
                let (a, b) = (&above[part * n..part * n + n], &above[rest * n..rest * n + n]);
                for ((x, p), q) in line[..short].iter_mut().zip(a).zip(b) {
                    let sum = p + q;
                    *x = if sum > *x { sum } else { *x };
                }
            }
            for column in 1..n {
                let height = self.ys[column];
                let mut most = line[column].max(line[column - 1]);
                if width <= self.max_cut {
                    for part in 1..column {
                        let s = self.ys[part];
                        if 2 * s > height {
                            break;
                        }
                        let sum = line[part] + line[usize::from(self.floor_y[(height - s) as usize])];
                        most = if sum > most { sum } else { most };
                    }
                }
                line[column] = most;
            }
        }
        self.best.last().copied().unwrap_or(0.0)
    }

    /// A layout of the value that [`Exact::solve`] found last, for the same values.
    pub(crate) fn layout(&self, values: &[f64]) -> Shape {
        self.panel(values, self.w, self.h)
    }

    fn panel(&self, values: &[f64], w: i32, h: i32) -> Shape {
        let n = self.ys.len();
        let (mut row, mut column) = (self.row_of(w), self.column_of(h));
        let worth = self.best[row * n + column];
        if worth <= 0.0 {
            return Shape::Left;
        }
        while row > 0 && self.best[(row - 1) * n + column] == worth {
            row -= 1;
        }
        while column > 0 && self.best[row * n + column - 1] == worth {
            column -= 1;
        }
        let (x, y) = (self.xs[row], self.ys[column]);
        trimmed(w, h, x, y, self.core(values, row, column, worth))
    }

    /// The layout of a panel that is not larger than its value needs.
    fn core(&self, values: &[f64], row: usize, column: usize, worth: f64) -> Shape {
        let n = self.ys.len();
        let (x, y) = (self.xs[row], self.ys[column]);
        for p in &self.places {
            if p.w <= x && p.h <= y && values[usize::from(p.kind)] == worth {
                let piece = Shape::Piece { kind: p.kind, turned: p.turned };
                return trimmed(x, y, p.w, p.h, piece);
            }
        }
        if y <= self.max_cut {
            for part in 1..row {
                let s = self.xs[part];
                let rest = self.row_of(x - s);
                if self.best[part * n + column] + self.best[rest * n + column] == worth {
                    let parts = vec![(s, self.panel(values, s, y)), (x - s, self.panel(values, x - s, y))];
                    return Shape::Parts { down: true, parts };
                }
            }
        }
        for part in 1..column {
            let s = self.ys[part];
            let rest = self.column_of(y - s);
            if self.best[row * n + part] + self.best[row * n + rest] == worth {
                let parts = vec![(s, self.panel(values, x, s)), (y - s, self.panel(values, x, y - s))];
                return Shape::Parts { down: false, parts };
            }
        }
        Shape::Left
    }
}

/// A panel of which only the corner `x` by `y` is used; the larger leftover stays in one piece.
pub(crate) fn trimmed(w: i32, h: i32, x: i32, y: i32, used: Shape) -> Shape {
    let (wide, high) = (w - x, h - y);
    let down_first = i64::from(wide) * i64::from(h) >= i64::from(high) * i64::from(w);
    if down_first {
        let strip = side_by_side(false, y, high, used);
        side_by_side(true, x, wide, strip)
    } else {
        let strip = side_by_side(true, x, wide, used);
        side_by_side(false, y, high, strip)
    }
}

fn side_by_side(down: bool, extent: i32, rest: i32, used: Shape) -> Shape {
    if rest == 0 {
        return used;
    }
    Shape::Parts { down, parts: vec![(extent, used), (rest, Shape::Left)] }
}

/// All sums of extents (each no more often than it is wanted), and for every length the largest sum not above it.
///
/// `None` where there are too many to number.
pub(super) fn sums(limit: i32, extents: &[(i32, u32)]) -> Option<(Vec<i32>, Vec<u16>)> {
    let mut merged: Vec<(i32, u64)> = Vec::new();
    let mut sorted = extents.to_vec();
    sorted.sort_unstable();
    for (extent, count) in sorted {
        match merged.last_mut() {
            Some(m) if m.0 == extent => m.1 += u64::from(count),
            _ => merged.push((extent, u64::from(count))),
        }
    }
    let slots = limit as usize + 1;
    let mut reached = vec![false; slots];
    reached[0] = true;
    let mut used = vec![0_u64; slots];
    for (extent, count) in merged {
        let extent = extent as usize;
        used.fill(0);
        for at in extent..slots {
            if !reached[at] && reached[at - extent] && used[at - extent] < count {
                reached[at] = true;
                used[at] = used[at - extent] + 1;
            }
        }
    }
    let mut kept = Vec::new();
    let mut floor = Vec::with_capacity(slots);
    for (at, &hit) in reached.iter().enumerate() {
        if hit {
            kept.push(at as i32);
        }
        floor.push(u16::try_from(kept.len() - 1).ok()?);
    }
    Some((kept, floor))
}
