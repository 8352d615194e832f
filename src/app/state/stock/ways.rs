//! What can be done where a class runs short: what a worker was asked, and its answer.

use crate::domain::book::Book;
use crate::domain::stock::outlook::Outlook;
use crate::domain::stock::ways::ShortLine;
use crate::domain::stock::{ItemId, ProjectId};
use jiff::civil::Date;

/// The question: every way is tried on a copy of the book, with a plan of its own.
#[derive(Clone, Debug)]
pub struct WaysAsk {
    /// The book as it stands.
    pub book: Book,
    /// The class.
    pub project: ProjectId,
    /// The look at it.
    pub look: Outlook,
    /// The day.
    pub today: Date,
}

/// What the answer follows from: the step of the book, the day, the class and the look at it.
pub type WaysFrom = (u64, Date, ProjectId, Outlook);

/// Question and answer.
#[derive(Clone, Debug, Default)]
pub struct Ways {
    /// What was asked last.
    pub asked: Option<WaysFrom>,
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
    /// Its answer.
    pub found: Option<Vec<ShortLine>>,
    /// The list is shown as soon as the answer is there: of all that is short, or of this line.
    pub open: Option<Option<ItemId>>,
}

impl Ways {
    /// What a class runs short of with every way out, where that is known of the book as it stands.
    pub fn of(&self, book: &Book, id: ProjectId) -> Option<&[ShortLine]> {
        let (seq, _, project, _) = self.asked.as_ref()?;
        let holds = *seq == book.seq() && *project == id;
        self.found.as_deref().filter(|_| holds)
    }
}
