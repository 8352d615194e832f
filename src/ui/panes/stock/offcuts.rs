//! The offcuts of the bin as pieces of paper: all to one scale, in the order of their list, the one in hand with heavy sides.

use crate::app::model::Model;
use crate::domain::length::Unit;
use crate::domain::stock::{Offcut, OffcutId};
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Columns that an inch takes, in quarters of one: the most and the least.
const QUARTERS: (i64, i64) = (24, 2);
/// The least columns and rows of a piece.
const LEAST: (u16, u16) = (3, 2);

/// Draws the offcuts of a list into an area, as large as all of them fit; from the picked one on where they do not.
pub(super) fn draw(model: &Model, ids: &[OffcutId], picked: Option<usize>, area: Rect, on: &mut Surface) {
    let all: Vec<(usize, &Offcut)> =
        ids.iter().enumerate().filter_map(|(n, id)| Some((n, model.book.offcuts().get(*id)?))).collect();
    if all.is_empty() || area.height <= LEAST.1 || area.width < LEAST.0 {
        return;
    }
    let places = |quarters: i64| places(&all, quarters, area);
    let fitting = (QUARTERS.1..=QUARTERS.0).rev().find_map(places);
    let (first, placed) = if let Some(placed) = fitting {
        (0, placed)
    } else {
        let first = picked.unwrap_or(0).min(all.len() - 1);
        (first, placed_as_far(&all[first..], QUARTERS.1, area))
    };
    for ((n, offcut), place) in all.iter().skip(first).zip(&placed) {
        piece(model, offcut, picked == Some(*n), *place, on);
    }
    let left = all.len() - placed.len();
    if left > 0 {
        let words = format!("{left} more do not fit here");
        on.put(area, 0, area.height - 1, &[run(words, on.look.theme.dim)]);
    }
}

/// Columns and rows of a piece at a scale.
fn cells(offcut: &Offcut, quarters: i64) -> (u16, u16) {
    let columns = |inches: f64| (inches * quarters as f64 / 4.0).round() as u16;
    let width = columns(offcut.size.width.in_unit(Unit::Inch)).max(LEAST.0);
    let height = (columns(offcut.size.height.in_unit(Unit::Inch)) / 2).max(LEAST.1);
    (width, height)
}

/// Where every piece lies; `None` where not all of them fit.
fn places(all: &[(usize, &Offcut)], quarters: i64, area: Rect) -> Option<Vec<Rect>> {
    let placed = placed_as_far(all, quarters, area);
    (placed.len() == all.len()).then_some(placed)
}

/// Row by row from the left, as far as there is room.
fn placed_as_far(all: &[(usize, &Offcut)], quarters: i64, area: Rect) -> Vec<Rect> {
    let (mut x, mut y, mut high) = (0, 0, 0);
    let mut placed = Vec::new();
    for (_, offcut) in all {
        let (width, height) = cells(offcut, quarters);
        if x > 0 && x + width > area.width {
            (x, y, high) = (0, y + high, 0);
        }
        if width > area.width || y + height > area.height {
            break;
        }
        placed.push(Rect::new(area.x + x, area.y + y, width, height));
        x += width + 1;
        high = high.max(height);
    }
    placed
}

fn piece(model: &Model, offcut: &Offcut, is_picked: bool, place: Rect, on: &mut Surface) {
    let across = offcut.size.width.micrometres() / i64::from(place.width);
    Painted::item(model, offcut.item, on.look).fill(place, across, on);
    let (right, foot) = (place.width - 1, place.height - 1);
    let mut canvas = Canvas::new(place.width, place.height);
    for y in [0, foot] {
        canvas.across(y, 0, right, is_picked);
    }
    for x in [0, right] {
        canvas.down(x, 0, foot, is_picked);
    }
    canvas.draw(place, on.buf, &on.look.glyphs, on.look.theme.line, on.look.theme.cut);
    let words = format!(" {} ", offcut.size.about(model.screen.unit));
    let wide = text::width(&words) as u16;
    if place.height > 2 && wide + 2 <= place.width {
        on.put_over(place, (place.width - wide) / 2, place.height / 2, &words, on.look.theme.text);
    }
}
