//! What can go wrong between the book and the disk, each as a sentence for the person.

use super::schema::{CURRENT, Version};
use crate::system::names::Trouble;
use std::io;
use std::path::{Path, PathBuf};

/// Why reading or saving failed. The text is the whole sentence.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The system refused an operation.
    #[error("{doing} {}: {}", path.display(), reason(cause))]
    Io {
        /// What was being done, as in "cannot read".
        doing: &'static str,
        /// On what.
        path: PathBuf,
        /// The system's answer.
        cause: io::Error,
    },
    /// A file that is not what it should be. It is left as it is.
    #[error("{} cannot be read: line {line}, column {column}: {why}; it is left untouched, trimside restore lists the copies that can be brought back", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong there.
        why: String,
    },
    /// A file of a newer version of which this one cannot even show a part. It is left as it is.
    #[error("{0}")]
    Newer(String),
    /// The book may be read but not written.
    #[error("{0}")]
    ReadOnly(String),
    /// The change is not on the disk, and nothing of it counts. The caller still has it and can try again.
    #[error("not saved: {why}; the book is as it was before: fix that and try again")]
    NotSaved {
        /// What stood in the way.
        why: String,
    },
    /// Another book has come into the place of the one that is open.
    #[error("another book is in this place now: put back the disk or folder that was there, nothing is written into {}", dir.display())]
    OtherBook {
        /// The folder.
        dir: PathBuf,
    },
    /// The data folder is a link, and what it leads to is not there.
    #[error("{} is a link to something that is not there (is the disk mounted?): make that folder or name another one with --data DIR", dir.display())]
    LeadsNowhere {
        /// The folder.
        dir: PathBuf,
    },
    /// The system makes something else of the data folder's name than a folder.
    #[error("the data cannot be kept in {}: {trouble}", dir.display())]
    Name {
        /// The folder.
        dir: PathBuf,
        /// What is wrong with it.
        trouble: Trouble,
    },
    /// There is no place to keep data.
    #[error("no home folder is known to keep the data in: name one with --data DIR")]
    NoHome,
    /// There is no copy of that name.
    #[error("there is no copy \"{name}\": trimside restore lists {}", listed(there))]
    NoCopy {
        /// What was asked for.
        name: String,
        /// The names that there are.
        there: Vec<String>,
    },
}

impl StoreError {
    pub(super) fn io(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        move |cause| Self::Io { doing, path, cause }
    }

    /// Why a file of a newer version is open for reading only.
    pub(super) fn newer(path: &Path, sign: &Sign) -> String {
        format!("{}: it is open for reading only, nothing will be changed", of_newer(path, sign))
    }

    /// A file of a newer version that cannot be shown.
    pub(super) fn too_new(path: &Path, sign: &Sign) -> Self {
        let newer = of_newer(path, sign);
        Self::Newer(format!(
            "{newer}: it cannot be shown and is left untouched, open it with the newer version"
        ))
    }
}

/// By what a file is known to come from a newer version.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// Its head says so.
    Version(Version),
    /// Its head says no more than a major version.
    Major(u32),
    /// It holds something that this version has no place for.
    Unknown(String),
}

fn of_newer(path: &Path, sign: &Sign) -> String {
    let sign = match sign {
        Sign::Version(version) => format!("schema {version}, this one writes {CURRENT}"),
        Sign::Major(major) => format!("schema {major}, this one writes {CURRENT}"),
        Sign::Unknown(what) => format!("this one does not know {what}"),
    };
    format!("{} was written by a newer version of trimside ({sign})", path.display())
}

/// The system's reason in plain words where it has some.
pub(super) fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::QuotaExceeded => "the disk quota is used up".to_owned(),
        io::ErrorKind::PermissionDenied => "permission is missing".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        io::ErrorKind::NotFound => "its folder is not there (is the disk mounted?)".to_owned(),
        io::ErrorKind::IsADirectory => "it is a folder where a file should be".to_owned(),
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => {
            "a file is where a folder should be".to_owned()
        }
        _ => error.to_string(),
    }
}

fn listed(names: &[String]) -> String {
    if names.is_empty() { "none yet".to_owned() } else { names.join(", ") }
}
