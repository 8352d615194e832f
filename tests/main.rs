//! All integration tests in one binary: one link, one run.
#![allow(missing_docs)]

mod outside;
#[cfg(target_os = "linux")]
mod pty;
