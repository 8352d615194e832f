//! The class handout: what is made, the pieces and their sizes, the cards drawn to scale, and the usual cautions.

use super::card::{self, CardSheet};
use super::frame::{ASIDE, BODY, HEADING, Setup, Sheaf};
use super::lists::KitRow;
use super::page::{MM, Page};
use super::table::{self, Column, Entry};
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

const PIECES: [Column; 4] = [
    Column::right("how many", 2),
    Column::left("piece", 6),
    Column::left("size", 5),
    Column::left("paper", 7),
];

/// The pages: one for the pieces and the cautions, then one or more for each card.
pub fn pages(setup: &Setup, handout: &Handout) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, handout.title.clone(), handout.subtitle.clone());
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
            Some(ink) => Entry::Patch(ink, r.paper.clone()),
            None => r.paper.as_str().into(),
        };
        vec![Entry::from(r.a_kit.to_string()), r.what.as_str().into(), r.size.as_str().into(), paper]
    };
    table::write(&mut sheaf, &PIECES, &handout.pieces.iter().map(row).collect::<Vec<_>>());
    sheaf.gap(5 * MM);
    sheaf.write(HEADING, "Take care");
    for caution in DONE.into_iter().filter_map(cautions::when) {
        sheaf.write_wrapped(ASIDE, &caution.text);
    }
    sheaf.write_wrapped(ASIDE, &format!("In every case {DEFER}."));
    for sheet in &handout.cards {
        sheaf.fresh();
        let name = if sheet.card.name.is_empty() { "Card" } else { sheet.card.name.as_str() };
        sheaf.write(HEADING, &format!("{name}, {}", sheet.card.face.show_with_unit(sheet.tools.unit)));
        card::write(&mut sheaf, sheet);
    }
    sheaf.finish()
}

#[cfg(test)]
mod tests {
    use super::super::frame::CLEAR;
    use super::*;
    use crate::domain::cards::job::Job;
    use crate::domain::cards::layer::{Card, Layer, Reveal};
    use crate::domain::cards::{Fold, Tools};
    use crate::domain::length::Length;
    use crate::domain::size::Size;

    #[test]
    fn a_handout_holds_words_pieces_cards_and_cautions() {
        let face = Size::new(Length::inches(5), Length::inches(7));
        let layer = Layer::mat("fern mat", Reveal::all(Length::sixteenths(2)));
        let card = Card { name: "Wren".into(), face, fold: Fold::default(), layers: vec![layer; 3] };
        let handout = Handout {
            title: "Winter cards".into(),
            subtitle: "2026-12-05".into(),
            words: vec!["Welcome to the bench.".into(), " ".into()],
            pieces: vec![],
            cards: vec![CardSheet::of(&Job::of(card), Tools::INCH).unwrap(); 2],
        };
        let pages = pages(&Setup::default(), &handout);
        assert_eq!(pages.len(), 3);
        let words: Vec<&str> = pages.iter().flat_map(Page::texts).map(|w| w.text.as_str()).collect();
        for text in
            ["Welcome to the bench.", "No pieces are listed.", "Take care", "Wren, 5 x 7 in", "4 3/4 x 6 3/4"]
        {
            assert!(words.contains(&text), "{text} is missing");
        }
        for page in &pages {
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
        }
    }
}
