//! The class handout: what is made, the pieces and their sizes, the cards drawn to scale with the steps, and the
//! usual cautions. It names no price.

use super::card::{self, CardSheet};
use super::frame::{Setup, Sheaf};

use super::lists::KitRow;
use super::page::{MM, Page};
use super::scale::{BODY, HEADING};
use super::table::{self, CellEntry, PageColumn};
use crate::domain::cards::cautions::{self, Activity, DEFER};

/// What a handout shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Handout {
    /// The class.
    pub title: String,
    /// Day and place in words; may be empty.
    pub subtitle: String,
    /// The teacher's own words.
    pub words: Vec<String>,
    /// What everyone finds at their place.
    pub pieces: Vec<KitRow>,
    /// The cards.
    pub cards: Vec<CardSheet>,
}

/// What a class does that asks for care.
const DONE: [Activity; 4] = [Activity::Cutting, Activity::Heat, Activity::Adhesives, Activity::Powders];

const PIECES: [PageColumn; 4] = [
    PageColumn::right("how many", 2),
    PageColumn::left("piece", 6),
    PageColumn::left("size", 5),
    PageColumn::left("paper", 7),
];

/// The pages: one for the pieces and the cautions, then one or more for each card.
pub fn pages(setup: &Setup, handout: &Handout) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, handout.title.clone(), handout.subtitle.clone());
    let post = handout.cards.iter().find_map(|sheet| sheet.post_lines(&setup.home));
    sheaf.set_foot_note(&post.map_or_else(String::new, |(_, edition)| edition));
    for words in handout.words.iter().filter(|w| !w.trim().is_empty()) {
        sheaf.write_wrapped(BODY, words);
        sheaf.gap(2 * MM);
    }
    sheaf.write(HEADING, "At your place");
    sheaf.gap(MM);
    if handout.pieces.is_empty() {
        sheaf.write(BODY, "No pieces are listed.");
    }
    let row = |r: &KitRow| {
        let paper = match r.ink {
            Some(ink) => CellEntry::Patch(ink, r.paper.clone()),
            None => r.paper.as_str().into(),
        };
        vec![CellEntry::from(r.a_kit.to_string()), r.what.as_str().into(), r.size.as_str().into(), paper]
    };
    table::write(&mut sheaf, &PIECES, &handout.pieces.iter().map(row).collect::<Vec<_>>());
    sheaf.gap(5 * MM);
    sheaf.write(HEADING, "Take care");
    for caution in DONE.into_iter().filter_map(cautions::when) {
        sheaf.write_wrapped(BODY, &caution.text);
    }
    sheaf.write_wrapped(BODY, &format!("In every case {DEFER}."));
    for sheet in &handout.cards {
        sheaf.fresh();
        let name = if sheet.card.name.is_empty() { "Card" } else { sheet.card.name.as_str() };
        let size = sheet.card.face.show_with_unit(sheet.tools.unit);
        sheaf.write(HEADING, &format!("{name}, {size}: {}", card::subtitle(sheet)));
        card::write(&mut sheaf, sheet);
    }
    sheaf.finish()
}

#[cfg(test)]
mod tests {
    use super::super::scale::CLEAR;
    use super::*;
    use crate::domain::cards::job::CardSpec;
    use crate::domain::cards::layer::Layer;
    use crate::domain::cards::reveal::Reveal;
    use crate::domain::cards::{Card, Tools};
    use crate::domain::length::Length;
    use crate::domain::size::Size;

    #[test]
    fn a_handout_holds_words_pieces_cards_and_cautions() {
        let face = Size::new(Length::inches(5), Length::inches(7));
        let layer = Layer::mat("fern mat", Reveal::all(Length::sixteenths(2)));
        let card = Card { layers: vec![layer; 3], ..Card::new("Wren", face) };
        let handout = Handout {
            title: "Winter cards".into(),
            subtitle: "2026-12-05".into(),
            words: vec!["Welcome to the bench.".into(), " ".into()],
            pieces: vec![],
            cards: vec![CardSheet::of(&CardSpec::of(card), Tools::INCH).unwrap(); 2],
        };
        let pages = pages(&Setup::default(), &handout);
        assert_eq!(pages.len(), 3);
        assert_eq!(
            card::steps(&handout.cards[0])[..2],
            [
                "Score the base of 10 x 7 in at 5 in along the width, fold it and press the fold.",
                "Glue fern mat (4 3/4 x 6 3/4 in) onto the card front; 1/8 in shows on every side."
            ]
        );
        assert_eq!(card::steps(&handout.cards[0]).len(), 5);
        let words: Vec<&str> = pages.iter().flat_map(Page::texts).map(|w| w.text.as_str()).collect();
        for text in [
            "Welcome to the bench.",
            "No pieces are listed.",
            "Take care",
            "Wren, 5 x 7 in: side fold at the left edge; measures in in",
            "4 3/4 x 6 3/4",
            "Order of assembly",
        ] {
            assert!(words.contains(&text), "{text} is missing");
        }
        for page in &pages {
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
        }
    }
}
