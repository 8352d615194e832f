//! Copies of the book, one a day, and how one is brought back.

use super::disk::Disk;
use super::error::StoreError;
use super::files::{self, KEPT, LOCK, SNAPSHOT, begin_journal, journal_name, replace};
use super::frame::{self, LONGEST_HEADER};
use super::load::{State, read_snapshot, write_snapshot};
use super::mark::new_mark;
use super::turn::{self, Hurry};
use crate::domain::plural::count_of;
use jiff::civil::Date;
use std::path::Path;

/// How many copies of each sort stay.
pub const COPIES: usize = 10;
const BEFORE: &str = "before-restore-";

/// A copy that can be brought back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Copy {
    /// What it is called: its day.
    pub name: String,
    /// The last step that it holds.
    pub step: u64,
    /// Items in it.
    pub items: usize,
    /// Log lines in it.
    pub lines: usize,
    /// Why it cannot be brought back, where that is so.
    pub broken: Option<String>,
    /// What the journals hold beyond it, where the book cannot be read.
    pub later: Option<Later>,
}

/// Keeps the copy of a day, if there is none yet, and lets the oldest go.
pub(super) fn keep(disk: &dyn Disk, dir: &Path, state: &State, date: Date) -> Result<(), StoreError> {
    write_copy(disk, dir, state, &date.to_string(), false)
}

fn write_copy(disk: &dyn Disk, dir: &Path, state: &State, name: &str, anew: bool) -> Result<(), StoreError> {
    let folder = dir.join(KEPT);
    let path = folder.join(format!("{name}.ron"));
    disk.make_dir(&folder).map_err(StoreError::io("cannot make", &folder))?;
    if !anew && disk.len(&path).map_err(StoreError::io("cannot read", &path))?.is_some() {
        return Ok(());
    }
    replace(disk, &path, &write_snapshot(state, state.mark)?)
        .map_err(StoreError::io("cannot write", &path))?;
    prune(disk, &folder, name)
}

/// Lets the oldest copies of each sort go, never the one just made.
fn prune(disk: &dyn Disk, folder: &Path, made: &str) -> Result<(), StoreError> {
    let (before, daily): (Vec<_>, Vec<_>) =
        in_order(disk, folder)?.into_iter().partition(|n| n.starts_with(BEFORE));
    for sort in [before, daily] {
        let extra = sort.len().saturating_sub(COPIES);
        for name in sort.into_iter().filter(|n| n != made).take(extra) {
            let path = folder.join(format!("{name}.ron"));
            disk.remove(&path).map_err(StoreError::io("cannot remove", &path))?;
        }
    }
    Ok(())
}

/// The names of the copies in the order in which they were made: by the step that each ends with, since a clock may have
/// been wrong; one whose head cannot be read comes first.
fn in_order(disk: &dyn Disk, folder: &Path) -> Result<Vec<String>, StoreError> {
    let files = disk.list(folder).map_err(StoreError::io("cannot list", folder))?;
    let mut names = Vec::new();
    for name in files.iter().filter_map(|n| n.strip_suffix(".ron")) {
        let path = folder.join(format!("{name}.ron"));
        let head = disk.read_part(&path, 0, LONGEST_HEADER).map_err(StoreError::io("cannot read", &path))?;
        let step = head.and_then(|bytes| frame::header(&bytes)).map_or(0, |h| h.step);
        names.push((name.starts_with(BEFORE), step, name.to_owned()));
    }
    names.sort();
    Ok(names.into_iter().map(|(_, _, name)| name).collect())
}

fn names(disk: &dyn Disk, dir: &Path) -> Result<Vec<String>, StoreError> {
    in_order(disk, &dir.join(KEPT))
}

fn read_copy(disk: &dyn Disk, dir: &Path, name: &str) -> Result<State, StoreError> {
    let path = dir.join(KEPT).join(format!("{name}.ron"));
    let bytes = disk.read(&path).map_err(StoreError::io("cannot read", &path))?;
    read_snapshot(&path, &bytes.unwrap_or_default())
}

/// The copies there are, oldest first; those made before a restore come last.
///
/// # Errors
/// A sentence where the folder cannot be listed.
pub fn copies(disk: &dyn Disk, dir: &Path) -> Result<Vec<Copy>, StoreError> {
    let copy = |name: String| match read_copy(disk, dir, &name) {
        Ok(mut s) => {
            let (step, items, lines) = (s.base, s.book.items().len(), s.book.log().len());
            let broken = s.read_only.clone();
            let later = later_steps(disk, dir, &mut s).ok().flatten().filter(|_| broken.is_none());
            Copy { name, step, items, lines, broken, later }
        }
        Err(e) => Copy { name, step: 0, items: 0, lines: 0, broken: Some(e.to_string()), later: None },
    };
    Ok(names(disk, dir)?.into_iter().map(copy).collect())
}

/// Brings a copy back. The book as it is now is kept as a copy of its own first; where it cannot be read, its files
/// are set aside whole. Gives the sentences that say so.
///
/// # Errors
/// A sentence; the book is as before then.
pub fn restore(disk: &dyn Disk, dir: &Path, name: &str, today: Date) -> Result<Vec<String>, StoreError> {
    let there = names(disk, dir)?;
    if !there.iter().any(|n| n == name) {
        return Err(StoreError::NoCopy { name: name.to_owned(), there });
    }
    let lock_path = dir.join(LOCK);
    let lock = turn::take_turn(disk, &lock_path, &Hurry::default());
    let _lock = lock.map_err(StoreError::io("cannot lock", &lock_path))?;
    let mut copy = read_copy(disk, dir, name)?;
    if let Some(why) = copy.read_only {
        return Err(StoreError::ReadOnly(why));
    }
    let later = later_steps(disk, dir, &mut copy)?;
    let mut notes = Vec::new();
    put_in_place(disk, dir, &mut copy, today, &mut notes)?;
    notes.push(format!(
        "the copy {name} was brought back: {}, {}",
        count_of(copy.book.items().len() as u64, "item"),
        count_of(copy.book.log().len() as u64, "log line")
    ));
    notes.extend(later.map(Later::after));
    Ok(notes)
}

/// Puts a copy in the place of the book, which is put by first; under the lock.
pub(super) fn put_in_place(
    disk: &dyn Disk,
    dir: &Path,
    copy: &mut State,
    today: Date,
    notes: &mut Vec<String>,
) -> Result<(), StoreError> {
    let (last, mark) = put_by(disk, dir, today, notes)?;
    // A higher number than any before: the other windows see that everything is new, and no old journal fits.
    copy.book.jump_to(last.max(copy.book.seq()) + 1);
    // It stays the book that the other windows know.
    let mark = mark.or(copy.mark).unwrap_or_else(new_mark);
    let path = dir.join(SNAPSHOT);
    let io = |e| StoreError::io("cannot write", &path)(e);
    begin_journal(disk, dir, copy.book.seq(), mark).map_err(io)?;
    replace(disk, &path, &write_snapshot(copy, Some(mark))?).map_err(io)
}

/// What the journals of a book that cannot be read any more hold beyond a copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Later {
    /// Steps that follow the copy and hold: a restore carries them out again.
    pub follow: u64,
    /// Lines that cannot be: damaged, refused, or with a gap before them.
    pub lost: u64,
}

impl Later {
    /// What a restore will do, behind what a copy holds.
    pub fn before(self) -> String {
        let follow = match self.follow {
            0 => String::new(),
            1 => "; 1 later step of the journal comes back with it".to_owned(),
            n => format!("; {n} later steps of the journal come back with it"),
        };
        match self.lost {
            0 => follow,
            1 => format!("{follow}; 1 line of the journals cannot be brought back with it"),
            n => format!("{follow}; {n} lines of the journals cannot be brought back with it"),
        }
    }

    fn after(self) -> String {
        let follow = match self.follow {
            0 => "no later step could be carried out on it".to_owned(),
            1 => "1 later step was carried out on it, from the journal".to_owned(),
            n => format!("{n} later steps were carried out on it, from the journal"),
        };
        match self.lost {
            0 => follow,
            1 => format!("{follow}; 1 line of the journals could not be: it is in what was set aside"),
            n => format!("{follow}; {n} lines of the journals could not be: they are in what was set aside"),
        }
    }
}

/// Carries out on a copy the steps that journals hold beyond it, where the book itself cannot be read: whoever brings
/// a copy back then wants what was lost. Where it can be read, the person wants the older book and nothing later.
fn later_steps(disk: &dyn Disk, dir: &Path, copy: &mut State) -> Result<Option<Later>, StoreError> {
    if !matches!(State::load(disk, dir), Err(StoreError::Unreadable { .. })) {
        return Ok(None);
    }
    let mut later = Later { follow: 0, lost: 0 };
    let (base, lines, from) = (copy.base, copy.lines, copy.book.seq());
    for step in files::journals(disk, dir).map_err(StoreError::io("cannot list", dir))? {
        let path = dir.join(journal_name(step));
        let bytes = disk.read(&path).map_err(StoreError::io("cannot read", &path))?.unwrap_or_default();
        later.lost += carry_on(copy, step, &bytes, &path);
        if copy.is_newer {
            return Err(StoreError::ReadOnly(copy.read_only.take().unwrap_or_default()));
        }
    }
    later.follow = copy.book.seq() - from;
    (copy.base, copy.lines, copy.bad, copy.read_only, copy.is_stopped) = (base, lines, None, None, false);
    Ok((later != Later { follow: 0, lost: 0 }).then_some(later))
}

/// Follows one journal from where the book is. Gives how many of its lines cannot be followed.
fn carry_on(state: &mut State, step: u64, bytes: &[u8], path: &Path) -> u64 {
    (state.base, state.lines, state.bad, state.is_stopped) = (step, 0, None, false);
    let mut lost = 0;
    let mut holds = true;
    for line in bytes.split(|b| *b == b'\n').filter(|l| !l.is_empty()) {
        let read = frame::read_line(line);
        let is_head =
            read.is_some_and(|(_, t)| frame::mark_of(t).is_some() || frame::version_of(t).is_some());
        let is_known = read.is_some_and(|(seq, _)| seq <= state.book.seq());
        if !is_head && is_known && holds {
            // The copy has it.
            state.lines += 1;
            continue;
        }
        if is_head && is_known && state.lines > 0 {
            continue;
        }
        holds = holds && state.read_line(line, path);
        if holds {
            state.lines += 1;
        } else {
            lost += u64::from(!is_head);
        }
    }
    lost
}

/// Puts the present book by and gives a number that no step of it exceeds, and its mark.
fn put_by(
    disk: &dyn Disk,
    dir: &Path,
    today: Date,
    notes: &mut Vec<String>,
) -> Result<(u64, Option<u64>), StoreError> {
    match State::load(disk, dir) {
        Ok(State { read_only: Some(why), is_newer: true, .. }) => Err(StoreError::ReadOnly(why)),
        Err(error @ StoreError::Newer(_)) => Err(error),
        Ok(state) if state.read_only.is_none() && state.bad.is_none() => {
            let last = state.book.seq();
            if last > 0 {
                let name = format!("{BEFORE}{today}-step-{last:08}");
                write_copy(disk, dir, &state, &name, true)?;
                notes.push(format!("the book as it was is kept as {name}"));
            }
            Ok((last, state.mark))
        }
        _ => Ok((set_all_aside(disk, dir, notes)?, None)),
    }
}

fn set_all_aside(disk: &dyn Disk, dir: &Path, notes: &mut Vec<String>) -> Result<u64, StoreError> {
    let io = |e| StoreError::io("cannot set aside what is in", dir)(e);
    let mut last = 0;
    let snapshot = dir.join(SNAPSHOT);
    // The snapshot is read whole for its lines' numbers: a header that is damaged says nothing.
    if let Some(bytes) = disk.read(&snapshot).map_err(io)? {
        last = frame::header(&bytes).map_or(0, |h| h.step);
    }
    for step in files::journals(disk, dir).map_err(io)? {
        let bytes = disk.read(&dir.join(journal_name(step))).map_err(io)?.unwrap_or_default();
        let lines = bytes.split(|b| *b == b'\n').count() as u64;
        last = last.max(step + lines + 1);
        let to = files::set_aside(disk, dir, &journal_name(step)).map_err(io)?;
        notes.push(format!("{} was set aside as {}", journal_name(step), to.display()));
    }
    if disk.len(&snapshot).map_err(io)?.is_some() {
        let to = files::set_aside(disk, dir, SNAPSHOT).map_err(io)?;
        notes.push(format!("{SNAPSHOT} was set aside as {}", to.display()));
    }
    Ok(last)
}
