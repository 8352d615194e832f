//! Which part of the screen takes a click, told by the views while they draw: what is clicked is what was drawn there.

use crate::app::action::{List, Spot};
use ratatui::layout::{Position, Rect};

/// Areas with what lies there; a later one lies over an earlier one.
#[derive(Clone, Debug, Default)]
pub struct Hits(Vec<(Rect, Spot)>);

impl Hits {
    /// Adds an area.
    pub fn add(&mut self, area: Rect, spot: Spot) {
        self.0.push((area, spot));
    }

    /// Adds the room of a list, for the wheel, and its rows: where each was drawn, and which it is.
    pub fn list(&mut self, room: Rect, list: List, rows: impl IntoIterator<Item = (usize, Rect)>) {
        self.add(room, Spot::In(list));
        for (row, area) in rows {
            self.add(area, Spot::Row(list, row));
        }
    }

    /// Forgets all: something lies over the pane.
    pub fn clear(&mut self) {
        self.0.clear();
    }

    /// What lies at a place.
    pub fn at(&self, place: Position) -> Option<Spot> {
        self.0.iter().rev().find(|(area, _)| area.contains(place)).map(|(_, spot)| *spot)
    }

    /// The list at a place.
    pub fn list_at(&self, place: Position) -> Option<List> {
        self.0.iter().rev().filter(|(area, _)| area.contains(place)).find_map(|(_, spot)| match spot {
            Spot::Row(list, _) | Spot::In(list) => Some(*list),
            Spot::Cell(..) => Some(List::Cells),
            _ => None,
        })
    }

    /// All areas, in the order drawn.
    pub fn all(&self) -> &[(Rect, Spot)] {
        &self.0
    }
}
