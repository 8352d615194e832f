//! A cut sheet with coordinates: placed pieces, cuts in cutting order, offcuts. Origin top left, x right, y down.

use crate::domain::cutting::tree::{CutLine, Tree};
use crate::domain::cutting::wheel;
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

/// Where everything on one sheet lies, and the cuts that get it there.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Layout {
    /// Finished pieces.
    pub pieces: Vec<Placed>,
    /// In cutting order: each runs the full width or height of a panel that exists by then, or is marked `stop`.
    pub cuts: Vec<Cut>,
    /// What is left over.
    pub offcuts: Vec<Panel>,
}

impl Layout {
    /// Lays a tree out on a sheet (or on any panel of one), cutting the first part before the second.
    pub fn from_tree(panel: Panel, tree: &Tree) -> Self {
        let mut layout = Self::default();
        layout.add(panel, tree);
        layout
    }

    fn add(&mut self, panel: Panel, tree: &Tree) {
        match tree {
            Tree::Piece { piece, turned } => {
                self.pieces.push(Placed { piece: *piece, panel, turned: *turned });
            }
            Tree::Offcut => self.offcuts.push(panel),
            Tree::Split { line, at, first, second } => {
                let (a, b) = panel.parts(*line, *at);
                let (x0, y0, x1, y1) = match line {
                    CutLine::Down => (b.x, panel.y, b.x, panel.bottom()),
                    CutLine::Across => (panel.x, b.y, panel.right(), b.y),
                };
                self.cuts.push(Cut { x0, y0, x1, y1, stop: false });
                self.add(a, first);
                self.add(b, second);
            }
            Tree::Wheel { at, blocks } => {
                self.cuts.extend(wheel::cuts(panel, *at).iter().map(|c| c.cut));
                for (place, block) in wheel::panels(panel, *at).into_iter().zip(blocks.iter()) {
                    self.add(place, block);
                }
            }
        }
    }

    /// Area of the pieces in square units.
    pub fn used_area(&self) -> i128 {
        self.pieces.iter().map(|p| p.panel.size.area()).sum()
    }

    /// The largest single offcut, if anything is left.
    pub fn largest_offcut(&self) -> Option<Panel> {
        self.offcuts.iter().copied().max_by_key(|p| p.size.area())
    }
}
