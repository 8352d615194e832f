//! Stock: six lists behind one row of names; the line picked in full below it.
//!
//! ```text
//! Shelf  Offcuts  Log  Reorder  Classes  Bookings          with "fern": 2 of 26
//!   name                 kind           on hand  free  low
//! > fern, letter         card stock          36    30   12  ######|...
//! ```

mod ahead;
mod bin;
mod bookings;
mod class_look;
mod class_page;
mod classes;
mod cut_from;
mod form;
mod level;
mod lists;
mod log;
mod months;
mod of_it;
mod offcuts;
mod reorder;
mod shared;
mod used;

use crate::app::action::Spot;
use crate::app::model::Model;
use crate::app::panes::stock::in_hand;
use crate::app::state::stock::marks::RowMark;
use crate::app::state::stock::pressing::state_word;
use crate::app::state::views::Tab;
use crate::domain::plural::count_of;
use crate::domain::shelf_answers::next_low;
use crate::domain::stock::pace::pace;
use crate::domain::stock::reorder::order_by;
use crate::domain::stock::shortage::shortage;
use crate::domain::stock::summary::standing;
use crate::domain::stock::{Item, ItemId};
use crate::ui::chips::{self, Of};
use crate::ui::look::Look;
use crate::ui::panes::gives::BOTH;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::bar::mark_bar;
use crate::ui::widgets::lines::{Run, run};
use crate::ui::widgets::table::{Column, Row, Table};
use crate::ui::widgets::trend::trend;
use ratatui::layout::{Position, Rect};
use shared::{WIDE, as_bought, as_paper, below, empty, marked, things_of, told};

const SHELF: [Column; 14] = [
    Column::text("name", 23, 0),
    Column::text("kind", 15, 6),
    Column::text("size", 13, 2).or_short(BOTH),
    Column::number("on hand", 7, 0),
    Column::number("booked", 6, 4),
    Column::number("free", 6, 1),
    Column::number("low", 5, 1),
    Column::text("state", 9, 3),
    Column::number("on order", 8, 7),
    Column::text("place", 11, 8),
    Column::number("a pack", 7, 10),
    Column::text("used a month", 12, 11),
    Column::number("days left", 9, 9),
    Column::text("free | low", 12, 5),
];

/// The same where all of them fit: sizes whole, the bar a little shorter.
const WIDE_SHELF: [Column; 14] = {
    let mut all = SHELF;
    all[2] = Column::text("size", 16, 2).or_short(BOTH);
    all[13] = Column::text("free|low", 9, 5);
    all
};

/// Draws the pane.
pub fn draw_stock(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let pane = &model.stock;
    let below_top = Rect { y: area.y + 2, height: area.height.saturating_sub(2), ..area };
    if let Some(preview) = pane.preview_in_view() {
        return lists::preview(preview, &model.keymap, area, on);
    }
    tabs(model, area, on);
    if let Some(count) = pane.count_in_view() {
        return lists::count(model, count, on.above_figures(below_top), on);
    }
    if pane.tab() == Tab::Classes && !pane.classes.ids.is_empty() {
        return classes::draw_classes(model, below_top, on);
    }
    if let Some(open) = pane.open_item() {
        return form::draw_item_form(model, open, below_top, on);
    }
    let (room, below) = match pane.tab() {
        Tab::Shelf => places_of_shelf(below_top, on),
        _ => places(below_top, on),
    };
    let at = match pane.tab() {
        Tab::Shelf => shelf_list(model, room, on),
        Tab::Bin => bin::draw(model, below_top, on),
        Tab::Log => log::log(model, room, below, on),
        Tab::Reorder => reorder::draw_reorder(model, room, below, on),
        Tab::Classes => empty(model, room, on),
        Tab::Bookings => bookings::draw(model, room, below, on),
    };
    if let Some(id) = pane.picked_item() {
        details(model, id, below, on);
        // A list that leaves rows of a wide window has more of the line in hand below it.
        let list = pane.shown.len() as u16 + 2;
        if below.x > room.x && room.height > list {
            let under = Rect { y: room.y + list, height: room.height - list, ..room };
            of_it::draw(model, id, false, under, on);
        }
    }
    at.map(|y| Position::new(area.x, y))
}

/// Columns of a list beside its details.
const LIST: u16 = 110;
/// Columns of the details at the side of a list, where there is more.
const DETAILS: u16 = 36;

/// The shelf has all its columns first; what is left at the side, or below, is for the line in hand.
fn places_of_shelf(area: Rect, on: &Surface) -> (Rect, Rect) {
    let all = 1 + SHELF.iter().map(|c| c.width + 1).sum::<u16>();
    if area.width >= all + DETAILS + 3 {
        let x = area.x + all + 3;
        return (Rect { width: all, ..area }, Rect { x, width: area.right().saturating_sub(x), ..area });
    }
    let detail = if area.height >= 14 { 6 } else { 0 };
    let list = on.above_figures(Rect { height: area.height.saturating_sub(detail), ..area });
    (list, Rect { y: area.bottom() - detail, height: detail, ..area })
}

/// Where the list goes, and where the line picked is told in full: at the side of a wide screen, else below the list.
fn places(area: Rect, on: &Surface) -> (Rect, Rect) {
    if area.width >= WIDE {
        let list = Rect { width: LIST, ..area };
        let x = list.right() + 3;
        return (on.above_figures(list), Rect { x, width: area.right().saturating_sub(x), ..area });
    }
    let area = on.above_figures(area);
    let detail = if area.height >= 14 { 6 } else { 0 };
    let list = Rect { height: area.height.saturating_sub(detail), ..area };
    (list, Rect { y: list.bottom(), height: detail, ..area })
}

fn tabs(model: &Model, area: Rect, on: &mut Surface) {
    let mut runs: Vec<Run> = Vec::new();
    let mut x = area.x;
    for tab in Tab::ALL {
        let width = text::width(tab.title()) as u16 + 2;
        on.hits.add(Rect { x, y: area.y, width, height: 1 }, Spot::Tab(tab));
        x += width + 1;
        let style = if tab == model.stock.tab() { on.look.theme.picked } else { on.look.theme.dim };
        runs.push(run(format!(" {} ", tab.title()), style));
        runs.push(run(" ", on.look.theme.text));
    }
    let end = on.put(area, 0, 0, &runs);
    // The list of one item looks like the whole log: what it is stands above it.
    let x = model.stock.history().map_or(1, |item| {
        let (name, shown) = (model.book.items().name_of(item), model.stock.rows(&model.book));
        let words = format!(
            "the log of {name} alone: {shown} of {}",
            count_of(model.book.log().len() as u64, "line")
        );
        on.put(area, 1, 1, &[run(words, on.look.theme.title)]) + 4
    });
    if let Some(words) = model.stock.marked_words(&model.book) {
        let runs =
            [run(on.look.glyphs.mark, on.look.theme.mark), run(format!(" {words}"), on.look.theme.title)];
        on.put(area, x, 1, &runs);
    }
    if !model.stock.filter.is_empty() {
        let words = format!(
            "\"{}\": {} of {}",
            model.stock.filter,
            model.stock.shown.len(),
            model.book.items().len()
        );
        let at = area.width.saturating_sub(text::width(&words) as u16).max(end + 1);
        on.put(area, at, 0, &[run(words, on.look.theme.warn)]);
    }
}

fn shelf_list(model: &Model, area: Rect, on: &mut Surface) -> Option<u16> {
    let ids = &model.stock.shown;
    if ids.is_empty() {
        return empty(model, area, on);
    }
    let picked = model.stock.cursor.row(ids.len())?;
    // Only what can be seen is put together: a shelf may have thousands of lines.
    let room = usize::from(area.height);
    let first = picked.saturating_sub(room);
    let rows: Vec<Row> = ids
        .iter()
        .skip(first)
        .take(room * 2 + 1)
        .filter_map(|id| Some((*id, model.book.items().get(*id)?)))
        .map(|(id, item)| shelf_row(model, (id, item), if area.width >= WIDE { 9 } else { 12 }, on.look))
        .collect();
    let marked = marked(model, ids.iter().skip(first).take(room * 2 + 1).map(|id| RowMark::Item(*id)));
    let table = Table {
        columns: if area.width >= WIDE { &WIDE_SHELF } else { &SHELF },
        rows: &rows,
        total: ids.len(),
        picked: Some(picked - first),
        marked: &marked,
    };
    things_of(&table, first, area, &mut on.hits);
    let seen = table.shown(area).count();
    let top = table.shown(area).next().map_or(0, |(n, _)| first + n);
    let in_sight = ids.get(top..top + seen).unwrap_or_default();
    let hidden = model.stock.pressing_beside(&model.book, in_sight);
    let at = table.draw_noting(area, &hidden.words(), on);
    chips::draw_chips(model, &table, area, |n| ids.get(first + n).copied().map(Of::Item), on);
    at
}

fn shelf_row(model: &Model, (id, item): (ItemId, &Item), cells: usize, look: &Look) -> Row {
    let book = &model.book;
    let (held, free, mark) = (book.on_hand(id) as i64, book.free(id), i64::from(item.mark()));
    let state = state_word(book, id).to_owned();
    let low = state == "LOW";
    let size = item.cutting_size().map(|s| s.as_made_and_own(model.screen.unit)).unwrap_or_default();
    let style = if free < 0 {
        look.theme.bad
    } else if low {
        look.theme.low
    } else {
        look.theme.text
    };
    let cells = vec![
        chips::named(book, &item.name),
        item.kind.said().to_owned(),
        size,
        held.to_string(),
        book.booked(id).to_string(),
        free.to_string(),
        if mark == 0 { "-".to_owned() } else { mark.to_string() },
        look.marked(&state, style).into_owned(),
        or_none(book.on_order(id)),
        item.place.clone(),
        item.price.map(|p| p.show(&book.settings().currency)).unwrap_or_default(),
        used_words(model, id, look),
        pace(book, id, model.today).and_then(|p| p.days_left).map(|n| n.to_string()).unwrap_or_default(),
        mark_bar(free, held, mark, cells, &look.glyphs),
    ];
    Row { cells, style }
}

/// How it went over the months, those of which nothing is known left blank.
fn used_words(model: &Model, id: ItemId, look: &Look) -> String {
    let months = next_low::months(&model.book, id, model.today, in_hand::MONTHS);
    let used: Vec<u64> = months.into_iter().map(|(_, used)| used).collect();
    " ".repeat(in_hand::MONTHS - used.len()) + &trend(&used, &look.glyphs)
}

/// A count, or nothing for none.
fn or_none(n: u64) -> String {
    if n == 0 { String::new() } else { n.to_string() }
}

fn details(model: &Model, id: ItemId, area: Rect, on: &mut Surface) {
    let book = &model.book;
    let Some(item) = book.items().get(id) else { return };
    let alone = if item.sold_alone { "" } else { ", only in packs" };
    let title = format!("{}: {}, {}{alone}", item.name, item.kind.said(), item.state);
    let counts = standing(book, id).words();
    let last: Vec<String> = book
        .lines_of(id)
        // Pieces of the bin are no sheets: beside the count of these they would not add up.
        .filter(|l| l.offcut.is_none())
        .rev()
        .take(3)
        .map(|l| format!("{} {:+} {}", l.date, l.change, l.reason.word()))
        .collect();
    let joint = format!(" {} ", on.look.glyphs.dot);
    let by = order_by(book, id).map_or_else(String::new, |day| format!("; order by {day}"));
    let short = shortage(book, id).map(|s| s.words(book, id) + &by);
    let mut pairs = vec![
        ("", counts),
        ("SHORT", short.unwrap_or_default()),
        ("used", pace(book, id, model.today).map_or_else(String::new, |p| p.words())),
    ];
    pairs.extend(as_bought(model, item));
    pairs.push(("note", item.note.clone()));
    if area.height > 6 {
        pairs.extend(as_paper(model, item));
        pairs
            .extend(last.into_iter().enumerate().map(|(n, words)| (if n == 0 { "last" } else { "" }, words)));
        let y = told(&title, &pairs, on.look.theme.text, area, on) + 1;
        let rest = below(area, y);
        let y = ahead::draw(model, (id, None), rest, on) + 1;
        used::draw(model, id, below(rest, y), on);
        return;
    }
    let Some(bottom) = area.height.checked_sub(1) else { return };
    told(&title, &pairs, on.look.theme.text, Rect { height: bottom, ..area }, on);
    let line = Rect { y: area.y + bottom, height: 1, ..area };
    on.put(line, 0, 0, &[run("last ", on.look.theme.dim), run(last.join(&joint), on.look.theme.text)]);
}
