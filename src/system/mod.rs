//! What differs from system to system, and nothing else: how files are opened, named and made safe, where keys come from,
//! how the terminal is set, what ends or stops a process, who tells of changes in a folder.
//!
//! Two sides with the same functions; one of them is built. A test holds that they are the same, and that no other room
//! asks which system it is on. It must not know the book, the bench, or what follows from anything that it tells.
//!
//! | file of a side | differs in |
//! |---|---|
//! | `disks` | replacing and removing, folders made safe, disks of other machines |
//! | `files` | who may read a file, what is no file, names, the home and the settings folder |
//! | `keys` | where keys come from |
//! | `screen` | the terminal's output, size and modes |
//! | `signals` | what is heard from outside, stopping, dying |
//! | `watch` | changes in a folder |

pub mod burst;
pub mod names;
pub mod tally;
pub mod told;

#[cfg(unix)]
mod unix;
#[cfg(windows)]
mod windows;

#[cfg(unix)]
use unix as side;
#[cfg(windows)]
use windows as side;

pub use side::{disks, files, keys, screen, signals, watch};
