//! Names, lists and pictures made to do harm: kept as they were given, shown harmless everywhere, and never a way out
//! of the data folder or into another program.

mod bounds;
mod clock;
#[cfg(unix)]
pub mod doors;
#[cfg(target_os = "linux")]
mod large_book;
mod lists;
mod names;
#[cfg(unix)]
mod paths;
mod words;
