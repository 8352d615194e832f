//! Swatch strips: one strip a colour with a hole at its end, to be punched and held on a ring or a post. The colour, its name
//! and numbers on the front, its trios on the back.
//!
//! A strip is 1 1/2 x 4 1/2 in, a form of our own. Fronts and backs are pages in turn, to be printed on both sides of the
//! leaf, turned over its long edge; what is printed stays 3 mm inside the cut, more than two sides may lie apart.

use super::frame::Setup;
use super::frame::Sheaf;
use super::hatch::Hatch;
use super::page::{Area, Fill, GREY, Group, INCH, MM, Mark, Page, Point, Stroke, Um};
use super::scale::{ASIDE, BODY, SMALL, SMALL_STRONG, STRONG, WORKS};
use super::swatches::Chip;
use super::trios::Strip;

/// A colour with the trios that it makes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColourStrip {
    /// The colour.
    pub chip: Chip,
    /// Trios that hold it, the best first.
    pub trios: Vec<Strip>,
}

/// Width and height of a strip.
pub const SIZE: (Um, Um) = (3 * INCH / 2, 9 * INCH / 2);
/// From the cut to what is printed.
const INSIDE: Um = 3 * MM;
/// From the end of a strip to the middle of its hole, and half of the hole's 1/4 in.
const HOLE: (Um, Um) = (8 * MM, INCH / 8);
/// Height of the block of colour.
const BLOCK: Um = 64 * MM;

/// The pages: a front and its back in turn.
pub fn pages(setup: &Setup, strips: &[ColourStrip]) -> Vec<Page> {
    let how = "Print both sides, turned over the long edge; cut out, punch the hole";
    let mut sheaf = Sheaf::new(setup, "Swatch strips", how).cut_apart();
    if strips.is_empty() {
        sheaf
            .write(BODY, "There is no swatch in the library: add some, and this page makes a strip of each.");
        return sheaf.finish();
    }
    let body = sheaf.body();
    let (columns, rows) = ((body.width / SIZE.0).max(1), (body.height / SIZE.1).max(1));
    // In the middle of the leaf, so that a back lies behind its front.
    let left = (sheaf.page_size().0 - columns * SIZE.0) / 2;
    for page in strips.chunks((columns * rows) as usize) {
        for is_back in [false, true] {
            sheaf.fresh();
            for (n, strip) in (0..).zip(page) {
                let (column, row) = (n % columns, n / columns);
                let column = if is_back { columns - 1 - column } else { column };
                let area = Area::new(left + column * SIZE.0, body.y + row * SIZE.1, SIZE.0, SIZE.1);
                if is_back {
                    back(&mut sheaf, strip, area);
                } else {
                    front(&mut sheaf, strip, area, n as usize);
                }
            }
        }
    }
    sheaf.finish()
}

fn front(sheaf: &mut Sheaf<'_>, strip: &ColourStrip, area: Area, n: usize) {
    let colourless = sheaf.setup.colourless;
    let page = sheaf.page();
    page.frame(Group::Cut, area, Stroke::CUT);
    let middle = Point { x: area.x + area.width / 2, y: area.y + HOLE.0 };
    page.add(Group::Cut, Mark::Circle { middle, radius: HOLE.1, stroke: Stroke::CUT });
    let x = area.x + INSIDE;
    let room = area.width - 2 * INSIDE;
    let block = Area::new(x, area.y + HOLE.0 + HOLE.1 + 2 * MM, room, BLOCK);
    let fill = if colourless { Fill::Hatch(Hatch::nth(n)) } else { Fill::Colour(strip.chip.ink) };
    page.add(Group::Fill, Mark::Rect { area: block, fill: Some(fill), stroke: Some(WORKS) });
    let mut y = block.bottom() + MM;
    let ink = strip.chip.ink;
    let hex = format!("#{:02x}{:02x}{:02x}", ink.r, ink.g, ink.b);
    let lines = [
        (STRONG, strip.chip.name.clone(), 2),
        (SMALL, strip.chip.number_line(), 3),
        (ASIDE, [strip.chip.family.as_str(), &hex, &strip.chip.state].join(" ").trim().to_owned(), 2),
    ];
    for (style, text, most) in lines {
        for line in style.wrapped(&text, room, most) {
            if y + style.leading() > area.bottom() - MM {
                return;
            }
            page.words(style.at(x, y + style.size, &line));
            y += style.leading();
        }
    }
}

/// The trios of a colour: their scheme, and the two other colours with a patch of each.
fn back(sheaf: &mut Sheaf<'_>, strip: &ColourStrip, area: Area) {
    let colourless = sheaf.setup.colourless;
    let page = sheaf.page();
    let (x, room) = (area.x + INSIDE, area.width - 2 * INSIDE);
    let mut y = area.y + HOLE.0 + HOLE.1 + 2 * MM;
    for line in SMALL_STRONG.wrapped(&strip.chip.name, room, 2) {
        page.words(SMALL_STRONG.at(x, y + SMALL_STRONG.size, &line));
        y += SMALL_STRONG.leading();
    }
    if strip.trios.is_empty() {
        page.words(ASIDE.at(x, y + ASIDE.size, &ASIDE.fitted("no trio found", room)));
    }
    for trio in &strip.trios {
        let others: Vec<_> = trio.colours.iter().filter(|(name, _)| *name != strip.chip.name).collect();
        let step = SMALL.leading() + MM / 2;
        if y + ASIDE.leading() + others.len() as Um * step + MM > area.bottom() - INSIDE {
            return;
        }
        page.words(ASIDE.at(x, y + ASIDE.size, &ASIDE.fitted(&trio.scheme, room)));
        y += ASIDE.leading();
        for (name, ink) in others {
            let patch = Area::new(x, y + MM / 4, 6 * MM, SMALL.leading() - MM / 2);
            let fill = (!colourless).then_some(Fill::Colour(*ink));
            page.add(Group::Fill, Mark::Rect { area: patch, fill, stroke: Some(WORKS) });
            let at = patch.right() + MM;
            page.words(SMALL.at(at, y + SMALL.size, &SMALL.fitted(name, area.right() - INSIDE - at)));
            y += step;
        }
        page.line(
            Group::Outline,
            (x, y + MM / 2),
            (x + room, y + MM / 2),
            Stroke { ink: GREY, ..Stroke::RULE },
        );
        y += MM;
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::PrintPaper;
    use super::super::scale::{CLEAR, FLOOR};
    use super::*;
    use crate::domain::colour::space::Rgb8;

    fn strips(count: usize) -> Vec<ColourStrip> {
        let trio = |name: &str, n: usize| Strip {
            scheme: "split complementary".into(),
            colours: [
                (name.to_owned(), Rgb8::new(n as u8, 9, 9)),
                ("oat".into(), GREY),
                ("a very long name of a color".into(), GREY),
            ],
            note: String::new(),
        };
        let one = |n: usize| {
            let name = format!("fern {n}");
            let chip = Chip {
                numbers: vec![("sheet".into(), format!("WS-{n}"))],
                ..Chip::plain(&name, "green", Rgb8::new(n as u8, 9, 9))
            };
            ColourStrip { chip, trios: vec![trio(&name, n); n % 9] }
        };
        (0..count).map(one).collect()
    }

    #[test]
    fn each_colour_has_a_strip_and_its_back_lies_behind_it() {
        for paper in [PrintPaper::Letter, PrintPaper::A4] {
            let pages = pages(&Setup { paper, ..Setup::default() }, &strips(23));
            assert_eq!(pages.len(), 6);
            for page in &pages {
                assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
                assert!(page.texts().all(|w| w.size >= FLOOR));
            }
            let places = |page: &Page| {
                let names = page.texts().filter(|w| w.text.starts_with("fern "));
                names.map(|w| (w.text.clone(), w.at.x - INSIDE)).collect::<Vec<_>>()
            };
            for two in pages.chunks(2) {
                let (front, back) = (places(&two[0]), places(&two[1]));
                assert_eq!(front.len(), back.len());
                for ((name, x), (other, behind)) in front.iter().zip(&back) {
                    assert_eq!(name, other);
                    assert_eq!(two[0].width - x - SIZE.0, *behind, "{name} is not behind itself");
                }
            }
        }
    }

    #[test]
    fn a_back_names_the_two_other_colours() {
        let pages = pages(&Setup::default(), &strips(2));
        let back: Vec<&str> = pages[1].texts().map(|w| w.text.as_str()).collect();
        assert!(back.contains(&"oat") && back.contains(&"no trio found"), "{back:?}");
    }
}
