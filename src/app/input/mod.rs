//! What takes keys: a one-line text field, a list cursor. No drawing, no commands.

pub mod field;
pub mod list;
