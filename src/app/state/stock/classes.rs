//! Classes and batches as the pane lists them, and the look at one of them.

use super::sort::{self, SortBy};
use crate::app::input::list::Cursor;
use crate::app::state::settling::Settling;
use crate::domain::book::Book;
use crate::domain::project::Project;
use crate::domain::stock::ProjectId;
use crate::domain::stock::outlook::{Outlook, outlook};
use std::collections::BTreeMap;

/// Classes and batches, and the look at one of them.
#[derive(Clone, Debug, Default)]
pub struct Classes {
    /// Open ones first, then those that are done, each sorted as the person chose.
    pub ids: Vec<ProjectId>,
    /// Sheets and things, and offcuts, set aside for each.
    pub booked: BTreeMap<ProjectId, (u64, u64)>,
    /// The look at the one under the cursor.
    pub outlook: Option<(ProjectId, Outlook)>,
}

impl Classes {
    /// Brings the list up to date with the book; the cursor stays on its class when that moves.
    pub fn arrange(&mut self, book: &Book, open: Option<ProjectId>, cursor: Cursor, by: SortBy) -> Cursor {
        let picked = self.picked(open, cursor);
        let mut rows: Vec<(ProjectId, &Project)> = book.projects().iter().collect();
        sort::projects(&mut rows, by);
        self.ids = rows.into_iter().map(|(id, _)| id).collect();
        self.booked.clear();
        for (_, b) in book.bookings().iter() {
            let (sheets, offcuts) = self.booked.entry(b.project).or_default();
            *(if b.offcut.is_some() { offcuts } else { sheets }) += u64::from(b.count);
        }
        self.outlook = None;
        let at = self.ids.iter().position(|id| Some(*id) == picked);
        at.map_or(cursor, Cursor::at)
    }

    /// Looks at a class, unless that was done.
    pub fn look(&mut self, book: &Book, picked: Option<ProjectId>, plans: &Settling) {
        if self.outlook.as_ref().map(|(id, _)| *id) != picked {
            self.outlook = picked.and_then(|id| Some((id, outlook(book, id, plans.of(id))?)));
        }
    }

    /// The class that is open, else the one under the cursor.
    pub fn picked(&self, open: Option<ProjectId>, cursor: Cursor) -> Option<ProjectId> {
        open.or_else(|| self.ids.get(cursor.row(self.ids.len())?).copied())
    }
}
