//! A whole card worked out at once: sizes, base, grain, envelope, weight, thickness, post. Knows every room of cards and
//! no screen, so that the command line, the pane and the printed sheet give one answer.

use super::advice::{self, Needed, Spares};
use super::envelope::{self, Envelope, Fit};
use super::error::CardError;
use super::fold::{self, Base, FoldKind, Score, Side};
use super::grain::{self, FoldGrain};
use super::layer::{self, Card, LayerSize};
use super::paper::{self, Paper};
use super::post::{self, Address, Judgement, OwnPrice, Piece, Wrapping};
use super::stack::{self, InEnvelope, Papers, Span, Sum, Weighed};
use super::table::System;
use super::tools::Tools;
use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::Weight;

/// Everything that is told about a card.
#[derive(Clone, Debug, PartialEq)]
pub struct CardSpec {
    /// The card and its layers.
    pub card: Card,
    /// The base's own size, where the face was found from it.
    pub flat: Option<Size>,
    /// The base as it is cut by hand, where that is not the fold's own size; the scores stay where the fold has them.
    pub cut_base: Option<Size>,
    /// The base's paper.
    pub base_paper: Option<Paper>,
    /// Paper needed around the base on every side before it is trimmed to its print, embossed or torn.
    pub base_allowance: Length,
    /// The side of the base that its grain runs along, where known.
    pub base_grain: Option<Side>,
    /// The layers' papers, in the card's order; missing ones are unknown.
    pub papers: Vec<Option<Paper>>,
    /// The papers behind the layers' openings, in the same order; may be shorter.
    pub inserts: Vec<Option<Paper>>,
    /// Score lines of the person's own, beside the fold's.
    pub own_scores: Vec<Score>,
    /// What it goes into.
    pub envelope: EnvelopeChoice,
    /// What the envelope is made of; `None` reckons with 24 lb bond.
    pub envelope_paper: Option<Paper>,
    /// More of its envelope, to spare over a whole batch.
    pub envelope_spares: u32,
    /// What was laid on a scale instead.
    pub weighed: Weighed,
    /// Room beside the card in its envelope.
    pub ease: Length,
    /// Which side the address runs along.
    pub address: Address,
    /// Cards to make, with spares; `None` where nobody asked.
    pub batch: Option<(u32, Spares)>,
    /// Prices of the person's own.
    pub prices: Vec<OwnPrice>,
}

impl CardSpec {
    /// A card of which only the sizes are known.
    pub fn of(card: Card) -> Self {
        Self {
            card,
            flat: None,
            cut_base: None,
            base_paper: None,
            base_allowance: Length::ZERO,
            base_grain: None,
            papers: Vec::new(),
            inserts: Vec::new(),
            own_scores: Vec::new(),
            envelope: EnvelopeChoice::default(),
            envelope_paper: None,
            envelope_spares: 0,
            weighed: Weighed::default(),
            ease: envelope::EASE,
            address: Address::default(),
            batch: None,
            prices: Vec::new(),
        }
    }
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

/// An envelope with the card in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Enclosed {
    /// The envelope.
    pub envelope: Envelope,
    /// How the card lies in it.
    pub fit: Fit,
}

/// Everything that follows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// The base and its scores, the person's own among them.
    pub base: Base,
    /// How the folds lie to the grain.
    pub grain: FoldGrain,
    /// Layers from the first mat inward.
    pub layers: Vec<LayerSize>,
    /// Weight of the finished card, without envelope; what was weighed beside its papers is in it.
    pub weight: Sum<Weight>,
    /// What was laid on a scale.
    pub weighed: Weighed,
    /// Weight of base and layers, in that order.
    pub weights: Vec<Option<Weight>>,
    /// Thickness of the closed card at its thickest point.
    pub thickness: Sum<Thickness>,
    /// From least to most, where the thickness of a paper is guessed.
    pub thickness_span: Option<Span>,
    /// The envelope, where there is one.
    pub enclosed: Option<Enclosed>,
    /// Thickness in the envelope.
    pub in_envelope: Option<InEnvelope>,
    /// Weight in the envelope; about, unless the envelope was weighed.
    pub sealed_weight: Option<Weight>,
    /// What it counts as in the post.
    pub post: Vec<Judgement>,
    /// Pieces of the batch.
    pub pieces: Option<Vec<Needed>>,
    /// Sentences beside the answer: what does not fit, runs across the grain, falls between grooves, is guessed.
    pub notes: Vec<String>,
}

impl Worked {
    /// The weight of the card in words, with what it leaves out.
    pub fn weight_words(&self) -> String {
        match (self.weight.value, self.weighed.glue) {
            (Some(w), Some(glue)) => {
                format!("{}, {} of glue, foam and the like in it", w.show(), glue.show())
            }
            (Some(w), None) => format!("{}, glue and foam not counted", w.show()),
            (None, _) => format!("not known without the paper of {}", self.weight.unknown.join(", ")),
        }
    }

    /// The weight in the envelope in words.
    pub fn sealed_words(&self) -> Option<String> {
        let w = self.sealed_weight?;
        Some(match self.weighed.envelope {
            Some(own) => format!("{} in its envelope, which you weighed at {}", w.show(), own.show()),
            None => format!("about {} in its envelope", w.show()),
        })
    }

    /// The thickness of the closed card in words: a guess as the span that it lies in.
    pub fn thickness_words(&self, unit: Unit) -> String {
        match (self.thickness.value, self.thickness_span) {
            (Some(t), Some(span)) => {
                format!("about {}; {} is possible", t.show(unit), span.show(unit))
            }
            (Some(t), None) => t.show(unit),
            (None, _) => format!("not known without the paper of {}", self.thickness.unknown.join(", ")),
        }
    }
}

/// Works a card out.
///
/// # Errors
/// The first sentence that refuses it.
pub fn work_out(job: &CardSpec, tools: &Tools) -> Result<Worked, CardError> {
    let card = &job.card;
    let base = base_with_own_scores(job, tools)?;
    let layers = layer::sizes(card, tools)?;
    let papers = Papers { base: job.base_paper.as_ref(), layers: &job.papers };
    let thickness = thickness_with_inserts(job, &layers);
    let mut weight = stack::weight(base.size, card, &layers, papers);
    let mut weights = stack::weight_by_part(base.size, card, &layers, papers);
    stack::add_inserts(card, &layers, &job.inserts, &mut weight, &mut weights);
    weight.value = weight.value.map(|w| w + job.weighed.glue.unwrap_or_default());
    let span = span_of_guesses(job, &layers, &thickness);
    let mut notes = Vec::new();
    let enclosed = enclose(job, thickness.value.unwrap_or_default(), tools.unit, &mut notes);
    let (in_envelope, sealed_weight) = sealed(job, enclosed.as_ref(), thickness.value, weight.value);
    let piece = match &enclosed {
        Some(e) => Piece {
            thickness: in_envelope.map(|t| t.at_flap),
            span: span.map(|s| Span { least: sealed_at(job, s.least), most: sealed_at(job, s.most) }),
            weight: sealed_weight,
            ..piece(job, e.envelope.outside, Wrapping::Envelope)
        },
        None => Piece {
            thickness: thickness.value,
            span,
            weight: weight.value,
            ..piece(job, card.face, without_envelope(job))
        },
    };
    let mut post = post::judge_all(&piece, tools.unit);
    for judgement in &mut post {
        if let Some(price) = post::own_price(&job.prices, judgement) {
            let last = judgement.reasons.len().saturating_sub(1);
            judgement.reasons.insert(last, price);
        }
    }
    let grain = grain::of_base(&base, job.base_grain);
    notes.extend(notes_on(job, &base, grain, &thickness, tools));
    let pieces = match job.batch {
        Some((cards, spares)) => Some(needed(job, &base, &layers, cards, spares)?),
        None => None,
    };
    Ok(Worked {
        base,
        grain,
        layers,
        weight,
        weighed: job.weighed,
        weights,
        thickness,
        thickness_span: span,
        enclosed,
        in_envelope,
        sealed_weight,
        post,
        pieces,
        notes,
    })
}

fn base_with_own_scores(job: &CardSpec, tools: &Tools) -> Result<Base, CardError> {
    let mut base = match job.flat {
        Some(flat) => fold::from_base(flat, &job.card.fold, tools)?.1,
        None => fold::base(job.card.face, &job.card.fold, tools)?,
    };
    if let Some(size) = job.cut_base {
        fold::check_scores(size, &base.scores, tools)?;
        base.size = size;
    }
    fold::check_scores(base.size, &job.own_scores, tools)?;
    base.scores.extend(&job.own_scores);
    base.scores.sort_unstable();
    base.scores.dedup();
    Ok(base)
}

/// An insert lies under its frame and lifts it: the two are piled as one layer.
fn thickness_with_inserts(job: &CardSpec, layers: &[LayerSize]) -> Sum<Thickness> {
    let behind = |n: usize| job.inserts.get(n).and_then(Option::as_ref);
    let mut piled = job.papers.clone();
    piled.resize(layers.len(), None);
    for (n, paper) in piled.iter_mut().enumerate() {
        let (Some(own), Some(insert)) = (paper.as_mut(), behind(n)) else { continue };
        own.caliper = own.caliper().zip(insert.caliper()).map(|(a, b)| a.value + b.value);
        own.grammage = None;
    }
    let mut sum =
        stack::thickness(&job.card, layers, Papers { base: job.base_paper.as_ref(), layers: &piled });
    let is_guessed = |p: &Paper| p.caliper().is_some_and(|c| !c.measured);
    for n in 0..layers.len() {
        let own = job.papers.get(n).and_then(Option::as_ref);
        if behind(n).is_some_and(|b| is_guessed(b) || own.is_some_and(is_guessed)) {
            sum.guessed.push(format!("layer {} with its insert", n + 1));
        }
    }
    sum
}

/// Between which thicknesses the card lies where its papers are guessed: every guess at its least, and at its most.
fn span_of_guesses(job: &CardSpec, layers: &[LayerSize], sum: &Sum<Thickness>) -> Option<Span> {
    if sum.guessed.is_empty() || sum.value.is_none() {
        return None;
    }
    let at = |end: fn(&paper::Caliper) -> Thickness| {
        let set = |paper: &mut Paper| paper.caliper = paper.caliper().map(|c| end(&c));
        let mut job = job.clone();
        let papers = job.papers.iter_mut().chain(&mut job.inserts).flatten();
        papers.chain(&mut job.base_paper).for_each(set);
        thickness_with_inserts(&job, layers).value
    };
    at(|c| c.least).zip(at(|c| c.most)).map(|(least, most)| Span { least, most })
}

/// How thick a card of this thickness is in its envelope, where the flap lies.
fn sealed_at(job: &CardSpec, card: Thickness) -> Thickness {
    stack::in_envelope(card, wall(job)).at_flap
}

fn wall(job: &CardSpec) -> Thickness {
    job.envelope_paper.as_ref().and_then(Paper::caliper).map_or(stack::WALL, |c| c.value)
}

fn enclose(job: &CardSpec, thickness: Thickness, unit: Unit, notes: &mut Vec<String>) -> Option<Enclosed> {
    let face = job.card.face;
    let lay = |envelope: Envelope| {
        let fit = envelope::fit(face, thickness, job.ease, &envelope);
        Enclosed { envelope, fit }
    };
    let smallest = || {
        let first = if unit == Unit::Mm { System::Iso } else { System::Us };
        envelope::smallest(face, thickness, job.ease, first).cloned().map(lay)
    };
    match &job.envelope {
        EnvelopeChoice::NoEnvelope => None,
        EnvelopeChoice::This(envelope) => {
            notes.extend(envelope::misfit(face, thickness, job.ease, envelope, unit));
            Some(lay(envelope.clone()))
        }
        EnvelopeChoice::Usual(envelope) => {
            let usual = lay(envelope.clone());
            if usual.fit.fits {
                return Some(usual);
            }
            notes.extend(envelope::misfit(face, thickness, job.ease, envelope, unit));
            smallest()
        }
        EnvelopeChoice::Smallest => {
            let found = smallest();
            if found.is_none() {
                notes.push(envelope::larger_than_all(face, thickness, job.ease, unit));
            }
            found
        }
    }
}

fn sealed(
    job: &CardSpec,
    enclosed: Option<&Enclosed>,
    thickness: Option<Thickness>,
    weight: Option<Weight>,
) -> (Option<InEnvelope>, Option<Weight>) {
    let Some(enclosed) = enclosed else { return (None, None) };
    let grammage = job.envelope_paper.as_ref().and_then(|p| p.grammage).unwrap_or(stack::WALL_GRAMMAGE);
    let reckoned = || stack::envelope_weight(enclosed.envelope.outside, grammage);
    let own = job.weighed.envelope.unwrap_or_else(reckoned);
    (thickness.map(|t| stack::in_envelope(t, wall(job))), weight.map(|w| w + own))
}

fn piece(job: &CardSpec, size: Size, wrapping: Wrapping) -> Piece {
    let uneven = job.card.layers.iter().any(|l| l.raise > Thickness::ZERO);
    Piece { address: job.address, uneven, wrapping, ..Piece::of_size(size) }
}

/// A card that no known envelope takes is still judged as if some envelope of its size were round it.
fn without_envelope(job: &CardSpec) -> Wrapping {
    match (&job.envelope, job.card.fold.kind) {
        (EnvelopeChoice::NoEnvelope, FoldKind::Flat) => Wrapping::OneLeaf,
        (EnvelopeChoice::NoEnvelope, _) => Wrapping::Folded,
        _ => Wrapping::Envelope,
    }
}

fn notes_on(
    job: &CardSpec,
    base: &Base,
    grain: FoldGrain,
    thickness: &Sum<Thickness>,
    tools: &Tools,
) -> Vec<String> {
    let mut notes: Vec<String> = Vec::new();
    if let (FoldGrain::Across | FoldGrain::Both, Some(text)) = (grain, grain.sentence()) {
        notes.push(text.to_owned());
    }
    notes.extend(base.between_grooves(job.card.fold.kind, tools));
    if !thickness.guessed.is_empty() && thickness.value.is_some() {
        notes.push(format!(
            "the thickness of {} is guessed from the weight, and papers differ: measure it where it matters",
            thickness.guessed.join(", ")
        ));
    }
    notes
}

fn needed(
    job: &CardSpec,
    base: &Base,
    layers: &[LayerSize],
    cards: u32,
    spares: Spares,
) -> Result<Vec<Needed>, CardError> {
    let paper = job.base_paper.as_ref().map(|p| p.name.as_str()).filter(|n| !n.is_empty());
    advice::pieces(&job.card, base.size, paper, layers, cards, spares).ok_or_else(|| {
        let text = format!("{cards} cards need more pieces than can be counted: use a smaller batch");
        CardError::new(super::Reason::TooLarge, text)
    })
}
