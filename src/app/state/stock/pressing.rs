//! How a line of the shelf stands, and which lines press: those that are short, and those that run low with nothing on the
//! way.

use crate::domain::book::Book;
use crate::domain::stock::ItemId;
use crate::domain::stock::summary::standing;

/// How an item stands, in a word: what it lacks first, else its state in the range.
pub fn state_word(book: &Book, id: ItemId) -> &'static str {
    let s = standing(book, id);
    let coming = i64::try_from(s.on_order).unwrap_or(i64::MAX);
    if s.free < 0 {
        "SHORT"
    } else if s.is_low() && s.free.saturating_add(coming) >= i64::from(s.mark) {
        "ordered"
    } else if s.is_low() {
        "LOW"
    } else {
        book.items().get(id).map_or("", |i| i.state.word())
    }
}

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
