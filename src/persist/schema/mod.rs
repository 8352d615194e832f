//! The shapes of the files, one module a version. They are apart from the domain's types, so that a renaming there
//! never breaks a file: what is written is decided here alone.
//!
//! A new version gets a module of its own and reads the older ones by turning them into itself; the fixtures under
//! `tests/persist` keep a file of every version that was ever written.

pub mod v1;

/// The version that is written.
pub const CURRENT: u32 = 1;
