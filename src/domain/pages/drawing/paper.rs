//! A paper on a page: its colour with its pattern to scale, or a hatch where no colour is printed; lightly where lines and
//! words lie over it.

use super::ratio::Scale;
use crate::domain::colour::space::Rgb8;
use crate::domain::pages::hatch::Hatch;
use crate::domain::pages::page::{Area, Fill, Group, MM, Mark, Page, Um, WHITE, um};
use crate::domain::paper_look::PaperLook;
use crate::domain::pattern::tile::{Tile, TileShape};

/// Nothing finer is drawn of a pattern: what home printers hold.
const FINEST: Um = MM / 2;
/// What is left of an ink that is printed lightly, in percent: black lines and words stand out from any colour at a quarter.
const LIGHTLY: u16 = 25;

/// Fills an area with a paper: its colour and its pattern to scale, or a hatch where no colour is printed; `plain` where
/// nothing is known of it.
pub fn paper(
    page: &mut Page,
    area: Area,
    look: &PaperLook,
    (scale, hatch): (Scale, Option<Hatch>),
    plain: Rgb8,
) {
    if let Some(hatch) = hatch {
        page.fill(area, Fill::Colour(WHITE));
        if !look.inks.is_empty() {
            page.fill(area, Fill::Hatch(hatch));
        }
        return;
    }
    let inks = look.pattern.inks(&look.inks);
    if inks.is_empty() {
        page.fill(area, Fill::Colour(plain));
        if !look.pattern.is_plain() {
            page.fill(area, Fill::Hatch(Hatch::Squares));
        }
        return;
    }
    inked(page, area, look, &inks, scale);
}

/// Fills an area with a paper so lightly that lines and words can lie over it; with nothing where its colour is not known.
pub fn lightly(page: &mut Page, area: Area, look: &PaperLook, scale: Scale) {
    let inks: Vec<Rgb8> = look.pattern.inks(&look.inks).into_iter().map(light).collect();
    inked(page, area, look, &inks, scale);
}

/// An ink printed lightly.
pub fn light(ink: Rgb8) -> Rgb8 {
    let one = |part: u8| (255 - (255 - u16::from(part)) * LIGHTLY / 100) as u8;
    Rgb8::new(one(ink.r), one(ink.g), one(ink.b))
}

fn inked(page: &mut Page, area: Area, look: &PaperLook, inks: &[Rgb8], scale: Scale) {
    let Some(ground) = inks.first() else { return };
    page.fill(area, Fill::Colour(*ground));
    for shape in printed(look, inks, scale).over(area) {
        if let Some(ink) = inks.get(shape.ink) {
            fill(page, shape, *ink);
        }
    }
}

/// The repeat of a paper's pattern as drawn at a scale.
pub fn printed(look: &PaperLook, inks: &[Rgb8], scale: Scale) -> Tile {
    let repeat = look.pattern.drawn_repeat(scale.of(um(look.pattern.repeat)), FINEST);
    Tile::of(look.pattern.kind, inks.len(), repeat)
}

/// A shape of one ink; one with level sides is a rectangle, which every reader of pages draws sharp.
fn fill(page: &mut Page, shape: TileShape, ink: Rgb8) {
    if let Some(area) = shape.as_area() {
        return page.fill(area, Fill::Colour(ink));
    }
    let points = shape.corners;
    page.add(Group::Fill, Mark::Path { points, closed: true, fill: Some(ink), stroke: None });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::colour::legibility::luminance;

    /// WCAG 2.2, 1.4.6: 7 to 1, the enhanced contrast of text, of black on what is printed lightly; and a dark paper stays
    /// darker than a light one.
    #[test]
    fn black_stands_out_from_every_ink_that_is_printed_lightly() {
        for n in 0..=255 {
            for ink in [Rgb8::new(n, n, n), Rgb8::new(0, 0, n), Rgb8::new(n, 0, 0)] {
                assert!((luminance(light(ink).linear()) + 0.05) / 0.05 >= 7.0, "{ink:?}");
            }
        }
        assert!(light(Rgb8::new(40, 30, 60)).r < light(Rgb8::new(200, 190, 180)).r);
    }
}
