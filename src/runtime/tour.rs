//! The book that the guided tour is taken on.

use crate::app::action::{Action, Fresh};
use crate::domain::history::Moved;
use crate::persist::demo;

/// The demo's shelf for the tour, or why there is none.
pub(super) fn begin() -> Action {
    match demo::shelf_today() {
        Ok((book, history)) => {
            Action::Tour(Box::new(Fresh { epoch: 0, book, history, moved: Moved::default() }))
        }
        Err(why) => Action::Tell(format!("The tour cannot begin: {why}")),
    }
}
