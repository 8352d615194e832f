//! The shapes that version 1 set out and version 2 carries on, field by field.
//!
//! Lengths are whole units of 1/8128 in, money whole minor units, dates `2026-03-02`. Fields that hold nothing are
//! left out. `From` turns a domain value into its stored shape; `TryFrom` reads it back and says what does not fit.

mod book;
mod booked;
mod card;
mod entry;
mod field;
mod lines;
mod make;
mod project;
mod rows;
mod teaching;
mod words;

pub use book::{BookV1, Unfit};
pub use entry::EntryV1;
pub use field::Misfit;
