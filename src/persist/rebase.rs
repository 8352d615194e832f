//! Saving what a window has already shown. A window applies an edit to its own book at once and sends the step here;
//! when another writer came in between, the step is carried out on the book as it is now, and the window is given that
//! book in place of its own.
//!
//! A window's book belongs to an *epoch*. Steps of an earlier epoch are steps on a book that has been replaced since:
//! the numbers of steps and of new records in them are those of that book, and are exchanged here.

use super::error::StoreError;
use super::store::{Store, Unsure, new_mark};
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Renumbering};
use crate::domain::history::{Entry, History, Origin, Wish};
use std::collections::BTreeMap;

/// What came of steps that were sent to be saved.
#[derive(Debug)]
pub struct Kept {
    /// The book to show in place of the window's own, where others have written too.
    pub fresh: Option<Fresh>,
    /// Why steps could not be carried out on the book as it is now; they have not happened.
    pub refused: Vec<String>,
}

/// A book that replaces a window's own.
#[derive(Clone, Debug)]
pub struct Fresh {
    /// To be sent with every step made on this book.
    pub epoch: u64,
    /// The book.
    pub book: Book,
    /// Its history.
    pub history: History,
}

/// How the steps of one epoch went over into the book.
#[derive(Clone, Debug)]
struct Shift {
    /// Steps up to here have the same numbers in both.
    same_steps: u64,
    /// Log lines up to here have the same numbers in both.
    same_lines: u64,
    /// Later steps' numbers; `None` for one that was refused.
    moved: BTreeMap<u64, Option<u64>>,
    numbers: Renumbering,
}

/// What is known of the window's books.
#[derive(Clone, Debug)]
pub(super) struct Rebase {
    epoch: u64,
    /// How far the window's present book agrees with this one.
    steps: u64,
    lines: u64,
    shifts: BTreeMap<u64, Shift>,
}

impl Rebase {
    pub(super) fn new(book: &Book) -> Self {
        let mut rebase = Self { epoch: 0, steps: 0, lines: 0, shifts: BTreeMap::new() };
        rebase.agree(book);
        rebase
    }

    fn agree(&mut self, book: &Book) {
        (self.steps, self.lines) = (book.seq(), book.log().len() as u64);
    }

    /// The books part: from now on steps of the present epoch are exchanged.
    fn part(&mut self) {
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
    fn wish(&mut self, entry: &Entry, book: &Book) -> Result<Option<Wish>, String> {
        match entry.origin {
            Origin::New if !self.lines_are_known(&entry.edit) => {
                Err("a line was to be voided that has moved meanwhile: look at the log again".to_owned())
            }
            Origin::New => Ok(Some(Wish::Do(self.numbers.apply(&entry.edit, book)))),
            Origin::Undo(of) => Ok(self.step(of).map(|of| Wish::Undo(Some(of)))),
            Origin::Redo(of) => Ok(self.step(of).map(|_| Wish::Redo)),
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

impl Store {
    /// The epoch of the book as it is now: what a window that copies it sends along with its steps.
    pub fn epoch(&self) -> u64 {
        self.rebase.epoch
    }

    /// Saves steps that a window has made on its book of this epoch, oldest first, and returns when they are safe.
    ///
    /// # Errors
    /// As [`Store::append`]; the window still has the steps and sends them again.
    pub fn save(&mut self, epoch: u64, steps: &[Entry]) -> Result<Kept, StoreError> {
        let Some(last) = steps.last() else { return Ok(Kept { fresh: None, refused: Vec::new() }) };
        let lock = self.begin(last.date)?;
        let as_it_was = self.rebase.clone();
        let before = self.unsure_steps.take().unwrap_or(Unsure(Vec::new()));
        let by = new_mark();
        let (mut refused, mut entries, mut asked) = (Vec::new(), Vec::new(), Vec::new());
        let mut confirm = false;
        for step in steps {
            let key = (epoch, step.seq);
            let n = before.0.iter().position(|(k, _)| *k == key).unwrap_or(usize::MAX);
            let mut attempts = before.attempts(n);
            if let Some(seq) = before.landed(n, &self.state) {
                confirm = true;
                self.note_landed(epoch, step.seq, seq);
            } else if let Some(entry) = self.carry_out(epoch, step, &mut refused) {
                attempts.push((by, entries.len() as u64));
                entries.push(entry);
            }
            asked.push((key, attempts));
        }
        let saved = self.write(&entries, by).and_then(|()| if confirm { self.confirm() } else { Ok(()) });
        if let Err(error) = saved {
            self.rebase = as_it_was;
            self.unsure_steps = Some(Unsure(asked));
            return Err(error);
        }
        self.end(lock);
        let fresh = (epoch != self.rebase.epoch).then(|| self.fresh());
        Ok(Kept { fresh, refused })
    }

    /// A step that could not be confirmed before is on the disk, as number `seq`.
    fn note_landed(&mut self, epoch: u64, step: u64, seq: u64) {
        if let Some(shift) = self.rebase.shifts.get_mut(&epoch) {
            shift.moved.insert(step, Some(seq));
        } else if step == seq && self.rebase.steps + 1 == step {
            self.rebase.steps = step;
            if self.state.book.seq() == step {
                self.rebase.agree(&self.state.book);
            }
        }
    }

    /// The book for a window that is to follow the others.
    pub fn fresh(&mut self) -> Fresh {
        self.rebase.part();
        let (book, history) = (self.book().clone(), self.history().clone());
        self.rebase.agree(&book);
        Fresh { epoch: self.rebase.epoch, book, history }
    }

    fn carry_out(&mut self, epoch: u64, step: &Entry, refused: &mut Vec<String>) -> Option<Entry> {
        let agrees = epoch == self.rebase.epoch
            && self.rebase.steps == self.state.book.seq()
            && step.seq == self.state.book.seq() + 1;
        if agrees && self.state.history.replay(&mut self.state.book, step).is_ok() {
            self.rebase.agree(&self.state.book);
            return Some(step.clone());
        }
        if epoch == self.rebase.epoch {
            self.rebase.part();
        }
        let Some(shift) = self.rebase.shifts.get_mut(&epoch) else {
            refused
                .push("a step came from a book that is no longer known: it was not carried out".to_owned());
            return None;
        };
        let wish = shift.wish(step, &self.state.book);
        let done = wish.and_then(|wish| match wish {
            None => Ok(None),
            Some(wish) => {
                let state = &mut self.state;
                let done = state.history.perform(&mut state.book, &wish, step.date);
                done.map(|(entry, _)| Some(entry)).map_err(|e| e.to_string())
            }
        });
        let entry = done.unwrap_or_else(|sentence| {
            refused.push(sentence);
            None
        });
        shift.moved.insert(step.seq, entry.as_ref().map(|e| e.seq));
        entry
    }
}
