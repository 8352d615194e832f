//! Which stage after the cuts the step view is at. How far it has come is the project's own count in the book.

use crate::domain::project::Stage;
use crate::domain::stock::ProjectId;

/// A stage of a project in the step view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AfterCuts {
    /// Which project.
    pub project: ProjectId,
    /// Which stage.
    pub stage: Stage,
}
