//! The offcut bin and the log: all lines, or those of one item with what goes of it a month.

use super::offcuts;
use super::shared::{empty, marked, things_of, told};
use crate::app::model::Model;
use crate::app::panes::stock::facts;
use crate::app::state::stock::bin as in_bin;
use crate::app::state::stock::log_line;
use crate::app::state::stock::marks::Mark;
use crate::domain::stock::LogLine;
use crate::domain::stock::lot::{draws_of, lot_words};
use crate::domain::stock::{ItemId, Reason, shelf};
use crate::ui::chips::{self, Of};
use crate::ui::surface::Surface;
use crate::ui::widgets::table::{Column, Row, Table};
use crate::ui::widgets::trend::trend;
use ratatui::layout::Rect;

const BIN: [Column; 6] = [
    Column::text("paper", 23, 0),
    Column::number("size", 20, 0),
    Column::number("count", 5, 0),
    Column::text("grain", 7, 2),
    Column::text("from", 18, 1),
    Column::text("place", 12, 3),
];

/// Draws the bin: the list, and its offcuts to scale below it or at its side.
pub fn bin(model: &Model, (area, below): (Rect, Rect), on: &mut Surface) -> Option<u16> {
    let book = &model.book;
    let ids = in_bin(&model.stock, book);
    let rows: Vec<Row> = ids
        .iter()
        .filter_map(|id| Some((*id, book.offcuts().get(*id)?)))
        .map(|(id, o)| {
            let cells = vec![
                chips::named(book, &book.items().name_of(o.item)),
                o.size.about(model.screen.unit),
                book.offcut_count(id).to_string(),
                o.grain.word().to_owned(),
                o.job.clone(),
                o.place.clone(),
            ];
            Row { cells, style: on.look.theme.text }
        })
        .collect();
    if rows.is_empty() {
        return empty(model, area, on);
    }
    let picked = model.stock.cursor.row(rows.len());
    let (area, drawing) = drawn_beside(rows.len(), area, below);
    offcuts::draw(model, &ids, picked, drawing, on);
    let marked = marked(model, ids.iter().copied().map(Mark::Offcut));
    let table = Table { columns: &BIN, rows: &rows, picked, marked: &marked };
    things_of(&table, 0, area, &mut on.hits);
    let at = table.draw(area, on);
    let paper = |n: usize| ids.get(n).and_then(|id| book.offcuts().get(*id)).map(|o| Of::Item(o.item));
    chips::draw(model, &table, area, paper, on);
    at
}

/// The room of a list of so many rows, and that of the drawing: what the list leaves below it, or the side where that is more.
fn drawn_beside(rows: usize, area: Rect, below: Rect) -> (Rect, Rect) {
    let is_at_side = below.y == area.y;
    let whole = if is_at_side { area } else { Rect { height: area.height + below.height, ..area } };
    let height = (rows as u16 + 1).min((whole.height / 2).max(4)).min(whole.height);
    let under = Rect {
        y: whole.y + height + 1,
        height: whole.height.saturating_sub(height + 1),
        width: if is_at_side { below.right() - whole.x } else { whole.width },
        ..whole
    };
    let size = |r: Rect| u32::from(r.width) * u32::from(r.height);
    if is_at_side && size(below) > size(under) {
        return (area, below);
    }
    (Rect { height, ..whole }, under)
}

const LOG: [Column; 7] = [
    Column::text("item", 20, 0),
    Column::number("line", 6, 2),
    Column::text("date", 10, 0),
    Column::number("change", 7, 0),
    Column::text("reason", 12, 0),
    Column::number("cost", 10, 2),
    Column::text("job", 20, 1),
];

/// Draws the log.
pub fn log(model: &Model, area: Rect, below: Rect, on: &mut Surface) -> Option<u16> {
    let book = &model.book;
    let pane = &model.stock;
    let len = model.stock.rows(&model.book);
    if len == 0 {
        return empty(model, area, on);
    }
    if let Some(item) = pane.history() {
        history(model, item, below, on);
    }
    // Below the whole log there is nothing to tell: it takes that room.
    let is_beside = below.y == area.y;
    let spare = if pane.history().is_some() || is_beside { 0 } else { below.height };
    let area = Rect { height: area.height + spare, ..area };
    let picked = pane.cursor.row(len);
    // Only what can be seen is put together: a log grows for years.
    let room = usize::from(area.height);
    let first = picked.unwrap_or(0).saturating_sub(room);
    let lines: Vec<&LogLine> =
        (first..len).take(room * 2 + 1).filter_map(|n| log_line(pane, book, n)).collect();
    let draws = draws_of(book, lines.iter().copied());
    let rows: Vec<Row> = lines
        .into_iter()
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
                draws.get(&l.seq).map_or(String::new(), |d| d.cost_words(&book.settings().currency)),
                l.job.clone(),
            ];
            Row { cells, style: if voided { on.look.theme.dim } else { on.look.theme.text } }
        })
        .collect();
    let lines = (first..len).take(room * 2 + 1).filter_map(|n| log_line(pane, book, n));
    let marked = marked(model, lines.map(|l| Mark::Line(l.seq)));
    let table = Table { columns: &LOG, rows: &rows, picked: picked.map(|p| p - first), marked: &marked };
    things_of(&table, first, area, &mut on.hits);
    table.draw(area, on)
}

/// One item's own story: how much goes a month, and the lots it lies in.
fn history(model: &Model, item: ItemId, area: Rect, on: &mut Surface) {
    let book = &model.book;
    let title = format!("{}  {} on hand", book.items().name_of(item), book.on_hand(item));
    let used = shelf::used_by_month(book, item, model.today, facts::MONTHS);
    let month = |d: jiff::civil::Date| d.strftime("%b %Y").to_string();
    let ago = jiff::Span::new().months(facts::MONTHS as i64 - 1);
    let from = model.today.checked_sub(ago).map(month).unwrap_or_default();
    let mut pairs = vec![
        ("used", format!("{from} {} {}", trend(&used, &on.look.glyphs), month(model.today))),
        ("", facts::trend_words(&model.ctx(), item)),
        ("low mark", facts::mark_words(&model.ctx(), item)),
    ];
    let all = lot_words(book, item).into_iter().rev();
    pairs.extend(all.enumerate().map(|(n, words)| (if n == 0 { "lots" } else { "" }, words)));
    told(&title, &pairs, on.look.theme.text, area, on);
}
