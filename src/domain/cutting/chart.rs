//! The chart: the counts of every size from one sheet, rows by width, columns by height. Every cell is exact, as far as there is
//! time: what was not looked through to the end is said of its cell.

use super::bounds;
use super::grid;
use super::limited::Counter;
use super::question::{Limits, part};
use super::recursion::{self, Recursion};
use super::stop::Stop;
use crate::domain::length::Length;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// The sizes a chart shows in both directions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ChartRange {
    /// The smallest.
    pub from: Length,
    /// The largest; shown where a whole number of steps meets it.
    pub to: Length,
    /// From one to the next.
    pub step: Length,
}

/// Most values a side of a chart may have.
pub const MOST_VALUES: i64 = 400;

impl ChartRange {
    /// From 1/2 in to half the longer side of the sheet, by quarters.
    pub fn for_sheet(sheet: &Sheet) -> Self {
        Self { from: Length::sixteenths(8), to: sheet.actual().long().half(), step: Length::sixteenths(4) }
    }

    /// Checks a range that a person typed.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn checked(from: Length, to: Length, step: Length) -> Result<Self, ChartError> {
        if !from.is_positive() || !step.is_positive() {
            return Err(ChartError::NotPositive);
        }
        if to < from {
            return Err(ChartError::Backwards { from, to });
        }
        let values = (to - from).times(step) + 1;
        if values > MOST_VALUES {
            return Err(ChartError::TooMany { values });
        }
        Ok(Self { from, to, step })
    }

    /// The values from the smallest up.
    pub fn values(&self) -> Vec<Length> {
        let count = if self.to < self.from { 0 } else { (self.to - self.from).times(self.step) + 1 };
        (0..count.min(MOST_VALUES)).map(|n| self.from + self.step * n).collect()
    }
}

/// Why a range was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ChartError {
    /// From or step of zero.
    #[error("a chart needs a first size and a step above zero")]
    NotPositive,
    /// Last below first.
    #[error("the chart goes from {from} to {to}: the last size must not be below the first")]
    Backwards {
        /// First size.
        from: Length,
        /// Last size.
        to: Length,
    },
    /// More than [`MOST_VALUES`].
    #[error("the chart has {values} sizes a side: {MOST_VALUES} is the most, take a larger step")]
    TooMany {
        /// Sizes a side.
        values: i64,
    },
}

/// The counts of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Cell {
    /// Width along the sheet's width when upright.
    pub size: Size,
    /// All upright.
    pub upright: u32,
    /// All turned; 0 where pieces may not be turned.
    pub turned: u32,
    /// Most by edge-to-edge cuts.
    pub best: u32,
    /// True where it is proved that there are no more; false where the chart has too many sizes to look through each.
    pub proved: bool,
}

/// Steps of the recursion for all cells of a chart together (one to two seconds; quarter inches on real paper need a
/// hundredth).
const MOST_STEPS: u64 = 100_000_000;
/// Steps that a cell may take beyond what is left for each: most cells need next to none.
const FAIR_SHARES: u64 = 50;

/// All cells, row by row: the width is the same along a row, the height goes up.
pub fn cells(sheet: &Sheet, range: &ChartRange, may_turn: bool, limits: Limits) -> Vec<Cell> {
    cells_until(sheet, range, may_turn, limits, &Stop::default())
}

/// The same, or once nobody waits any more nothing.
pub fn cells_until(
    sheet: &Sheet,
    range: &ChartRange,
    may_turn: bool,
    limits: Limits,
    stop: &Stop,
) -> Vec<Cell> {
    let room = sheet.usable().size;
    let values = range.values();
    let side = values.len();
    let mut all: Vec<Cell> = Vec::with_capacity(side * side);
    let mut steps_left = MOST_STEPS;
    for (row, &width) in values.iter().enumerate() {
        if stop.is_asked() {
            return Vec::new();
        }
        for (column, &height) in values.iter().enumerate() {
            let mirrored = (may_turn && column < row).then(|| all[column * side + row]);
            let size = Size::new(width, height);
            all.push(if let Some(cell) = mirrored {
                Cell { size, upright: cell.turned, turned: cell.upright, ..cell }
            } else {
                let open = (side * side - all.len()) as u64;
                let allowed = steps_left.min(steps_left / open.max(1) * FAIR_SHARES);
                let (cell, steps) = cell_within(room, size, may_turn, limits, allowed);
                steps_left -= steps.min(steps_left);
                cell
            });
        }
    }
    all
}

/// One cell: the same numbers as the full answer, without its layout.
pub fn cell(room: Size, size: Size, may_turn: bool, limits: Limits) -> Cell {
    cell_within(room, size, may_turn, limits, recursion::MOST_STEPS).0
}

/// A cell for at most so many steps, and the steps it took.
fn cell_within(room: Size, size: Size, may_turn: bool, limits: Limits, allowed: u64) -> (Cell, u64) {
    let (mut proved, mut steps) = (true, 0);
    let (width, height) = (room.width.units(), room.height.units());
    let mut count = |sizes: &[Size]| {
        let ways: Vec<_> = sizes.iter().copied().map(part).collect();
        // The sums have to be written down before the first step.
        let setting_up = Recursion::set_up(width, height, &ways);
        if setting_up > allowed {
            proved = false;
            return 0;
        }
        let allowed = allowed - setting_up;
        let mut counter = Counter::within(width, height, &ways, limits, allowed);
        let n = counter.count(width, height);
        proved &= counter.is_exact();
        steps += setting_up + counter.steps_of(allowed);
        u32::try_from(n).unwrap_or(u32::MAX)
    };
    let free = limits.allow_all(width, height);
    let mut one_way = |size: Size| {
        if free { u32::try_from(grid::count(room, size)).unwrap_or(u32::MAX) } else { count(&[size]) }
    };
    let upright = one_way(size);
    let turned = if may_turn { one_way(size.turned()) } else { 0 };
    let one_way = upright.max(turned);
    let is_full = i128::from(one_way) >= room.area() / size.area().max(1);
    let best = if may_turn && !size.is_square() && !is_full {
        let mixed = if free { few_blocks(room, size).max(one_way) } else { one_way };
        // Where a few blocks reach what no cutting passes, nothing is left to look through.
        if i64::from(mixed) < two_dimensional(room, size) {
            count(&[size, size.turned()]).max(mixed)
        } else {
            mixed
        }
    } else {
        one_way
    };
    (Cell { size, upright, turned, best, proved }, steps)
}

/// The most that any cutting gives, by area and by bars, on the room that sums of the two sides fill.
fn two_dimensional(room: Size, size: Size) -> i64 {
    let (long, short) = (size.long().units(), size.short().units());
    let filled = |side: i64| {
        (0..=side / long).map(|n| n * long + (side - n * long) / short * short).max().unwrap_or(0)
    };
    let (width, height) = (filled(room.width.units()), filled(room.height.units()));
    bounds::area(width, height, long, short).min(bounds::barnes(width, height, long, short))
}

/// The most pieces of up to three blocks, each all one way: a cut through the room, and one through what lies beyond it.
fn few_blocks(room: Size, size: Size) -> u32 {
    let (a, b) = (size.width.units(), size.height.units());
    let (width, height) = (room.width.units(), room.height.units());
    let one = |w: i64, h: i64| ((w / a) * (h / b)).max((w / b) * (h / a));
    // A first block of columns that fill the height as well as they can, then the same for the room beyond.
    let parted = |w: i64, h: i64, beyond: &dyn Fn(i64, i64) -> i64| {
        let places = |side: i64| (1..=w / side).map(move |n| n * side);
        places(a).chain(places(b)).map(|x| one(x, h) + beyond(w - x, h)).max().unwrap_or(0)
    };
    let across = |w: i64, h: i64| parted(h, w, &one).max(one(w, h));
    let turned = |w: i64, h: i64| across(h, w);
    let most = parted(width, height, &across).max(parted(height, width, &turned));
    u32::try_from(most.max(one(width, height))).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    #[test]
    fn writing_down_the_sums_counts_as_work() {
        let size = |text| Size::parse(text, Unit::Inch).unwrap();
        let room = size("25x38");
        // Sizes without a common measure have tens of thousands of sums.
        let odd = size("0.377x1.487");
        let (open, steps) = cell_within(room, odd, true, Limits::NONE, 100);
        // A few blocks are tried all the same.
        assert!(!open.proved && steps == 0 && open.best > open.upright.max(open.turned), "{open:?}");
        let (_, steps) = cell_within(room, odd, true, Limits::NONE, 10_000_000);
        assert!(steps > 10_000, "{steps}");
        // A few blocks reach what no cutting passes (28 is the proved optimum of the reference cases).
        let (few, steps) = cell_within(size("12x12"), size("1x5"), true, Limits::NONE, 0);
        assert!(few.proved && few.best == 28 && steps == 0, "{few:?}");
        // Where all one way fills the sheet nothing has to be looked at.
        let (full, steps) = cell_within(size("12x12"), size("2x3"), true, Limits::NONE, 0);
        assert!(full.proved && full.best == 24 && steps == 0, "{full:?}");
    }
}
