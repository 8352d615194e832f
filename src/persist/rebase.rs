//! How the steps of a window's own book go over into the book as it is now.
//!
//! A window's book belongs to an *epoch*. Steps of an earlier epoch are steps on a book that has been replaced since:
//! the numbers of steps and of new records in them are those of that book, and are exchanged here.

use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::edit::renumber::Renumbering;
use crate::domain::history::{Entry, Intent, Moved, Origin};
use std::collections::BTreeMap;

/// How the steps of one epoch went over into the book.
#[derive(Clone, Debug)]
pub(super) struct Shift {
    /// Steps up to here have the same numbers in both.
    same_steps: u64,
    /// Log lines up to here have the same numbers in both.
    same_lines: u64,
    /// Later steps' numbers; `None` for one that was refused.
    pub(super) moved: BTreeMap<u64, Option<u64>>,
    numbers: Renumbering,
}

/// What is known of the window's books.
#[derive(Clone, Debug)]
pub(super) struct Rebase {
    pub(super) epoch: u64,
    /// How far the window's present book agrees with this one.
    pub(super) steps: u64,
    lines: u64,
    pub(super) shifts: BTreeMap<u64, Shift>,
}

impl Rebase {
    pub(super) fn new(book: &Book) -> Self {
        let mut rebase = Self { epoch: 0, steps: 0, lines: 0, shifts: BTreeMap::new() };
        rebase.agree(book);
        rebase
    }

    pub(super) fn agree(&mut self, book: &Book) {
        (self.steps, self.lines) = (book.seq(), book.log().len() as u64);
    }

    /// How the window's steps of all epochs are numbered by now.
    pub(super) fn moved(&self) -> Moved {
        let mut all = Moved::default();
        for (epoch, shift) in &self.shifts {
            all.note(*epoch, shift.same_steps, shift.moved.clone());
        }
        all
    }

    /// The books part: from now on steps of the present epoch are exchanged.
    pub(super) fn part(&mut self) {
        let shift = Shift {
            same_steps: self.steps,
            same_lines: self.lines,
            moved: BTreeMap::new(),
            numbers: Renumbering::default(),
        };
        self.shifts.insert(self.epoch, shift);
        self.epoch += 1;
    }
}

impl Shift {
    fn step(&self, seq: u64) -> Option<u64> {
        if seq <= self.same_steps { Some(seq) } else { self.moved.get(&seq).copied().flatten() }
    }

    /// What the step comes to on the book as it is; `None` where it undoes or redoes a step that was refused.
    pub(super) fn intent(&mut self, entry: &Entry, book: &Book) -> Result<Option<Intent>, String> {
        match entry.origin {
            Origin::New if !self.lines_are_known(&entry.edit) => {
                Err("a line was to be voided that has moved meanwhile: look at the log again".to_owned())
            }
            Origin::New => Ok(Some(Intent::Do(self.numbers.apply(&entry.edit, book)))),
            Origin::Undo(of) => Ok(self.step(of).map(|of| Intent::Undo(Some(of)))),
            Origin::Redo(of) => Ok(self.step(of).map(|of| Intent::Redo(Some(of)))),
        }
    }

    fn lines_are_known(&self, edit: &Edit) -> bool {
        match edit {
            Edit::Batch { edits, .. } => edits.iter().all(|e| self.lines_are_known(e)),
            Edit::Void { line } => *line <= self.same_lines,
            _ => true,
        }
    }
}
