//! The card to scale: nested layers in their papers' colours, or hatched where no colour can be shown; the flat base with
//! its scores.

use crate::app::model::Model;
use crate::domain::cards::fold::Side;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cards::on_base::{OnBase, front_on};
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::Length;
use crate::domain::pages::measure::Um;
use crate::domain::paper_look::PaperLook;
use crate::domain::project::ProjectCard;
use crate::domain::size::Size;
use crate::ui::ground;
use crate::ui::look::Look;
use crate::ui::painting::{Painted, shade_of};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::scaled;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

/// First column and row, last column and row.
pub(in crate::ui::panes) type Cells = (u16, u16, u16, u16);

/// From lengths to cells of an area.
pub(in crate::ui::panes) struct Scale {
    size: Size,
    pub columns: u16,
    pub rows: u16,
}

impl Scale {
    /// What one column stands for, in micrometres.
    pub fn across(&self) -> Um {
        self.size.width.micrometres() / Um::from(self.columns.max(1))
    }

    pub fn of(size: Size, area: Rect) -> Option<Self> {
        scaled(size, area).map(|(columns, rows)| Self { size, columns, rows })
    }

    /// Of a size that fills an area, its lines lying on the area's outermost cells.
    pub const fn filling(size: Size, area: Rect) -> Self {
        Self { size, columns: area.width.saturating_sub(1), rows: area.height.saturating_sub(1) }
    }

    pub fn x(&self, at: Length) -> u16 {
        share(at, self.size.width, self.columns)
    }

    pub fn y(&self, at: Length) -> u16 {
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

/// The cells that one of several takes of a room which the largest of them fills: columns and rows by the one scale.
pub(super) fn taken(size: Size, largest: Size, room: Rect) -> Rect {
    let Some((columns, rows)) = scaled(largest, room) else { return Rect { width: 0, height: 0, ..room } };
    let width = share(size.width, largest.width, columns).max(3) + 1;
    Rect { width, height: share(size.height, largest.height, rows).max(1) + 1, ..room }
}

/// How far the proportion of what is drawn within lines is from that of its size: nothing where it is true, 0.1 where it is a
/// tenth too wide or too high.
pub(super) fn distortion(size: Size, place: Rect) -> f64 {
    let cells = |n: u16| f64::from(n.saturating_sub(1).max(1));
    let drawn = cells(place.width) / (2.0 * cells(place.height));
    let is = size.width.units() as f64 / size.height.units().max(1) as f64;
    (drawn / is).ln().abs()
}

/// Up to this far nobody sees that a proportion is not true.
pub(super) const SLIGHT: f64 = 0.05;

/// Columns of a card from which on rims of different reveals differ.
const FINE: u16 = 30;
/// What of a cell a rim may lack before it has one more.
const SLACK: f64 = 0.25;

impl Scale {
    /// Half rows of the whole: half a row is as high as a column is wide.
    const fn halves(&self) -> u16 {
        2 * self.rows + 1
    }

    /// Columns, or half rows, of a rim as wide as a reveal: one at least, and in a large drawing more for a wider one.
    fn rim(&self, reveal: Length) -> u16 {
        let cells = reveal.units() as f64 / self.size.width.units().max(1) as f64 * f64::from(self.columns);
        match (reveal.is_positive(), self.columns >= FINE) {
            (false, _) => 0,
            (true, false) => 1,
            (true, true) => ((cells - SLACK).ceil() as u16).max(1),
        }
    }
}

/// Keeps a layer one cell inside what it lies on wherever some of that shows: a reveal thinner than a cell would
/// otherwise not be seen at all.
fn inside(cells: Cells, below: Cells, reveal: &Reveal) -> Cells {
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

/// The papers that a card's parts wear, as they are painted here.
pub(in crate::ui::panes) struct Worn {
    pub base: Painted,
    pub layers: Vec<Painted>,
    /// What shows behind each layer's opening.
    pub inserts: Vec<Painted>,
}

impl Worn {
    /// Its own papers.
    pub fn by(model: &Model, card: &ProjectCard, look: &Look) -> Self {
        let (book, eyes) = (&model.book, model.palette.eyes());
        let painted = |paper: PaperLook, n| Painted::new(paper, n, eyes.as_ref(), look);
        // As dark as its chip in the list; what has no colour is told from its neighbours.
        let shaded = |paper: PaperLook, n: Option<usize>| {
            let hatch = shade_of(&paper, look).or(n);
            painted(paper, hatch)
        };
        let layers = card.layers.iter().enumerate();
        Self {
            base: shaded(PaperLook::of_base(book, card), None),
            layers: layers.clone().map(|(n, l)| shaded(PaperLook::of_layer(book, l), Some(n))).collect(),
            inserts: layers.map(|(n, l)| painted(PaperLook::of_insert(book, l), Some(n + 2))).collect(),
        }
    }
}

/// The front with its layers nested to scale, the one in hand heavy; returns the columns and rows it takes.
pub(super) fn nested(model: &Model, area: Rect, on: &mut Surface) -> (u16, u16) {
    let (book, unit) = (&model.book, model.screen.unit);
    let card = model.mats.card(book);
    let Ok(sizes) = model.mats.sizes(book, unit) else { return (0, 0) };
    let picked = model.mats.picked_layer(book);
    let worn = Worn::by(model, card, on.look);
    let Some(drawn) = front(card.face, &sizes, &worn, (area, picked), on) else { return (0, 0) };
    if let Some((n, cells)) = picked.and_then(|n| Some((n, drawn.get(n).copied()?))) {
        let ground = worn.layers.get(n).and_then(Painted::ground);
        if !name_on(&card.layer_name(n), cells, (area, ground), on)
            && let Some(ground) = ground
        {
            sign_on(cells, (area, ground), on);
        }
    }
    Scale::of(card.face, area).map_or((0, 0), |s| (s.columns + 1, s.rows + 1))
}

/// Draws a front with its layers; returns the cells of each layer, `None` where there is no room.
pub(in crate::ui::panes) fn front(
    face: Size,
    sizes: &[LayerSize],
    worn: &Worn,
    (area, picked): (Rect, Option<usize>),
    on: &mut Surface,
) -> Option<Vec<Cells>> {
    let scale = Scale::of(face, area)?;
    let mut parts = vec![Part::base((0, 0, scale.columns, scale.rows), &worn.base, on.look)];
    for (s, paper) in sizes.iter().zip(&worn.layers) {
        let below = s.on.map_or(0, |on| on + 1);
        let Some(under) = parts.get(below) else { break };
        let part = under.with(&scale, (s.x, s.y, s.exact), &s.reveal, (below, paper));
        parts.push(part);
    }
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    for (n, (part, is_lined)) in parts.iter().zip(lined(&parts)).enumerate() {
        let is_picked = picked.is_some_and(|picked| picked + 1 == n);
        part.fill(scale.across(), area, on);
        // Without a line its name says that it is in hand, or bars where that has no room.
        if is_lined {
            border(&mut canvas, part.cells, is_picked);
        }
        let Some((s, insert)) = n.checked_sub(1).and_then(|n| sizes.get(n).zip(worn.inserts.get(n))) else {
            continue;
        };
        if let Some(o) = s.opening {
            let inner = scale.cells(s.x + o.x, s.y + o.y, o.size);
            insert.fill(rect(inner, area), scale.across(), on);
            border(&mut canvas, inner, is_picked);
        }
    }
    canvas.draw(area, on.buf, on.look);
    letters(&parts, area, on);
    Some(parts.into_iter().skip(1).map(|part| part.cells).collect())
}

/// A part as it is drawn: its cells, the half rows that it covers, the part that it lies on, the base being the first, and its
/// paper.
struct Part<'a> {
    cells: Cells,
    halves: (u16, u16),
    on: usize,
    paper: &'a Painted,
    /// Its colour tells it from what it lies on: it needs no line, and its edges may lie in the middle of a row.
    is_soft: bool,
    /// The signs have halves of a cell.
    has_halves: bool,
}

impl<'a> Part<'a> {
    /// What all others lie on. On a screen of its own colour it would be lost without a line.
    fn base(cells: Cells, paper: &'a Painted, look: &Look) -> Self {
        let is_seen = paper.ground().is_some_and(|ground| !ground::is_lost(ground, look));
        let has_halves = look.glyphs.halves.is_some();
        let is_soft = is_seen && has_halves;
        Self { cells, halves: halves_of(cells), on: 0, paper, is_soft, has_halves }
    }

    /// A layer on this part, its rim as wide at top and bottom as it is at the sides.
    fn with(
        &self,
        scale: &Scale,
        (x, y, size): (Length, Length, Size),
        reveal: &Reveal,
        (on, paper): (usize, &'a Painted),
    ) -> Self {
        let both = paper.ground().zip(self.paper.ground());
        let is_soft = both.is_some_and(|(own, below)| !ground::are_alike(own, below)) && self.has_halves;
        if !is_soft {
            let cells = inside(scale.cells(x, y, size), self.whole_rows(), reveal);
            return Self { cells, halves: halves_of(cells), on, paper, is_soft, has_halves: self.has_halves };
        }
        let columns = (scale.x(x), scale.x(x + size.width));
        let below = (self.cells.0, self.cells.2);
        let (x0, x1) = apart(columns, below, scale.rim(reveal.left), scale.rim(reveal.right));
        let at = |at: Length| share(at, scale.size.height, scale.halves());
        // A line round what it lies on has the whole of its rows.
        let least = |reveal: Length| match scale.rim(reveal) {
            0 => 0,
            n if self.is_soft => n,
            n => n.max(2),
        };
        let rows = (at(y), at(y + size.height));
        let halves = apart(rows, self.halves, least(reveal.top), least(reveal.bottom));
        let cells = (x0, halves.0 / 2, x1, halves.1 / 2);
        Self { cells, halves, on, paper, is_soft, has_halves: self.has_halves }
    }

    /// The rows that it covers whole.
    const fn whole_rows(&self) -> Cells {
        let last = self.halves.1.saturating_sub(1) / 2;
        let first = self.halves.0.div_ceil(2);
        (self.cells.0, if first < last { first } else { last }, self.cells.2, last)
    }

    /// Paints it; a half row at its upper or lower edge is its ground.
    fn fill(&self, across: Um, area: Rect, on: &mut Surface) {
        let whole = if self.is_soft { self.whole_rows() } else { self.cells };
        // A part within two halves of two rows has no whole row.
        if 2 * self.halves.0.div_ceil(2) < self.halves.1 || !self.is_soft {
            self.paper.fill(rect(whole, area), across, on);
        }
        let Some(ground) = self.paper.ground().filter(|_| self.is_soft) else { return };
        let (first, last) = self.halves;
        let edges = [(first % 2 == 1).then_some(first), last.is_multiple_of(2).then_some(last)];
        for at in edges.into_iter().flatten().filter(|at| at / 2 < area.height) {
            for x in (self.cells.0..=self.cells.2).filter(|x| *x < area.width) {
                ground::half(on.buf, (area.x + x, area.y + at / 2), at % 2 == 0, ground, on.look);
            }
        }
    }
}

/// The half rows of cells.
const fn halves_of(cells: Cells) -> (u16, u16) {
    (2 * cells.1, 2 * cells.3 + 1)
}

/// Which parts have a line round them: all but those that their colour tells, and those of which hardly more than a rim of one
/// cell shows and whose hatch alone tells the paper. The line would hide it.
fn lined(parts: &[Part]) -> Vec<bool> {
    let mut lined: Vec<bool> = Vec::with_capacity(parts.len());
    for (n, part) in parts.iter().enumerate() {
        if part.is_soft {
            lined.push(false);
            continue;
        }
        let below = parts.get(part.on).filter(|_| n > 0 && !lined.get(part.on).copied().unwrap_or(true));
        let is_alike = below.is_some_and(|below| below.paper.rim() == part.paper.rim());
        lined.push(part.paper.rim().is_none() || is_alike || !is_rim(parts, n));
    }
    lined
}

/// True where a part on the n-th leaves one cell of it on some side.
fn is_rim(parts: &[Part], n: usize) -> bool {
    let Some(below) = parts.get(n).map(|part| part.cells) else { return false };
    let leaves_one = |(x0, y0, x1, y1): Cells| {
        x0 == below.0 + 1 || y0 == below.1 + 1 || x1 + 1 == below.2 || y1 + 1 == below.3
    };
    parts.iter().skip(n + 1).any(|over| over.on == n && leaves_one(over.cells))
}

/// The letters of patterns that have no room within their part: on its upper border.
fn letters(parts: &[Part], area: Rect, on: &mut Surface) {
    for (n, part) in parts.iter().enumerate() {
        let (x0, y0, x1, y1) = part.cells;
        let has_room = x1 > x0 + 2 && y1 > y0 + 1 && !is_rim(parts, n);
        if let Some(letter) = part.paper.told().filter(|_| !has_room && x1 > x0 + 1) {
            on.put_over(area, (x1 - 1, y0), &letter.to_string(), over_a_line(on.look.theme.text));
            part.paper.is_lettered_on(on);
        }
    }
}

/// Cells of a drawing on the screen, cut to its area.
pub(in crate::ui::panes) fn rect((x0, y0, x1, y1): Cells, area: Rect) -> Rect {
    Rect::new(area.x + x0, area.y + y0, x1 - x0 + 1, y1 - y0 + 1).intersection(area)
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

/// The name of a layer on its upper edge and on its own color; false where it has no room.
fn name_on(words: &str, cells: Cells, (area, ground): (Rect, Option<Color>), on: &mut Surface) -> bool {
    if !has_name_room(words, cells) {
        return false;
    }
    match ground {
        None => name(words, cells, area, on),
        Some(ground) => {
            let style = ground::on_ground(on.look.theme.cut, ground);
            on.put(
                Rect { y: area.y + cells.1, height: 1, ..area },
                cells.0 + 2,
                0,
                &[run(format!(" {words} "), style)],
            );
        }
    }
    true
}

fn has_name_room(words: &str, (x0, _, x1, _): Cells) -> bool {
    text::width(words) + 4 < usize::from(x1.saturating_sub(x0))
}

/// The sign of what is picked, half way down a part's left side: the one in hand, where its name has no room.
fn sign_on((x0, y0, _, y1): Cells, (area, ground): (Rect, Color), on: &mut Surface) {
    let style = ground::on_ground(on.look.theme.mark, ground);
    on.put(area, x0, y0.midpoint(y1), &[run(on.look.glyphs.pick, style)]);
}

/// A name on the upper border, where it has room.
pub(super) fn name(words: &str, cells: Cells, area: Rect, on: &mut Surface) {
    if has_name_room(words, cells) {
        on.put_over(area, (cells.0 + 2, cells.1), &format!(" {words} "), on.look.theme.cut);
    }
}

/// The base lying flat, outside up, with its scores and the front's layers where they are glued; returns the columns and
/// rows it takes.
pub(super) fn base(model: &Model, area: Rect, on: &mut Surface) -> (u16, u16) {
    let Ok(worked) = model.mats.worked(&model.book, model.screen.unit) else { return (0, 0) };
    let size = worked.base.size;
    let Some(scale) = Scale::of(size, area) else { return (0, 0) };
    let card = model.mats.card(&model.book);
    let whole = (0, 0, scale.columns, scale.rows);
    let worn = Worn::by(model, card, on.look);
    let across = scale.across();
    worn.base.fill(rect(whole, area), across, on);
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    // Columns before the first layer, where the name lies on none.
    let mut free = scale.columns;
    for part in front_on(&worked.base, card.face, &card.fold) {
        let mut front = Part::base(scale.cells(part.x, part.y, part.part.size), &worn.base, on.look);
        // The line round the base is drawn for itself.
        front.is_soft = worn.base.ground().is_some() && on.look.glyphs.halves.is_some();
        let mut drawn = vec![front];
        // Where each layer stands among what is drawn.
        let mut places = vec![0];
        for (layer, paper) in worked.layers.iter().zip(&worn.layers) {
            places.push(drawn.len());
            let Some((x, y, size)) = clipped(&part, layer.x, layer.y, layer.exact) else { continue };
            let below = places.get(layer.on.map_or(0, |on| on + 1)).copied().unwrap_or(0);
            let Some(under) = drawn.get(below) else { continue };
            let one = under.with(&scale, (x, y, size), &shown(&part, layer), (below, paper));
            drawn.push(one);
        }
        for (part, is_lined) in drawn.iter().zip(lined(&drawn)).skip(1) {
            part.fill(across, area, on);
            free = free.min(part.cells.0);
            if is_lined {
                border(&mut canvas, part.cells, false);
            }
        }
    }
    if !Part::base(whole, &worn.base, on.look).is_soft {
        canvas.frame(0, 0, scale.columns, scale.rows);
    }
    for score in &worked.base.scores {
        match score.side {
            Side::Width => canvas.down(scale.x(score.at), 0, scale.rows, true),
            Side::Height => canvas.across(scale.y(score.at), 0, scale.columns, true),
        }
    }
    canvas.draw(area, on.buf, on.look);
    base_name((free, scale.rows), area, on);
    let unit = model.screen.unit;
    let parts = front_on(&worked.base, card.face, &card.fold);
    for score in &worked.base.scores {
        let words = score.at.about(unit);
        // Beside the front's layers rather than on them.
        let is_front = |p: &OnBase| p.x < score.at && p.x + p.part.size.width >= score.at;
        let wide = text::width(&words) as u16 + 2;
        let left = scale.x(score.at).checked_sub(wide).filter(|_| !parts.iter().any(is_front));
        let (x, y) = match score.side {
            // Within the drawing, or not at all.
            Side::Width if left.is_none() && scale.x(score.at) + wide > scale.columns => continue,
            Side::Width => (left.unwrap_or(scale.x(score.at) + 1), scale.rows / 2),
            Side::Height => (scale.columns / 2, scale.y(score.at).saturating_sub(1)),
        };
        on.put_over(area, (x, y), &format!(" {words} "), on.look.theme.cut);
    }
    (scale.columns + 1, scale.rows + 1)
}

/// What it is: on its upper edge, or below that where only half of the base is free of layers.
fn base_name((free, rows): (u16, u16), area: Rect, on: &mut Surface) {
    let words = "base, flat";
    if has_name_room(words, (0, 0, free, 0)) {
        name(words, (0, 0, free, 0), area, on);
    } else if text::width(words) + 1 < usize::from(free) && rows >= 4 {
        on.put_over(area, (1, 1), words, on.look.theme.cut);
    }
}

/// Of the reveals of a layer those that a part of the front shows: where the part ends within it there is none.
fn shown(part: &OnBase, layer: &LayerSize) -> Reveal {
    let (right, foot) = (layer.x + layer.exact.width, layer.y + layer.exact.height);
    let if_there = |is_there: bool, reveal: Length| if is_there { reveal } else { Length::ZERO };
    Reveal::sides(
        if_there(layer.x > part.part.x, layer.reveal.left),
        if_there(layer.y > part.part.y, layer.reveal.top),
        if_there(right < part.part.right(), layer.reveal.right),
        if_there(foot < part.part.bottom(), layer.reveal.bottom),
    )
}

/// What of a layer lies on a part of the front, as it lies on the base.
fn clipped(part: &OnBase, x: Length, y: Length, size: Size) -> Option<(Length, Length, Size)> {
    let (left, top) = (x.max(part.part.x), y.max(part.part.y));
    let (right, foot) = ((x + size.width).min(part.part.right()), (y + size.height).min(part.part.bottom()));
    let size = Size::new(right - left, foot - top);
    let is_there = size.width.is_positive() && size.height.is_positive();
    is_there.then_some((part.x + left - part.part.x, part.y + top - part.part.y, size))
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
