//! Which swatches are shown, and in which order. Beside the orders of the colour side there are three that look at the
//! shelf: by state, by what is on hand, and with what leaves first.

use super::base;
use crate::domain::book::{Book, folded};
use crate::domain::colour::order::SwatchOrder;
use crate::domain::colour::swatch::Swatch;
use crate::domain::near::one_spelling;
use crate::domain::stock::{Item, Kind, State, SwatchId};

/// An order of the grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShelfOrder {
    /// One of the colour side's.
    Colour(SwatchOrder),
    /// By state: current, arriving, leaving, gone, nothing on the shelf.
    State,
    /// Most on hand first.
    OnHand,
    /// Leaving ones first, then by family.
    LeavingFirst,
}

impl Default for ShelfOrder {
    fn default() -> Self {
        Self::Colour(SwatchOrder::Families)
    }
}

impl ShelfOrder {
    /// All, in the order a key goes through them.
    pub const ALL: [Self; 7] = [
        Self::Colour(SwatchOrder::Families),
        Self::Colour(SwatchOrder::Smooth),
        Self::Colour(SwatchOrder::Name),
        Self::Colour(SwatchOrder::Group),
        Self::State,
        Self::OnHand,
        Self::LeavingFirst,
    ];

    /// The next one, going round.
    #[must_use]
    pub fn next(self) -> Self {
        let at = Self::ALL.iter().position(|o| *o == self).unwrap_or(0);
        Self::ALL[(at + 1) % Self::ALL.len()]
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Colour(SwatchOrder::Families) => "neutrals, then hue families",
            Self::Colour(SwatchOrder::Smooth) => "row by row, each near the one before",
            Self::Colour(SwatchOrder::Name) => "by name",
            Self::Colour(SwatchOrder::Group) => "by family, then name",
            Self::State => "by state",
            Self::OnHand => "most on hand first",
            Self::LeavingFirst => "leaving ones first",
        }
    }
}

/// Where something in the colour stands in the range: leaving before arriving before gone before current.
pub fn state(book: &Book, swatch: SwatchId) -> Option<State> {
    let rank = |s: &State| match s {
        State::Leaving(_) => 0,
        State::Arriving(_) => 1,
        State::Current => 2,
        State::Gone => 3,
    };
    book.items().iter().filter(|(_, i)| i.swatch == Some(swatch)).map(|(_, i)| i.state).min_by_key(rank)
}

/// How many sheets, pads and other things there are in the colour.
pub fn count(book: &Book, swatch: SwatchId) -> u64 {
    let plain = |i: &Item| i.swatch == Some(swatch) && i.kind != Kind::PatternedPaper;
    book.items().iter().filter(|(_, i)| plain(i)).map(|(id, _)| book.on_hand(id)).sum()
}

/// The library in an order, narrowed to what matches.
pub fn shown(book: &Book, order: ShelfOrder, filter: &str, only_on_hand: bool) -> Vec<(SwatchId, Swatch)> {
    let fits = |id: SwatchId| (!only_on_hand || base::on_hand(book, id)) && matches(book, id, filter);
    let (ids, colours): (Vec<SwatchId>, Vec<Swatch>) =
        book.swatches().iter().filter(|(id, _)| fits(*id)).map(|(id, s)| (id, s.colour())).unzip();
    let by_hue = |order: SwatchOrder| order.arrange(&colours);
    let mut places = match order {
        ShelfOrder::Colour(order) => by_hue(order),
        _ => by_hue(SwatchOrder::Families),
    };
    match order {
        ShelfOrder::Colour(_) => {}
        ShelfOrder::State => places.sort_by_cached_key(|n| state_rank(state(book, ids[*n]))),
        ShelfOrder::OnHand => places.sort_by_cached_key(|n| std::cmp::Reverse(count(book, ids[*n]))),
        ShelfOrder::LeavingFirst => places.sort_by_cached_key(|n| !base::leaving(book, ids[*n])),
    }
    places.into_iter().map(|n| (ids[n], colours[n].clone())).collect()
}

const fn state_rank(state: Option<State>) -> u8 {
    match state {
        Some(State::Current) => 0,
        Some(State::Arriving(_)) => 1,
        Some(State::Leaving(_)) => 2,
        Some(State::Gone) => 3,
        None => 4,
    }
}

/// Every word of the filter must be found: in the name or a former one, the family, the state, an order number old or
/// new, or where something in the colour is kept. `on hand` asks the shelf.
fn matches(book: &Book, id: SwatchId, filter: &str) -> bool {
    let filter = one_spelling(&folded(filter));
    let (filter, asks_shelf) = match filter.find("on hand") {
        Some(_) => (filter.replace("on hand", " "), true),
        None => (filter, false),
    };
    if asks_shelf && !base::on_hand(book, id) {
        return false;
    }
    if filter.trim().is_empty() {
        return true;
    }
    let Some(swatch) = book.swatches().get(id) else { return false };
    let mut text = vec![swatch.name.clone(), swatch.family.clone(), swatch.note.clone(), swatch.hex_text()];
    text.extend(swatch.former_names.iter().cloned());
    for (_, item) in book.items().iter().filter(|(_, i)| i.shows(id)) {
        text.extend([item.order_number.clone(), item.place.clone(), item.state.word().to_owned()]);
        text.extend([item.collection.clone(), item.name.clone()]);
        text.extend(item.former_numbers.iter().cloned());
    }
    let text = one_spelling(&folded(&text.join(" ")));
    filter.split_whitespace().all(|word| text.contains(word))
}
