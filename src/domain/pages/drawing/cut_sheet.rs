//! A cut sheet: pieces with what they are called, offcuts, cuts with the numbers of their steps.

use super::paper::lightly;
use super::ratio::Scale;
use crate::domain::cutting::layout::Layout;
use crate::domain::pages::hatch::Hatch;
use crate::domain::pages::page::{Area, Fill, Group, Mark, Page, Stroke, Um, WHITE, um};
use crate::domain::pages::scale::{FIGURE, SMALL, SMALL_STRONG, STRONG};
use crate::domain::pages::text::{self, Style};
use crate::domain::paper_look::PaperLook;
use crate::domain::size::Size;
use std::ops::Range;

/// Draws a cut sheet: pieces lightly in their paper with their letters or numbers, offcuts hatched in grey, every cut as a line,
/// the first cut of each step with the step's number.
pub fn layout(page: &mut Page, x: Um, y: Um, scale: Scale, drawn: &Drawn<'_>) {
    let sheet = scale.area(x, y, drawn.sheet);
    if let Some(look) = drawn.look {
        lightly(page, sheet, look, scale);
    }
    page.frame(Group::Outline, sheet, Stroke::BOLD);
    for offcut in &drawn.layout.offcuts {
        let area = scale.panel(x, y, *offcut);
        if drawn.look.is_some() {
            page.fill(area, Fill::Colour(WHITE));
        }
        page.fill(area, Fill::Hatch(Hatch::OF_OFFCUTS));
    }
    for piece in &drawn.layout.pieces {
        page.frame(Group::Outline, scale.panel(x, y, piece.panel), Stroke::THIN);
    }
    for cut in &drawn.layout.cuts {
        let at = |l| scale.of(um(l));
        let from = (x + at(cut.x0), y + at(cut.y0));
        page.line(Group::Cut, from, (x + at(cut.x1), y + at(cut.y1)), Stroke::CUT);
    }
    let mut taken = letters(page, (x, y), scale, drawn);
    numbers(page, (x, y), scale, drawn, &mut taken);
}

/// Writes on each piece what it is called, as large as it fits; where not even small letters fit, once for all of its
/// kind, in their midst. Returns where words stand.
fn letters(page: &mut Page, (x, y): (Um, Um), scale: Scale, drawn: &Drawn<'_>) -> Vec<Area> {
    let mut taken: Vec<Area> = Vec::new();
    let mut small: Vec<(usize, Area)> = Vec::new();
    for (piece, name) in drawn.layout.pieces.iter().zip(drawn.names) {
        let area = scale.panel(x, y, piece.panel);
        let fits =
            |style: &Style| style.width(name) + 600 <= area.width && style.capitals() + 600 <= area.height;
        let Some(style) = [FIGURE, STRONG, SMALL_STRONG].into_iter().find(fits) else {
            match small.iter_mut().find(|(kind, _)| *kind == piece.piece) {
                Some((_, all)) => *all = all.with(&area),
                None => small.push((piece.piece, area)),
            }
            continue;
        };
        let (middle, base) = (area.x + area.width / 2, area.y + i64::midpoint(area.height, style.capitals()));
        let words = style.middle(middle, base, name);
        taken.push(text::bounds(&words));
        page.words(words);
    }
    for (kind, area) in small {
        let Some(place) = drawn.layout.pieces.iter().position(|p| p.piece == kind) else { continue };
        let name = drawn.names.get(place).map_or("", String::as_str);
        let middle = (area.x + area.width / 2, area.y + area.height / 2);
        grounded(page, SMALL_STRONG, middle, name, &mut taken);
    }
    taken
}

/// Writes the number of each step on the first of its cuts where there is room, on white.
fn numbers(page: &mut Page, (x, y): (Um, Um), scale: Scale, drawn: &Drawn<'_>, taken: &mut Vec<Area>) {
    if drawn.steps.len() < 2 {
        return;
    }
    for (n, range) in drawn.steps.iter().enumerate() {
        let Some(cut) = drawn.layout.cuts.get(range.start) else { continue };
        let at = |l| scale.of(um(l));
        let (x0, y0, x1, y1) = (x + at(cut.x0), y + at(cut.y0), x + at(cut.x1), y + at(cut.y1));
        // A little inside the beginning of the cut, where no letter of a piece is.
        for part in [1, 2, 3, 5, 6] {
            let point = (x0 + (x1 - x0) * part / 7, y0 + (y1 - y0) * part / 7);
            if grounded(page, SMALL, point, &(n + 1).to_string(), taken) {
                break;
            }
        }
    }
}

/// Writes words round a point on white ground, unless others stand there. True where they were written.
fn grounded(page: &mut Page, style: Style, (x, y): (Um, Um), name: &str, taken: &mut Vec<Area>) -> bool {
    let words = style.middle(x, y + style.capitals() / 2, name);
    let bounds = text::bounds(&words);
    if name.is_empty() || taken.iter().any(|other| meet(other, &bounds)) {
        return false;
    }
    let high = style.capitals() + 500;
    let ground = Area::new(bounds.x - 250, y - high / 2, bounds.width + 500, high);
    page.add(Group::Ground, Mark::Rect { area: ground, fill: Some(Fill::Colour(WHITE)), stroke: None });
    taken.push(bounds);
    page.words(words);
    true
}

/// True where two areas have more than a side in common.
pub fn meet(a: &Area, b: &Area) -> bool {
    a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom()
}

/// A cut sheet to be drawn.
#[derive(Clone, Copy, Debug)]
pub struct Drawn<'a> {
    /// The sheet's size.
    pub sheet: Size,
    /// Where everything lies.
    pub layout: &'a Layout,
    /// What stands on the pieces, in the layout's order.
    pub names: &'a [String],
    /// The cuts that each step makes, by their places in the layout.
    pub steps: &'a [Range<usize>],
    /// What its paper looks like, where that is known and colours are printed.
    pub look: Option<&'a PaperLook>,
}
