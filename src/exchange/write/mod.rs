//! Domain values to bytes.

pub mod stock;
