//! The names of the files in a data folder, and how one is written so that a crash leaves either the old or the new.
//!
//! | name | what |
//! |---|---|
//! | `book.ron` | the snapshot: the whole book after some step |
//! | `journal-N.txt` | the steps after step N, the one that the snapshot ends with |
//! | `lock` | held while writing; never removed |
//! | `kept/2026-03-02.ron` | the book as it was before the first change of that day |
//! | `set-aside/` | what could not be read, whole |

use super::disk::Disk;
use super::frame;
use std::io;
use std::path::{Path, PathBuf};

/// The snapshot.
pub const SNAPSHOT: &str = "book.ron";
/// The lock.
pub const LOCK: &str = "lock";
/// Daily copies.
pub const KEPT: &str = "kept";
/// What could not be read.
pub const SET_ASIDE: &str = "set-aside";
/// A half-written file's ending; such a file is nobody's.
const UNFINISHED: &str = ".new";

/// The journal that follows step `step`.
pub fn journal_name(step: u64) -> String {
    format!("journal-{step}.txt")
}

/// The step that a journal of this name follows.
pub fn journal_step(name: &str) -> Option<u64> {
    let digits = name.strip_prefix("journal-")?.strip_suffix(".txt")?;
    digits.parse().ok().filter(|n: &u64| n.to_string() == digits)
}

/// The journals in a folder by the step they follow, lowest first.
pub fn journals(disk: &dyn Disk, dir: &Path) -> io::Result<Vec<u64>> {
    let mut steps: Vec<u64> = disk.list(dir)?.iter().filter_map(|n| journal_step(n)).collect();
    steps.sort_unstable();
    Ok(steps)
}

/// Writes a file whole: beside its place, synced, then put in its place, then the folder synced.
pub fn replace(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(UNFINISHED);
    let beside = path.with_file_name(name);
    if disk.len(&beside)?.is_some() {
        disk.remove(&beside)?;
    }
    let written = disk.create(&beside).and_then(|mut sink| {
        sink.write(bytes)?;
        sink.sync()
    });
    if let Err(error) = written {
        let _ = disk.remove(&beside);
        return Err(error);
    }
    disk.rename(&beside, path)?;
    disk.sync_dir(path.parent().unwrap_or(path))
}

/// Begins the journal that follows a step, with the line that says whose it is, before the snapshot of that step is put in
/// its place: from then on a journal that is not there has gone. One that was begun so before stays as it is; whatever
/// else has the name is set aside. Gives its length, and where something was set aside to.
pub fn begin_journal(
    disk: &dyn Disk,
    dir: &Path,
    step: u64,
    mark: u64,
) -> io::Result<(u64, Option<PathBuf>)> {
    let (name, line) = (journal_name(step), frame::mark_line(step, mark));
    let path = dir.join(&name);
    let mut aside = None;
    if let Some(there) = disk.read(&path)? {
        if there == line.as_bytes() {
            return Ok((there.len() as u64, None));
        }
        aside = Some(set_aside(disk, dir, &name)?);
    }
    replace(disk, &path, line.as_bytes())?;
    Ok((line.len() as u64, aside))
}

/// Moves a file whole into the folder for what could not be read, under a name that is free there.
pub fn set_aside(disk: &dyn Disk, dir: &Path, name: &str) -> io::Result<PathBuf> {
    let folder = dir.join(SET_ASIDE);
    disk.make_dir(&folder)?;
    let taken = disk.list(&folder)?;
    let mut to = name.to_owned();
    let mut n = 1;
    while taken.contains(&to) {
        n += 1;
        to = format!("{n}-{name}");
    }
    let to = folder.join(to);
    disk.rename(&dir.join(name), &to)?;
    disk.sync_dir(&folder)?;
    disk.sync_dir(dir)?;
    Ok(to)
}
