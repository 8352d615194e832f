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
mod grid;
mod paper;
mod photo;
mod picture;
mod trios;

use crate::app::model::Model;
use crate::app::panes::palette::words::DAYLIGHT;
use crate::app::state::palette::Focus;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Narrowest grid: its heading is to be read too.
const NARROWEST: u16 = 28;

/// Draws the pane.
pub fn draw_palette(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let pane = &model.palette;
    if pane.all.is_empty() && pane.photo_in_view().is_none() {
        let words = "No swatches yet. Press <new-swatch> to add one, <import-swatches> to bring in a list from a CSV \
                     file, or <photo> to read the colors of a paper from a photo.";
        on.told(area, 1, &model.keymap.told(words), on.look.theme.text);
        return None;
    }
    let room = on.above_figures(Rect { y: area.y + 3, height: area.height.saturating_sub(3), ..area });
    let cells = grid::cells(((area.width * 11 / 20).clamp(34, 84), room.height), pane, on.look);
    on.hits.grid(cells.columns);
    let width = ((cells.columns * cells.width) as u16).clamp(NARROWEST, 84);
    let left = Rect { width, ..area };
    let right = Rect { x: area.x + width + 2, width: area.width.saturating_sub(width + 2), ..area };
    let room = Rect { y: left.y + 3, height: left.height.saturating_sub(3), ..left };
    let room = on.above_figures(room);
    heading(model, pane.swatches.len().saturating_sub(cells.in_rows(room.height)), left, on);
    let at = grid::draw(model, room, &cells, on);
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

fn heading(model: &Model, hidden: usize, area: Rect, on: &mut Surface) {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let count = text::count(pane.swatches.len() as u64, "swatch", "swatches");
    let sign = if pane.focus == Focus::Swatches { on.look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.mark), run(count, theme.title)];
    let narrowed = pane.narrowed();
    if !narrowed.is_empty() {
        runs.push(run(format!(" of {}, only {narrowed}", pane.all.len()), theme.warn));
    }
    runs.push(run(text::hidden(hidden), theme.dim));
    on.put(area, 0, 0, &runs);
    on.put(area, 0, 1, &[run(pane.order.words(), theme.dim)]);
    if pane.swatches.is_empty() {
        let words = if pane.all.is_empty() {
            "None yet."
        } else {
            "No swatch matches. <palette-back> shows all again."
        };
        on.told(area, 3, &model.keymap.told(words), theme.dim);
    }
}
