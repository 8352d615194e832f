//! Windows, by its console as `crossterm` reads it and by what the standard library knows of it.

pub mod disks;
pub mod files;
pub mod keys;
pub mod screen;
pub mod signals;
pub mod watch;
