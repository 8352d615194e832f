//! The page of the day: whether it lies over the pane, which row is in hand, and what was read off the book for it.

use super::views::Tab;
use crate::app::input::list::Cursor;
use crate::domain::cutting::pace::CuttingPace;
use crate::domain::length::Unit;
use crate::domain::project::Stage;
use crate::domain::stock::{BookingId, ItemId, OrderId, ProjectId};
use crate::domain::today::Today;
use crate::domain::today::words::{Section, Urgency};
use jiff::civil::Date;

/// State of the page.
#[derive(Clone, Debug, Default)]
pub struct TodayPage {
    /// True while it lies over the pane.
    pub is_open: bool,
    /// True while a form that was opened here is filled in: what is made is shown here too.
    pub stays: bool,
    /// The row in hand.
    pub cursor: Cursor,
    /// What was read off the book.
    pub figures: Today,
    /// Its rows.
    pub rows: Vec<DayRow>,
    /// What it was read off.
    pub seen: Option<DaySeen>,
}

/// What the rows follow from, in short: while this is the same they are.
#[derive(Clone, Debug, PartialEq)]
pub struct DaySeen {
    /// Which book, and its step.
    pub book: (u64, u64),
    /// The day.
    pub day: Date,
    /// The unit of sizes.
    pub unit: Unit,
    /// Steps and strokes done and sheets logged of the run in hand.
    pub run: Option<(usize, u32, u32)>,
    /// The person's pace.
    pub pace: CuttingPace,
    /// At each stage after the cuts.
    pub after: [CuttingPace; Stage::ALL.len()],
    /// What the trimmer is, as far as the first evening asks.
    pub is_trimmer_said: bool,
}

/// Where Enter goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goes {
    /// A class or batch, figure by figure.
    Class(ProjectId),
    /// The plan of the active project.
    Plan,
    /// The run in hand.
    Bench,
    /// A stage after the cuts.
    After(ProjectId),
    /// A line of the reorder list.
    Reorder(ItemId),
    /// Something on order.
    Awaited(OrderId),
    /// A booking.
    Booking(BookingId),
    /// A line of the shelf.
    Item(ItemId),
    /// A list of Stock.
    List(Tab),
    /// One of the first things, done here.
    Here(FirstThing),
}

/// What is done on the first evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FirstThing {
    /// How the trimmer is set, and its longest cut.
    Trimmer,
    /// A line of the shelf.
    Paper,
    /// A card.
    Card,
    /// A class or batch.
    Class,
}

/// A row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayRow {
    /// What it is about.
    pub section: Section,
    /// The thing, by name.
    pub what: String,
    /// What is to be said of it.
    pub words: String,
    /// How urgent that is.
    pub urgency: Urgency,
    /// Where Enter goes.
    pub goes: Goes,
}

impl TodayPage {
    /// The row in hand.
    pub fn picked(&self) -> Option<&DayRow> {
        self.rows.get(self.cursor.row(self.rows.len())?)
    }
}
