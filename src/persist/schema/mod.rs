//! The shapes of the files, and the version that says which shapes a file may hold. They are apart from the domain's
//! types, so that a renaming there never breaks a file: what is written is decided here alone.
//!
//! A version has two parts. A build reads every version up to its own, and changes nothing in a book of a higher one:
//! it could not keep what it does not know. The *minor* part goes up with each field or variant that is added, the
//! *major* part with anything that turns older files into something else. `fields.txt` lists every field that is
//! saved with the version that brought it; a test compares it with the shapes. A file of each major version is kept
//! under `tests/persist`.

mod read;
mod stand_in;
pub mod v1;

pub use read::{ReadValue, read};
pub use stand_in::{StoodIn, read_with_stand_ins};

use std::fmt;

/// A version of the files' shapes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Version {
    /// Builds of a lower one cannot make sense of the file.
    pub major: u32,
    /// Builds of a lower one would drop fields.
    pub minor: u32,
}

/// The version that is written: the number to raise with each field that is added (see `fields.txt`).
pub const CURRENT: Version = Version { major: 2, minor: 7 };

impl fmt::Display for Version {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.major, self.minor)
    }
}

impl Version {
    /// The version that a text such as `2.3` names, as it would be written.
    pub fn parse(text: &str) -> Option<Self> {
        let (major, minor) = text.split_once('.')?;
        let version = Self { major: major.parse().ok()?, minor: minor.parse().ok()? };
        (version.to_string() == text).then_some(version)
    }

    /// True where a build of today may not change such a file.
    pub fn is_newer(self) -> bool {
        self > CURRENT
    }
}
