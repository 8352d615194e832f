//! A panel turned by quarters until one of its edges lies where the trimmer wants it. Paper is turned, never flipped: the
//! printed side stays up.

use super::geometry::Edge;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// The edges in the order in which a turn to the right carries one to the place of the next.
const ROUND: [Edge; 4] = [Edge::Left, Edge::Top, Edge::Right, Edge::Bottom];

fn place_of(edge: Edge) -> usize {
    ROUND.iter().position(|e| *e == edge).unwrap_or(0)
}

/// A panel as it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lying {
    panel: Size,
    /// Quarter turns to the right, 0 to 3.
    quarters: usize,
}

impl Lying {
    /// A panel turned so that an edge of it, as drawn, lies at a side.
    pub fn with(panel: Size, edge: Edge, side: Edge) -> Self {
        Self { panel, quarters: (place_of(side) + 4 - place_of(edge)) % 4 }
    }

    /// Its size as it lies.
    pub fn size(&self) -> Size {
        if self.quarters.is_multiple_of(2) { self.panel } else { self.panel.turned() }
    }

    /// Where an edge of the panel, as drawn, lies now.
    pub fn place(&self, edge: Edge) -> Edge {
        ROUND[(place_of(edge) + self.quarters) % 4]
    }

    /// How it was turned for that; nothing where it lies as it is drawn.
    pub const fn turned_words(&self) -> Option<&'static str> {
        match self.quarters {
            0 => None,
            1 => Some("turned a quarter right"),
            2 => Some("turned half round"),
            _ => Some("turned a quarter left"),
        }
    }

    /// Which edge of the panel, as drawn, lies at the top now.
    pub fn on_top(&self) -> Edge {
        ROUND[(place_of(Edge::Top) + 4 - self.quarters) % 4]
    }

    /// Where a point of the panel lies now.
    pub fn point(&self, x: Length, y: Length) -> (Length, Length) {
        let Size { width, height } = self.panel;
        match self.quarters {
            0 => (x, y),
            1 => (height - y, x),
            2 => (width - x, height - y),
            _ => (y, width - x),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each edge is brought to each side, and the corner at its left end (seen from inside the panel) goes along.
    #[test]
    fn an_edge_lies_where_it_was_wanted() {
        let panel = Size::new(Length::inches(3), Length::inches(5));
        let (zero, w, h) = (Length::ZERO, panel.width, panel.height);
        let ends = |edge: Edge, w: Length, h: Length| match edge {
            Edge::Left => [(zero, h), (zero, zero)],
            Edge::Top => [(zero, zero), (w, zero)],
            Edge::Right => [(w, zero), (w, h)],
            Edge::Bottom => [(w, h), (zero, h)],
        };
        for edge in ROUND {
            for side in ROUND {
                let lying = Lying::with(panel, edge, side);
                let size = lying.size();
                assert_eq!(lying.place(edge), side);
                assert_eq!(lying.place(lying.on_top()), Edge::Top);
                let now = ends(edge, w, h).map(|(x, y)| lying.point(x, y));
                assert_eq!(now, ends(side, size.width, size.height), "{edge:?} to {side:?}");
            }
        }
    }
}
