//! The swatch library as a person works on it: which edits add, change, merge and bring in colours, which papers hold a
//! colour, what trios are asked of, and which papers a trio gives a card.
//!
//! Knows the book and the colour maths; what is drawn and which key asks is not known here.

pub mod apply;
pub mod base;
pub mod change;
pub mod from_picture;
pub mod import;
pub mod inks;
pub mod merge;
pub mod on_the_spot;
pub mod papers;
pub mod shown;
pub mod taste;

#[cfg(test)]
mod tests;
