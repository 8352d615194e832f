//! A list that narrows as one types.

use super::frame::{boxed, hidden, inside, middle};
use crate::app::model::Model;
use crate::app::overlay::Picker;
use crate::ui::chips::{self, Of};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// Fewest columns of the labels.
const LABEL: usize = 26;
/// Fewest rows that the list keeps.
const LEAST_ROWS: usize = 4;
/// Columns of the box, and most of its rows.
const WIDTH: u16 = 76;
const MOST: usize = 20;
/// Rows of the frame, and of what is typed with the blank one below it.
const AROUND: usize = 4;

/// Rows of the box: as many as the whole list has, with what tells a picked row in full, so that it does not move while the list
/// narrows.
fn height(picker: &Picker, body: Rect) -> u16 {
    let area = inside(middle(body, WIDTH, MOST as u16));
    let whole = (0..picker.rows.len()).map(|n| in_full(picker, n, area).len()).max().unwrap_or(0);
    let rows = picker.rows.len().max(LEAST_ROWS) + AROUND + whole;
    (rows.min(MOST) as u16).min(body.height)
}

/// Where the rows stand.
pub fn rows(picker: &Picker, body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, WIDTH, height(picker, body)));
    let room = room(area, &whole_text(picker, area));
    let len = picker.shown.len();
    let first = first_shown(picker.cursor.row(len).unwrap_or(0), len, room);
    let rows = first..len.min(first + room);
    rows.map(|n| (n, Rect { y: area.y + 2 + (n - first) as u16, height: 1, ..area })).collect()
}

/// Draws the picker; returns where the cursor belongs.
pub fn draw_picker(model: &Model, picker: &Picker, body: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let area = boxed(body, WIDTH, height(picker, body), picker.title, on);
    on.put(area, 0, 0, &[run("find ", theme.dim), run(picker.filter.text(), theme.text)]);
    let at = Position::new(area.x + 5 + picker.filter.cursor_column() as u16, area.y);
    let picked = picker.cursor.row(picker.shown.len());
    let label_room = label_room(picker, area);
    let whole = whole_text(picker, area);
    let room = room(area, &whole);
    if picker.shown.is_empty() {
        on.put(area, 0, 2, &[run("Nothing matches. Backspace takes a letter back.", theme.dim)]);
    }
    hidden(picker.shown.len().saturating_sub(room), area, on);
    // Where one row has a colour, all have room for it.
    let has_chips = picker.rows.iter().any(|row| Of::target(&row.target).is_some());
    let first = first_shown(picked.unwrap_or(0), picker.shown.len(), room);
    for (n, row) in picker.shown.iter().enumerate().skip(first).take(room) {
        let Some(row) = picker.rows.get(*row) else { continue };
        let y = 2 + (n - first) as u16;
        let is_picked = picked == Some(n);
        let (label, detail) = match (is_picked, row.is_live) {
            (true, _) => (theme.picked, theme.picked),
            (false, true) => (theme.text, theme.dim),
            (false, false) => (theme.dim, theme.dim),
        };
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, theme.mark)];
        let chip = if has_chips { usize::from(chips::ROOM) } else { 0 };
        match Of::target(&row.target).filter(|_| has_chips) {
            Some(of) => {
                runs.extend(chips::runs(model, of, on.look));
                chips::told_below(model, of, on);
            }
            None => runs.push(run(" ".repeat(chip), theme.text)),
        }
        let name = text::left(&text::harmless(&row.label), label_room, on.look.glyphs.ellipsis);
        let rest = usize::from(area.width).saturating_sub(label_room + 2 + chip);
        let note = text::left(&text::harmless(&row.detail), rest, on.look.glyphs.ellipsis);
        runs.extend([run(name, label), run(" ", detail), run(note, detail)]);
        on.put(area, 0, y, &runs);
    }
    for (y, line) in (area.height.saturating_sub(whole.len() as u16)..).zip(&whole) {
        on.put(area, 0, y, &[run(line, theme.text)]);
    }
    at
}

/// Rows of the list.
fn room(area: Rect, whole: &[String]) -> usize {
    usize::from(area.height).saturating_sub(2 + whole.len())
}

/// Columns of the labels: as many as the longest needs, within half of the box.
fn label_room(picker: &Picker, area: Rect) -> usize {
    let longest = picker.rows.iter().map(|row| text::width(&text::harmless(&row.label))).max().unwrap_or(0);
    longest.max(LABEL).min(usize::from(area.width) / 2)
}

/// The picked row in full, under an empty line, where its own line had to shorten it and the list keeps enough room.
fn whole_text(picker: &Picker, area: Rect) -> Vec<String> {
    let picked = picker.cursor.row(picker.shown.len()).and_then(|n| picker.shown.get(n));
    let lines = picked.map_or_else(Vec::new, |n| in_full(picker, *n, area));
    if usize::from(area.height) < 2 + LEAST_ROWS + lines.len() { Vec::new() } else { lines }
}

/// A row in full, under an empty line; nothing where its own line says all of it.
fn in_full(picker: &Picker, n: usize, area: Rect) -> Vec<String> {
    let Some(row) = picker.rows.get(n) else { return Vec::new() };
    let label_room = label_room(picker, area);
    let (label, detail) = (text::harmless(&row.label), text::harmless(&row.detail));
    let chip = if picker.rows.iter().any(|row| Of::target(&row.target).is_some()) {
        usize::from(chips::ROOM)
    } else {
        0
    };
    let rest = usize::from(area.width).saturating_sub(label_room + 2 + chip);
    if text::width(&label) <= label_room && text::width(&detail) <= rest {
        return Vec::new();
    }
    let words = if detail.is_empty() { label.clone() } else { format!("{label}: {detail}") };
    let mut lines = vec![String::new()];
    lines.extend(text::wrap(&words, usize::from(area.width)));
    lines
}
