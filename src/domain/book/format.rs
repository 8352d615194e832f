//! A sheet format of the person's own, as the book keeps it.

use crate::domain::size::Size;

/// A sheet format of the person's own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetFormat {
    /// What it is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// Anything else.
    pub note: String,
}
