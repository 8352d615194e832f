//! A valuable layout of one sheet, edge to edge, with no more of a kind than are wanted.
//!
//! The recursion of [`super::exact`], but every panel remembers the numbers on its best layout: two panels joined are
//! worth what is wanted of both together, and pieces beyond that count nothing. One layout for each panel makes it a
//! heuristic (an exact one would have to remember all that are worth keeping), as quick as the exact one without numbers.

use super::exact::{sums, trimmed};
use super::pattern::Pattern;
use crate::domain::cutting::planner::model::{Instance, TURNED, UPRIGHT};
use crate::domain::cutting::planner::shape::Shape;
use crate::domain::cutting::recreate::bin::Bin;

/// Kinds that the numbers have room for, and the most of one.
pub(crate) const MOST_KINDS: usize = 32;
const MOST_OF_A_KIND: u32 = 127;
/// Additions that one call may take; tables that need more are not made (about 30 ms; a 12x18 sheet in sixteenths takes 9
/// million).
const MOST_ADDITIONS: u64 = 10_000_000;

/// Numbers of every kind, a byte for each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Numbers([u128; 2]);

/// The top bit of every byte.
const GUARDS: u128 = u128::from_be_bytes([0x80; 16]);

impl Numbers {
    fn one(kind: usize) -> Self {
        let mut one = Self::default();
        one.0[kind / 16] = 1 << (8 * (kind % 16));
        one
    }

    fn of(self, kind: usize) -> u32 {
        (self.0[kind / 16] >> (8 * (kind % 16))) as u32 & 0xFF
    }

    fn set(&mut self, kind: usize, n: u32) {
        let at = 8 * (kind % 16);
        let half = &mut self.0[kind / 16];
        *half = (*half & !(0xFF << at)) | (u128::from(n) << at);
    }

    /// Both together; each is at most 127.
    fn plus(self, other: Self) -> Self {
        Self([self.0[0] + other.0[0], self.0[1] + other.0[1]])
    }

    /// The top bits of the numbers that are above their caps.
    fn beyond(self, caps: Self) -> [u128; 2] {
        [0, 1].map(|half| !((caps.0[half] | GUARDS) - self.0[half]) & GUARDS)
    }
}

/// How the best layout of a panel comes about.
#[derive(Clone, Copy, Debug)]
enum Way {
    /// Nothing on it.
    Nothing,
    /// One piece in the corner.
    Piece(u16, bool),
    /// What the panel of the row before holds, or of the column before.
    Narrower,
    Lower,
    /// Two panels side by side: the row of the first.
    Beside(u16),
    /// One above the other: the column of the first.
    Above(u16),
}

#[derive(Clone, Copy, Debug)]
struct Panel {
    numbers: Numbers,
    way: Way,
}

/// The table of one row of sheets for what is still wanted.
pub(crate) struct Capped {
    format: u16,
    w: i32,
    h: i32,
    xs: Vec<i32>,
    ys: Vec<i32>,
    floor_x: Vec<u16>,
    floor_y: Vec<u16>,
    /// Kinds that go on the sheet: number in the job, and the most of it.
    kinds: Vec<(u16, u32)>,
    caps: Numbers,
    /// Kind here, lying turned, row and column.
    places: Vec<(usize, bool, usize, usize)>,
    worth: Vec<f64>,
    panels: Vec<Panel>,
    max_cut: i32,
    /// Additions of one call, about.
    pub work: u64,
}

impl Capped {
    /// A table for a row of sheets and what is wanted of each kind; `None` where nothing goes on it or it would be too large.
    pub(crate) fn new(model: &Instance, format: usize, need: &[u32]) -> Option<Self> {
        let f = &model.formats[format];
        let fits = |k: &usize| need[*k] > 0 && model.kinds[*k].ways[format] != 0;
        let kinds: Vec<(u16, u32)> =
            (0..model.kinds.len()).filter(fits).map(|k| (k as u16, need[k].min(MOST_OF_A_KIND))).collect();
        if kinds.is_empty() || kinds.len() > MOST_KINDS {
            return None;
        }
        let mut caps = Numbers::default();
        let (mut across, mut along) = (Vec::new(), Vec::new());
        for (at, &(k, n)) in kinds.iter().enumerate() {
            caps.set(at, n);
            for (_, w, h) in lyings(model, k, format) {
                across.push((w, n));
                along.push((h, n));
            }
        }
        let (xs, floor_x) = sums(f.w, &across)?;
        let (ys, floor_y) = sums(f.h, &along)?;
        let (nx, ny) = (xs.len() as u64, ys.len() as u64);
        let work = nx * ny * (nx + ny) / 3 + 4 * nx * ny;
        if work > MOST_ADDITIONS {
            return None;
        }
        let mut places = Vec::new();
        for (at, &(k, _)) in kinds.iter().enumerate() {
            for (turned, w, h) in lyings(model, k, format) {
                places.push((at, turned, usize::from(floor_x[w as usize]), usize::from(floor_y[h as usize])));
            }
        }
        let cells = xs.len() * ys.len();
        let empty = Panel { numbers: Numbers::default(), way: Way::Nothing };
        Some(Self {
            format: format as u16,
            w: f.w,
            h: f.h,
            xs,
            ys,
            floor_x,
            floor_y,
            kinds,
            caps,
            places,
            worth: vec![0.0; cells],
            panels: vec![empty; cells],
            max_cut: model.max_cut,
            work,
        })
    }

    /// A layout that is worth much at these prices, with no more than is wanted; `None` where nothing is worth anything.
    pub(crate) fn best(&mut self, model: &Instance, prices: &[f64]) -> Option<Pattern> {
        let values: Vec<f64> = self.kinds.iter().map(|&(k, _)| prices[usize::from(k)]).collect();
        self.solve(&values);
        if self.worth.last().copied().unwrap_or(0.0) <= 0.0 {
            return None;
        }
        let (row, column) = (self.xs.len() - 1, self.ys.len() - 1);
        let shape = trimmed(self.w, self.h, self.xs[row], self.ys[column], self.shape(model, row, column));
        let mut bin = Bin::build(model, self.format, shape);
        if !bin.keeps_to(self.max_cut) {
            return None;
        }
        for &(k, most) in &self.kinds {
            let made = bin.kinds().filter(|&kind| kind == k).count() as u32;
            for _ in most..made {
                bin.remove_one(model, k);
            }
        }
        Some(Pattern::of(bin))
    }

    fn solve(&mut self, values: &[f64]) {
        let n = self.ys.len();
        self.worth.fill(0.0);
        self.panels.fill(Panel { numbers: Numbers::default(), way: Way::Nothing });
        for &(kind, turned, row, column) in &self.places {
            let cell = row * n + column;
            if values[kind] > self.worth[cell] {
                self.worth[cell] = values[kind];
                let way = Way::Piece(self.kinds[kind].0, turned);
                self.panels[cell] = Panel { numbers: Numbers::one(kind), way };
            }
        }
        for row in 1..self.xs.len() {
            self.carry_on(row);
            self.join_beside(values, row);
            self.join_above(values, row);
        }
    }

    /// What a narrower panel holds, this one holds too.
    fn carry_on(&mut self, row: usize) {
        let n = self.ys.len();
        for cell in row * n..(row + 1) * n {
            if self.worth[cell - n] > self.worth[cell] {
                self.worth[cell] = self.worth[cell - n];
                self.panels[cell] = Panel { way: Way::Narrower, ..self.panels[cell - n] };
            }
        }
    }

    fn join_beside(&mut self, values: &[f64], row: usize) {
        let n = self.ys.len();
        let width = self.xs[row];
        let short = self.ys.partition_point(|&y| y <= self.max_cut);
        for part in 1..row {
            let s = self.xs[part];
            if 2 * s > width {
                break;
            }
            let rest = usize::from(self.floor_x[(width - s) as usize]);
            for column in 1..short {
                let (a, b) = (part * n + column, rest * n + column);
                if self.worth[a] + self.worth[b] > self.worth[row * n + column] {
                    self.join(values, (a, b), row * n + column, Way::Beside(part as u16));
                }
            }
        }
    }

    fn join_above(&mut self, values: &[f64], row: usize) {
        let n = self.ys.len();
        let is_short = self.xs[row] <= self.max_cut;
        for column in 1..n {
            let cell = row * n + column;
            if self.worth[cell - 1] > self.worth[cell] {
                self.worth[cell] = self.worth[cell - 1];
                self.panels[cell] = Panel { way: Way::Lower, ..self.panels[cell - 1] };
            }
            let height = self.ys[column];
            for part in 1..column {
                let s = self.ys[part];
                if 2 * s > height || !is_short {
                    break;
                }
                let rest = usize::from(self.floor_y[(height - s) as usize]);
                let (a, b) = (row * n + part, row * n + rest);
                if self.worth[a] + self.worth[b] > self.worth[cell] {
                    self.join(values, (a, b), cell, Way::Above(part as u16));
                }
            }
        }
    }

    /// Two panels together, where what is wanted of both is worth more than what the cell holds.
    fn join(&mut self, values: &[f64], (a, b): (usize, usize), cell: usize, way: Way) {
        let mut numbers = self.panels[a].numbers.plus(self.panels[b].numbers);
        let mut worth = self.worth[a] + self.worth[b];
        let beyond = numbers.beyond(self.caps);
        if beyond != [0, 0] {
            for (half, mut bits) in beyond.into_iter().enumerate() {
                while bits != 0 {
                    let kind = 16 * half + bits.trailing_zeros() as usize / 8;
                    bits &= bits - 1;
                    let (have, cap) = (numbers.of(kind), self.caps.of(kind));
                    worth -= values[kind] * f64::from(have - cap);
                    numbers.set(kind, cap);
                }
            }
            if worth <= self.worth[cell] {
                return;
            }
        }
        self.worth[cell] = worth;
        self.panels[cell] = Panel { numbers, way };
    }

    /// The layout of a panel of so many columns and rows.
    fn shape(&self, model: &Instance, row: usize, column: usize) -> Shape {
        let n = self.ys.len();
        let (x, y) = (self.xs[row], self.ys[column]);
        let (mut row, mut column) = (row, column);
        let way = loop {
            match self.panels[row * n + column].way {
                Way::Narrower => row -= 1,
                Way::Lower => column -= 1,
                way => break way,
            }
        };
        let (used_x, used_y) = (self.xs[row], self.ys[column]);
        let parts = |first: i32, all: i32, one: Shape, other: Shape| vec![(first, one), (all - first, other)];
        let used = match way {
            Way::Nothing | Way::Narrower | Way::Lower => Shape::Left,
            Way::Piece(kind, turned) => {
                let (w, h) = model.kinds[usize::from(kind)].lying(turned);
                trimmed(used_x, used_y, w, h, Shape::Piece { kind, turned })
            }
            Way::Beside(part) => {
                let s = self.xs[usize::from(part)];
                let rest = usize::from(self.floor_x[(used_x - s) as usize]);
                let other =
                    trimmed(used_x - s, used_y, self.xs[rest], used_y, self.shape(model, rest, column));
                let one = self.shape(model, usize::from(part), column);
                Shape::Parts { down: true, parts: parts(s, used_x, one, other) }
            }
            Way::Above(part) => {
                let s = self.ys[usize::from(part)];
                let rest = usize::from(self.floor_y[(used_y - s) as usize]);
                let other = trimmed(used_x, used_y - s, used_x, self.ys[rest], self.shape(model, row, rest));
                let one = self.shape(model, row, usize::from(part));
                Shape::Parts { down: false, parts: parts(s, used_y, one, other) }
            }
        };
        trimmed(x, y, used_x, used_y, used)
    }
}

/// The ways in which a kind lies on a row of sheets: turned or not, width, height.
fn lyings(model: &Instance, kind: u16, format: usize) -> impl Iterator<Item = (bool, i32, i32)> + use<> {
    let piece = &model.kinds[usize::from(kind)];
    let (ways, upright, turned) = (piece.ways[format], piece.lying(false), piece.lying(true));
    let all = [(UPRIGHT, false, upright), (TURNED, true, turned)];
    all.into_iter().filter(move |(way, ..)| ways & way != 0).map(|(_, turned, (w, h))| (turned, w, h))
}

#[cfg(test)]
mod tests {
    use super::super::exact::Exact;
    use super::*;
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::model::{Format, NO_LIMIT, PieceKind};

    #[test]
    fn no_more_are_counted_than_are_wanted_and_without_that_it_is_the_exact_answer() {
        let mut dice = Dice::new(3);
        let mut kept_back = 0;
        for _ in 0..60 {
            let (w, h) = (20 + dice.below(30) as i32, 20 + dice.below(30) as i32);
            let kind = |dice: &mut Dice| PieceKind {
                w: 4 + dice.below(15) as i32,
                h: 4 + dice.below(15) as i32,
                count: 120,
                ways: vec![UPRIGHT | TURNED],
            };
            let kinds: Vec<PieceKind> = (0..18).map(|_| kind(&mut dice)).collect();
            let format = Format { w, h, available: NO_LIMIT, cost: 1 };
            let model = Instance::new(kinds, vec![format], 100);
            let area = |k: &PieceKind| k.area() as f64;
            let prices: Vec<f64> = model.kinds.iter().map(|k| area(k) + dice.below(40) as f64).collect();
            let most = Exact::new(&model, 0).unwrap().solve(&prices);
            let all = Capped::new(&model, 0, &[120; 18]).unwrap().best(&model, &prices).unwrap();
            assert!((all.worth(&prices) - most).abs() < 1e-6, "{} {most}", all.worth(&prices));
            let need: Vec<u32> = (0..18).map(|_| dice.below(3) as u32).collect();
            let mut table = Capped::new(&model, 0, &need).unwrap();
            let some = table.best(&model, &prices).unwrap();
            assert!(
                some.counts.iter().all(|&(k, n)| n <= need[usize::from(k)]),
                "{:?} {need:?}",
                some.counts
            );
            let said = table.worth.last().copied().unwrap();
            assert!((some.worth(&prices) - said).abs() < 1e-6, "{} {said}", some.worth(&prices));
            kept_back += u32::from(said < most - 1e-6);
        }
        assert!(kept_back > 30, "{kept_back}");
    }
}
