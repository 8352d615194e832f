//! Programs run under a pseudo terminal, keys in and screen out.
//!
//! Nothing here sleeps: every wait polls the terminal and the process until what is waited for is there, or fails at a
//! deadline with the screen in the message.

mod bench;
mod class_run;
mod doors;
mod elsewhere;
mod evening;
mod faults;
mod feel;
mod ground;
mod harness;
mod loose_card;
mod queue;
mod shell;
mod surroundings;
mod trial;
mod workbench;
