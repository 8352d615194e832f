//! Stock: a table of what is held, with its low mark; the line picked in full beside or below it.
//!
//! ```text
//! Shelf   Offcut bin   Log   Reorder                       / narrows, 16 of 16
//!   name                 kind           on hand  free  low
//! > fern, letter         plain sheet         36    30   12  ######|...
//! ```

use crate::app::model::Model;
use crate::app::panes::stock::{Tab, is_low};
use crate::domain::stock::{Item, ItemId, Reason};
use crate::ui::look::Look;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::lines::{Run, put, run};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

const SHELF: [Column; 8] = [
    Column::text("name", 20, 0),
    Column::text("kind", 15, 3),
    Column::text("size", 16, 4),
    Column::number("on hand", 7, 0),
    Column::number("free", 6, 1),
    Column::number("low", 5, 1),
    Column::text("state", 9, 2),
    Column::text("", 14, 5),
];

/// Draws the pane.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    tabs(model, area, buf, look);
    let detail = if area.height >= 16 { 6 } else { 0 };
    let room = Rect { y: area.y + 2, height: area.height.saturating_sub(2 + detail), ..area };
    let below = Rect { y: room.bottom(), height: detail, ..area };
    if model.book.items().is_empty() {
        put(buf, area, 0, 3, &[run(EMPTY, look.theme.text)], look);
        return None;
    }
    let at = match model.stock.tab {
        Tab::Shelf => shelf(model, &model.stock.shown, room, buf, look),
        Tab::Reorder => shelf(model, &model.stock.low, room, buf, look),
        Tab::Bin => bin(model, room, buf, look),
        Tab::Log => log(model, room, buf, look),
    };
    if let Some(id) = model.stock.picked_item() {
        details(model, id, below, buf, look);
    }
    at.map(|y| Position::new(area.x, y))
}

const EMPTY: &str = "Nothing on the shelf yet: trimside stock import FILE.csv brings a list in.";

fn tabs(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) {
    let mut runs: Vec<Run> = Vec::new();
    for tab in Tab::ALL {
        let style = if tab == model.stock.tab { look.theme.picked } else { look.theme.dim };
        runs.push(run(format!(" {} ", tab.title()), style));
        runs.push(run("  ", look.theme.text));
    }
    if !model.stock.filter.is_empty() {
        let words = format!(
            "with \"{}\": {} of {}",
            model.stock.filter,
            model.stock.shown.len(),
            model.book.items().len()
        );
        runs.push(run(words, look.theme.warn));
    }
    put(buf, area, 0, 0, &runs, look);
}

fn shelf(model: &Model, ids: &[ItemId], area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
    let book = &model.book;
    if ids.is_empty() {
        let words = if model.stock.tab == Tab::Reorder {
            "Nothing is at its low mark. Press w on a line of the shelf to set one."
        } else {
            "No line matches. Press / and Esc to see all of them."
        };
        put(buf, area, 0, 1, &[run(words, look.theme.text)], look);
        return None;
    }
    let rows: Vec<Row> = ids
        .iter()
        .filter_map(|id| Some((*id, book.items().get(*id)?)))
        .map(|(id, item)| shelf_row(model, id, item, look))
        .collect();
    let picked = model.stock.cursor.row(ids.len());
    Table { columns: &SHELF, rows: &rows, picked }.draw(area, buf, look)
}

fn shelf_row(model: &Model, id: ItemId, item: &Item, look: &Look) -> Row {
    let book = &model.book;
    let (held, free, mark) = (book.on_hand(id) as i64, book.free(id), i64::from(item.mark()));
    let low = is_low(book, id, item);
    let size = item.cutting_size().map(|s| s.about(model.screen.unit)).unwrap_or_default();
    let state = if low { "LOW".to_owned() } else { item.state.word().to_owned() };
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
        free.to_string(),
        if item.low == 0 { "-".to_owned() } else { item.low.to_string() },
        state,
        bar(free, whole, Some(mark), 14, &look.glyphs),
    ];
    Row { cells, style }
}

fn details(model: &Model, id: ItemId, area: Rect, buf: &mut Buffer, look: &Look) {
    let (book, theme) = (&model.book, &look.theme);
    let Some(item) = book.items().get(id) else { return };
    let rule = look.glyphs.rule.repeat(usize::from(area.width));
    put(buf, area, 0, 0, &[run(rule, theme.line)], look);
    let state = item.state.to_string();
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

const BIN: [Column; 6] = [
    Column::text("paper", 20, 0),
    Column::number("size", 20, 0),
    Column::number("count", 5, 0),
    Column::text("grain", 7, 2),
    Column::text("from", 18, 1),
    Column::text("place", 12, 3),
];

fn bin(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
    let book = &model.book;
    let rows: Vec<Row> = book
        .offcuts()
        .iter()
        .filter(|(id, _)| book.offcut_count(*id) > 0)
        .map(|(id, o)| {
            let cells = vec![
                book.items().name_of(o.item),
                o.size.about(model.screen.unit),
                book.offcut_count(id).to_string(),
                o.grain.word().to_owned(),
                o.job.clone(),
                o.place.clone(),
            ];
            Row { cells, style: look.theme.text }
        })
        .collect();
    if rows.is_empty() {
        put(buf, area, 0, 1, &[run("The bin is empty.", look.theme.text)], look);
        return None;
    }
    let picked = model.stock.cursor.row(rows.len());
    Table { columns: &BIN, rows: &rows, picked }.draw(area, buf, look)
}

const LOG: [Column; 6] = [
    Column::text("item", 20, 0),
    Column::number("line", 6, 2),
    Column::text("date", 10, 0),
    Column::number("change", 7, 0),
    Column::text("reason", 12, 0),
    Column::text("job", 20, 1),
];

fn log(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
    let book = &model.book;
    let len = book.log().len();
    let picked = model.stock.cursor.row(len);
    // Only what can be seen is put together: a log grows for years.
    let room = usize::from(area.height);
    let first = picked.unwrap_or(0).saturating_sub(room);
    let rows: Vec<Row> = book
        .log()
        .iter()
        .rev()
        .skip(first)
        .take(room * 2 + 1)
        .map(|l| {
            let voided = l.reason == Reason::Voided || book.is_voided(l.seq);
            let reason = match (l.voids, book.is_voided(l.seq)) {
                (Some(of), _) => format!("voids {of}"),
                (None, true) => format!("{} (void)", l.reason.word()),
                (None, false) => l.reason.word().to_owned(),
            };
            let name = l.offcut.map_or_else(|| book.items().name_of(l.item), |o| book.offcut_title(o));
            let cells = vec![
                name,
                l.seq.to_string(),
                l.date.to_string(),
                format!("{:+}", l.change),
                reason,
                l.job.clone(),
            ];
            Row { cells, style: if voided { look.theme.dim } else { look.theme.text } }
        })
        .collect();
    Table { columns: &LOG, rows: &rows, picked: picked.map(|p| p - first) }.draw(area, buf, look)
}
