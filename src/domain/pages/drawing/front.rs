//! A card's front with its layers in their papers, and the numbers that lead from each layer to the table.

use super::paper::paper;
use super::ratio::Scale;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cutting::geometry::Panel;
use crate::domain::pages::hatch::Hatch;
use crate::domain::pages::page::{Area, Group, MM, Mark, PALE, Page, Point, Stroke, Um, WHITE};
use crate::domain::pages::scale::{SMALL_STRONG, WORKS};
use crate::domain::paper_look::PaperLook;
use crate::domain::size::Size;

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
    paper(page, ground, front.base, (scale, front.colourless.then_some(Hatch::nth(0))), PALE);
    page.frame(Group::Outline, ground, Stroke::BOLD);
    for (n, layer) in front.layers.iter().enumerate() {
        let panel = Panel { x: layer.x, y: layer.y, size: layer.exact };
        let area = scale.panel(x, y, panel);
        let look = front.looks.get(n).unwrap_or(&unknown);
        let plain = if n % 2 == 0 { WHITE } else { PALE };
        paper(page, area, look, (scale, front.colourless.then_some(Hatch::nth(n + 1))), plain);
        page.frame(Group::Outline, area, Stroke::THIN);
        if let Some(opening) = layer.opening {
            let panel = Panel { x: layer.x + opening.x, y: layer.y + opening.y, size: opening.size };
            page.frame(Group::Outline, scale.panel(x, y, panel), Stroke::FOLD);
        }
    }
    callouts(page, scale, front, ground);
}

/// The number of each layer right of the front, led to its right side.
fn callouts(page: &mut Page, scale: Scale, front: &Front<'_>, ground: Area) {
    let step = SMALL_STRONG.leading();
    let mut next = ground.y + step;
    for (n, layer) in front.layers.iter().enumerate() {
        let area = scale.panel(ground.x, ground.y, Panel { x: layer.x, y: layer.y, size: layer.exact });
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
