//! What the person likes, as the book shows it: trios kept and dismissed, and colours that lie on one card. Only what was
//! chosen since the person last began afresh counts. Knows the book; how far a choice moves a pair is not decided here.

use super::base::card_colours;
use crate::domain::book::Book;
use crate::domain::colour::habits::{Choice, Habits};
use crate::domain::colour::space::Oklch;
use crate::domain::edit::{Edit, Row};
use crate::domain::settings::{BookSettings, Forgotten};
use crate::domain::stock::{KeptTrio, SwatchId, TrioId};

/// The choices of a book, counted.
pub fn habits(book: &Book) -> Habits {
    let mut habits = Habits::default();
    let forgotten = &book.settings().forgotten;
    let mut note = |colours: &[SwatchId], choice: Choice| {
        let all: Vec<Oklch> = colours
            .iter()
            .filter_map(|id| book.swatches().get(*id))
            .map(|s| s.colour().lab.oklch())
            .collect();
        habits.note(&all, choice);
    };
    for (_, trio) in book.trios().iter().filter(|(id, _)| *id >= forgotten.trios_before) {
        note(&trio.swatches, if trio.dismissed { Choice::Dismissed } else { Choice::Kept });
    }
    for colours in cards(book).filter(|colours| !forgotten.cards.contains(&in_order(colours))) {
        note(&colours, Choice::Used);
    }
    habits
}

/// The colours of every card: those of projects, and the one that is in none.
fn cards(book: &Book) -> impl Iterator<Item = Vec<SwatchId>> {
    let in_projects = book.projects().iter().flat_map(|(_, project)| &project.cards);
    in_projects.chain(book.loose_card()).map(|card| card_colours(book, card))
}

fn in_order(colours: &[SwatchId]) -> Vec<SwatchId> {
    let mut all = colours.to_vec();
    all.sort_unstable();
    all
}

/// The trios that are not to be shown, with their numbers.
pub fn dismissed(book: &Book) -> impl Iterator<Item = (TrioId, &KeptTrio)> {
    book.trios().iter().filter(|(_, trio)| trio.dismissed)
}

/// The same by place in a list of the library; those of which a colour is not in it cannot be shown anyway.
pub fn dismissed_places(book: &Book, ids: &[SwatchId]) -> Vec<[usize; 3]> {
    let place = |id: SwatchId| ids.iter().position(|other| *other == id);
    let places = |[a, b, c]: [SwatchId; 3]| Some([place(a)?, place(b)?, place(c)?]);
    dismissed(book).filter_map(|(_, trio)| places(trio.swatches)).collect()
}

/// The number under which these colours are dismissed.
pub fn dismissal(book: &Book, swatches: [SwatchId; 3]) -> Option<TrioId> {
    dismissed(book).find(|(_, trio)| trio.same_colours(swatches)).map(|(id, _)| id)
}

/// Begins afresh: no choice made so far moves a pair any more, and what was dismissed may be shown again. What is kept
/// stays kept, and cards stay as they are. None where nothing was learned.
pub fn forget(book: &Book) -> Option<Edit> {
    if habits(book).is_empty() && dismissed(book).next().is_none() {
        return None;
    }
    let was = book.settings();
    let mut colours: Vec<Vec<SwatchId>> =
        cards(book).map(|colours| in_order(&colours)).filter(|colours| colours.len() > 1).collect();
    colours.sort_unstable();
    colours.dedup();
    let forgotten = Forgotten { trios_before: book.trios().next(), cards: colours };
    let now = BookSettings { forgotten, ..was.clone() };
    let settings = Edit::Settings { was: Box::new(was.clone()), now: Box::new(now) };
    let back = dismissed(book).map(|(id, _)| Edit::Trio(Row::Remove(id)));
    Some(Edit::batch("forgot what your choices taught", std::iter::once(settings).chain(back).collect()))
}

/// Takes a swatch out of the library, with the dismissed trios that hold it: nothing shows them, so they hold nothing
/// back. Whatever else holds the swatch does.
pub fn remove_swatch(book: &Book, id: SwatchId) -> Edit {
    let holds = dismissed(book).filter(|(_, trio)| trio.swatches.contains(&id));
    let mut edits: Vec<Edit> = holds.map(|(trio, _)| Edit::Trio(Row::Remove(trio))).collect();
    let swatch = Edit::Swatch(Row::Remove(id));
    if edits.is_empty() {
        return swatch;
    }
    let label = swatch.describe(book);
    edits.push(swatch);
    Edit::batch(label, edits)
}

/// Keeps a trio; one that was dismissed is dismissed no longer.
pub fn keep(book: &Book, trio: KeptTrio) -> Edit {
    let found = dismissal(book, trio.swatches).and_then(|id| Some((id, book.trios().get(id)?.clone())));
    Edit::Trio(match found {
        Some((id, was)) => Row::alter(id, was, trio),
        None => Row::add(book.trios().next(), trio),
    })
}
