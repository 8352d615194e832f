//! The pinwheel of five blocks: where its four stop cuts run, which blocks they free, and where those lie.
//!
//! ```text
//!   +-------------+-----+     The four cuts, in this order: A along y1 from the left, stopping at x2;
//!   |      4      |     |     B along x2 from the top, stopping at y2; C along y2 from the right, stopping
//!   +----+--------+  5  |     at x1; D along x1 from the bottom, stopping at y1.
//!   |    |   3    |     |
//!   | 1  +--------+-----+     y1 < y2 are measured from the top, x1 < x2 from the left. B frees block 4,
//!   |    |      2       |     C block 5, D the other three.
//!   +----+--------------+
//! ```

use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::geometry::{Cut, Panel};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// Where the cuts stand: x1, x2 from the left, y1, y2 from the top.
pub type At = [Length; 4];

/// One of the four cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WheelCut {
    /// Distance from the fence to the blade.
    pub fence: Length,
    /// The edge of the panel against the fence.
    pub edge: Edge,
    /// The edge where the blade starts.
    pub start: Edge,
    /// Length of the cut from there: where the mark is at which it stops.
    pub along: Length,
    /// The cut on the sheet, from start to end.
    pub cut: Cut,
}

/// The blocks, counted from 0, that come off with each cut.
pub const FREED: [&[usize]; 4] = [&[], &[3], &[4], &[0, 1, 2]];

/// True where a panel of a size has room for the four cuts.
pub fn fits(size: Size, [x1, x2, y1, y2]: At) -> bool {
    let inside = |a: Length, b: Length, side: Length| a.is_positive() && a < b && b < side;
    inside(x1, x2, size.width) && inside(y1, y2, size.height)
}

/// Cuts A to D, each with its outer block against the fence.
pub fn cuts(p: Panel, [x1, x2, y1, y2]: At) -> [WheelCut; 4] {
    let (right, bottom, Size { width, height }) = (p.right(), p.bottom(), p.size);
    let cut = |x0, y0, x1, y1| Cut { x0, y0, x1, y1, stop: true };
    let one = |fence, edge, start, along, cut| WheelCut { fence, edge, start, along, cut };
    [
        one(y1, Edge::Top, Edge::Left, x2, cut(p.x, p.y + y1, p.x + x2, p.y + y1)),
        one(width - x2, Edge::Right, Edge::Top, y2, cut(p.x + x2, p.y, p.x + x2, p.y + y2)),
        one(height - y2, Edge::Bottom, Edge::Right, width - x1, cut(right, p.y + y2, p.x + x1, p.y + y2)),
        one(x1, Edge::Left, Edge::Bottom, height - y1, cut(p.x + x1, bottom, p.x + x1, p.y + y1)),
    ]
}

/// Where blocks 1 to 5 lie.
pub fn panels(p: Panel, [x1, x2, y1, y2]: At) -> [Panel; 5] {
    let Size { width, height } = p.size;
    let block = |x, y, w, h| Panel { x: p.x + x, y: p.y + y, size: Size::new(w, h) };
    [
        block(Length::ZERO, y1, x1, height - y1),
        block(x1, y2, width - x1, height - y2),
        block(x1, y1, x2 - x1, y2 - y1),
        block(Length::ZERO, Length::ZERO, x2, y1),
        block(x2, Length::ZERO, width - x2, y2),
    ]
}

/// Where the four cuts of a panel stand, read back from them.
pub fn at(p: Panel, [a, b, c, d]: [&Cut; 4]) -> At {
    [d.x0 - p.x, b.x0 - p.x, a.y0 - p.y, c.y0 - p.y]
}

/// The blocks that the last of the cuts made so far frees.
pub fn freed(p: Panel, made: &[Cut]) -> Vec<Panel> {
    match made {
        [a, b] => {
            let size = Size::new(b.x0 - p.x, a.y0 - p.y);
            vec![Panel { size, ..p }]
        }
        [_, b, c] => {
            let size = Size::new(p.right() - b.x0, c.y0 - p.y);
            vec![Panel { x: b.x0, size, ..p }]
        }
        [a, b, c, d] => {
            let [first, second, third, ..] = panels(p, at(p, [a, b, c, d]));
            vec![first, second, third]
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIDE: [i64; 4] = [5, 7, 5, 7];

    fn wheel() -> (Panel, At) {
        (Panel::whole(Size::new(Length::inches(12), Length::inches(12))), SIDE.map(Length::inches))
    }

    #[test]
    fn five_blocks_tile_the_panel() {
        let (panel, at) = wheel();
        let area: i128 = panels(panel, at).iter().map(|b| b.size.area()).sum();
        assert!(fits(panel.size, at) && area == panel.size.area());
        let four = cuts(panel, at).map(|c| c.cut);
        assert_eq!(super::at(panel, [&four[0], &four[1], &four[2], &four[3]]), at);
        assert!(four.iter().all(|c| c.stop));
        assert!(!fits(panel.size, [7, 5, 5, 7].map(Length::inches)));
    }

    #[test]
    fn each_cut_frees_its_blocks() {
        let (panel, at) = wheel();
        let four = cuts(panel, at).map(|c| c.cut);
        let blocks = panels(panel, at);
        for n in 0..=4 {
            let freed: Vec<Panel> = freed(panel, &four[..n]);
            let last = n.checked_sub(1).map_or(&[][..], |n| FREED[n]);
            assert_eq!(freed, last.iter().map(|&b| blocks[b]).collect::<Vec<_>>());
        }
    }
}
