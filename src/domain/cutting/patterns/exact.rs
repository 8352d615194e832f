//! The most valuable layout of one sheet, edge to edge, any number of each kind: dynamic programming.
//!
//! Recursion of Gilmore & Gomory (1965, 1966) over sums of piece sides (Herz 1972), first cut up to the half, in whole
//! rows at a time: `F(x, y) = max(F(s, y) + F(x - s, y), F(x, s) + F(x, y - s))`. Values are whole numbers held in
//! floating point below 2^53, so sums are exact and a value can be part of a proof.

use super::raster::{Raster, lyings};
use crate::domain::cutting::planner::model::Instance;
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
    raster: Raster,
    places: Vec<Place>,
    best: Vec<f64>,
    /// Additions of one call.
    pub work: u64,
}

impl Exact {
    /// A table for one format; `None` where it would be too large to be quick.
    pub(crate) fn new(model: &Instance, format: usize) -> Option<Self> {
        let kinds = (0_u16..).zip(model.kinds.iter().map(|kind| kind.count));
        let raster = Raster::new(model, format, kinds)?;
        let (nx, ny) = raster.extent();
        let (nx, ny) = (nx as u64, ny as u64);
        let work = nx * ny * (nx + ny) / 4 + nx * ny;
        if work > MOST_ADDITIONS {
            return None;
        }
        let mut places = Vec::new();
        for kind in 0..model.kinds.len() as u16 {
            for (turned, w, h) in lyings(model, kind, format) {
                places.push(Place { kind, turned, w, h, row: raster.row_of(w), column: raster.column_of(h) });
            }
        }
        let best = vec![0.0; raster.xs.len() * raster.ys.len()];
        Some(Self { raster, places, best, work })
    }

    /// The most that a sheet is worth at these values (whole numbers).
    ///
    /// Cuts longer than the trimmer makes are left out where that is certain; the value is never too small.
    pub(crate) fn solve(&mut self, values: &[f64]) -> f64 {
        let n = self.raster.ys.len();
        self.best.fill(0.0);
        for place in &self.places {
            let slot = &mut self.best[place.row * n + place.column];
            *slot = slot.max(values[usize::from(place.kind)]);
        }
        let short = self.raster.ys.partition_point(|&y| y <= self.raster.max_cut);
        for row in 1..self.raster.xs.len() {
            let (above, below) = self.best.split_at_mut(row * n);
            let line = &mut below[..n];
            for (x, up) in line.iter_mut().zip(&above[(row - 1) * n..]) {
                *x = x.max(*up);
            }
            let width = self.raster.xs[row];
            for part in 1..row {
                let s = self.raster.xs[part];
                if 2 * s > width {
                    break;
                }
                let rest = self.raster.row_of(width - s);
                let (a, b) = (&above[part * n..part * n + n], &above[rest * n..rest * n + n]);
                for ((x, p), q) in line[..short].iter_mut().zip(a).zip(b) {
                    let sum = p + q;
                    *x = if sum > *x { sum } else { *x };
                }
            }
            for column in 1..n {
                let height = self.raster.ys[column];
                let mut most = line[column].max(line[column - 1]);
                if width <= self.raster.max_cut {
                    for part in 1..column {
                        let s = self.raster.ys[part];
                        if 2 * s > height {
                            break;
                        }
                        let sum = line[part] + line[self.raster.column_of(height - s)];
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
        self.panel(values, self.raster.w, self.raster.h)
    }

    fn panel(&self, values: &[f64], w: i32, h: i32) -> Shape {
        let n = self.raster.ys.len();
        let (mut row, mut column) = (self.raster.row_of(w), self.raster.column_of(h));
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
        let (x, y) = (self.raster.xs[row], self.raster.ys[column]);
        trimmed(w, h, x, y, self.core(values, row, column, worth))
    }

    /// The layout of a panel that is not larger than its value needs.
    fn core(&self, values: &[f64], row: usize, column: usize, worth: f64) -> Shape {
        let n = self.raster.ys.len();
        let (x, y) = (self.raster.xs[row], self.raster.ys[column]);
        for p in &self.places {
            if p.w <= x && p.h <= y && values[usize::from(p.kind)] == worth {
                let piece = Shape::Piece { kind: p.kind, turned: p.turned };
                return trimmed(x, y, p.w, p.h, piece);
            }
        }
        if y <= self.raster.max_cut {
            for part in 1..row {
                let s = self.raster.xs[part];
                let rest = self.raster.row_of(x - s);
                if self.best[part * n + column] + self.best[rest * n + column] == worth {
                    let parts = vec![(s, self.panel(values, s, y)), (x - s, self.panel(values, x - s, y))];
                    return Shape::Parts { down: true, parts };
                }
            }
        }
        for part in 1..column {
            let s = self.raster.ys[part];
            let rest = self.raster.column_of(y - s);
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
