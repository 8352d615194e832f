//! Everything that can happen to the model: keys, pastes, commands, answers, news from the disk.

pub use super::state::yields::{ShownChart, YieldAnswer};

use super::commands::CommandId;
use super::effect::{BookOrder, HandOn, ListUse, PrintJob};
use super::keys::Key;
use super::state::beside::BesideFound;
use super::state::cutting::PlanNews;
use super::state::further::FurtherFound;
use super::state::photo::PhotoFound;
use super::state::print::{PagesText, PrintNews, Queues};
use super::state::views::Tab;
use crate::app::state::bench::BenchRun;
use crate::domain::book::Book;
use crate::domain::cards::advice::RevealChoice;
use crate::domain::cards::every_yield::PartYield;
use crate::domain::cards::file::Handed;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::Trio;
use crate::domain::cutting::one_size::SheetYield;
use crate::domain::cutting::plan::Plan;
use crate::domain::history::{History, Moved};
use crate::domain::library::base::TrioAsk;
use crate::domain::planning::ProjectJob;
use crate::domain::shelf_answers::scrap::ScrapRow;
use crate::domain::stock::SwatchId;
use crate::domain::stock::import::{BadLine, StockRow};
use crate::domain::stock::ways::ShortLine;

/// One thing that happened.
#[derive(Clone, Debug)]
pub enum Action {
    /// A key was pressed.
    Key(Key),
    /// A key was pressed while the window was too small to show what it does.
    Unseen(Key),
    /// Text was pasted, as one event.
    Paste(String),
    /// A command was chosen.
    Run(CommandId),
    /// Something was clicked: what lies there was found by the drawing side.
    Click(Spot),
    /// The mouse was dragged, as one does to select text.
    Dragged,
    /// The wheel turned: rows down, or up where negative; over which list.
    Wheel(isize, Option<List>),
    /// A worker answered the question of this number.
    Solved(u64, Solved),
    /// What is known by now of the further answer of this number.
    SoFar(u64, Box<FurtherFound>),
    /// News of the planner, under the number of the request.
    Planned(u64, PlanNews),
    /// The plan behind a project's figures, or the sentence of a fault.
    Settled(Box<(ProjectJob, Result<Plan, String>)>),
    /// How far the picture of this number is read: what is done now, parts done, parts in all.
    Staged(u64, &'static str, u32, u32),
    /// So many edits reached the disk.
    Saved(usize),
    /// The disk refused; nothing is lost from memory.
    SaveFailed(String),
    /// Another window or a command wrote: the book as it stands, and why edits made here in between were refused.
    Followed(Box<Fresh>, Vec<String>),
    /// The cut list in hand is to be logged up to this sheet, whatever was logged before.
    LogBench(u32),
    /// These cuts take the place of those that are at the bench and not logged.
    CutInstead(Box<BenchRun>),
    /// A list from outside was read, or could not be.
    ListRead(Box<ListRead>),
    /// The print overlay's preview of this number: the pages in text, or why there are none.
    Previewed(u64, Result<PagesText, String>),
    /// The print queues of the system; nothing where it has no print command.
    Queues(Option<Queues>),
    /// News of a file being written.
    Printed(PrintNews),
    /// Write this file.
    Print(Box<PrintJob>),
    /// Take back every step down to this one of the sitting's list, the newest first.
    UndoTo(u64),
    /// The demo's book, for the guided tour.
    Tour(Box<Fresh>),
    /// The terminal answered what ground it has: whether it is light.
    Ground(bool),
    /// How many swatches the grid on the screen has in a row.
    Columns(usize),
    /// How many columns the screen has.
    Room(u16),
    /// Files whose names begin like this text, each as it would be typed.
    Names(String, Vec<String>),
    /// A sentence from outside.
    Tell(String),
    /// Something outside did not work, and why.
    Refuse(String),
    /// Before something is done with the whole book, the person is asked.
    AskBook(String, BookOrder),
    /// The person says that it may be done.
    Book(BookOrder),
    /// A file held a card or a project.
    Handed(Box<Handed>),
    /// A file of that name is there already.
    FileThere(Box<HandOn>),
    /// The person says that it may be written over.
    WriteOver(Box<HandOn>),
}

/// A list of a pane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    /// The cuts in Yield.
    Steps,
    /// The layouts of a plan.
    Layouts,
    /// The chart of Yield.
    Cells,
    /// The rows of a further answer.
    Further,
    /// The card's rows in Mats.
    Parts,
    /// The grid of swatches.
    Swatches,
    /// Trios.
    Trios,
    /// The colours of a photo.
    Colours,
    /// The page of the day.
    Day,
    /// The list in view in Stock.
    Stock,
}

/// Where a click fell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// On a pane's name.
    Pane(super::pane::Pane),
    /// On a row of a list of the pane.
    Row(List, usize),
    /// Before the words of a row of Stock, where its mark stands.
    Mark(usize),
    /// On a cell of Yield's chart: row and column.
    Cell(usize, usize),
    /// On a swatch that is named outside the grid.
    Swatch(SwatchId),
    /// On a list's name in Stock.
    Tab(Tab),
    /// In the room of a list, where no row stands.
    In(List),
    /// On a command in the hint line.
    Hint(CommandId),
    /// On a key that the bottom line offers for what lies over the pane.
    Key(Key),
    /// On the word in the header that says whether all is saved.
    Saved,
    /// On a row of the picker, the print list or the history that lies over the pane.
    Over(usize),
    /// In the form that lies over the pane.
    Form(FormSpot),
}

/// What of a form was clicked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FormSpot {
    /// A field, by its row in the table.
    Field(usize),
    /// Something offered for the field in hand.
    Offer(usize),
    /// Keep it.
    Keep,
    /// Keep it and fill in another one.
    Again,
    /// Leave it.
    Leave,
}

/// An answer of a worker.
#[derive(Clone, Debug)]
pub enum Solved {
    /// The yield of one size.
    Yield(Box<YieldAnswer>),
    /// The chart.
    Chart(Box<ShownChart>),
    /// What other reveals yield.
    Advice(Vec<RevealChoice>),
    /// What a sheet gives of every part of a card.
    EveryYield(Vec<PartYield>),
    /// A further answer of Yield.
    Further(Box<FurtherFound>),
    /// What stands beside the answer of Yield.
    Beside(Box<BesideFound>),
    /// The layout of what is in hand.
    Laid(Box<SheetYield>),
    /// What can be done where a class runs short.
    Ways(Vec<ShortLine>),
    /// What offcuts give, one after another.
    Gives(Vec<Vec<ScrapRow>>),
    /// Trios, with what was asked.
    Trios(Box<TrioAsk>, Vec<Trio>),
    /// The colours of a picture, or why it cannot be read.
    Photo(Box<Result<PhotoFound, String>>),
    /// A list of colours from a file, or why it cannot be read.
    Colours(String, Result<Vec<Swatch>, String>),
    /// The solver failed; a sentence says how.
    Failed(String),
}

/// A book that takes the place of the one on screen.
#[derive(Clone, Debug)]
pub struct Fresh {
    /// Goes with every step made on this book.
    pub epoch: u64,
    /// The book.
    pub book: Book,
    /// What can be undone and redone in it.
    pub history: History,
    /// How the window's own steps, made on former copies, are numbered in it.
    pub moved: Moved,
}

/// A list from outside.
#[derive(Clone, Debug)]
pub struct ListRead {
    /// The file.
    pub path: String,
    /// What it is for.
    pub what: ListUse,
    /// Its rows, or every line that cannot be read.
    pub rows: Result<Vec<StockRow>, Vec<BadLine>>,
}
