//! Invertible edits with preconditions.
