//! Plans behind the figures of projects: those that are there, and the one that is awaited.

use crate::domain::book::Book;
use crate::domain::cutting::plan::Plan;
use crate::domain::edit::Edit;
use crate::domain::planning::ProjectJob;
use crate::domain::stock::ProjectId;
use crate::domain::stock::needs::Settled;
use std::collections::BTreeMap;

/// Projects on their way to being booked as one step: each on the book as those before it leave it.
#[derive(Clone, Debug, Default)]
pub struct BookingUnderWay {
    /// All of them.
    pub all: Vec<ProjectId>,
    /// How many of them are done.
    pub done: usize,
    /// What books those.
    pub edits: Vec<Edit>,
    /// The step of the book that this rests on, and the book as those edits leave it; nothing before the first one.
    pub then: Option<(u64, Box<Book>)>,
    /// What is said of those that are booked already, cannot be booked, or are booked and lack something.
    pub said: Vec<String>,
}

/// Plans that are there, and the one that is awaited.
#[derive(Clone, Debug, Default)]
pub struct Settling {
    /// Plans that are there.
    pub plans: BTreeMap<ProjectId, (ProjectJob, Plan)>,
    /// What is asked of the planner.
    pub waiting: Option<ProjectJob>,
    /// What was looked at last: the book's step and the project.
    pub seen: Option<(u64, ProjectId)>,
    /// The projects that are booked as soon as their plans are there.
    pub booking: Option<BookingUnderWay>,
}

impl Settling {
    /// Projects are to be booked, in this order and as one step, as soon as their plans are there.
    pub fn book_soon(&mut self, ids: Vec<ProjectId>) {
        self.booking = Some(BookingUnderWay { all: ids, ..BookingUnderWay::default() });
        self.seen = None;
    }

    /// The plan of a project, where there is one; whether it still answers what is asked is for the needs to say.
    pub fn of(&self, id: ProjectId) -> Option<Settled<'_>> {
        self.plans.get(&id).map(|(job, plan)| Settled { job, plan })
    }
}
