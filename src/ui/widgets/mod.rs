//! Parts that several panes draw with.

pub mod bar;
pub mod canvas;
pub mod diagram;
pub mod digits;
pub mod letters;
pub mod lines;
pub mod stack;
pub mod table;
pub mod trend;
