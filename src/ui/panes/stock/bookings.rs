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
use super::shared::{below, dash, empty, flush, flush_words, marked, things_of, told};
use crate::app::model::Model;
use crate::app::panes::stock::in_hand;
use crate::app::state::stock::marks::RowMark;
use crate::domain::book::Book;
use crate::domain::cutting::plan::PlannedSheet;
use crate::domain::days;
use crate::domain::stock::calendar::{CalendarRow, Due, late_since};
use crate::domain::stock::needs::Basis;
use crate::domain::stock::outlook::Outlook;
use crate::domain::stock::shortage::{day_of, missing_for};
use crate::domain::stock::{Booking, BookingId, ProjectId, booked};
use crate::ui::chips::{self, Of};
use crate::ui::panes::plan::small;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::stack::{ListRoom, share, tell_left_out};
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

/// The calendar of the next days at the side of a wide screen. What is left for the bookings, and for the one in hand.
fn calendar(model: &Model, area: Rect, details: Rect, on: &mut Surface) -> (Rect, Rect) {
    let Some(due) = model.stock.calendar.as_ref().filter(|due| !due.is_empty()) else {
        return (area, details);
    };
    let rows = due_rows(model, on);
    let needed = rows.len() as u16 + 1;
    // Bookings need less of a wide screen than the other lists do: what is due has whole words.
    let both = area.width + details.width;
    let list = BESIDE.max((both * 13 / 25).min(both.saturating_sub(DUE_WIDE))).min(112);
    let x = area.x + list + 2;
    let details = Rect { x, width: details.right().saturating_sub(x), ..details };
    let list = Rect { width: list, ..area };
    let told = 12.min(details.height / 2);
    let height = needed.min(details.height.saturating_sub(told + 1));
    let rest = below(details, height + 1);
    Table::plain(&DUE, &rows).draw(flush(Rect { height, ..details }), on);
    if rest.height > months::HIGH + TOLD {
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

/// What open classes still take and have not booked.
fn wanted(model: &Model, area: Rect, on: &mut Surface) {
    let (book, all) = (&model.book, &model.stock.wanted);
    if area.height < 2 {
        return;
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
    let place = table.draw_whole(area, on);
    chips::draw_chips(model, &table, place, |n| all.get(n).map(|w| Of::Item(w.item)), on);
}

/// The column of its day, with a word where it is late.
const DAY: usize = 1;

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

/// True where sheets are a bound, as long as there is no plan: a key below the table says so.
fn is_bound(model: &Model) -> bool {
    let of = |look: &Outlook| look.basis == Basis::Bound && look.still_to_cut(&model.book).0 > 0;
    model.stock.aside.works.iter().any(|(_, look)| of(look))
}

/// Open classes and batches with how far each has come.
fn works(model: &Model, area: Rect, on: &mut Surface) {
    let (book, works) = (&model.book, &model.stock.aside.works);
    if area.height < 2 {
        return;
    }
    let rows: Vec<Row> = works
        .iter()
        .map(|(id, look)| {
            let (all, still) = look.pieces;
            let (sheets, offcuts) = look.still_to_cut(book);
            let missing: u64 = look.needs.iter().map(|n| n.missing).sum();
            let mut cells = vec![
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
            let late = late_since(book, *id, look, model.today);
            let is_bad = missing > 0 || late.is_some();
            if let (Some(late), Some(own)) = (late, look.on) {
                // Due today or later, it is what comes before that is late.
                let (word, day) = if own < model.today { ("PAST", own) } else { ("LATE", late) };
                cells[DAY] = format!("{word} {:02}-{:02}", day.month(), day.day());
                cells[DAY + 1] = days::far(day, model.today);
            }
            Row { cells, style: if is_bad { on.look.theme.bad } else { on.look.theme.text } }
        })
        .collect();
    let key = u16::from(is_bound(model));
    let place = Table::plain(&WORKS, &rows).draw_whole(Rect { height: area.height - key, ..area }, on);
    if key > 0 {
        on.put(area, 1, place.height, &[run("+ or more: no plan yet", on.look.theme.dim)]);
    }
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
    let times = on.look.glyphs.times;
    let label = |_: usize, planned: &PlannedSheet, room: usize| {
        let name = of.job.job.sheets.get(planned.sheet).map(|s| s.name.clone()).unwrap_or_default();
        let count = format!("{} {times}", planned.copies);
        let short = name.split(", ").next().unwrap_or_default();
        let ways = [format!("{count} {name}"), format!("{count} {short}")];
        ways.into_iter().find(|words| text::width(words) <= room).unwrap_or(count)
    };
    small::sheets_in(model, (of.job, &sheets, &label), 0..of.own.len(), room, on);
}

/// Rows of the bookings, of what is due below them and of what is not booked, headings among them, before one of these is left out.
const FEW: [u16; 3] = [7, 4, 3];

/// The lists below each other: bookings first, then what presses most. How many rows each has; what is left out is named below.
fn lists(model: &Model, area: Rect, is_beside: bool, on: &mut Surface) -> (Rect, Rect) {
    let pane = &model.stock;
    let due = if is_beside { 0 } else { pane.calendar.as_deref().unwrap_or_default().len() };
    let count = if is_beside { pane.aside.works.len() } else { 0 };
    let with_key = count + usize::from(count > 0 && is_bound(model));
    let asked = [
        ListRoom::rows(pane.bookings.len().max(2)).at_least(FEW[0]),
        ListRoom::rows(due).at_least(FEW[1]),
        ListRoom::rows(with_key),
        ListRoom::rows(pane.wanted.len()).at_least(FEW[2]),
    ];
    let rows = share(&asked, area.height, 1);
    let mut y = rows[0];
    let mut next = |rows: u16| {
        let place = Rect { height: rows, ..below(area, if rows > 0 { y + 1 } else { y }) };
        y += rows + u16::from(rows > 0);
        place
    };
    wanted(model, next(rows[3]), on);
    works(model, next(rows[2]), on);
    if rows[1] > 0 {
        Table::plain(&DUE, &due_rows(model, on)).draw(next(rows[1]), on);
    }
    let left = |n: usize, name: &str, count: usize| {
        let count = if rows[n] == 0 { count } else { 0 };
        (name.to_owned(), count)
    };
    let names = [
        left(1, DUE[0].title, due),
        left(2, WORKS[0].title, count),
        left(3, WANTED[0].title, pane.wanted.len()),
    ];
    y += tell_left_out(&names, flush_words(below(area, y)), on);
    // The key of the table above keeps the layouts apart: they need every row.
    let gap = u16::from(rows[2] == 0 || with_key == count);
    (Rect { height: rows[0].max(3).min(area.height), ..area }, below(area, y + gap))
}

/// Draws what is set aside.
pub(super) fn draw(model: &Model, area: Rect, beside: Rect, on: &mut Surface) -> Option<u16> {
    let ids = &model.stock.bookings;
    let is_beside = beside.x > area.x;
    let (area, beside) =
        if is_beside { calendar(model, area, beside, on) } else { with_less_below(area, beside) };
    let (area, rest) = lists(model, area, is_beside, on);
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
        chips::named(book, &b.offcut.map_or_else(|| booked::title(book, b), |o| book.offcut_short_title(o)))
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
