//! Linux, macOS and their kin, by POSIX and the terminal's control sequences.

pub mod disks;
pub mod files;
pub mod keys;
pub mod screen;
pub mod signals;
pub mod watch;
