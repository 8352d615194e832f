//! What is set aside: the bookings, what open work still takes, what the coming days ask for. A wide screen has each class
//! with how far it has come, the booking in hand in full, and how its paper is cut.
//!
//! ```text
//! item       booked pieces for          day         in 60 days  class     what
//! > chalk         4     42 Thank-you    2026-12-01  2026-11-30  Thank-you cut 17 sheets
//! not booked yet  wanted free for       day         November 2026        December 2026
//! class or batch  day    pieces cut sheets          chalk, letter  for Thank-you, 1 day
//! cut from it: [4 x] [2 x]                          others  18 for Winter class
//! ```

use super::ahead;
use super::months;
use super::shared::{below, dash, empty, flush, marked, short_title, things_of, told};
use crate::app::model::Model;
use crate::app::panes::stock::in_hand;
use crate::app::state::stock::marks::RowMark;
use crate::domain::book::Book;
use crate::domain::days;
use crate::domain::stock::calendar::{CalendarRow, Due};
use crate::domain::stock::needs::Basis;
use crate::domain::stock::outlook::Outlook;
use crate::domain::stock::shortage::{day_of, missing_for};
use crate::domain::stock::{Booking, BookingId, ProjectId, booked};
use crate::ui::chips::{self, Of};
use crate::ui::panes::plan::small;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const BOOKINGS: [Column; 6] = [
    Column::text("item", 22, 0),
    Column::number("booked", 6, 0),
    Column::number("pieces", 6, 2),
    Column::text("for", 21, 0).grows_to(34),
    Column::text("day", 10, 0),
    Column::text("", 7, 1),
];

/// The column of what is booked.
const COUNT: usize = 1;
/// The column of the pieces.
const PIECES: usize = 2;
/// The column that says what is short.
const SHORT: usize = 5;

const DUE: [Column; 4] = [
    Column::text("in 60 days", 10, 0),
    Column::text("", 11, 2),
    Column::text("class or batch", 23, 1),
    Column::text("what", 39, 0).takes_the_rest(),
];

/// Rows that the booking in hand is told in.
const TOLD: u16 = 8;
/// Fewest rows of what is due below the bookings, its heading among them.
const DUE_LEAST: u16 = 5;
/// Columns of the bookings beside what is due, at least.
const BESIDE: u16 = 80;
/// Columns of what is due with its classes, and of the gap before it.
const DUE_WIDE: u16 = 79;

/// What the coming days ask for, a row each.
fn due_rows(model: &Model, on: &Surface) -> Vec<Row> {
    let name = |id: Option<ProjectId>| id.map_or_else(String::new, |id| model.book.projects().name_of(id));
    let row = |r: &CalendarRow| {
        let theme = &on.look.theme;
        let (day, style) = if r.on < model.today {
            (gone(r, &model.book), theme.bad)
        } else {
            (r.on.to_string(), theme.text)
        };
        let when = days::far(r.on, model.today);
        Row { cells: vec![day, when, name(r.project), r.said(&model.book)], style }
    };
    model.stock.calendar.iter().flatten().map(row).collect()
}

/// The day of something that was to be done by now: so late, in a word as well as by color; a class that is still open is past.
fn gone(row: &CalendarRow, book: &Book) -> String {
    let is_class = row.due == Due::Held && row.verb(book) == "class";
    let word = if is_class { "PAST" } else { "LATE" };
    format!("{word} {:02}-{:02}", row.on.month(), row.on.day())
}

/// What the coming days ask for, as far as there is room.
pub(super) fn due(model: &Model, area: Rect, on: &mut Surface) {
    let rows = due_rows(model, on);
    if !rows.is_empty() {
        Table::plain(&DUE, &rows).draw_whole(flush(area), on);
    }
}

/// What is due in few rows: the name of the list keeps its place, what has no room is counted at the end of its heading.
fn due_below(rows: &[Row], area: Rect, on: &mut Surface) {
    let shown = usize::from(area.height.saturating_sub(1)).min(rows.len());
    Table::plain(&DUE, rows.get(..shown).unwrap_or(rows)).draw(area, on);
    if shown < rows.len() {
        let words = format!("{} hidden", rows.len() - shown);
        let x = area.width.saturating_sub(text::width(&words) as u16 + 1);
        on.put(area, x, 0, &[run(words, on.look.theme.dim)]);
    }
}

/// The calendar of the next days: at the side of a wide screen, else below the bookings. What is left for those.
fn calendar(model: &Model, area: Rect, details: Rect, on: &mut Surface) -> (Rect, Rect) {
    let Some(due) = model.stock.calendar.as_ref().filter(|due| !due.is_empty()) else {
        return (area, details);
    };
    let rows = due_rows(model, on);
    let needed = rows.len() as u16 + 1;
    let is_beside = details.x > area.x;
    // Bookings need less of a wide screen than the other lists do: what is due has whole words.
    let (area, details) = if is_beside {
        let both = area.width + details.width;
        let list = BESIDE.max((both * 13 / 25).min(both.saturating_sub(DUE_WIDE))).min(112);
        let x = area.x + list + 2;
        (Rect { width: list, ..area }, Rect { x, width: details.right().saturating_sub(x), ..details })
    } else {
        (area, details)
    };
    let bookings = (model.stock.bookings.len() as u16 + 1).max(2);
    let (list, place, rest) = if is_beside {
        let told = 12.min(details.height / 2);
        let height = needed.min(details.height.saturating_sub(told + 1));
        let rest =
            Rect { y: details.y + height + 1, height: details.height.saturating_sub(height + 1), ..details };
        (area, Rect { height, ..details }, rest)
    } else {
        // The bookings come first: one that is short must not be the one without a row.
        let most = DUE_LEAST.max(area.height.saturating_sub(bookings + 1)).min(area.height);
        let height = needed.min(most);
        let list = Rect { height: area.height.saturating_sub(height + 1), ..area };
        (list, Rect { y: list.bottom() + 1, height, ..area }, details)
    };
    if is_beside {
        Table::plain(&DUE, &rows).draw(flush(place), on);
    } else {
        due_below(&rows, place, on);
    }
    if rest.height > months::HIGH + TOLD && is_beside {
        let high = months::high(model, due, rest.width, rest.height - TOLD);
        months::draw(model, due, Rect { height: high, ..rest }, on);
        let height = rest.height - high - 1;
        return (list, Rect { y: rest.bottom() - height, height, ..rest });
    }
    (list, rest)
}

const WANTED: [Column; 6] = [
    Column::text("not booked yet", 22, 0).grows_to(34),
    Column::number("wanted", 6, 0),
    Column::number("free", 5, 1),
    Column::text("for", 24, 0).grows_to(34),
    Column::text("day", 10, 1),
    Column::text("", 9, 2),
];

/// What open classes still take and have not booked, below the bookings where there is room; what is left for those, and
/// what is free below.
fn wanted(model: &Model, area: Rect, on: &mut Surface) -> (Rect, Rect) {
    let (book, all) = (&model.book, &model.stock.wanted);
    let bookings = (model.stock.bookings.len() as u16 + 1).max(3);
    let room = area.height.saturating_sub(bookings + 1);
    let rest = Rect { y: area.y + bookings.min(area.height) + 1, height: room, ..area };
    if all.is_empty() || room < 3 {
        return if room < 3 {
            (area, Rect { height: 0, ..area })
        } else {
            (Rect { height: bookings, ..area }, rest)
        };
    }
    let rows: Vec<Row> = all
        .iter()
        .map(|w| {
            let cells = vec![
                chips::named(book, &book.items().name_of(w.item)),
                w.count.to_string(),
                book.free(w.item).to_string(),
                book.projects().name_of(w.project),
                w.on.map_or_else(|| "-".to_owned(), |d| d.to_string()),
                short(w.missing),
            ];
            Row { cells, style: if w.missing > 0 { on.look.theme.bad } else { on.look.theme.text } }
        })
        .collect();
    let table = Table::plain(&WANTED, &rows);
    let place = table.draw_whole(rest, on);
    chips::draw_chips(model, &table, place, |n| all.get(n).map(|w| Of::Item(w.item)), on);
    (Rect { height: bookings, ..area }, below(rest, place.height + 1))
}

const WORKS: [Column; 9] = [
    Column::text("class or batch", 22, 0).grows_to(34),
    Column::text("day", 10, 0),
    Column::text("when", 11, 2),
    Column::number("pieces", 6, 0),
    Column::number("cut", 4, 0),
    Column::number("to cut", 6, 0),
    Column::number("sheets", 6, 0),
    Column::number("offcuts", 7, 1),
    Column::number("short", 6, 0),
];

/// Open classes and batches with how far each has come; returns the rows that were drawn.
fn works(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let (book, works) = (&model.book, &model.stock.aside.works);
    if works.is_empty() || area.height < 3 {
        return 0;
    }
    let rows: Vec<Row> = works
        .iter()
        .map(|(id, look)| {
            let (all, still) = look.pieces;
            let (sheets, offcuts) = look.still_to_cut(book);
            let missing: u64 = look.needs.iter().map(|n| n.missing).sum();
            let cells = vec![
                book.projects().name_of(*id),
                look.on.map_or_else(|| "-".to_owned(), |d| d.to_string()),
                look.on.map_or_else(String::new, |d| days::far(d, model.today)),
                all.to_string(),
                dash(all.saturating_sub(still)),
                dash(still),
                // Before there is a plan the sheets are a bound, as the list of days says too.
                dash(sheets) + if look.basis == Basis::Bound && sheets > 0 { "+" } else { "" },
                dash(offcuts),
                dash(missing),
            ];
            Row { cells, style: if missing > 0 { on.look.theme.bad } else { on.look.theme.text } }
        })
        .collect();
    let is_bound =
        |(_, look): &(ProjectId, Outlook)| look.basis == Basis::Bound && look.still_to_cut(book).0 > 0;
    let place = Table::plain(&WORKS, &rows).draw_whole(area, on);
    if !works.iter().any(is_bound) {
        return place.height;
    }
    on.put(area, 1, place.height, &[run("+ or more: no plan yet", on.look.theme.dim)]);
    // The key takes the row that keeps the layouts below apart: they need every one.
    place.height
}

/// How the papers of a booking's project are cut, small: that in hand first, and marked.
fn layouts(model: &Model, booking: &Booking, area: Rect, on: &mut Surface) {
    let Some(of) = model.stock.aside.layouts_of(booking) else { return };
    let sheets: Vec<_> = of.own.iter().chain(&of.others).copied().collect();
    if area.height < 6 || sheets.is_empty() {
        return;
    }
    let turned =
        if sheets.iter().any(|s| s.layout.pieces.iter().any(|p| p.turned)) { ", t turned" } else { "" };
    let words = format!("how {} is cut{turned}", model.book.projects().name_of(booking.project));
    on.put(area, 1, 0, &[run(words, on.look.theme.title)]);
    let room = Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..below(area, 1) };
    small::sheets_in(model, (of.job, &sheets), 0..of.own.len(), room, on);
}

/// Draws what is set aside.
pub(super) fn draw(model: &Model, area: Rect, beside: Rect, on: &mut Surface) -> Option<u16> {
    let ids = &model.stock.bookings;
    let is_beside = beside.x > area.x;
    let (area, beside) = if is_beside { (area, beside) } else { with_less_below(area, beside) };
    let (area, beside) = calendar(model, area, beside, on);
    let (area, rest) = wanted(model, area, on);
    let rest = if is_beside { below(rest, works(model, rest, on) + 1) } else { rest };
    if ids.is_empty() {
        return empty(model, area, on);
    }
    let picked = model.stock.cursor.row(ids.len())?;
    if let Some(b) = ids.get(picked).and_then(|id| model.book.bookings().get(*id)) {
        let pairs = in_hand::of_booking(&model.ctx(), &model.stock, b);
        let pairs = if is_beside { &pairs[..] } else { pairs.get(..4).unwrap_or(&pairs) };
        let y = told(&booked::title(&model.book, b), pairs, on.look.theme.text, beside, on) + 1;
        if is_beside {
            ahead::draw(model, (b.item, b.offcut), below(beside, y), on);
            layouts(model, b, rest, on);
        }
    }
    list(model, (ids, picked), area, on)
}

/// Rows that the booking in hand takes below a list: a rule, its name, how its paper stands.
const BELOW: u16 = 3;

fn with_less_below(area: Rect, details: Rect) -> (Rect, Rect) {
    let spare = details.height.saturating_sub(BELOW);
    let rest = below(details, spare);
    (Rect { height: area.height + spare, ..area }, rest)
}

fn list(model: &Model, (ids, picked): (&[BookingId], usize), area: Rect, on: &mut Surface) -> Option<u16> {
    let book = &model.book;
    let room = usize::from(area.height);
    let first = picked.saturating_sub(room);
    let bookings = || ids.iter().skip(first).take(room * 2 + 1);
    let rows: Vec<Row> =
        bookings().filter_map(|id| book.bookings().get(*id)).map(|b| row(model, b, on)).collect();
    let marked = marked(model, bookings().map(|id| RowMark::Booking(*id)));
    let mut columns = BOOKINGS;
    let rows = named_short(model, rows, bookings(), &mut columns, area.width);
    let table = Table {
        columns: &columns,
        rows: &rows,
        total: ids.len(),
        picked: Some(picked - first),
        marked: &marked,
    };
    things_of(&table, first, area, &mut on.hits);
    let at = table.draw(area, on);
    let paper =
        |n: usize| ids.get(first + n).and_then(|id| book.bookings().get(*id)).map(|b| Of::Item(b.item));
    chips::draw_chips(model, &table, area, paper, on);
    let short =
        ids.iter().filter_map(|id| book.bookings().get(*id)).filter(|b| missing_of(model, b) > 0).count();
    // Rows that are short may have no room: their number stands over the column.
    if let Some(x) =
        table.column_at(area, SHORT).filter(|_| short > 0 && ids.len() > table.shown(area).count())
    {
        on.put(area, x - area.x, 0, &[run(format!("{short} short"), on.look.theme.bad)]);
    }
    at
}

/// Whole names before anything else: where those of offcuts have no room their size alone follows that of their paper, and how
/// many pieces come of them is left out for it.
fn named_short<'a>(
    model: &Model,
    mut rows: Vec<Row>,
    bookings: impl Iterator<Item = &'a BookingId>,
    columns: &mut [Column; 6],
    width: u16,
) -> Vec<Row> {
    let book = &model.book;
    let others: u16 = columns.iter().skip(1).map(|c| c.width + 1).sum();
    let room = usize::from(width.saturating_sub(others + 2));
    let longest = |names: &mut dyn Iterator<Item = usize>| names.max().unwrap_or(0);
    let whole = longest(&mut rows.iter().filter_map(|r| r.cells.first()).map(|name| text::width(name)));
    if whole <= room {
        columns[0].width = columns[0].width.max(whole as u16);
        return rows;
    }
    let short = |b: &Booking| {
        chips::named(book, &b.offcut.map_or_else(|| booked::title(book, b), |o| short_title(book, o)))
    };
    let names: Vec<String> = bookings.filter_map(|id| book.bookings().get(*id)).map(short).collect();
    let needed = longest(&mut names.iter().map(|name| text::width(name)));
    let spare = room + usize::from(columns[PIECES].width) + 1;
    if needed > spare {
        columns[COUNT] = Column::number("qty", 3, 0);
    }
    if needed > spare + 3 {
        return rows;
    }
    columns[0].width = columns[0].width.max(needed as u16);
    for (row, name) in rows.iter_mut().zip(names) {
        if let Some(cell) = row.cells.first_mut() {
            *cell = name;
        }
    }
    rows
}

/// How many are short, where any are.
fn short(missing: u64) -> String {
    if missing > 0 { format!("SHORT {missing}") } else { String::new() }
}

/// How many of a booking's paper are wanting on its day.
fn missing_of(model: &Model, b: &Booking) -> u64 {
    match b.offcut {
        Some(_) => 0,
        None => missing_for(&model.book, b.project, b.item, u64::from(b.count), day_of(&model.book, b)),
    }
}

fn row(model: &Model, b: &Booking, on: &Surface) -> Row {
    let book = &model.book;
    let day = day_of(book, b);
    let missing = missing_of(model, b);
    let cells = vec![
        chips::named(book, &booked::title(book, b)),
        b.count.to_string(),
        dash(model.stock.aside.pieces_of(b).unwrap_or(0)),
        book.projects().name_of(b.project),
        day.map_or_else(|| "-".to_owned(), |d| d.to_string()),
        short(missing),
    ];
    Row { cells, style: if missing > 0 { on.look.theme.bad } else { on.look.theme.text } }
}
