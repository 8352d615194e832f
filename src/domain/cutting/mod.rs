//! Cutting paper: what is asked, which layouts answer it, and how a person cuts them at the trimmer.
pub mod layout;
pub mod tree;
