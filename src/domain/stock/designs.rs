//! Which cards a class teaches: those of whole projects and single ones, named in a list with commas.

use crate::domain::book::{Book, folded};
use crate::domain::edit::{Edit, Row};
use crate::domain::project::Project;
use crate::domain::stock::class::new_class;
use crate::domain::stock::ids::ProjectId;

/// What a class takes over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Design {
    /// Every card of a project, with its loose pieces and counted things.
    Whole(ProjectId),
    /// One card of a project.
    Card(ProjectId, usize),
}

impl Design {
    /// What it is called.
    pub fn name(self, book: &Book) -> String {
        match self {
            Self::Whole(id) => book.projects().name_of(id),
            Self::Card(id, n) => {
                let card = book.projects().get(id).and_then(|p| p.cards.get(n));
                card.map_or_else(String::new, |c| c.name.clone())
            }
        }
    }

    /// What is said of it beside its name.
    pub fn detail(self, book: &Book) -> String {
        match self {
            Self::Whole(id) => match book.projects().get(id).map_or(0, |p| p.cards.len()) {
                1 => "its 1 card".to_owned(),
                n => format!("all {n} cards"),
            },
            Self::Card(id, _) => format!("in {}", book.projects().name_of(id)),
        }
    }
}

/// Everything that can be taught, the newest project first: its cards, then the project as a whole where it holds more than
/// one card or loose pieces.
pub fn all(book: &Book) -> Vec<Design> {
    let mut all = Vec::new();
    for (id, project) in book.projects().iter().collect::<Vec<_>>().into_iter().rev() {
        all.extend((0..project.cards.len()).map(|n| Design::Card(id, n)));
        if project.cards.len() != 1 || !project.pieces.is_empty() {
            all.push(Design::Whole(id));
        }
    }
    all
}

/// Reads names with commas between. A name may hold commas itself, so the longest one that is known counts; a part of a name
/// will do where nothing is called so in full.
///
/// # Errors
/// The sentence that says which name is not known.
pub fn read(text: &str, book: &Book) -> Result<Vec<Design>, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).filter(|p| !p.is_empty()).collect();
    let offered: Vec<(String, Design)> = all(book).into_iter().map(|d| (folded(&d.name(book)), d)).collect();
    let mut found: Vec<Design> = Vec::new();
    let mut rest = parts.as_slice();
    while let Some(first) = rest.first() {
        let known = (1..=rest.len()).rev().find_map(|n| {
            let (name, after) = rest.split_at(n);
            Some((exact(&name.join(", "), &offered, book)?, after))
        });
        let begun = || Some((partly(first, &offered)?, rest.split_first().map_or(&[][..], |(_, r)| r)));
        let (design, after) = known.or_else(begun).ok_or_else(|| unknown(first, book))?;
        if !found.contains(&design) {
            found.push(design);
        }
        rest = after;
    }
    Ok(found)
}

fn exact(name: &str, offered: &[(String, Design)], book: &Book) -> Option<Design> {
    let name = folded(name);
    let project = book.find_project(&name).map(Design::Whole);
    project.or_else(|| offered.iter().find(|(n, _)| *n == name).map(|(_, d)| *d))
}

fn partly(name: &str, offered: &[(String, Design)]) -> Option<Design> {
    let name = folded(name);
    let begins = offered.iter().find(|(n, _)| n.starts_with(&name));
    begins.or_else(|| offered.iter().find(|(n, _)| n.contains(&name))).map(|(_, d)| *d)
}

fn unknown(name: &str, book: &Book) -> String {
    let some: Vec<String> = all(book).into_iter().take(4).map(|d| d.name(book)).collect();
    let known = if some.is_empty() {
        "there is no card yet: Mats makes one, and a class without cards can be made first".to_owned()
    } else {
        format!("there are {}", some.join(", "))
    };
    format!("\"{name}\" is neither a card nor a project: {known}")
}

/// A class that teaches these, open and unbooked; the other figures are those of the first one's project.
pub fn class_of(book: &Book, name: &str, seats: u32, designs: &[Design]) -> Project {
    let first = designs.first().map(|d| match d {
        Design::Whole(id) | Design::Card(id, _) => *id,
    });
    let mut class = match new_class(book, name, seats, first) {
        Edit::Project(Row::Add(_, class)) => *class,
        _ => Project::new(name),
    };
    (class.cards, class.pieces, class.supplies) = Default::default();
    for design in designs {
        let (Design::Whole(id) | Design::Card(id, _)) = design;
        let Some(from) = book.projects().get(*id) else { continue };
        let mut from = from.clone();
        if seats > 0 && from.seats == 0 {
            from.make_for_seats();
        }
        match design {
            Design::Whole(_) => {
                class.cards.extend(from.cards);
                class.pieces.extend(from.pieces);
                class.supplies.extend(from.supplies);
            }
            Design::Card(_, n) => class.cards.extend(from.cards.get(*n).cloned()),
        }
    }
    class
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;
    use crate::domain::project::ProjectCard;
    use crate::domain::size::Size;

    fn book() -> Book {
        let mut book = Book::default();
        let face = Size::new(Length::inches(4), Length::inches(5));
        for (name, cards) in
            [("hedgerow", vec!["bramble note", "oat, folded"]), ("spring", vec!["fern note"])]
        {
            let cards = cards.into_iter().map(|c| ProjectCard::new(c, face)).collect();
            let project = Project { cards, minutes_a_card: 7, ..Project::new(name) };
            let edit = Edit::Project(Row::add(book.projects().next(), project));
            book.apply(&edit, jiff::civil::date(2026, 3, 2)).unwrap();
        }
        book
    }

    #[test]
    fn cards_and_projects_are_named_in_full_or_in_part() {
        let book = book();
        let names = |text: &str| -> Result<Vec<String>, String> {
            Ok(read(text, &book)?.into_iter().map(|d| d.name(&book)).collect())
        };
        assert_eq!(names("fern note, oat, folded").unwrap(), ["fern note", "oat, folded"]);
        assert_eq!(names("bram, fern").unwrap(), ["bramble note", "fern note"]);
        assert_eq!(names("Hedgerow, hedgerow").unwrap(), ["hedgerow"]);
        assert_eq!(names("").unwrap(), Vec::<String>::new());
        assert!(names("fern, moss").unwrap_err().contains("\"moss\" is neither a card"));
    }

    #[test]
    fn a_batch_of_24_is_taught_as_one_a_seat_and_stays_24_as_a_batch() {
        // 24 to make, and 24 a set of a class of 12 seats with a sample would be 24 x 13 = 312 cards; one a seat is 13.
        let mut book = book();
        let was = book.projects().get(ProjectId(1)).unwrap().clone();
        let mut now = was.clone();
        now.cards.iter_mut().for_each(|c| c.count = 24);
        book.apply(&Edit::Project(Row::alter(ProjectId(1), was, now)), jiff::civil::date(2026, 3, 2))
            .unwrap();
        for (names, seats, count) in [("hedgerow", 12, 1), ("bramble", 12, 1), ("hedgerow", 0, 24)] {
            let class = class_of(&book, "taught", seats, &read(names, &book).unwrap());
            assert!(class.cards.iter().all(|c| c.count == count), "{names}, {seats}");
        }
        let Edit::Project(Row::Add(_, class)) = new_class(&book, "copied", 12, Some(ProjectId(1))) else {
            panic!("an edit of one project");
        };
        assert_eq!(class.cards.iter().map(|c| c.count).collect::<Vec<_>>(), [1, 1]);
        assert_eq!(crate::domain::cutlist::made(&Project { spoilage_percent: 0, ..*class }, 1, 0), 13);
    }

    #[test]
    fn a_class_takes_over_the_cards_that_are_named_and_no_other() {
        let book = book();
        let class = class_of(&book, "winter", 14, &read("oat, fern note", &book).unwrap());
        let cards: Vec<&str> = class.cards.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(
            (cards.as_slice(), class.seats, class.samples),
            (&["oat, folded", "fern note"][..], 14, 1)
        );
        assert_eq!((class.minutes_a_card, class.date), (7, None));
        assert!(class_of(&book, "empty", 3, &[]).cards.is_empty());
    }
}
