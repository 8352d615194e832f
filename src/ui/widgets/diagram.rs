//! A cut sheet to scale: pieces, cuts with their numbers, offcuts. Cells are about twice as high as wide, so a row
//! counts for two columns. Where pieces are too small to draw one by one, equal neighbours become one block that
//! says how many it holds.

use super::canvas::Canvas;
use crate::domain::cutting::geometry::{Cut, Panel, Placed};
use crate::domain::cutting::layout::Layout;
use crate::domain::length::Length;
use crate::domain::size::Size;
use crate::ui::ground::{on_ground, over};
use crate::ui::look::Look;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;
use std::ops::Range;

/// Height of a terminal cell in its widths.
const CELL_ASPECT: f64 = 2.0;
/// Pieces narrower or lower than this many cells are drawn as blocks.
const SMALLEST: (u16, u16) = (3, 2);

/// What to draw.
#[derive(Debug)]
pub struct Diagram<'a> {
    /// The usable sheet.
    pub sheet: Size,
    /// What lies on it.
    pub layout: &'a Layout,
    /// The cuts that each step makes, by their place in the layout.
    pub steps: &'a [Range<usize>],
    /// The step in hand.
    pub in_hand: Option<usize>,
    /// What stands on each piece; their numbers where nothing is given.
    pub names: Option<&'a [String]>,
    /// Theme and signs.
    pub look: &'a Look,
}

/// A block of equal pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Block {
    panel: Panel,
    piece: Size,
    turned: bool,
    across: i64,
    down: i64,
}

/// The cells that a sheet of a size takes inside an area, in its own proportions; `None` where it cannot be drawn.
pub fn scaled(sheet: Size, area: Rect) -> Option<(u16, u16)> {
    if area.width < 4 || area.height < 3 || !sheet.width.is_positive() || !sheet.height.is_positive() {
        return None;
    }
    let ratio = sheet.height.units() as f64 / sheet.width.units() as f64 / CELL_ASPECT;
    let (most_x, most_y) = (f64::from(area.width - 1), f64::from(area.height - 1));
    let columns = most_x.min(most_y / ratio).max(2.0);
    let rows = (columns * ratio).round().clamp(1.0, most_y);
    Some((columns.round() as u16, rows as u16))
}

impl Widget for &Diagram<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let Some((columns, rows)) = scaled(self.sheet, area) else { return };
        let scale = Scale { sheet: self.sheet, columns, rows };
        let blocks = blocks(&self.layout.pieces);
        let one_by_one = self.layout.pieces.iter().all(|p| scale.is_drawable(p.panel));
        let mut canvas = Canvas::new(columns + 1, rows + 1);
        canvas.frame(0, 0, columns, rows);
        for panel in &self.layout.offcuts {
            self.fill(scale.cells(*panel), area, buf);
            scale.frame(&mut canvas, *panel);
        }
        if one_by_one {
            for placed in &self.layout.pieces {
                scale.frame(&mut canvas, placed.panel);
            }
        } else {
            for block in &blocks {
                scale.frame(&mut canvas, block.panel);
            }
        }
        let in_hand = self.in_hand.and_then(|n| self.steps.get(n)).cloned().unwrap_or_default();
        for cut in self.layout.cuts.get(in_hand).unwrap_or_default() {
            scale.cut(&mut canvas, cut);
        }
        canvas.draw(area, buf, self.look);
        if one_by_one {
            self.name_pieces(&scale, area, buf);
            self.number_cuts(&scale, area, buf);
        } else {
            self.name_blocks(&blocks, &scale, area, buf);
        }
    }
}

impl Diagram<'_> {
    fn fill(&self, cells: Rect, area: Rect, buf: &mut Buffer) {
        for y in cells.y + 1..cells.bottom().saturating_sub(1) {
            for x in cells.x + 1..cells.right().saturating_sub(1) {
                if x < area.width && y < area.height {
                    over(buf, (area.x + x, area.y + y), self.look.glyphs.waste, self.look.theme.offcut);
                }
            }
        }
    }

    fn piece_style(&self, turned: bool) -> Style {
        if turned { self.look.theme.turned } else { self.look.theme.piece }
    }

    fn name_pieces(&self, scale: &Scale, area: Rect, buf: &mut Buffer) {
        for (n, placed) in self.layout.pieces.iter().enumerate() {
            let name = self.names.and_then(|all| all.get(n)).cloned();
            let name = name.unwrap_or_else(|| (n + 1).to_string());
            let label = format!("{name}{}", if placed.turned { "t" } else { "" });
            centre_label(&[label], scale.cells(placed.panel), area, buf, self.piece_style(placed.turned));
        }
    }

    fn name_blocks(&self, blocks: &[Block], scale: &Scale, area: Rect, buf: &mut Buffer) {
        for block in blocks {
            let lines = [
                format!("{} {} {}", block.across, self.look.glyphs.times, block.down),
                if block.turned { "turned".to_owned() } else { "upright".to_owned() },
            ];
            centre_label(&lines, scale.cells(block.panel), area, buf, self.piece_style(block.turned));
        }
    }

    /// Each cut carries the number of its step where it starts: at its top for a cut down, at its left for a cut across.
    fn number_cuts(&self, scale: &Scale, area: Rect, buf: &mut Buffer) {
        for (n, step) in self.steps.iter().enumerate() {
            let style = if self.in_hand == Some(n) { self.look.theme.cut } else { self.look.theme.dim };
            let label = (n + 1).to_string();
            let back = u16::try_from(label.len().saturating_sub(1) / 2).unwrap_or(0);
            for cut in self.layout.cuts.get(step.clone()).unwrap_or_default() {
                let (x, y) = (scale.x(cut.x0), scale.y(cut.y0));
                let is_down = cut.x0 == cut.x1;
                put(buf, area, (if is_down { x.saturating_sub(back) } else { x }, y), &label, style);
            }
        }
    }
}

fn centre_label(lines: &[String], cells: Rect, area: Rect, buf: &mut Buffer, style: Style) {
    let (inner_w, inner_h) = (cells.width.saturating_sub(2), cells.height.saturating_sub(2));
    let shown = usize::from(inner_h).min(lines.len());
    let top = cells.y + 1 + (inner_h - shown as u16) / 2;
    for (n, line) in lines.iter().take(shown).enumerate() {
        let w = text::width(line) as u16;
        if w <= inner_w {
            put(buf, area, (cells.x + 1 + (inner_w - w) / 2, top + n as u16), line, style);
        }
    }
}

fn put(buf: &mut Buffer, area: Rect, (x, y): (u16, u16), label: &str, style: Style) {
    if x < area.width && y < area.height {
        let room = usize::from(area.width - x);
        // Over a painted paper all of a label has one ground.
        let ground = buf.cell((area.x + x, area.y + y)).map(|c| c.bg).unwrap_or_default();
        let style = on_ground(style, ground);
        buf.set_stringn(area.x + x, area.y + y, label, room, style);
    }
}

/// Paints a sheet in its paper where [`Diagram`] draws it, to be called before.
pub fn paint_sheet(paper: &Painted, sheet: Size, area: Rect, on: &mut Surface) {
    let Some((columns, rows)) = scaled(sheet, area) else { return };
    let across = sheet.width.micrometres() / i64::from(columns.max(1));
    paper.fill(Rect { width: columns + 1, height: rows + 1, ..area }, across, on);
}

/// From lengths on the sheet to cells.
struct Scale {
    sheet: Size,
    columns: u16,
    rows: u16,
}

impl Scale {
    fn x(&self, at: Length) -> u16 {
        share(at, self.sheet.width, self.columns)
    }

    fn y(&self, at: Length) -> u16 {
        share(at, self.sheet.height, self.rows)
    }

    /// Cells of a panel, borders included.
    fn cells(&self, p: Panel) -> Rect {
        let (x, y) = (self.x(p.x), self.y(p.y));
        Rect::new(x, y, self.x(p.right()) - x + 1, self.y(p.bottom()) - y + 1)
    }

    fn frame(&self, canvas: &mut Canvas, p: Panel) {
        canvas.frame(self.x(p.x), self.y(p.y), self.x(p.right()), self.y(p.bottom()));
    }

    fn cut(&self, canvas: &mut Canvas, cut: &Cut) {
        let (x0, y0, x1, y1) = (self.x(cut.x0), self.y(cut.y0), self.x(cut.x1), self.y(cut.y1));
        if cut.x0 == cut.x1 {
            canvas.down(x0, y0, y1, true);
        } else {
            canvas.across(y0, x0, x1, true);
        }
    }

    fn is_drawable(&self, p: Panel) -> bool {
        let cells = self.cells(p);
        cells.width > SMALLEST.0 && cells.height > SMALLEST.1
    }
}

fn share(at: Length, whole: Length, cells: u16) -> u16 {
    let share = at.units() as f64 / whole.units().max(1) as f64;
    (share * f64::from(cells)).round().clamp(0.0, f64::from(cells)) as u16
}

/// Joins equal neighbours: first along rows, then rows that match.
fn blocks(pieces: &[Placed]) -> Vec<Block> {
    let mut singles: Vec<Block> = pieces
        .iter()
        .map(|p| Block { panel: p.panel, piece: p.panel.size, turned: p.turned, across: 1, down: 1 })
        .collect();
    singles.sort_by_key(|b| (b.panel.y, b.panel.x));
    let rows = join(singles, |a, b| {
        let side_by_side = a.panel.y == b.panel.y && a.panel.right() == b.panel.x;
        (a.piece == b.piece && side_by_side).then(|| {
            let size = Size::new(a.panel.size.width + b.panel.size.width, a.panel.size.height);
            Block { panel: Panel { size, ..a.panel }, across: a.across + b.across, ..*a }
        })
    });
    let mut rows = rows;
    rows.sort_by_key(|b| (b.panel.x, b.panel.y));
    join(rows, |a, b| {
        let stacked = a.panel.x == b.panel.x && a.panel.bottom() == b.panel.y && a.across == b.across;
        (a.piece == b.piece && stacked).then(|| {
            let size = Size::new(a.panel.size.width, a.panel.size.height + b.panel.size.height);
            Block { panel: Panel { size, ..a.panel }, down: a.down + b.down, ..*a }
        })
    })
}

fn join(sorted: Vec<Block>, both: impl Fn(&Block, &Block) -> Option<Block>) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::new();
    for block in sorted {
        match out.last().and_then(|last| both(last, &block)) {
            Some(joined) => {
                out.pop();
                out.push(joined);
            }
            None => out.push(block),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn placed(x: i64, y: i64, w: i64, h: i64) -> Placed {
        let size = Size::new(Length::inches(w), Length::inches(h));
        Placed { piece: 0, panel: Panel { x: Length::inches(x), y: Length::inches(y), size }, turned: false }
    }

    #[test]
    fn equal_neighbours_become_one_block() {
        let pieces = [
            placed(0, 0, 2, 3),
            placed(2, 0, 2, 3),
            placed(0, 3, 2, 3),
            placed(2, 3, 2, 3),
            placed(4, 0, 3, 2),
        ];
        let b = blocks(&pieces);
        assert_eq!(b.len(), 2);
        assert_eq!((b[0].across, b[0].down), (2, 2));
    }

    #[test]
    fn a_sheet_keeps_its_proportions() {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        let (c, r) = scaled(letter, Rect::new(0, 0, 60, 20)).unwrap();
        let seen = f64::from(r) * CELL_ASPECT / f64::from(c);
        assert!((seen - 11.0 / 8.5).abs() < 0.1, "{c} {r}");
        assert!(scaled(letter, Rect::new(0, 0, 2, 2)).is_none());
    }
}
