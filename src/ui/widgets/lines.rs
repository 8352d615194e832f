//! Lines of styled text put on the screen, cut to the room there is.

use crate::ui::look::Look;
use crate::ui::text;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// A run of text in one style.
pub type Run = (String, Style);

/// Draws runs one after another in row `y` of the area, from column `x`; returns the column after the last.
pub fn put(buf: &mut Buffer, area: Rect, x: u16, y: u16, runs: &[Run], look: &Look) -> u16 {
    if y >= area.height {
        return x;
    }
    let mut at = x;
    for (words, style) in runs {
        let room = area.width.saturating_sub(at);
        if room == 0 {
            break;
        }
        let shown = text::fit(&text::harmless(words), usize::from(room), look.glyphs.ellipsis);
        buf.set_string(area.x + at, area.y + y, &shown, *style);
        at += text::width(&shown) as u16;
    }
    at
}

/// One run.
pub fn run(words: impl Into<String>, style: Style) -> Run {
    (words.into(), style)
}

/// A wrapped paragraph from row `y`, with an ellipsis where it is cut off; returns the row after it.
pub fn paragraph(buf: &mut Buffer, area: Rect, y: u16, words: &str, style: Style, look: &Look) -> u16 {
    let mut row = y;
    let lines = text::wrap(&text::harmless(words), usize::from(area.width));
    let room = usize::from(area.height.saturating_sub(y));
    let is_cut = lines.len() > room;
    for (n, mut line) in lines.into_iter().take(room).enumerate() {
        if is_cut && n + 1 == room {
            let mark = format!(" {}", look.glyphs.ellipsis);
            line = text::fit(&line, usize::from(area.width).saturating_sub(text::width(&mark)), "") + &mark;
        }
        put(buf, area, 0, row, &[run(line, style)], look);
        row += 1;
    }
    row
}
