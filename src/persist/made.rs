//! The one writer of files that are made for people: lists, cards, pages, copies of the book. Decides how a file comes to
//! stand whole under its name, or not at all. Knows nothing of what is in it.
//!
//! The bytes go into a file beside the place under a name of its own, are synced, and only then take the name. So a disk
//! that is full leaves nothing behind that would be in the way of the next try.

use super::error::reason;
use super::given::in_the_way;
use std::fs::{File, Permissions};
use std::io::{self, Write};
use std::os::unix::fs::PermissionsExt as _;
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// Who may read and write a new file, before the person's own mask: as any program's.
const USUAL: u32 = 0o666;

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
    // Looked at first, so that no long file is written in vain; the name is taken only where it is free all the same.
    if path.symlink_metadata().is_ok() {
        return Err(WriteError::There);
    }
    let beside = beside(path, bytes, USUAL)?;
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
    let mode = std::fs::metadata(&path).map_or(USUAL, |about| about.permissions().mode() & 0o777);
    let beside = beside(&path, bytes, mode)?;
    if path.exists() {
        // The person's mask counts for new files only.
        beside.as_file().set_permissions(Permissions::from_mode(mode)).map_err(WriteError::Disk)?;
    }
    beside.persist(&path).map_err(|e| WriteError::Disk(e.error))?;
    sync_folder(&path)
}

/// Writes a file of the program's own, which only its owner may read.
///
/// # Errors
/// As [`write_over`].
pub fn write_own(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    beside(path, bytes, 0o600)?.persist(path).map_err(|e| WriteError::Disk(e.error))?;
    sync_folder(path)
}

/// Where a link leads, or the path itself where it is none.
fn place_of(path: &Path) -> Result<PathBuf, WriteError> {
    if let Some(kind) = in_the_way(path) {
        return Err(WriteError::NoFile(kind));
    }
    let is_link = path.symlink_metadata().is_ok_and(|about| about.is_symlink());
    if is_link { path.canonicalize().map_err(|_| WriteError::LeadsNowhere) } else { Ok(path.to_owned()) }
}

fn folder(path: &Path) -> &Path {
    path.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The bytes in a file beside the place, synced; it goes by itself where it is not given the name.
fn beside(path: &Path, bytes: &[u8], mode: u32) -> Result<NamedTempFile, WriteError> {
    let folder = folder(path);
    let mut new = Builder::new();
    new.prefix(".trimside-").suffix(".new").permissions(Permissions::from_mode(mode));
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
    let folder = File::open(folder(path)).and_then(|f| f.sync_all());
    // The bytes stand under their name; some disks know no sync of folders.
    if let Err(error) = folder
        && error.kind() == io::ErrorKind::StorageFull
    {
        return Err(WriteError::Disk(error));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use rustix::fs::{CWD, FileType as Node, Mode, mknodat};
    use std::os::unix::fs::symlink;

    fn mode(path: &Path) -> u32 {
        std::fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn what_is_there_is_left_alone_or_written_over_whole() {
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        write_new(&at("card"), b"one").unwrap();
        assert!(matches!(write_new(&at("card"), b"two"), Err(WriteError::There)));
        assert_eq!(std::fs::read(at("card")).unwrap(), b"one");
        write_over(&at("card"), b"three").unwrap();
        assert_eq!(std::fs::read(at("card")).unwrap(), b"three");
        mknodat(CWD, at("pipe"), Node::Fifo, Mode::from_raw_mode(0o600), 0).unwrap();
        let said = |path: &Path| write_over(path, b"four").unwrap_err().to_string();
        assert!(said(&at("pipe")).contains("a named pipe has that name"));
        assert!(said(dir.path()).contains("a folder has that name"));
        assert!(said(&at("nowhere/card")).contains("its folder is not there"));
        assert!(said(&at("card/card")).contains("a file where its folder should be"));
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 2, "nothing lies beside them");
    }

    #[test]
    fn others_may_read_what_is_made_as_they_may_read_any_new_file() {
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        std::fs::write(at("usual"), "").unwrap();
        write_new(&at("new"), b"x").unwrap();
        assert_eq!(mode(&at("new")), mode(&at("usual")));
        write_over(&at("other"), b"x").unwrap();
        assert_eq!(mode(&at("other")), mode(&at("usual")));
        std::fs::set_permissions(at("other"), Permissions::from_mode(0o640)).unwrap();
        write_over(&at("other"), b"y").unwrap();
        assert_eq!(mode(&at("other")), 0o640);
        write_own(&at("own"), b"z").unwrap();
        assert_eq!(mode(&at("own")), 0o600);
    }

    #[test]
    fn links_are_followed_or_refused() {
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        std::fs::write(at("real"), "old").unwrap();
        symlink(at("real"), at("link")).unwrap();
        symlink(at("nothing"), at("lost")).unwrap();
        assert!(matches!(write_new(&at("link"), b"new"), Err(WriteError::There)));
        assert!(matches!(write_new(&at("lost"), b"new"), Err(WriteError::There)));
        write_over(&at("link"), b"new").unwrap();
        assert_eq!(std::fs::read(at("real")).unwrap(), b"new");
        assert!(at("link").symlink_metadata().unwrap().is_symlink());
        let lost = write_over(&at("lost"), b"new").unwrap_err();
        assert!(lost.to_string().contains("a link to something that is not there"), "{lost}");
        assert!(!at("nothing").exists());
    }
}
