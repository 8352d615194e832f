//! A trio on a card: which colour goes on which part, and which paper of the shelf that is.
//!
//! Parts are the base and the layers from the outermost inward. They take the three colours in turn, so that no part
//! lies on one of its own colour; which of the six orders it is, the person chooses. A pattern that shows one of the
//! three supplies it and stays. Knows the book and the card, not keys or screens.

use super::papers::plain_papers;
use crate::domain::book::Book;
use crate::domain::paper_look::PaperLook;
use crate::domain::project::{CardColour, CardLayer, PaperRef, ProjectCard};
use crate::domain::stock::{Item, ItemId, Kind, SwatchId};

/// Where a part's colour comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColourSource {
    /// Card stock of the shelf.
    Sheet(ItemId),
    /// A pattern that shows the colour and stays.
    Pattern(ItemId),
    /// Nothing on the shelf: the layer is given the colour alone, and its paper is to buy.
    ToBuy,
}

/// One part of a dressed card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dress {
    /// The layer from the outermost inward; `None` for the base.
    pub layer: Option<usize>,
    /// Its colour.
    pub colour: SwatchId,
    /// Where that comes from.
    pub source: ColourSource,
    /// A pattern that showed none of the three and makes way.
    pub replaces: Option<ItemId>,
}

impl Dress {
    /// What it wears, wherever it is drawn or named: a pattern that stays is itself, whichever of the three it brings.
    pub fn look(&self, book: &Book) -> PaperLook {
        match self.source {
            ColourSource::Pattern(id) => PaperLook::of_item(book, id),
            ColourSource::Sheet(_) | ColourSource::ToBuy => PaperLook::of_swatch(book, self.colour),
        }
    }

    /// The colour that most of it shows, on which words are stamped: a pattern's own ground.
    pub fn ground(&self, book: &Book) -> SwatchId {
        let of_pattern = |id| book.items().get(id).and_then(|item| item.swatch);
        match self.source {
            ColourSource::Pattern(id) => of_pattern(id).unwrap_or(self.colour),
            ColourSource::Sheet(_) | ColourSource::ToBuy => self.colour,
        }
    }
}

/// A card with a trio's colours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dressed {
    /// The card.
    pub card: ProjectCard,
    /// Its parts, the base first.
    pub parts: Vec<Dress>,
    /// Why it cannot be put on as it is, and what would do.
    pub refused: Option<String>,
}

impl Dressed {
    /// A layer, or the base where none is given.
    pub fn part(&self, layer: Option<usize>) -> Option<&Dress> {
        self.parts.iter().find(|part| part.layer == layer)
    }

    /// What a part is called.
    pub fn place(&self, layer: Option<usize>) -> String {
        layer.map_or_else(|| "base".to_owned(), |n| self.card.layer_name(n))
    }

    /// What goes where: `base plum stone, mat fern floor, panel bramble rows (stays, brings chalk)`.
    pub fn words(&self, book: &Book) -> String {
        let one = |part: &Dress| {
            let stays = match part.source {
                ColourSource::Pattern(_) => {
                    format!(" (stays, brings {})", book.swatches().name_of(part.colour))
                }
                ColourSource::Sheet(_) | ColourSource::ToBuy => String::new(),
            };
            format!("{} {}{stays}", self.place(part.layer), part.look(book).name)
        };
        self.parts.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// What else is to be said of the papers; empty where each part has its card stock or keeps its pattern.
    pub fn notes(&self, book: &Book) -> Vec<String> {
        let colour = |part: &Dress| book.swatches().name_of(part.colour);
        let mut notes = Vec::new();
        for part in &self.parts {
            if let Some(id) = part.replaces {
                notes.push(format!("{} makes way", book.items().name_of(id)));
            }
        }
        let mut to_buy: Vec<String> =
            self.parts.iter().filter(|p| p.source == ColourSource::ToBuy).map(colour).collect();
        to_buy.dedup();
        if !to_buy.is_empty() {
            notes.push(format!("no card stock in {}: to buy", to_buy.join(" and ")));
        }
        notes
    }
}

/// Gives one layer (counted from the outermost mat) its paper.
pub fn set_paper(card: &mut ProjectCard, layer: usize, paper: ItemId) {
    if let Some(layer) = card.layers.get_mut(layer) {
        layer.paper = Some(PaperRef::Shelf(paper));
    }
}

/// The card with three colours on base and layers, in this order and in turn where there are more parts than three.
pub fn dress(book: &Book, card: &ProjectCard, order: [SwatchId; 3]) -> Dressed {
    let mut dressed = Dressed { card: card.clone(), parts: Vec::new(), refused: None };
    let paper = |place: usize| match place.checked_sub(1) {
        Some(n) => card.layers.get(n).and_then(CardLayer::item),
        None => card.base_item(),
    };
    let pattern = |place: usize| {
        paper(place).and_then(|id| Some((id, book.items().get(id).filter(|i| is_pattern(i))?)))
    };
    let supplies = |place: usize| {
        let (id, item) = pattern(place)?;
        order.into_iter().find(|colour| item.front().contains(colour)).map(|colour| (id, colour))
    };
    let mut below = None;
    for place in 0..=card.layers.len() {
        let (layer, now) = (place.checked_sub(1), paper(place));
        let part = if let Some((id, colour)) = supplies(place) {
            Dress { layer, colour, source: ColourSource::Pattern(id), replaces: None }
        } else {
            let colour = in_turn(order, place, [below, supplies(place + 1).map(|(_, colour)| colour)]);
            let source = best_paper(book, colour, now).map_or(ColourSource::ToBuy, ColourSource::Sheet);
            Dress { layer, colour, source, replaces: pattern(place).map(|(id, _)| id) }
        };
        below = Some(part.colour);
        put(&mut dressed.card, &part);
        dressed.parts.push(part);
    }
    let base = dressed.parts.first().filter(|part| part.source == ColourSource::ToBuy);
    dressed.refused = base.map(|part| no_base(book, part.colour, order));
    dressed
}

/// A base is cut from a sheet, so a color alone is not enough for it: why not this one, and what would do.
fn no_base(book: &Book, missing: SwatchId, order: [SwatchId; 3]) -> String {
    let name = |colour: SwatchId| book.swatches().name_of(colour);
    let others = order.into_iter().filter(|colour| *colour != missing);
    let would_do: Vec<String> =
        others.filter(|colour| best_paper(book, *colour, None).is_some()).map(name).collect();
    if would_do.is_empty() {
        let [a, b, c] = order.map(name);
        return format!(
            "no card stock in {a}, {b} or {c} for the base: add one to the shelf in Stock (4, then n), or pick \
             another trio (F lists those from your shelf first)"
        );
    }
    let lacks = name(missing);
    format!(
        "no card stock in {lacks} for the base: choose an order with {} there, or add one in {lacks} to the shelf \
         in Stock (4, then n)",
        would_do.join(" or ")
    )
}

/// The six orders of a trio, each dressed; orders that come to the same are given once.
pub fn orders(book: &Book, card: &ProjectCard, [a, b, c]: [SwatchId; 3]) -> Vec<([SwatchId; 3], Dressed)> {
    let mut all: Vec<([SwatchId; 3], Dressed)> = Vec::new();
    for order in [[a, b, c], [a, c, b], [b, a, c], [b, c, a], [c, a, b], [c, b, a]] {
        let dressed = dress(book, card, order);
        if all.iter().all(|(_, other)| other.parts != dressed.parts) {
            all.push((order, dressed));
        }
    }
    all.sort_by_key(|(_, dressed)| dressed.refused.is_some());
    all
}

fn is_pattern(item: &Item) -> bool {
    item.kind == Kind::PatternedPaper
}

/// The colour of a place, or the next one that neither what lies below nor a pattern above has.
fn in_turn(order: [SwatchId; 3], place: usize, beside: [Option<SwatchId>; 2]) -> SwatchId {
    let mut turns = (0..3).map(|n| order[(place + n) % 3]);
    turns.find(|colour| !beside.contains(&Some(*colour))).unwrap_or(order[place % 3])
}

fn put(card: &mut ProjectCard, part: &Dress) {
    let (Some(n), colour) = (part.layer, part.colour) else {
        if let ColourSource::Sheet(paper) = part.source {
            card.base_paper = Some(PaperRef::Shelf(paper));
        }
        return;
    };
    let Some(layer) = card.layers.get_mut(n) else { return };
    match part.source {
        ColourSource::Pattern(_) => {}
        ColourSource::Sheet(paper) => (layer.paper, layer.colour) = (Some(PaperRef::Shelf(paper)), None),
        ColourSource::ToBuy => {
            (layer.paper, layer.colour) = (None, Some(CardColour::Swatch(colour)));
        }
    }
}

/// Of the card stock in a colour: one of the size in use, else the one there is most of.
fn best_paper(book: &Book, colour: SwatchId, now: Option<ItemId>) -> Option<ItemId> {
    let size = |id: ItemId| book.items().get(id).and_then(|i| i.size);
    let wanted = now.and_then(size);
    let all = plain_papers(book, colour);
    let same_size = all.iter().find(|id| wanted.is_some() && size(**id) == wanted && book.on_hand(**id) > 0);
    same_size.or(all.first()).copied()
}
