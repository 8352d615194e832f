//! Equal neighbours as one block that says how many it holds, where pieces are too small to be drawn one by one.

use crate::domain::cutting::geometry::{Panel, Placed};
use crate::domain::size::Size;

/// A block of equal pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Block {
    pub panel: Panel,
    pub turned: bool,
    pub across: i64,
    pub down: i64,
    /// The first of them, by its place in the layout.
    pub first: usize,
    kind: usize,
    piece: Size,
}

impl Block {
    /// How many it holds.
    pub const fn count(&self) -> i64 {
        self.across * self.down
    }
}

/// Joins equal neighbours: first along rows, then rows that match.
pub(super) fn blocks(pieces: &[Placed]) -> Vec<Block> {
    let single = |(first, p): (usize, &Placed)| {
        let (panel, turned, kind, piece) = (p.panel, p.turned, p.piece, p.panel.size);
        Block { panel, turned, across: 1, down: 1, first, kind, piece }
    };
    let mut singles: Vec<Block> = pieces.iter().enumerate().map(single).collect();
    singles.sort_by_key(|b| (b.panel.y, b.panel.x));
    let mut rows = join(singles, |a, b| {
        let side_by_side = a.panel.y == b.panel.y && a.panel.right() == b.panel.x;
        (are_equal(a, b) && side_by_side).then(|| {
            let size = Size::new(a.panel.size.width + b.panel.size.width, a.panel.size.height);
            Block { panel: Panel { size, ..a.panel }, across: a.across + b.across, ..*a }
        })
    });
    rows.sort_by_key(|b| (b.panel.x, b.panel.y));
    join(rows, |a, b| {
        let stacked = a.panel.x == b.panel.x && a.panel.bottom() == b.panel.y && a.across == b.across;
        (are_equal(a, b) && stacked).then(|| {
            let size = Size::new(a.panel.size.width, a.panel.size.height + b.panel.size.height);
            Block { panel: Panel { size, ..a.panel }, down: a.down + b.down, ..*a }
        })
    })
}

fn are_equal(a: &Block, b: &Block) -> bool {
    a.piece == b.piece && a.kind == b.kind && a.turned == b.turned
}

fn join(sorted: Vec<Block>, both: impl Fn(&Block, &Block) -> Option<Block>) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::new();
    for block in sorted {
        match out.last().and_then(|last| both(last, &block)) {
            Some(joined) => {
                out.pop();
                out.push(joined);
            }
            None => out.push(block),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;

    fn placed(x: i64, y: i64, w: i64, h: i64) -> Placed {
        let size = Size::new(Length::inches(w), Length::inches(h));
        Placed { piece: 0, panel: Panel { x: Length::inches(x), y: Length::inches(y), size }, turned: false }
    }

    #[test]
    fn equal_neighbours_become_one_block() {
        let pieces = [
            placed(0, 0, 2, 3),
            placed(2, 0, 2, 3),
            placed(0, 3, 2, 3),
            placed(2, 3, 2, 3),
            placed(4, 0, 3, 2),
        ];
        let b = blocks(&pieces);
        assert_eq!(b.len(), 2);
        assert_eq!((b[0].across, b[0].down, b[0].count()), (2, 2, 4));
        let mut two = pieces;
        two[1].piece = 1;
        assert!(blocks(&two).len() > 2, "another piece of the same size is not of the block");
    }
}
