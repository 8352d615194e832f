//! Lines that join: panel borders drawn cell by cell, with the right junction sign where they meet.

use crate::ui::ground::over;
use crate::ui::look::Look;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

const UP: u8 = 1;
const RIGHT: u8 = 2;
const DOWN: u8 = 4;
const LEFT: u8 = 8;

/// A grid of cells with arms towards their neighbours; light and heavy lines apart.
#[derive(Debug)]
pub struct Canvas {
    columns: u16,
    rows: u16,
    light: Vec<u8>,
    heavy: Vec<u8>,
}

impl Canvas {
    /// An empty grid.
    pub fn new(columns: u16, rows: u16) -> Self {
        let cells = usize::from(columns) * usize::from(rows);
        Self { columns, rows, light: vec![0; cells], heavy: vec![0; cells] }
    }

    /// A line from `x0` to `x1` in row `y`.
    pub fn across(&mut self, y: u16, x0: u16, x1: u16, heavy: bool) {
        for x in x0..x1 {
            self.arm(x, y, RIGHT, heavy);
            self.arm(x + 1, y, LEFT, heavy);
        }
    }

    /// A line from `y0` to `y1` in column `x`.
    pub fn down(&mut self, x: u16, y0: u16, y1: u16, heavy: bool) {
        for y in y0..y1 {
            self.arm(x, y, DOWN, heavy);
            self.arm(x, y + 1, UP, heavy);
        }
    }

    /// The border of a rectangle whose corners are cells.
    pub fn frame(&mut self, x0: u16, y0: u16, x1: u16, y1: u16) {
        self.across(y0, x0, x1, false);
        self.across(y1, x0, x1, false);
        self.down(x0, y0, y1, false);
        self.down(x1, y0, y1, false);
    }

    fn arm(&mut self, x: u16, y: u16, arm: u8, heavy: bool) {
        if x >= self.columns || y >= self.rows {
            return;
        }
        let at = usize::from(y) * usize::from(self.columns) + usize::from(x);
        let grid = if heavy { &mut self.heavy } else { &mut self.light };
        if let Some(cell) = grid.get_mut(at) {
            *cell |= arm;
        }
    }

    /// Draws the lines at the top left of `area`, over whatever ground lies there. A light line that meets a heavy one stays light
    /// where there is a sign for that; else heavy wins.
    pub fn draw(&self, area: Rect, buf: &mut Buffer, look: &Look) {
        let (glyphs, theme) = (&look.glyphs, &look.theme);
        for y in 0..self.rows.min(area.height) {
            for x in 0..self.columns.min(area.width) {
                let at = usize::from(y) * usize::from(self.columns) + usize::from(x);
                let (light, heavy) = (self.light[at], self.heavy[at]);
                let (sign, style) = match (light, heavy) {
                    (0, 0) => continue,
                    (light, 0) => (glyphs.joins[usize::from(light)], theme.line),
                    (light, heavy) => {
                        let both = glyphs.heavy[usize::from(heavy | light)];
                        (glyphs.mixed(heavy, light & !heavy).unwrap_or(both), theme.cut)
                    }
                };
                over(buf, (area.x + x, area.y + y), sign, style);
            }
        }
    }
}
