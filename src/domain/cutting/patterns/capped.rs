//! A valuable layout of one sheet, edge to edge, with no more of a kind than are wanted.
//!
//! The recursion of [`super::exact`], but every panel remembers the numbers on its best layout: two panels joined are
//! worth what is wanted of both together, and pieces beyond that count nothing. One layout for each panel makes it a
//! heuristic (an exact one would have to remember all that are worth keeping), as quick as the exact one without numbers.

use super::exact::trimmed;
use super::pattern::Pattern;
use super::raster::{Raster, lyings};
use crate::domain::cutting::planner::model::Instance;
use crate::domain::cutting::planner::shape::Shape;
use crate::domain::cutting::recreate::bin::Bin;

/// Kinds that the numbers have room for, and the most of one.
pub(crate) const MOST_KINDS: usize = 128;
const FEW_KINDS: usize = 32;
const MOST_OF_A_KIND: u32 = 127;
/// Additions that one call may take; tables that need more are not made (about 30 ms; a 12x18 sheet in sixteenths takes 9
/// million).
const MOST_ADDITIONS: u64 = 10_000_000;
/// Worth of all that is wanted, in whole numbers, at most; and of a price of one sheet.
const MOST_WORTH: f64 = 1e9;
const FINEST: f64 = 4e6;
/// Panels that are compared at once.
const ABREAST: usize = 8;

/// Numbers of every kind, a byte for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Numbers<const PARTS: usize>([u128; PARTS]);

/// The top bit of every byte.
const GUARDS: u128 = u128::from_be_bytes([0x80; 16]);

impl<const PARTS: usize> Numbers<PARTS> {
    const NONE: Self = Self([0; PARTS]);

    fn one(kind: usize) -> Self {
        let mut one = Self::NONE;
        one.0[kind / 16] = 1 << (8 * (kind % 16));
        one
    }

    fn of(&self, kind: usize) -> u32 {
        (self.0[kind / 16] >> (8 * (kind % 16))) as u32 & 0xFF
    }

    fn set(&mut self, kind: usize, n: u32) {
        let at = 8 * (kind % 16);
        let part = &mut self.0[kind / 16];
        *part = (*part & !(0xFF << at)) | (u128::from(n) << at);
    }

    /// Both together; each is at most 127.
    fn plus(&self, other: &Self) -> Self {
        let mut both = *self;
        for (part, more) in both.0.iter_mut().zip(other.0) {
            *part = part.wrapping_add(more);
        }
        both
    }

    /// Takes what is beyond the caps off, and tells each kind and by how many.
    fn cap(&mut self, caps: &Self, tell: &mut dyn FnMut(usize, u32)) {
        for part in 0..PARTS {
            let mut bits = !((caps.0[part] | GUARDS).wrapping_sub(self.0[part])) & GUARDS;
            while bits != 0 {
                let kind = 16 * part + bits.trailing_zeros() as usize / 8;
                bits &= bits - 1;
                let (have, cap) = (self.of(kind), caps.of(kind));
                tell(kind, have - cap);
                self.set(kind, cap);
            }
        }
    }
}

/// How the best layout of a panel comes about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    /// Nothing on it.
    Nothing,
    /// One piece in the corner.
    Piece(u16, bool),
    /// Two panels side by side: the row of the first.
    Beside(u16),
    /// One above the other: the column of the first.
    Above(u16),
}

#[derive(Clone, Copy, Debug)]
struct Panel<const PARTS: usize> {
    numbers: Numbers<PARTS>,
    way: Way,
}

/// What is asked of a row of sheets.
struct Asked {
    format: u16,
    raster: Raster,
    /// Kinds that go on the sheet: number in the job, and the most of it.
    kinds: Vec<(u16, u32)>,
    /// Kind here, lying turned, row and column.
    places: Vec<(usize, bool, usize, usize)>,
    /// What one of each kind is worth, in whole numbers.
    values: Vec<i32>,
}

/// The table of one row of sheets for what is still wanted.
pub(crate) struct Capped {
    panels: Panels,
    /// Additions of one call, about.
    pub work: u64,
}

/// With room for the numbers of few kinds, or of many.
enum Panels {
    Few(Table<{ FEW_KINDS / 16 }>),
    Many(Table<{ MOST_KINDS / 16 }>),
}

/// The panels, row by row.
struct Table<const PARTS: usize> {
    asked: Asked,
    caps: Numbers<PARTS>,
    worth: Vec<i32>,
    /// The panel, of this size or smaller, whose layout each panel has.
    like: Vec<u32>,
    panels: Vec<Panel<PARTS>>,
}

impl Capped {
    /// A table for a row of sheets and what is wanted of each kind; `None` where nothing goes on it or it would be too large.
    pub(crate) fn new(model: &Instance, format: usize, need: &[u32]) -> Option<Self> {
        let fits = |k: &usize| need[*k] > 0 && model.kinds[*k].ways[format] != 0;
        let kinds: Vec<(u16, u32)> =
            (0..model.kinds.len()).filter(fits).map(|k| (k as u16, need[k].min(MOST_OF_A_KIND))).collect();
        if kinds.is_empty() || kinds.len() > MOST_KINDS {
            return None;
        }
        let raster = Raster::new(model, format, kinds.iter().copied())?;
        let (nx, ny) = raster.extent();
        let (nx, ny) = (nx as u64, ny as u64);
        let work = nx * ny * (nx + ny) / 3 + 4 * nx * ny;
        if work > MOST_ADDITIONS {
            return None;
        }
        let mut places = Vec::new();
        for (at, &(k, _)) in kinds.iter().enumerate() {
            for (turned, w, h) in lyings(model, k, format) {
                places.push((at, turned, raster.row_of(w), raster.column_of(h)));
            }
        }
        let is_few = kinds.len() <= FEW_KINDS;
        let asked = Asked { format: format as u16, raster, kinds, places, values: Vec::new() };
        let panels = if is_few { Panels::Few(Table::new(asked)) } else { Panels::Many(Table::new(asked)) };
        Some(Self { panels, work })
    }

    /// Layouts that are worth more than `least` at these prices, with no more than is wanted, the best of them first: one at
    /// least of those that are found, `most` at most.
    pub(crate) fn best(
        &mut self,
        model: &Instance,
        prices: &[f64],
        (least, most): (f64, usize),
    ) -> Vec<Pattern> {
        match &mut self.panels {
            Panels::Few(table) => table.best(model, prices, (least, most)),
            Panels::Many(table) => table.best(model, prices, (least, most)),
        }
    }
}

impl<const PARTS: usize> Table<PARTS> {
    fn new(asked: Asked) -> Self {
        let mut caps = Numbers::NONE;
        for (at, &(_, n)) in asked.kinds.iter().enumerate() {
            caps.set(at, n);
        }
        let (nx, ny) = asked.raster.extent();
        let empty = Panel { numbers: Numbers::NONE, way: Way::Nothing };
        Self { asked, caps, worth: vec![0; nx * ny], like: vec![0; nx * ny], panels: vec![empty; nx * ny] }
    }

    fn best(&mut self, model: &Instance, prices: &[f64], (least, most): (f64, usize)) -> Vec<Pattern> {
        let all: f64 = self.asked.kinds.iter().map(|&(k, n)| prices[usize::from(k)] * f64::from(n)).sum();
        let scale = (MOST_WORTH / all.max(1e-12)).min(FINEST / model.dearest());
        let whole = |&(k, _): &(u16, u32)| (prices[usize::from(k)] * scale) as i32;
        self.asked.values = self.asked.kinds.iter().map(whole).collect();
        self.solve();
        let least = (least * scale).min(MOST_WORTH) as i32;
        let mut found: Vec<(i32, Panel<PARTS>)> = self.joints().into_iter().filter(|f| f.0 > least).collect();
        found.sort_by_key(|f| std::cmp::Reverse(f.0));
        let mut kept: Vec<Panel<PARTS>> = Vec::new();
        for (_, panel) in found {
            if kept.len() < most && kept.iter().all(|k| k.numbers != panel.numbers) {
                kept.push(panel);
            }
        }
        kept.iter().filter_map(|panel| self.pattern(model, panel)).collect()
    }

    /// The best layout of the whole sheet, and the best with each first cut.
    fn joints(&self) -> Vec<(i32, Panel<PARTS>)> {
        let Raster { xs, ys, max_cut, w, h, .. } = &self.asked.raster;
        let (row, column) = (xs.len() - 1, ys.len() - 1);
        let last = self.worth.len() - 1;
        let mut found = vec![(self.worth[last], self.panels[self.like[last] as usize])];
        let n = ys.len();
        for part in (1..row).filter(|_| h <= max_cut).take_while(|&part| 2 * xs[part] <= xs[row]) {
            let rest = self.asked.raster.row_of(xs[row] - xs[part]);
            let (worth, numbers) = self.both((part * n + column, rest * n + column));
            found.push((worth, Panel { numbers, way: Way::Beside(part as u16) }));
        }
        for part in (1..column).filter(|_| w <= max_cut).take_while(|&part| 2 * ys[part] <= ys[column]) {
            let rest = self.asked.raster.column_of(ys[column] - ys[part]);
            let (worth, numbers) = self.both((row * n + part, row * n + rest));
            found.push((worth, Panel { numbers, way: Way::Above(part as u16) }));
        }
        found
    }

    fn pattern(&self, model: &Instance, panel: &Panel<PARTS>) -> Option<Pattern> {
        let Raster { xs, ys, w, h, max_cut, .. } = &self.asked.raster;
        let (row, column) = (xs.len() - 1, ys.len() - 1);
        let own = self.panels[self.like[row * ys.len() + column] as usize];
        let shape = if panel.numbers == own.numbers {
            self.shape(model, row, column)
        } else {
            self.used(model, (xs[row], ys[column]), (row, column), panel.way)
        };
        let shape = trimmed(*w, *h, xs[row], ys[column], shape);
        let mut bin = Bin::build(model, self.asked.format, shape);
        if !bin.keeps_to(*max_cut) || bin.is_empty() {
            return None;
        }
        for &(k, most) in &self.asked.kinds {
            let made = bin.kinds().filter(|&kind| kind == k).count() as u32;
            for _ in most..made {
                bin.remove_one(model, k);
            }
        }
        Some(Pattern::of(bin))
    }

    fn solve(&mut self) {
        let n = self.asked.raster.ys.len();
        self.worth.fill(0);
        self.like.fill(0);
        for &(kind, turned, row, column) in &self.asked.places {
            let cell = row * n + column;
            if self.asked.values[kind] > self.worth[cell] {
                self.worth[cell] = self.asked.values[kind];
                let way = Way::Piece(self.asked.kinds[kind].0, turned);
                self.panels[cell] = Panel { numbers: Numbers::one(kind), way };
                self.like[cell] = cell as u32;
            }
        }
        for row in 1..self.asked.raster.xs.len() {
            for cell in row * n..(row + 1) * n {
                self.carry_on(cell - n, cell);
            }
            self.join_beside(row);
            self.join_above(row);
        }
    }

    /// What a smaller panel holds, this one holds too.
    fn carry_on(&mut self, from: usize, cell: usize) {
        if self.worth[from] > self.worth[cell] {
            self.worth[cell] = self.worth[from];
            self.like[cell] = self.like[from];
        }
    }

    fn join_beside(&mut self, row: usize) {
        let raster = &self.asked.raster;
        let n = raster.ys.len();
        let width = raster.xs[row];
        let short = raster.ys.partition_point(|&y| y <= raster.max_cut);
        for part in 1..row {
            let s = self.asked.raster.xs[part];
            if 2 * s > width {
                break;
            }
            let rest = self.asked.raster.row_of(width - s);
            let mut from = 1;
            while let Some(column) = self.gain((part, rest, row), from..short) {
                self.join((part * n + column, rest * n + column), row * n + column, Way::Beside(part as u16));
                from = column + 1;
            }
        }
    }

    /// The next column in which the panels of two rows together are worth more than that of a third.
    fn gain(&self, (a, b, row): (usize, usize, usize), columns: std::ops::Range<usize>) -> Option<usize> {
        let n = self.asked.raster.ys.len();
        let line =
            |row: usize| &self.worth[row * n + columns.start..row * n + columns.end.max(columns.start)];
        let (a, b, sum) = (line(a), line(b), line(row));
        let parts = a.chunks(ABREAST).zip(b.chunks(ABREAST)).zip(sum.chunks(ABREAST));
        for (at, ((a, b), sum)) in parts.enumerate() {
            let gains = |((a, b), sum): ((&i32, &i32), &i32)| a.wrapping_add(*b) > *sum;
            let is_gain = a.iter().zip(b).zip(sum).fold(false, |any, pair| any | gains(pair));
            if is_gain {
                let place = a.iter().zip(b).zip(sum).position(gains)?;
                return Some(columns.start + at * ABREAST + place);
            }
        }
        None
    }

    fn join_above(&mut self, row: usize) {
        let n = self.asked.raster.ys.len();
        let is_short = self.asked.raster.xs[row] <= self.asked.raster.max_cut;
        for column in 1..n {
            let cell = row * n + column;
            self.carry_on(cell - 1, cell);
            let height = self.asked.raster.ys[column];
            for part in 1..column {
                let s = self.asked.raster.ys[part];
                if 2 * s > height || !is_short {
                    break;
                }
                let rest = self.asked.raster.column_of(height - s);
                let (a, b) = (row * n + part, row * n + rest);
                if self.worth[a].wrapping_add(self.worth[b]) > self.worth[cell] {
                    self.join((a, b), cell, Way::Above(part as u16));
                }
            }
        }
    }

    /// Two panels together, where what is wanted of both is worth more than what the cell holds.
    fn join(&mut self, parts: (usize, usize), cell: usize, way: Way) {
        let (worth, numbers) = self.both(parts);
        if worth > self.worth[cell] {
            self.worth[cell] = worth;
            self.like[cell] = cell as u32;
            self.panels[cell] = Panel { numbers, way };
        }
    }

    /// What is wanted of two panels together: its worth and its numbers.
    fn both(&self, (a, b): (usize, usize)) -> (i32, Numbers<PARTS>) {
        let numbers = |cell: usize| {
            let like = self.like[cell] as usize;
            // The first panel is like nothing, whatever was worked out before.
            if like == 0 { &Numbers::NONE } else { &self.panels[like].numbers }
        };
        let mut both = numbers(a).plus(numbers(b));
        let mut worth = self.worth[a] + self.worth[b];
        both.cap(&self.caps, &mut |kind, surplus| worth -= self.asked.values[kind] * surplus as i32);
        (worth, both)
    }

    /// The layout of a panel of so many columns and rows.
    fn shape(&self, model: &Instance, row: usize, column: usize) -> Shape {
        let Raster { xs, ys, .. } = &self.asked.raster;
        let like = self.like[row * ys.len() + column] as usize;
        if like == 0 {
            return Shape::Left;
        }
        let cell = (like / ys.len(), like % ys.len());
        self.used(model, (xs[row], ys[column]), cell, self.panels[like].way)
    }

    /// The layout of a panel of `x` by `y` whose corner is cut in some way.
    fn used(&self, model: &Instance, (x, y): (i32, i32), (row, column): (usize, usize), way: Way) -> Shape {
        let raster = &self.asked.raster;
        let (xs, ys) = (&raster.xs, &raster.ys);
        let (used_x, used_y) = (xs[row], ys[column]);
        let parts = |first: i32, all: i32, one: Shape, other: Shape| vec![(first, one), (all - first, other)];
        let used = match way {
            Way::Nothing => Shape::Left,
            Way::Piece(kind, turned) => {
                let (w, h) = model.kinds[usize::from(kind)].lying(turned);
                trimmed(used_x, used_y, w, h, Shape::Piece { kind, turned })
            }
            Way::Beside(part) => {
                let s = xs[usize::from(part)];
                let rest = raster.row_of(used_x - s);
                let other = trimmed(used_x - s, used_y, xs[rest], used_y, self.shape(model, rest, column));
                let one = self.shape(model, usize::from(part), column);
                Shape::Parts { down: true, parts: parts(s, used_x, one, other) }
            }
            Way::Above(part) => {
                let s = ys[usize::from(part)];
                let rest = raster.column_of(used_y - s);
                let other = trimmed(used_x, used_y - s, used_x, ys[rest], self.shape(model, row, rest));
                let one = self.shape(model, row, usize::from(part));
                Shape::Parts { down: false, parts: parts(s, used_y, one, other) }
            }
        };
        trimmed(x, y, used_x, used_y, used)
    }
}

#[cfg(test)]
mod tests {
    use super::super::exact::Exact;
    use super::*;
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::model::{Format, NO_LIMIT, PieceKind, TURNED, UPRIGHT};

    #[test]
    fn no_more_are_counted_than_are_wanted_and_without_that_it_is_the_exact_answer() {
        let mut dice = Dice::new(3);
        let (mut kept_back, mut found) = (0, 0);
        for _ in 0..60 {
            let (w, h) = (20 + dice.below(30) as i32, 20 + dice.below(30) as i32);
            let kind = |dice: &mut Dice| PieceKind {
                w: 4 + dice.below(15) as i32,
                h: 4 + dice.below(15) as i32,
                count: 120,
                ways: vec![UPRIGHT | TURNED],
            };
            // Few kinds and many, whose tables differ.
            let many = [18, 40][dice.below(2)];
            let kinds: Vec<PieceKind> = (0..many).map(|_| kind(&mut dice)).collect();
            let format = Format { w, h, available: NO_LIMIT, cost: 1 };
            let model = Instance::new(kinds, vec![format], 100);
            let area = |k: &PieceKind| k.area() as f64;
            let prices: Vec<f64> = model.kinds.iter().map(|k| area(k) + dice.below(40) as f64).collect();
            let most = Exact::new(&model, 0).unwrap().solve(&prices);
            let mut free = Capped::new(&model, 0, &vec![120; many]).unwrap();
            let all = free.best(&model, &prices, (0.0, 1)).remove(0);
            assert!((all.worth(&prices) - most).abs() < 0.1, "{} {most}", all.worth(&prices));
            let need: Vec<u32> = (0..many).map(|_| dice.below(3) as u32).collect();
            let mut table = Capped::new(&model, 0, &need).unwrap();
            let several = table.best(&model, &prices, (0.5 * most, 6));
            let keeps = |layout: &Pattern| layout.counts.iter().all(|&(k, n)| n <= need[usize::from(k)]);
            assert!(several.iter().all(keeps), "{need:?}");
            assert!(several.windows(2).all(|two| two[0].counts != two[1].counts));
            let worth: Vec<f64> = several.iter().map(|layout| layout.worth(&prices)).collect();
            assert!(worth.iter().all(|&w| w > 0.5 * most - 0.1 && w < most + 0.1), "{worth:?} {most}");
            assert!(worth.windows(2).all(|two| two[0] > two[1] - 0.1), "the best first: {worth:?}");
            kept_back += u32::from(worth.first().is_none_or(|&w| w < most - 0.1));
            found += several.len();
        }
        assert!(kept_back > 30 && found > 30, "{kept_back} {found}");
    }
}
