//! One line of the shelf, field by field, and how the field in hand is written.
//!
//! ```text
//! fern, letter  card stock, 36 on hand
//!   field               now
//!   name                fern, letter
//! > place               drawer 2
//! ---------------------------------------------------
//! place: where it lies
//! ```

use super::log;
use super::of_it;
use super::shared::{rows_of, rule};
use crate::app::model::Model;
use crate::app::panes::stock::form;
use crate::domain::stock::ItemId;
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const FIELDS: [Column; 2] = [Column::text("field", 20, 0), Column::text("now", 40, 0)];

/// Rows for how the field in hand is written, the line above them among these.
const HINT: u16 = 3;
/// Columns that the fields have on a wide screen: values stay close to their words, and what came and went stands beside them.
const FIELDS_WIDE: (u16, u16) = (70, 100);
/// Columns from which it does.
const BESIDE: u16 = 116;

/// The room of the fields, and of what came and went beside them: none on a narrow screen.
fn places(area: Rect) -> (Rect, Rect) {
    if area.width < BESIDE {
        return (area, Rect { height: 0, ..area });
    }
    let width = (area.width * 11 / 20).clamp(FIELDS_WIDE.0, FIELDS_WIDE.1);
    let x = area.x + width + 3;
    (Rect { width, ..area }, Rect { x, width: area.right().saturating_sub(x), ..area })
}

/// Draws the form.
pub fn draw_item_form(model: &Model, open: ItemId, area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let item = model.book.items().get(open)?;
    let (area, beside) = places(area);
    if beside.height > 0 {
        // The name stands over the fields.
        log::history(model, open, "how it goes", beside, on);
    }
    let held = format!("  {}, {} on hand", item.kind.said(), model.book.on_hand(open));
    on.put(area, 0, 0, &[run(&item.name, theme.title), run(held, theme.dim)]);

    let all = form::rows(&model.stock, &model.ctx());
    let picked = model.stock.field.row(all.len());
    let hint = if area.height >= 10 { HINT } else { 0 };
    let most = area.height.saturating_sub(1 + hint).min(all.len() as u16 + 1);
    let room = Rect { y: area.y + 1, height: most, ..area };
    let rows: Vec<Row> = all
        .iter()
        .map(|(field, now)| Row { cells: vec![field.word().to_owned(), now.clone()], style: theme.text })
        .collect();
    // The first column takes what room is left over, so the second one is given it.
    let mut columns = FIELDS;
    columns[1].width = room.width.saturating_sub(columns[0].width + 3);
    let table = Table { columns: &columns, rows: &rows, total: rows.len(), picked, marked: &[] };
    rows_of(&table, 0, room, &mut on.hits);
    let at = table.draw(room, on);

    let below = Rect { y: room.bottom(), height: hint, ..area };
    if let Some((field, _)) = picked.and_then(|n| all.get(n)).filter(|_| hint > 0) {
        rule(below, on);
        let words = format!("{}: {}.", field.word(), field.hint());
        on.paragraph(below, 1, &words, theme.dim);
    }
    let under =
        Rect { y: below.bottom() + 1, height: area.bottom().saturating_sub(below.bottom() + 1), ..area };
    of_it::draw(model, open, true, under, on);
    at.map(|y| Position::new(area.x, y))
}
