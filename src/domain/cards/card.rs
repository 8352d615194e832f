//! A card: its face, fold, base, layers, what is made beside it, envelope and batch. Figures and choices only; sizes, weights,
//! pieces and the post follow from it in the rooms beside this one.
//!
//! One card, known in two ways. In a book its papers are lines of the shelf, its colours swatches, its envelope a line of
//! the shelf ([`crate::domain::project::ProjectCard`]); in a file, and wherever the craft reckons, they are papers with
//! their weight and thickness, and names. [`Card::known_by`] goes from one to the other.

use super::envelope::{EASE, Envelope};
use super::error::CardError;
use super::fold::{Fold, Score, Side};
use super::layer::{self, Layer, LayerSize};
use super::make::Make;
use super::paper::Paper;
use super::post::{Address, OwnPrice};
use super::tools::Tools;
use super::weighed::Weighed;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// A card: the face as it is held, how it folds, what is laid on its front, what goes with it. `P` is how its papers are
/// known, `C` its colours, `E` its envelope.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card<P = Paper, C = String, E = String> {
    /// What it is called; empty for none.
    pub name: String,
    /// The closed card as it is held.
    pub face: Size,
    /// How the base folds.
    pub fold: Fold,
    /// The flat base as cut, where it is set by hand; the scores stay where the fold has them.
    pub base: Option<Size>,
    /// The paper of the base.
    pub base_paper: Option<P>,
    /// How the base is made.
    pub base_made_by: MadeBy,
    /// Paper needed around the base on every side for that.
    pub base_allowance: Length,
    /// The side of the base that its grain runs along; `None` where it is not known.
    pub base_grain: Option<Side>,
    /// Score lines of the person's own, beside the fold's.
    pub scores: Vec<Score>,
    /// Layers from the first mat inward.
    pub layers: Vec<Layer<P, C>>,
    /// Bands, liners, envelopes and boxes made beside it.
    pub extras: Vec<Extra<P>>,
    /// The envelope of the shelf that it goes into, where one was chosen.
    pub envelope: Option<E>,
    /// More of that envelope, to spare over the whole project; spare cards and spoilage bring none by themselves.
    pub envelope_spares: u32,
    /// What it goes into where no envelope of the shelf was chosen.
    pub enclosing: EnvelopeChoice,
    /// What that envelope is made of; `None` reckons with 24 lb bond.
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

/// What a card goes into.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum EnvelopeChoice {
    /// The smallest known envelope that takes it.
    #[default]
    Smallest,
    /// The envelope that goes with its format, else the smallest.
    Usual(Envelope),
    /// This one, whether it fits or not.
    This(Envelope),
    /// None.
    NoEnvelope,
}

/// Something made beside a card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Extra<P = Paper> {
    /// What.
    pub make: Make,
    /// The paper that it is cut from, where chosen.
    pub paper: Option<P>,
    /// How many a card takes.
    pub count: u32,
}

impl<P> Extra<P> {
    /// One of it, of no paper yet.
    pub const fn of(make: Make) -> Self {
        Self { make, paper: None, count: 1 }
    }
}

impl<P, C, E> Card<P, C, E> {
    /// A card with this front, folded at its side, no layers, one a set.
    pub fn new(name: impl Into<String>, face: Size) -> Self {
        Self {
            name: name.into(),
            face,
            fold: Fold::default(),
            base: None,
            base_paper: None,
            base_made_by: MadeBy::Straight,
            base_allowance: Length::ZERO,
            base_grain: None,
            scores: Vec::new(),
            layers: Vec::new(),
            extras: Vec::new(),
            envelope: None,
            envelope_spares: 0,
            enclosing: EnvelopeChoice::Smallest,
            envelope_paper: None,
            weighed: Weighed::default(),
            ease: EASE,
            address: Address::default(),
            prices: Vec::new(),
            count: 1,
            spares: 0,
        }
    }

    /// What a layer is called where it is told of: its own name, else what it is and its place.
    pub fn layer_name(&self, n: usize) -> String {
        self.layers.get(n).map_or_else(String::new, |layer| layer.shown_name(n))
    }

    /// Every layer's exact size, place, cut size and reveals, from the first mat inward.
    ///
    /// # Errors
    /// One sentence for the first layer that cannot be made, with the nearest value that works.
    pub fn layer_sizes(&self, tools: &Tools) -> Result<Vec<LayerSize>, CardError> {
        layer::sizes(self.face, &self.layers, tools)
    }

    /// The same card with its papers, colours and envelope known in another way; an envelope that the other way does not
    /// know is left out.
    pub fn known_by<Q, D, F>(
        &self,
        mut paper: impl FnMut(&P) -> Q,
        mut colour: impl FnMut(&C) -> D,
        envelope: impl FnOnce(&E) -> Option<F>,
    ) -> Card<Q, D, F> {
        let mut extras = Vec::with_capacity(self.extras.len());
        let base_paper = self.base_paper.as_ref().map(&mut paper);
        let layers = self.layers.iter().map(|l| l.known_by(&mut paper, &mut colour)).collect();
        for extra in &self.extras {
            let paper = extra.paper.as_ref().map(&mut paper);
            extras.push(Extra { make: extra.make, paper, count: extra.count });
        }
        Card {
            name: self.name.clone(),
            face: self.face,
            fold: self.fold,
            base: self.base,
            base_paper,
            base_made_by: self.base_made_by,
            base_allowance: self.base_allowance,
            base_grain: self.base_grain,
            scores: self.scores.clone(),
            layers,
            extras,
            envelope: self.envelope.as_ref().and_then(envelope),
            envelope_spares: self.envelope_spares,
            enclosing: self.enclosing.clone(),
            envelope_paper: self.envelope_paper.clone(),
            weighed: self.weighed,
            ease: self.ease,
            address: self.address,
            prices: self.prices.clone(),
            count: self.count,
            spares: self.spares,
        }
    }
}
