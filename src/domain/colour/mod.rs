//! Colour: spaces, differences, order, harmony, trios, vision, legibility.

pub mod adapt;
pub mod difference;
pub mod matrix;
pub mod nearest;
pub mod order;
pub mod space;
pub mod swatch;

pub use nearest::{Match, nearest};
