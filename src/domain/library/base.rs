//! What trios are asked of: one swatch, the colours of a paper, or those of a whole card; from what is on hand or from
//! all; with what leaves first.

use crate::domain::book::Book;
use crate::domain::colour::habits::Habits;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::said::{NoTrio, why_none};
use crate::domain::colour::trios::{Trio, TrioQuestion, trios};
use crate::domain::colour::wheel::Wheel;
use crate::domain::project::{CardLayer, ProjectCard};
use crate::domain::stock::{Item, ItemId, Kind, State, SwatchId};

/// What the trios must go with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TrioBase {
    /// The swatch picked.
    #[default]
    Picked,
    /// The colours of a patterned paper.
    Paper(ItemId),
    /// The colours of the card in hand.
    Card,
}

/// A question about trios that stands alone, so that it can be answered elsewhere.
#[derive(Clone, Debug, PartialEq)]
pub struct TrioAsk {
    /// The numbers of the swatches, place by place.
    pub ids: Vec<SwatchId>,
    /// The library.
    pub swatches: Vec<Swatch>,
    /// Places of the bases.
    pub bases: Vec<usize>,
    /// How many bases each trio holds.
    pub held: usize,
    /// Which are on hand, where those come first.
    pub usable: Option<Vec<bool>>,
    /// Which are leaving, where they come first.
    pub leaving: Option<Vec<bool>>,
    /// The wheel schemes are read on.
    pub wheel: Wheel,
    /// Only trios of this scheme.
    pub scheme: Option<Scheme>,
    /// Passes over what is like a trio shown.
    pub varied: bool,
    /// What the person chose before, where that counts.
    pub habits: Option<Habits>,
    /// Trios that are not to be shown, by place.
    pub dismissed: Vec<[usize; 3]>,
    /// At most so many, those with one to buy aside.
    pub most: usize,
}

impl TrioAsk {
    /// Answers the question.
    pub fn answer(&self) -> Vec<Trio> {
        trios(&self.ask())
    }

    /// Why the answer is empty, where it is.
    pub fn why_none(&self) -> NoTrio {
        why_none(&self.ask())
    }

    fn ask(&self) -> TrioQuestion<'_> {
        TrioQuestion {
            held: self.held,
            usable: self.usable.as_deref(),
            leaving: self.leaving.as_deref(),
            wheel: self.wheel,
            scheme: self.scheme,
            varied: self.varied,
            habits: self.habits.as_ref(),
            dismissed: &self.dismissed,
            most: self.most,
            ..TrioQuestion::about(&self.swatches, &self.bases)
        }
    }
}

/// True where something in the colour is on the shelf: a sheet, a pad, a pen. A pattern that shows it among others is
/// nothing to cut a plain layer from, and does not count.
pub fn on_hand(book: &Book, swatch: SwatchId) -> bool {
    let plain = |i: &Item| i.swatch == Some(swatch) && i.kind != Kind::PatternedPaper;
    book.items().iter().any(|(id, i)| plain(i) && book.on_hand(id) > 0)
}

/// True where paper in the colour (a pattern: with this as its leading one) that is still on the shelf is leaving the
/// range, or has left it.
pub fn leaving(book: &Book, swatch: SwatchId) -> bool {
    book.items().iter().any(|(id, i)| {
        i.swatch == Some(swatch)
            && i.kind.is_paper()
            && matches!(i.state, State::Leaving(_) | State::Gone)
            && book.on_hand(id) > 0
    })
}

/// The colours of a card, from the base inward, each once: the leading colour of each paper.
pub fn card_colours(book: &Book, card: &ProjectCard) -> Vec<SwatchId> {
    let mut all = Vec::new();
    for item in card.base_item().into_iter().chain(card.layers.iter().filter_map(CardLayer::item)) {
        let swatch = book.items().get(item).and_then(|i| i.swatch);
        if let Some(swatch) = swatch.filter(|s| !all.contains(s)) {
            all.push(swatch);
        }
    }
    all
}
