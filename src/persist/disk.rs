//! The few operations on files that saving is made of, behind a trait, so that every order of them can be replayed as
//! a crash and every one of them can be made to fail. What is written when is decided elsewhere.

use crate::system::{disks, files};
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;
use std::sync::{Arc, OnceLock};
use std::time::Duration;

/// Held while one writer works; letting it go frees the lock.
pub trait Lock: Send {}

/// A file open for writing at its end.
pub trait Sink: Send {
    /// Writes all of it at the end of the file.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Returns when what was written is safe.
    fn sync(&mut self) -> io::Result<()>;
}

/// The operations.
pub trait Disk: Send + Sync {
    /// The whole file; `None` where there is none.
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>>;
    /// At most `most` bytes from `from` on; `None` where there is no file.
    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>>;
    /// Length in bytes; `None` where there is no file.
    fn len(&self, path: &Path) -> io::Result<Option<u64>>;
    /// Names in a folder, sorted; none where there is no folder.
    fn list(&self, dir: &Path) -> io::Result<Vec<String>>;
    /// Makes a folder that only its owner can enter; it may be there already.
    fn make_dir(&self, dir: &Path) -> io::Result<()>;
    /// Makes a new file that only its owner can read; it must not be there.
    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>>;
    /// Opens a file at its end, making it where it is not there.
    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>>;
    /// Gives a file another name, in place of a file that has it.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Removes a file.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Returns when the names in a folder are safe.
    fn sync_dir(&self, dir: &Path) -> io::Result<()>;
    /// Takes the lock, unless another writer has it; the lock file is made where it is not there and never removed.
    fn try_lock(&self, path: &Path) -> io::Result<Option<Box<dyn Lock>>>;
    /// Fails where the lock could never be taken, since the folder takes no writing. Takes nothing.
    fn may_lock(&self, path: &Path) -> io::Result<()>;
    /// Lets a moment go by, for another writer to get on.
    fn pause(&self) {
        std::thread::sleep(PAUSE);
    }
}

/// The real one.
#[derive(Clone, Copy, Debug, Default)]
pub struct RealDisk;

/// The disk of this process, where it is not the real one.
static STAND_IN: OnceLock<Arc<dyn Disk>> = OnceLock::new();

/// The disk that this process works on.
pub fn of_process() -> Arc<dyn Disk> {
    STAND_IN.get().cloned().unwrap_or_else(|| Arc::new(RealDisk))
}

/// Has this process work on another disk: for one that tries what a fault does. Once only, and before anything is
/// opened; true where it counts.
pub fn stand_in(disk: Arc<dyn Disk>) -> bool {
    STAND_IN.set(disk).is_ok()
}

const PAUSE: Duration = Duration::from_millis(5);

struct RealLock {
    file: File,
}

impl Lock for RealLock {}

impl Drop for RealLock {
    fn drop(&mut self) {
        // Closing the file frees the lock in any case.
        let _ = self.file.unlock();
    }
}

impl Sink for File {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

/// Turns "not there" into `None`.
fn if_there<T>(result: io::Result<T>) -> io::Result<Option<T>> {
    match result {
        Ok(value) => Ok(Some(value)),
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(e) => Err(e),
    }
}

/// Some systems say of a folder that is read as a file no more than that they refuse.
fn of_folder(error: io::Error, path: &Path) -> io::Error {
    let is_folder = error.kind() == io::ErrorKind::PermissionDenied && path.is_dir();
    if is_folder { io::ErrorKind::IsADirectory.into() } else { error }
}

impl Disk for RealDisk {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        if_there(std::fs::read(path).map_err(|error| of_folder(error, path)))
    }

    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>> {
        let opened = File::open(path).map_err(|error| of_folder(error, path));
        let Some(mut file) = if_there(opened)? else { return Ok(None) };
        file.seek(SeekFrom::Start(from))?;
        let mut bytes = Vec::new();
        file.take(most).read_to_end(&mut bytes)?;
        Ok(Some(bytes))
    }

    fn len(&self, path: &Path) -> io::Result<Option<u64>> {
        Ok(if_there(std::fs::metadata(path))?.map(|m| m.len()))
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<String>> {
        let Some(entries) = if_there(std::fs::read_dir(dir))? else { return Ok(Vec::new()) };
        let names = entries.map(|e| Ok(e?.file_name().to_string_lossy().into_owned()));
        let mut names = names.collect::<io::Result<Vec<String>>>()?;
        names.sort();
        Ok(names)
    }

    fn make_dir(&self, dir: &Path) -> io::Result<()> {
        match files::make_private_dir(dir) {
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists && dir.is_dir() => Ok(()),
            other => other,
        }
    }

    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(files::private(OpenOptions::new().write(true).create_new(true)).open(path)?))
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(files::private(OpenOptions::new().append(true).create(true)).open(path)?))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        disks::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        disks::remove(path)
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        disks::sync_dir(dir)
    }

    fn try_lock(&self, path: &Path) -> io::Result<Option<Box<dyn Lock>>> {
        let file = lock_file(path)?;
        match file.try_lock() {
            Ok(()) => Ok(Some(Box::new(RealLock { file }))),
            Err(TryLockError::Error(e)) => Err(e),
            Err(TryLockError::WouldBlock) => Ok(None),
        }
    }

    fn may_lock(&self, path: &Path) -> io::Result<()> {
        lock_file(path).map(drop)
    }
}

fn lock_file(path: &Path) -> io::Result<File> {
    files::private(OpenOptions::new().write(true).create(true).truncate(false)).open(path)
}
