//! What the lists of Stock are drawn with: the line in hand in full, rules, rows that take clicks, empty lists.

use crate::app::action::List;
use crate::app::model::Model;
use crate::app::panes::stock::facts;
use crate::ui::hits::Hits;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::lines::{paragraph, put, run};
use crate::ui::widgets::table::Table;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Screens at least this wide have the details at the side.
pub(super) const WIDE: u16 = 150;
/// A name, and labels with their words: one a line at the side, as many a line as fit below a list.
pub(super) fn told(
    title: &str,
    pairs: &[(&str, String)],
    style: Style,
    area: Rect,
    buf: &mut Buffer,
    look: &Look,
) {
    let theme = &look.theme;
    let is_below = area.height <= 6;
    if is_below {
        rule(area, buf, look);
    }
    let top = u16::from(is_below);
    put(buf, area, 0, top, &[run(title, theme.title)], look);
    let (mut x, mut y) = (0, top + 1);
    for (label, words) in pairs.iter().filter(|(_, w)| !w.is_empty()) {
        let gap = u16::from(!label.is_empty());
        let wide = text::width(label) as u16 + gap + text::width(words) as u16 + 3;
        if !is_below {
            put(buf, area, 0, y, &[run(*label, theme.dim)], look);
            let beside = Rect { x: area.x + 14, width: area.width.saturating_sub(14), ..area };
            y = paragraph(buf, beside, y, words, style, look);
            continue;
        }
        if x > 0 && x + wide > area.width + 3 {
            (x, y) = (0, y + 1);
        }
        let space = if gap == 1 { " " } else { "" };
        let runs = [run(*label, theme.dim), run(space, theme.dim), run(words, style), run("   ", theme.text)];
        if x == 0 && wide > area.width + 3 {
            let label = put(buf, area, 0, y, &runs[..2], look);
            let rest = Rect { x: area.x + label, width: area.width.saturating_sub(label), ..area };
            y = paragraph(buf, rest, y, words, style, look);
        } else {
            x = put(buf, area, x, y, &runs, look);
        }
    }
}

/// What to press where a list is empty.
pub(super) fn empty(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
    let room = Rect { width: area.width.saturating_sub(1), ..area };
    paragraph(buf, room, 1, facts::empty(&model.stock, &model.book), look.theme.text, look);
    None
}

/// A line across the top of an area.
pub(super) fn rule(area: Rect, buf: &mut Buffer, look: &Look) {
    let line = look.glyphs.rule.repeat(usize::from(area.width));
    put(buf, area, 0, 0, &[run(line, look.theme.line)], look);
}

/// Tells where a list's rows stand; `first` is the number of the first row that was put together.
pub(super) fn rows_of(table: &Table<'_>, first: usize, area: Rect, hits: &mut Hits) {
    hits.list(area, List::Stock, table.shown(area).map(|(n, place)| (first + n, place)));
}
