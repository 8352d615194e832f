//! Scale drawings on a page: a sheet with its cuts, a base with its scores, a card front with its layers.
//!
//! A drawing takes the largest of a few plain scales that fits its room, and says which one it is.

use super::hatch::Hatch;
use super::page::{Area, Fill, Group, MM, Mark, PALE, Page, Stroke, Um, WHITE, um, um_size};
use super::scale::{FIGURE, SMALL, SMALL_STRONG, STRONG};
use super::text::{self, Style};
use crate::domain::cards::fold::{Score, Side};
use crate::domain::cards::layer::LayerSize;
use crate::domain::colour::space::Rgb8;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::layout::Layout;
use crate::domain::length::Unit;
use crate::domain::size::Size;
use std::ops::Range;

/// How many on paper for how many in truth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    on_paper: i64,
    in_truth: i64,
}

impl Scale {
    /// True size.
    pub const TRUE: Self = Self { on_paper: 1, in_truth: 1 };
    const ALL: [Self; 14] = [
        Self::TRUE,
        Self { on_paper: 3, in_truth: 4 },
        Self { on_paper: 2, in_truth: 3 },
        Self { on_paper: 1, in_truth: 2 },
        Self { on_paper: 2, in_truth: 5 },
        Self { on_paper: 1, in_truth: 3 },
        Self { on_paper: 1, in_truth: 4 },
        Self { on_paper: 1, in_truth: 5 },
        Self { on_paper: 1, in_truth: 6 },
        Self { on_paper: 1, in_truth: 7 },
        Self { on_paper: 1, in_truth: 8 },
        Self { on_paper: 1, in_truth: 10 },
        Self { on_paper: 1, in_truth: 12 },
        Self { on_paper: 1, in_truth: 20 },
    ];

    /// The largest scale at which a size fits a room.
    pub fn to_fit(size: Size, width: Um, height: Um) -> Self {
        let (w, h) = um_size(size);
        let fits = |s: &&Self| s.of(w) <= width && s.of(h) <= height;
        Self::ALL.iter().find(fits).copied().unwrap_or(Self { on_paper: 1, in_truth: 40 })
    }

    /// A true length as drawn.
    pub const fn of(self, true_um: Um) -> Um {
        true_um * self.on_paper / self.in_truth
    }

    /// `true size`, `drawn 1 : 2`.
    pub fn words(self) -> String {
        if self == Self::TRUE {
            "drawn at true size".to_owned()
        } else {
            format!("drawn {} : {}", self.on_paper, self.in_truth)
        }
    }

    /// A size as drawn with its top left corner at a place.
    pub fn area(self, x: Um, y: Um, size: Size) -> Area {
        let (w, h) = um_size(size);
        Area::new(x, y, self.of(w), self.of(h))
    }

    /// A panel as drawn, from the sheet's top left corner at a place.
    pub fn panel(self, x: Um, y: Um, panel: Panel) -> Area {
        // Both ends are scaled, so that panels that touch in truth touch as drawn.
        let ends = [panel.x, panel.y, panel.right(), panel.bottom()].map(|l| self.of(um(l)));
        Area::new(x + ends[0], y + ends[1], ends[2] - ends[0], ends[3] - ends[1])
    }
}

/// Draws a cut sheet: pieces with their letters or numbers, offcuts hatched in grey, every cut as a line, the first cut of
/// each step with the step's number.
pub fn layout(page: &mut Page, x: Um, y: Um, scale: Scale, drawn: &Drawn<'_>) {
    page.frame(Group::Outline, scale.area(x, y, drawn.sheet), Stroke::BOLD);
    for offcut in &drawn.layout.offcuts {
        page.fill(scale.panel(x, y, *offcut), Fill::Hatch(Hatch::RisingWide));
    }
    for piece in &drawn.layout.pieces {
        page.frame(Group::Outline, scale.panel(x, y, piece.panel), Stroke::THIN);
    }
    for cut in &drawn.layout.cuts {
        let at = |l| scale.of(um(l));
        let from = (x + at(cut.x0), y + at(cut.y0));
        page.line(Group::Cut, from, (x + at(cut.x1), y + at(cut.y1)), Stroke::CUT);
    }
    let mut taken = letters(page, x, y, scale, drawn);
    numbers(page, x, y, scale, drawn, &mut taken);
}

/// Writes on each piece what it is called, as large as it fits; where not even small letters fit, once for all of its
/// kind, in their midst. Returns where words stand.
fn letters(page: &mut Page, x: Um, y: Um, scale: Scale, drawn: &Drawn<'_>) -> Vec<Area> {
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
        grounded(page, SMALL_STRONG, area.x + area.width / 2, area.y + area.height / 2, name, &mut taken);
    }
    taken
}

/// Writes the number of each step on the first of its cuts where there is room, on white.
fn numbers(page: &mut Page, x: Um, y: Um, scale: Scale, drawn: &Drawn<'_>, taken: &mut Vec<Area>) {
    if drawn.steps.len() < 2 {
        return;
    }
    for (n, range) in drawn.steps.iter().enumerate() {
        let Some(cut) = drawn.layout.cuts.get(range.start) else { continue };
        let at = |l| scale.of(um(l));
        let (x0, y0, x1, y1) = (x + at(cut.x0), y + at(cut.y0), x + at(cut.x1), y + at(cut.y1));
        // A little inside the beginning of the cut, where no letter of a piece is.
        for part in [1, 2, 3, 5, 6] {
            let (px, py) = (x0 + (x1 - x0) * part / 7, y0 + (y1 - y0) * part / 7);
            if grounded(page, SMALL, px, py, &(n + 1).to_string(), taken) {
                break;
            }
        }
    }
}

/// Writes words round a point on white ground, unless others stand there. True where they were written.
fn grounded(page: &mut Page, style: Style, x: Um, y: Um, name: &str, taken: &mut Vec<Area>) -> bool {
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
}

/// Lines in the middle of an area: those that fit.
pub fn label(page: &mut Page, area: Area, lines: &[&str]) {
    label_in(page, area, lines, SMALL);
}

/// Lines in the middle of an area in a style; a line that does not fit across is shortened, and lines that do not fit
/// down are left out.
pub fn label_in(page: &mut Page, area: Area, lines: &[&str], style: Style) {
    let room = area.width - MM;
    let most = (area.height - MM / 2).max(0) / style.leading();
    let lines: Vec<String> =
        lines.iter().map(|l| style.fitted(l, room)).filter(|l| !l.is_empty()).take(most as usize).collect();
    let block = lines.len() as Um * style.leading();
    for (n, line) in lines.iter().enumerate() {
        let y = area.y + (area.height - block) / 2 + n as Um * style.leading() + style.size;
        page.words(style.middle(area.x + area.width / 2, y, line));
    }
}

/// Draws a base with its score lines and the distance of each.
pub fn base(page: &mut Page, x: Um, y: Um, scale: Scale, size: Size, scores: &[Score], unit: Unit) {
    let area = scale.area(x, y, size);
    page.frame(Group::Cut, area, Stroke::CUT);
    for score in scores {
        let at = scale.of(um(score.at));
        let text = score.at.show_with_unit(unit);
        match score.side {
            Side::Width => {
                page.line(Group::Score, (x + at, y), (x + at, area.bottom()), Stroke::SCORE);
                page.words(SMALL.middle(x + at, y - 800, &text));
            }
            Side::Height => {
                page.line(Group::Score, (x, y + at), (area.right(), y + at), Stroke::SCORE);
                page.words(SMALL.end(x - 800, y + at + SMALL.size / 3, &text));
            }
        }
    }
}

/// Draws a card front with its layers, each in its colour where it has one.
pub fn front(
    page: &mut Page,
    x: Um,
    y: Um,
    scale: Scale,
    face: Size,
    layers: &[LayerSize],
    inks: &[Option<Rgb8>],
) {
    let ground = scale.area(x, y, face);
    page.fill(ground, Fill::Colour(PALE));
    page.frame(Group::Outline, ground, Stroke::BOLD);
    for (n, layer) in layers.iter().enumerate() {
        let panel = Panel { x: layer.x, y: layer.y, size: layer.exact };
        let area = scale.panel(x, y, panel);
        let ink = inks.get(n).copied().flatten();
        page.fill(area, Fill::Colour(ink.unwrap_or(if n % 2 == 0 { WHITE } else { PALE })));
        page.frame(Group::Outline, area, Stroke::THIN);
        if let Some(opening) = layer.opening {
            let panel = Panel { x: layer.x + opening.x, y: layer.y + opening.y, size: opening.size };
            page.frame(Group::Outline, scale.panel(x, y, panel), Stroke::FOLD);
        }
        // The number stands in the layer's own reveal, at its top left, where no inner layer covers it.
        let number = format!("{}", n + 1);
        if area.width > 3 * MM {
            let style = Style { size: SMALL.size * 4 / 5, ..SMALL };
            page.add(Group::Text, Mark::Words(style.at(area.x + 400, area.y + style.size, &number)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;

    #[test]
    fn the_largest_scale_that_fits_is_taken_and_named() {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        assert_eq!(Scale::to_fit(letter, 300 * MM, 300 * MM), Scale::TRUE);
        let half = Scale::to_fit(letter, 110 * MM, 150 * MM);
        assert_eq!(half.words(), "drawn 1 : 2");
        assert_eq!(half.area(0, 0, letter), Area::new(0, 0, 107_950, 139_700));
        assert_eq!(Scale::to_fit(letter, 1, 1).words(), "drawn 1 : 40");
    }

    #[test]
    fn panels_that_touch_in_truth_touch_as_drawn() {
        let third = Length::from_units(Length::PER_INCH * 10 / 3);
        let left = Panel::whole(Size::new(third, third));
        let right = Panel { x: third, ..left };
        let scale = Scale { on_paper: 1, in_truth: 3 };
        assert_eq!(scale.panel(5, 5, left).right(), scale.panel(5, 5, right).x);
    }
}
