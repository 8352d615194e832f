//! Domain values to bytes.

pub mod stock;
pub mod text;
