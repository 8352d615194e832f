//! The impure shell: event loop, terminal guard, effects, clock, signals.

pub mod keys;
pub mod plain;
pub mod solve;
