//! Palette: the swatch library in order, what is nearest to a colour, what goes together.
//!
//! | file | does |
//! |---|---|
//! | `run` | what each command does |
//! | `trios` | which trios are asked for, listed, kept and put on a card |
//! | `photo` | a photo's colours, and what becomes of them |
//! | `paper` | the card of a patterned paper |
//! | `edit`, `list` | adding, changing, merging; bringing in |
//! | `prompts` | what is typed, and what a picked row does |
//! | `words` | what the pane says, one fact a line |
//!
//! Its state is in [`crate::app::state::palette`].

pub mod edit;
pub mod list;
pub mod new_swatch;
pub mod paper;
pub mod photo;
pub mod prompts;
pub mod run;
pub mod trios;
pub mod words;
