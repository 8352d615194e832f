//! The framed box that most layers stand in, and the room in it.

use super::under;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

/// Where a box of that size stands in the middle of `body`.
pub(super) fn middle(body: Rect, width: u16, height: u16) -> Rect {
    let (w, h) = (width.min(body.width.saturating_sub(2)), height.min(body.height));
    Rect::new(body.x + (body.width - w) / 2, body.y + (body.height - h) / 2, w, h)
}

/// The room inside the frame of a box.
pub(super) fn inside(area: Rect) -> Rect {
    Rect::new(area.x + 2, area.y + 1, area.width.saturating_sub(4), area.height.saturating_sub(2))
}

/// Blank columns and rows round a box, where the page has them.
const MARGIN: (u16, u16) = (2, 1);

/// A box with the blank margin that sets it apart from the page.
fn with_margin(area: Rect, body: Rect) -> Rect {
    let (x, y) = (area.x.saturating_sub(MARGIN.0), area.y.saturating_sub(MARGIN.1));
    let right = area.right() + MARGIN.0;
    let bottom = area.bottom() + MARGIN.1;
    Rect { x, y, width: right - x, height: bottom - y }.intersection(body)
}

/// A framed box in the middle of `body`, which goes back behind it; returns the room inside. Where faint words look like any
/// others, a heavy frame says that the page is not in hand.
pub(super) fn boxed(body: Rect, width: u16, height: u16, title: &str, on: &mut Surface) -> Rect {
    let area = middle(body, width, height);
    let (w, h) = (area.width, area.height);
    let apart = with_margin(area, body);
    under::put_back(body, apart, on.buf, on.look);
    on.clear(apart);
    let is_heavy = on.look.theme.dim == on.look.theme.text;
    let (right, bottom) = (w.saturating_sub(1), h.saturating_sub(1));
    let mut frame = Canvas::new(w, h);
    for y in [0, bottom] {
        frame.across(y, 0, right, is_heavy);
    }
    for x in [0, right] {
        frame.down(x, 0, bottom, is_heavy);
    }
    frame.draw(area, on.buf, on.look);
    let title = format!(" {} ", text::fit(title, usize::from(w.saturating_sub(6)), on.look.glyphs.ellipsis));
    // Over a faint line: the words are not.
    let style = on.look.theme.title.remove_modifier(Modifier::DIM);
    on.buf.set_string(area.x + 2, area.y, title, style);
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
