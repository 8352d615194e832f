//! Beside the answer: this piece on every paper and offcut held, side by side, and sizes near it that give more.
//!
//! ```text
//! This piece on what is held       a sheet  waste   each  on hand  free
//! fern floor, letter                    14    10 %  $0.03       36    36
//! ...
//! Near sizes that give more, up to 1/4 in less
//! size            a sheet  now  less             on
//! 4 x 5 1/2 in          6    4  1/8 in narrower  letter
//! ```

use crate::app::model::Model;
use crate::app::panes::beside::{NearSize, near_sizes, row_cells};
use crate::app::state::beside::{BesideAsk, BesideFound};
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperRow, wishes};
use crate::domain::stock::ItemId;
use crate::ui::chips::{self, Of};
use crate::ui::panes::gives::BOTH;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::stack::{ListRoom, share};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const PAPERS: [Column; 8] = [
    Column::text("paper", 23, 0),
    Column::text("size", 16, 4).or_short(BOTH),
    Column::number("a sheet", 7, 0),
    Column::number("waste", 5, 0),
    Column::number("each", 6, 0),
    Column::number("on hand", 7, 3),
    Column::number("free", 4, 1),
    Column::number("sheets", 6, 2),
];
const NEAR: [Column; 5] = [
    Column::text("size", 21, 0),
    Column::number("a sheet", 7, 0),
    Column::number("now", 4, 0),
    Column::text("less", 22, 3),
    Column::text("on", 22, 0).takes_the_rest(),
];
/// Fewest columns for them: a narrower room has them in sentences.
const NEAR_TABLE: u16 = 61;
/// The column of sizes.
const SIZE: usize = 1;
/// Columns from which near sizes stand at the right of the papers.
const SIDE_BY_SIDE: u16 = 100;
/// Fewest columns and rows that say something.
const FEW: (u16, u16) = (40, 8);

/// Draws it; nothing before it is worked out.
pub fn draw_beside(model: &Model, area: Rect, on: &mut Surface) {
    if area.width < FEW.0 || area.height < FEW.1 {
        return;
    }
    let theme = &on.look.theme;
    let Some((asked, found)) = model.yields.beside.both() else {
        if model.yields.beside.waiting.is_some() {
            on.put(area, 0, 0, &[run("this piece on what you have: being worked out", theme.dim)]);
        }
        return;
    };
    let near = near_sizes(asked, found, model.screen.unit);
    let mut said = wishes(&found.papers);
    let all = found.papers.rows.iter().chain(&found.offcuts.rows);
    if asked.papers.count.is_some() && all.into_iter().any(|row| !row.is_enough) {
        said.push("! beside a count: too few are free for all pieces.".to_owned());
    }
    if area.width >= SIDE_BY_SIDE {
        let width = area.width * 3 / 5;
        papers(model, (asked, found), Rect { width, ..area }, on);
        let right = Rect { x: area.x + width + 2, width: area.width - width - 2, ..area };
        // What is said of the papers has its rows whatever the near sizes leave.
        let for_said = said.iter().map(|l| lines_of(l, right.width)).sum::<u16>() + 1;
        let height = right.height.saturating_sub(for_said);
        let y = draw_near(model, asked, &near, Rect { height, ..right }, on) + 1;
        let below = Rect { y: right.y + y, height: right.height.saturating_sub(y), ..right };
        sentences(&said, below, on);
        return;
    }
    let lines = |all: &[String]| all.iter().map(|l| lines_of(l, area.width)).sum::<u16>();
    let for_said = lines(&said) + 1;
    let (first, all) = near_rows(&near, area.width);
    let sizes = ListRoom::rows(usize::from(all)).under(lines_of(&near_head(model, asked), area.width));
    let asked_for = [
        ListRoom::rows(rows_of(found) + usize::from(!found.offcuts.rows.is_empty())).under(2),
        sizes.at_least(sizes.head + first + 1),
    ];
    let rows = share(&asked_for, area.height.saturating_sub(for_said), 1);
    let mut y = 0;
    if rows[0] > 0 {
        y = papers(model, (asked, found), Rect { height: rows[0], ..area }, on) + 1;
    }
    sentences(&said, Rect { y: area.y + y, height: for_said.min(area.height), ..area }, on);
    let below = Rect { y: area.y + y + for_said, height: area.height.saturating_sub(y + for_said), ..area };
    if rows[1] > 0 {
        draw_near(model, asked, &near, below, on);
        return;
    }
    let told = model.keymap.told(&keys_to(if rows[0] > 0 { 0 } else { rows_of(found) }, near.len()));
    on.told(below, 0, &told, theme.dim);
}

/// Papers and offcuts that are compared.
fn rows_of(found: &BesideFound) -> usize {
    found.papers.rows.len() + found.offcuts.rows.len()
}

/// What shows the papers and the near sizes that have no room, with how many there are of each.
fn keys_to(papers: usize, near: usize) -> String {
    let papers = (papers > 0).then(|| format!("<which-paper> compares every paper ({papers})"));
    let near = text::count(near as u64, "near size", "near sizes");
    let sizes = (!near.starts_with("0 ")).then(|| format!("<near-sizes> {near}"));
    papers.into_iter().chain(sizes).collect::<Vec<_>>().join(", ")
}

/// The same on a narrow screen, where neither is worked out.
pub(super) fn in_a_line(model: &Model, area: Rect, on: &mut Surface) {
    let told = model.keymap.told("<which-paper> other papers, <near-sizes> near sizes");
    on.told(area, 0, &told, on.look.theme.dim);
}

fn near_head(model: &Model, asked: &BesideAsk) -> String {
    let range = asked.near.range.show_with_unit(model.screen.unit);
    format!("Near sizes that give more, up to {range} less")
}

fn sentences(all: &[String], area: Rect, on: &mut Surface) {
    let mut y = 0;
    for line in all {
        // Whole, or not at all: each stands by itself.
        if y + lines_of(line, area.width) > area.height {
            return;
        }
        y = on.paragraph(area, y, line, on.look.theme.dim);
    }
}

/// Rows of the first near size with what stands over it, and of all of them.
fn near_rows(near: &[NearSize], width: u16) -> (u16, u16) {
    let rows = |one: &NearSize| lines_of(&one.words, width);
    match near {
        [] => (1, 1),
        _ if width >= NEAR_TABLE => (2, near.len() as u16 + 1),
        [first, ..] => (rows(first), near.iter().map(rows).sum()),
    }
}

/// Sizes near the piece; returns the row after them.
fn draw_near(model: &Model, asked: &BesideAsk, near: &[NearSize], area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let head = near_head(model, asked);
    let mut y = on.paragraph(area, 0, &head, theme.title);
    if near.is_empty() {
        return on.paragraph(area, y, "None within that, on any paper you have.", theme.dim);
    }
    if area.width >= NEAR_TABLE {
        let room = Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area };
        if near.len() + 1 > usize::from(room.height) {
            let (x, told) = (text::width(&head) as u16 + 2, model.keymap.told("<near-sizes> shows all"));
            on.told(Rect { x: area.x + x, width: area.width.saturating_sub(x), ..area }, 0, &told, theme.dim);
        }
        return y + near_table(near, room, on);
    }
    for (n, line) in near.iter().map(|one| one.words.as_str()).enumerate() {
        let is_last = y + lines_of(line, area.width) >= area.height && n + 1 < near.len();
        if is_last {
            let told = model.keymap.told(&format!("{} more: <near-sizes> shows all", near.len() - n));
            return on.told(area, y, &told, theme.dim);
        }
        y = on.paragraph(area, y, line, theme.text);
    }
    y
}

/// Near sizes in a table; returns its rows.
fn near_table(near: &[NearSize], area: Rect, on: &mut Surface) -> u16 {
    let row = |one: &NearSize| {
        let (gives, now) = one.gives;
        let cells = vec![
            one.size.clone(),
            gives.to_string(),
            now.to_string(),
            one.less.clone(),
            text::harmless(&one.on),
        ];
        Row { cells, style: on.look.theme.text }
    };
    let rows: Vec<Row> = near.iter().map(row).collect();
    Table::plain(&NEAR, &rows).draw_whole(area, on).height
}

fn lines_of(words: &str, width: u16) -> u16 {
    text::wrap(words, usize::from(width)).len() as u16
}

/// The table, papers first, then offcuts; returns the row after it.
fn papers(model: &Model, (asked, found): (&BesideAsk, &BesideFound), area: Rect, on: &mut Surface) -> u16 {
    let (unit, theme, book) = (model.screen.unit, &on.look.theme, &model.book);
    let piece_head = format!("{} on every free paper and offcut", asked.papers.piece.show_with_unit(unit));
    let head = on.put(area, 0, 0, &[run(&piece_head, theme.title)]);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let has_count = asked.papers.count.is_some();
    let columns: Vec<Column> = PAPERS.iter().filter(|c| c.title != "sheets" || has_count).cloned().collect();
    // An offcut is named by its paper where its size stands beside it, else by its size.
    let has_sizes = Table::plain(&columns, &[]).column_at(room, SIZE).is_some();
    let row = |r: &PaperRow, of: &PaperAsk, (name, on_hand): (String, u64), style| {
        let mut cells = row_cells(r, of, on_hand, unit);
        cells[0] = chips::named(book, &name);
        let shown = if has_count { cells.len() } else { cells.len() - 1 };
        Row { cells: cells.into_iter().take(shown).collect(), style }
    };
    let of_paper = |r: &PaperRow| {
        let style = if r.is_enough { theme.text } else { theme.warn };
        row(r, &asked.papers, (r.paper.name.clone(), book.on_hand(r.paper.item)), style)
    };
    let of_offcut = |r: &PaperRow| {
        let name = book.items().name_of(r.paper.item);
        // Without its size its paper is told in short, so that both have room.
        let short = name.split(", ").next().unwrap_or_default();
        let (width, height) = (r.paper.size.width.about(unit), r.paper.size.height.about(unit));
        let name = if has_sizes { name.clone() } else { format!("{short} {width} x {height}") };
        let style = if r.is_enough { theme.text } else { theme.warn };
        row(r, &asked.offcuts, (name, r.paper.free), style)
    };
    let mut rows: Vec<Row> = found.papers.rows.iter().map(of_paper).collect();
    let mut items: Vec<Option<ItemId>> = found.papers.rows.iter().map(|r| Some(r.paper.item)).collect();
    if !found.offcuts.rows.is_empty() {
        rows.push(Row { cells: vec!["offcuts".to_owned()], style: theme.title });
        items.push(None);
        rows.extend(found.offcuts.rows.iter().map(of_offcut));
        items.extend(found.offcuts.rows.iter().map(|r| Some(r.paper.item)));
    }
    let table = Table::plain(&columns, &rows);
    if rows.len() + 1 > usize::from(room.height) {
        let (x, told) = (head + 2, model.keymap.told("<which-paper> shows all"));
        on.told(Rect { x: area.x + x, width: area.width.saturating_sub(x), ..area }, 0, &told, theme.dim);
    }
    let place = table.draw_whole(room, on);
    chips::draw_chips(model, &table, place, |n| items.get(n).copied().flatten().map(Of::Item), on);
    place.height + 1
}
