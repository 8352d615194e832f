//! Bytes to domain values.

pub mod csv_jobs;
pub mod swatches;
