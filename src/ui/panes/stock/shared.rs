//! What the lists of Stock are drawn with: the line in hand in full, rules, rows that take clicks, empty lists.

use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::stock::facts;
use crate::app::state::stock::marks::RowMark;
use crate::domain::stock::Item;
use crate::domain::stock::field::Field;
use crate::ui::hits::Hits;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::Table;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Screens at least this wide have the details at the side.
pub(super) const WIDE: u16 = 150;
/// A name, and labels with their words: one a line at the side, as many a line as fit below a list. Returns the row after them.
pub(super) fn told(title: &str, pairs: &[(&str, String)], style: Style, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let is_below = area.height <= 6;
    if is_below {
        rule(area, on);
    }
    let top = u16::from(is_below);
    let title_rows = if is_below {
        on.put(area, 0, top, &[run(title, theme.title)]);
        1
    } else {
        on.paragraph(area, 0, title, theme.title)
    };
    let longest = pairs.iter().filter(|(_, w)| !w.is_empty()).map(|(label, _)| text::width(label)).max();
    let column = 14.max(longest.unwrap_or(0) as u16 + 1);
    let (mut x, mut y) = (0, top + title_rows);
    for (label, words) in pairs.iter().filter(|(_, w)| !w.is_empty()) {
        let gap = u16::from(!label.is_empty());
        let wide = text::width(label) as u16 + gap + text::width(words) as u16 + 3;
        if !is_below {
            on.put(area, 0, y, &[run(*label, theme.dim)]);
            let beside = Rect { x: area.x + column, width: area.width.saturating_sub(column), ..area };
            y = on.paragraph(beside, y, words, style);
            continue;
        }
        if x > 0 && x + wide > area.width + 3 {
            (x, y) = (0, y + 1);
        }
        let space = if gap == 1 { " " } else { "" };
        let runs = [run(*label, theme.dim), run(space, theme.dim), run(words, style)];
        if x == 0 && wide > area.width + 3 {
            let label = on.put(area, 0, y, &runs[..2]);
            let rest = Rect { x: area.x + label, width: area.width.saturating_sub(label), ..area };
            y = on.paragraph(rest, y, words, style);
        } else {
            x = on.put(area, x, y, &runs) + 3;
        }
    }
    y + u16::from(x > 0)
}

/// What of an area lies below so many rows.
pub(super) fn below(area: Rect, rows: u16) -> Rect {
    let rows = rows.min(area.height);
    Rect { y: area.y + rows, height: area.height - rows, ..area }
}

/// The area of a table that is only looked at, so that its words stand flush with the titles above and below: it leaves a column
/// for the sign of a picked row.
pub(super) const fn flush(area: Rect) -> Rect {
    let by = if area.x > 0 { 1 } else { 0 };
    Rect { x: area.x - by, width: area.width + by, ..area }
}

/// The area of a line below such a table: its words stand under those of the table.
pub(super) const fn flush_words(area: Rect) -> Rect {
    Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area }
}

/// A count, a dash for none.
pub(super) fn dash(n: u64) -> String {
    if n == 0 { "-".to_owned() } else { n.to_string() }
}

/// What to press where a list is empty.
pub(super) fn empty(model: &Model, area: Rect, on: &mut Surface) -> Option<u16> {
    let room = Rect { width: area.width.saturating_sub(1), ..area };
    on.told(room, 1, &model.keymap.told(facts::empty(&model.stock, &model.book)), on.look.theme.text);
    None
}

/// A line across the top of an area.
pub(super) fn rule(area: Rect, on: &mut Surface) {
    let line = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(line, on.look.theme.line)]);
}

/// Tells where a list's rows stand; `first` is the number of the first row that was put together.
pub(super) fn rows_of(table: &Table<'_>, first: usize, area: Rect, hits: &mut Hits) {
    hits.list(area, List::Stock, table.shown(area).map(|(n, place)| (first + n, place)));
}

/// The same for rows that can be marked: a click on the sign before the words marks the row.
pub(super) fn things_of(table: &Table<'_>, first: usize, area: Rect, hits: &mut Hits) {
    rows_of(table, first, area, hits);
    for (n, place) in table.shown(area) {
        hits.add(Rect { width: table.left(), ..place }, Spot::Mark(first + n));
    }
}

/// Which of these rows are marked; empty where nothing of the list is, so that no room is taken for marks.
pub(super) fn marked<M: Into<Option<RowMark>>>(model: &Model, rows: impl Iterator<Item = M>) -> Vec<bool> {
    let pane = &model.stock;
    if !pane.has_marks() {
        return Vec::new();
    }
    rows.map(|mark| mark.into().is_some_and(|mark| pane.marks.has(mark))).collect()
}

/// What it is as paper, for a screen with room: what was measured and what it weighs.
pub(super) fn as_paper(model: &Model, item: &Item) -> Vec<(&'static str, String)> {
    let terms = model.ctx().terms();
    let fields = [("measured", Field::Measured), ("weight", Field::Gsm), ("bought as", Field::BoughtAs)];
    let mut pairs: Vec<_> = fields.into_iter().map(|(word, f)| (word, f.text(item, &terms))).collect();
    pairs.push(("thickness", Field::Caliper.text(item, &terms)));
    let size = item.cutting_size().map(|s| s.as_made_and_own(model.screen.unit));
    pairs.insert(0, ("size", size.unwrap_or_default()));
    pairs
}

/// What it is called and costs where it is bought, and where it lies.
pub(super) fn as_bought(model: &Model, item: &Item) -> Vec<(&'static str, String)> {
    let book = &model.book;
    let pack = if item.pack_size() > 1 { format!("of {}", item.pack_size()) } else { String::new() };
    let a_pack = if item.pack_size() > 1 { " a pack" } else { "" };
    let page = if item.page.is_empty() { String::new() } else { format!(" page {}", item.page) };
    vec![
        ("color", item.swatch.map(|s| book.swatches().name_of(s)).unwrap_or_default()),
        ("number", item.order_number.clone()),
        ("pack", pack),
        ("price", item.price.map(|p| p.show(&book.settings().currency) + a_pack).unwrap_or_default()),
        ("place", item.place.clone()),
        ("seller", item.seller.clone()),
        ("catalog", format!("{}{page}", item.edition).trim().to_owned()),
        ("collection", item.collection.clone()),
        ("grain", item.grain.word().to_owned()),
    ]
}
