//! A chart as counted: sizes along both sides, counts in the cells, the sizes that the person uses. Knows no page.

use crate::domain::cutting::chart::{Cell, ChartRange, cell, cells as count_all};
use crate::domain::cutting::question::Limits;
use crate::domain::length::{Length, Unit};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// A chart of one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What the sheet is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// Pieces may lie turned: the chart is symmetric.
    pub may_turn: bool,
    /// Sizes along both sides.
    pub values: Vec<Length>,
    /// Row by row: the width is the same along a row.
    pub cells: Vec<Cell>,
    /// Sizes that the person uses, the shorter side first, with their counts.
    pub used: Vec<Cell>,
}

impl Chart {
    /// Counts every size of a range from a sheet, on a trimmer without limits.
    pub fn of(sheet: &Sheet, range: &ChartRange, may_turn: bool) -> Self {
        Self {
            name: sheet.name.clone(),
            size: sheet.actual(),
            may_turn,
            values: range.values(),
            cells: count_all(sheet, range, may_turn, Limits::NONE),
            used: Vec::new(),
        }
    }

    /// The same with the sizes that the person uses, each counted exactly. Sizes that do not fit are left out.
    #[must_use]
    pub fn with_used(self, sheet: &Sheet, sizes: &[Size]) -> Self {
        let room = sheet.usable().size;
        let count = |size: &Size| cell(room, size.upright(), self.may_turn, Limits::NONE);
        let used = sizes.iter().map(count).filter(|cell| cell.best > 0).collect();
        Self { used, ..self }
    }

    /// The cell of a width and a height, by their places among the values.
    pub fn cell(&self, row: usize, column: usize) -> Option<&Cell> {
        self.cells.get(row * self.values.len() + column)
    }

    /// True where the person uses a size, either way round.
    pub fn is_used(&self, size: Size) -> bool {
        self.used.iter().any(|c| c.size.upright() == size.upright())
    }
}

/// The better direction of a cell, as a sign that needs no colour.
pub fn sign(cell: &Cell) -> String {
    let one_way = cell.upright.max(cell.turned);
    if cell.best > one_way {
        format!("+{}", cell.best - one_way)
    } else if cell.best == 0 {
        String::new()
    } else if cell.upright == cell.turned {
        "=".to_owned()
    } else if cell.upright > cell.turned {
        "▲".to_owned()
    } else {
        "▶".to_owned()
    }
}

/// A size in the chart's unit; one that is made in the other unit is named in that.
pub fn shown(size: Size, unit: Unit) -> String {
    let (plain, made) = (size.show_with_unit(unit), size.as_made(unit));
    if made == plain { size.show(unit) } else { made }
}
