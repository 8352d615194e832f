//! What `update` asks the outside to do. Values only: the runtime runs them and sends actions back.

use super::state::beside::BesideAsk;
use super::state::further::FurtherAsk;
use super::state::photo::PhotoAsk;
use super::state::stock::ways::WaysAsk;
use crate::domain::book::Book;
use crate::domain::cards::every_yield::EveryYield;
use crate::domain::cards::file::Handed;
use crate::domain::cards::tools::Tools;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::question::{Limits, Question};
use crate::domain::history::Entry;
use crate::domain::length::{Length, Unit};
use crate::domain::library::base::TrioAsk;
use crate::domain::pages::frame::Setup;
use crate::domain::pages::request::Request;
use crate::domain::planning::ProjectJob;
use crate::domain::sheet::Sheet;
use crate::domain::shelf_answers::scrap::ScrapAsk;
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

/// When planning stops by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlanUntil {
    /// After so many rounds: the same plan on every machine.
    Rounds(u32),
    /// After so many seconds.
    Seconds(f64),
}

/// One thing for the outside to do.
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
        /// When to stop.
        until: PlanUntil,
    },
    /// Make the plan behind a project's figures: a fixed number of rounds, no news on the way.
    Settle(Box<ProjectJob>),
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
    /// Write pages to a file, or print them.
    Print(Box<PrintJob>),
    /// Ask the system for its print queues.
    Queues,
    /// Bring the demo's book for the guided tour.
    Tour,
    /// Put a text on the clipboard.
    Copy(String),
    /// Write a card or a project to a file.
    HandOn(Box<HandOn>),
    /// Read a card or a project from the file of this name; bare numbers in it are in the unit.
    TakeIn(String, Unit),
    /// Say which files there are whose names begin like this.
    Names(String),
    /// Read a list from a file and hand its rows back.
    ReadList {
        /// The file, as the person typed it.
        path: String,
        /// The unit of bare lengths.
        unit: Unit,
        /// The currency that prices may carry.
        currency: String,
        /// What the list is for.
        what: ListUse,
    },
    /// Write a new file; one that is there is left alone.
    WriteFile {
        /// The file, as the person typed it.
        path: String,
        /// What goes into it.
        content: Content,
    },
    /// Do something with the whole book.
    Book(BookOrder),
    /// Remember how the bench is left, and let the mouse be as the model says.
    Remember,
    /// Give the terminal back until the shell continues us.
    Suspend,
    /// Leave, once everything is saved.
    Quit,
}

/// What is done with the whole book. Files are named as the person typed them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BookOrder {
    /// Write it to one file.
    Keep {
        /// The file.
        path: String,
        /// A file of that name may be replaced.
        replace: bool,
    },
    /// Look what a kept book holds and would replace.
    Look(String),
    /// Bring a kept book in.
    Restore(String),
    /// Carry out what a damaged journal still holds.
    CarryOutLater(String),
}

/// Pages that are asked for, with the book that they are made from.
#[derive(Clone, Debug)]
pub struct PagesAsk {
    /// Which pages.
    pub wanted: Request,
    /// The book, where they need it.
    pub book: Box<Book>,
    /// Paper, unit, colour, the line at the foot.
    pub setup: Setup,
    /// What the code at the foot says; no code where it is empty.
    pub code: String,
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
    /// Straight to a print queue instead of the file.
    pub to: Option<ToPrinter>,
}

/// Where and how pages are printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToPrinter {
    /// The queue; the system's usual one where empty.
    pub queue: String,
    /// How many copies.
    pub copies: u32,
    /// Pages such as `1-3,5`; all where empty.
    pub range: String,
}

/// A question for a worker.
#[derive(Clone, Debug)]
pub enum Ask {
    /// The yield of one size.
    Yield(Box<Question>),
    /// The chart of all sizes.
    Chart(Box<ChartAsk>),
    /// What other reveals yield.
    Advice(Box<AdviceAsk>),
    /// What a sheet gives of every part of a card.
    EveryYield(Box<EveryYield>),
    /// A further answer of Yield.
    Further(Box<FurtherAsk>),
    /// What stands beside the answer of Yield.
    Beside(Box<BesideAsk>),
    /// The layout of what is in hand.
    Laid(Box<Question>),
    /// What can be done where a class runs short.
    Ways(Box<WaysAsk>),
    /// What each of these offcuts gives.
    Gives(Vec<ScrapAsk>),
    /// Trios that go together.
    Trios(Box<TrioAsk>),
    /// The colours of a picture.
    Photo(Box<PhotoAsk>),
    /// The colours of a list, by its path.
    Colours(String),
}

/// A file to be written.
#[derive(Clone, Debug)]
pub struct HandOn {
    /// Its name as typed.
    pub path: String,
    /// What goes into it.
    pub what: Handed,
    /// A file of that name may be written over.
    pub replace: bool,
    /// Unit that its measures are written in.
    pub unit: Unit,
}

/// What other reveals of a mat would yield.
#[derive(Clone, Debug, PartialEq)]
pub struct AdviceAsk {
    /// The size of what the mat lies on.
    pub below: Size,
    /// The reveal chosen.
    pub chosen: Length,
    /// Marks looked at on each side of it.
    pub reach: u32,
    /// What the bench measures with.
    pub tools: Tools,
    /// The sheet it is cut from.
    pub sheet: Sheet,
    /// The mat may lie turned.
    pub may_turn: bool,
    /// Mats wanted.
    pub pieces: u32,
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

/// What a list from outside is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ListUse {
    /// Items to take in.
    Import,
    /// The range of the new year.
    Refresh,
}

/// What goes into a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// The shelf as CSV, lengths in this unit.
    Shelf(Unit),
    /// Some lines of the shelf as CSV.
    Lines(Unit, Vec<ItemId>),
    /// A table as CSV.
    Table {
        /// Names of the columns.
        header: Vec<&'static str>,
        /// Cells, row by row.
        rows: Vec<Vec<String>>,
        /// Columns of numbers that may be below zero: a sign before them is no formula.
        below_zero: Vec<usize>,
    },
    /// Text as it is.
    Text(String),
}
