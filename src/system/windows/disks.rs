//! How names on a disk change safely, and whether a disk is another machine's. What is written when is decided elsewhere.
//!
//! The standard library replaces a file that others have open as POSIX does, where the disk can (the journal and the
//! snapshot are always opened so that it may). A program that looks at every new file, as guards against viruses do, may
//! hold one for a moment so that it cannot: then it is tried again.

use std::fs::OpenOptions;
use std::io;
use std::os::windows::fs::OpenOptionsExt;
use std::path::{Component, Path, Prefix};
use std::time::{Duration, Instant};

/// How long another program may hold a file.
const PATIENCE: Duration = Duration::from_secs(1);
const PAUSE: Duration = Duration::from_millis(5);
/// "System Error Codes" of the Windows API: access denied, sharing violation, lock violation.
const HELD: [i32; 3] = [5, 32, 33];
/// Function, handle, access, request, parameter: what a disk answers that knows no sync of folders.
const NO_SYNC: [i32; 5] = [1, 6, 5, 50, 87];
/// `FILE_FLAG_BACKUP_SEMANTICS` of `CreateFileW`: a folder may be opened.
const FOLDERS_TOO: u32 = 0x0200_0000;

/// Tries again while another program holds the file.
fn patiently(mut act: impl FnMut() -> io::Result<()>) -> io::Result<()> {
    let began = Instant::now();
    loop {
        match act() {
            Err(e) if is_one_of(&e, &HELD) && began.elapsed() < PATIENCE => std::thread::sleep(PAUSE),
            other => return other,
        }
    }
}

fn is_one_of(error: &io::Error, codes: &[i32]) -> bool {
    error.raw_os_error().is_some_and(|code| codes.contains(&code))
}

/// Gives a file another name, in place of a file that has it; whoever reads the old one reads on.
pub fn rename(from: &Path, to: &Path) -> io::Result<()> {
    patiently(|| std::fs::rename(from, to))
}

/// Removes a file; whoever reads it reads on.
pub fn remove(path: &Path) -> io::Result<()> {
    patiently(|| std::fs::remove_file(path))
}

/// Returns when the names in a folder are safe, as far as the disk can be asked: some refuse to be, and keep names in order
/// by a log of their own.
pub fn sync_dir(dir: &Path) -> io::Result<()> {
    let folder = OpenOptions::new().read(true).write(true).custom_flags(FOLDERS_TOO).open(dir);
    match folder.and_then(|folder| folder.sync_all()) {
        Err(e) if is_one_of(&e, &NO_SYNC) => Ok(()),
        other => other,
    }
}

/// The kind of network disk that a folder lies on; `None` for a local one, or where the system does not say. A letter that
/// stands for a share leads to it.
pub fn network_disk(dir: &Path) -> Option<String> {
    let dir = std::fs::canonicalize(dir).ok()?;
    let Component::Prefix(prefix) = dir.components().next()? else { return None };
    matches!(prefix.kind(), Prefix::UNC(..) | Prefix::VerbatimUNC(..)).then(|| "a share".to_owned())
}
