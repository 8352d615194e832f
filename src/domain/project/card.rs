//! A card as a project keeps it: face, fold, layers with their papers, what is made beside it, envelope, batch.
//! Figures and choices only; sizes, weights and pieces are worked out from it in [`crate::domain::cardwork`].

use crate::domain::cards::envelope::EASE;
use crate::domain::cards::fold::{Fold, Score, Side};
use crate::domain::cards::frame::Frame;
use crate::domain::cards::job::EnvelopeChoice;
use crate::domain::cards::layer::Shape;
use crate::domain::cards::make::Make;
use crate::domain::cards::paper::Paper;
use crate::domain::cards::post::{Address, OwnPrice};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::stack::Weighed;
use crate::domain::length::Length;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::ids::{ItemId, SwatchId};
use crate::domain::thickness::Thickness;

/// A card of a project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProjectCard {
    /// What it is called.
    pub name: String,
    /// The finished front.
    pub face: Size,
    /// How the base folds.
    pub fold: Fold,
    /// The flat base as cut, where it is set by hand.
    pub base: Option<Size>,
    /// The paper of the base, from the shelf.
    pub base_paper: Option<ItemId>,
    /// The base's paper where it is none of the shelf.
    pub base_loose: Option<Paper>,
    /// Paper needed around the base on every side before it is trimmed to its print, embossed or torn.
    pub base_allowance: Length,
    /// The side of the base that its grain runs along; `None` where it is not known.
    pub base_grain: Option<Side>,
    /// Score lines beside the fold's own.
    pub scores: Vec<Score>,
    /// Layers from the first mat inward.
    pub layers: Vec<CardLayer>,
    /// Bands, liners, envelopes and boxes made beside it.
    pub extras: Vec<CardExtra>,
    /// The envelope it goes into, from the shelf.
    pub envelope: Option<ItemId>,
    /// More of that envelope, to spare over the whole project; spare cards and spoilage bring none by themselves.
    pub envelope_spares: u32,
    /// What it goes into where no envelope of the shelf was chosen.
    pub enclosing: EnvelopeChoice,
    /// What that envelope is made of, where known.
    pub envelope_paper: Option<Paper>,
    /// What was laid on a scale: the envelope, glue and foam.
    pub weighed: Weighed,
    /// Room beside the card in its envelope.
    pub ease: Length,
    /// The side that the address runs along.
    pub address: Address,
    /// Prices of the person's own, with their dates.
    pub prices: Vec<OwnPrice>,
    /// Cards of this kind in a set.
    pub count: u32,
    /// More of them, made to spare over the whole project.
    pub spares: u32,
}

/// A layer of a card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardLayer {
    /// What it is called; empty for its place alone.
    pub name: String,
    /// What gives it its size.
    pub shape: Shape,
    /// Index of the layer that it lies on; `None` for the one before it.
    pub on: Option<usize>,
    /// Its paper, from the shelf.
    pub paper: Option<ItemId>,
    /// Its paper where it is none of the shelf.
    pub loose: Option<Paper>,
    /// Its colour, where that is not its paper's own.
    pub colour: Option<CardColour>,
    /// How many of it a card takes.
    pub count: u32,
    /// False where its pattern must stay upright.
    pub may_turn: bool,
    /// Paper needed around it on every side: die-cut, embossed, torn, or printed to the edge.
    pub allowance: Length,
    /// Which of its sides the grain has to follow, where it is folded.
    pub grain: Grain,
    /// Foam or tape under it.
    pub raise: Thickness,
    /// A frame mat's frame.
    pub frame: Option<Frame>,
    /// The paper behind the frame's opening, from the shelf.
    pub insert: Option<ItemId>,
    /// The insert's paper where it is none of the shelf.
    pub insert_loose: Option<Paper>,
}

/// A colour chosen for a layer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CardColour {
    /// A swatch of the library.
    Swatch(SwatchId),
    /// A colour by a name that the library does not have.
    Named(String),
}

/// Something made beside a card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardExtra {
    /// What.
    pub make: Make,
    /// Its paper, from the shelf.
    pub paper: Option<ItemId>,
    /// Its paper where it is none of the shelf.
    pub loose: Option<Paper>,
    /// How many a card takes.
    pub count: u32,
}

impl CardExtra {
    /// One of it, of no paper yet.
    pub const fn of(make: Make) -> Self {
        Self { make, paper: None, loose: None, count: 1 }
    }
}

impl CardLayer {
    /// One layer of this shape: may turn, glued flat, no paper chosen.
    pub const fn new(shape: Shape) -> Self {
        Self {
            name: String::new(),
            shape,
            on: None,
            paper: None,
            loose: None,
            colour: None,
            count: 1,
            may_turn: true,
            allowance: Length::ZERO,
            grain: Grain::Unknown,
            raise: Thickness::ZERO,
            frame: None,
            insert: None,
            insert_loose: None,
        }
    }

    /// A mat with the same reveal all round.
    pub const fn mat(reveal: Length) -> Self {
        Self::new(Shape::Inset(Reveal::all(reveal)))
    }

    /// The word for what it is: mat, frame, panel, strip.
    pub const fn word(&self) -> &'static str {
        self.shape.word(self.frame.is_some())
    }

    /// Every item that it names.
    fn items(&self) -> impl Iterator<Item = ItemId> + use<> {
        self.paper.into_iter().chain(self.insert)
    }
}

impl ProjectCard {
    /// A card with this front, folded at its side, no layers, one a set.
    pub fn new(name: impl Into<String>, face: Size) -> Self {
        Self {
            name: name.into(),
            face,
            fold: Fold::default(),
            base: None,
            base_paper: None,
            base_loose: None,
            base_allowance: Length::ZERO,
            base_grain: None,
            scores: Vec::new(),
            layers: Vec::new(),
            extras: Vec::new(),
            envelope: None,
            enclosing: EnvelopeChoice::Smallest,
            envelope_spares: 0,
            envelope_paper: None,
            weighed: Weighed::default(),
            ease: EASE,
            address: Address::default(),
            prices: Vec::new(),
            count: 1,
            spares: 0,
        }
    }

    /// The same card with plain mats on it: reveals from the first mat inward, and their papers as far as given.
    #[must_use]
    pub fn with_mats(mut self, reveals: &[Length], papers: &[Option<ItemId>]) -> Self {
        let papers = papers.iter().copied().chain(std::iter::repeat(None));
        let mat = |(reveal, paper): (&Length, Option<ItemId>)| CardLayer { paper, ..CardLayer::mat(*reveal) };
        self.layers = reveals.iter().zip(papers).map(mat).collect();
        self
    }

    /// What a layer is called where it is told of: its own name, else what it is and its place.
    pub fn layer_name(&self, n: usize) -> String {
        match self.layers.get(n) {
            Some(layer) if !layer.name.is_empty() => layer.name.clone(),
            Some(layer) => format!("{} {}", layer.word(), n + 1),
            None => format!("layer {}", n + 1),
        }
    }

    /// Every item that the card names.
    pub fn items(&self) -> impl Iterator<Item = ItemId> + '_ {
        let layers = self.layers.iter().flat_map(CardLayer::items);
        let extras = self.extras.iter().filter_map(|e| e.paper);
        self.base_paper.into_iter().chain(layers).chain(extras).chain(self.envelope)
    }

    /// Every item that the card names, to be exchanged for another.
    pub fn items_mut(&mut self) -> impl Iterator<Item = &mut ItemId> {
        let layers = self.layers.iter_mut().flat_map(|l| l.paper.iter_mut().chain(l.insert.iter_mut()));
        let extras = self.extras.iter_mut().filter_map(|e| e.paper.as_mut());
        self.base_paper.iter_mut().chain(layers).chain(extras).chain(self.envelope.iter_mut())
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
