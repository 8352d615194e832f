//! What each pane remembers while the bench is open: which view, what is picked, what its texts and lists are for. Plain
//! values with what can be read off them; no command, no question to the outside, no other pane.

pub mod palette;
pub mod photo;
pub mod views;
pub mod yields;
