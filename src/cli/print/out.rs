//! Pages to a file: which format, never over another file unasked, whole or not at all.

use crate::cli::BadInput;
use crate::domain::pages::page::Page;
use crate::exchange::write::{pdf::pdf, svg::svg};
use anyhow::Context;
use atomic_write_file::AtomicWriteFile;
use std::io::Write;
use std::path::{Path, PathBuf};

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A document of pages.
    Pdf,
    /// A drawing of one page.
    Svg,
}

/// A file that may be written.
#[derive(Debug)]
pub struct Target {
    /// Where.
    pub path: PathBuf,
    /// In which format.
    pub kind: Kind,
}

impl Target {
    /// Checks a path before any work is done.
    ///
    /// # Errors
    /// A sentence for another ending, a folder, a folder that is not there, and a file that is there already.
    pub fn of(path: &Path, force: bool) -> Result<Self, BadInput> {
        let shown = path.display();
        let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
        let kind = match ending.as_deref() {
            Some("pdf") => Kind::Pdf,
            Some("svg") => Kind::Svg,
            _ => return Err(BadInput(format!("{shown} ends in neither .pdf nor .svg: name the file so"))),
        };
        if path.is_dir() {
            return Err(BadInput(format!("{shown} is a folder: name a file in it")));
        }
        let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
        if let Some(folder) = folder.filter(|f| !f.is_dir()) {
            return Err(BadInput(format!("there is no folder {}: make it first", folder.display())));
        }
        if !force && path.symlink_metadata().is_ok() {
            return Err(BadInput(format!(
                "{shown} is there already: add --force to replace it, or name another file"
            )));
        }
        Ok(Self { path: path.to_owned(), kind })
    }

    /// Writes the pages and gives the number of bytes. A file that was there is whole until the new one is.
    ///
    /// # Errors
    /// A sentence when the disk refuses.
    pub fn write(&self, pages: &[Page]) -> anyhow::Result<usize> {
        let bytes = match self.kind {
            Kind::Pdf => pdf(pages),
            Kind::Svg => pages.first().map(svg).unwrap_or_default().into_bytes(),
        };
        let failed = || format!("cannot write {}", self.path.display());
        let mut file = AtomicWriteFile::open(&self.path).with_context(failed)?;
        file.write_all(&bytes).with_context(failed)?;
        file.commit().with_context(failed)?;
        Ok(bytes.len())
    }
}
