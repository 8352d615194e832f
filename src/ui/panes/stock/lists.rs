//! Lists of the pane that come and go: bookings, a count day, what a list from outside would do.

use super::months;
use super::shared::{empty, marked, rows_of, rule, things_of, told};
use crate::app::effect::ListUse;
use crate::app::keymap::Keymap;
use crate::app::model::Model;
use crate::app::state::stock::count::CountDay;
use crate::app::state::stock::marks::Mark;
use crate::app::state::stock::preview::{Preview, Sign};
use crate::domain::stock::shortage::{day_of, missing_for};
use crate::domain::stock::{ProjectId, booked};
use crate::ui::chips::{self, Of};
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const BOOKINGS: [Column; 6] = [
    Column::text("item", 25, 0),
    Column::number("booked", 6, 0),
    Column::number("pieces", 6, 2),
    Column::text("for", 22, 0).grows_to(40),
    Column::text("day", 10, 0),
    Column::text("", 9, 1),
];

const DUE: [Column; 4] = [
    Column::text("next 60 days", 12, 0),
    Column::text("due", 7, 0),
    Column::text("class or batch", 23, 1).grows_to(36),
    Column::text("what", 28, 0).grows_to(60),
];

/// Rows that the booking in hand is told in.
const TOLD: u16 = 8;
/// Columns of the bookings beside what is due.
const BESIDE: u16 = 86;

/// The calendar of the next days: at the side of a wide screen, else below the bookings. What is left for those.
fn calendar(model: &Model, area: Rect, below: Rect, on: &mut Surface) -> (Rect, Rect) {
    let Some(due) = model.stock.calendar.as_ref().filter(|due| !due.is_empty()) else { return (area, below) };
    let name = |id: Option<ProjectId>| id.map_or_else(String::new, |id| model.book.projects().name_of(id));
    let rows: Vec<Row> = due
        .iter()
        .map(|r| {
            let style = if r.on < model.today { on.look.theme.bad } else { on.look.theme.text };
            let cells = vec![r.on.to_string(), r.due.word().to_owned(), name(r.project), r.words.clone()];
            Row { cells, style }
        })
        .collect();
    let needed = rows.len() as u16 + 1;
    let is_beside = below.x > area.x;
    // Bookings need less of a wide screen than the other lists do: what is due has whole words.
    let (area, below) = if is_beside {
        let list = area.width.min(BESIDE);
        let x = area.x + list + 3;
        (Rect { width: list, ..area }, Rect { x, width: below.right().saturating_sub(x), ..below })
    } else {
        (area, below)
    };
    let bookings = (model.stock.bookings.len() as u16 + 1).max(2);
    let (list, place, rest) = if is_beside {
        let told = 8.min(below.height / 2);
        let height = needed.min(below.height.saturating_sub(told + 1));
        let rest = Rect { y: below.y + height + 1, height: below.height.saturating_sub(height + 1), ..below };
        (area, Rect { height, ..below }, rest)
    } else {
        let most = (area.height / 2).max(area.height.saturating_sub(bookings + 1));
        let height = needed.min(most);
        let list = Rect { height: area.height.saturating_sub(height + 1), ..area };
        (list, Rect { y: list.bottom() + 1, height, ..area }, below)
    };
    Table { columns: &DUE, rows: &rows, total: rows.len(), picked: None, marked: &[] }.draw(place, on);
    if rest.height > months::HIGH + TOLD && is_beside {
        let place = Rect { height: months::HIGH, ..rest };
        months::draw(model, due, place, on);
        let height = rest.height - months::HIGH - 1;
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

/// What open classes still take and have not booked, below the bookings where there is room; what is left for those.
fn wanted(model: &Model, area: Rect, on: &mut Surface) -> Rect {
    let (book, all) = (&model.book, &model.stock.wanted);
    let bookings = (model.stock.bookings.len() as u16 + 1).max(3);
    let room = area.height.saturating_sub(bookings + 1);
    if all.is_empty() || room < 3 {
        return area;
    }
    let rows: Vec<Row> = all
        .iter()
        .map(|w| {
            let cells = vec![
                book.items().name_of(w.item),
                w.count.to_string(),
                book.free(w.item).to_string(),
                book.projects().name_of(w.project),
                w.on.map_or_else(|| "-".to_owned(), |d| d.to_string()),
                if w.missing > 0 { format!("SHORT {}", w.missing) } else { String::new() },
            ];
            Row { cells, style: if w.missing > 0 { on.look.theme.bad } else { on.look.theme.text } }
        })
        .collect();
    let place = Rect { y: area.y + bookings + 1, height: room, ..area };
    Table { columns: &WANTED, rows: &rows, total: rows.len(), picked: None, marked: &[] }.draw(place, on);
    Rect { height: bookings, ..area }
}

/// Draws what is set aside.
pub fn bookings(model: &Model, area: Rect, below: Rect, on: &mut Surface) -> Option<u16> {
    let (book, ids) = (&model.book, &model.stock.bookings);
    let (area, below) = calendar(model, area, below, on);
    let area = wanted(model, area, on);
    if ids.is_empty() {
        return empty(model, area, on);
    }
    let picked = model.stock.cursor.row(ids.len())?;
    let room = usize::from(area.height);
    let first = picked.saturating_sub(room);
    let rows: Vec<Row> = ids
        .iter()
        .skip(first)
        .take(room * 2 + 1)
        .filter_map(|id| book.bookings().get(*id))
        .map(|b| {
            let day = day_of(book, b);
            let missing = match b.offcut {
                Some(_) => 0,
                None => missing_for(book, b.project, b.item, u64::from(b.count), day),
            };
            let cells = vec![
                chips::named(book, &booked::title(book, b)),
                b.count.to_string(),
                b.pieces.to_string(),
                book.projects().name_of(b.project),
                day.map_or_else(|| "-".to_owned(), |d| d.to_string()),
                if missing > 0 { format!("SHORT {missing}") } else { String::new() },
            ];
            Row { cells, style: if missing > 0 { on.look.theme.bad } else { on.look.theme.text } }
        })
        .collect();
    if let Some(b) = ids.get(picked).and_then(|id| book.bookings().get(*id)) {
        let [held, booked, free] = match b.offcut {
            Some(o) => {
                [book.offcut_count(o), book.booked_offcuts(o), book.free_offcuts(o)].map(|n| n.to_string())
            }
            None => [
                book.on_hand(b.item).to_string(),
                book.booked(b.item).to_string(),
                book.free(b.item).to_string(),
            ],
        };
        let order = if b.offcut.is_some() { 0 } else { book.on_order(b.item) };
        let pairs = [
            ("on hand", held),
            ("booked in all", booked),
            ("free of all bookings", free),
            ("on order", order.to_string()),
        ];
        told(&booked::title(book, b), &pairs, on.look.theme.text, below, on);
    }
    let marked = marked(model, ids.iter().skip(first).take(room * 2 + 1).map(|id| Mark::Booking(*id)));
    let table = Table {
        columns: &BOOKINGS,
        rows: &rows,
        total: ids.len(),
        picked: Some(picked - first),
        marked: &marked,
    };
    things_of(&table, first, area, &mut on.hits);
    let at = table.draw(area, on);
    let paper =
        |n: usize| ids.get(first + n).and_then(|id| book.bookings().get(*id)).map(|b| Of::Item(b.item));
    chips::draw(model, &table, area, paper, on);
    at
}

const COUNT: [Column; 5] = [
    Column::text("item", 27, 0),
    Column::text("place", 14, 1).grows_to(24),
    Column::number("book", 6, 0),
    Column::number("counted", 7, 0),
    Column::number("differs", 7, 0),
];

/// Draws a count day.
pub fn count(model: &Model, count: &CountDay, area: Rect, on: &mut Surface) -> Option<Position> {
    let book = &model.book;
    let (len, done) = (count.items.len(), count.done().len());
    let differ = count.differing(book);
    let area = Rect { width: area.width.min(super::LIST), ..area };
    let head = format!("Count day: {done} of {len} counted, {differ} differ");
    on.put(area, 0, 0, &[run(head, on.look.theme.title)]);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let picked = count.cursor.row(len)?;
    let seen = usize::from(room.height);
    let first = picked.saturating_sub(seen);
    let rows: Vec<Row> = (first..len)
        .take(seen * 2 + 1)
        .filter_map(|n| Some((n, *count.items.get(n)?)))
        .map(|(n, id)| {
            let counted = count.counted.get(n).copied().flatten();
            let difference = count.difference(book, n);
            let cells = vec![
                chips::named(book, &book.items().name_of(id)),
                book.items().get(id).map(|i| i.place.clone()).unwrap_or_default(),
                book.on_hand(id).to_string(),
                counted.map_or_else(|| "-".to_owned(), |n| n.to_string()),
                difference
                    .map_or_else(String::new, |d| if d == 0 { "=".to_owned() } else { format!("{d:+}") }),
            ];
            let style = match difference {
                Some(0) => on.look.theme.good,
                Some(_) => on.look.theme.warn,
                None => on.look.theme.text,
            };
            Row { cells, style }
        })
        .collect();
    let table = Table { columns: &COUNT, rows: &rows, total: len, picked: Some(picked - first), marked: &[] };
    rows_of(&table, first, room, &mut on.hits);
    let at = table.draw(room, on);
    chips::draw(model, &table, room, |n| count.items.get(first + n).copied().map(Of::Item), on);
    at.map(|y| Position::new(area.x, y))
}

const PREVIEW: [Column; 3] =
    [Column::text("what", 48, 0), Column::number("line", 5, 1), Column::text("", 8, 0)];

/// Draws what a list would do.
pub fn preview(preview: &Preview, keys: &Keymap, area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let area = Rect { width: area.width.min(super::LIST), ..area };
    let head = match preview.what {
        ListUse::Import => format!("List to take in: {}", preview.path),
        ListUse::Refresh => {
            let seller = if preview.seller.is_empty() { "no seller given" } else { &preview.seller };
            format!("The new year's list of {seller}: {}", preview.path)
        }
    };
    on.put(area, 0, 0, &[run(head, theme.title)]);
    let style = if preview.lines.iter().any(|l| l.sign == Sign::Refused) { theme.bad } else { theme.text };
    let top = Rect { height: 3, ..area };
    let y = on.paragraph(top, 1, &keys.say(&preview.summary), style);
    let room = Rect { y: area.y + y + 1, height: area.height.saturating_sub(y + 1), ..area };
    if preview.lines.is_empty() {
        on.put(room, 0, 0, &[run(keys.say("It holds nothing new. <preview-leave> goes back."), theme.text)]);
        return None;
    }
    let rows: Vec<Row> = preview
        .lines
        .iter()
        .map(|line| {
            let style = match line.sign {
                Sign::Refused => theme.bad,
                Sign::Leaving => theme.warn,
                Sign::New => theme.good,
                Sign::Changed | Sign::Exchange => theme.text,
                Sign::Means(_) => theme.dim,
            };
            let text = if matches!(line.sign, Sign::Means(_)) {
                format!("  {}", line.text)
            } else {
                line.text.clone()
            };
            let number = line.line.map_or_else(String::new, |n| n.to_string());
            Row { cells: vec![text, number, line.sign.word().to_owned()], style }
        })
        .collect();
    let picked = preview.cursor.row(rows.len());
    // The line in hand stands below in full: reasons are longer than a row.
    let lines = 3.min(room.height / 3);
    let below = Rect { y: room.bottom() - lines, height: lines, ..room };
    let room = Rect { height: room.height - lines, ..room };
    if let Some(line) = picked.and_then(|n| preview.lines.get(n)) {
        rule(below, on);
        on.paragraph(below, 1, &line.text, theme.text);
    }
    let table = Table { columns: &PREVIEW, rows: &rows, total: rows.len(), picked, marked: &[] };
    rows_of(&table, 0, room, &mut on.hits);
    let at = table.draw(room, on);
    at.map(|y| Position::new(area.x, y))
}
