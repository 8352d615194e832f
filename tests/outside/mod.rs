//! Checks against figures published elsewhere: one file a source or a family of sources.
//!
//! Data that came through a public repository is not part of the project. Where a folder `../shared/reference` lies
//! beside the checkout, the tests read it from there; where it does not, they say so and pass.

use std::path::PathBuf;

/// Reads a reference file, or says that the check is skipped.
pub fn reference(name: &str) -> Option<String> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/reference").join(name);
    let text = std::fs::read_to_string(&path).ok();
    if text.is_none() {
        eprintln!("skipped: {} is not beside this checkout", path.display());
    }
    text
}

mod cards;
mod colour;
mod gcut;
mod one_sheet;
mod stock;
mod stock_worked;
mod stops;
mod yields;
