//! A little smaller, a lot more, on every paper held: for one piece, and for the layers of a card with their reveals.
//!
//! A mat that is made smaller shows more of what it lies on: half of what comes off on each side. The reveals told belong to
//! the size that is cut, on a mark of the fence.

use super::held::HeldPaper;
use crate::domain::book::Book;
use crate::domain::cards::layer::Shape;
use crate::domain::cards::reveal::Reveal;
use crate::domain::cardwork::{self, CardPart};
use crate::domain::cutting::neighbours::{NearAsk, Neighbour, Neighbours, smaller};
use crate::domain::cutting::stop::Stop;
use crate::domain::length::Length;
use crate::domain::project::ProjectCard;
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

/// A piece that is asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearPiece {
    /// What it is called; empty for a piece that was typed.
    pub name: String,
    /// The layer of the card in hand that it is.
    pub layer: Option<usize>,
    /// The size to cut.
    pub size: Size,
    /// It may lie turned.
    pub may_turn: bool,
    /// Its reveal, where it is a mat.
    pub reveal: Option<Reveal>,
    /// Its paper, where one is chosen.
    pub paper: Option<ItemId>,
}

/// A sheet to look at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearSheet {
    /// What it is called.
    pub name: String,
    /// What of it can be used.
    pub room: Size,
    /// The line of the shelf.
    pub item: Option<ItemId>,
    /// Pieces stay upright on it.
    pub one_way: bool,
    /// The sheet in use: it comes first.
    pub is_own: bool,
}

impl NearSheet {
    /// A paper of the shelf.
    pub fn of(paper: &HeldPaper) -> Self {
        Self {
            name: paper.name.clone(),
            room: paper.size,
            item: Some(paper.item),
            one_way: paper.one_way,
            is_own: false,
        }
    }
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearHeldAsk {
    /// The pieces.
    pub pieces: Vec<NearPiece>,
    /// The sheets.
    pub sheets: Vec<NearSheet>,
    /// At most so much is taken off each side.
    pub range: Length,
    /// The finest mark of the fence.
    pub mark: Length,
}

/// What one sheet gives of a piece as it is and a little smaller.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearHeld {
    /// Place of the piece in the question.
    pub piece: usize,
    /// Place of the sheet.
    pub sheet: usize,
    /// Places of the other sheets that give the very same, in the order asked.
    pub alike: Vec<usize>,
    /// The answer.
    pub near: Neighbours,
}

impl NearPiece {
    /// The reveal of a smaller size.
    pub fn reveal_of(&self, row: &Neighbour) -> Option<Reveal> {
        let was = self.reveal?;
        let (less_w, less_h) = (self.size.width - row.cut.width, self.size.height - row.cut.height);
        let (left, top) = (less_w.half(), less_h.half());
        Some(Reveal::sides(
            was.left + left,
            was.top + top,
            was.right + less_w - left,
            was.bottom + less_h - top,
        ))
    }
}

impl NearHeldAsk {
    /// Sheets by their places: `chalk, 12x12`, `chalk, 12x12 and duck pond, 12x12`, `chalk, 12x12 and 9 more`.
    pub fn named(&self, sheets: &[usize]) -> String {
        let name = |at: usize| self.sheets.get(at).map_or("", |s| s.name.as_str());
        match sheets {
            [] => String::new(),
            [first] => name(*first).to_owned(),
            [first, other] => format!("{} and {}", name(*first), name(*other)),
            [first, more @ ..] => format!("{} and {} more", name(*first), more.len()),
        }
    }
}

impl NearHeld {
    /// Every sheet that gives it, by place.
    pub fn sheets(&self) -> Vec<usize> {
        std::iter::once(self.sheet).chain(self.alike.iter().copied()).collect()
    }

    /// The sheets that give it, in words.
    pub fn on(&self, ask: &NearHeldAsk) -> String {
        ask.named(&self.sheets())
    }
}

/// The layers of a card: mats with their reveals, panels and strips without.
pub fn layers(book: &Book, card: &ProjectCard) -> Vec<NearPiece> {
    let one = |piece: cardwork::CardPiece| {
        let CardPart::Layer(n) = piece.part else { return None };
        let layer = card.layers.get(n)?;
        let reveal = match layer.shape {
            Shape::Inset(reveal) => Some(reveal),
            Shape::Panel { .. } | Shape::Strip { .. } => None,
        };
        let item = piece.paper.and_then(|id| book.items().get(id));
        Some(NearPiece {
            size: piece.cut_size(),
            may_turn: piece.may_turn && item.is_none_or(|i| !i.one_way),
            layer: Some(n),
            reveal,
            paper: piece.paper,
            name: piece.name,
        })
    };
    cardwork::pieces(book, card).0.into_iter().filter_map(one).collect()
}

/// Every piece on every sheet: on its own paper or the sheet in use first. Sheets that give nothing are left out; papers of
/// one size give one answer, which names them all.
pub fn near_held(ask: &NearHeldAsk, stop: &Stop) -> Vec<NearHeld> {
    let mut all = Vec::new();
    for (piece, of) in ask.pieces.iter().enumerate() {
        let mut order: Vec<usize> = (0..ask.sheets.len()).collect();
        let is_own = |n: &usize| {
            ask.sheets.get(*n).is_some_and(|s| if of.paper.is_some() { s.item == of.paper } else { s.is_own })
        };
        order.sort_by_key(|n| !is_own(n));
        let mut of_piece: Vec<(NearAsk, NearHeld)> = Vec::new();
        for sheet in order {
            let Some(on) = ask.sheets.get(sheet) else { continue };
            let one = NearAsk {
                piece: of.size,
                room: on.room,
                may_turn: of.may_turn && !on.one_way,
                range: ask.range,
                mark: ask.mark,
            };
            if let Some((_, known)) = of_piece.iter_mut().find(|(asked, _)| *asked == one) {
                known.alike.push(sheet);
            } else {
                let near = smaller(&one, stop);
                of_piece.push((one, NearHeld { piece, sheet, alike: Vec::new(), near }));
            }
        }
        let found = of_piece.into_iter().map(|(_, held)| held);
        all.extend(found.filter(|held| held.near.now > 0 || !held.near.rows.is_empty()));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::neighbours::SmallerWay;
    use crate::domain::length::Unit;

    /// By hand: an A2 front with mats at 1/16: 4 1/8 x 5 3/8; 12 x 12 gives four, and six with 1/8 showing on every side.
    #[test]
    fn a_wider_reveal_all_round_is_told() {
        let face = Size::parse("4-1/4x5-1/2", Unit::Inch).unwrap();
        let card = ProjectCard::new("note", face).with_mats(&[Length::sixteenths(1)], &[]);
        let pieces = layers(&Book::default(), &card);
        let sheet = |name: &str, room: &str, is_own| NearSheet {
            name: name.to_owned(),
            room: Size::parse(room, Unit::Inch).unwrap(),
            item: None,
            one_way: false,
            is_own,
        };
        let ask = NearHeldAsk {
            pieces,
            sheets: vec![
                sheet("too small", "3x3", false),
                sheet("dots", "12x12", false),
                sheet("square", "12x12", true),
                sheet("rows", "12x12", false),
            ],
            range: Length::sixteenths(4),
            mark: Length::sixteenths(1),
        };
        let all = near_held(&ask, &Stop::default());
        assert_eq!((all.len(), all[0].sheet, all[0].near.now), (1, 2, 4));
        // Papers of one size are one answer, the sheet in use first.
        assert_eq!(
            (all[0].alike.as_slice(), all[0].on(&ask).as_str()),
            ([1, 3].as_slice(), "square and 2 more")
        );
        let row = all[0].near.rows.iter().find(|r| r.way == SmallerWay::Alike).unwrap();
        assert_eq!(row.gives, 6);
        assert_eq!(ask.pieces[0].reveal_of(row), Some(Reveal::all(Length::sixteenths(2))));
        assert_eq!(ask.pieces[0].name, "note, mat 1");
    }
}
