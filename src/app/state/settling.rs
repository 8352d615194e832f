//! Plans behind the figures of projects: those that are there, and the one that is awaited.

use crate::domain::cutting::plan::Plan;
use crate::domain::planning::ProjectJob;
use crate::domain::stock::ProjectId;
use crate::domain::stock::needs::Settled;
use std::collections::BTreeMap;

/// Plans that are there, and the one that is awaited.
#[derive(Clone, Debug, Default)]
pub struct Settling {
    /// Plans that are there.
    pub plans: BTreeMap<ProjectId, (ProjectJob, Plan)>,
    /// What is asked of the planner.
    pub waiting: Option<ProjectJob>,
    /// What was looked at last: the book's step and the project.
    pub seen: Option<(u64, ProjectId)>,
    /// The project that is booked as soon as its plan is there.
    pub book: Option<ProjectId>,
}

impl Settling {
    /// A project is to be booked as soon as its plan is there.
    pub fn book_soon(&mut self, id: ProjectId) {
        self.book = Some(id);
        self.seen = None;
    }

    /// The plan of a project, where there is one; whether it still answers what is asked is for the needs to say.
    pub fn of(&self, id: ProjectId) -> Option<Settled<'_>> {
        self.plans.get(&id).map(|(job, plan)| Settled { job, plan })
    }
}
