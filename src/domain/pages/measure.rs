//! What every part of a page is measured and told in: micrometres, points, areas, inks, words at a place.

use crate::domain::colour::space::Rgb8;

/// A length in micrometres.
pub type Um = i64;

/// Micrometres in a millimetre.
pub const MM: Um = 1000;

/// Micrometres in an inch, exactly.
pub const INCH: Um = 25_400;

/// Tenths of a point (1/72 in) in micrometres, to the nearest.
pub const fn points(tenths: i64) -> Um {
    (tenths * INCH + 360) / 720
}

/// A point on the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Point {
    /// From the left.
    pub x: Um,
    /// From the top.
    pub y: Um,
}

/// A rectangle on the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Area {
    /// Left side.
    pub x: Um,
    /// Top side.
    pub y: Um,
    /// Along x.
    pub width: Um,
    /// Along y.
    pub height: Um,
}

impl Area {
    /// From its left and top sides, width and height.
    pub const fn new(x: Um, y: Um, width: Um, height: Um) -> Self {
        Self { x, y, width, height }
    }

    /// Right side.
    pub const fn right(&self) -> Um {
        self.x + self.width
    }

    /// Bottom side.
    pub const fn bottom(&self) -> Um {
        self.y + self.height
    }

    /// Smaller by `by` on each side; larger for a negative one.
    #[must_use]
    pub const fn inset(&self, by: Um) -> Self {
        Self::new(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)
    }

    /// Without a strip of this height at the top.
    #[must_use]
    pub const fn below(&self, height: Um) -> Self {
        Self::new(self.x, self.y + height, self.width, self.height - height)
    }

    /// True where `inner` lies inside or on the sides.
    pub const fn holds(&self, inner: &Self) -> bool {
        self.x <= inner.x
            && self.y <= inner.y
            && inner.right() <= self.right()
            && inner.bottom() <= self.bottom()
    }

    /// The smallest rectangle round both.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        let (x, y) = (self.x.min(other.x), self.y.min(other.y));
        Self::new(x, y, self.right().max(other.right()) - x, self.bottom().max(other.bottom()) - y)
    }
}

/// Black.
pub const BLACK: Rgb8 = Rgb8::new(0, 0, 0);

/// White.
pub const WHITE: Rgb8 = Rgb8::new(255, 255, 255);

/// A grey that still prints: side remarks, light rules.
pub const GREY: Rgb8 = Rgb8::new(110, 110, 110);

/// A light grey ground.
pub const PALE: Rgb8 = Rgb8::new(235, 235, 235);

/// Which end of the words lies at the place given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Anchor {
    /// Their start.
    #[default]
    Start,
    /// Their middle.
    Middle,
    /// Their end.
    End,
}

/// Thickness of the letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub enum LetterWeight {
    /// Ordinary.
    #[default]
    Regular,
    /// Bold.
    Bold,
}

/// One line of words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// Where they are anchored, on the line that letters stand on.
    pub at: Point,
    /// Height of the letters' em.
    pub size: Um,
    /// Which end lies at `at`.
    pub anchor: Anchor,
    /// Bold or not.
    pub weight: LetterWeight,
    /// Colour.
    pub ink: Rgb8,
    /// Turned a quarter to the left: read from the bottom up.
    pub upward: bool,
    /// The words themselves, free of control characters.
    pub text: String,
}
