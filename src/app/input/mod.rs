//! What takes keys: a one-line text field, a form of several, a list cursor; completing names. No drawing, no commands.

pub mod completing;
pub mod field;
pub mod form;
pub mod list;
