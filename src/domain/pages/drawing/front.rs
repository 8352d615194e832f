//! A card's front with its layers in their papers, and the numbers that lead from each layer to the table.

use super::ratio::Scale;
use crate::domain::cards::layer::LayerSize;
use crate::domain::colour::space::Rgb8;
use crate::domain::cutting::geometry::Panel;
use crate::domain::pages::hatch::Hatch;
use crate::domain::pages::page::{Area, Fill, Group, MM, Mark, PALE, Page, Point, Stroke, Um, WHITE};
use crate::domain::pages::scale::{SMALL_STRONG, WORKS};
use crate::domain::size::Size;

/// What a paper looks like.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PaperLook {
    /// What it is called; may be empty.
    pub name: String,
    /// Its colours, the ground's first; none where they are not known.
    pub inks: Vec<Rgb8>,
    /// It bears a pattern.
    pub is_patterned: bool,
}

/// A card front to be drawn.
#[derive(Clone, Copy, Debug)]
pub struct Front<'a> {
    /// Its size.
    pub face: Size,
    /// The base's paper.
    pub base: &'a PaperLook,
    /// Its layers.
    pub layers: &'a [LayerSize],
    /// Their papers; may be shorter.
    pub looks: &'a [PaperLook],
    /// Papers are told apart by hatches instead of colours.
    pub colourless: bool,
}

/// From the front's right side to the numbers of its layers, and the room that these take.
pub const CALLOUT: Um = 10 * MM;

/// Draws the front with its layers, each in its paper, and their numbers to its right.
pub fn front(page: &mut Page, x: Um, y: Um, scale: Scale, front: &Front<'_>) {
    let ground = scale.area(x, y, front.face);
    let unknown = PaperLook::default();
    paper(page, ground, front.base, front.colourless.then_some(0), PALE);
    page.frame(Group::Outline, ground, Stroke::BOLD);
    for (n, layer) in front.layers.iter().enumerate() {
        let panel = Panel { x: layer.x, y: layer.y, size: layer.exact };
        let area = scale.panel(x, y, panel);
        let look = front.looks.get(n).unwrap_or(&unknown);
        let plain = if n % 2 == 0 { WHITE } else { PALE };
        paper(page, area, look, front.colourless.then_some(n + 1), plain);
        page.frame(Group::Outline, area, Stroke::THIN);
        if let Some(opening) = layer.opening {
            let panel = Panel { x: layer.x + opening.x, y: layer.y + opening.y, size: opening.size };
            page.frame(Group::Outline, scale.panel(x, y, panel), Stroke::FOLD);
        }
    }
    callouts(page, x, y, scale, front, ground);
}

/// Fills an area with a paper: its colour, its pattern as small squares on their corners in its other colours, or a hatch
/// where no colour is printed; `plain` where nothing is known of it.
fn paper(page: &mut Page, area: Area, look: &PaperLook, hatch: Option<usize>, plain: Rgb8) {
    if let Some(n) = hatch {
        page.fill(area, Fill::Colour(WHITE));
        if !look.inks.is_empty() {
            page.fill(area, Fill::Hatch(Hatch::nth(n)));
        }
        return;
    }
    let Some(ground) = look.inks.first() else {
        page.fill(area, Fill::Colour(plain));
        if look.is_patterned {
            page.fill(area, Fill::Hatch(Hatch::Squares));
        }
        return;
    };
    page.fill(area, Fill::Colour(*ground));
    if look.is_patterned {
        let others = if look.inks.len() > 1 { look.inks[1..].to_vec() } else { vec![lighter(*ground)] };
        pattern(page, area, &others);
    }
}

fn lighter(ink: Rgb8) -> Rgb8 {
    let half = |v: u8| (u16::from(v) / 2 + 128).min(255) as u8;
    Rgb8::new(half(ink.r), half(ink.g), half(ink.b))
}

/// Squares on their corners, row by row, every second row set off by half a step; none crosses the area's sides.
fn pattern(page: &mut Page, area: Area, inks: &[Rgb8]) {
    const STEP: Um = 6 * MM;
    const HALF: Um = MM;
    let rows = area.height / STEP;
    for row in 0..=rows {
        let y = area.y + STEP / 2 + row * STEP;
        let shift = if row % 2 == 0 { 0 } else { STEP / 2 };
        for column in 0..=area.width / STEP {
            let x = area.x + STEP / 2 + column * STEP + shift;
            if !area.holds(&Area::new(x - HALF, y - HALF, 2 * HALF, 2 * HALF)) {
                continue;
            }
            let ink = inks[(row + column) as usize % inks.len()];
            let points = [(x, y - HALF), (x + HALF, y), (x, y + HALF), (x - HALF, y)];
            let points = points.map(|(x, y)| Point { x, y }).to_vec();
            page.add(Group::Fill, Mark::Path { points, closed: true, fill: Some(ink), stroke: None });
        }
    }
}

/// The number of each layer right of the front, led to its right side.
fn callouts(page: &mut Page, x: Um, y: Um, scale: Scale, front: &Front<'_>, ground: Area) {
    let step = SMALL_STRONG.leading();
    let mut next = ground.y + step;
    for (n, layer) in front.layers.iter().enumerate() {
        let area = scale.panel(x, y, Panel { x: layer.x, y: layer.y, size: layer.exact });
        if next + step > ground.bottom() {
            return;
        }
        // As high as its place in the list, where the layer reaches that high; else at its middle.
        let own = if (area.y..area.bottom()).contains(&next) { next } else { area.y + area.height / 2 };
        let from = (area.right() - MM / 2, own);
        let bend = (ground.right() + 2 * MM, next);
        let chain = [from, (ground.right() + MM / 2, own), bend, (ground.right() + 4 * MM, next)];
        let points = chain.map(|(x, y)| Point { x, y }).to_vec();
        page.add(Group::Outline, Mark::Path { points, closed: false, fill: None, stroke: Some(WORKS) });
        let base = next + SMALL_STRONG.capitals() / 2;
        page.words(SMALL_STRONG.at(ground.right() + 5 * MM, base, &(n + 1).to_string()));
        next += step;
    }
}
