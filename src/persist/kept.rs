//! Copies of the book, one a day, and how one is brought back.

use super::disk::Disk;
use super::error::StoreError;
use super::files::{self, KEPT, LOCK, SNAPSHOT, journal_name, replace};
use super::frame;
use super::load::{State, read_snapshot, write_snapshot};
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
    prune(disk, &folder)
}

fn prune(disk: &dyn Disk, folder: &Path) -> Result<(), StoreError> {
    let names = disk.list(folder).map_err(StoreError::io("cannot list", folder))?;
    let (before, daily): (Vec<_>, Vec<_>) =
        names.into_iter().filter(|n| n.strip_suffix(".ron").is_some()).partition(|n| n.starts_with(BEFORE));
    for sort in [before, daily] {
        let extra = sort.len().saturating_sub(COPIES);
        for name in sort.into_iter().take(extra) {
            let path = folder.join(name);
            disk.remove(&path).map_err(StoreError::io("cannot remove", &path))?;
        }
    }
    Ok(())
}

fn names(disk: &dyn Disk, dir: &Path) -> Result<Vec<String>, StoreError> {
    let folder = dir.join(KEPT);
    let names = disk.list(&folder).map_err(StoreError::io("cannot list", &folder))?;
    Ok(names.iter().filter_map(|n| n.strip_suffix(".ron")).map(str::to_owned).collect())
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
        Ok(s) => Copy {
            name,
            step: s.base,
            items: s.book.items().len(),
            lines: s.book.log().len(),
            broken: s.read_only,
        },
        Err(e) => Copy { name, step: 0, items: 0, lines: 0, broken: Some(e.to_string()) },
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
    let _lock = disk.lock(&lock_path).map_err(StoreError::io("cannot lock", &lock_path))?;
    let mut copy = read_copy(disk, dir, name)?;
    if let Some(why) = copy.read_only {
        return Err(StoreError::ReadOnly(why));
    }
    let mut notes = Vec::new();
    let (last, mark) = put_by(disk, dir, today, &mut notes)?;
    // A higher number than any before: the other windows see that everything is new, and no old journal fits.
    copy.book.jump_to(last.max(copy.book.seq()) + 1);
    // It stays the book that the other windows know.
    let bytes = write_snapshot(&copy, mark.or(copy.mark))?;
    let path = dir.join(SNAPSHOT);
    replace(disk, &path, &bytes).map_err(StoreError::io("cannot write", &path))?;
    notes.push(format!(
        "the copy {name} was brought back: {} items, {} log lines",
        copy.book.items().len(),
        copy.book.log().len()
    ));
    Ok(notes)
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
