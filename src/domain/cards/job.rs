//! A whole card worked out at once: sizes, base, grain, envelope, weight, thickness, post. Knows every room of cards and
//! no screen, so that the command line, the pane and the printed sheet give one answer.

use super::advice::{self, Needed, Spares};
use super::card::{Card, EnvelopeChoice};
use super::envelope::{self, Envelope, Fit};
use super::error::CardError;
use super::fold::{self, Base, FoldKind};
use super::grain::{self, FoldGrain};
use super::layer::LayerSize;
use super::paper::{self, Paper};
use super::post::{self, Judgement, Piece, Wrapping};
use super::stack::{self, InEnvelope, Sum};
use super::table::System;
use super::tools::Tools;
use super::weighed::Weighed;
use crate::domain::length::Unit;
use crate::domain::size::Size;
use crate::domain::thickness::{Span, Thickness};
use crate::domain::weight::Weight;

/// A card with what is asked of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardSpec {
    /// The card.
    pub card: Card,
    /// The base's own size, where the face was found from it.
    pub flat: Option<Size>,
    /// Cards to make, with spares; `None` where nobody asked.
    pub batch: Option<(u32, Spares)>,
}

impl CardSpec {
    /// A card of which nothing more is asked.
    pub const fn of(card: Card) -> Self {
        Self { card, flat: None, batch: None }
    }
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
                format!("{}, with {} of glue, foam and the like", w.show(), glue.show())
            }
            (Some(w), None) => format!("{}, glue and foam not counted", w.show()),
            (None, _) => lacking(&self.weight.unknown, "weight"),
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
            (None, _) => lacking(&self.thickness.unknown, "thickness"),
        }
    }
}

/// What keeps a sum from being known: parts without a paper, or with one of which too little is known.
fn lacking(parts: &[String], what: &str) -> String {
    let papers = match parts.len() {
        1 => "the paper of",
        _ => "each paper of",
    };
    format!("not known until {papers} {} has a {what}", parts.join(", "))
}

/// Works a card out.
///
/// # Errors
/// The first sentence that refuses it.
pub fn work_out(job: &CardSpec, tools: &Tools) -> Result<Worked, CardError> {
    let card = &job.card;
    let base = base_with_own_scores(job, tools)?;
    let layers = card.layer_sizes(tools)?;
    let thickness = thickness_with_inserts(card, &layers);
    let mut weight = stack::weight(base.size, card, &layers);
    let mut weights = stack::weight_by_part(base.size, card, &layers);
    stack::add_inserts(card, &layers, &mut weight, &mut weights);
    weight.value = weight.value.map(|w| w + card.weighed.glue.unwrap_or_default());
    let span = span_of_guesses(card, &layers, &thickness);
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
        if let Some(price) = post::own_price(&job.card.prices, judgement) {
            let last = judgement.reasons.len().saturating_sub(1);
            judgement.reasons.insert(last, price);
        }
    }
    let grain = grain::of_base(&base, job.card.base_grain);
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
        weighed: job.card.weighed,
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
    if let Some(size) = job.card.base {
        fold::check_scores(size, &base.scores, tools)?;
        base.size = size;
    }
    fold::check_scores(base.size, &job.card.scores, tools)?;
    base.scores.extend(&job.card.scores);
    base.scores.sort_unstable();
    base.scores.dedup();
    Ok(base)
}

/// An insert lies under its frame and lifts it: the two are piled as one layer.
fn thickness_with_inserts(card: &Card, sizes: &[LayerSize]) -> Sum<Thickness> {
    let mut piled = card.clone();
    for layer in &mut piled.layers {
        let (Some(own), Some(insert)) = (layer.paper.as_mut(), &layer.insert) else { continue };
        own.caliper = own.caliper().zip(insert.caliper()).map(|(a, b)| a.value + b.value);
        own.grammage = None;
    }
    let mut sum = stack::thickness(&piled, sizes);
    let is_guessed = |p: &Paper| p.caliper().is_some_and(|c| !c.measured);
    for (n, layer) in card.layers.iter().enumerate() {
        let Some(behind) = &layer.insert else { continue };
        if is_guessed(behind) || layer.paper.as_ref().is_some_and(is_guessed) {
            sum.guessed.push(format!("{} with its insert", layer.shown_name(n)));
        }
    }
    sum
}

/// Between which thicknesses the card lies where its papers are guessed: every guess at its least, and at its most.
fn span_of_guesses(card: &Card, layers: &[LayerSize], sum: &Sum<Thickness>) -> Option<Span> {
    if sum.guessed.is_empty() || sum.value.is_none() {
        return None;
    }
    let at = |end: fn(&paper::KnownCaliper) -> Thickness| {
        let set = |paper: &Paper| Paper { caliper: paper.caliper().map(|c| end(&c)), ..paper.clone() };
        let card: Card = card.known_by(set, String::clone, |e| Some(e.clone()));
        thickness_with_inserts(&card, layers).value
    };
    at(|c| c.least).zip(at(|c| c.most)).map(|(least, most)| Span { least, most })
}

/// How thick a card of this thickness is in its envelope, where the flap lies.
fn sealed_at(job: &CardSpec, card: Thickness) -> Thickness {
    stack::in_envelope(card, wall(job)).at_flap
}

fn wall(job: &CardSpec) -> Thickness {
    job.card.envelope_paper.as_ref().and_then(Paper::caliper).map_or(stack::WALL, |c| c.value)
}

fn enclose(job: &CardSpec, thickness: Thickness, unit: Unit, notes: &mut Vec<String>) -> Option<Enclosed> {
    let face = job.card.face;
    let lay = |envelope: Envelope| {
        let fit = envelope::fit(face, thickness, job.card.ease, &envelope);
        Enclosed { envelope, fit }
    };
    let smallest = || {
        let first = if unit == Unit::Mm { System::Iso } else { System::Us };
        envelope::smallest(face, thickness, job.card.ease, first).cloned().map(lay)
    };
    match &job.card.enclosing {
        EnvelopeChoice::NoEnvelope => None,
        EnvelopeChoice::This(envelope) => {
            notes.extend(envelope::misfit(face, thickness, job.card.ease, envelope, unit));
            Some(lay(envelope.clone()))
        }
        EnvelopeChoice::Usual(envelope) => {
            let usual = lay(envelope.clone());
            if usual.fit.fits {
                return Some(usual);
            }
            notes.extend(envelope::misfit(face, thickness, job.card.ease, envelope, unit));
            smallest()
        }
        EnvelopeChoice::Smallest => {
            let found = smallest();
            if found.is_none() {
                notes.push(envelope::larger_than_all(face, thickness, job.card.ease, unit));
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
    let grammage = job.card.envelope_paper.as_ref().and_then(|p| p.grammage).unwrap_or(stack::WALL_GRAMMAGE);
    let reckoned = || stack::envelope_weight(enclosed.envelope.outside, grammage);
    let own = job.card.weighed.envelope.unwrap_or_else(reckoned);
    (thickness.map(|t| stack::in_envelope(t, wall(job))), weight.map(|w| w + own))
}

fn piece(job: &CardSpec, size: Size, wrapping: Wrapping) -> Piece {
    let uneven = job.card.layers.iter().any(|l| l.raise > Thickness::ZERO);
    Piece { address: job.card.address, uneven, wrapping, ..Piece::of_size(size) }
}

/// A card that no known envelope takes is still judged as if some envelope of its size were round it.
fn without_envelope(job: &CardSpec) -> Wrapping {
    match (&job.card.enclosing, job.card.fold.kind) {
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
    advice::pieces(&job.card, base.size, layers, cards, spares).ok_or_else(|| {
        let text = format!("{cards} cards need more pieces than can be counted: use a smaller batch");
        CardError::new(super::CardReason::TooLarge, text)
    })
}
