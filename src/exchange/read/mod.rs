//! Bytes to domain values.

pub mod card;
pub mod swatches;
