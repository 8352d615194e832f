//! Undo and redo, both as new edits. The last hundred steps are kept; taking one back appends its inverse, which is
//! refused with a sentence where a later edit rests on it. Anything new after an undo ends what could be redone.

mod moved;

pub use moved::{Fate, Moved};

use crate::domain::book::Book;
use crate::domain::edit::{Applied, Edit, EditError};
use jiff::civil::Date;
use std::collections::VecDeque;

/// How many steps can be taken back.
pub const KEPT: usize = 100;

/// What a person wants done to the book.
#[derive(Clone, Debug, PartialEq)]
pub enum Intent {
    /// Something new.
    Do(Edit),
    /// Take back the step of this number; the last one that stands, where it is `None`.
    Undo(Option<u64>),
    /// Do again what the step of this number took back; what was taken back last, where it is `None`.
    Redo(Option<u64>),
}

/// How a step came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A person did something new.
    New,
    /// It takes back the step of this number.
    Undo(u64),
    /// It does again what this step took back.
    Redo(u64),
}

/// A step: an edit as it was applied. The journal is a row of these.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its number: one more than the step before.
    pub seq: u64,
    /// The day it was made.
    pub date: Date,
    /// How it came about.
    pub origin: Origin,
    /// What it did.
    pub edit: Edit,
}

/// A step that can be taken back, or one taken back that can be done again.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The number of the step.
    pub seq: u64,
    /// What it did, in words.
    pub label: String,
    /// The day it was made; steps saved long ago may not know it.
    pub date: Option<Date>,
    /// The edit that takes it back (or does it again).
    pub edit: Edit,
}

/// The steps that can be taken back and done again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    done: VecDeque<Step>,
    undone: Vec<Step>,
}

/// Why an intent was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WishError {
    /// The edit itself was.
    #[error(transparent)]
    Edit(#[from] EditError),
    /// There is nothing to take back.
    #[error("nothing to undo: the last {KEPT} steps can be taken back")]
    NothingDone,
    /// The step is not among the last hundred that stand.
    #[error("step {0} cannot be undone: it was undone before or is older than the last {KEPT} steps")]
    NotAmongDone(u64),
    /// What the step took back cannot be done again.
    #[error("step {0} cannot be made again: it was made again before, or a new step has ended that")]
    NotAmongUndone(u64),
    /// There is nothing to do again.
    #[error("nothing to redo: a new step ends what could be done again")]
    NothingUndone,
    /// A later step rests on the one to be taken back.
    #[error("\"{label}\" cannot be undone while later steps rest on it: {why}")]
    RestedOn {
        /// What the step did.
        label: String,
        /// What stands in the way.
        why: EditError,
    },
    /// It was refused before, for this reason.
    #[error("{0}")]
    Refused(String),
    /// An entry that does not follow the book.
    #[error("step {found} does not follow step {last}")]
    OutOfOrder {
        /// The book's last step.
        last: u64,
        /// The entry's number.
        found: u64,
    },
}

impl History {
    /// A history put together from what was saved, oldest step first.
    pub fn from_parts(done: Vec<Step>, undone: Vec<Step>) -> Self {
        let mut history = Self { done: done.into(), undone };
        history.trim();
        history
    }

    /// Steps that can be taken back, oldest first.
    pub fn done(&self) -> impl DoubleEndedIterator<Item = &Step> + ExactSizeIterator {
        self.done.iter()
    }

    /// Steps that can be done again; the last of them comes first.
    pub fn undone(&self) -> &[Step] {
        &self.undone
    }

    /// The step that undo takes back next.
    pub fn next_undo(&self) -> Option<&Step> {
        self.done.back()
    }

    /// Carries out an intent and gives the step to be saved with what it did.
    ///
    /// # Errors
    /// A sentence; neither book nor history has changed then.
    pub fn perform(
        &mut self,
        book: &mut Book,
        intent: &Intent,
        date: Date,
    ) -> Result<(Entry, Applied), WishError> {
        let (origin, edit) = self.plan(intent)?;
        let entry = Entry { seq: book.seq() + 1, date, origin, edit };
        let applied = self.carry_out(book, &entry, Book::apply)?;
        Ok((entry, applied))
    }

    /// What an intent comes to as things stand.
    fn plan(&self, intent: &Intent) -> Result<(Origin, Edit), WishError> {
        match intent {
            Intent::Do(edit) => Ok((Origin::New, edit.clone())),
            Intent::Undo(None) => {
                let step = self.done.back().ok_or(WishError::NothingDone)?;
                Ok((Origin::Undo(step.seq), step.edit.clone()))
            }
            Intent::Undo(Some(seq)) => {
                let step = self.done.iter().find(|s| s.seq == *seq).ok_or(WishError::NotAmongDone(*seq))?;
                Ok((Origin::Undo(*seq), step.edit.clone()))
            }
            Intent::Redo(None) => {
                let step = self.undone.last().ok_or(WishError::NothingUndone)?;
                Ok((Origin::Redo(step.seq), step.edit.clone()))
            }
            Intent::Redo(Some(seq)) => {
                let step =
                    self.undone.iter().find(|s| s.seq == *seq).ok_or(WishError::NotAmongUndone(*seq))?;
                Ok((Origin::Redo(*seq), step.edit.clone()))
            }
        }
    }

    /// Applies a step that was made before, here or in another window.
    ///
    /// # Errors
    /// A sentence; neither book nor history has changed then.
    pub fn replay(&mut self, book: &mut Book, entry: &Entry) -> Result<Applied, WishError> {
        self.carry_out(book, entry, Book::apply_again)
    }

    fn carry_out(
        &mut self,
        book: &mut Book,
        entry: &Entry,
        apply: fn(&mut Book, &Edit, Date) -> Result<Applied, EditError>,
    ) -> Result<Applied, WishError> {
        if entry.seq != book.seq() + 1 {
            return Err(WishError::OutOfOrder { last: book.seq(), found: entry.seq });
        }
        let target = match entry.origin {
            Origin::New => None,
            Origin::Undo(of) => self.done.iter().find(|s| s.seq == of).cloned(),
            Origin::Redo(of) => self.undone.iter().find(|s| s.seq == of).cloned(),
        };
        let applied = apply(book, &entry.edit, entry.date).map_err(|why| match (&target, entry.origin) {
            (Some(step), Origin::Undo(_)) => WishError::RestedOn { label: step.label.clone(), why },
            _ => WishError::Edit(why),
        })?;
        let label = target.map_or_else(|| applied.label.clone(), |step| step.label);
        match entry.origin {
            Origin::New => {
                self.undone.clear();
                self.done.push_back(Step {
                    seq: entry.seq,
                    label,
                    date: Some(entry.date),
                    edit: applied.inverse.clone(),
                });
            }
            Origin::Undo(of) => {
                self.done.retain(|s| s.seq != of);
                self.undone.push(Step {
                    seq: entry.seq,
                    label,
                    date: Some(entry.date),
                    edit: applied.inverse.clone(),
                });
            }
            Origin::Redo(of) => {
                self.undone.retain(|s| s.seq != of);
                self.done.push_back(Step {
                    seq: entry.seq,
                    label,
                    date: Some(entry.date),
                    edit: applied.inverse.clone(),
                });
            }
        }
        self.trim();
        Ok(applied)
    }

    fn trim(&mut self) {
        while self.done.len() > KEPT {
            self.done.pop_front();
        }
        let extra = self.undone.len().saturating_sub(KEPT);
        self.undone.drain(..extra);
    }
}
