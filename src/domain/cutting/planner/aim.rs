//! What the lanes of a round look at: the model, the best plan so far, what is to be reached.

use super::grade::Taste;
use super::model::Instance;
use super::packing::Packing;
use crate::domain::cutting::covers::Covers;
use crate::domain::cutting::dual::Bound;

/// What both lanes look at in a round.
pub(crate) struct Aim<'a> {
    pub model: &'a Instance,
    pub taste: Taste,
    pub best: &'a Packing,
    pub bound: Bound,
    /// What is known about how many sheets it takes.
    pub covers: &'a Covers,
    /// The cost is as low as it gets: look for less work only.
    pub polish: bool,
}
