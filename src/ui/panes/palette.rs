//! Palette: the swatches in order, the picked one in full, what is nearest to a typed colour, and trios.
//!
//! ```text
//! 24 swatches                                [      ] fern  #4f7942
//! by family                                  Lab 47.1 -24.5 26.8, measured
//!                                            Goes with fern  all schemes, all colours
//!   [] chalk      [] oat      [] ...         > [][][] moss, oat   analogous
//! > [] fern       [] moss     [] ...         Compare real chips in daylight.
//! ```
//!
//! A photo's colours, or the card of a patterned paper, take the right side while they are open.

mod card;
pub(in crate::ui) mod chip;
mod details;
mod paper;
mod photo;
mod trios;

use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::palette::words::DAYLIGHT;
use crate::app::state::palette::{Focus, PalettePane};
use crate::domain::colour::swatch::Swatch;
use crate::ui::look::{ColourDepth, Look};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use chip::{BLOCK, chip};
use ratatui::layout::{Position, Rect};

/// Columns of a cell beside the name: the mark of the pick, the mark of a pin, a blank.
const AROUND_NAME: usize = 3;
/// Longest name that makes cells wider; a longer one ends in an ellipsis.
const LONGEST_NAME: usize = 24;
/// Columns of a colour's number with the blank before it.
const NUMBER: usize = 8;
/// Narrowest grid: its heading is to be read too.
const NARROWEST: u16 = 28;

/// Draws the pane.
pub fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let pane = &model.palette;
    if pane.all.is_empty() && pane.photo_in_view().is_none() {
        let words = "No swatches yet. Press <new-swatch> to add one, <import-swatches> to bring in a list from a CSV \
                     file, or <photo> to read the colours of a paper from a photo.";
        on.paragraph(area, 1, &model.keymap.say(words), on.look.theme.text);
        return None;
    }
    let cells = cells((area.width * 11 / 20).clamp(34, 84), pane, on.look);
    on.hits.grid(cells.columns);
    let width = ((cells.columns * cells.width) as u16).clamp(NARROWEST, 84);
    let left = Rect { width, ..area };
    let right = Rect { x: area.x + width + 2, width: area.width.saturating_sub(width + 2), ..area };
    heading(model, left, on);
    let room = Rect { y: left.y + 3, height: left.height.saturating_sub(3), ..left };
    let at = grid(pane, on.above_figures(room), &cells, on);
    let foot = right.height.saturating_sub(1);
    on.put(right, 0, foot, &[run(DAYLIGHT, on.look.theme.dim)]);
    let right = Rect { height: foot, ..right };
    if let Some(view) = pane.photo_in_view() {
        return photo::draw(model, view, right, on).or(at);
    }
    let in_trios = details::draw(model, right, on);
    // The terminal's own cursor sits on the list in focus.
    if pane.focus == Focus::Trios { in_trios.or(at) } else { at }
}

fn heading(model: &Model, area: Rect, on: &mut Surface) {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let count = text::count(pane.swatches.len() as u64, "swatch", "swatches");
    let sign = if pane.focus == Focus::Swatches { on.look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.key), run(count, theme.title)];
    let narrowed = pane.narrowed();
    if !narrowed.is_empty() {
        runs.push(run(format!(" of {}, only {narrowed}", pane.all.len()), theme.warn));
    }
    on.put(area, 0, 0, &runs);
    on.put(area, 0, 1, &[run(pane.order.words(), theme.dim)]);
    if pane.swatches.is_empty() {
        let words = if pane.all.is_empty() {
            "None yet."
        } else {
            "No swatch matches. <palette-back> shows all again."
        };
        on.paragraph(area, 3, &model.keymap.say(words), theme.dim);
    }
}

/// How the cells of the grid stand.
struct Cells {
    /// How many in a row.
    columns: usize,
    /// How wide each is.
    width: usize,
    /// True where each name has its number beside it.
    numbered: bool,
}

/// How many cells stand in a row, and how wide each is: as many as show every usual name whole, and its number too where
/// colour cannot be shown and two of them still stand side by side.
fn cells(room: u16, pane: &PalettePane, look: &Look) -> Cells {
    let room = usize::from(room);
    let longest = pane.all.values().map(|s| text::width(&text::harmless(&s.name))).max().unwrap_or(0);
    let is_painted = look.depth > ColourDepth::Sixteen;
    let block = if is_painted { BLOCK + 1 } else { 0 };
    let cell = longest.min(LONGEST_NAME) + AROUND_NAME + block;
    let with_number = cell + NUMBER;
    if !is_painted && room / with_number > 1 {
        return Cells { columns: room / with_number, width: with_number, numbered: true };
    }
    Cells { columns: (room / cell).max(1), width: cell, numbered: false }
}

fn grid(pane: &PalettePane, area: Rect, cells: &Cells, on: &mut Surface) -> Option<Position> {
    let picked = pane.cursor.row(pane.swatches.len())?;
    let (columns, cell) = (cells.columns, cells.width);
    let rows = pane.swatches.len().div_ceil(columns);
    let room = usize::from(area.height);
    let first = first_shown(picked / columns, rows, room);
    let mut cursor = None;
    on.hits.add(area, Spot::In(List::Swatches));
    for (n, (id, swatch)) in pane.swatches.iter().enumerate().skip(first * columns).take(room * columns) {
        let (x, y) = ((n % columns * cell) as u16, (n / columns - first) as u16);
        let style = if n == picked && pane.focus == Focus::Swatches {
            on.look.theme.picked
        } else {
            on.look.theme.text
        };
        let sign = if n == picked { on.look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, on.look.theme.key)];
        let used = 1 + chip(pane, swatch, BLOCK, &mut runs, on.look);
        let pin = if pane.pinned == Some(*id) { "*" } else { "" };
        let room = cell.saturating_sub(used + 1 + pin.len());
        runs.push(run(named(swatch, room, cells.numbered, on.look), style));
        runs.push(run(pin, on.look.theme.key));
        on.put(area, x, y, &runs);
        let place = Rect { x: area.x + x, y: area.y + y, width: cell as u16, height: 1 };
        on.hits.add(place, Spot::Row(List::Swatches, n));
        if n == picked {
            cursor = Some(Position::new(area.x + x, area.y + y));
        }
    }
    cursor
}

/// The name, with its number where colours cannot be shown and there is room for both.
fn named(swatch: &Swatch, room: usize, numbered: bool, look: &Look) -> String {
    let name = text::harmless(&swatch.name);
    let hex = swatch.hex.to_string();
    if numbered {
        // Numbers stand in a column of their own.
        let name = text::left(&name, room.saturating_sub(hex.len() + 1), look.glyphs.ellipsis);
        return format!("{name} {hex}");
    }
    text::fit(&name, room, look.glyphs.ellipsis)
}
