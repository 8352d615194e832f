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
use crate::app::panes::beside::{near_lines, row, wishes};
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperChoice};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const PAPERS: [Column; 8] = [
    Column::text("this piece on what is held", 26, 0),
    Column::text("size", 13, 4),
    Column::number("a sheet", 7, 0),
    Column::number("waste", 5, 0),
    Column::number("each", 6, 1),
    Column::number("on hand", 7, 2),
    Column::number("free", 5, 3),
    Column::number("sheets", 6, 5),
];
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
            on.put(area, 0, 0, &[run("this piece on what is held: being worked out", theme.dim)]);
        }
        return;
    };
    let unit = model.screen.unit;
    let near = near_lines(asked, found, unit);
    let lines: u16 = near.iter().map(|l| lines_of(l, area.width)).sum();
    // Near sizes have up to a third, what follows from the papers the rest.
    let for_near = (lines + 2).min(area.height / 3).max(3);
    let above = Rect { height: area.height - for_near - 1, ..area };
    papers(model, (&asked.papers, &found.papers), (&asked.offcuts, &found.offcuts), above, on);
    let below = Rect { y: above.bottom() + 1, height: for_near, ..area };
    let range = asked.near.range.show_with_unit(unit);
    let head = format!("Near sizes that give more, up to {range} less");
    on.put(below, 0, 0, &[run(head, theme.title)]);
    if near.is_empty() {
        on.paragraph(below, 1, "None within that, on any paper held.", theme.dim);
    }
    let mut y = 1;
    for (n, line) in near.iter().enumerate() {
        let is_last = y + lines_of(line, area.width) >= below.height && n + 1 < near.len();
        if is_last {
            let words = model.keymap.say(&format!("{} more: <near-sizes> shows all", near.len() - n));
            on.put(below, 0, y, &[run(words, theme.dim)]);
            break;
        }
        y = on.paragraph(below, y, line, theme.text);
    }
}

fn lines_of(words: &str, width: u16) -> u16 {
    text::wrap(words, usize::from(width)).len() as u16
}

/// The table, papers first, then offcuts; below it what they are best for.
fn papers(
    model: &Model,
    (asked, found): (&PaperAsk, &PaperChoice),
    (bin, in_bin): (&PaperAsk, &PaperChoice),
    area: Rect,
    on: &mut Surface,
) {
    let unit = model.screen.unit;
    let said = wishes(found);
    let for_said: u16 = said.iter().map(|l| lines_of(l, area.width)).sum();
    let room = Rect { height: area.height.saturating_sub(for_said + 1), ..area };
    let style = |is_enough: bool| if is_enough { on.look.theme.text } else { on.look.theme.warn };
    let mut rows: Vec<Row> = found
        .rows
        .iter()
        .map(|r| {
            let cells = row(r, asked, model.book.on_hand(r.paper.item), unit);
            Row { cells, style: style(r.is_enough) }
        })
        .collect();
    if !in_bin.rows.is_empty() {
        rows.push(Row { cells: vec!["offcuts".to_owned()], style: on.look.theme.title });
        let of = |r| Row { cells: row(r, bin, r.paper.free, unit), style: style(true) };
        rows.extend(in_bin.rows.iter().map(of));
    }
    let shown = usize::from(room.height.saturating_sub(1));
    let hidden = rows.len().saturating_sub(shown);
    let room = if hidden > 0 { Rect { height: room.height - 1, ..room } } else { room };
    let columns: Vec<Column> =
        PAPERS.iter().filter(|c| c.title != "sheets" || asked.count.is_some()).cloned().collect();
    Table { columns: &columns, rows: &rows, total: rows.len(), picked: None, marked: &[] }.draw(room, on);
    if hidden > 0 {
        let words = format!("{} more rows", hidden + 1);
        on.put(area, 1, room.height, &[run(words, on.look.theme.dim)]);
    }
    let used = (rows.len() as u16 + 1).min(room.height + u16::from(hidden > 0));
    let mut y = used + 1;
    for line in said {
        y = on.paragraph(area, y, &line, on.look.theme.dim);
    }
}
