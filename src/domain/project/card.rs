//! A card as a project keeps it: its papers are lines of the shelf or papers of their own, its colours swatches, its envelope
//! a line of the shelf. What a card is made of stands in [`crate::domain::cards::card`].

use crate::domain::cards::card::{Card, Extra};
use crate::domain::cards::layer::Layer;
use crate::domain::cards::paper::Paper;
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::Length;
use crate::domain::stock::ids::{ItemId, SwatchId};

/// A card of a project.
pub type ProjectCard = Card<PaperRef, CardColour, ItemId>;

/// A layer of such a card.
pub type CardLayer = Layer<PaperRef, CardColour>;

/// Something made beside such a card.
pub type CardExtra = Extra<PaperRef>;

/// A paper chosen for a part of a card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaperRef {
    /// A line of the shelf.
    Shelf(ItemId),
    /// A paper that is none of the shelf.
    Other(Paper),
}

impl PaperRef {
    /// The line of the shelf, where it is one.
    pub const fn shelf(&self) -> Option<ItemId> {
        match self {
            Self::Shelf(id) => Some(*id),
            Self::Other(_) => None,
        }
    }

    const fn shelf_mut(&mut self) -> Option<&mut ItemId> {
        match self {
            Self::Shelf(id) => Some(id),
            Self::Other(_) => None,
        }
    }

    /// The paper that is none of the shelf, where it is one.
    pub const fn other(&self) -> Option<&Paper> {
        match self {
            Self::Shelf(_) => None,
            Self::Other(paper) => Some(paper),
        }
    }
}

/// The line of the shelf that a part is cut from, where it is one.
pub fn on_shelf(paper: Option<&PaperRef>) -> Option<ItemId> {
    paper.and_then(PaperRef::shelf)
}

impl CardLayer {
    /// The line of the shelf that it is cut from, where it is one.
    pub fn item(&self) -> Option<ItemId> {
        on_shelf(self.paper.as_ref())
    }

    /// The line of the shelf that lies behind its opening, where it is one.
    pub fn insert_item(&self) -> Option<ItemId> {
        on_shelf(self.insert.as_ref())
    }
}

impl CardExtra {
    /// The line of the shelf that it is cut from, where it is one.
    pub fn item(&self) -> Option<ItemId> {
        on_shelf(self.paper.as_ref())
    }
}

/// A colour chosen for a layer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CardColour {
    /// A swatch of the library.
    Swatch(SwatchId),
    /// A colour by a name that the library does not have.
    Named(String),
}

impl ProjectCard {
    /// The same card with plain mats on it: reveals from the first mat inward, and their papers as far as given.
    #[must_use]
    pub fn with_mats(mut self, reveals: &[Length], papers: &[Option<ItemId>]) -> Self {
        let papers = papers.iter().copied().chain(std::iter::repeat(None));
        let mat = |(reveal, paper): (&Length, Option<ItemId>)| CardLayer {
            paper: paper.map(PaperRef::Shelf),
            ..CardLayer::mat("", Reveal::all(*reveal))
        };
        self.layers = reveals.iter().zip(papers).map(mat).collect();
        self
    }

    /// The line of the shelf that the base is cut from, where it is one.
    pub fn base_item(&self) -> Option<ItemId> {
        on_shelf(self.base_paper.as_ref())
    }

    /// Every paper that the card names.
    pub fn papers(&self) -> impl Iterator<Item = &PaperRef> {
        let layers = self.layers.iter().flat_map(|l| l.paper.iter().chain(&l.insert));
        let extras = self.extras.iter().filter_map(|e| e.paper.as_ref());
        self.base_paper.iter().chain(layers).chain(extras)
    }

    /// Every item that the card names.
    pub fn items(&self) -> impl Iterator<Item = ItemId> + '_ {
        self.papers().filter_map(PaperRef::shelf).chain(self.envelope)
    }

    /// Every item that the card names, to be exchanged for another.
    pub fn items_mut(&mut self) -> impl Iterator<Item = &mut ItemId> {
        let layers = self.layers.iter_mut().flat_map(|l| l.paper.iter_mut().chain(&mut l.insert));
        let extras = self.extras.iter_mut().filter_map(|e| e.paper.as_mut());
        let papers = self.base_paper.iter_mut().chain(layers).chain(extras);
        papers.filter_map(PaperRef::shelf_mut).chain(&mut self.envelope)
    }

    /// Every swatch that the card names, to be exchanged for another.
    pub fn swatches_mut(&mut self) -> impl Iterator<Item = &mut SwatchId> {
        self.layers.iter_mut().filter_map(|l| match &mut l.colour {
            Some(CardColour::Swatch(id)) => Some(id),
            _ => None,
        })
    }

    /// Every swatch that the card names.
    pub fn swatches(&self) -> impl Iterator<Item = SwatchId> + '_ {
        self.layers.iter().filter_map(|l| match l.colour {
            Some(CardColour::Swatch(id)) => Some(id),
            _ => None,
        })
    }
}
