//! trimside: a terminal workbench for a paper crafter.
//!
//! The rooms and who may use whom (an arrow reads "uses"):
//!
//! ```text
//! main -> cli, runtime, system  runtime -> ui, app, engine, persist, exchange, domain, system
//! ui -> app, domain             cli -> domain, engine, persist, exchange
//! app -> domain                 engine, exchange -> domain
//! persist -> domain, system     domain, system -> nothing of ours
//! ```
//!
//! A test reads every `use` and path and fails when an arrow points another way.

pub mod app;
pub mod cli;
pub mod domain;
pub mod engine;
pub mod exchange;
pub mod persist;
pub mod runtime;
pub mod system;
pub mod ui;
