//! Saving what a window has already shown. A window applies an edit to its own book at once and sends the step here;
//! when another writer came in between, the step is carried out on the book as it is now, and the window is given that
//! book in place of its own.

use super::error::StoreError;
use super::mark::new_mark;
use super::store::{Asked, Fate, Store, Unsure};
use crate::domain::book::Book;
use crate::domain::history::{Entry, History, Moved};

/// What came of steps that were sent to be saved.
#[derive(Debug)]
pub struct Kept {
    /// The book to show in place of the window's own, where others have written too.
    pub fresh: Option<FreshBook>,
    /// Why steps could not be carried out on the book as it is now; they have not happened.
    pub refused: Vec<String>,
}

/// A book that replaces a window's own.
#[derive(Clone, Debug)]
pub struct FreshBook {
    /// To be sent with every step made on this book.
    pub epoch: u64,
    /// The book.
    pub book: Book,
    /// Its history.
    pub history: History,
    /// How the window's own steps are numbered in it.
    pub moved: Moved,
}

impl Store {
    /// The epoch of the book as it is now: what a window that copies it sends along with its steps.
    pub fn epoch(&self) -> u64 {
        self.rebase.epoch
    }

    /// Saves steps that a window has made on its book of this epoch, oldest first, and returns when they are safe.
    /// Without steps it follows what others have written.
    ///
    /// # Errors
    /// As [`Store::append`]; the window still has the steps and sends them again.
    pub fn save(&mut self, epoch: u64, steps: &[Entry]) -> Result<Kept, StoreError> {
        let Some(last) = steps.last() else {
            self.refresh()?;
            return Ok(Kept { fresh: self.fresh_for(epoch), refused: Vec::new() });
        };
        let lock = self.begin(last.date)?;
        let as_it_was = self.rebase.clone();
        let things: Vec<(u64, u64)> = steps.iter().map(|s| (epoch, s.seq)).collect();
        let before = self.unsure_steps.take().unwrap_or(Unsure(Vec::new()));
        let fates = before.fates(&things, &self.state);
        let by = new_mark();
        let (mut refused, mut entries, mut asked) = (Vec::new(), Vec::new(), Vec::new());
        for ((step, what), fate) in steps.iter().zip(things).zip(fates) {
            let (mut attempts, mut why) = (Vec::new(), None);
            match fate {
                Fate::Landed(seq, earlier) => {
                    attempts = earlier;
                    self.note_landed(epoch, step.seq, seq);
                }
                Fate::Refused(sentence) => why = Some(sentence),
                Fate::Open(earlier) => {
                    attempts = earlier;
                    match self.carry_out(epoch, step) {
                        Ok(Some(entry)) => {
                            attempts.push((by, entries.len() as u64));
                            entries.push(entry);
                        }
                        Ok(None) => {}
                        Err(sentence) => why = Some(sentence),
                    }
                }
            }
            refused.extend(why.clone());
            asked.push(Asked { what, attempts, refused: why });
        }
        if let Err(error) = self.write(&entries, by) {
            self.rebase = as_it_was;
            self.unsure_steps = Some(Unsure(asked));
            return Err(error);
        }
        self.end(lock);
        refused.retain(|sentence| !sentence.is_empty());
        Ok(Kept { fresh: self.fresh_for(epoch), refused })
    }

    /// The book for a window whose own is another one.
    fn fresh_for(&mut self, epoch: u64) -> Option<FreshBook> {
        let same = epoch == self.rebase.epoch && self.rebase.steps == self.state.book.seq();
        (!same).then(|| self.fresh())
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
    pub fn fresh(&mut self) -> FreshBook {
        self.rebase.part();
        let (book, history) = (self.book().clone(), self.history().clone());
        self.rebase.agree(&book);
        FreshBook { epoch: self.rebase.epoch, book, history, moved: self.rebase.moved() }
    }

    /// Carries out a step on the book as it is. `None` where it undoes or redoes one that was refused.
    fn carry_out(&mut self, epoch: u64, step: &Entry) -> Result<Option<Entry>, String> {
        let agrees = epoch == self.rebase.epoch
            && self.rebase.steps == self.state.book.seq()
            && step.seq == self.state.book.seq() + 1;
        if agrees && self.state.history.replay(&mut self.state.book, step).is_ok() {
            self.rebase.agree(&self.state.book);
            return Ok(Some(step.clone()));
        }
        if epoch == self.rebase.epoch {
            self.rebase.part();
        }
        let Some(shift) = self.rebase.shifts.get_mut(&epoch) else {
            return Err("a step came from a book that is no longer known: it was not carried out".to_owned());
        };
        let state = &mut self.state;
        let done = match shift.intent(step, &state.book) {
            Ok(Some(intent)) => match state.history.perform(&mut state.book, &intent, step.date) {
                Ok((entry, _)) => Ok(Some(entry)),
                Err(error) => Err(error.to_string()),
            },
            Ok(None) => Ok(None),
            Err(sentence) => Err(sentence),
        };
        shift.moved.insert(step.seq, done.as_ref().ok().and_then(|e| e.as_ref()).map(|e| e.seq));
        done
    }
}
