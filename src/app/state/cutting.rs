//! What comes to the plan and to the bench from outside: news of the planner, what was spoiled.

use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::planner::PlanProgress;
use crate::domain::size::Size;

/// What was spoiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spoiled {
    /// One panel of this size, before it was cut.
    Panel(Size),
    /// One finished piece of this row.
    Piece(usize),
}

/// News of the planner.
#[derive(Clone, Debug)]
pub enum PlanNews {
    /// A round is done; so many thousandths of the time are gone.
    Progress(PlanProgress, u16),
    /// A better plan.
    Better(Box<Plan>),
    /// The end: the best plan, or the sentence of a fault.
    Done(Box<Result<Plan, String>>),
}
