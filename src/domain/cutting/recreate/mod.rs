//! Ruin and recreate on sheets held as guillotine trees.

pub(crate) mod bin;
mod candidate;
pub(crate) mod places;
pub(crate) mod search;
