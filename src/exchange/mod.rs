//! Bytes to domain values and back: CSV, JSON, images, text. Opens no files.

pub mod cardtext;
mod cells;
pub mod read;
pub mod write;
