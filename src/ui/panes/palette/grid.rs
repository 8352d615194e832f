//! The swatches in order: names with a small chip each, or, in a window with room, chips two rows high or large ones, with what
//! is held of each.

use super::chip::{BLOCK, chip};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::palette::words::held_sheets;
use crate::app::state::palette::{Focus, PalettePane};
use crate::domain::colour::naming;
use crate::domain::colour::swatch::Swatch;
use crate::domain::paper_look::PaperLook;
use crate::domain::stock::SwatchId;
use crate::ui::look::{ColourDepth, Look};
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// Columns of a cell beside the name: the mark of the pick, the mark of a pin, a blank.
const AROUND_NAME: usize = 3;
/// Longest name that makes cells wider; a longer one ends in an ellipsis.
const LONGEST_NAME: usize = 24;
/// Columns of a colour's number with the blank before it.
const NUMBER: usize = 8;
/// Columns that a large chip's cell takes at least.
const LARGE: usize = 18;
/// Most rows of a cell, and rows from which on its chip is large.
const HIGH: (u16, u16) = (5, 3);

/// How the cells of the grid stand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cells {
    /// How many in a row.
    pub columns: usize,
    /// How wide each is.
    pub width: usize,
    /// How high each is.
    height: u16,
    /// True where each name has its number beside it.
    numbered: bool,
}

impl Cells {
    /// How many stand in so many rows of the screen.
    pub(super) fn in_rows(&self, rows: u16) -> usize {
        usize::from(rows / self.height.max(1)) * self.columns
    }
}

/// How many cells stand in a row, and how wide each is: as many as show every usual name whole, and its number too where
/// colour cannot be shown and two of them still stand side by side. Where all of them have room for large chips, those.
pub(super) fn cells((width, rows): (u16, u16), pane: &PalettePane, look: &Look) -> Cells {
    let room = usize::from(width);
    let longest = pane.all.values().map(|s| text::width(&text::harmless(&s.name))).max().unwrap_or(0);
    let is_painted = look.depth > ColourDepth::Sixteen;
    let name = longest.min(LONGEST_NAME) + AROUND_NAME;
    let large = name.max(LARGE);
    let high = rows / (pane.swatches.len().div_ceil((room / large).max(1)).max(1) as u16);
    if is_painted && high >= HIGH.1 && room / large > 1 {
        let height = high.min(HIGH.0);
        return Cells { columns: room / large, width: large, height, numbered: false };
    }
    let square = name + BLOCK + 1;
    let columns = room / square;
    if is_painted && columns > 1 && pane.swatches.len().div_ceil(columns) * 2 <= usize::from(rows) {
        return Cells { columns, width: square, height: 2, numbered: false };
    }
    let cell = name + if is_painted { BLOCK + 1 } else { 0 };
    let with_number = cell + NUMBER;
    if !is_painted && room / with_number > 1 {
        let columns = room / with_number;
        let lines = pane.swatches.len().div_ceil(columns).max(1) as u16;
        // What is held of each below its name, a free row after it where there is room.
        let height = if lines * 2 <= rows { (rows / lines).clamp(2, 3) } else { 1 };
        return Cells { columns, width: with_number, height, numbered: true };
    }
    Cells { columns: (room / cell).max(1), width: cell, height: 1, numbered: false }
}

/// Draws the grid; returns where the cursor belongs.
pub(super) fn draw(model: &Model, area: Rect, cells: &Cells, on: &mut Surface) -> Option<Position> {
    let pane = &model.palette;
    let picked = pane.cursor.row(pane.swatches.len())?;
    let (columns, cell) = (cells.columns, cells.width);
    let rows = pane.swatches.len().div_ceil(columns);
    let room = usize::from(area.height / cells.height);
    let first = first_shown(picked / columns, rows, room);
    let mut cursor = None;
    on.hits.add(area, Spot::In(List::Swatches));
    for (n, (id, swatch)) in pane.swatches.iter().enumerate().skip(first * columns).take(room * columns) {
        let x = area.x + (n % columns * cell) as u16;
        let y = area.y + (n / columns - first) as u16 * cells.height;
        let place = Rect { x, y, width: cell as u16, height: cells.height };
        on.hits.add(place, Spot::Row(List::Swatches, n));
        let one = One { id: *id, swatch, is_picked: n == picked };
        match cells.height {
            0..=1 => one.small(pane, cells, place, on),
            _ if cells.numbered => one.told(model, cells, place, on),
            2 => one.square(model, place, on),
            _ => one.large(model, place, on),
        }
        if n == picked {
            cursor = Some(Position::new(x, y));
        }
    }
    cursor
}

struct One<'a> {
    id: SwatchId,
    swatch: &'a Swatch,
    is_picked: bool,
}

impl One<'_> {
    fn style(&self, pane: &PalettePane, look: &Look) -> ratatui::style::Style {
        if self.is_picked && pane.focus == Focus::Swatches { look.theme.picked } else { look.theme.text }
    }

    fn small(&self, pane: &PalettePane, cells: &Cells, place: Rect, on: &mut Surface) {
        let sign = if self.is_picked { on.look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, on.look.theme.mark)];
        let used = 1 + chip(pane, self.swatch, BLOCK, &mut runs, on.look);
        let pin = if pane.pinned == Some(self.id) { "*" } else { "" };
        let room = cells.width.saturating_sub(used + 1 + pin.len());
        runs.push(run(named(self.swatch, room, cells.numbered, on.look), self.style(pane, on.look)));
        runs.push(run(pin, on.look.theme.mark));
        on.put(place, 0, 0, &runs);
    }

    /// Its name and number, and below them what is held of it and what one would call it.
    fn told(&self, model: &Model, cells: &Cells, place: Rect, on: &mut Surface) {
        self.small(&model.palette, cells, place, on);
        let held = held_sheets(&model.book, self.id);
        let word = naming::everyday(self.swatch.lab).map_or(String::new(), |word| format!(", {word}"));
        let whole = format!("{held}{word}");
        let room = usize::from(place.width).saturating_sub(2);
        let words = if text::width(&whole) <= room { whole } else { held };
        on.put(place, 1, 1, &[run(words, on.look.theme.dim)]);
    }

    /// A chip two rows high, the name and what is held beside it.
    fn square(&self, model: &Model, place: Rect, on: &mut Surface) {
        let pane = &model.palette;
        let block = Rect { x: place.x + 1, width: BLOCK as u16, ..place };
        let painted = self.painted(pane, on.look);
        painted.patch(block, 1, on);
        let sign = if self.is_picked { on.look.glyphs.pick } else { " " };
        on.put(place, 0, 0, &[run(sign, on.look.theme.mark)]);
        let pin = if pane.pinned == Some(self.id) { "*" } else { "" };
        let beside =
            Rect { x: block.right() + 1, width: place.width.saturating_sub(BLOCK as u16 + 2), ..place };
        let room = usize::from(beside.width).saturating_sub(1 + pin.len());
        let name = run(named(self.swatch, room, false, on.look), self.style(pane, on.look));
        on.put(beside, 0, 0, &[name, run(pin, on.look.theme.mark)]);
        self.held(model, &painted, (beside, 1), on);
    }

    fn painted(&self, pane: &PalettePane, look: &Look) -> Painted {
        let paper = PaperLook { inks: vec![self.swatch.hex], ..PaperLook::default() };
        Painted::new(paper, None, pane.eyes().as_ref(), look)
    }

    /// What is held of it, in a row of its place.
    fn held(&self, model: &Model, painted: &Painted, (place, y): (Rect, u16), on: &mut Surface) {
        let held = held_sheets(&model.book, self.id);
        let held = text::fit(&held, usize::from(place.width).saturating_sub(1), on.look.glyphs.ellipsis);
        on.put(place, 0, y, &[run(held, on.look.theme.dim), run(painted.sign(), on.look.theme.dim)]);
    }

    /// The name over the chip, what is held below it.
    fn large(&self, model: &Model, place: Rect, on: &mut Surface) {
        let pane = &model.palette;
        let sign = if self.is_picked { on.look.glyphs.pick } else { " " };
        let pin = if pane.pinned == Some(self.id) { "*" } else { "" };
        let room = usize::from(place.width).saturating_sub(2 + pin.len());
        let name = run(named(self.swatch, room, false, on.look), self.style(pane, on.look));
        on.put(place, 0, 0, &[run(sign, on.look.theme.mark), name, run(pin, on.look.theme.mark)]);
        let painted = self.painted(pane, on.look);
        // A row stays free under what is held, where there are more than it takes.
        let rows = place.height - 2 - u16::from(place.height > HIGH.1);
        let block = Rect { x: place.x + 1, y: place.y + 1, width: place.width - 3, height: rows };
        painted.patch(block, 1, on);
        let below = Rect { x: place.x + 1, width: place.width - 1, ..place };
        self.held(model, &painted, (below, rows + 1), on);
    }
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
