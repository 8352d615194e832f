//! What `update` asks the outside to do. Values only: the runtime runs them and sends actions back.

use super::panes::palette::photo::PhotoAsk;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::question::{Limits, Question};
use crate::domain::history::Entry;
use crate::domain::library::base::TrioAsk;
use crate::domain::sheet::Sheet;

/// One wish.
#[derive(Clone, Debug)]
pub enum Effect {
    /// Solve something slow on a worker; the answer carries the number back.
    Solve(u64, Ask),
    /// Plan a job in the background, for so long; news carry the number back.
    Plan {
        /// The request.
        number: u64,
        /// What is cut from what.
        job: Box<Job>,
        /// Wall time.
        seconds: f64,
    },
    /// Stop planning; the best so far comes back as the end.
    StopPlan,
    /// Append this step to the journal, in the order of asking; the epoch is that of the book it was made on.
    Save {
        /// Epoch of the book.
        epoch: u64,
        /// The step as it was made.
        entry: Box<Entry>,
    },
    /// Put a text on the clipboard.
    Copy(String),
    /// Remember how the bench is left, and let the mouse be as the model says.
    Remember,
    /// Give the terminal back until the shell continues us.
    Suspend,
    /// Leave, once everything is saved.
    Quit,
}

/// A question for a worker.
#[derive(Clone, Debug)]
pub enum Ask {
    /// The yield of one size.
    Yield(Box<Question>),
    /// The chart of all sizes.
    Chart(Box<ChartAsk>),
    /// Trios that go together.
    Trios(Box<TrioAsk>),
    /// The colours of a picture.
    Photo(Box<PhotoAsk>),
    /// The colours of a list, by its path.
    Colours(String),
}

/// What a chart is asked of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChartAsk {
    /// The sheet.
    pub sheet: Sheet,
    /// From, to, step.
    pub range: ChartRange,
    /// Pieces may lie turned.
    pub may_turn: bool,
    /// What the trimmer cannot do.
    pub limits: Limits,
}
