//! Where the data and the settings live: the folders of the platform, or the one that the person names.

use std::path::{Path, PathBuf};

/// The folders in use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Places {
    /// The book, its journal and copies; a person's own formats.
    pub data: PathBuf,
    /// Settings that belong to the person, not to the data.
    pub settings: PathBuf,
}

/// The file with a person's own sheet formats, in the data folder.
pub const FORMATS: &str = "formats.ron";

/// No home folder is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no home folder is known here: say where the data lives with --data DIR")]
pub struct NoHome;

impl Places {
    /// The places of the platform; with a folder of the person's own everything is in it.
    ///
    /// # Errors
    /// Where neither is known.
    pub fn find(own: Option<&Path>) -> Result<Self, NoHome> {
        if let Some(dir) = own {
            return Ok(Self { data: dir.to_owned(), settings: dir.to_owned() });
        }
        let dirs = directories::ProjectDirs::from("", "", "trimside").ok_or(NoHome)?;
        Ok(Self { data: dirs.data_dir().to_owned(), settings: dirs.config_dir().to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_named_folder_holds_everything() {
        let places = Places::find(Some(Path::new("/bench"))).unwrap();
        assert_eq!((places.data, places.settings), (PathBuf::from("/bench"), PathBuf::from("/bench")));
    }
}
