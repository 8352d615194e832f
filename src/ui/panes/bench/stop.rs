//! The panel of a stop cut as it lies on the trimmer: the slits it has, what is off, the cut from its start to the mark.
//!
//! ```text
//! fence, top edge; stop after 7 in
//! #--------------+
//! #     # mark   |
//! #     #        |
//! #     #        |
//! #-----#--------+
//!     start
//! ```

use super::panel;
use crate::domain::cutting::geometry::{Cut, Panel};
use crate::domain::cutting::lying::Lying;
use crate::domain::cutting::step::{CutStep, StopCut};
use crate::domain::cutting::wheel::{self, FREED};
use crate::domain::length::{Length, Unit};
use crate::ui::surface::Surface;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::scaled;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// A panel as it lies on the trimmer, in cells of the screen.
struct Turned {
    lying: Lying,
    columns: u16,
    rows: u16,
}

impl Turned {
    /// The cell of a point of the panel.
    fn cell(&self, x: Length, y: Length) -> (u16, u16) {
        let ((x, y), size) = (self.lying.point(x, y), self.lying.size());
        let on = |at: Length, of: Length, cells: u16| {
            (at.units() as f64 / of.units().max(1) as f64 * f64::from(cells)).round() as u16
        };
        (on(x, size.width, self.columns), on(y, size.height, self.rows))
    }

    fn line(&self, canvas: &mut Canvas, cut: &Cut, is_heavy: bool) {
        let ((x0, y0), (x1, y1)) = (self.cell(cut.x0, cut.y0), self.cell(cut.x1, cut.y1));
        if x0 == x1 {
            canvas.down(x0, y0.min(y1), y0.max(y1), is_heavy);
        } else {
            canvas.across(y0, x0.min(x1), x0.max(x1), is_heavy);
        }
    }

    /// Where the word for the start of a cut stands: outside the panel where that is below it, else beside the start.
    fn start_word(&self, start: (u16, u16)) -> (u16, u16) {
        match start {
            (x, y) if y >= self.rows => (x.saturating_sub(2), y + 1),
            (x, y) if x >= self.columns => (x.saturating_sub(6), (y + 1).min(self.rows)),
            (x, y) => (x + 2, (y + 1).min(self.rows)),
        }
    }
}

/// Draws the panel under its heading.
pub fn draw_stop_cut(step: &CutStep, stop: &StopCut, unit: Unit, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    // One row for the heading, one for the start.
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(2), ..area };
    let lying = step.profile.lying(step.from, step.edge);
    let Some((columns, rows)) = scaled(lying.size(), room) else { return };
    let heading = format!("{}; stop after {}", step.lies_words(), step.along.show_with_unit(unit));
    on.put(area, 0, 0, &[run(heading, theme.dim)]);
    let turned = Turned { lying, columns, rows };
    let panel = Panel::whole(step.from);
    let cuts = wheel::cuts(panel, stop.at).map(|c| c.cut);
    let made = (stop.made as usize).min(cuts.len() - 1);
    let mut canvas = Canvas::new(columns + 1, rows + 1);
    canvas.frame(0, 0, columns, rows);
    for cut in &cuts[..made] {
        turned.line(&mut canvas, cut, false);
    }
    let now = &cuts[made];
    turned.line(&mut canvas, now, true);
    canvas.draw(room, on.buf, on.look);
    panel::reference(step.profile.set_by, columns, rows, room, on);
    let blocks = wheel::panels(panel, stop.at);
    for block in FREED[..made].iter().copied().flatten().filter_map(|&b| blocks.get(b)) {
        let (a, b) = (turned.cell(block.x, block.y), turned.cell(block.right(), block.bottom()));
        let (left, right, top, bottom) = (a.0.min(b.0), a.0.max(b.0), a.1.min(b.1), a.1.max(b.1));
        if right - left > 4 && bottom > top + 1 {
            let x = u16::midpoint(left, right).saturating_sub(1);
            on.put(room, x, u16::midpoint(top, bottom), &[run("off", theme.dim)]);
        }
    }
    let (start, mark) = (turned.cell(now.x0, now.y0), turned.cell(now.x1, now.y1));
    // The last cut ends on the first one: its mark is named below that line.
    let y = if made + 1 == cuts.len() { (mark.1 + 1).min(start.1) } else { mark.1 };
    on.put(room, mark.0.saturating_add(2), y, &[run("mark", theme.cut)]);
    let (x, y) = turned.start_word(start);
    on.put(area, x, y + 1, &[run("start", theme.cut)]);
}
