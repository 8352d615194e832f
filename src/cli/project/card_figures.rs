//! What a card has besides its size and layers, as options: fold, base, scores, envelope, batch. Each is read as the
//! pane reads it and refused under its option's name.

use super::named::{AnyPaper, given, of_shelf, yes_or_none};
use crate::domain::book::Book;
use crate::domain::cardedit::measure_base;
use crate::domain::cardread;
use crate::domain::cards::card::EnvelopeChoice;
use crate::domain::cards::envelope;
use crate::domain::cards::fold::{FoldEdge, FoldKind, Side};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::post::Address;
use crate::domain::figures::count;
use crate::domain::length::Unit;
use crate::domain::project::ProjectCard;
use crate::domain::stock::Kind;

/// What a card has besides its size and layers.
#[derive(clap::Args, Debug, Default)]
pub struct CardFigures {
    /// The fold: side, top, gate, letter, roll, z, accordion, french, back or flat
    #[arg(long, value_name = "FOLD")]
    pub fold: Option<String>,
    /// Edge of the front that the fold lies on: left or top
    #[arg(long, value_name = "EDGE")]
    pub edge: Option<String>,
    /// Panels, allowance and paper's thickness of the fold, - for the usual: "4, 1/16, 0.012 in"
    #[arg(long, value_name = "MEASURES", allow_hyphen_values = true)]
    pub fold_measures: Option<String>,
    /// Cards of this kind in a set
    #[arg(long, value_name = "N")]
    pub count: Option<String>,
    /// More of them, to spare over the whole project
    #[arg(long, value_name = "N")]
    pub spares: Option<String>,
    /// Paper of the shelf for the base; none takes it away
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Paper of the base that is not on the shelf: name, weight, thickness, as "oat, 80 lb cover, 0.012 in"
    #[arg(long, value_name = "WORDS", conflicts_with = "paper")]
    pub other_paper: Option<String>,
    /// The flat base as it is cut, where you set it by hand; none leaves it to the fold
    #[arg(long, value_name = "WxH")]
    pub base: Option<String>,
    /// How the base is made: straight cut, die-cut, torn, embossed or printed to the edge
    #[arg(long, value_name = "WAY")]
    pub made_by: Option<String>,
    /// Paper needed around the base on every side for that
    #[arg(long, value_name = "LENGTH")]
    pub allowance: Option<String>,
    /// Side of the base that its grain runs along: width, height or none
    #[arg(long, value_name = "SIDE")]
    pub grain: Option<String>,
    /// Scores of your own, the side they are measured along and how far: "width 1, height 2"; none takes them away
    #[arg(long, value_name = "SCORES")]
    pub scores: Option<String>,
    /// Envelope of the shelf that it goes into; none takes it away
    #[arg(long, value_name = "ENVELOPE")]
    pub envelope: Option<String>,
    /// What it goes into where that is none of the shelf: smallest, none, or an envelope by name or outside size
    #[arg(long, value_name = "NAME|WxH", conflicts_with = "envelope")]
    pub into: Option<String>,
    /// The envelope's inside as you measured it; none leaves it to the outside
    #[arg(long, value_name = "WxH")]
    pub inside: Option<String>,
    /// The envelope's paper: name, weight, thickness, as "bond, 24 lb bond"; none takes it away
    #[arg(long, value_name = "WORDS")]
    pub envelope_paper: Option<String>,
    /// More envelopes than cards asked for, over the whole project
    #[arg(long, value_name = "N")]
    pub envelope_spares: Option<String>,
    /// The empty envelope as you weighed it: 6.1 g, 0.2 oz; none works it out from its paper
    #[arg(long, value_name = "WEIGHT")]
    pub envelope_weight: Option<String>,
    /// Glue, foam and the like of one card as you weighed them; none leaves them out
    #[arg(long, value_name = "WEIGHT")]
    pub glue_weight: Option<String>,
    /// Room beside the card in its envelope
    #[arg(long, value_name = "LENGTH")]
    pub ease: Option<String>,
    /// Side that the address runs along: long or short
    #[arg(long, value_name = "SIDE")]
    pub address: Option<String>,
    /// A price of your own: rules, verdict, price, date, as "uk, letter, 1.00, 2026-11-01"; none takes all away
    #[arg(long, value_name = "PRICE")]
    pub price: Vec<String>,
}

impl CardFigures {
    /// Puts on the card what was given.
    ///
    /// # Errors
    /// The option that is wrong, and why.
    pub(super) fn put(&self, book: &Book, card: &mut ProjectCard, unit: Unit) -> Result<(), String> {
        self.put_fold(card, unit)?;
        given("--count", self.count.as_ref(), |text| count(text, 1).map(|n| card.count = n))?;
        given("--spares", self.spares.as_ref(), |text| count(text, 0).map(|n| card.spares = n))?;
        let paper = AnyPaper { shelf: self.paper.as_deref(), other: self.other_paper.as_deref() };
        paper.put(book, ["--paper", "--other-paper"], unit, &mut card.base_paper)?;
        given("--base", self.base.as_ref(), |text| measure_base(card, &yes_or_none(text), unit))?;
        given("--made-by", self.made_by.as_ref(), |text| {
            MadeBy::from_word(text).map(|way| way.put(&mut card.base_made_by, &mut card.base_allowance))
        })?;
        given("--allowance", self.allowance.as_ref(), |text| {
            cardread::length_or_zero(text, unit).map(|l| card.base_allowance = l)
        })?;
        given("--grain", self.grain.as_ref(), |text| {
            card.base_grain = match text {
                "width" => Some(Side::Width),
                "height" => Some(Side::Height),
                "none" => None,
                _ => return Err(format!("\"{text}\": write width, height or none")),
            };
            Ok(())
        })?;
        given("--scores", self.scores.as_ref(), |text| {
            cardread::scores(&yes_or_none(text), unit).map(|all| card.scores = all)
        })?;
        self.put_envelope(book, card, unit)
    }

    fn put_fold(&self, card: &mut ProjectCard, unit: Unit) -> Result<(), String> {
        given("--fold", self.fold.as_ref(), |text| {
            let kind = FoldKind::from_word(text).map_err(|e| e.to_string())?;
            cardread::fold_kind(card, kind);
            Ok(())
        })?;
        given("--edge", self.edge.as_ref(), |text| {
            let edge = match text {
                "left" => FoldEdge::Left,
                "top" => FoldEdge::Top,
                _ => return Err(format!("\"{text}\": write left or top")),
            };
            cardread::fold_edge(card, edge)
        })?;
        given("--fold-measures", self.fold_measures.as_ref(), |text| cardread::fold(card, text, unit))
    }

    fn put_envelope(&self, book: &Book, card: &mut ProjectCard, unit: Unit) -> Result<(), String> {
        if let Some(name) = &self.envelope {
            card.envelope = of_shelf(book, "--envelope", name, |kind| kind == Kind::Envelope)?;
        }
        given("--into", self.into.as_ref(), |text| {
            card.enclosing = match text {
                "smallest" => EnvelopeChoice::Smallest,
                "none" => EnvelopeChoice::NoEnvelope,
                text => EnvelopeChoice::This(envelope::find(text, unit).map_err(|e| e.to_string())?),
            };
            card.envelope = None;
            Ok(())
        })?;
        given("--inside", self.inside.as_ref(), |text| cardread::inside(card, &yes_or_none(text), unit))?;
        given("--envelope-paper", self.envelope_paper.as_ref(), |text| {
            card.envelope_paper = if text == "none" { None } else { Some(cardread::paper(text, unit)?) };
            Ok(())
        })?;
        given("--envelope-spares", self.envelope_spares.as_ref(), |text| {
            count(text, 0).map(|n| card.envelope_spares = n)
        })?;
        given("--envelope-weight", self.envelope_weight.as_ref(), |text| {
            cardread::weight_or_none(text).map(|w| card.weighed.envelope = w)
        })?;
        given("--glue-weight", self.glue_weight.as_ref(), |text| {
            cardread::weight_or_none(text).map(|w| card.weighed.glue = w)
        })?;
        given("--ease", self.ease.as_ref(), |text| {
            cardread::length_or_zero(text, unit).map(|l| card.ease = l)
        })?;
        given("--address", self.address.as_ref(), |text| {
            card.address = match text {
                "long" => Address::Long,
                "short" => Address::Short,
                _ => return Err(format!("\"{text}\": write long or short")),
            };
            Ok(())
        })?;
        for text in &self.price {
            given("--price", Some(text), |text| {
                if text == "none" {
                    card.prices.clear();
                    return Ok(());
                }
                cardread::price(text, &book.settings().currency).map(|p| cardread::note_price(card, p))
            })?;
        }
        Ok(())
    }
}
