//! Saving, tried on disks that crash, fill up and fail.

mod acknowledge;
mod beyond;
mod command;
mod crash;
mod damage;
pub mod doomed;
#[cfg(windows)]
mod drives;
pub mod fake;
mod faults;
mod fields;
mod future;
pub mod kill;
mod meddle;
pub mod mutants;
#[cfg(unix)]
mod nodes;
mod other_book;
mod parcel;
pub mod real;
mod restore;
mod versions;
mod windows;
