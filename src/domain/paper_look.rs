//! What a paper looks like, wherever it is drawn: its inks, and the pattern that they make. Read off the book; knows no
//! screen and no page.

use crate::domain::book::Book;
use crate::domain::colour::space::Rgb8;
use crate::domain::pattern::Pattern;
use crate::domain::project::{CardColour, CardLayer, ProjectCard};
use crate::domain::stock::{Item, ItemId, NamedColour, SwatchId};

/// What a paper looks like.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PaperLook {
    /// What it is called; may be empty.
    pub name: String,
    /// Its colours, the ground's first; none where they are not known.
    pub inks: Vec<Rgb8>,
    /// What lies on the ground.
    pub pattern: Pattern,
}

impl PaperLook {
    /// A line of the shelf.
    pub fn of_item(book: &Book, id: ItemId) -> Self {
        book.items().get(id).map_or_else(Self::default, |item| Self::of(book, item))
    }

    /// The same of its fields.
    pub fn of(book: &Book, item: &Item) -> Self {
        let inks = item.front().into_iter().filter_map(|id| book.swatches().get(id)).map(ink).collect();
        Self { name: item.name.clone(), inks, pattern: item.drawn_pattern() }
    }

    /// A colour of the library, without a pattern.
    pub fn of_swatch(book: &Book, id: SwatchId) -> Self {
        let swatch = book.swatches().get(id);
        let name = swatch.map(|s| s.name.clone()).unwrap_or_default();
        Self { name, inks: swatch.map(ink).into_iter().collect(), pattern: Pattern::PLAIN }
    }

    /// A layer of a card: the swatch chosen for it, else its paper.
    pub fn of_layer(book: &Book, layer: &CardLayer) -> Self {
        match layer.colour {
            Some(CardColour::Swatch(id)) => Self::of_swatch(book, id),
            _ => layer.item().map_or_else(Self::default, |id| Self::of_item(book, id)),
        }
    }

    /// The base of a card.
    pub fn of_base(book: &Book, card: &ProjectCard) -> Self {
        card.base_item().map_or_else(Self::default, |id| Self::of_item(book, id))
    }

    /// What shows behind a layer's opening.
    pub fn of_insert(book: &Book, layer: &CardLayer) -> Self {
        layer.insert_item().map_or_else(Self::default, |id| Self::of_item(book, id))
    }
}

fn ink(swatch: &NamedColour) -> Rgb8 {
    let [r, g, b] = swatch.hex;
    Rgb8::new(r, g, b)
}
