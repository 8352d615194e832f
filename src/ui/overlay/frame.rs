//! The framed box that most layers stand in, and the room in it.

use super::under;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Where a box of that size stands in the middle of `body`.
pub(super) fn middle(body: Rect, width: u16, height: u16) -> Rect {
    let (w, h) = (width.min(body.width.saturating_sub(2)), height.min(body.height));
    Rect::new(body.x + (body.width - w) / 2, body.y + (body.height - h) / 2, w, h)
}

/// The room inside the frame of a box.
pub(super) fn inside(area: Rect) -> Rect {
    Rect::new(area.x + 2, area.y + 1, area.width.saturating_sub(4), area.height.saturating_sub(2))
}

/// A framed box in the middle of `body`, which goes back behind it; returns the room inside.
pub(super) fn boxed(body: Rect, width: u16, height: u16, title: &str, on: &mut Surface) -> Rect {
    let area = middle(body, width, height);
    let (w, h) = (area.width, area.height);
    under::put_back(body, area, on.buf, on.look);
    on.clear(area);
    let mut frame = Canvas::new(w, h);
    frame.frame(0, 0, w.saturating_sub(1), h.saturating_sub(1));
    frame.draw(area, on.buf, on.look);
    let title = format!(" {} ", text::fit(title, usize::from(w.saturating_sub(6)), on.look.glyphs.ellipsis));
    on.buf.set_string(area.x + 2, area.y, title, on.look.theme.title);
    inside(area)
}

/// How many rows of a list have no room, at the right of a row.
pub(super) fn hidden(rows: usize, area: Rect, on: &mut Surface) {
    if rows > 0 {
        let words = format!("{rows} hidden");
        let x = area.width.saturating_sub(text::width(&words) as u16);
        on.put(area, x, 0, &[run(words, on.look.theme.dim)]);
    }
}
