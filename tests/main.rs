//! All integration tests in one binary: one link, one run.
#![allow(missing_docs)]
// A test stops at the first thing that is not as it should be.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::string_slice)]
// The stricter style rules are kept for the product.
#![allow(clippy::pedantic)]

mod architecture;
mod at_home;
mod cli;
mod conventions;
mod effort;
mod ended;
mod faulty;
mod fuzz;
mod guards;
mod hostile;
mod laws;
mod outside;
mod persist;
mod print;
#[cfg(target_os = "linux")]
mod pty;
mod screens;
mod skipped;
mod soak;
mod wording;
