//! A printed page as a value: shapes and words at exact places. It decides what lies where and nothing else.
//!
//! Lengths are whole micrometres, origin top left, x right, y down. Every writer and the preview read this value, so
//! what they show cannot differ. Items are painted group by group in the order of [`Group::ALL`], and within a group in
//! the order they were added.

pub use super::measure::{
    Anchor, Area, BLACK, GREY, INCH, LetterWeight, MM, PALE, Point, Um, WHITE, Words, points,
};

use super::hatch::Hatch;
use crate::domain::colour::space::Rgb8;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// What a part of a page is for. A drawing machine takes them apart by these names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Group {
    /// Filled areas and hatches.
    Fill,
    /// Outlines of what is only shown.
    Outline,
    /// Lines to score.
    Score,
    /// Lines to fold without a score.
    Fold,
    /// Lines to cut.
    Cut,
    /// Marks of rules and scales.
    Tick,
    /// White ground under words that stand on lines.
    Ground,
    /// Words.
    Text,
    /// Squares of a two-dimensional code.
    Code,
}

impl Group {
    /// All of them, in the order they are painted.
    pub const ALL: [Self; 9] = [
        Self::Fill,
        Self::Outline,
        Self::Score,
        Self::Fold,
        Self::Cut,
        Self::Tick,
        Self::Ground,
        Self::Text,
        Self::Code,
    ];

    /// The name it bears in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fill => "fill",
            Self::Outline => "outline",
            Self::Score => "score",
            Self::Fold => "fold",
            Self::Cut => "cut",
            Self::Tick => "tick",
            Self::Ground => "ground",
            Self::Text => "text",
            Self::Code => "code",
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Stroke {
    /// Its width.
    pub width: Um,
    /// Its colour.
    pub ink: Rgb8,
    /// Whole or broken.
    pub dash: Dash,
}

/// Whole or broken lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Dash {
    /// Whole.
    #[default]
    Whole,
    /// Dashes of 2 mm: scores.
    Dashes,
    /// Short dots: folds.
    Dots,
}

impl Dash {
    /// Lengths drawn and left out in turn; nothing for a whole line.
    pub const fn pattern(self) -> &'static [Um] {
        match self {
            Self::Whole => &[],
            Self::Dashes => &[2000, 1000],
            Self::Dots => &[400, 800],
        }
    }
}

impl Stroke {
    /// The thinnest black line that home printers hold: half a point.
    pub const THIN: Self = Self { width: points(5), ink: BLACK, dash: Dash::Whole };
    /// One point.
    pub const BOLD: Self = Self { width: points(10), ink: BLACK, dash: Dash::Whole };
    /// A grey rule of half a point.
    pub const RULE: Self = Self { width: points(5), ink: GREY, dash: Dash::Whole };
    /// A line of a hatch: grey, since a hatch says only what an area is.
    pub const HATCH: Self = Self { width: points(4), ink: GREY, dash: Dash::Whole };
    /// A line to score.
    pub const SCORE: Self = Self { width: points(7), ink: BLACK, dash: Dash::Dashes };
    /// A line to fold.
    pub const FOLD: Self = Self { width: points(7), ink: BLACK, dash: Dash::Dots };
    /// A line to cut.
    pub const CUT: Self = Self { width: points(8), ink: BLACK, dash: Dash::Whole };
}

/// What an area is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fill {
    /// One colour, sRGB.
    Colour(Rgb8),
    /// Grey lines that tell areas apart without colour.
    Hatch(Hatch),
}

/// Dark and light squares of a two-dimensional code (ISO/IEC 18004), row by row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Modules {
    /// Squares along a side, without the quiet zone.
    pub side: u32,
    /// True for dark, row by row from the top left.
    pub dark: Vec<bool>,
}

impl Modules {
    /// True where the square in this column and row is dark.
    pub fn is_dark(&self, column: u32, row: u32) -> bool {
        column < self.side && self.dark.get((row * self.side + column) as usize).copied().unwrap_or(false)
    }
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A rectangle.
    Rect {
        /// Where.
        area: Area,
        /// What it is filled with.
        fill: Option<Fill>,
        /// How its sides are drawn.
        stroke: Option<Stroke>,
    },
    /// A line or a chain of lines.
    Path {
        /// Corner points, two or more.
        points: Vec<Point>,
        /// True where the last point is joined to the first.
        closed: bool,
        /// Colour of the inside, where it has one.
        fill: Option<Rgb8>,
        /// How it is drawn.
        stroke: Option<Stroke>,
    },
    /// A circle.
    Circle {
        /// Middle.
        middle: Point,
        /// From the middle to the line.
        radius: Um,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// Words.
    Words(Words),
    /// A two-dimensional code.
    Code {
        /// Top left corner of its first square.
        at: Point,
        /// Side of one square.
        module: Um,
        /// Its squares.
        modules: Modules,
    },
}

/// A page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// What is on it, in a few words: the preview's and the file's title.
    pub title: String,
    /// Along x.
    pub width: Um,
    /// Along y.
    pub height: Um,
    /// What lies on it and what each thing is for.
    pub items: Vec<(Group, Mark)>,
}

impl Page {
    /// An empty page.
    pub fn new(title: impl Into<String>, width: Um, height: Um) -> Self {
        Self { title: title.into(), width, height, items: Vec::new() }
    }

    /// The whole page.
    pub const fn area(&self) -> Area {
        Area::new(0, 0, self.width, self.height)
    }

    /// Adds anything.
    pub fn add(&mut self, group: Group, mark: Mark) {
        self.items.push((group, mark));
    }

    /// Adds a rectangle's sides.
    pub fn frame(&mut self, group: Group, area: Area, stroke: Stroke) {
        self.add(group, Mark::Rect { area, fill: None, stroke: Some(stroke) });
    }

    /// Adds a filled rectangle without sides.
    pub fn fill(&mut self, area: Area, fill: Fill) {
        self.add(Group::Fill, Mark::Rect { area, fill: Some(fill), stroke: None });
    }

    /// Adds a line.
    pub fn line(&mut self, group: Group, from: (Um, Um), to: (Um, Um), stroke: Stroke) {
        let points = [from, to].map(|(x, y)| Point { x, y }).to_vec();
        self.add(group, Mark::Path { points, closed: false, fill: None, stroke: Some(stroke) });
    }

    /// Adds words.
    pub fn words(&mut self, words: Words) {
        if !words.text.is_empty() {
            self.add(Group::Text, Mark::Words(words));
        }
    }

    /// The marks of one group, in the order they were added.
    pub fn of(&self, group: Group) -> impl Iterator<Item = &Mark> {
        self.items.iter().filter(move |(g, _)| *g == group).map(|(_, mark)| mark)
    }

    /// All marks in the order they are painted.
    pub fn painted(&self) -> impl Iterator<Item = (Group, &Mark)> {
        Group::ALL.into_iter().flat_map(|group| self.of(group).map(move |mark| (group, mark)))
    }

    /// The words of the page, in the order they were added.
    pub fn texts(&self) -> impl Iterator<Item = &Words> {
        self.items.iter().filter_map(|(_, mark)| match mark {
            Mark::Words(words) => Some(words),
            _ => None,
        })
    }

    /// The smallest rectangle round everything, line widths and letters included; `None` for an empty page.
    pub fn bounds(&self) -> Option<Area> {
        self.items.iter().map(|(_, mark)| mark.bounds()).reduce(|a, b| a.with(&b))
    }
}

impl Mark {
    /// The smallest rectangle round it, its line's width included.
    pub fn bounds(&self) -> Area {
        let reach = |stroke: &Option<Stroke>| stroke.map_or(0, |s| (s.width + 1) / 2);
        match self {
            Self::Rect { area, stroke, .. } => area.inset(-reach(stroke)),
            Self::Path { points, stroke, .. } => {
                let spots = points.iter().map(|p| Area::new(p.x, p.y, 0, 0));
                spots.reduce(|a, b| a.with(&b)).unwrap_or_default().inset(-reach(stroke))
            }
            Self::Circle { middle, radius, stroke } => {
                let spot = Area::new(middle.x, middle.y, 0, 0);
                spot.inset(-radius - reach(&Some(*stroke)))
            }
            Self::Words(words) => super::text::bounds(words),
            Self::Code { at, module, modules } => {
                let side = module * i64::from(modules.side);
                Area::new(at.x, at.y, side, side)
            }
        }
    }
}

/// A length in micrometres.
pub fn um(length: Length) -> Um {
    length.micrometres()
}

/// Width and height of a size in micrometres.
pub fn um_size(size: Size) -> (Um, Um) {
    (um(size.width), um(size.height))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_seventy_seconds_of_an_inch() {
        assert_eq!(points(720), INCH);
        assert_eq!(points(5), 176);
        assert_eq!(um(Length::inches(6)), 152_400);
    }

    #[test]
    fn a_page_is_painted_group_by_group() {
        let mut page = Page::new("a", 100, 100);
        page.line(Group::Cut, (0, 0), (10, 0), Stroke::CUT);
        page.fill(Area::new(5, 5, 10, 10), Fill::Colour(GREY));
        page.frame(Group::Outline, Area::new(5, 5, 10, 10), Stroke::THIN);
        let groups: Vec<Group> = page.painted().map(|(g, _)| g).collect();
        assert_eq!(groups, [Group::Fill, Group::Outline, Group::Cut]);
    }

    #[test]
    fn bounds_hold_the_width_of_the_line() {
        let mut page = Page::new("a", 100_000, 100_000);
        assert_eq!(page.bounds(), None);
        page.line(Group::Cut, (1000, 2000), (3000, 2000), Stroke { width: 200, ..Stroke::THIN });
        assert_eq!(page.bounds(), Some(Area::new(900, 1900, 2200, 200)));
        let middle = Point { x: 10_000, y: 10_000 };
        page.add(Group::Cut, Mark::Circle { middle, radius: 1000, stroke: Stroke::THIN });
        assert_eq!(page.bounds().map(|b| b.bottom()), Some(11_088));
    }

    #[test]
    fn one_area_holds_another_up_to_its_sides() {
        let outer = Area::new(0, 0, 10, 10);
        assert!(outer.holds(&outer) && !outer.holds(&outer.inset(-1)));
        assert_eq!(outer.below(4), Area::new(0, 4, 10, 6));
    }
}
