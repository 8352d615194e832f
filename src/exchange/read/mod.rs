//! Bytes to domain values.

pub mod swatches;
