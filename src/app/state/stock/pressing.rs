//! Lines of the shelf that press: those that are short, and those that run low with nothing on the way.

use super::state_word;
use crate::domain::book::Book;
use crate::domain::stock::ItemId;

/// How many lines of a list press.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pressing {
    /// Lines of which more is booked than there is.
    pub short: usize,
    /// Lines below their reorder mark, with nothing on the way.
    pub low: usize,
}

impl Pressing {
    /// Counts those among some lines.
    pub fn of(book: &Book, lines: &[ItemId]) -> Pressing {
        let mut count = Pressing::default();
        for id in lines {
            match state_word(book, *id) {
                "SHORT" => count.short += 1,
                "LOW" => count.low += 1,
                _ => {}
            }
        }
        count
    }

    /// What is left without some of the lines that were counted.
    #[must_use]
    pub fn without(self, seen: Pressing) -> Pressing {
        Pressing { short: self.short.saturating_sub(seen.short), low: self.low.saturating_sub(seen.low) }
    }

    /// In words, one for each that there is: `2 short`, `1 low`.
    pub fn words(self) -> Vec<String> {
        let told = [(self.short, "short"), (self.low, "low")].into_iter().filter(|(count, _)| *count > 0);
        told.map(|(count, word)| format!("{count} {word}")).collect()
    }
}
