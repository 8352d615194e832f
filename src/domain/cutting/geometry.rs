//! Rectangles on a sheet and the lines that part them. Origin top left, x right, y down.

use crate::domain::length::Length;
use crate::domain::size::Size;

/// A rectangle on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Panel {
    /// Left side.
    pub x: Length,
    /// Top side.
    pub y: Length,
    /// Width and height as it lies.
    pub size: Size,
}

impl Panel {
    /// A whole sheet, from its top left corner.
    pub const fn whole(size: Size) -> Self {
        Self { x: Length::ZERO, y: Length::ZERO, size }
    }

    /// Right side.
    pub fn right(&self) -> Length {
        self.x + self.size.width
    }

    /// Bottom side.
    pub fn bottom(&self) -> Length {
        self.y + self.size.height
    }

    /// The two parts of an edge-to-edge cut at a distance from the left (down) or top (across).
    pub fn parts(&self, line: CutLine, at: Length) -> (Self, Self) {
        let Size { width, height } = self.size;
        match line {
            CutLine::Down => (
                Self { size: Size::new(at, height), ..*self },
                Self { x: self.x + at, size: Size::new(width - at, height), ..*self },
            ),
            CutLine::Across => (
                Self { size: Size::new(width, at), ..*self },
                Self { y: self.y + at, size: Size::new(width, height - at), ..*self },
            ),
        }
    }
}

/// A finished piece on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Index into the question's pieces.
    pub piece: usize,
    /// Where it lies.
    pub panel: Panel,
    /// True where the piece's width lies along the sheet's height.
    pub turned: bool,
}

/// One cut. `stop` marks a cut that starts or ends inside a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Start, x.
    pub x0: Length,
    /// Start, y.
    pub y0: Length,
    /// End, x.
    pub x1: Length,
    /// End, y.
    pub y1: Length,
    /// True for a cut that does not run from edge to edge.
    pub stop: bool,
}

/// The direction that a cut runs in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum CutLine {
    /// Runs top to bottom: parts a panel into left and right.
    Down,
    /// Runs left to right: parts a panel into top and bottom.
    Across,
}

impl CutLine {
    /// The other direction.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Down => Self::Across,
            Self::Across => Self::Down,
        }
    }
}

/// The edge of a panel, as drawn, that lies against the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    /// Left side.
    Left,
    /// Top side.
    Top,
    /// Right side.
    Right,
    /// Bottom side.
    Bottom,
}

impl Edge {
    /// The edge across the panel from it.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Top => Self::Bottom,
            Self::Right => Self::Left,
            Self::Bottom => Self::Top,
        }
    }

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Top => "top",
            Self::Right => "right",
            Self::Bottom => "bottom",
        }
    }
}
