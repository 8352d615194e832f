//! Which part of the screen takes a click, noted by the views while they draw: what is clicked is what was drawn there.

use crate::app::action::{List, Spot};
use ratatui::layout::{Position, Rect};

/// Areas with what lies there; a later one lies over an earlier one.
#[derive(Clone, Debug, Default)]
pub struct Hits {
    areas: Vec<(Rect, Spot)>,
    columns: Option<usize>,
}

impl Hits {
    /// Adds an area.
    pub fn add(&mut self, area: Rect, spot: Spot) {
        self.areas.push((area, spot));
    }

    /// Adds the room of a list, for the wheel, and its rows: where each was drawn, and which it is.
    pub fn list(&mut self, room: Rect, list: List, rows: impl IntoIterator<Item = (usize, Rect)>) {
        self.add(room, Spot::In(list));
        for (row, area) in rows {
            self.add(area, Spot::Row(list, row));
        }
    }

    /// Says how many swatches stand in a row of the grid: what a move up or down jumps follows from the drawing too.
    pub const fn grid(&mut self, columns: usize) {
        self.columns = Some(columns);
    }

    /// Swatches in a row of the grid, where one was drawn.
    pub const fn columns(&self) -> Option<usize> {
        self.columns
    }

    /// Forgets all areas: something lies over the pane.
    pub fn clear(&mut self) {
        self.areas.clear();
    }

    /// What lies at a place.
    pub fn at(&self, place: Position) -> Option<Spot> {
        self.areas.iter().rev().find(|(area, _)| area.contains(place)).map(|(_, spot)| *spot)
    }

    /// The list at a place.
    pub fn list_at(&self, place: Position) -> Option<List> {
        self.areas.iter().rev().filter(|(area, _)| area.contains(place)).find_map(|(_, spot)| match spot {
            Spot::Row(list, _) | Spot::In(list) => Some(*list),
            Spot::Cell(..) => Some(List::Cells),
            _ => None,
        })
    }

    /// All areas, in the order drawn.
    pub fn all(&self) -> &[(Rect, Spot)] {
        &self.areas
    }
}
