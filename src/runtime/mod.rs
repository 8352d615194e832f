//! The impure shell: event loop, terminal guard, effects, clock.
//!
//! | file | decides |
//! |---|---|
//! | `run` | the loop: events in, actions through `update`, effects out, a frame when something changed |
//! | `open` | which folder, whose settings, demo or not |
//! | `keeper` | the thread that keeps the book on the disk |
//! | `handed` | cards and projects written to files and read from them |
//! | `solve` | the workers, and what they do with a question |
//! | `plain` | the same bench without a screen: lines in, facts out |
//! | `keys` | from the terminal's keys to the workbench's |
//! | `line` | the process's line to its terminal, and the modes on it |
//! | `tour` | the book of the guided tour |
//! | `terminal` | entering, leaving, suspending and re-entering the screen; frames out |
//! | `pictures` | pictures and lists of colours read for the worker |
//! | `named` | which file a typed name means |
//! | `files` | the threads that read and write the files that a person names |
//! | `canvas` | what a frame costs in bytes |
//! | `decode` | what the terminal's bytes mean |
//! | `events` | one channel of everything that can happen |
//! | `gate` | stopping the input thread while the screen is not ours |
//! | `colours` | whether there is a screen to draw on, and how many colours it has |
//! | `clipboard` | the bytes that put text on the person's clipboard |
//! | `printer` | the thread that makes pages for the print overlay and writes their files |

pub mod canvas;
pub mod clipboard;
pub mod colours;
pub mod decode;
pub mod events;
pub mod files;
pub mod further;
pub mod gate;
pub mod handed;
pub mod keeper;
pub mod keys;
pub mod line;
pub mod named;
pub mod open;
pub mod pictures;
pub mod plain;
pub mod printer;
pub mod run;
pub mod solve;
pub mod terminal;
mod tour;
mod whole_book;
