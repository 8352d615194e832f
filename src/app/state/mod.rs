//! What each pane remembers while the bench is open: which view, what is picked, what its texts and lists are for. Plain
//! values with what can be read off them; no command, no question to the outside, no other pane.

pub mod after;
pub mod answered;
pub mod bench;
pub mod beside;
pub mod choices;
pub mod cutting;
pub mod forms;
pub mod further;
pub mod laid;
pub mod mats;
pub mod palette;
pub mod photo;
pub mod plan;
pub mod print;
pub mod ruler;
pub mod settling;
pub mod stock;
pub mod timeline;
pub mod today;
pub mod trio;
pub mod views;
pub mod welcome;
pub mod yields;
