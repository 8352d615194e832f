//! The impure shell: event loop, terminal guard, effects, clock, signals.
//!
//! | file | decides |
//! |---|---|
//! | `terminal` | entering, leaving, suspending and re-entering the screen; frames out |
//! | `canvas` | what a frame costs in bytes |
//! | `events` | one channel of everything that can happen |
//! | `signals` | which signals are heard, how to stop and how to die of one |
//! | `colours` | whether there is a screen to draw on, and how many colours it has |
//! | `clipboard` | the bytes that put text on the person's clipboard |
//! | `trap` | the fault the tests may order |

pub mod canvas;
pub mod clipboard;
pub mod colours;
pub mod events;
pub mod signals;
pub mod terminal;
pub mod trap;
