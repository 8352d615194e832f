//! Cutting paper: what is asked, which layouts answer it, and how a person cuts them at the trimmer.
pub mod bounds;
pub mod chart;
pub mod grid;
pub mod job;
pub mod layout;
pub mod limited;
pub mod one_size;
mod order;
pub mod plan;
pub(crate) mod planner;
pub mod prefer;
pub mod question;
pub mod reach;
pub(crate) mod recreate;
pub mod recursion;
pub mod steps;
pub mod tree;
pub mod words;
