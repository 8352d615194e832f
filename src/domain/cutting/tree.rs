//! The guillotine tree: how a panel is cut edge to edge, and cut again. Layout, cuts and steps all come from it.
//!
//! A tree holds no coordinates. A [`Tree::Split`] parts a panel at a distance from its left side (a cut along y) or
//! from its top side (a cut along x); the leaves are pieces of an exact size, or offcuts that take what is left.

use crate::domain::length::Length;

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

/// A panel of paper and what becomes of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tree {
    /// A finished piece: its row in the question, and whether it lies turned. The panel has exactly its size.
    Piece {
        /// Index into the question's pieces.
        piece: usize,
        /// True where the piece's width lies along the sheet's height.
        turned: bool,
    },
    /// What is left over.
    Offcut,
    /// One cut from edge to edge of the panel.
    Split {
        /// Which way the cut runs.
        line: CutLine,
        /// Distance from the panel's left side (down) or top side (across).
        at: Length,
        /// The left or top part.
        first: Box<Tree>,
        /// The right or bottom part.
        second: Box<Tree>,
    },
}

impl Tree {
    /// A cut with both parts.
    pub fn split(line: CutLine, at: Length, first: Self, second: Self) -> Self {
        Self::Split { line, at, first: Box::new(first), second: Box::new(second) }
    }

    /// How many finished pieces the tree holds.
    pub fn piece_count(&self) -> usize {
        match self {
            Self::Piece { .. } => 1,
            Self::Offcut => 0,
            Self::Split { first, second, .. } => first.piece_count() + second.piece_count(),
        }
    }

    /// True where the panel may be larger than it is in the direction that `line` divides without another cut: an
    /// offcut takes up the difference.
    pub fn takes_more(&self, line: CutLine) -> bool {
        match self {
            Self::Piece { .. } => false,
            Self::Offcut => true,
            Self::Split { line: own, second, .. } if *own == line => second.takes_more(line),
            Self::Split { first, second, .. } => first.takes_more(line) && second.takes_more(line),
        }
    }

    /// How many cuts the tree makes.
    pub fn cut_count(&self) -> usize {
        match self {
            Self::Split { first, second, .. } => 1 + first.cut_count() + second.cut_count(),
            _ => 0,
        }
    }
}
