//! Bytes to domain values.

pub mod card;
pub mod counts;
pub mod csv_jobs;
pub mod image;
pub mod profile;
pub mod stock;
pub mod swatches;
mod table_text;
