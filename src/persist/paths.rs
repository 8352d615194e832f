//! Where things lie: the data folder and the person's own settings file. Nothing is read or made here.
//!
//! The data folder is the platform's own for user data; where it and the settings of programs lie the system's side knows.

use crate::system::files;
use std::path::{Path, PathBuf};

/// Where this run reads and writes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paths {
    /// Book, journal, lock, copies of the day.
    pub data: PathBuf,
    /// The person's own settings; never written by the program.
    pub settings: PathBuf,
    /// The person's own theme, beside the settings.
    pub theme: PathBuf,
}

/// The file with a person's own sheet formats, in the data folder.
pub const FORMATS: &str = "formats.ron";
/// The file with a person's own label sheets, in the data folder.
pub const LABELS: &str = "labels.ron";

/// There is no home folder to look in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "there is no home folder ({home} is not set), so the data folder is not known: set {home}, or give --data DIR",
    home = files::HOME
)]
pub struct NoHome;

impl Paths {
    /// The usual places, with a data folder of the caller's own where one is given.
    ///
    /// # Errors
    /// When the home folder is not known and no data folder was given.
    pub fn find(data: Option<&Path>) -> Result<Self, NoHome> {
        let settings = settings_file();
        // A folder that was named works without a home; settings are then looked for beside the book.
        if let Some(dir) = data {
            let settings = settings.unwrap_or_else(|| dir.join("settings.ron"));
            return Ok(Self::of(dir.to_owned(), settings));
        }
        Ok(Self::of(files::data_folder().ok_or(NoHome)?, settings.ok_or(NoHome)?))
    }

    /// The same places with a settings file of the caller's own, and the theme beside it.
    #[must_use]
    pub fn with_settings(self, file: Option<&Path>) -> Self {
        match file {
            Some(file) => Self::of(self.data, file.to_owned()),
            None => self,
        }
    }

    fn of(data: PathBuf, settings: PathBuf) -> Self {
        let theme = settings.with_file_name("theme.ron");
        Self { data, settings, theme }
    }

    /// Makes the folders above the platform's own data folder, which a new account may not have. Above a folder that
    /// was named nothing is made: its disk may not be mounted.
    ///
    /// # Errors
    /// What the system says.
    pub fn make_way(&self) -> std::io::Result<()> {
        let own = files::data_folder().is_some_and(|own| own == self.data);
        match self.data.parent() {
            Some(above) if own => std::fs::create_dir_all(above),
            _ => Ok(()),
        }
    }
}

fn settings_file() -> Option<PathBuf> {
    Some(files::settings_folder()?.join("trimside").join("settings.ron"))
}
