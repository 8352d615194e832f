//! A file of pages for the person: never over another one unasked, whole or not at all. What is in it is decided by
//! others.

use super::given;
use super::made::{self, WriteError};
use std::path::Path;

/// What is written, by the ending of the file's name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A document of pages.
    Pdf,
    /// A drawing of one page.
    Svg,
}

/// Why a file is not written.
#[derive(Debug, thiserror::Error)]
pub enum DeliverError {
    /// Another ending.
    #[error("{0} ends in neither .pdf nor .svg: name the file so")]
    Ending(String),
    /// A folder has that name.
    #[error("{0} is a folder: name a file in it")]
    Folder(String),
    /// A pipe or a device has that name.
    #[error("{0} is {1}, no file: give another name")]
    NoFile(String, &'static str),
    /// It would lie in a folder that is not there.
    #[error("there is no folder {0}: make it first")]
    NoFolder(String),
    /// A file is there already.
    #[error("{0} is there already: name another file, or replace it")]
    There(String),
    /// The disk refuses.
    #[error("{0} {1}")]
    NotWritten(String, WriteError),
}

/// Checks a path before any work is done.
///
/// # Errors
/// A sentence for another ending, a folder, a folder that is not there, and a file that is there already.
pub fn check(path: &Path, replace: bool) -> Result<FileKind, DeliverError> {
    let shown = path.display().to_string();
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    let kind = match ending.as_deref() {
        Some("pdf") => FileKind::Pdf,
        Some("svg") => FileKind::Svg,
        _ => return Err(DeliverError::Ending(shown)),
    };
    match given::in_the_way(path) {
        Some(given::FOLDER) => return Err(DeliverError::Folder(shown)),
        Some(what) => return Err(DeliverError::NoFile(shown, what)),
        None => {}
    }
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    if let Some(folder) = folder.filter(|f| !f.is_dir()) {
        return Err(DeliverError::NoFolder(folder.display().to_string()));
    }
    if !replace && path.symlink_metadata().is_ok() {
        return Err(DeliverError::There(shown));
    }
    Ok(kind)
}

/// Writes the bytes. A file that was there is whole until the new one is.
///
/// # Errors
/// A sentence when the disk refuses.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), DeliverError> {
    made::write_over(path, bytes).map_err(|why| DeliverError::NotWritten(path.display().to_string(), why))
}
