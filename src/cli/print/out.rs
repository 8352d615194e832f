//! Pages to a file: which format, never over another file unasked, whole or not at all.

use crate::cli::BadInput;
use crate::domain::pages::page::Page;
use crate::exchange::write::letters::Letters;
use crate::exchange::write::{pdf::pdf_with, svg::svg};
use crate::persist::deliver::{self, DeliverError};
use std::path::{Path, PathBuf};

pub use crate::persist::deliver::FileKind;

/// A file that may be written.
#[derive(Debug)]
pub struct OutFile {
    /// Where.
    pub path: PathBuf,
    /// In which format.
    pub kind: FileKind,
}

impl OutFile {
    /// Checks a path before any work is done.
    ///
    /// # Errors
    /// A sentence for another ending, a folder, a folder that is not there, and a file that is there already.
    pub fn of(path: &Path, force: bool) -> Result<Self, BadInput> {
        let kind = deliver::check(path, force).map_err(|why| match why {
            DeliverError::There(shown) => BadInput(format!(
                "--out: {shown} is there already: add --force to replace it, or name another file"
            )),
            other => BadInput(format!("--out: {other}")),
        })?;
        Ok(Self { path: path.to_owned(), kind })
    }

    /// Writes the pages and gives the number of bytes. A file that was there is whole until the new one is.
    ///
    /// # Errors
    /// A sentence when the disk refuses.
    pub fn write(&self, pages: &[Page], letters: &Letters) -> anyhow::Result<usize> {
        let bytes = match self.kind {
            FileKind::Pdf => pdf_with(pages, letters),
            FileKind::Svg => pages.first().map(svg).unwrap_or_default().into_bytes(),
        };
        deliver::write(&self.path, &bytes)?;
        Ok(bytes.len())
    }
}
