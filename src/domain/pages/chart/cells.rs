//! The cells of a chart: how large they have to be for what stands in them, and how they are drawn.

use super::counted::{Chart, sign};
use crate::domain::cutting::chart::Cell;
use crate::domain::length::{Length, Unit};
use crate::domain::pages::page::{Area, Fill, Group, MM, PALE, Page, Stroke, Um, points};
use crate::domain::pages::scale::WORKS;
use crate::domain::pages::text::Style;

/// The letters of a chart.
#[derive(Clone, Copy, Debug)]
pub struct ChartLetters {
    /// A count.
    pub count: Style,
    /// A count that mixing makes.
    pub best: Style,
    /// The mark under it.
    pub sign: Style,
    /// Sizes along the sides.
    pub head: Style,
    /// From a cell's side to what stands in it.
    pub pad: Um,
}

/// A frame round a size in use.
const FRAME: Stroke = Stroke { width: points(20), ..Stroke::BOLD };

/// Height that the words under a chart take that is not symmetric.
pub const UNDER: Um = 30 * MM;

/// A block of cells to be drawn.
pub struct Grid<'a> {
    /// Of which chart.
    pub chart: &'a Chart,
    /// Values down, by their places.
    pub rows: &'a [usize],
    /// Values across.
    pub columns: &'a [usize],
    /// Letters.
    pub look: ChartLetters,
    /// The unit of sizes.
    pub unit: Unit,
}

impl Grid<'_> {
    /// True for a cell that is drawn: all of them, or those with the shorter side down.
    fn is_drawn(&self, row: usize, column: usize) -> bool {
        !self.chart.may_turn || column >= row
    }

    /// Height of the sizes above the cells, of a cell at least, and width of the sizes beside them.
    fn heights(&self) -> (Um, Um) {
        let ChartLetters { head, count, sign, pad, .. } = self.look;
        let lines = self.columns.iter().map(|n| self.lines(*n).len()).max().unwrap_or(1) as Um;
        let mark = if self.chart.may_turn { sign.capitals() + pad } else { 0 };
        (lines * (head.capitals() + pad) + pad + MM / 2, count.capitals() + mark + 2 * pad)
    }

    /// A size in lines: the whole inches, the fraction under them.
    fn lines(&self, value: usize) -> Vec<String> {
        self.chart.values[value].show(self.unit).split(' ').map(str::to_owned).collect()
    }

    fn width_of(&self, value: usize) -> Um {
        self.lines(value).iter().map(|line| self.look.head.width(line)).max().unwrap_or(0)
    }

    fn side(&self) -> Um {
        self.rows.iter().map(|n| self.width_of(*n)).max().unwrap_or(0) + 4 * self.look.pad
    }

    /// The width that each column needs for its size, its counts and their marks.
    fn widths(&self) -> Vec<Um> {
        let ChartLetters { best, sign: small, pad, .. } = self.look;
        let one = |column: &usize| {
            let cells = self.rows.iter().filter(|row| self.is_drawn(**row, *column));
            let cells = cells.filter_map(|row| self.chart.cell(*row, *column));
            let need = |c: &Cell| best.width(&c.best.to_string()).max(small.width(&sign(c)));
            let size = self.width_of(*column);
            cells.map(need).max().unwrap_or(0).max(size) + 2 * pad
        };
        self.columns.iter().map(one).collect()
    }

    /// True where all cells fit a room.
    pub fn fits(&self, room: Area) -> bool {
        let (head, high) = self.heights();
        let wide: Um = self.widths().iter().sum();
        self.side() + wide <= room.width && head + high * self.rows.len() as Um <= room.height
    }

    /// Draws the cells as large as the room allows and gives the area that is free for words: the corner below a
    /// symmetric chart's diagonal, else what lies under it.
    pub fn draw(&self, page: &mut Page, room: Area) -> Area {
        let (head, least) = self.heights();
        let side = self.side();
        let needed = self.widths();
        let spare = (room.width - side - needed.iter().sum::<Um>()).max(0) / needed.len().max(1) as Um;
        let widths: Vec<Um> = needed.iter().map(|w| w + spare.min(8 * MM)).collect();
        let rows = self.rows.len().max(1) as Um;
        let high = ((room.height - head) / rows).clamp(least, least.max(16 * MM));
        let lefts: Vec<Um> = widths
            .iter()
            .scan(room.x + side, |x, w| {
                let left = *x;
                *x += w;
                Some(left)
            })
            .collect();
        for ((column, left), width) in self.columns.iter().zip(&lefts).zip(&widths) {
            self.size(page, Area::new(*left, room.y, *width, head), *column);
        }
        for (m, row) in (0..).zip(self.rows) {
            let y = room.y + head + m * high;
            let mut first = true;
            for ((column, left), width) in self.columns.iter().zip(&lefts).zip(&widths) {
                if !self.is_drawn(*row, *column) {
                    continue;
                }
                // The size stands beside the first cell of its row, wherever the diagonal is.
                if std::mem::take(&mut first) {
                    self.size(page, Area::new(left - side, y, side, high), *row);
                }
                if let Some(cell) = self.chart.cell(*row, *column) {
                    self.cell(page, Area::new(*left, y, *width, high), cell);
                }
            }
        }
        let bottom = room.y + head + rows * high;
        if !self.chart.may_turn {
            return Area::new(room.x, bottom + 2 * MM, room.width, room.bottom() + UNDER - bottom - 2 * MM);
        }
        if self.rows != self.columns {
            // A block off the diagonal is full.
            return Area::new(room.x, bottom + MM, room.width, (room.bottom() - bottom - MM).max(0));
        }
        corner(room, &lefts, side, head, high)
    }

    fn size(&self, page: &mut Page, area: Area, value: usize) {
        let style = self.look.head;
        page.fill(area, Fill::Colour(PALE));
        let lines = self.lines(value);
        let step = style.capitals() + self.look.pad;
        let block = step * lines.len() as Um - self.look.pad;
        for (n, line) in (0..).zip(&lines) {
            let y = area.y + (area.height - block) / 2 + n * step + style.capitals();
            page.words(style.middle(area.x + area.width / 2, y, line));
        }
    }

    fn cell(&self, page: &mut Page, area: Area, cell: &Cell) {
        let ChartLetters { count, best, sign: small, .. } = self.look;
        let used = self.chart.is_used(cell.size);
        if used {
            page.frame(Group::Outline, area.inset(FRAME.width / 2), FRAME);
        } else {
            page.frame(Group::Outline, area, WORKS);
        }
        // Where pieces stay upright there is one way only.
        let sign = if self.chart.may_turn { sign(cell) } else { String::new() };
        let style = if sign.starts_with('+') { best } else { count };
        let number = if cell.best == 0 { "–".to_owned() } else { cell.best.to_string() };
        // Count and mark share what is left over and under them.
        let gap = if self.chart.may_turn {
            (area.height - style.capitals() - small.capitals()) / 3
        } else {
            (area.height - style.capitals()) / 2
        };
        let (middle, y) = (area.x + area.width / 2, area.y + gap + style.capitals());
        page.words(style.middle(middle, y, &number));
        page.words(small.middle(middle, y + gap + small.capitals(), &sign));
    }
}

/// The values that fit one page, and those left out: those between whole steps go first, the smallest before the larger
/// ones, and those that the person uses last.
pub fn thinned_to(
    chart: &Chart,
    every: &[usize],
    room: Area,
    unit: Unit,
    look: ChartLetters,
) -> (Vec<usize>, Vec<Length>) {
    let fits = |shown: &[usize]| Grid { chart, rows: shown, columns: shown, look, unit }.fits(room);
    let in_use = |n: usize| {
        let value = chart.values[n];
        chart.used.iter().any(|c| c.size.width == value || c.size.height == value)
    };
    let between = |step: usize, used: bool| {
        every.iter().copied().filter(move |n| n % step == step / 2 && in_use(*n) == used)
    };
    let order = [2, 4, 8].into_iter().flat_map(|step| between(step, false).chain(between(step, true)));
    let (mut shown, mut left_out) = (every.to_vec(), Vec::new());
    for gone in order {
        if fits(&shown) {
            break;
        }
        shown.retain(|n| *n != gone);
        left_out.push(chart.values[gone]);
    }
    while !fits(&shown) && shown.len() > 1 {
        left_out.extend(shown.pop().map(|n| chart.values[n]));
    }
    left_out.sort_unstable();
    (shown, left_out)
}

/// The largest area under the diagonal that lies in the lower left corner of a room.
fn corner(room: Area, lefts: &[Um], side: Um, head: Um, high: Um) -> Area {
    let bottom = room.bottom();
    let one = |n: usize| {
        // Rows from n on begin right of the sizes beside row n.
        let right = lefts[n] - side - 3 * MM;
        let top = room.y + head + n as Um * high + 3 * MM;
        Area::new(room.x, top, right - room.x, bottom - top)
    };
    let all = (0..lefts.len()).map(one);
    all.max_by_key(|a| i128::from(a.width.max(0)) * i128::from(a.height.max(0))).unwrap_or_default()
}
