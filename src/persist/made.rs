//! The one writer of files that are made for people: lists, cards, pages, copies of the book. Decides how a file comes to
//! stand whole under its name, or not at all. Knows nothing of what is in it.
//!
//! The bytes go into a file beside the place under a name of its own, are synced, and only then take the name. So a disk
//! that is full leaves nothing behind that would be in the way of the next try.

use super::error::reason;
use super::given::in_the_way;
use crate::system::names::Trouble;
use crate::system::{disks, files};
use std::fs::Permissions;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// Why a file is not written. The sentence goes on after the file's name.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// Something has that name.
    #[error("is there already and was left alone: give another name")]
    There,
    /// What has that name is no regular file, with what it is.
    #[error("cannot be written: {0} has that name, give another one")]
    NoFile(&'static str),
    /// A link has that name, and what it leads to is not there.
    #[error("cannot be written: it is a link to something that is not there, give another name")]
    LeadsNowhere,
    /// The system makes something else of the name than a file.
    #[error("cannot be written: {0}")]
    Name(Trouble),
    /// It would lie in a folder that is not there.
    #[error("cannot be written: its folder is not there, make it first")]
    NoFolder,
    /// Anything else.
    #[error("cannot be written: {}; nothing of it was left, try again or name another place", reason(.0))]
    Disk(io::Error),
}

/// Writes a new file; returns when its bytes are safe.
///
/// # Errors
/// [`WriteError::There`] where something has that name, which is left alone.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    fits(path)?;
    // Looked at first, so that no long file is written in vain; the name is taken only where it is free all the same.
    if path.symlink_metadata().is_ok() {
        return Err(WriteError::There);
    }
    let beside = beside(path, bytes, files::for_all())?;
    match beside.persist_noclobber(path) {
        Ok(_) => {}
        Err(failed) if failed.error.kind() == io::ErrorKind::AlreadyExists => return Err(WriteError::There),
        // A disk that can neither rename without replacing nor link.
        Err(failed) if path.symlink_metadata().is_err() => {
            failed.file.persist(path).map_err(|e| WriteError::Disk(e.error))?;
        }
        Err(failed) => return Err(WriteError::Disk(failed.error)),
    }
    sync_folder(path)
}

/// Writes a file in place of one that may have that name, which is whole until the new one is, and lets those read it who
/// could before. A link is followed.
///
/// # Errors
/// [`WriteError::NoFile`] where a folder, a pipe or a device has that name.
pub fn write_over(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let path = place_of(path)?;
    let now = files::as_now(&path);
    let beside = beside(&path, bytes, now.clone().or_else(files::for_all))?;
    if let Some(now) = now {
        // The person's mask counts for new files only.
        beside.as_file().set_permissions(now).map_err(WriteError::Disk)?;
    }
    beside.persist(&path).map_err(|e| WriteError::Disk(e.error))?;
    sync_folder(&path)
}

/// Writes a file of the program's own, which only its owner may read.
///
/// # Errors
/// As [`write_over`].
pub fn write_own(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    beside(path, bytes, files::for_owner())?.persist(path).map_err(|e| WriteError::Disk(e.error))?;
    sync_folder(path)
}

/// Where a link leads, or the path itself where it is none.
fn place_of(path: &Path) -> Result<PathBuf, WriteError> {
    fits(path)?;
    if let Some(kind) = in_the_way(path) {
        return Err(WriteError::NoFile(kind));
    }
    let is_link = path.symlink_metadata().is_ok_and(|about| about.is_symlink());
    if is_link { path.canonicalize().map_err(|_| WriteError::LeadsNowhere) } else { Ok(path.to_owned()) }
}

fn folder(path: &Path) -> &Path {
    path.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Refuses a name that the system makes something else of, before anything is looked at under it.
fn fits(path: &Path) -> Result<(), WriteError> {
    files::trouble(path).map_or(Ok(()), |trouble| Err(WriteError::Name(trouble)))
}

/// The bytes in a file beside the place, synced; it goes by itself where it is not given the name.
fn beside(path: &Path, bytes: &[u8], who: Option<Permissions>) -> Result<NamedTempFile, WriteError> {
    fits(path)?;
    let folder = folder(path);
    let mut new = Builder::new();
    new.prefix(".trimside-").suffix(".new");
    if let Some(who) = who {
        new.permissions(who);
    }
    let mut file = new.tempfile_in(folder).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => WriteError::NoFolder,
        io::ErrorKind::NotADirectory => WriteError::NoFile(NO_FOLDER),
        _ => WriteError::Disk(plain(&error)),
    })?;
    file.write_all(bytes).and_then(|()| file.as_file().sync_all()).map_err(WriteError::Disk)?;
    Ok(file)
}

/// The system's own error, without the name of the file beside the place.
fn plain(error: &io::Error) -> io::Error {
    let within = error
        .get_ref()
        .and_then(|e| std::error::Error::source(e))
        .and_then(|e| e.downcast_ref::<io::Error>());
    match within.and_then(io::Error::raw_os_error).or(error.raw_os_error()) {
        Some(code) => io::Error::from_raw_os_error(code),
        None => io::Error::from(error.kind()),
    }
}

const NO_FOLDER: &str = "a file where its folder should be";

/// A new name is safe only when its folder is.
fn sync_folder(path: &Path) -> Result<(), WriteError> {
    let folder = disks::sync_dir(folder(path));
    // The bytes stand under their name; some disks know no sync of folders.
    if let Err(error) = folder
        && error.kind() == io::ErrorKind::StorageFull
    {
        return Err(WriteError::Disk(error));
    }
    Ok(())
}
