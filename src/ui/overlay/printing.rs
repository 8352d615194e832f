//! The print overlay: kinds of pages at the left, file and what will be on each page at the right.
//!
//! ```text
//! +- Print -----------------------------------------------+
//! |   ruler            | file   swatches.pdf              |
//! | > swatch chart     | paper  letter    colour  yes     |
//! |   reorder list     | foot   none                      |
//! |   class kit list   | 2 pages of 8 1/2 x 11 in         |
//! |                    | page 1: Swatches                 |
//! +-------------------------------------------------------+
//! ```

use super::frame::{boxed, inside, middle};
use super::prompt::skip_columns;
use super::sheet;
use crate::app::model::Model;
use crate::app::printing::choices::rows as choice_rows;
use crate::app::printing::{PageKind, PagesText, Preview, PrintDesk, about, why_not};
use crate::app::state::print::Line;
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
    let (below, field) = choices(model, desk, right, buf, look);
    preview(desk, right, below + 1, buf, look);
    field.unwrap_or_else(|| Position::new(area.x, area.y + picked as u16))
}

/// Draws what can be chosen; returns the row below and, while a line takes keys, where the cursor belongs.
fn choices(
    model: &Model,
    desk: &PrintDesk,
    area: Rect,
    buf: &mut Buffer,
    look: &Look,
) -> (u16, Option<Position>) {
    let theme = &look.theme;
    let of = about(model, desk.kind());
    put(buf, area, 0, 0, &[run("of     ", theme.dim), run(of, theme.text)], look);
    let file = Cell { key: 'f', label: "file", value: desk.file.text(), line: Some(Line::File) };
    let mut field = cell(desk, &file, Rect { y: area.y + 1, ..area }, buf, look);
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
    let (mut y, mut right) = (3, false);
    for row in choice_rows(model, desk) {
        let is_wide = matches!(row.line, Some(Line::Foot | Line::Code | Line::Sheet | Line::Back));
        if is_wide && right {
            (y, right) = (y + 1, false);
        }
        let half = area.width / 2;
        let place = match (is_wide, right) {
            (true, _) => Rect { y: area.y + y, ..area },
            (false, false) => Rect { y: area.y + y, width: half.saturating_sub(1), ..area },
            (false, true) => Rect { x: area.x + half, y: area.y + y, width: area.width - half, ..area },
        };
        let shown = Cell { key: row.key, label: row.label, value: &row.value, line: row.line };
        if y < area.height {
            field = cell(desk, &shown, place, buf, look).or(field);
        }
        right = !is_wide && !right;
        y += u16::from(!right);
    }
    (y + u16::from(right), field)
}

struct Cell<'a> {
    key: char,
    label: &'a str,
    value: &'a str,
    line: Option<Line>,
}

/// Draws one choice; returns where the cursor belongs while this one takes keys.
fn cell(desk: &PrintDesk, cell: &Cell<'_>, place: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    let theme = &look.theme;
    let place = Rect { height: 1, ..place };
    let head = [run(cell.key.to_string(), theme.key), run(format!(" {:<4} ", cell.label), theme.dim)];
    let x = put(buf, place, 0, 0, &head, look);
    if cell.line.is_none() || cell.line != desk.typing {
        put(buf, place, x, 0, &[run(cell.value, theme.text)], look);
        return None;
    }
    let field = if cell.line == Some(Line::File) { &desk.file } else { &desk.entry };
    let room = usize::from(place.width.saturating_sub(x + 1)).max(1);
    // Text that is longer than the room is shown up to its cursor.
    let cursor = field.cursor_column();
    let hidden = cursor.saturating_sub(room);
    let shown = text::fit(&skip_columns(&text::harmless(field.text()), hidden), room + 1, "");
    put(buf, place, x, 0, &[run(shown, theme.title)], look);
    Some(Position::new(place.x + x + (cursor - hidden) as u16, place.y))
}

fn preview(desk: &PrintDesk, area: Rect, y: u16, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    match &desk.preview {
        Preview::Nothing => {
            put(buf, area, 0, y, &[run("counting the pages", theme.dim)], look);
        }
        Preview::Refused(why) => {
            paragraph(buf, area, y, &format!("Not from what is in hand: {why}."), theme.warn, look);
        }
        Preview::Pages(text) => {
            put(buf, area, 0, y, &[run(&text.count, theme.good)], look);
            let y = match &text.warning {
                Some(words) => paragraph(buf, area, y + 1, &format!("{words}."), theme.warn, look) - 1,
                None => y,
            };
            let below = Rect { y: area.y + y + 1, height: area.height.saturating_sub(y + 1), ..area };
            if desk.as_text {
                lines(desk, text, below, buf, look);
            } else {
                drawn(desk, text, below, buf, look);
            }
        }
    }
}

/// The page as a picture, with its title above it and which of how many it is.
fn drawn(desk: &PrintDesk, text: &PagesText, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let Some(page) = text.pages.get(desk.page) else { return };
    let title = format!("page {} of {}: {}", desk.page + 1, text.pages.len(), page.title);
    put(buf, area, 0, 0, &[run(title, theme.title)], look);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    if room.width > 0 && room.height > 0 {
        sheet::draw(page, room, buf, look);
    }
}

fn lines(desk: &PrintDesk, text: &PagesText, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let room = usize::from(area.height.saturating_sub(1));
    let top = desk.top.min(text.lines.len().saturating_sub(1));
    for (n, line) in text.lines.iter().skip(top).take(room).enumerate() {
        let style = if line.starts_with("page ") { theme.title } else { theme.text };
        put(buf, area, 0, n as u16, &[run(line, style)], look);
    }
    let below = text.lines.len().saturating_sub(top + room);
    if below > 0 {
        let words = format!("{below} more lines, PgDn");
        put(buf, area, 0, area.height.saturating_sub(1), &[run(words, theme.dim)], look);
    }
}
