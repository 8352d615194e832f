//! What the signs of a drawn sheet say: turned pieces, what is left over, the numbers on lines.

use crate::ui::surface::Surface;
use crate::ui::widgets::diagram::{Diagram, offcut_run};
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// What the signs of a drawing that fills a room say, in the row below it.
pub(super) fn key_below(diagram: &Diagram<'_>, (room, area): (Rect, Rect), on: &mut Surface) {
    let (theme, offcut) = (&on.look.theme, offcut_run(diagram.paper.as_ref(), on.look));
    let is_turned = diagram.layout.pieces.iter().any(|placed| placed.turned);
    let turned = [run("t", theme.turned), run(" turned  ", theme.dim)].into_iter().filter(|_| is_turned);
    let left_over = [offcut, run(" offcut  ", theme.dim)].into_iter().filter(|_| diagram.shades(room));
    let steps = [run("on a line: its step", theme.dim)].into_iter().filter(|_| !diagram.steps.is_empty());
    let key: Vec<_> = turned.chain(left_over).chain(steps).collect();
    let rows = diagram.cells(room).map_or(0, |(_, rows)| rows);
    on.put(area, 0, rows.min(area.height.saturating_sub(1)), &key);
}
