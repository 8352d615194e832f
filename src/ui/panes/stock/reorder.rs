//! What to order, by seller, with the reason of each line; what is on order; what leaves; what cannot be had.

use super::shared::{below, dash, empty, flush_words, marked, told};
use super::{ahead, bookings, months, used};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::stock::in_hand;
use crate::app::panes::stock::reorder::{cells, heading, why_narrow};
use crate::app::state::stock::marks::RowMark;
use crate::app::state::stock::orders::OrderRow;
use crate::domain::stock::cost::Each;
use crate::domain::stock::pace::pace;
use crate::domain::stock::{LogLine, Reason, reorder};
use crate::ui::chips::{self, Of};
use crate::ui::look::Look;
use crate::ui::surface::Surface;
use crate::ui::widgets::stack::{ListRoom, share, tell_left_out};
use crate::ui::widgets::table::{Column, Row, Table};
use jiff::civil::Date;
use ratatui::layout::Rect;
use ratatui::style::Style;

const COLUMNS: [Column; 6] = [
    Column::text("name", 23, 0),
    Column::text("number", 8, 2).grows_to(14),
    Column::number("packs", 7, 1),
    Column::number("brings", 6, 3),
    Column::number("sum", 8, 1),
    Column::text("why", 26, 0).grows_to(60),
];

/// From about 120 columns on: the day to order by in a column of its own, why in short. What a row brings has room beside both.
const ROOMY: [Column; 7] = {
    let [name, number, packs, brings, price, _] = COLUMNS;
    let name = Column { width: 22, most: 22, ..name };
    [name, number, packs, brings, price, Column::text("order by", 10, 1), Column::text("why", 49, 0)]
};

/// In a wide window: why in full, the day to order by beside it; from about 190 columns on how each line stands.
const WIDE_COLUMNS: [Column; 12] = [
    Column::text("name", 22, 0),
    Column::text("number", 8, 2).grows_to(14),
    Column::number("packs", 7, 1),
    Column::number("brings", 6, 3),
    Column::number("sum", 8, 1),
    Column::text("order by", 10, 1),
    Column::text("why", 80, 0),
    Column::number("free", 5, 7),
    Column::number("low", 4, 6),
    Column::number("by pace", 7, 8),
    Column::number("a month", 7, 4),
    Column::number("days left", 9, 5),
];

/// The same from about 150 columns on: why in short, so that all five figures of how a line stands have room.
const SHORT_COLUMNS: [Column; 12] = {
    let mut all = WIDE_COLUMNS;
    all[3] = Column::number("brings", 6, 9);
    all[6] = Column::text("why", 49, 0);
    all[9] = Column::number("by pace", 8, 8);
    all[10] = Column::number("a month", 8, 4);
    all[11] = Column::number("days left", 10, 5);
    all
};

/// What the list has room for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shape {
    /// Why in numbers alone.
    Narrow,
    /// The day to order by, and why in short.
    Roomy,
    /// How each line stands too.
    Short,
    /// All of it, why in full.
    Full,
}

impl Shape {
    fn of(width: u16) -> Self {
        match width {
            0..118 => Self::Narrow,
            118..148 => Self::Roomy,
            148..182 => Self::Short,
            _ => Self::Full,
        }
    }

    const fn columns(self) -> &'static [Column] {
        match self {
            Self::Narrow => &COLUMNS,
            Self::Roomy => &ROOMY,
            Self::Short => &SHORT_COLUMNS,
            Self::Full => &WIDE_COLUMNS,
        }
    }
}

const NEXT: [Column; 9] = [
    Column::text("next to run low", 26, 0),
    // What is free and on order less the low mark is what is above it.
    Column::number("free", 5, 0),
    Column::number("on order", 8, 0),
    Column::number("low", 4, 0),
    Column::number("above", 5, 0),
    Column::number("a month", 7, 1),
    Column::text("low on", 10, 0),
    Column::text("seller", 20, 5).grows_to(30),
    Column::number("a pack", 8, 3),
];

const CAME: [Column; 6] = [
    Column::text("came in lately", 22, 0),
    Column::text("on", 10, 0),
    Column::number("count", 5, 0),
    Column::number("paid", 9, 1),
    Column::number("each", 8, 0),
    Column::text("seller", 20, 2).grows_to(30),
];

/// Draws the list, and the line picked in full below it; in a wide window also what runs low next, and the days ahead.
pub fn draw_reorder(model: &Model, area: Rect, details: Rect, on: &mut Surface) -> Option<u16> {
    let orders = &model.stock.orders;
    let row = model.stock.cursor.row(orders.rows.len()).and_then(|n| orders.rows.get(n));
    if details.x == area.x {
        if let Some(row) = row {
            let pairs = in_hand::of_order(&model.ctx(), row);
            let own = pairs.get(..pairs.len().min(6)).unwrap_or(&pairs);
            told(&row.name(&model.book), own, style(row, on.look), details, on);
        }
        let shape = Shape::of(area.width);
        let own = ListRoom::rows(table(model, on.look, shape).0.len().max(2)).at_least(FEW);
        let rows = share(&[own, ListRoom::rows(orders.next.len())], area.height, 1);
        let used = rows[0] + next(model, Rect { height: rows[1], ..below(area, rows[0] + 1) }, on);
        left_out(model, (rows[1], 1), below(area, used), on);
        return list(model, shape, Rect { height: rows[0].max(3).min(area.height), ..area }, on);
    }
    let area = Rect { width: details.right() - area.x, ..area };
    let shape = Shape::of(area.width);
    let rows = table(model, on.look, shape).0.len() as u16;
    let height = (rows + 1).max(3).min(area.height / 2);
    let at = list(model, shape, Rect { height, ..area }, on);
    let rest = Rect { y: area.y + height + 1, height: area.height.saturating_sub(height + 1), ..area };
    let left = Rect { width: area.width * 11 / 20, ..rest };
    let x = left.right() + 3;
    let right = Rect { x, width: area.right().saturating_sub(x), ..rest };
    // What runs low next is whole, or as long as there is room for; what came in has what rows the months of the line in hand leave.
    let high =
        share(&[ListRoom::rows(orders.next.len()), ListRoom::rows(arrivals(model).len())], left.height, 1)[0];
    let mut y = next(model, Rect { height: high, ..left }, on) + 1;
    let used =
        row.and_then(|row| in_hand::item_of(&model.book, row)).map_or(0, |item| used::rows(model, item));
    let spare = left.height.saturating_sub(y + used + 1);
    let came_high = if spare < 3 { 0 } else { spare };
    if came_high > 0 {
        y += came(model, Rect { height: came_high, ..below(left, y) }, on) + 1;
    }
    y += left_out(model, (high, came_high), below(left, y.saturating_sub(1)), on);
    if let Some(row) = row {
        let pairs = in_hand::of_order(&model.ctx(), row);
        let mut y_right = told(&row.name(&model.book), &pairs, style(row, on.look), right, on) + 1;
        let item = in_hand::item_of(&model.book, row);
        if let Some(item) = item {
            y_right += ahead::draw(model, (item, None), below(right, y_right), on) + 1;
            // Flush with the words of the lists above.
            let left = Rect { x: left.x + 1, width: left.width.saturating_sub(1), ..left };
            used::draw_named(model, item, below(left, y), on);
        }
        let due = model.stock.calendar.as_deref().unwrap_or_default();
        let place = below(right, y_right);
        let high = months::high(model, due, place.width, place.height);
        months::draw(model, due, Rect { height: high.min(place.height), ..place }, on);
        let under = below(right, y_right + high + 1);
        if under.height >= FEW_DUE {
            bookings::due(model, under, on);
        }
    }
    at
}

/// Rows of the list before what runs low next is left out, its heading among them.
const FEW: u16 = 12;

/// Names what runs low next and what came in, where they have no rows; returns the rows that it takes.
fn left_out(model: &Model, (next, came): (u16, u16), area: Rect, on: &mut Surface) -> u16 {
    let of = |rows: u16, name: &str, count: usize| (name.to_owned(), if rows == 0 { count } else { 0 });
    let lists = [
        of(next, NEXT[0].title, model.stock.orders.next.len()),
        of(came, CAME[0].title, arrivals(model).len()),
    ];
    tell_left_out(&lists, flush_words(area), on)
}

/// Fewest rows for what is due below its months.
const FEW_DUE: u16 = 5;

/// What runs low next; returns its rows.
fn next(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let (book, all) = (&model.book, &model.stock.orders.next);
    if all.is_empty() || area.height < 2 {
        return 0;
    }
    let currency = &book.settings().currency;
    let rows: Vec<Row> = all
        .iter()
        .take(usize::from(area.height))
        .filter_map(|row| Some((row, book.items().get(row.item)?)))
        .map(|(row, item)| {
            let cells = vec![
                chips::named(book, &item.name),
                book.free(row.item).to_string(),
                book.on_order(row.item).to_string(),
                dash(u64::from(item.mark())),
                row.spare.to_string(),
                row.a_month(),
                row.on(model.today).map_or_else(String::new, |day| day.to_string()),
                item.seller.clone(),
                item.price.map_or_else(|| "-".to_owned(), |p| p.show(currency)),
            ];
            Row { cells, style: on.look.theme.text }
        })
        .collect();
    let table = Table { total: all.len(), ..Table::plain(&NEXT, &rows) };
    let place = table.draw_whole(area, on);
    chips::draw_chips(model, &table, place, |n| all.get(n).map(|row| Of::Item(row.item)), on);
    place.height
}

/// Most lines of what came in.
const LATELY: usize = 12;

/// What came in last, the newest first.
fn arrivals(model: &Model) -> Vec<&LogLine> {
    let book = &model.book;
    let of = |line: &&LogLine| {
        line.reason == Reason::Received
            && line.change > 0
            && !book.is_voided(line.seq)
            && line.offcut.is_none()
    };
    book.log().iter().rev().filter(of).take(LATELY).collect()
}

/// What came in last, and what it cost; returns its rows.
fn came(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let (book, lines) = (&model.book, arrivals(model));
    let currency = &book.settings().currency;
    if lines.is_empty() || area.height < 2 {
        return 0;
    }
    let rows: Vec<Row> = lines
        .iter()
        .map(|line| {
            let count = line.change.unsigned_abs();
            let each = line.price.map(|total| Each { total, of: count }.show(currency));
            let cells = vec![
                chips::named(book, &book.items().name_of(line.item)),
                line.date.to_string(),
                count.to_string(),
                line.price.map_or_else(|| "-".to_owned(), |p| p.show(currency)),
                each.unwrap_or_else(|| "-".to_owned()),
                book.items().get(line.item).map(|i| i.seller.clone()).unwrap_or_default(),
            ];
            Row { cells, style: on.look.theme.text }
        })
        .collect();
    let table = Table::plain(&CAME, &rows);
    let place = table.draw_whole(area, on);
    chips::draw_chips(model, &table, place, |n| lines.get(n).map(|line| Of::Item(line.item)), on);
    place.height
}

/// The rows of the list with its headings; which line each is, a heading none; the row picked.
type Lines = (Vec<Row>, Vec<Option<usize>>, Option<usize>);

fn table(model: &Model, look: &Look, shape: Shape) -> Lines {
    let orders = &model.stock.orders;
    let cursor = model.stock.cursor.row(orders.rows.len());
    let (mut rows, mut lines, mut picked, mut last) = (Vec::new(), Vec::new(), None, String::new());
    for (n, row) in orders.rows.iter().enumerate() {
        let heading = heading(&model.stock, &model.book, row);
        if heading != last {
            rows.push(Row { cells: vec![heading.clone()], style: look.theme.title });
            lines.push(None);
            last = heading;
        }
        if cursor == Some(n) {
            picked = Some(rows.len());
        }
        let mut cells = cells_of(model, row, shape);
        if let Some(name) = cells.first_mut() {
            *name = chips::named(&model.book, name);
        }
        rows.push(Row { cells, style: style(row, look) });
        lines.push(Some(n));
    }
    (rows, lines, picked)
}

/// A day to order by: `today` calls for more haste than a date.
fn day_words(day: Date, today: Date) -> String {
    if day == today { "today".to_owned() } else { day.to_string() }
}

/// The cells of a row; where there is room the day to order by has a column of its own, and how the line stands.
fn cells_of(model: &Model, row: &OrderRow, shape: Shape) -> Vec<String> {
    let book = &model.book;
    let [name, number, packs, brings, price, why] = cells(book, model.today, row);
    if shape == Shape::Narrow {
        return vec![name, number, packs, brings, price, why_narrow(book, model.today, row)];
    }
    let (by, why) = match row {
        OrderRow::Item(_, line) => {
            let by = line.order_by.map_or_else(String::new, |day| day_words(day, model.today));
            let late = if line.late { "LATE: " } else { "" };
            let why = if shape == Shape::Full { reorder::why } else { reorder::why_short };
            (by, format!("{late}{}", why(book, line.item)))
        }
        _ => (String::new(), why),
    };
    let mut all = vec![name, number, packs, brings, price, by, why];
    if shape == Shape::Roomy {
        return all;
    }
    if let Some(id) = in_hand::item_of(book, row) {
        let pace = pace(book, id, model.today);
        let or_none = |n: Option<u64>| n.map_or_else(|| "-".to_owned(), |n| n.to_string());
        all.extend([
            book.free(id).to_string(),
            dash(book.items().get(id).map_or(0, |item| u64::from(item.mark()))),
            or_none(pace.and_then(|p| p.low_mark)),
            pace.map_or_else(|| "-".to_owned(), |p| p.a_month_words()),
            or_none(pace.and_then(|p| p.days_left)),
        ]);
    }
    all
}

fn list(model: &Model, shape: Shape, area: Rect, on: &mut Surface) -> Option<u16> {
    let orders = &model.stock.orders;
    if orders.rows.is_empty() {
        return empty(model, area, on);
    }
    let columns = shape.columns();
    let (rows, lines, picked) = table(model, on.look, shape);
    let of_line = |line: &Option<usize>| line.and_then(|n| RowMark::of_order(orders.rows.get(n)?));
    let marked = marked(model, lines.iter().map(of_line));
    let table = Table { columns, rows: &rows, total: rows.len(), picked, marked: &marked };
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
    let paper =
        |n: usize| in_hand::item_of(&model.book, orders.rows.get(lines.get(n).copied()??)?).map(Of::Item);
    chips::draw_chips(model, &table, area, paper, on);
    at
}

fn style(row: &OrderRow, look: &Look) -> Style {
    match row {
        OrderRow::Item(_, line) if line.late => look.theme.bad,
        OrderRow::Missing(_) => look.theme.bad,
        OrderRow::Last(_) => look.theme.warn,
        _ => look.theme.text,
    }
}
