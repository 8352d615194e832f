//! What `update` asks the outside to do. Values only: the runtime runs them and sends actions back.

use crate::domain::book::Book;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::question::{Limits, Question};
use crate::domain::history::Entry;
use crate::domain::pages::frame::Setup;
use crate::domain::pages::request::Request;
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
    /// Say in text what would be on the pages; the answer carries the number back.
    Preview(u64, Box<PagesAsk>),
    /// Write pages to a file.
    Print(Box<PrintJob>),
    /// Bring the demo's book for the guided tour.
    Tour,
    /// Put a text on the clipboard.
    Copy(String),
    /// Remember how the bench is left, and let the mouse be as the model says.
    Remember,
    /// Give the terminal back until the shell continues us.
    Suspend,
    /// Leave, once everything is saved.
    Quit,
}

/// Pages that are asked for, with the book that they are made from.
#[derive(Clone, Debug)]
pub struct PagesAsk {
    /// Which pages.
    pub wanted: Wanted,
    /// The book, where they need it.
    pub book: Box<Book>,
    /// Paper, unit, colour.
    pub setup: Setup,
}

/// Which pages.
#[derive(Clone, Debug)]
pub enum Wanted {
    /// A request.
    Pages(Box<Request>),
    /// The yields of a sheet, not worked out yet.
    Chart {
        /// The sheet.
        sheet: Box<Sheet>,
        /// From, to, step.
        range: ChartRange,
        /// Pieces may lie turned.
        may_turn: bool,
    },
}

/// A file to be written.
#[derive(Clone, Debug)]
pub struct PrintJob {
    /// The pages.
    pub ask: PagesAsk,
    /// The file's name as it was typed.
    pub file: String,
    /// True where a file of that name may be replaced.
    pub replace: bool,
}

/// A question for a worker.
#[derive(Clone, Debug)]
pub enum Ask {
    /// The yield of one size.
    Yield(Box<Question>),
    /// The chart of all sizes.
    Chart(Box<ChartAsk>),
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
