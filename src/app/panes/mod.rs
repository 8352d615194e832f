//! The state of each pane and what its commands do. Drawing is elsewhere.

pub mod asked;
pub mod bench;
pub mod beside;
pub mod form;
pub mod forms;
pub mod further;
pub mod laid;
pub mod mats;
pub mod palette;
pub mod papers;
pub mod plan;
pub mod stock;
pub mod trimmer;
pub mod written_days;
pub mod yields;
