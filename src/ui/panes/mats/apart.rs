//! The parts of the card side by side, each as it is cut and all to one scale, with name, size and paper under it.
//!
//! ```text
//! The parts as they are cut, to one scale
//! +--------|--------+  +-------+  +------+
//! |        |        |  |:::::::|  |//////|
//! +--------|--------+  +-------+  +------+
//! base                 mat 1      mat 2
//! 8 1/2 x 5 1/2 in     4 x 5 1/4  3 7/8 x 5 1/8
//! ```

use super::drawing::{SLIGHT, Scale, Worn, border, distortion, rect, taken};
use crate::app::model::Model;
use crate::app::panes::mats::words::{self, RowText};
use crate::app::state::mats::Picked;
use crate::domain::cards::fold::{Score, Side};
use crate::domain::cards::frame::Opening;
use crate::domain::length::{Length, Unit};
use crate::domain::pages::measure::Um;
use crate::domain::size::Size;
use crate::ui::ground;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::largest;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Said above them: where lines round them leave room for it, and where rows are too few for it.
const TITLE: &str = "The parts as they are cut, to one scale";
const ABOUT: &str = "The parts as they are cut, about to one scale";
/// Columns between two parts.
const GAP: u16 = 2;
/// Fewest rows of the largest part, below which its proportion is not seen.
const LEAST: u16 = 5;

/// A part, what is drawn on it, and what stands under it.
struct Part<'a> {
    size: Size,
    paper: &'a Painted,
    /// Parts are painted: where the color ends is the edge, to half a row.
    is_painted: bool,
    /// Its color would be lost on the screen without a line.
    is_lost: bool,
    scores: &'a [Score],
    opening: Option<(Opening, &'a Painted)>,
    is_picked: bool,
    words: Vec<String>,
}

/// Draws them as large as all of them have room side by side; returns the rows taken, none where they have none.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let (book, unit) = (&model.book, model.screen.unit);
    let Ok(worked) = model.mats.worked(book, unit) else { return 0 };
    let worn = Worn::by(model, model.mats.card(book), on.look);
    let papers = || std::iter::once(&worn.base).chain(&worn.layers);
    let is_painted = on.look.glyphs.halves.is_some() && papers().all(|paper| paper.ground().is_some());
    let is_lost = |paper: &Painted| paper.ground().is_none_or(|ground| ground::is_lost(ground, on.look));
    let base = Part {
        size: worked.base.size,
        paper: &worn.base,
        is_painted,
        is_lost: is_lost(&worn.base),
        scores: &worked.base.scores,
        opening: None,
        is_picked: model.mats.picked(book) == Picked::Base,
        words: Vec::new(),
    };
    let picked = model.mats.picked_layer(book);
    let papers = worn.layers.iter().zip(&worn.inserts);
    let layers = worked.layers.iter().zip(papers).enumerate().map(|(n, (layer, (paper, insert)))| Part {
        size: layer.cut.size,
        paper,
        is_painted,
        is_lost: is_lost(paper),
        scores: &[],
        opening: layer.opening.map(|opening| (opening, insert)),
        is_picked: picked == Some(n),
        words: Vec::new(),
    });
    let mut parts: Vec<Part> = std::iter::once(base).chain(layers).collect();
    let rows = words::rows(&model.mats, &model.ctx());
    // The paper is said where every one has room for it, then the size in the other unit.
    for lines in (2..=4).rev() {
        for (part, row) in parts.iter_mut().zip(&rows) {
            part.words = told(row, unit).into_iter().take(lines).collect();
        }
        if let Some(rooms) = fit(&parts, area, lines as u16) {
            return side_by_side(&parts, &rooms, area, on);
        }
    }
    0
}

/// What stands under a part, the most needed first.
fn told(row: &RowText, unit: Unit) -> Vec<String> {
    let size = format!("{} {}", row.size, unit.sign());
    let other = format!("{} {}", row.other, unit.other().sign());
    vec![row.name.clone(), size, text::harmless(&row.paper), other]
}

impl Part<'_> {
    /// The cells that it takes of a room whose height the largest of them fills.
    fn taken(&self, whole: Size, room: Rect) -> Rect {
        if !self.is_painted {
            return taken(self.size, whole, room);
        }
        // Half a row is as high as a column is wide.
        let share = |cells: u16, of: Length| f64::from(cells) / of.units().max(1) as f64;
        let unit = share(2 * room.height, whole.height).min(share(room.width, whole.width));
        let cells = |length: Length| (length.units() as f64 * unit).round() as u16;
        let (width, halves) = (cells(self.size.width).max(3), cells(self.size.height).max(2));
        Rect { width, height: halves.div_ceil(2), ..room }
    }

    /// True where its upper edge lies in the middle of a row.
    fn is_half_a_row_lower(&self, place: Rect) -> bool {
        let high = self.size.height.units() as f64 / self.size.width.units().max(1) as f64;
        !self.is_lost && high * f64::from(place.width) < f64::from(2 * place.height) - 0.5
    }

    /// Paints it as its color alone shows it.
    fn paint(&self, place: Rect, across: Um, on: &mut Surface) {
        let Some(ground) = self.paper.ground().filter(|_| self.is_half_a_row_lower(place)) else {
            return self.paper.fill(place, across, on);
        };
        self.paper.fill(Rect { y: place.y + 1, height: place.height - 1, ..place }, across, on);
        for x in place.x..place.right() {
            ground::half(on.buf, (x, place.y), false, ground, on.look);
        }
    }
}

/// The room of each part at the largest scale at which all of them, with their words, lie side by side.
fn fit(parts: &[Part], area: Rect, lines: u16) -> Option<Vec<Rect>> {
    let whole = largest(parts.iter().map(|part| part.size));
    let most = area.height.checked_sub(lines + 1)?;
    let rooms = |height: u16| -> Vec<Rect> {
        parts.iter().map(|part| part.taken(whole, Rect { height, ..area })).collect()
    };
    let fits = |height: &u16| {
        let columns = parts.iter().zip(rooms(*height)).map(|(part, room)| wide(part, room) + GAP);
        columns.sum::<u16>() <= area.width + GAP
    };
    let most = (LEAST..=most).rev().find(fits)?;
    // A little smaller where that makes them truer.
    let least = (most - most / 4).max(LEAST);
    let truest =
        (least..=most).rev().min_by(|a, b| worst(parts, &rooms(*a)).total_cmp(&worst(parts, &rooms(*b))));
    truest.map(rooms)
}

/// How far the worst of them is from its proportion; what is painted is true to half a row.
fn worst(parts: &[Part], rooms: &[Rect]) -> f64 {
    let lined = parts.iter().zip(rooms).filter(|(part, _)| !part.is_painted);
    lined.map(|(part, room)| distortion(part.size, *room)).fold(0.0, f64::max)
}

/// Columns of a part and of what stands under it.
fn wide(part: &Part, room: Rect) -> u16 {
    let words = part.words.iter().map(|words| text::width(words) as u16).max().unwrap_or(0);
    room.width.max(words)
}

fn side_by_side(parts: &[Part], rooms: &[Rect], area: Rect, on: &mut Surface) -> u16 {
    let title = if worst(parts, rooms) <= SLIGHT { TITLE } else { ABOUT };
    on.put(area, 0, 0, &[run(title, on.look.theme.title)]);
    let high = rooms.iter().map(|room| room.height).max().unwrap_or(0);
    // Patterns of all of them to the one scale, whatever columns a part was rounded to.
    let scales =
        parts.iter().zip(rooms).map(|(part, room)| (room.width, Scale::filling(part.size, *room).across()));
    let across = scales.max().map_or(1, |(_, across)| across);
    let mut x = 0;
    for (part, room) in parts.iter().zip(rooms) {
        // On one line below, as papers stand on a table.
        one(part, Rect { x: area.x + x, y: area.y + 1 + high - room.height, ..*room }, across, on);
        for (n, words) in (0..).zip(&part.words) {
            let style = match (n, part.is_picked) {
                (0, true) => on.look.theme.cut,
                (0 | 1, _) => on.look.theme.text,
                _ => on.look.theme.dim,
            };
            on.put(area, x, 1 + high + n, &[run(words, style)]);
        }
        x += wide(part, *room) + GAP;
    }
    1 + high + parts.first().map_or(0, |part| part.words.len() as u16)
}

fn one(part: &Part, place: Rect, across: Um, on: &mut Surface) {
    let scale = Scale::filling(part.size, place);
    let whole = (0, 0, scale.columns, scale.rows);
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    if part.is_painted {
        part.paint(place, across, on);
    } else {
        part.paper.fill(rect(whole, place), across, on);
    }
    // A line within its edge would be taken for a score.
    if !part.is_painted || part.is_lost {
        border(&mut canvas, whole, part.is_picked);
    }
    if let Some((opening, insert)) = part.opening {
        let cells = scale.cells(opening.x, opening.y, opening.size);
        insert.fill(rect(cells, place), across, on);
        border(&mut canvas, cells, part.is_picked);
    }
    for score in part.scores {
        match score.side {
            Side::Width => canvas.down(scale.x(score.at), 0, scale.rows, true),
            Side::Height => canvas.across(scale.y(score.at), 0, scale.columns, true),
        }
    }
    canvas.draw(place, on.buf, on.look);
}
