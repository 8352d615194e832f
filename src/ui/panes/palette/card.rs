//! The picked trio on the card in hand, as its layers would be, with what each part is and the ink that reads best on it.
//! A card without layers is shown as a mat and a panel on a base.

use super::chip::chip;
use crate::app::model::Model;
use crate::app::panes::palette::words::{best_ink, part_words};
use crate::app::state::palette::PalettePane;
use crate::domain::book::Book;
use crate::domain::library::apply::{self, Dressed};
use crate::domain::size::Size;
use crate::domain::stock::SwatchId;
use crate::ui::colours::paint;
use crate::ui::look::Look;
use crate::ui::panes::mats::drawing::{Cells, Scale, border, fill, hatch, inside};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::lines::{Run, run};
use ratatui::layout::Rect;

/// Fewest columns that a card and the words beside it stand in.
const LEAST_WIDTH: u16 = 30;
/// Fewest rows that the words stand in.
const LEAST_HEIGHT: u16 = 5;
/// Columns that the drawing takes at most; the words stand beside it.
const WIDEST: u16 = 30;
/// Columns of a part's colour before its name.
const BLOCK: usize = 2;

/// Draws the card with the trio on it into what room there is; nothing where that is too little.
pub(super) fn draw(model: &Model, three: [SwatchId; 3], area: Rect, y: u16, on: &mut Surface) {
    let room = Rect { y: area.y + y.min(area.height), height: area.height.saturating_sub(y), ..area };
    if room.height < LEAST_HEIGHT || room.width < LEAST_WIDTH {
        return;
    }
    let (book, pane) = (&model.book, &model.palette);
    let card = model.mats.card(book);
    let dressed = apply::dress(book, card, three);
    let drawing = Rect { width: (room.width / 2).min(WIDEST), height: room.height.min(14), ..room };
    let used = if room.height < least_rows(model) {
        // Layers that lie on one row cannot be told apart: the words alone say what each wears.
        0
    } else if card.layers.is_empty() {
        plain(pane, card.face, three, drawing, on)
    } else {
        nested(model, &dressed, drawing, on)
    };
    let x = room.x + if used == 0 { 0 } else { used + 2 };
    let beside = Rect { x, width: room.right().saturating_sub(x), ..room };
    for (n, runs) in (0..)
        .zip(part_lines(pane, book, &dressed, usize::from(beside.width), on.look))
        .take(usize::from(room.height))
    {
        on.put(beside, 0, n, &runs);
    }
}

/// Rows in which every layer of the card in hand has a row of its own above and below the next.
pub(super) fn least_rows(model: &Model) -> u16 {
    // A card without layers is shown with a mat and a panel.
    let layers = match model.mats.card(&model.book).layers.len() {
        0 => 2,
        layers => layers as u16,
    };
    2 * (layers + 1) + 1
}

/// Of each part its colour, its name, where the paper comes from, and the ink that reads best on it: in one line where that has
/// room, else the ink in a line below.
fn part_lines(
    pane: &PalettePane,
    book: &Book,
    dressed: &Dressed,
    width: usize,
    look: &Look,
) -> Vec<Vec<Run>> {
    let mut all = vec![vec![run(format!("On {}", dressed.card.name), look.theme.title)]];
    for part in &dressed.parts {
        let Some(swatch) = pane.colour(part.colour) else { continue };
        let mut runs = Vec::new();
        chip(pane, swatch, BLOCK, &mut runs, look);
        runs.push(run(part_words(book, dressed, part), look.theme.text));
        let Some(ink) = best_ink(book, swatch) else {
            all.push(runs);
            continue;
        };
        let used: usize = runs.iter().map(|(words, _)| text::width(words)).sum();
        if used + 2 + text::width(&ink) <= width {
            runs.push(run(format!("  {ink}"), look.theme.dim));
            all.push(runs);
        } else {
            all.extend([runs, vec![run(format!("    {ink}"), look.theme.dim)]]);
        }
    }
    all
}

fn colour(pane: &PalettePane, id: Option<SwatchId>, look: &Look) -> crate::ui::colours::Paint {
    let Some(swatch) = id.and_then(|id| pane.colour(id)) else { return crate::ui::colours::Paint::None };
    let hex = pane.eyes().map_or(swatch.hex, |eyes| eyes.hex(swatch.hex));
    let lab = pane.eyes().map_or(swatch.lab, |eyes| eyes.lab(swatch.lab));
    paint(hex, lab, look.depth)
}

/// The card's own layers to scale; returns the columns used.
fn nested(model: &Model, dressed: &Dressed, area: Rect, on: &mut Surface) -> u16 {
    let pane = &model.palette;
    let Ok(sizes) = model.mats.sizes(&model.book, model.screen.unit) else { return 0 };
    let Some(scale) = Scale::of(dressed.card.face, area) else { return 0 };
    let front = (0, 0, scale.columns, scale.rows);
    fill(colour(pane, dressed.colour(None), on.look), " ", front, area, on);
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    canvas.frame(0, 0, scale.columns, scale.rows);
    let mut drawn: Vec<Cells> = Vec::with_capacity(sizes.len());
    for (n, s) in sizes.iter().enumerate() {
        let below = s.on.and_then(|on| drawn.get(on).copied()).unwrap_or(front);
        let cells = inside(scale.cells(s.x, s.y, s.exact), below, &s.reveal);
        drawn.push(cells);
        fill(colour(pane, dressed.colour(Some(n)), on.look), hatch(n, on.look), cells, area, on);
        border(&mut canvas, cells, false);
    }
    canvas.draw(area, on.buf, &on.look.glyphs, on.look.theme.line, on.look.theme.cut);
    scale.columns + 1
}

/// A standard card: base, mat and panel in the three colours.
fn plain(pane: &PalettePane, face: Size, three: [SwatchId; 3], area: Rect, on: &mut Surface) -> u16 {
    let Some(scale) = Scale::of(face, area) else { return 0 };
    let (right, foot) = (scale.columns, scale.rows);
    let mut canvas = Canvas::new(right + 1, foot + 1);
    for (n, id) in (0_u16..).zip(three) {
        let (x, y) = (2 * n, n);
        if right < 2 * x + 2 || foot < 2 * y + 2 {
            break;
        }
        let cells = (x, y, right - x, foot - y);
        fill(colour(pane, Some(id), on.look), hatch(usize::from(n), on.look), cells, area, on);
        border(&mut canvas, cells, false);
    }
    canvas.draw(area, on.buf, &on.look.glyphs, on.look.theme.line, on.look.theme.cut);
    right + 1
}
