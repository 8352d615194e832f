//! What to order, by seller, with the reason of each line; what is on order; what leaves; what cannot be had.

use super::shared::{empty, marked, told};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::stock::reorder::{cells, heading};
use crate::app::state::stock::marks::Mark;
use crate::app::state::stock::orders::OrderRow;
use crate::domain::book::Book;
use crate::domain::stock::ItemId;
use crate::ui::chips::{self, Of};
use crate::ui::look::Look;
use crate::ui::surface::Surface;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;
use ratatui::style::Style;

const COLUMNS: [Column; 6] = [
    Column::text("name", 23, 0),
    Column::text("number", 8, 2).grows_to(14),
    Column::number("packs", 7, 1),
    Column::number("brings", 6, 3),
    Column::number("price", 8, 1),
    Column::text("why", 26, 0).grows_to(60),
];

/// Draws the list, and the line picked in full below it.
pub fn draw(model: &Model, area: Rect, below: Rect, on: &mut Surface) -> Option<u16> {
    let orders = &model.stock.orders;
    if orders.rows.is_empty() {
        return empty(model, area, on);
    }
    let cursor = model.stock.cursor.row(orders.rows.len());
    let (mut rows, mut picked, mut last) = (Vec::new(), None, String::new());
    // Which line each row is; a heading is none.
    let mut lines = Vec::new();
    for (n, row) in orders.rows.iter().enumerate() {
        let heading = heading(&model.stock, &model.book, row);
        if heading != last {
            rows.push(Row { cells: vec![heading.clone()], style: on.look.theme.title });
            lines.push(None);
            last = heading;
        }
        if cursor == Some(n) {
            picked = Some(rows.len());
        }
        let mut cells = cells(&model.book, row).to_vec();
        cells[0] = chips::named(&model.book, &cells[0]);
        rows.push(Row { cells, style: style(row, on.look) });
        lines.push(Some(n));
    }
    if let Some(row) = cursor.and_then(|n| orders.rows.get(n)) {
        details(model, row, below, on);
    }
    let of_line = |line: &Option<usize>| line.and_then(|n| Mark::of_order(orders.rows.get(n)?));
    let marked = marked(model, lines.iter().map(of_line));
    let table = Table { columns: &COLUMNS, rows: &rows, picked, marked: &marked };
    let marks: Vec<(usize, Rect)> = table
        .shown(area)
        .filter_map(|(n, place)| Some((lines.get(n).copied()??, Rect { width: table.left(), ..place })))
        .collect();
    let shown = table.shown(area).filter_map(|(n, place)| Some((lines.get(n).copied()??, place)));
    on.hits.list(area, List::Stock, shown);
    for (row, place) in marks {
        on.hits.add(place, Spot::Mark(row));
    }
    let at = table.draw(area, on);
    let paper = |n: usize| item_of(&model.book, orders.rows.get(lines.get(n).copied()??)?).map(Of::Item);
    chips::draw(model, &table, area, paper, on);
    at
}

/// The line of the shelf that a row is about; a pack of several designs is about none.
fn item_of(book: &Book, row: &OrderRow) -> Option<ItemId> {
    match row {
        OrderRow::Item(_, line) => Some(line.item),
        OrderRow::Awaited(id) => book.orders().get(*id).map(|o| o.item),
        OrderRow::Last(last) => Some(last.item),
        OrderRow::Missing(missing) => Some(missing.item),
        OrderRow::Pack(..) | OrderRow::Parcel(..) => None,
    }
}

fn style(row: &OrderRow, look: &Look) -> Style {
    match row {
        OrderRow::Item(_, line) if line.late => look.theme.bad,
        OrderRow::Missing(_) => look.theme.bad,
        OrderRow::Last(_) => look.theme.warn,
        _ => look.theme.text,
    }
}

fn details(model: &Model, row: &OrderRow, area: Rect, on: &mut Surface) {
    let [name, number, packs, brings, price, why] = cells(&model.book, row);
    let pairs = [("number", number), ("packs", packs), ("brings", brings), ("price", price), ("why", why)];
    told(&name, &pairs, style(row, on.look), area, on);
}
