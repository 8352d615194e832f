//! The panel as it lies on the person's trimmer: the edge that is set where that trimmer has it, the blade where it comes down.
//!
//! ```text
//! fence, left edge       top rail, right edge;      stop behind the blade, top edge
//! #-------.--------+     mark left, top edge        #################
//! # piece .  panel |     ##################+        |     piece     |
//! #       .        |     | piece .  panel |         |...............|
//! #-------.--------+     +-------.--------+         |     panel     |
//! ```

use crate::app::state::bench::RunSpot;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::lying::Lying;
use crate::domain::cutting::step::CutPart;
use crate::domain::cutting::trimmer_profile::SetBy;
use crate::domain::cutting::words::kind_word;
use crate::domain::length::Length;
use crate::domain::size::Size;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::scaled;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// The bar of what the panel lies against: fence, stop, or the rail of a ruler. It is no cut, and does not look like one.
pub fn reference(set_by: SetBy, columns: u16, rows: u16, room: Rect, on: &mut Surface) {
    let (down, across) = if on.look.glyphs.halves.is_some() { ("▌", "▀") } else { ("[", "^") };
    let style = on.look.theme.dim;
    match set_by {
        SetBy::Fence => (0..=rows).for_each(|y| _ = on.put(room, 0, y, &[run(down, style)])),
        SetBy::Stop | SetBy::RulerLeft | SetBy::RulerRight => {
            on.put(room, 0, 0, &[run(across.repeat(usize::from(columns) + 1), style)]);
        }
    }
}

/// Draws the panel of a step.
pub fn draw_panel(spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let (step, theme) = (spot.step, &on.look.theme);
    let lying = step.profile.lying(step.from, step.edge);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let Some((columns, rows)) = scaled(lying.size(), room) else { return };
    on.put(area, 0, 0, &[run(step.lies_words(), theme.dim)]);
    let mut canvas = Canvas::new(columns + 1, rows + 1);
    canvas.frame(0, 0, columns, rows);
    let side = step.profile.set_by.side();
    let blades = Blades { lying, side, columns, rows };
    for n in 1..=i64::from(step.each) {
        blades.draw(step.fence * n, n == 1, &mut canvas);
    }
    canvas.draw(room, on.buf, on.look);
    reference(step.profile.set_by, columns, rows, room, on);
    let (first, last) = (blades.cell(step.fence), blades.cell(step.fence * i64::from(step.each)));
    let (set, rest) = blades.labels(first, last);
    let piles = spot.sheet.piles();
    // A panel bears the letter of the pile that it is laid on, as in the sentences below.
    let word = |(kind, size): (CutPart, Size)| {
        let letter = if kind == CutPart::Panel { piles.letter(size) } else { None };
        letter.map_or_else(|| kind_word(kind).to_owned(), |letter| format!("pile {letter}"))
    };
    // Both alike: where one has room for its letter alone, the other has no more.
    let is_whole = |part: (CutPart, Size), room: u16| text::width(&word(part)) < usize::from(room);
    let (set_fits, rest_fits) = (is_whole(step.part, set.2), is_whole(step.rest, rest.2));
    let fits = |part: (CutPart, Size), room: u16| {
        let whole = word(part);
        let letter = whole.strip_prefix("pile ").map(str::to_owned);
        match letter {
            _ if room == 0 => String::new(),
            Some(letter) if !(set_fits && rest_fits) => letter,
            _ if text::width(&whole) < usize::from(room) => whole,
            _ => String::new(),
        }
    };
    on.put(room, set.0, set.1, &[run(fits(step.part, set.2), theme.good)]);
    on.put(room, rest.0, rest.1, &[run(fits(step.rest, rest.2), theme.dim)]);
}

/// Where the cuts of a step fall in the drawing.
struct Blades {
    lying: Lying,
    side: Edge,
    columns: u16,
    rows: u16,
}

impl Blades {
    /// The column or row of a cut so far from the edge that is set.
    fn cell(&self, from: Length) -> u16 {
        let size = self.lying.size();
        let (of, cells) = match self.side {
            Edge::Left | Edge::Right => (size.width, self.columns),
            Edge::Top | Edge::Bottom => (size.height, self.rows),
        };
        let at = (from.units() as f64 / of.units().max(1) as f64 * f64::from(cells)).round() as u16;
        if matches!(self.side, Edge::Right | Edge::Bottom) { cells.saturating_sub(at) } else { at }
    }

    fn draw(&self, from: Length, is_heavy: bool, canvas: &mut Canvas) {
        let at = self.cell(from);
        match self.side {
            Edge::Left | Edge::Right => canvas.down(at, 0, self.rows, is_heavy),
            Edge::Top | Edge::Bottom => canvas.across(at, 0, self.columns, is_heavy),
        }
    }

    /// Column, row and free columns for the word of the part that is set and for that of what remains.
    fn labels(&self, first: u16, last: u16) -> ((u16, u16, u16), (u16, u16, u16)) {
        let middle = self.rows / 2;
        match self.side {
            Edge::Left => (
                (2, middle, first.saturating_sub(2)),
                (last + 2, middle, self.columns.saturating_sub(last + 2)),
            ),
            Edge::Right => (
                (first + 2, middle, self.columns.saturating_sub(first + 2)),
                (2, middle, last.saturating_sub(2)),
            ),
            Edge::Top | Edge::Bottom => {
                let wide = |free: bool| if free { self.columns.saturating_sub(2) } else { 0 };
                let rest = u16::midpoint(last, self.rows).max(last + 1);
                ((2, (first / 2).max(1), wide(first > 1)), (2, rest, wide(rest < self.rows)))
            }
        }
    }
}
