//! Beside the answer: this piece on every paper and offcut held, side by side, and sizes near it that give more.
//!
//! ```text
//! This piece on what is held       a sheet  waste   each  on hand  free
//! fern floor, letter                    14    10 %  $0.03       36    36
//! ...
//! Near sizes that give more, up to 1/4 in less
//! 1/8 in narrower (4 x 5 1/2): 6 a sheet instead of 4, on letter
//! ```

use crate::app::model::Model;
use crate::app::panes::beside::{near_lines, row};
use crate::app::state::beside::{BesideAsk, BesideFound};
use crate::domain::shelf_answers::which_paper::wishes;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const PAPERS: [Column; 8] = [
    Column::text("paper", 22, 0),
    Column::text("size", 16, 4),
    Column::number("a sheet", 7, 0),
    Column::number("waste", 5, 0),
    Column::number("each", 6, 0),
    Column::number("on hand", 7, 3),
    Column::number("free", 5, 1),
    Column::number("sheets", 6, 2),
];
/// Columns from which near sizes stand at the right of the papers.
const SIDE_BY_SIDE: u16 = 100;
/// Fewest columns and rows that say something.
const FEW: (u16, u16) = (40, 8);

/// Draws it; nothing before it is worked out.
pub fn draw(model: &Model, area: Rect, on: &mut Surface) {
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
    let near = near_lines(asked, found, model.screen.unit);
    let said = wishes(&found.papers);
    if area.width >= SIDE_BY_SIDE {
        let width = area.width * 3 / 5;
        papers(model, (asked, found), Rect { width, ..area }, on);
        let right = Rect { x: area.x + width + 2, width: area.width - width - 2, ..area };
        let y = near_sizes(model, asked, &near, right, on) + 1;
        let below = Rect { y: right.y + y, height: right.height.saturating_sub(y), ..right };
        sentences(&said, below, on);
        return;
    }
    let lines = |all: &[String]| all.iter().map(|l| lines_of(l, area.width)).sum::<u16>();
    // Near sizes have up to a third, the rest is the papers'.
    let for_near = (lines(&near) + 2).min(area.height / 3).max(3);
    let for_said = lines(&said) + 1;
    let above = Rect { height: area.height.saturating_sub(for_near + for_said + 1), ..area };
    let y = papers(model, (asked, found), above, on);
    let middle = Rect { y: area.y + y + 1, height: for_said, ..area };
    sentences(&said, middle, on);
    let below = Rect { y: middle.bottom(), height: area.bottom().saturating_sub(middle.bottom()), ..area };
    near_sizes(model, asked, &near, below, on);
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

/// Sizes near the piece; returns the row after them.
fn near_sizes(model: &Model, asked: &BesideAsk, near: &[String], area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let range = asked.near.range.show_with_unit(model.screen.unit);
    on.put(area, 0, 0, &[run(format!("Near sizes that give more, up to {range} less"), theme.title)]);
    if near.is_empty() {
        return on.paragraph(area, 1, "None within that, on any paper you have.", theme.dim);
    }
    let mut y = 1;
    for (n, line) in near.iter().enumerate() {
        let is_last = y + lines_of(line, area.width) >= area.height && n + 1 < near.len();
        if is_last {
            let words = model.keymap.say(&format!("{} more: <near-sizes> shows all", near.len() - n));
            on.put(area, 0, y, &[run(words, theme.dim)]);
            return y + 1;
        }
        y = on.paragraph(area, y, line, theme.text);
    }
    y
}

fn lines_of(words: &str, width: u16) -> u16 {
    text::wrap(words, usize::from(width)).len() as u16
}

/// The table, papers first, then offcuts; returns the row after it.
fn papers(model: &Model, (asked, found): (&BesideAsk, &BesideFound), area: Rect, on: &mut Surface) -> u16 {
    let (unit, theme) = (model.screen.unit, &on.look.theme);
    let style = |is_enough: bool| if is_enough { theme.text } else { theme.warn };
    let mut rows: Vec<Row> = found
        .papers
        .rows
        .iter()
        .map(|r| {
            let cells = row(r, &asked.papers, model.book.on_hand(r.paper.item), unit);
            Row { cells, style: style(r.is_enough) }
        })
        .collect();
    if !found.offcuts.rows.is_empty() {
        rows.push(Row { cells: vec!["offcuts".to_owned()], style: theme.title });
        let of = |r| Row { cells: row(r, &asked.offcuts, r.paper.free, unit), style: style(true) };
        rows.extend(found.offcuts.rows.iter().map(of));
    }
    on.put(area, 0, 0, &[run("This piece on every paper and offcut here", theme.title)]);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let columns: Vec<Column> =
        PAPERS.iter().filter(|c| c.title != "sheets" || asked.papers.count.is_some()).cloned().collect();
    let cells = |r: Row| Row { cells: of_columns(r.cells, asked.papers.count.is_some()), ..r };
    let rows: Vec<Row> = rows.into_iter().map(cells).collect();
    Table::plain(&columns, &rows).draw(room, on);
    (rows.len() as u16 + 2).min(area.height)
}

/// The last cell is the sheets for the count: there is no such column without one.
fn of_columns(mut cells: Vec<String>, has_count: bool) -> Vec<String> {
    if !has_count && cells.len() > 1 {
        cells.pop();
    }
    cells
}
