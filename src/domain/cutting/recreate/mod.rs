//! Ruin and recreate on sheets held as guillotine trees.

pub(crate) mod bin;
pub(crate) mod places;
pub(crate) mod search;
