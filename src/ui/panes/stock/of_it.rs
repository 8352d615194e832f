//! What belongs to one line of the shelf, below its fields or its log on a high screen: what is cut from it, its offcuts, what
//! can take its place, its last lines of the log. Each table is drawn whole, or as far as there is room, or it is named.

use super::cut_from;
use super::shared::{below, flush_words};
use crate::app::model::Model;
use crate::domain::cutlist;
use crate::domain::project::Progress;
use crate::domain::stock::instead;
use crate::domain::stock::{Item, ItemId, Reason};
use crate::ui::chips::{self, Of};
use crate::ui::panes::gives::BOTH;
use crate::ui::surface::Surface;
use crate::ui::widgets::stack::{ListRoom, share, tell_left_out};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const PIECES: [Column; 4] = [
    Column::text("what is cut from it", 30, 0).grows_to(44),
    Column::number("size", 18, 0),
    Column::number("pieces", 6, 0),
    Column::text("for", 24, 1),
];
const OFFCUTS: [Column; 6] = [
    Column::text("its offcuts", 18, 0),
    Column::number("count", 5, 0),
    Column::number("free", 5, 1),
    Column::text("kept since", 10, 2),
    Column::text("from", 18, 1),
    Column::text("place", 12, 1),
];
const INSTEAD: [Column; 5] = [
    Column::text("can take its place", 30, 0).grows_to(38),
    Column::text("", 24, 0),
    Column::number("size", 16, 2).or_short(BOTH),
    Column::number("on hand", 7, 0),
    Column::number("free", 5, 1),
];
const LOG: [Column; 5] = [
    Column::text("last came and went", 18, 0),
    Column::number("", 6, 0),
    Column::text("", 28, 0),
    Column::text("", 20, 1).takes_the_rest(),
    Column::number("line", 5, 2),
];
/// Most lines of the log here.
const LINES: usize = 12;

/// Draws what there is to say, the log left out where it stands above; then how it is cut and its offcuts, where there is room.
pub(super) fn draw(model: &Model, item: ItemId, with_log: bool, area: Rect, on: &mut Surface) {
    let (ids, instead) = in_its_place(model, item, on);
    let lines = if with_log { lines(model, item, on) } else { Vec::new() };
    let lists: [(&[Column], Vec<Row>); 4] = [
        (&PIECES, pieces(model, item, on)),
        (&OFFCUTS, offcuts(model, item, on)),
        (&INSTEAD, instead),
        (&LOG, lines),
    ];
    let asked = lists.each_ref().map(|(_, rows)| ListRoom::rows(rows.len()));
    let shared = share(&asked, area.height, 1);
    let (mut y, mut left) = (0, Vec::new());
    for (n, ((columns, rows), height)) in lists.iter().zip(shared).enumerate() {
        if height == 0 {
            left.push((columns[0].title.to_owned(), rows.len()));
            continue;
        }
        let table = Table::plain(columns, rows);
        let place = table.draw_whole(Rect { height, ..below(area, y) }, on);
        if n == OF_OTHERS {
            chips::draw_chips(model, &table, place, |n| ids.get(n).copied().map(Of::Item), on);
        }
        y += place.height + 1;
    }
    y += tell_left_out(&left, flush_words(below(area, y.saturating_sub(1))), on);
    cut_from::draw(model, item, below(area, y), on);
}

/// The place of what can stand in, among the lists.
const OF_OTHERS: usize = 2;

/// The pieces of open classes and batches, and of cards without one.
fn pieces(model: &Model, item: ItemId, on: &Surface) -> Vec<Row> {
    let book = &model.book;
    let open = book.projects().iter().filter(|(_, project)| project.progress == Progress::Open);
    let of = |project| cutlist::of_project(book, project).pieces;
    let all = open.flat_map(|(_, project)| of(project).into_iter().map(move |piece| (project, piece)));
    all.filter(|(_, piece)| piece.paper == Some(item))
        .map(|(project, piece)| {
            let size = piece.cut_size().show_with_unit(model.screen.unit);
            let cells = vec![piece.name.clone(), size, piece.made.to_string(), project.name.clone()];
            Row { cells, style: on.look.theme.text }
        })
        .collect()
}

fn offcuts(model: &Model, item: ItemId, on: &Surface) -> Vec<Row> {
    let book = &model.book;
    let there = book.offcuts().iter().filter(|(id, o)| o.item == item && book.offcut_count(*id) > 0);
    there
        .map(|(id, o)| {
            let cells = vec![
                o.size.show_with_unit(model.screen.unit),
                book.offcut_count(id).to_string(),
                book.free_offcuts(id).to_string(),
                book.kept_since(id).map_or_else(String::new, |day| day.to_string()),
                o.job.clone(),
                o.place.clone(),
            ];
            Row { cells, style: on.look.theme.text }
        })
        .collect()
}

/// Lines of the same colour in another format, and of colours that come near, where any are held.
fn in_its_place(model: &Model, item: ItemId, on: &Surface) -> (Vec<ItemId>, Vec<Row>) {
    let book = &model.book;
    instead::all_for(book, item, |id, _| book.on_hand(id) > 0)
        .into_iter()
        .map(|other| {
            let size = book.items().get(other.item).and_then(Item::cutting_size);
            let cells = vec![
                chips::named(book, &book.items().name_of(other.item)),
                other.close.words().to_owned(),
                size.map_or_else(String::new, |s| s.as_made_and_own(model.screen.unit)),
                book.on_hand(other.item).to_string(),
                book.free(other.item).to_string(),
            ];
            (other.item, Row { cells, style: on.look.theme.text })
        })
        .unzip()
}

fn lines(model: &Model, item: ItemId, on: &Surface) -> Vec<Row> {
    let book = &model.book;
    book.lines_of(item)
        .rev()
        .take(LINES)
        .map(|l| {
            let is_void = l.reason == Reason::Voided || book.is_voided(l.seq);
            // A piece of the bin is no sheet: its size stands with what happened to it.
            let offcut = l.offcut.and_then(|id| book.offcuts().get(id));
            let what = offcut.map_or_else(
                || l.reason.word().to_owned(),
                |o| {
                    let done = l.reason.word().trim_start_matches("offcut ");
                    format!("offcut {} {done}", o.size.about(model.screen.unit))
                },
            );
            let cells =
                vec![l.date.to_string(), format!("{:+}", l.change), what, l.job.clone(), l.seq.to_string()];
            Row { cells, style: if is_void { on.look.theme.dim } else { on.look.theme.text } }
        })
        .collect()
}
