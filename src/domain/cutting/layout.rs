//! A cut sheet with coordinates: placed pieces, cuts in cutting order, offcuts. Origin top left, x right, y down.

use crate::domain::cutting::geometry::Cut;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::geometry::Placed;
use crate::domain::cutting::tree::Tree;
use crate::domain::cutting::wheel;

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
