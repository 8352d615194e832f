//! The offcut bin: the list; below it its offcuts to scale, and on a wide screen the one in hand with all that it gives.
//!
//! ```text
//! paper        size         count booked free grain  age     from       gives, most of it used
//! > fern       4 x 11 in        3      3    0 long   54 days Thank-you  2 of 4 x 5 1/4 in, 95 %
//!
//! +-------+ +---+ +------------+     fern offcut 4 x 11 in
//! |       | |   | |            |     booked   3 for Winter class on 2026-12-12
//! |       | +---+ +------------+     gives, most of it used first     size       used
//! +-------+                          2 mat of US A2                   4 x 5 1/4  95 %
//! ```

use super::offcuts;
use super::shared::{WIDE, below, empty, marked, things_of, told};
use crate::app::model::Model;
use crate::app::panes::stock::{gives, in_hand};
use crate::app::state::stock::bin as in_bin;
use crate::app::state::stock::marks::RowMark;
use crate::domain::stock::{Offcut, OffcutId};
use crate::ui::chips::{self, Of};
use crate::ui::panes::gives as table_of;
use crate::ui::surface::Surface;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const LIST: [Column; 12] = [
    Column::text("paper", 23, 0),
    Column::number("size", 20, 0),
    Column::number("count", 5, 0),
    Column::number("booked", 6, 5),
    Column::number("free", 4, 1),
    Column::text("grain", 7, 3),
    Column::text("since", 10, 7),
    Column::number("age", 9, 6),
    Column::text("from", 18, 2),
    Column::text("place", 12, 4),
    Column::text("gives, most of it used", 31, 8),
    Column::text("booked for", 39, 9),
];

/// Screens at least this wide tell the offcut in hand beside the drawing.
const BROAD: u16 = 116;

/// Draws list, drawing and the offcut in hand.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<u16> {
    let book = &model.book;
    let ids = in_bin(&model.stock, book);
    let rows: Vec<Row> =
        ids.iter().filter_map(|id| Some(row(model, *id, book.offcuts().get(*id)?, on))).collect();
    if rows.is_empty() {
        return empty(model, area, on);
    }
    let picked = model.stock.cursor.row(rows.len());
    let height = (rows.len() as u16 + 1).min((area.height / 2).max(4)).min(area.height);
    let list = Rect { height, ..area };
    let under = Rect { y: area.y + height + 1, height: area.height.saturating_sub(height + 1), ..area };
    beneath(model, &ids, picked, under, on);
    let marked = marked(model, ids.iter().copied().map(RowMark::Offcut));
    let table = Table { columns: &LIST, rows: &rows, total: rows.len(), picked, marked: &marked };
    things_of(&table, 0, list, &mut on.hits);
    let at = table.draw(list, on);
    let paper = |n: usize| book.offcuts().get(*ids.get(n)?).map(|offcut| Of::Item(offcut.item));
    chips::draw_chips(model, &table, list, paper, on);
    at
}

fn row(model: &Model, id: OffcutId, offcut: &Offcut, on: &Surface) -> Row {
    let book = &model.book;
    let cells = vec![
        chips::named(book, &book.items().name_of(offcut.item)),
        offcut.size.about(model.screen.unit),
        book.offcut_count(id).to_string(),
        book.booked_offcuts(id).to_string(),
        book.free_offcuts(id).to_string(),
        offcut.grain.word().to_owned(),
        book.kept_since(id).map_or_else(String::new, |day| day.to_string()),
        in_hand::age_words(book, id, model.today),
        known(&offcut.job),
        known(&offcut.place),
        gives::most_words(&model.stock, id, model.screen.unit),
        in_hand::booked_for(book, id).into_iter().next().unwrap_or_default(),
    ];
    Row { cells, style: on.look.theme.text }
}

/// Words, or that there are none: nothing would look like words that were cut off.
fn known(words: &str) -> String {
    if words.is_empty() { "-".to_owned() } else { words.to_owned() }
}

/// The drawing, and beside it the offcut in hand where there is room.
fn beneath(model: &Model, ids: &[OffcutId], picked: Option<usize>, area: Rect, on: &mut Surface) {
    if area.width < BROAD || area.height < 8 {
        return offcuts::draw(model, ids, picked, area, on);
    }
    let side = if area.width >= WIDE { (area.width / 2).min(96) } else { area.width * 2 / 5 };
    let drawing = Rect { width: area.width - side - 2, ..area };
    offcuts::draw(model, ids, picked, drawing, on);
    let beside = Rect { x: drawing.right() + 2, width: side, ..area };
    let Some(id) = picked.and_then(|n| ids.get(n).copied()) else { return };
    let pairs = in_hand::of_offcut(&model.ctx(), id);
    let rows = told(&model.book.offcut_title(id), &pairs, on.look.theme.text, beside, on) + 1;
    given(model, id, below(beside, rows), on);
}

/// All that the offcut in hand gives.
fn given(model: &Model, id: OffcutId, area: Rect, on: &mut Surface) {
    let Some((ask, found)) = model.stock.gives.of(id) else { return };
    let (columns, theme) = (table_of::columns(area.width), &on.look.theme);
    let rows = table_of::rows(ask, found, (model.screen.unit, area.width), theme.text);
    Table::plain(columns, &rows).draw(area, on);
}
