//! Trio strips: three colours that go together, to hang on a ring or to open as a fan.
//!
//! Two forms of our own. A *ring* card is 2 x 3 in with a hole at its top left; a *fan* strip is 1 1/4 x 6 1/2 in with a
//! hole at its foot, so that strips turn about one pin. Both are printed in colour, or blank for the real stock to be
//! mounted in the windows and the names written by hand.

use super::frame::{Setup, Sheaf};
use super::hatch::Hatch;
use super::page::{Area, Fill, GREY, Group, INCH, MM, Mark, Page, Point, Stroke, Um};
use super::scale::{ASIDE, SMALL, SMALL_STRONG};
use super::text::Style;
use crate::domain::colour::space::Rgb8;

/// Three colours that go together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strip {
    /// The scheme they make.
    pub scheme: String,
    /// Names and screen values.
    pub colours: [(String, Rgb8); 3],
    /// One line more, such as their order numbers; may be empty.
    pub note: String,
}

/// How strips are held together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum StripForm {
    /// Cards on a ring.
    #[default]
    Ring,
    /// Long strips on a pin.
    Fan,
}

impl StripForm {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ring => "ring",
            Self::Fan => "fan",
        }
    }

    /// Width and height of one.
    pub const fn size(self) -> (Um, Um) {
        match self {
            Self::Ring => (2 * INCH, 3 * INCH),
            Self::Fan => (5 * INCH / 4, 13 * INCH / 2),
        }
    }

    /// The three windows of one whose top left corner is at 0, 0.
    pub fn windows(self) -> [Area; 3] {
        let (width, height) = self.size();
        let (side, first, foot) = match self {
            Self::Ring => (3 * MM, 17 * MM, 4 * MM),
            Self::Fan => (3 * MM, 10 * MM, 22 * MM),
        };
        let pitch = (height - first - foot) / 3;
        [0, 1, 2].map(|n| Area::new(side, first + n * pitch, width - 2 * side, pitch - NAME.leading() - 800))
    }

    /// Middle of the hole.
    const fn hole(self) -> Point {
        let (width, height) = self.size();
        match self {
            Self::Ring => Point { x: 7 * MM, y: 7 * MM },
            Self::Fan => Point { x: width / 2, y: height - 8 * MM },
        }
    }
}

/// Half the width of a punched hole of 1/4 in.
const HOLE: Um = INCH / 8;
const NAME: Style = SMALL;

/// The pages: as many strips as fit on each, cut lines round all of them. Blank ones have empty windows and lines.
pub fn pages(setup: &Setup, strips: &[Strip], form: StripForm, blank: bool) -> Vec<Page> {
    let how = if blank {
        "blank: mount the real stock, write the names"
    } else {
        "cut out, punch, and put together"
    };
    let mut sheaf = Sheaf::new(setup, format!("Trio strips for a {}", form.word()), how);
    let body = sheaf.body();
    let (width, height) = form.size();
    let (columns, rows) = ((body.width / width).max(1), (body.height / height).max(1));
    let blank_strips = if strips.is_empty() { (columns * rows) as usize } else { 0 };
    let empty = Strip {
        scheme: String::new(),
        colours: std::array::from_fn(|_| (String::new(), GREY)),
        note: String::new(),
    };
    let padding = vec![empty; if blank { blank_strips } else { 0 }];
    let all: Vec<&Strip> = strips.iter().chain(&padding).collect();
    if all.is_empty() {
        sheaf.write(SMALL, "No three swatches here go together: add swatches, or print blank strips.");
    }
    for page in all.chunks((columns * rows) as usize) {
        sheaf.fresh();
        for (n, strip) in page.iter().enumerate() {
            let (column, row) = (n as Um % columns, n as Um / columns);
            let left = body.x + (body.width - columns * width) / 2;
            let area = Area::new(left + column * width, body.y + row * height, width, height);
            put(&mut sheaf, strip, form, area, blank);
        }
    }
    sheaf.finish()
}

fn put(sheaf: &mut Sheaf<'_>, strip: &Strip, form: StripForm, area: Area, blank: bool) {
    let colourless = sheaf.setup.colourless;
    let page = sheaf.page();
    page.frame(Group::Cut, area, Stroke::CUT);
    let hole = form.hole();
    let middle = Point { x: area.x + hole.x, y: area.y + hole.y };
    page.add(Group::Cut, Mark::Circle { middle, radius: HOLE, stroke: Stroke::CUT });
    let title = SMALL_STRONG;
    let (x, room) = match form {
        StripForm::Ring => (area.x + 13 * MM, area.width - 15 * MM),
        StripForm::Fan => (area.x + 3 * MM, area.width - 5 * MM),
    };
    for (n, line) in title.wrapped(&strip.scheme, room, 2).iter().enumerate() {
        page.words(title.at(x, area.y + 5 * MM + n as Um * title.leading(), line));
    }
    for (n, (window, (name, ink))) in form.windows().iter().zip(&strip.colours).enumerate() {
        let window = Area::new(area.x + window.x, area.y + window.y, window.width, window.height);
        let fill = match (blank, colourless) {
            (true, _) => None,
            (false, true) => Some(Fill::Hatch(Hatch::nth(n))),
            (false, false) => Some(Fill::Colour(*ink)),
        };
        page.add(Group::Fill, Mark::Rect { area: window, fill, stroke: Some(Stroke::THIN) });
        let y = window.bottom() + NAME.size;
        if name.is_empty() {
            page.line(Group::Outline, (window.x, y + 900), (window.right(), y + 900), Stroke::RULE);
        } else {
            page.words(NAME.at(window.x, y, &NAME.fitted(name, window.width)));
        }
    }
    if form == StripForm::Fan {
        let y = area.bottom() - 17 * MM;
        page.words(ASIDE.at(area.x + 3 * MM, y, &ASIDE.fitted(&strip.note, area.width - 6 * MM)));
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::PrintPaper;
    use super::super::scale::CLEAR;
    use super::*;

    fn strips(n: usize) -> Vec<Strip> {
        let colour = |name: &str, n: usize| (format!("{name} {n}"), Rgb8::new(n as u8, 80, 120));
        let strip = |n| Strip {
            scheme: "split complementary".into(),
            colours: [colour("Fern", n), colour("Clay", n), colour("A very long name of a color", n)],
            note: "1041 · 1042 · 1043".into(),
        };
        (0..n).map(strip).collect()
    }

    #[test]
    fn every_strip_is_there_and_inside_its_page() {
        for form in [StripForm::Ring, StripForm::Fan] {
            for paper in [PrintPaper::Letter, PrintPaper::A4] {
                for (count, blank) in [(1, false), (40, false), (40, true), (0, true), (0, false)] {
                    let pages = pages(&Setup { paper, ..Setup::default() }, &strips(count), form, blank);
                    let cards = pages
                        .iter()
                        .flat_map(|p| p.of(Group::Cut))
                        .filter(|m| matches!(m, Mark::Rect { .. }));
                    let cards = cards.count();
                    assert!(if count > 0 { cards == count } else { (cards > 0) == blank });
                    for page in &pages {
                        assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
                    }
                }
            }
        }
    }

    #[test]
    fn windows_lie_inside_the_strip_and_apart_from_the_hole() {
        for form in [StripForm::Ring, StripForm::Fan] {
            let (width, height) = form.size();
            let hole = form.hole();
            let hole = Area::new(hole.x, hole.y, 0, 0).inset(-HOLE - MM);
            for window in form.windows() {
                assert!(Area::new(0, 0, width, height).inset(2 * MM).holds(&window));
                let apart = window.bottom() < hole.y || hole.bottom() < window.y || hole.right() < window.x;
                assert!(apart, "{form:?}: {window:?} meets the hole {hole:?}");
                assert!(window.height >= 10 * MM);
            }
        }
    }
}
