//! How the files of a data folder are written and changed over. Nothing is truncated or overwritten in place: a file is
//! continued at its end, replaced whole, or moved aside whole.

use super::error::{StoreError, reason};
use super::files::{self, SNAPSHOT, journal_name};
use super::frame;
use super::load;
use super::mark::new_mark;
use super::schema::CURRENT;
use super::schema::v1::EntryV1;
use super::store::{Store, not_saved};
use crate::domain::history::Entry;
use std::io;

impl Store {
    /// Sets a damaged tail aside before anything is added. Nothing is cut in place: the good part goes into a new
    /// snapshot, the old journal is moved whole.
    pub(super) fn mend(&mut self) -> Result<(), StoreError> {
        let Some(bad) = self.state.bad.clone() else { return Ok(()) };
        if self.state.book.seq() > self.state.base {
            self.rewrite(true)?;
        } else {
            let name = journal_name(self.state.base);
            self.move_aside(&name)?;
            self.new_journal()?;
        }
        self.notes.push(format!("from line {} on the journal did not hold: {}", bad.line, bad.why));
        Ok(())
    }

    /// Files of an older version are written anew before anything is added to them, and the first change of a new
    /// folder begins with a snapshot: its first line tells every build whether it may write here.
    pub(super) fn bring_up_to_date(&mut self) -> Result<(), StoreError> {
        if !self.state.is_of_older_version() {
            return Ok(());
        }
        if self.state.book.seq() > self.state.base {
            return self.rewrite(false);
        }
        self.write_snapshot_in_place()
    }

    /// The snapshot anew, after the same step.
    fn write_snapshot_in_place(&mut self) -> Result<(), StoreError> {
        let mark = self.mark();
        if self.state.good == 0 {
            self.begin_journal(self.state.base, mark)?;
        }
        let bytes = load::write_snapshot(&self.state, Some(mark))?;
        if let Err(error) = files::replace(&*self.disk, &self.dir.join(SNAPSHOT), &bytes) {
            // It may be in its place all the same.
            self.stale = true;
            return Err(not_saved(error));
        }
        self.state.mark = Some(mark);
        self.state.snapshot_version = Some(CURRENT);
        self.state.snapshot_bytes = bytes.len() as u64;
        self.state.has_journal = true;
        Ok(())
    }

    fn move_aside(&mut self, name: &str) -> Result<(), StoreError> {
        let to = files::set_aside(&*self.disk, &self.dir, name).map_err(not_saved)?;
        self.notes.push(format!("{name} was set aside as {}", to.display()));
        self.set_aside = Some(to);
        Ok(())
    }

    /// The journal in place holds nothing yet but whose it is.
    fn begin_journal(&mut self, step: u64, mark: u64) -> Result<(), StoreError> {
        let begun = files::begin_journal(&*self.disk, &self.dir, step, mark);
        let (good, aside) = begun.map_err(|error| {
            self.stale = true;
            not_saved(error)
        })?;
        if let Some(to) = aside {
            self.notes.push(format!("{} was set aside as {}", journal_name(step), to.display()));
        }
        (self.state.good, self.state.lines, self.state.bad) = (good, 1, None);
        (self.state.journal_version, self.state.is_journal_gone) = (None, false);
        Ok(())
    }

    /// The same for the snapshot in place, whose journal was moved away. One that does not say whose it is gets its mark
    /// together with the journal: a journal with another mark than the snapshot's would be taken for another book's.
    fn new_journal(&mut self) -> Result<(), StoreError> {
        if let Some(mark) = self.state.mark {
            return self.begin_journal(self.state.base, mark);
        }
        self.state.good = 0;
        self.write_snapshot_in_place()
    }

    /// Journals that the snapshot does not name: those that it has taken up go, all others are set aside.
    pub(super) fn sweep(&mut self) -> Result<(), StoreError> {
        if self.swept {
            return Ok(());
        }
        for step in
            files::journals(&*self.disk, &self.dir).map_err(StoreError::io("cannot list", &self.dir))?
        {
            let name = journal_name(step);
            if step < self.state.base && self.is_whole(&name)
                || step != self.state.base && self.is_begun(&name)
            {
                self.disk.remove(&self.dir.join(&name)).map_err(not_saved)?;
            } else if step != self.state.base {
                self.move_aside(&name)?;
            }
        }
        self.swept = true;
        Ok(())
    }

    /// True for a journal that was only begun, for a snapshot that never came into its place.
    fn is_begun(&self, name: &str) -> bool {
        let Ok(Some(bytes)) = self.disk.read(&self.dir.join(name)) else { return false };
        let line = bytes.strip_suffix(b"\n").unwrap_or(&bytes);
        frame::read_line(line).is_some_and(|(_, text)| frame::mark_of(text).is_some())
    }

    fn is_whole(&self, name: &str) -> bool {
        let Ok(Some(bytes)) = self.disk.read(&self.dir.join(name)) else { return false };
        bytes
            .split_inclusive(|b| *b == b'\n')
            .all(|l| l.strip_suffix(b"\n").is_some_and(|l| frame::read_line(l).is_some()))
    }

    /// Makes safe what was found on the disk after a failure: all of it goes into a new file, which is synced.
    pub(super) fn write_anew(&mut self) -> Result<(), StoreError> {
        if self.state.book.seq() > self.state.base {
            return self.rewrite(true);
        }
        self.write_snapshot_in_place()?;
        let name = journal_name(self.state.base);
        if self.disk.len(&self.dir.join(&name)).map_err(not_saved)?.is_some() {
            self.move_aside(&name)?;
            self.new_journal()?;
        }
        self.distrust = false;
        Ok(())
    }

    /// Writes steps that have been carried out in memory, and returns when they are safe.
    pub(super) fn write(&mut self, entries: &[Entry], by: u64) -> Result<(), StoreError> {
        if entries.is_empty() {
            return Ok(());
        }
        let mark = self.mark();
        let mut text = String::new();
        if self.state.good == 0 {
            text.push_str(&frame::mark_line(self.state.base, mark));
        }
        if let Some(first) = entries.first().filter(|_| self.state.journal_version != Some(CURRENT)) {
            text.push_str(&frame::version_line(first.seq, CURRENT));
        }
        let heads = text.lines().count() as u64;
        for entry in entries {
            let ron = ron::to_string(&EntryV1::new(entry, by)).map_err(|e| {
                self.stale = true;
                StoreError::NotSaved { why: e.to_string() }
            })?;
            text.push_str(&frame::line(entry.seq, &ron));
            self.state.note_writer(entry.seq, by);
        }
        let Err(first) = self.append_text(&text) else {
            self.state.good += text.len() as u64;
            self.state.lines += entries.len() as u64 + heads;
            self.state.journal_version = Some(CURRENT);
            self.state.mark = Some(mark);
            return Ok(());
        };
        self.distrust = true;
        if self.rewrite(true).is_err() {
            self.stale = true;
            return Err(not_saved(first));
        }
        self.notes.push(format!(
            "the journal could not be continued ({}): all is safe in a new file",
            reason(&first)
        ));
        Ok(())
    }

    /// The book's mark; a new one where it has none yet. It counts only once it is on the disk: until then another window
    /// may give the book its mark.
    fn mark(&self) -> u64 {
        self.state.mark.unwrap_or_else(new_mark)
    }

    fn append_text(&self, text: &str) -> io::Result<()> {
        let path = self.dir.join(journal_name(self.state.base));
        let is_first = self.state.lines <= 1 || self.disk.len(&path)?.is_none();
        let mut sink = self.disk.append(&path)?;
        sink.write(text.as_bytes())?;
        sink.sync()?;
        // The names of a journal and its snapshot are safe only when their folder is: whoever put them there may have failed
        // just before that.
        if is_first { self.disk.sync_dir(&self.dir) } else { Ok(()) }
    }

    /// Writes the book as it is in memory to a new snapshot and starts a new journal after it. The old journal goes,
    /// or is set aside whole where it holds anything that is not in the snapshot.
    pub(super) fn rewrite(&mut self, set_old_aside: bool) -> Result<(), StoreError> {
        let mark = self.mark();
        let bytes = load::write_snapshot(&self.state, Some(mark))?;
        let step = self.state.book.seq();
        let old = journal_name(self.state.base);
        // Until the snapshot is in its place the old journal counts.
        let before = (self.state.good, self.state.lines, self.state.bad.clone(), self.state.journal_version);
        self.begin_journal(step, mark)?;
        let new = (self.state.good, self.state.lines);
        (self.state.good, self.state.lines, self.state.bad, self.state.journal_version) = before;
        if let Err(error) = files::replace(&*self.disk, &self.dir.join(SNAPSHOT), &bytes) {
            // It may be in its place all the same.
            self.stale = true;
            return Err(not_saved(error));
        }
        // From here on the new snapshot counts; what happens to the old journal is tidying.
        self.state.base = step;
        self.state.mark = Some(mark);
        self.state.snapshot_version = Some(CURRENT);
        self.distrust = false;
        (self.state.good, self.state.lines) = new;
        (self.state.bad, self.state.journal_version, self.state.has_journal) = (None, None, true);
        self.state.snapshot_bytes = bytes.len() as u64;
        if self.disk.len(&self.dir.join(&old)).ok().flatten().is_some() {
            let tidied = if set_old_aside {
                self.move_aside(&old)
            } else {
                self.disk.remove(&self.dir.join(&old)).map_err(not_saved)
            };
            if tidied.is_err() {
                self.swept = false;
            }
        }
        Ok(())
    }
}
