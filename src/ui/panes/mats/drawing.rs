//! The card to scale: nested layers in their papers' colours, or hatched where no colour can be shown; the flat base with
//! its scores; what is made beside the card with its cuts and scores.

use crate::app::model::Model;
use crate::domain::cards::construction::{Construction, Line, LineKind};
use crate::domain::cards::fold::Side;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cards::reveal::Reveal;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::length::Length;
use crate::domain::project::{CardColour, ProjectCard};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;
use crate::ui::colours::{Paint, paint};
use crate::ui::look::Look;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::scaled;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};

/// Hatches of the layers, from the first mat inward, where colours cannot be shown.
const HATCHES: [&str; 6] = ["░", "╱", "·", "▒", "╲", "▓"];
/// The same where only ASCII is drawn.
const ASCII_HATCHES: [&str; 6] = [".", "/", ":", "+", "\\", "%"];

/// First column and row, last column and row.
pub(in crate::ui::panes) type Cells = (u16, u16, u16, u16);

/// From lengths to cells of an area.
pub(in crate::ui::panes) struct Scale {
    size: Size,
    pub columns: u16,
    pub rows: u16,
}

impl Scale {
    pub fn of(size: Size, area: Rect) -> Option<Self> {
        scaled(size, area).map(|(columns, rows)| Self { size, columns, rows })
    }

    fn x(&self, at: Length) -> u16 {
        share(at, self.size.width, self.columns)
    }

    fn y(&self, at: Length) -> u16 {
        share(at, self.size.height, self.rows)
    }

    /// First and last column and row of a rectangle.
    pub fn cells(&self, x: Length, y: Length, size: Size) -> Cells {
        (self.x(x), self.y(y), self.x(x + size.width), self.y(y + size.height))
    }
}

fn share(at: Length, whole: Length, cells: u16) -> u16 {
    let share = at.units() as f64 / whole.units().max(1) as f64;
    (share * f64::from(cells)).round().clamp(0.0, f64::from(cells)) as u16
}

fn is_ascii(look: &Look) -> bool {
    look.glyphs.ellipsis.is_ascii()
}

pub(in crate::ui::panes) fn hatch(n: usize, look: &Look) -> &'static str {
    let all = if is_ascii(look) { ASCII_HATCHES } else { HATCHES };
    all[n % all.len()]
}

/// The colour of a paper or of the swatch chosen instead.
fn colour(model: &Model, swatch: Option<&CardColour>, paper: Option<ItemId>, look: &Look) -> Paint {
    let book = &model.book;
    let id = match swatch {
        Some(CardColour::Swatch(id)) => Some(*id),
        Some(CardColour::Named(_)) => None,
        None => paper.and_then(|id| book.items().get(id)).and_then(|i| i.swatch),
    };
    let Some(swatch) = id.and_then(|id| book.swatches().get(id)) else { return Paint::None };
    let ([l, a, b], [red, green, blue]) = (swatch.lab, swatch.hex);
    paint(Rgb8::new(red, green, blue), Lab::new(l, a, b), look.depth)
}

pub(in crate::ui::panes) fn fill(paint: Paint, sign: &str, cells: Cells, area: Rect, on: &mut Surface) {
    let (x0, y0, x1, y1) = cells;
    for y in y0..=y1 {
        for x in x0..=x1 {
            if x >= area.width || y >= area.height {
                continue;
            }
            match paint {
                Paint::Exact(_) | Paint::Near(_) => {
                    on.buf.set_string(area.x + x, area.y + y, " ", paint.block(1).1);
                }
                Paint::None => on.buf.set_string(area.x + x, area.y + y, sign, on.look.theme.offcut),
            }
        }
    }
}

/// Keeps a layer one cell inside what it lies on wherever some of that shows: a reveal thinner than a cell would
/// otherwise not be seen at all.
pub(in crate::ui::panes) fn inside(cells: Cells, below: Cells, reveal: &Reveal) -> Cells {
    let shows = |reveal: Length| u16::from(reveal.is_positive());
    let (x0, x1) = apart((cells.0, cells.2), (below.0, below.2), shows(reveal.left), shows(reveal.right));
    let (y0, y1) = apart((cells.1, cells.3), (below.1, below.3), shows(reveal.top), shows(reveal.bottom));
    (x0, y0, x1, y1)
}

/// One direction of it; left as it is where there is no room to keep apart.
fn apart(at: (u16, u16), below: (u16, u16), first: u16, last: u16) -> (u16, u16) {
    let (from, to) = (at.0.max(below.0 + first), at.1.min(below.1.saturating_sub(last)));
    if from < to { (from, to) } else { at }
}

/// The front with its layers nested to scale; the one in hand is heavy.
pub(super) fn nested(model: &Model, area: Rect, on: &mut Surface) {
    let (book, unit) = (&model.book, model.screen.unit);
    if let Ok(sizes) = model.mats.sizes(book, unit) {
        front_of(model, (model.mats.card(book), &sizes), model.mats.picked_layer(book), area, on);
    }
}

/// The front of any card of the book with its layers, as large as the area lets it be.
pub(in crate::ui::panes) fn front_of(
    model: &Model,
    (card, sizes): (&ProjectCard, &[LayerSize]),
    picked: Option<usize>,
    area: Rect,
    on: &mut Surface,
) {
    let Some(scale) = Scale::of(card.face, area) else { return };
    let front = (0, 0, scale.columns, scale.rows);
    fill(colour(model, None, card.base_item(), on.look), " ", front, area, on);
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    canvas.frame(0, 0, scale.columns, scale.rows);
    let mut label = None;
    let mut drawn: Vec<Cells> = Vec::with_capacity(sizes.len());
    for (n, (layer, s)) in card.layers.iter().zip(sizes).enumerate() {
        let below = s.on.and_then(|on| drawn.get(on).copied()).unwrap_or(front);
        let cells = inside(scale.cells(s.x, s.y, s.exact), below, &s.reveal);
        drawn.push(cells);
        fill(colour(model, layer.colour.as_ref(), layer.item(), on.look), hatch(n, on.look), cells, area, on);
        border(&mut canvas, cells, picked == Some(n));
        if picked == Some(n) {
            label = Some((n, cells));
        }
        if let Some(o) = s.opening {
            let inner = scale.cells(s.x + o.x, s.y + o.y, o.size);
            fill(colour(model, None, layer.insert_item(), on.look), hatch(n + 2, on.look), inner, area, on);
            border(&mut canvas, inner, picked == Some(n));
        }
    }
    canvas.draw(area, on.buf, &on.look.glyphs, on.look.theme.line, on.look.theme.cut);
    if let Some((n, (x0, y0, x1, _))) = label {
        name(&card.layer_name(n), x0, y0, x1, area, on);
    }
}

pub(in crate::ui::panes) fn border(canvas: &mut Canvas, (x0, y0, x1, y1): Cells, heavy: bool) {
    canvas.across(y0, x0, x1, heavy);
    canvas.across(y1, x0, x1, heavy);
    canvas.down(x0, y0, y1, heavy);
    canvas.down(x1, y0, y1, heavy);
}

/// A style for what is written over a line: a faint line must not make it faint.
pub(super) const fn over_a_line(style: Style) -> Style {
    style.remove_modifier(Modifier::DIM)
}

/// A name on the upper border, where it has room.
fn name(words: &str, x0: u16, y0: u16, x1: u16, area: Rect, on: &mut Surface) {
    let words = format!(" {words} ");
    if text::width(&words) + 2 < usize::from(x1.saturating_sub(x0)) {
        on.put(area, x0 + 2, y0, &[run(words, over_a_line(on.look.theme.cut))]);
    }
}

/// The base lying flat with its scores.
pub(super) fn base(model: &Model, area: Rect, on: &mut Surface) {
    let Ok(worked) = model.mats.worked(&model.book, model.screen.unit) else { return };
    let size = worked.base.size;
    let Some(scale) = Scale::of(size, area) else { return };
    let card = model.mats.card(&model.book);
    let whole = (0, 0, scale.columns, scale.rows);
    fill(colour(model, None, card.base_item(), on.look), " ", whole, area, on);
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    canvas.frame(0, 0, scale.columns, scale.rows);
    for score in &worked.base.scores {
        match score.side {
            Side::Width => canvas.down(scale.x(score.at), 0, scale.rows, true),
            Side::Height => canvas.across(scale.y(score.at), 0, scale.columns, true),
        }
    }
    canvas.draw(area, on.buf, &on.look.glyphs, on.look.theme.line, on.look.theme.cut);
    name("base, flat", 0, 0, scale.columns, area, on);
    let unit = model.screen.unit;
    for score in &worked.base.scores {
        let words = score.at.about(unit);
        let (x, y) = match score.side {
            Side::Width => (scale.x(score.at) + 1, scale.rows / 2),
            Side::Height => (scale.columns / 2, scale.y(score.at).saturating_sub(1)),
        };
        on.put(area, x, y, &[run(words, on.look.theme.cut)]);
    }
}

/// What is made beside the card, one below the other: blank, cuts heavy, scores light.
pub(super) fn constructions(made: &[Construction], area: Rect, on: &mut Surface) {
    let each = area.height / (made.len().max(1) as u16);
    for (n, one) in made.iter().enumerate() {
        let part = Rect { y: area.y + each * n as u16, height: each.saturating_sub(1).max(1), ..area };
        construction(one, part, on);
    }
}

fn construction(made: &Construction, area: Rect, on: &mut Surface) {
    let Some(scale) = Scale::of(made.blank, area) else { return };
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    canvas.frame(0, 0, scale.columns, scale.rows);
    for line in &made.lines {
        let heavy = line.kind == LineKind::Cut;
        let (x0, y0, x1, y1) = (scale.x(line.x0), scale.y(line.y0), scale.x(line.x1), scale.y(line.y1));
        if line.x0 == line.x1 {
            canvas.down(x0, y0.min(y1), y0.max(y1), heavy);
        } else if line.y0 == line.y1 {
            canvas.across(y0, x0.min(x1), x0.max(x1), heavy);
        }
    }
    canvas.draw(area, on.buf, &on.look.glyphs, on.look.theme.line, on.look.theme.cut);
    for line in made.lines.iter().filter(|l| l.x0 != l.x1 && l.y0 != l.y1) {
        slant(line, &scale, area, on);
    }
    name(made.name, 0, 0, scale.columns, area, on);
}

/// A line that runs aslant, one sign in each row and column that it crosses.
fn slant(line: &Line, scale: &Scale, area: Rect, on: &mut Surface) {
    let (x0, y0) = (f64::from(scale.x(line.x0)), f64::from(scale.y(line.y0)));
    let (x1, y1) = (f64::from(scale.x(line.x1)), f64::from(scale.y(line.y1)));
    let rises = (x1 - x0) * (y1 - y0) < 0.0;
    let sign = match (rises, is_ascii(on.look)) {
        (true, true) => "/",
        (false, true) => "\\",
        (true, false) => "╱",
        (false, false) => "╲",
    };
    let style = if line.kind == LineKind::Cut { on.look.theme.cut } else { on.look.theme.text };
    let steps = (x1 - x0).abs().max((y1 - y0).abs()).max(1.0);
    for n in 0..=steps as u16 {
        let part = f64::from(n) / steps;
        let (x, y) = ((x0 + (x1 - x0) * part).round() as u16, (y0 + (y1 - y0) * part).round() as u16);
        if x < area.width && y < area.height {
            on.buf.set_string(area.x + x, area.y + y, sign, style);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thin_reveal_is_still_seen() {
        let sixteenth = Reveal::all(Length::sixteenths(1));
        assert_eq!(inside((0, 0, 20, 10), (0, 0, 20, 10), &sixteenth), (1, 1, 19, 9));
        let flush = Reveal::sides(Length::ZERO, Length::sixteenths(8), Length::ZERO, Length::ZERO);
        assert_eq!(inside((0, 0, 20, 3), (0, 0, 20, 10), &flush), (0, 1, 20, 3));
        assert_eq!(inside((0, 0, 1, 1), (0, 0, 1, 1), &sixteenth), (0, 0, 1, 1), "no room to keep apart");
    }
}
