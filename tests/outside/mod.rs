//! Checks against figures published elsewhere: one file a source or a family of sources.
//!
//! Data that came through a public repository is not part of the project. Where a folder `../shared/reference` lies
//! beside the checkout, the tests read it from there; where it does not, they are counted as left out and pass.

use crate::skipped::{Needs, skip};
use std::path::PathBuf;

/// Reads a reference file; `None` where there is no folder of them, which is counted.
///
/// # Panics
/// Where the folder is there and the file is not.
pub fn reference(name: &str) -> Option<String> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/reference");
    if !folder.is_dir() {
        skip(Needs::Reference, name);
        return None;
    }
    Some(std::fs::read_to_string(folder.join(name)).unwrap_or_else(|e| panic!("{name}: {e}")))
}

mod cards;
mod classes_worked;
mod colour;
mod gcut;
mod one_sheet;
mod orders_worked;
mod pace_worked;
mod sources;
pub mod stock;
mod stock_worked;
mod stops;
mod ways_worked;
mod year_worked;
mod yields;
