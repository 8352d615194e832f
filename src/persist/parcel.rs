//! The whole book in one file, to be kept off this machine or taken to another one: written, looked at, and brought in.
//! The file is a snapshot with its checksum, so that a byte that was lost on the way is noticed.

use super::disk::Disk;
use super::error::StoreError;
use super::files::{LOCK, SNAPSHOT};
use super::given::{self, BOOK, ReadError};
use super::kept;
use super::load::{State, read_snapshot, write_snapshot};
use super::made::{self, WriteError};
use super::store::Store;
use super::turn::{self, Hurry};
use crate::domain::book::Book;
use crate::domain::plural::{count_of, counted};
use jiff::civil::Date;
use std::path::{Path, PathBuf};

/// Why a book is not kept or not brought in. The text is the whole sentence.
#[derive(Debug, thiserror::Error)]
pub enum ParcelError {
    /// The file is not written.
    #[error("{} {why}", path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        why: WriteError,
    },
    /// What was written does not read back.
    #[error("{} was written but does not read back ({why}): keep it on another disk", path.display())]
    NotWhole {
        /// The file.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// The book has outgrown what is read of such a file.
    #[error("the book has {} MB, and no more than {} MB of a kept book are read: copy the data folder whole", .0.div_ceil(1_000_000), BOOK.most / 1_000_000)]
    TooLarge(u64),
    /// The file is not read.
    #[error("{} {why}", path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        why: ReadError,
    },
    /// It is no book, or a damaged one.
    #[error("{} {why}; nothing was changed", path.display())]
    NoBook {
        /// The file.
        path: PathBuf,
        /// Why, behind the name.
        why: String,
    },
    /// The data folder refuses.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl ParcelError {
    /// True where another file or name would do.
    pub fn is_of_the_file(&self) -> bool {
        match self {
            Self::Write { why, .. } => !matches!(why, WriteError::Disk(_)),
            Self::Read { .. } | Self::NoBook { .. } => true,
            Self::NotWhole { .. } | Self::TooLarge(_) | Self::Store(_) => false,
        }
    }
}

/// What a book holds, for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Holds {
    /// Items.
    pub items: usize,
    /// Swatches.
    pub swatches: usize,
    /// Projects.
    pub projects: usize,
    /// Log lines.
    pub lines: usize,
    /// The day of the last log line.
    pub last: Option<Date>,
}

impl Holds {
    /// Of a book.
    pub fn of(book: &Book) -> Self {
        Self {
            items: book.items().len(),
            swatches: book.swatches().len(),
            projects: book.projects().len(),
            lines: book.log().len(),
            last: book.log().iter().map(|line| line.date).max(),
        }
    }

    /// In words.
    pub fn words(&self) -> String {
        let Self { items, swatches, projects, lines, last } = self;
        let last = last.map_or_else(String::new, |day| format!(", the last of {day}"));
        [
            count_of(*items as u64, "item"),
            counted(*swatches as u64, "swatch", "swatches"),
            count_of(*projects as u64, "project"),
            count_of(*lines as u64, "log line") + &last,
        ]
        .join(", ")
    }
}

/// A book that was read from a file.
pub struct Parcel {
    path: PathBuf,
    state: State,
}

impl std::fmt::Debug for Parcel {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Parcel").field("path", &self.path).finish_non_exhaustive()
    }
}

/// Writes the whole book to one file and reads it back. A file of that name is replaced only where asked for.
///
/// # Errors
/// A sentence; no file is left then.
pub fn keep(store: &Store, path: &Path, replace: bool) -> Result<u64, ParcelError> {
    let bytes = write_snapshot(&store.state, store.state.mark)?;
    let size = bytes.len() as u64;
    if size > BOOK.most {
        return Err(ParcelError::TooLarge(size));
    }
    let write = if replace { made::write_over } else { made::write_new };
    write(path, &bytes).map_err(|why| ParcelError::Write { path: path.to_owned(), why })?;
    drop(bytes);
    let back =
        look(path).map_err(|why| ParcelError::NotWhole { path: path.to_owned(), why: why.to_string() })?;
    if back.state.book != *store.book() {
        let why = "it holds another book".to_owned();
        return Err(ParcelError::NotWhole { path: path.to_owned(), why });
    }
    Ok(size)
}

/// Reads a file that [`keep`] wrote, or a copy of the day.
///
/// # Errors
/// A sentence.
pub fn look(path: &Path) -> Result<Parcel, ParcelError> {
    let bytes = given::read(path, BOOK).map_err(|why| ParcelError::Read { path: path.to_owned(), why })?;
    let no_book = |why: String| ParcelError::NoBook { path: path.to_owned(), why };
    let state = read_snapshot(path, &bytes).map_err(|error| match error {
        StoreError::Unreadable { line: 1, column: 1, why, .. } if why.starts_with("the first line") => {
            no_book("is no book that trimside has kept: name a file that keep has written".to_owned())
        }
        StoreError::Unreadable { line, column, why, .. } => {
            no_book(format!("is damaged: line {line}, column {column}: {why}"))
        }
        other => other.into(),
    })?;
    if let Some(why) = state.read_only {
        return Err(StoreError::ReadOnly(why).into());
    }
    Ok(Parcel { path: path.to_owned(), state })
}

impl Parcel {
    /// What it holds.
    pub fn holds(&self) -> Holds {
        Holds::of(&self.state.book)
    }

    /// Puts the book in the place of the one in a folder, which is kept as a copy first. Gives the sentences that say so.
    ///
    /// # Errors
    /// A sentence; the book in the folder is as before then.
    pub fn bring_in(mut self, disk: &dyn Disk, dir: &Path, today: Date) -> Result<Vec<String>, StoreError> {
        disk.make_dir(dir).map_err(StoreError::io("cannot make the data folder", dir))?;
        let lock_path = dir.join(LOCK);
        let lock = turn::take_turn(disk, &lock_path, &Hurry::default());
        let _lock = lock.map_err(StoreError::io("cannot lock", &lock_path))?;
        let mut notes = Vec::new();
        kept::put_in_place(disk, dir, &mut self.state, today, &mut notes)?;
        notes.push(format!(
            "{} is in place as {}: {}",
            self.path.display(),
            dir.join(SNAPSHOT).display(),
            self.holds().words()
        ));
        Ok(notes)
    }
}
