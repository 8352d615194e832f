//! Runs of text in one style each, as lines are made of.

use ratatui::style::Style;

/// A run of text in one style.
pub type Run = (String, Style);

/// One run.
pub fn run(words: impl Into<String>, style: Style) -> Run {
    (words.into(), style)
}
