//! Stock: six lists behind one row of names; the line picked in full below it.
//!
//! ```text
//! Shelf  Offcuts  Log  Reorder  Classes  Bookings          with "fern": 2 of 26
//!   name                 kind           on hand  free  low
//! > fern, letter         plain sheet         36    30   12  ######|...
//! ```

mod classes;
mod lists;
mod log;
mod reorder;

use crate::app::model::Model;
use crate::app::panes::stock::{Tab, facts, state_word};
use crate::domain::stock::{Item, ItemId};
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::lines::{Run, paragraph, put, run};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

const SHELF: [Column; 9] = [
    Column::text("name", 20, 0),
    Column::text("kind", 15, 4),
    Column::text("size", 16, 5),
    Column::number("on hand", 7, 0),
    Column::number("booked", 6, 3),
    Column::number("free", 6, 1),
    Column::number("low", 5, 1),
    Column::text("state", 9, 2),
    Column::text("", 14, 6),
];

/// Draws the pane.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    let pane = &model.stock;
    let below_top = Rect { y: area.y + 2, height: area.height.saturating_sub(2), ..area };
    if let Some(preview) = &pane.preview {
        return lists::preview(preview, area, buf, look);
    }
    tabs(model, area, buf, look);
    if let Some(count) = pane.count.as_ref().filter(|_| pane.is_counting) {
        return lists::count(model, count, below_top, buf, look);
    }
    if pane.tab == Tab::Classes && !pane.classes.ids.is_empty() {
        return classes::draw(model, below_top, buf, look);
    }
    let detail = if area.height >= 16 { 6 } else { 0 };
    let room = Rect { height: below_top.height.saturating_sub(detail), ..below_top };
    let below = Rect { y: room.bottom(), height: detail, ..area };
    let at = match pane.tab {
        Tab::Shelf => shelf(model, room, buf, look),
        Tab::Bin => log::bin(model, room, buf, look),
        Tab::Log => log::log(model, room, below, buf, look),
        Tab::Reorder => reorder::draw(model, room, below, buf, look),
        Tab::Classes => empty(model, room, buf, look),
        Tab::Bookings => lists::bookings(model, room, below, buf, look),
    };
    if let Some(id) = pane.picked_item() {
        details(model, id, below, buf, look);
    }
    at.map(|y| Position::new(area.x, y))
}

/// What to press where a list is empty.
fn empty(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
    let room = Rect { width: area.width.saturating_sub(1), ..area };
    paragraph(buf, room, 1, facts::empty(model), look.theme.text, look);
    None
}

/// A line across the top of an area.
fn rule(area: Rect, buf: &mut Buffer, look: &Look) {
    let line = look.glyphs.rule.repeat(usize::from(area.width));
    put(buf, area, 0, 0, &[run(line, look.theme.line)], look);
}

fn tabs(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) {
    let mut runs: Vec<Run> = Vec::new();
    for tab in Tab::ALL {
        let style = if tab == model.stock.tab { look.theme.picked } else { look.theme.dim };
        runs.push(run(format!(" {} ", tab.title()), style));
        runs.push(run(" ", look.theme.text));
    }
    let end = put(buf, area, 0, 0, &runs, look);
    if !model.stock.filter.is_empty() {
        let words = format!(
            "\"{}\": {} of {}",
            model.stock.filter,
            model.stock.shown.len(),
            model.book.items().len()
        );
        let at = area.width.saturating_sub(text::width(&words) as u16).max(end + 1);
        put(buf, area, at, 0, &[run(words, look.theme.warn)], look);
    }
}

fn shelf(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
    let ids = &model.stock.shown;
    if ids.is_empty() {
        return empty(model, area, buf, look);
    }
    let picked = model.stock.cursor.row(ids.len())?;
    // Only what can be seen is put together: a shelf may have thousands of lines.
    let room = usize::from(area.height);
    let first = picked.saturating_sub(room);
    let rows: Vec<Row> = ids
        .iter()
        .skip(first)
        .take(room * 2 + 1)
        .filter_map(|id| Some((*id, model.book.items().get(*id)?)))
        .map(|(id, item)| shelf_row(model, id, item, look))
        .collect();
    Table { columns: &SHELF, rows: &rows, picked: Some(picked - first) }.draw(area, buf, look)
}

fn shelf_row(model: &Model, id: ItemId, item: &Item, look: &Look) -> Row {
    let book = &model.book;
    let (held, free, mark) = (book.on_hand(id) as i64, book.free(id), i64::from(item.mark()));
    let state = state_word(book, id).to_owned();
    let low = state == "LOW";
    let size = item.cutting_size().map(|s| s.about(model.screen.unit)).unwrap_or_default();
    let whole = held.max(mark * 2).max(1);
    let style = match () {
        () if free < 0 => look.theme.bad,
        () if low => look.theme.warn,
        () => look.theme.text,
    };
    let cells = vec![
        item.name.clone(),
        item.kind.word().to_owned(),
        size,
        held.to_string(),
        book.booked(id).to_string(),
        free.to_string(),
        if mark == 0 { "-".to_owned() } else { mark.to_string() },
        state,
        bar(free, whole, Some(mark), 14, &look.glyphs),
    ];
    Row { cells, style }
}

fn details(model: &Model, id: ItemId, area: Rect, buf: &mut Buffer, look: &Look) {
    let (book, theme) = (&model.book, &look.theme);
    let Some(item) = book.items().get(id) else { return };
    rule(area, buf, look);
    let alone = if item.sold_alone { "" } else { ", only in packs" };
    let state = format!("{}{alone}", item.state);
    put(
        buf,
        area,
        0,
        1,
        &[run(&item.name, theme.title), run(format!("  {}, {state}", item.kind.word()), theme.dim)],
        look,
    );
    let counts = format!(
        "{} on hand, {} booked, {} free, {} on order",
        book.on_hand(id),
        book.booked(id),
        book.free(id),
        book.on_order(id)
    );
    put(buf, area, 0, 2, &[run(counts, theme.text)], look);
    let swatch = item.swatch.map(|s| book.swatches().name_of(s)).unwrap_or_default();
    let facts = [
        ("colour", swatch),
        ("order number", item.order_number.clone()),
        ("seller", item.seller.clone()),
        ("place", item.place.clone()),
        ("grain", item.grain.word().to_owned()),
    ];
    let mut runs: Vec<Run> = Vec::new();
    for (word, value) in facts.into_iter().filter(|(_, v)| !v.is_empty()) {
        runs.extend([run(format!("{word} "), theme.dim), run(format!("{value}   "), theme.text)]);
    }
    put(buf, area, 0, 3, &runs, look);
    let last: Vec<String> = book
        .lines_of(id)
        .rev()
        .take(3)
        .map(|l| format!("{} {:+} {}", l.date, l.change, l.reason.word()))
        .collect();
    let joint = format!("  {}  ", look.glyphs.dot);
    put(buf, area, 0, 4, &[run("last  ", theme.dim), run(last.join(&joint), theme.text)], look);
}
