//! The book on disk. Every window and every command is a writer: take the lock, read what others have written, check
//! the edit against that, append, sync, let go. What was acknowledged is safe; what was refused changed nothing.
//!
//! After a failed write or sync the journal is not trusted again: the book is written to a new file whole, and only
//! if that fails too is the change reported as not saved.

use super::disk::{self, Disk, Lock};
use super::error::{StoreError, reason};
use super::files::{self, LOCK, journal_name};
use super::kept;
use super::load::{self, Stamp, State, Whose};
use super::mark::new_mark;
use super::rebase::Rebase;
use super::turn::{self, Hurry};
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::history::{Entry, History, Intent, WishError};
use crate::system::disks::network_disk;
use crate::system::files::trouble;
use jiff::civil::Date;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A journal may grow this much beyond the snapshot before both are written anew, so that the work of that, spread
/// over the edits in between, does not grow with the book.
const SLACK: u64 = 256 * 1024;

/// A book on disk, as one writer knows it.
pub struct Store {
    pub(super) disk: Arc<dyn Disk>,
    pub(super) dir: PathBuf,
    pub(super) state: State,
    /// What memory holds is not what the disk holds: read everything anew before the next change.
    pub(super) stale: bool,
    /// A write or a sync has failed: nothing is added to these files before all is in a new one.
    pub(super) distrust: bool,
    /// The group whose fate is unknown.
    unsure: Option<Unsure<(usize, Intent)>>,
    /// The same for steps of windows, by epoch and number.
    pub(super) unsure_steps: Option<Unsure<(u64, u64)>>,
    pub(super) swept: bool,
    hurry: Hurry,
    /// What was set aside last.
    pub(super) set_aside: Option<PathBuf>,
    kept_on: Option<Date>,
    pub(super) rebase: Rebase,
    pub(super) notes: Vec<String>,
}

/// A step that is safe on disk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// Its number.
    pub seq: u64,
    /// What it did, in one line.
    pub label: String,
}

/// What was asked for and could not be confirmed: some first part of it may be on the disk all the same.
pub(super) struct Unsure<T>(pub Vec<Asked<T>>);

/// One thing that was asked for.
pub(super) struct Asked<T> {
    pub what: T,
    /// The lines that it was written as, by mark and place in the group, one an attempt.
    pub attempts: Vec<(u64, u64)>,
    /// Why it was refused, where it was.
    pub refused: Option<String>,
}

/// How something stands that is asked for once more.
pub(super) enum Fate {
    /// It is on the disk, as this step.
    Landed(u64, Vec<(u64, u64)>),
    /// It was refused, and something after it is on the disk: it stays refused.
    Refused(String),
    /// It is to be tried again.
    Open(Vec<(u64, u64)>),
}

impl<T: PartialEq> Unsure<T> {
    /// What became of each of `things`.
    pub(super) fn fates(&self, things: &[T], state: &State) -> Vec<Fate> {
        let fate = |thing: &T| {
            let asked = self.0.iter().find(|a| a.what == *thing)?;
            Some((asked, asked.attempts.iter().find_map(|(by, place)| state.landed(*by, *place))))
        };
        let known: Vec<_> = things.iter().map(fate).collect();
        let last = known.iter().rposition(|k| k.is_some_and(|(_, landed)| landed.is_some()));
        let fates = known.iter().enumerate().map(|(n, known)| match known {
            Some((asked, Some(seq))) => Fate::Landed(*seq, asked.attempts.clone()),
            Some((asked, None)) if last.is_some_and(|last| n < last) => {
                Fate::Refused(asked.refused.clone().unwrap_or_default())
            }
            Some((asked, None)) => Fate::Open(asked.attempts.clone()),
            None => Fate::Open(Vec::new()),
        });
        fates.collect()
    }
}

impl Store {
    /// Opens a data folder, making it (for its owner only) where it is not there.
    ///
    /// # Errors
    /// A sentence: the folder cannot be made or read, or holds a book that cannot be read (which is left untouched).
    pub fn open(dir: &Path) -> Result<Self, StoreError> {
        if let Some(trouble) = trouble(dir) {
            return Err(StoreError::Name { dir: dir.to_owned(), trouble });
        }
        let mut store = Self::open_on(disk::of_process(), dir)?;
        if let Some(kind) = network_disk(dir) {
            store.notes.push(format!(
                "{} lies on a network disk ({kind}), where two windows may write over each other: keep the data on a disk of this machine",
                dir.display()
            ));
        }
        Ok(store)
    }

    /// As [`Store::open`], on any disk.
    ///
    /// # Errors
    /// As [`Store::open`].
    pub fn open_on(disk: Arc<dyn Disk>, dir: &Path) -> Result<Self, StoreError> {
        disk.make_dir(dir).map_err(|error| {
            if dir.symlink_metadata().is_ok_and(|about| about.is_symlink()) && !dir.exists() {
                return StoreError::LeadsNowhere { dir: dir.to_owned() };
            }
            StoreError::io("cannot make the data folder", dir)(error)
        })?;
        // Whoever only reads takes no lock. A folder that cannot be written can still be read.
        let mut notes = Vec::new();
        if let Err(error) = disk.may_lock(&dir.join(LOCK)) {
            if !cannot_write(&error) {
                return Err(StoreError::io("cannot lock", &dir.join(LOCK))(error));
            }
            notes.push(format!(
                "{} cannot be written to ({}): changes will not be saved",
                dir.display(),
                reason(&error)
            ));
        }
        let state = State::load_beside_others(&*disk, dir)?;
        if let Some(bad) = state.bad.as_ref().filter(|_| state.read_only.is_none()) {
            notes.push(format!(
                "line {} of {} does not hold: {}; everything before it is kept, the rest will be set aside before the next change",
                bad.line,
                dir.join(journal_name(state.base)).display(),
                bad.why
            ));
        }
        if state.is_journal_gone && state.read_only.is_none() {
            notes.push(gone(dir, state.base));
        }
        notes.extend(state.read_only.clone());
        let rebase = Rebase::new(&state.book);
        let mut store = Self {
            disk,
            dir: dir.to_owned(),
            state,
            stale: false,
            distrust: false,
            unsure: None,
            unsure_steps: None,
            swept: false,
            hurry: Hurry::default(),
            set_aside: None,
            kept_on: None,
            rebase,
            notes,
        };
        if let Some(later) = store.later() {
            let offer = if later.fitting() == 0 {
                ""
            } else {
                "; nothing of it is done unasked, trimside restore with that file's name shows and does it"
            };
            store.notes.push(format!("beyond line {}: {}{offer}", later.damaged, later.words()));
        }
        Ok(store)
    }

    /// The book as it was last read or written.
    pub fn book(&self) -> &Book {
        &self.state.book
    }

    /// The steps that can be taken back and done again.
    pub fn history(&self) -> &History {
        &self.state.history
    }

    /// The folder.
    pub fn dir(&self) -> &Path {
        &self.dir
    }

    /// True while another writer has the book.
    pub fn is_kept_out(&self) -> bool {
        matches!(self.disk.try_lock(&self.dir.join(LOCK)), Ok(None))
    }

    /// Tells this store, from another thread, to wait for no other writer.
    pub fn hurry(&self) -> Hurry {
        self.hurry.clone()
    }

    /// Why nothing can be changed, where that is so.
    pub fn read_only(&self) -> Option<&str> {
        self.state.read_only.as_deref()
    }

    /// Sentences for the person that have come up since the last call.
    pub fn take_notes(&mut self) -> Vec<String> {
        std::mem::take(&mut self.notes)
    }

    /// Carries out intents and returns when they are safe: one answer each, in order.
    ///
    /// # Errors
    /// For all of them: [`StoreError::NotSaved`] and the like. None of them counts then; the same intents given again
    /// are recognised should they have reached the disk after all.
    pub fn append(
        &mut self,
        intents: &[Intent],
        date: Date,
    ) -> Result<Vec<Result<Saved, WishError>>, StoreError> {
        let lock = self.begin(date)?;
        let answers = self.append_group(intents, date)?;
        self.end(lock);
        Ok(answers)
    }

    /// One edit, made from the book as it is under the lock.
    ///
    /// # Errors
    /// Whatever `make` refuses, or the edit, or the disk.
    pub fn change<E>(
        &mut self,
        date: Date,
        make: impl FnOnce(&Book) -> Result<Edit, E>,
    ) -> Result<Saved, ChangeError<E>> {
        let lock = self.begin(date).map_err(ChangeError::Store)?;
        let edit = make(&self.state.book).map_err(ChangeError::Make)?;
        let mut answers = self.append_group(&[Intent::Do(edit)], date).map_err(ChangeError::Store)?;
        self.end(lock);
        match answers.pop() {
            Some(answer) => answer.map_err(ChangeError::Refused),
            None => {
                Err(ChangeError::Store(StoreError::NotSaved { why: "nothing was to be done".to_owned() }))
            }
        }
    }

    /// Puts a whole book into a folder that holds none yet: all of it is there after a crash, or nothing. False where
    /// there is a book already; it is left as it is.
    ///
    /// # Errors
    /// A sentence; the folder holds no book then, as before.
    pub fn found(&mut self, book: Book, history: History, date: Date) -> Result<bool, StoreError> {
        let lock = self.begin(date)?;
        let is_empty = self.state.book.seq() == 0;
        if is_empty {
            (self.state.book, self.state.history) = (book, history);
            if let Err(error) = self.rewrite(false) {
                self.stale = true;
                return Err(error);
            }
            self.rebase = Rebase::new(&self.state.book);
        }
        self.end(lock);
        Ok(is_empty)
    }

    /// Reads what others have written since. True where that was anything.
    ///
    /// # Errors
    /// A sentence.
    pub fn refresh(&mut self) -> Result<bool, StoreError> {
        let stamp = self.still_ours()?;
        if !self.is_current(stamp) {
            let before = self.state.book.seq();
            self.reload()?;
            return Ok(self.state.book.seq() != before);
        }
        let news = self.state.read_on(&*self.disk, &self.dir)?;
        // Without the lock a line without its end may be one that is just being written.
        self.state.bad = None;
        Ok(news)
    }

    /// True where another writer has changed something: two short reads, no lock.
    pub fn has_news(&self) -> bool {
        let stamp = load::stamp(&*self.disk, &self.dir).ok().flatten();
        let len = self.disk.len(&self.dir.join(journal_name(self.state.base))).ok().flatten();
        let is_other = |s: Stamp| {
            s.step != self.state.base || s.version != self.state.snapshot_version || !s.fits(self.state.mark)
        };
        stamp.is_some_and(is_other) || len.is_some_and(|l| l > self.state.good)
    }

    /// Writes the snapshot anew where the journal has anything, so that the next start reads less.
    ///
    /// # Errors
    /// A sentence; the book is as safe as before.
    pub fn compact(&mut self, date: Date) -> Result<(), StoreError> {
        let lock = self.begin(date)?;
        if self.state.book.seq() > self.state.base {
            self.rewrite(false)?;
        }
        self.end(lock);
        Ok(())
    }

    /// Takes the lock and makes sure that memory is what the disk holds.
    pub(super) fn begin(&mut self, date: Date) -> Result<Box<dyn Lock>, StoreError> {
        if let Some(why) = &self.state.read_only {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        self.still_ours()?;
        let lock = turn::take_turn(&*self.disk, &self.dir.join(LOCK), &self.hurry).map_err(not_saved)?;
        let stamp = self.stamp_of_ours()?;
        if !self.is_current(stamp) {
            self.reload()?;
        } else if self.is_journal_cut()? {
            // Memory holds more than the disk: all of it goes into a new file.
            self.notes.push(gone(&self.dir, self.state.base) + "; what this window knew of them is kept");
            self.distrust = true;
        } else {
            self.state.read_on(&*self.disk, &self.dir)?;
        }
        if let Some(why) = &self.state.read_only {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        if self.distrust {
            self.write_anew()?;
        }
        self.mend()?;
        self.sweep()?;
        self.bring_up_to_date()?;
        self.keep_copy(date);
        Ok(lock)
    }

    /// Ends a turn as a writer. A journal that has grown long is folded into a new snapshot before the lock goes.
    pub(super) fn end(&mut self, lock: Box<dyn Lock>) {
        if self.state.good > self.state.snapshot_bytes + SLACK
            && let Err(error) = self.rewrite(false)
        {
            // Everything is safe in the old files; the next turn tries again.
            self.stale = true;
            self.notes.push(error.to_string());
        }
        drop(lock);
    }

    /// True where the journal in place lacks what was read of it.
    fn is_journal_cut(&self) -> Result<bool, StoreError> {
        let path = self.journal();
        let len = self.disk.len(&path).map_err(StoreError::io("cannot read", &path))?;
        Ok(len.unwrap_or(0) < self.state.good)
    }

    /// The journal in place.
    pub(super) fn journal(&self) -> PathBuf {
        self.dir.join(journal_name(self.state.base))
    }

    /// The first line of the journal that does not hold.
    pub(super) fn damaged_line(&self) -> Option<u64> {
        self.state.bad.as_ref().filter(|_| self.state.read_only.is_none()).map(|bad| bad.line)
    }

    /// True where memory continues what the disk holds, so that reading on is enough.
    fn is_current(&self, stamp: Option<Stamp>) -> bool {
        let is_same = |s: Stamp| {
            s.step == self.state.base
                && s.version == self.state.snapshot_version
                && s.whose == self.state.mark.map(Whose::Marked)
        };
        !self.stale && stamp.is_some_and(is_same)
    }

    /// The stamp of the book in place. A disk that was mounted over ours holds another book: its lines are not another
    /// window's.
    fn stamp_of_ours(&self) -> Result<Option<Stamp>, StoreError> {
        let stamp = load::stamp(&*self.disk, &self.dir)?;
        if stamp.is_some_and(|s| !s.fits(self.state.mark)) {
            return Err(StoreError::OtherBook { dir: self.dir.clone() });
        }
        Ok(stamp)
    }

    /// The same. A disk that is no longer mounted leaves an empty folder in its place: that is no empty book, and nothing
    /// is to be written there.
    fn still_ours(&self) -> Result<Option<Stamp>, StoreError> {
        let stamp = self.stamp_of_ours()?;
        let was_there = self.state.base > 0 || self.state.good > 0;
        if !was_there || stamp.is_none_or(|s| s.step != 0) {
            return Ok(stamp);
        }
        let journals = files::journals(&*self.disk, &self.dir);
        if journals.map_err(StoreError::io("cannot list", &self.dir))?.is_empty() {
            return Err(StoreError::NotSaved { why: "the book is gone (is the disk mounted?)".to_owned() });
        }
        Ok(stamp)
    }

    fn reload(&mut self) -> Result<(), StoreError> {
        self.state = State::load_beside_others(&*self.disk, &self.dir)?;
        self.stale = false;
        self.swept = false;
        Ok(())
    }

    /// Once a day, before the first change, a copy of the book as it is. A failure costs a copy, not the change.
    fn keep_copy(&mut self, date: Date) {
        if self.kept_on == Some(date) || self.state.book.seq() == 0 {
            return;
        }
        match kept::keep(&*self.disk, &self.dir, &self.state, date) {
            Ok(()) => self.kept_on = Some(date),
            Err(error) => self.notes.push(format!("no copy of the day was kept: {error}")),
        }
    }

    fn append_group(
        &mut self,
        intents: &[Intent],
        date: Date,
    ) -> Result<Vec<Result<Saved, WishError>>, StoreError> {
        let things: Vec<(usize, Intent)> = intents.iter().cloned().enumerate().collect();
        let before = self.unsure.take().filter(|u| u.0.iter().map(|a| &a.what).eq(&things));
        let fates = before.unwrap_or(Unsure(Vec::new())).fates(&things, &self.state);
        let by = new_mark();
        let (mut entries, mut asked, mut answers) = (Vec::new(), Vec::new(), Vec::new());
        for (what, fate) in things.into_iter().zip(fates) {
            let mut attempts = Vec::new();
            let answer = match fate {
                Fate::Landed(seq, earlier) => {
                    attempts = earlier;
                    Ok(self.saved(seq))
                }
                Fate::Refused(why) => Err(WishError::Refused(why)),
                Fate::Open(earlier) => {
                    attempts = earlier;
                    self.perform(&what.1, date).map(|(entry, saved)| {
                        attempts.push((by, entries.len() as u64));
                        entries.push(entry);
                        saved
                    })
                }
            };
            let refused = answer.as_ref().err().map(ToString::to_string);
            asked.push(Asked { what, attempts, refused });
            answers.push(answer);
        }
        if let Err(error) = self.write(&entries, by) {
            self.unsure = Some(Unsure(asked));
            return Err(error);
        }
        Ok(answers)
    }

    fn perform(&mut self, intent: &Intent, date: Date) -> Result<(Entry, Saved), WishError> {
        let state = &mut self.state;
        let intent = match intent {
            Intent::Do(edit) => Intent::Do(edit.with_free_numbers(&state.book)),
            other => other.clone(),
        };
        let (entry, applied) = state.history.perform(&mut state.book, &intent, date)?;
        Ok((entry, Saved { seq: applied.seq, label: applied.label }))
    }

    /// The answer to an intent that has turned up on disk.
    fn saved(&self, seq: u64) -> Saved {
        let label =
            self.state.history.done().find(|s| s.seq == seq).map_or(String::new(), |s| s.label.clone());
        Saved { seq, label }
    }
}

/// Why [`Store::change`] did nothing.
#[derive(Debug, thiserror::Error)]
pub enum ChangeError<E> {
    /// The edit could not be made.
    #[error(transparent)]
    Make(E),
    /// The book refused it.
    #[error(transparent)]
    Refused(WishError),
    /// The disk did.
    #[error(transparent)]
    Store(StoreError),
}

#[allow(clippy::needless_pass_by_value)] // made for `map_err`
pub(super) fn not_saved(error: io::Error) -> StoreError {
    StoreError::NotSaved { why: reason(&error) }
}

fn gone(dir: &Path, step: u64) -> String {
    format!(
        "{} is gone or cut short, and with it changes made after step {step}; trimside restore lists the copies",
        dir.join(journal_name(step)).display()
    )
}

fn cannot_write(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem)
}
