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

use super::frame::{boxed, hidden, inside, middle};
use super::prompt::skip_columns;
use super::sheet;
use crate::app::model::Model;
use crate::app::printing::choices::rows as choice_rows;
use crate::app::printing::{PageKind, PagePreview, PagesText, PrintDesk, about, why_not};
use crate::app::state::print::PrintLine;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::plural::count_of;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// Columns of the list.
const LIST: u16 = 19;

/// The rows of the list that have room, and where they stand on the screen; the last one tells how many have none.
pub fn rows(desk: &PrintDesk, body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, 110, body.height));
    let (len, high) = (PageKind::ALL.len(), usize::from(area.height));
    let room = if len > high { high.saturating_sub(1) } else { high };
    let first = first_shown(desk.cursor.row(len).unwrap_or(0), len, room);
    let width = LIST.min(area.width);
    let rows = (first..len).take(room).zip(area.y..);
    rows.map(|(n, y)| (n, Rect { y, width, height: 1, ..area })).collect()
}

/// Draws the overlay; returns where the cursor belongs.
pub fn draw_printing(model: &Model, desk: &PrintDesk, body: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let area = boxed(body, 110, body.height, "Print at true size", on);
    let picked = desk.cursor.row(PageKind::ALL.len()).unwrap_or(0);
    let places = rows(desk, body);
    let mut at = Position::new(area.x, area.y);
    for (n, place) in &places {
        let Some(kind) = PageKind::ALL.get(*n).copied() else { continue };
        let is_picked = *n == picked;
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let style = match (is_picked, why_not(model, kind)) {
            (true, _) => theme.picked,
            (false, None) => theme.text,
            (false, Some(_)) => theme.dim,
        };
        let name = text::left(kind.title(), usize::from(LIST - 2), on.look.glyphs.ellipsis);
        on.put(*place, 0, 0, &[run(sign, theme.mark), run(name, style)]);
        if is_picked {
            at = Position::new(place.x, place.y);
        }
    }
    let foot = Rect { y: area.bottom().saturating_sub(1), width: LIST - 1, height: 1, ..area };
    hidden(PageKind::ALL.len() - places.len(), foot, on);
    let right = Rect { x: area.x + LIST + 1, width: area.width.saturating_sub(LIST + 1), ..area };
    let (below, field) = choices(model, desk, right, on);
    preview(desk, right, below + 1, on);
    field.unwrap_or(at)
}

/// Draws what can be chosen; returns the row below and, while a line takes keys, where the cursor belongs.
fn choices(model: &Model, desk: &PrintDesk, area: Rect, on: &mut Surface) -> (u16, Option<Position>) {
    let theme = &on.look.theme;
    let of = about(model, desk.kind());
    on.put(area, 0, 0, &[run("of     ", theme.dim), run(of, theme.text)]);
    let file = Cell { key: 'f', label: "file", value: desk.file.text(), line: Some(PrintLine::File) };
    let mut field = cell(desk, &file, Rect { y: area.y + 1, ..area }, on);
    let paper = match desk.paper {
        PrintPaper::Letter => "letter",
        PrintPaper::A4 => "A4",
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
    on.put(area, 0, 2, &line);
    let (mut y, mut right) = (3, false);
    for row in choice_rows(model, desk) {
        let is_wide =
            matches!(row.line, Some(PrintLine::Foot | PrintLine::Code | PrintLine::Sheet | PrintLine::Back));
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
            field = cell(desk, &shown, place, on).or(field);
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
    line: Option<PrintLine>,
}

/// Draws one choice; returns where the cursor belongs while this one takes keys.
fn cell(desk: &PrintDesk, cell: &Cell<'_>, place: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let place = Rect { height: 1, ..place };
    let head = [run(cell.key.to_string(), theme.key), run(format!(" {:<4} ", cell.label), theme.dim)];
    let x = on.put(place, 0, 0, &head);
    if cell.line.is_none() || cell.line != desk.typing {
        on.put(place, x, 0, &[run(cell.value, theme.text)]);
        return None;
    }
    let field = if cell.line == Some(PrintLine::File) { &desk.file } else { &desk.entry };
    let room = usize::from(place.width.saturating_sub(x + 1)).max(1);
    // Text that is longer than the room is shown up to its cursor.
    let cursor = field.cursor_column();
    let hidden = cursor.saturating_sub(room);
    let shown = text::fit(&skip_columns(&text::harmless(field.text()), hidden), room + 1, "");
    on.put(place, x, 0, &[run(shown, theme.title)]);
    Some(Position::new(place.x + x + (cursor - hidden) as u16, place.y))
}

fn preview(desk: &PrintDesk, area: Rect, y: u16, on: &mut Surface) {
    let theme = &on.look.theme;
    match &desk.preview {
        PagePreview::Nothing => {
            on.put(area, 0, y, &[run("counting the pages", theme.dim)]);
        }
        PagePreview::Refused(why) => {
            on.paragraph(area, y, &format!("Not from what is in hand: {why}."), theme.warn);
        }
        PagePreview::Pages(text) => {
            on.put(area, 0, y, &[run(&text.count, theme.good)]);
            let y = match &text.warning {
                Some(words) => on.paragraph(area, y + 1, &format!("{words}."), theme.warn) - 1,
                None => y,
            };
            let below = Rect { y: area.y + y + 1, height: area.height.saturating_sub(y + 1), ..area };
            if desk.as_text {
                lines(desk, text, below, on);
            } else {
                drawn(desk, text, below, on);
            }
        }
    }
}

/// The page as a picture, with its title above it and which of how many it is.
fn drawn(desk: &PrintDesk, text: &PagesText, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let Some(page) = text.pages.get(desk.page) else { return };
    let title = format!("page {} of {}: {}", desk.page + 1, text.pages.len(), page.title);
    on.put(area, 0, 0, &[run(title, theme.title)]);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    if room.width > 0 && room.height > 0 {
        sheet::draw_page(page, room, on);
    }
}

fn lines(desk: &PrintDesk, text: &PagesText, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let room = usize::from(area.height.saturating_sub(1));
    let top = desk.top.min(text.lines.len().saturating_sub(1));
    for (n, line) in text.lines.iter().skip(top).take(room).enumerate() {
        let style = if line.starts_with("page ") { theme.title } else { theme.text };
        on.put(area, 0, n as u16, &[run(line, style)]);
    }
    let below = text.lines.len().saturating_sub(top + room);
    if below > 0 {
        let words = format!("{}, PgDn", count_of(below as u64, "more line"));
        on.put(area, 0, area.height.saturating_sub(1), &[run(words, theme.dim)]);
    }
}
