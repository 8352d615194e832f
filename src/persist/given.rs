//! The one door for files that a person names: lists, cards, pictures, label sheets, settings. Decides what may be
//! opened and how much of it is read. Knows nothing of what is in them, and is not the way to the book.
//!
//! Only regular files pass. A pipe, a terminal or a device can hold its reader for ever or never end; so what the name
//! leads to is looked at before it is opened, opened without waiting, looked at once more, and read up to a limit.

use super::error::reason;
use crate::system::files;
use crate::system::names::Trouble;
use std::fs::{Metadata, OpenOptions};
use std::io::{self, IsTerminal, Read};
use std::path::Path;

/// What a file is taken for, in sentences, and the most that is read of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sort {
    /// With its article: "a list".
    pub name: &'static str,
    /// Largest size, bytes.
    pub most: u64,
}

/// Papers, supplies, pieces, sheets, counts: far more than a shelf holds.
pub const LIST: Sort = Sort { name: "a list", most: 8_000_000 };
/// A card or a project of cards.
pub const CARD: Sort = Sort { name: "a card file", most: 4_000_000 };
/// Swatches.
pub const COLOURS: Sort = Sort { name: "a list of colors", most: 8_000_000 };
/// Label sheets of the person's own.
pub const LABEL_SHEETS: Sort = Sort { name: "a file of label sheets", most: 4_000_000 };
/// Settings, a theme or formats of the person's own.
pub const SETTINGS: Sort = Sort { name: "a settings file", most: 4_000_000 };

/// A whole book, kept off the machine: a quarter of a million log lines, and reading it keeps to 300 MB of memory.
pub const BOOK: Sort = Sort { name: "a kept book", most: 12_000_000 };

/// The name that stands for standard input where a list is asked for.
pub const INPUT: &str = "-";

/// Why a file is not read. The sentence goes on after the file's name.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// Nothing has that name.
    #[error("cannot be read: there is no such file; check the name")]
    NotThere,
    /// It may be there.
    #[error("cannot be read: it is not open to you; see who may read it")]
    NotAllowed,
    /// A folder.
    #[error("cannot be read: it is a folder; name a file in it")]
    Folder,
    /// A pipe, a socket, a terminal or another device, with its kind.
    #[error(
        "cannot be read: it is {0}, which may never end; save what comes from it in a file and name that"
    )]
    Endless(&'static str),
    /// Larger than its sort is.
    #[error("is too large for {name}: {}, and no more than {} MB are read", megabytes(*.size), .most / 1_000_000)]
    TooLarge {
        /// With its article.
        name: &'static str,
        /// Bytes, where the system knows them.
        size: Option<u64>,
        /// Bytes.
        most: u64,
    },
    /// Standard input is what a person types.
    #[error("stands for standard input, and nothing is sent there: pipe a list into it, or name a file")]
    Keyboard,
    /// No UTF-8.
    #[error("cannot be read: it is not a text, as {0} is")]
    NotText(&'static str),
    /// A link has that name, and what it leads to is not there.
    #[error("cannot be read: it is a link to something that is not there")]
    LeadsNowhere,
    /// The system makes something else of the name than a file.
    #[error("cannot be read: {0}")]
    Name(Trouble),
    /// Anything else.
    #[error("cannot be read: {}", reason(.0))]
    Disk(#[from] io::Error),
}

fn megabytes(size: Option<u64>) -> String {
    size.map_or_else(|| "it goes on and on".to_owned(), |n| format!("it has {} MB", n.div_ceil(1_000_000)))
}

impl ReadError {
    fn of(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::NotFound => Self::NotThere,
            io::ErrorKind::PermissionDenied => Self::NotAllowed,
            io::ErrorKind::IsADirectory => Self::Folder,
            _ => Self::Disk(error),
        }
    }
}

/// Most entries of a folder that are looked at, and most names that are given of it.
const LOOKED_AT: usize = 20_000;
const NAMES: usize = 500;

/// Names in a folder that begin like this, in order, folders with a slash behind them. Hidden ones only where a dot is typed.
pub fn names(folder: &Path, begun: &str) -> Vec<String> {
    let Ok(all) = std::fs::read_dir(folder) else { return Vec::new() };
    let name = |entry: io::Result<std::fs::DirEntry>| {
        let entry = entry.ok()?;
        let name = entry.file_name().into_string().ok()?;
        let is_shown = begun.starts_with('.') || !name.starts_with('.');
        let slash = if entry.path().is_dir() { "/" } else { "" };
        (is_shown && name.starts_with(begun)).then(|| format!("{name}{slash}"))
    };
    let mut names: Vec<String> = all.take(LOOKED_AT).filter_map(name).collect();
    names.sort();
    names.truncate(NAMES);
    names
}

/// Refuses what is no regular file, or is larger than its sort.
fn passes(about: &Metadata, sort: Sort) -> Result<(), ReadError> {
    if about.is_dir() {
        return Err(ReadError::Folder);
    }
    if let Some(kind) = files::no_file(about.file_type()) {
        return Err(ReadError::Endless(kind));
    }
    if about.len() > sort.most {
        return Err(ReadError::TooLarge { name: sort.name, size: Some(about.len()), most: sort.most });
    }
    Ok(())
}

/// The bytes of a regular file. Returns soon on any sound disk, whatever the name leads to.
///
/// # Errors
/// A sentence that goes on after the file's name.
pub fn read(path: &Path, sort: Sort) -> Result<Vec<u8>, ReadError> {
    if let Some(trouble) = files::trouble(path) {
        return Err(ReadError::Name(trouble));
    }
    // Looked at first, since some devices do something when they are opened.
    let about = std::fs::metadata(path).map_err(|error| match ReadError::of(error) {
        ReadError::NotThere if path.symlink_metadata().is_ok() => ReadError::LeadsNowhere,
        other => other,
    })?;
    passes(&about, sort)?;
    let file = files::without_waiting(OpenOptions::new().read(true)).open(path);
    let file = file.map_err(ReadError::of)?;
    let about = file.metadata().map_err(ReadError::of)?;
    passes(&about, sort)?;
    whole(&file, about.len(), sort)
}

/// The same, where the name may stand for standard input: whoever asks for that waits for whoever sends it.
///
/// # Errors
/// A sentence that goes on after the file's name.
pub fn read_or_input(path: &Path, sort: Sort) -> Result<Vec<u8>, ReadError> {
    if path != Path::new(INPUT) {
        return read(path, sort);
    }
    let input = io::stdin();
    if input.is_terminal() {
        return Err(ReadError::Keyboard);
    }
    whole(input.lock(), 0, sort)
}

/// Reads to the end, and no further than the limit: a file may grow, and some of the system's own say they are empty.
fn whole(file: impl Read, size: u64, sort: Sort) -> Result<Vec<u8>, ReadError> {
    let mut bytes = Vec::with_capacity(usize::try_from(size).unwrap_or_default());
    file.take(sort.most + 1).read_to_end(&mut bytes).map_err(ReadError::of)?;
    if bytes.len() as u64 > sort.most {
        return Err(ReadError::TooLarge { name: sort.name, size: None, most: sort.most });
    }
    Ok(bytes)
}

/// The same as text.
///
/// # Errors
/// As [`read`], and where it is no UTF-8.
pub fn read_text(path: &Path, sort: Sort) -> Result<String, ReadError> {
    String::from_utf8(read(path, sort)?).map_err(|_| ReadError::NotText(sort.name))
}

/// The text of a file that need not be there: empty where it is not.
///
/// # Errors
/// As [`read_text`], but for a file that is not there.
pub fn read_if_there(path: &Path, sort: Sort) -> Result<Option<String>, ReadError> {
    match read_text(path, sort) {
        Ok(text) => Ok(Some(text)),
        Err(ReadError::NotThere) => Ok(None),
        Err(why) => Err(why),
    }
}

/// What [`in_the_way`] says of a folder.
pub const FOLDER: &str = "a folder";

/// What has that name and cannot be written over, if anything.
pub fn in_the_way(path: &Path) -> Option<&'static str> {
    let about = std::fs::metadata(path).ok()?;
    if about.is_dir() { Some(FOLDER) } else { files::no_file(about.file_type()) }
}
