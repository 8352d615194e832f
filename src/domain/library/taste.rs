//! What the person likes, as the book shows it: trios kept, and colours that lie on one card.

use super::base::card_colours;
use crate::domain::book::Book;
use crate::domain::colour::habits::{Choice, Habits};
use crate::domain::colour::space::Oklch;
use crate::domain::stock::SwatchId;

/// The choices of a book, counted.
pub fn habits(book: &Book) -> Habits {
    let mut habits = Habits::default();
    let mut note = |colours: &[SwatchId], choice: Choice| {
        let all: Vec<Oklch> = colours
            .iter()
            .filter_map(|id| book.swatches().get(*id))
            .map(|s| s.colour().lab.oklch())
            .collect();
        habits.note(&all, choice);
    };
    for (_, trio) in book.trios().iter() {
        note(&trio.swatches, Choice::Kept);
    }
    for (_, project) in book.projects().iter() {
        for card in &project.cards {
            note(&card_colours(book, card), Choice::Used);
        }
    }
    habits
}
