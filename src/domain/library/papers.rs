//! Patterned papers and their colours, both ways: which papers hold a colour, which plain papers match a pattern.

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::stock::{Item, ItemId, Kind, SwatchId};

/// A side of a patterned paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperSide {
    /// The side it is sold by.
    Front,
    /// The other one.
    Back,
}

impl PaperSide {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Front, Self::Back];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
        }
    }

    /// The colours of this side.
    pub fn colours(self, item: &Item) -> Vec<SwatchId> {
        match self {
            Self::Front => item.front(),
            Self::Back => item.back_colours.clone(),
        }
    }
}

/// All patterned papers by collection and name.
pub fn patterned(book: &Book) -> Vec<ItemId> {
    let mut all: Vec<(ItemId, &Item)> =
        book.items().iter().filter(|(_, i)| i.kind == Kind::PatternedPaper).collect();
    all.sort_by_key(|(_, i)| (i.collection.to_lowercase(), i.name.to_lowercase()));
    all.into_iter().map(|(id, _)| id).collect()
}

/// The patterned papers that hold a colour on either side, those with it in front first.
pub fn holding(book: &Book, swatch: SwatchId) -> Vec<ItemId> {
    let mut all: Vec<ItemId> = patterned(book);
    let item = |id: &ItemId| book.items().get(*id);
    all.retain(|id| item(id).is_some_and(|i| i.shows(swatch)));
    all.sort_by_key(|id| item(id).is_none_or(|i| !i.front().contains(&swatch)));
    all
}

/// The plain papers in the colours of a pattern, in the order of its colours, front before back; more on hand first.
pub fn matching(book: &Book, paper: ItemId) -> Vec<(SwatchId, ItemId)> {
    let Some(item) = book.items().get(paper) else { return Vec::new() };
    let mut colours = item.front();
    for colour in &item.back_colours {
        if !colours.contains(colour) {
            colours.push(*colour);
        }
    }
    colours.into_iter().flat_map(|c| plain_papers(book, c).into_iter().map(move |id| (c, id))).collect()
}

/// The plain sheets in a colour, more on hand first.
pub fn plain_papers(book: &Book, swatch: SwatchId) -> Vec<ItemId> {
    let plain = |i: &Item| i.kind == Kind::PlainSheet && i.swatch == Some(swatch);
    let mut all: Vec<ItemId> = book.items().iter().filter(|(_, i)| plain(i)).map(|(id, _)| id).collect();
    all.sort_by_key(|id| std::cmp::Reverse(book.on_hand(*id)));
    all
}

/// The paper with a colour put on a side, or taken off where it is there.
#[must_use]
pub fn toggled(item: &Item, side: PaperSide, swatch: SwatchId) -> Item {
    let mut now = item.clone();
    let mut colours = side.colours(item);
    match colours.iter().position(|c| *c == swatch) {
        Some(at) => {
            colours.remove(at);
        }
        None => colours.push(swatch),
    }
    put(&mut now, side, colours);
    now
}

/// The edit that adds colours to a side, such as those of a photo; nothing where all are there.
pub fn adding(book: &Book, paper: ItemId, side: PaperSide, swatches: &[SwatchId]) -> Option<Edit> {
    let item = book.items().get(paper)?;
    let mut colours = side.colours(item);
    let before = colours.len();
    for swatch in swatches {
        if !colours.contains(swatch) {
            colours.push(*swatch);
        }
    }
    let added = colours.len() - before;
    let mut now = item.clone();
    put(&mut now, side, colours);
    (added > 0).then(|| {
        let words = if added == 1 { "a color".to_owned() } else { format!("{added} colors") };
        let label = format!("noted {words} on the {} of {}", side.word(), item.name);
        Edit::batch(label, vec![Edit::Item(Row::alter(paper, item.clone(), now))])
    })
}

/// The first colour of the front is the leading one.
fn put(item: &mut Item, side: PaperSide, mut colours: Vec<SwatchId>) {
    match side {
        PaperSide::Front => {
            item.swatch = (!colours.is_empty()).then(|| colours.remove(0));
            item.colours = colours;
        }
        PaperSide::Back => item.back_colours = colours,
    }
}
