//! What can take the place of a paper, an ink or anything that has a colour: the same colour in another format, else a
//! colour that is close enough. Knows no counts and no project.
//!
//! The steps are the project's own: up to 3 in CIEDE2000 a colour stands in, up to 6 it is near enough to compare real
//! chips, beyond that none is named (common practice: about 1 is the least that trained eyes tell apart, about 2 to 3
//! what a commercial colour match may be off).

use crate::domain::book::{Book, folded};
use crate::domain::colour::difference::ciede2000;
use crate::domain::colour::space::Lab;
use crate::domain::stock::{Item, ItemId, Kind, SwatchId};

/// Up to this CIEDE2000 a colour stands in for another.
pub const STANDS_IN: f64 = 3.0;
/// Up to this CIEDE2000 it is near.
pub const NEAR: f64 = 6.0;

/// How close what takes a place comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Close {
    /// The same colour in another format.
    Same,
    /// Another colour that may be taken for it.
    StandsIn,
    /// Another colour that has to be held beside it first.
    Near,
}

impl Close {
    /// How close a colour so far off is; `None` where it is none that could take the place.
    pub fn of(delta_e: f64) -> Option<Self> {
        match delta_e {
            d if d <= STANDS_IN => Some(Self::StandsIn),
            d if d <= NEAR => Some(Self::Near),
            _ => None,
        }
    }

    /// As it is said and answered.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Same => "same color",
            Self::StandsIn => "stands in",
            Self::Near => "near, compare real chips",
        }
    }
}

/// Something that can take an item's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instead {
    /// Which line of the shelf.
    pub item: ItemId,
    /// Its colour.
    pub swatch: SwatchId,
    /// How close it comes.
    pub close: Close,
    /// CIEDE2000 between the two; 0 for the same colour.
    pub delta_e: f64,
}

impl Instead {
    /// `moss, letter (near, compare real chips)`.
    pub fn named(&self, book: &Book) -> String {
        format!("{} ({})", book.items().name_of(self.item), self.close.words())
    }
}

/// The Lab values of a swatch.
pub fn lab_of(book: &Book, id: SwatchId) -> Option<Lab> {
    book.swatches().get(id).map(|s| Lab::new(s.lab[0], s.lab[1], s.lab[2]))
}

/// All that could take the place of an item, of those that may: the same colour first, then by distance, then in the order
/// of the shelf. Only things of the same kind; nothing for what has no colour in the library.
pub fn all_for(book: &Book, id: ItemId, may: impl Fn(ItemId, &Item) -> bool) -> Vec<Instead> {
    let Some(item) = book.items().get(id) else { return Vec::new() };
    let Some((own, from)) = item.swatch.and_then(|s| Some((s, lab_of(book, s)?))) else { return Vec::new() };
    let others = book.items().iter().filter(|(n, i)| *n != id && i.kind == item.kind && may(*n, i));
    let mut all: Vec<Instead> = others
        .filter_map(|(other, i)| {
            let swatch = i.swatch?;
            let delta_e = if swatch == own { 0.0 } else { ciede2000(from, lab_of(book, swatch)?) };
            let close = if swatch == own && is_same(item, i) { Close::Same } else { Close::of(delta_e)? };
            Some(Instead { item: other, swatch, close, delta_e })
        })
        .collect();
    all.sort_by(|a, b| {
        (a.close, a.delta_e).partial_cmp(&(b.close, b.delta_e)).unwrap_or(std::cmp::Ordering::Equal)
    });
    all
}

/// One colour is one paper, whatever its format; two patterns with one leading colour are not.
fn is_same(one: &Item, two: &Item) -> bool {
    let plain = |i: &Item| i.kind != Kind::PatternedPaper;
    let design = |i: &Item| folded(i.name.split(',').next().unwrap_or_default());
    plain(one) && plain(two) || design(one) == design(two)
}
