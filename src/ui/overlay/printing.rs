//! The print overlay: kinds of pages at the left, file and what will be on each page at the right.
//!
//! ```text
//! +- Print -----------------------------------------------+
//! |   ruler            | file   swatches.pdf              |
//! | > swatch chart     | paper  letter    colour  yes     |
//! |   reorder list     | 2 pages of 8.5 x 11 in           |
//! |                    | page 1: Swatches                 |
//! +-------------------------------------------------------+
//! ```

use super::{boxed, inside, middle};
use crate::app::model::Model;
use crate::app::printing::{PageKind, Preview, PrintDesk, about, why_not};
use crate::domain::pages::frame::Paper;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::lines::{paragraph, put, run};
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

/// Columns of the list.
const LIST: u16 = 19;

/// The row of the list at a place on the screen.
pub fn rows(body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, 110, body.height));
    let width = LIST.min(area.width);
    let rows = 0..PageKind::ALL.len().min(usize::from(area.height));
    rows.map(|n| (n, Rect { y: area.y + n as u16, width, height: 1, ..area })).collect()
}

/// Draws the overlay; returns where the cursor belongs.
pub fn draw(model: &Model, desk: &PrintDesk, body: Rect, buf: &mut Buffer, look: &Look) -> Position {
    let theme = &look.theme;
    let area = boxed(body, 110, body.height, "Print at true size", buf, look);
    let picked = desk.cursor.row(PageKind::ALL.len()).unwrap_or(0);
    for (n, kind) in PageKind::ALL.into_iter().enumerate() {
        let is_picked = n == picked;
        let sign = if is_picked { look.glyphs.pick } else { " " };
        let style = match (is_picked, why_not(model, kind)) {
            (true, _) => theme.picked,
            (false, None) => theme.text,
            (false, Some(_)) => theme.dim,
        };
        let name = text::left(kind.title(), usize::from(LIST - 2), look.glyphs.ellipsis);
        put(buf, area, 0, n as u16, &[run(sign, theme.key), run(name, style)], look);
    }
    let right = Rect { x: area.x + LIST + 1, width: area.width.saturating_sub(LIST + 1), ..area };
    let field = choices(model, desk, right, buf, look);
    preview(desk, right, buf, look);
    if desk.is_typing { field } else { Position::new(area.x, area.y + picked as u16) }
}

fn choices(model: &Model, desk: &PrintDesk, area: Rect, buf: &mut Buffer, look: &Look) -> Position {
    let theme = &look.theme;
    let of = about(model, desk.kind());
    put(buf, area, 0, 0, &[run("of     ", theme.dim), run(of, theme.text)], look);
    let name = if desk.is_typing { theme.title } else { theme.text };
    put(buf, area, 0, 1, &[run("f", theme.key), run(" file ", theme.dim), run(desk.file.text(), name)], look);
    let paper = match desk.paper {
        Paper::Letter => "letter",
        Paper::A4 => "A4",
    };
    let colour = if desk.colourless { "no, hatches" } else { "yes" };
    let line = [
        run("p", theme.key),
        run(" paper ", theme.dim),
        run(format!("{paper:<8}"), theme.text),
        run("c", theme.key),
        run(" colour ", theme.dim),
        run(colour, theme.text),
    ];
    put(buf, area, 0, 2, &line, look);
    let column = (desk.file.cursor_column() as u16 + 7).min(area.width.saturating_sub(1));
    Position::new(area.x + column, area.y + 1)
}

fn preview(desk: &PrintDesk, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    match &desk.preview {
        Preview::Nothing => {
            put(buf, area, 0, 4, &[run("counting the pages", theme.dim)], look);
        }
        Preview::Refused(why) => {
            paragraph(buf, area, 4, &format!("Not from what is in hand: {why}."), theme.warn, look);
        }
        Preview::Pages(text) => {
            put(buf, area, 0, 4, &[run(&text.count, theme.good)], look);
            let room = usize::from(area.height.saturating_sub(6));
            let top = desk.top.min(text.lines.len().saturating_sub(1));
            for (n, line) in text.lines.iter().skip(top).take(room).enumerate() {
                let style = if line.starts_with("page ") { theme.title } else { theme.text };
                put(buf, area, 0, 5 + n as u16, &[run(line, style)], look);
            }
            let below = text.lines.len().saturating_sub(top + room);
            if below > 0 {
                let words = format!("{below} more lines, PgDn");
                put(buf, area, 0, area.height.saturating_sub(1), &[run(words, theme.dim)], look);
            }
        }
    }
}
