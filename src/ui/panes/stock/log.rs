//! The log: all lines, or those of one item with what goes of it a month.

use super::shared::{empty, marked, things_of, told};
use crate::app::model::Model;
use crate::app::panes::stock::in_hand;
use crate::app::state::stock::log_line;
use crate::app::state::stock::marks::Mark;
use crate::domain::stock::LogLine;
use crate::domain::stock::lot::{draws_of, lot_words};
use crate::domain::stock::{ItemId, Reason, shelf};
use crate::ui::surface::Surface;
use crate::ui::widgets::table::{Column, Row, Table};
use crate::ui::widgets::trend::trend;
use ratatui::layout::Rect;

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
    let width = if is_beside && pane.history().is_none() { below.right() - area.x } else { area.width };
    let area = Rect { height: area.height + spare, width, ..area };
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
    let table =
        Table { columns: &LOG, rows: &rows, total: len, picked: picked.map(|p| p - first), marked: &marked };
    things_of(&table, first, area, &mut on.hits);
    table.draw(area, on)
}

/// One item's own story: how much goes a month, and the lots it lies in.
fn history(model: &Model, item: ItemId, area: Rect, on: &mut Surface) {
    let book = &model.book;
    let title = format!("{}  {} on hand", book.items().name_of(item), book.on_hand(item));
    let used = shelf::used_by_month(book, item, model.today, in_hand::MONTHS);
    let month = |d: jiff::civil::Date| d.strftime("%b %Y").to_string();
    let ago = jiff::Span::new().months(in_hand::MONTHS as i64 - 1);
    let from = model.today.checked_sub(ago).map(month).unwrap_or_default();
    let mut pairs = vec![
        ("used", format!("{from} {} {}", trend(&used, &on.look.glyphs), month(model.today))),
        ("", in_hand::trend_words(&model.ctx(), item)),
        ("low mark", in_hand::mark_words(&model.ctx(), item)),
    ];
    let all = lot_words(book, item).into_iter().rev();
    pairs.extend(all.enumerate().map(|(n, words)| (if n == 0 { "lots" } else { "" }, words)));
    told(&title, &pairs, on.look.theme.text, area, on);
}
