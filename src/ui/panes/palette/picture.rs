//! The photo itself, small, with the number of each colour where it was found and dots over all of the picked one. Where
//! colours cannot be shown, every cell bears the number of the colour that lies there.

use crate::app::model::Model;
use crate::app::state::photo::PhotoView;
use crate::domain::colour::photo::small::SmallPicture;
use crate::domain::colour::space::Rgb8;
use crate::ui::colours::{Paint, paint};
use crate::ui::ground::over;
use crate::ui::painting::paints;
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};

/// Fewest columns and rows that a picture is drawn in.
const LEAST: (u16, u16) = (12, 4);

/// Draws the picture at the top left of an area, in its own proportions; returns the columns and rows it takes.
pub(super) fn draw(model: &Model, view: &PhotoView, area: Rect, on: &mut Surface) -> (u16, u16) {
    let Some(small) = &view.small else { return (0, 0) };
    let Some((columns, rows)) = cells(small, area) else { return (0, 0) };
    let shown = Shown { small, columns, rows, picked: view.cursor.row(view.rows.len()) };
    for y in 0..rows {
        for x in 0..columns {
            if paints(on.look) {
                shown.cell(model, (x, y), area, on);
            } else {
                shown.number(view, (x, y), area, on);
            }
        }
    }
    if paints(on.look) {
        shown.numbers(view, area, on);
    }
    (columns, rows)
}

/// Columns and rows of a picture: as large as it fits, never more than a cell to two of its dots; `None` where that is too
/// little.
pub(super) fn cells(small: &SmallPicture, area: Rect) -> Option<(u16, u16)> {
    let (width, height) = (small.width as f64, small.height as f64);
    let most = f64::from(area.width).min(f64::from(area.height) * 2.0 * width / height);
    let (columns, rows) = (most.floor() as u16, (most * height / width / 2.0).round() as u16);
    (columns >= LEAST.0.min(small.width as u16)
        && rows >= LEAST.1.min(small.height as u16)
        && rows <= area.height)
        .then_some((columns, rows.max(1)))
}

struct Shown<'a> {
    small: &'a SmallPicture,
    columns: u16,
    rows: u16,
    picked: Option<usize>,
}

impl Shown<'_> {
    /// The dot behind a place, counted in columns and half rows.
    fn dot(&self, x: u16, y: u16) -> Option<(Rgb8, Option<u8>)> {
        let share =
            |at: u16, of: u16, dots: usize| (usize::from(at) * 2 + 1) * dots / (usize::from(of) * 2).max(1);
        self.small.at(share(x, self.columns, self.small.width), share(y, self.rows * 2, self.small.height))
    }

    fn is_picked(&self, of: Option<u8>) -> bool {
        of.is_some() && of.map(usize::from) == self.picked
    }

    fn cell(&self, model: &Model, (x, y): (u16, u16), area: Rect, on: &mut Surface) {
        let (Some(upper), Some(lower)) = (self.dot(x, y * 2), self.dot(x, y * 2 + 1)) else { return };
        let eyes = model.palette.eyes();
        let colour = |ink: Rgb8| {
            let ink = eyes.as_ref().map_or(ink, |eyes| eyes.hex(ink));
            match paint(ink, ink.lab(), on.look.depth) {
                Paint::Exact(colour) | Paint::Near(colour) => colour,
                Paint::None => Color::Reset,
            }
        };
        let (above, below) = (colour(upper.0), colour(lower.0));
        let half = on.look.glyphs.halves.map_or(" ", |[half, ..]| half);
        let place = (area.x + x, area.y + y);
        let Some(cell) = on.buf.cell_mut(place) else { return };
        cell.reset();
        cell.set_symbol(half).set_style(Style::new().fg(above).bg(below));
        // Every second place in both directions, so that the picture is still seen.
        if self.is_picked(upper.1) && self.is_picked(lower.1) && x % 4 == 2 * (y % 2) {
            over(on.buf, place, on.look.glyphs.dot, on.look.theme.text);
        }
    }

    fn number(&self, view: &PhotoView, (x, y): (u16, u16), area: Rect, on: &mut Surface) {
        let of = self.dot(x, y * 2).and_then(|(_, of)| of).filter(|n| usize::from(*n) < view.rows.len());
        let sign = of.and_then(|n| char::from_digit(u32::from(n) + 1, 36)).unwrap_or(' ');
        let style = if self.is_picked(of) { on.look.theme.picked } else { on.look.theme.dim };
        on.buf.set_string(area.x + x, area.y + y, sign.to_string(), style);
    }

    /// The number of each colour in its midst; the picked one as rows are picked.
    fn numbers(&self, view: &PhotoView, area: Rect, on: &mut Surface) {
        for n in (0..view.rows.len()).filter_map(|n| u8::try_from(n).ok()) {
            let Some((x, y)) = self.small.midst(n) else { continue };
            let x = (x * usize::from(self.columns) / self.small.width.max(1)) as u16;
            let y = (y * usize::from(self.rows) / self.small.height.max(1)) as u16;
            let words = format!(" {} ", usize::from(n) + 1);
            let x = x.saturating_sub(1).min(self.columns.saturating_sub(words.len() as u16));
            let y = y.min(self.rows - 1);
            if self.is_picked(Some(n)) {
                let place = Rect { x: area.x + x, y: area.y + y, width: words.len() as u16, height: 1 };
                on.clear(place);
                on.put(place, 0, 0, &[run(words, on.look.theme.picked)]);
            } else {
                on.put_over(area, (x, y), &words, on.look.theme.title);
            }
        }
    }
}
