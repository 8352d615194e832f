//! Cards as they are stored. A card of plain mats may also stand in the short form, reveals and papers side by side.

use super::field::{Misfit, is_default};
use super::words::{GrainV1, SideV1, SizeV1, length};
use crate::domain::cards::card::EnvelopeChoice;
use crate::domain::cards::envelope::{EASE, Envelope};
use crate::domain::cards::fold::{Fold, FoldEdge, FoldKind, Score};
use crate::domain::cards::frame::Frame;
use crate::domain::cards::layer::{LayerPlace, Shape};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::paper::Paper;
use crate::domain::cards::post::{Address, OwnPrice, Verdict};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::table::System;
use crate::domain::cards::weighed::Weighed;
use crate::domain::length::Length;
use crate::domain::money::Money;
use crate::domain::project::{CardColour, CardExtra, CardLayer, PaperRef, ProjectCard, on_shelf};
use crate::domain::stock::{ItemId, SwatchId};
use crate::domain::thickness::Thickness;
use crate::domain::weight::{Grammage, Weight};
use serde::{Deserialize, Serialize};

use super::make::MakeV1;

/// A card of a project.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct CardV1 {
    pub name: String,
    pub face: SizeV1,
    /// The kind of fold, by its word.
    pub fold: String,
    /// The fold lies on the top edge.
    #[serde(default, skip_serializing_if = "is_default")]
    pub top_edge: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub panels: Option<u32>,
    /// In hundredths of a micrometre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fold_thickness: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowance: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base: Option<SizeV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base_paper: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base_loose: Option<PaperV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub base_made_by: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub base_allowance: i64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base_grain: Option<SideV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub scores: Vec<(SideV1, i64)>,
    /// Short form: plain mats, read but no longer written.
    #[serde(default, skip_serializing_if = "is_default")]
    pub reveals: Vec<i64>,
    /// Short form: the papers of `reveals`.
    #[serde(default, skip_serializing_if = "is_default")]
    pub papers: Vec<Option<u32>>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub layers: Vec<LayerV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub extras: Vec<ExtraV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub envelope: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub enclosing: WishV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub envelope_paper: Option<PaperV1>,
    /// More envelopes, to spare over the whole project.
    #[serde(default, skip_serializing_if = "is_default")]
    pub envelope_spares: u32,
    /// The empty envelope as it was weighed, in milligrams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub envelope_mg: Option<i64>,
    /// Glue, foam and the like of one card as they were weighed, in milligrams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub glue_mg: Option<i64>,
    /// Room in the envelope; left out for the usual one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ease: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub address_short: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub prices: Vec<PriceV1>,
    pub count: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub spares: u32,
}

/// A layer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct LayerV1 {
    #[serde(default, skip_serializing_if = "is_default")]
    pub name: String,
    pub shape: ShapeV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loose: Option<PaperV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub swatch: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub upright: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub made_by: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub allowance: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    pub grain: GrainV1,
    /// In hundredths of a micrometre.
    #[serde(default, skip_serializing_if = "is_default")]
    pub raise: i64,
    /// Left, top, right, bottom, overlap.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame: Option<(i64, i64, i64, i64, i64)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insert: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insert_loose: Option<PaperV1>,
}

fn one() -> u32 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that the derive calls
fn is_one(n: &u32) -> bool {
    *n == 1
}

/// What gives a layer its size.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum ShapeV1 {
    Mat(i64),
    Sides(i64, i64, i64, i64),
    Panel {
        size: SizeV1,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at: Option<(i64, i64)>,
    },
    Strip {
        along: SideV1,
        breadth: i64,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at: Option<i64>,
    },
}

/// A paper that is none of the shelf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct PaperV1 {
    pub name: String,
    /// Milligrams a square metre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mg_m2: Option<i64>,
    /// Hundredths of a micrometre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caliper: Option<i64>,
}

/// Something made beside the card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct ExtraV1 {
    pub make: MakeV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loose: Option<PaperV1>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
}

/// What the card goes into.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum WishV1 {
    #[default]
    Smallest,
    Usual(EnvelopeV1),
    This(EnvelopeV1),
    NoEnvelope,
}

/// An envelope.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct EnvelopeV1 {
    #[serde(default, skip_serializing_if = "is_default")]
    pub name: String,
    /// `us` or `iso`; left out for one given by its size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub system: Option<String>,
    pub outside: SizeV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inside: Option<SizeV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub source: String,
}

/// A price with its date, as the person wrote it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct PriceV1 {
    pub rules: String,
    pub verdict: String,
    pub price: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    pub currency: String,
    pub date: String,
}

impl From<&Paper> for PaperV1 {
    fn from(p: &Paper) -> Self {
        Self {
            name: p.name.clone(),
            mg_m2: p.grammage.map(Grammage::mg_per_m2),
            caliper: p.caliper.map(Thickness::units),
        }
    }
}

impl TryFrom<PaperV1> for Paper {
    type Error = Misfit;
    fn try_from(p: PaperV1) -> Result<Self, Misfit> {
        if p.mg_m2.is_some_and(|n| !(0..=100_000_000).contains(&n)) {
            return Err(Misfit(format!("the paper {} has a weight out of range", p.name)));
        }
        Ok(Self {
            name: p.name,
            grammage: p.mg_m2.map(Grammage::from_mg_per_m2),
            caliper: p.caliper.map(thickness).transpose()?,
        })
    }
}

/// A thickness read back: nothing on a card is thicker than a parcel.
fn weight(mg: i64) -> Result<Weight, Misfit> {
    if !(0..=Weighed::MOST.mg()).contains(&mg) {
        return Err(Misfit(format!("a weight of {mg} mg is out of range")));
    }
    Ok(Weight::from_mg(mg))
}

fn thickness(units: i64) -> Result<Thickness, Misfit> {
    if !(0..=100_000_000).contains(&units) {
        return Err(Misfit(format!("a thickness of {units} units is out of range")));
    }
    Ok(Thickness::from_units(units))
}

impl From<Shape> for ShapeV1 {
    fn from(s: Shape) -> Self {
        match s {
            Shape::Inset(r) => match r.uniform() {
                Some(all) => Self::Mat(all.units()),
                None => Self::Sides(r.left.units(), r.top.units(), r.right.units(), r.bottom.units()),
            },
            Shape::Panel { size, place } => Self::Panel {
                size: size.into(),
                at: match place {
                    LayerPlace::Middle => None,
                    LayerPlace::At { x, y } => Some((x.units(), y.units())),
                },
            },
            Shape::Strip { along, breadth, at } => {
                Self::Strip { along: along.into(), breadth: breadth.units(), at: at.map(Length::units) }
            }
        }
    }
}

impl TryFrom<ShapeV1> for Shape {
    type Error = Misfit;
    fn try_from(s: ShapeV1) -> Result<Self, Misfit> {
        Ok(match s {
            ShapeV1::Mat(all) => Self::Inset(Reveal::all(length(all)?)),
            ShapeV1::Sides(l, t, r, b) => {
                Self::Inset(Reveal::sides(length(l)?, length(t)?, length(r)?, length(b)?))
            }
            ShapeV1::Panel { size, at } => Self::Panel {
                size: size.try_into()?,
                place: match at {
                    None => LayerPlace::Middle,
                    Some((x, y)) => LayerPlace::At { x: length(x)?, y: length(y)? },
                },
            },
            ShapeV1::Strip { along, breadth, at } => Self::Strip {
                along: along.into(),
                breadth: length(breadth)?,
                at: at.map(length).transpose()?,
            },
        })
    }
}

fn shelf_number(paper: Option<&PaperRef>) -> Option<u32> {
    on_shelf(paper).map(|id| id.0)
}

fn other(paper: Option<&PaperRef>) -> Option<PaperV1> {
    paper.and_then(PaperRef::other).map(Into::into)
}

/// A file may name both a line of the shelf and another paper; the shelf's holds, as it always has.
fn chosen(shelf: Option<u32>, other: Option<PaperV1>) -> Result<Option<PaperRef>, Misfit> {
    match (shelf, other) {
        (Some(id), _) => Ok(Some(PaperRef::Shelf(ItemId(id)))),
        (None, Some(paper)) => Ok(Some(PaperRef::Other(paper.try_into()?))),
        (None, None) => Ok(None),
    }
}

impl From<&CardLayer> for LayerV1 {
    fn from(l: &CardLayer) -> Self {
        let (swatch, colour) = match &l.colour {
            Some(CardColour::Swatch(id)) => (Some(id.0), None),
            Some(CardColour::Named(name)) => (None, Some(name.clone())),
            None => (None, None),
        };
        let frame = l.frame.map(|f| {
            let b = f.border;
            (b.left.units(), b.top.units(), b.right.units(), b.bottom.units(), f.overlap.units())
        });
        Self {
            name: l.name.clone(),
            shape: l.shape.into(),
            on: l.on.and_then(|n| u32::try_from(n).ok()),
            paper: shelf_number(l.paper.as_ref()),
            loose: other(l.paper.as_ref()),
            swatch,
            colour,
            count: l.count,
            upright: !l.may_turn,
            made_by: made_by_word(l.made_by),
            allowance: l.allowance.units(),
            grain: l.grain.into(),
            raise: l.raise.units(),
            frame,
            insert: shelf_number(l.insert.as_ref()),
            insert_loose: other(l.insert.as_ref()),
        }
    }
}

impl TryFrom<LayerV1> for CardLayer {
    type Error = Misfit;
    fn try_from(l: LayerV1) -> Result<Self, Misfit> {
        let colour = match (l.swatch, l.colour) {
            (Some(id), _) => Some(CardColour::Swatch(SwatchId(id))),
            (None, name) => name.map(CardColour::Named),
        };
        let frame = match l.frame {
            Some((left, top, right, bottom, overlap)) => Some(Frame {
                border: Reveal::sides(length(left)?, length(top)?, length(right)?, length(bottom)?),
                overlap: length(overlap)?,
            }),
            None => None,
        };
        Ok(Self {
            name: l.name,
            on: l.on.map(|n| n as usize),
            paper: chosen(l.paper, l.loose)?,
            colour,
            count: l.count,
            may_turn: !l.upright,
            made_by: made_by(&l.made_by)?,
            allowance: length(l.allowance)?,
            grain: l.grain.into(),
            raise: thickness(l.raise)?,
            frame,
            insert: chosen(l.insert, l.insert_loose)?,
            ..Self::new(l.shape.try_into()?)
        })
    }
}

/// How a part is made, in its words; nothing for a straight cut.
pub(super) fn made_by_word(way: MadeBy) -> String {
    if way == MadeBy::Straight { String::new() } else { way.word().to_owned() }
}

pub(super) fn made_by(word: &str) -> Result<MadeBy, Misfit> {
    if word.is_empty() { Ok(MadeBy::Straight) } else { MadeBy::from_word(word).map_err(Misfit) }
}

impl From<&CardExtra> for ExtraV1 {
    fn from(e: &CardExtra) -> Self {
        Self {
            make: e.make.into(),
            paper: shelf_number(e.paper.as_ref()),
            loose: other(e.paper.as_ref()),
            count: e.count,
        }
    }
}

impl TryFrom<ExtraV1> for CardExtra {
    type Error = Misfit;
    fn try_from(e: ExtraV1) -> Result<Self, Misfit> {
        Ok(Self { make: e.make.try_into()?, paper: chosen(e.paper, e.loose)?, count: e.count })
    }
}

impl From<&Envelope> for EnvelopeV1 {
    fn from(e: &Envelope) -> Self {
        let system = e.system.map(|s| if s == System::Us { "us" } else { "iso" });
        Self {
            name: e.name.clone(),
            system: system.map(str::to_owned),
            outside: e.outside.into(),
            inside: e.measured_inside.map(Into::into),
            source: e.source.clone(),
        }
    }
}

impl TryFrom<EnvelopeV1> for Envelope {
    type Error = Misfit;
    fn try_from(e: EnvelopeV1) -> Result<Self, Misfit> {
        let system = match e.system.as_deref() {
            None => None,
            Some("us") => Some(System::Us),
            Some("iso") => Some(System::Iso),
            Some(other) => return Err(Misfit(format!("\"{other}\" is not a system of envelopes"))),
        };
        Ok(Self {
            name: e.name,
            system,
            outside: e.outside.try_into()?,
            measured_inside: e.inside.map(TryInto::try_into).transpose()?,
            source: e.source,
        })
    }
}

impl From<&EnvelopeChoice> for WishV1 {
    fn from(w: &EnvelopeChoice) -> Self {
        match w {
            EnvelopeChoice::Smallest => Self::Smallest,
            EnvelopeChoice::Usual(e) => Self::Usual(e.into()),
            EnvelopeChoice::This(e) => Self::This(e.into()),
            EnvelopeChoice::NoEnvelope => Self::NoEnvelope,
        }
    }
}

impl TryFrom<WishV1> for EnvelopeChoice {
    type Error = Misfit;
    fn try_from(w: WishV1) -> Result<Self, Misfit> {
        Ok(match w {
            WishV1::Smallest => Self::Smallest,
            WishV1::Usual(e) => Self::Usual(e.try_into()?),
            WishV1::This(e) => Self::This(e.try_into()?),
            WishV1::NoEnvelope => Self::NoEnvelope,
        })
    }
}

impl From<&OwnPrice> for PriceV1 {
    fn from(p: &OwnPrice) -> Self {
        Self {
            rules: p.rules.clone(),
            verdict: p.verdict.word().to_owned(),
            price: p.price.minor(),
            currency: p.currency.clone(),
            date: p.date.clone(),
        }
    }
}

impl TryFrom<PriceV1> for OwnPrice {
    type Error = Misfit;
    fn try_from(p: PriceV1) -> Result<Self, Misfit> {
        let verdict = Verdict::from_word(&p.verdict)
            .ok_or_else(|| Misfit(format!("\"{}\" is not a verdict of a postal service", p.verdict)))?;
        Ok(Self {
            rules: p.rules,
            verdict,
            price: Money::from_minor(p.price),
            currency: p.currency,
            date: p.date,
        })
    }
}

impl From<&ProjectCard> for CardV1 {
    fn from(c: &ProjectCard) -> Self {
        Self {
            name: c.name.clone(),
            face: c.face.into(),
            fold: c.fold.kind.word().to_owned(),
            top_edge: c.fold.edge == FoldEdge::Top,
            panels: c.fold.panels,
            fold_thickness: c.fold.thickness.map(Thickness::units),
            allowance: c.fold.allowance.map(Length::units),
            base: c.base.map(Into::into),
            base_paper: shelf_number(c.base_paper.as_ref()),
            base_loose: other(c.base_paper.as_ref()),
            base_made_by: made_by_word(c.base_made_by),
            base_allowance: c.base_allowance.units(),
            base_grain: c.base_grain.map(Into::into),
            scores: c.scores.iter().map(|s| (s.side.into(), s.at.units())).collect(),
            reveals: Vec::new(),
            papers: Vec::new(),
            layers: c.layers.iter().map(Into::into).collect(),
            extras: c.extras.iter().map(Into::into).collect(),
            envelope: c.envelope.map(|i| i.0),
            enclosing: (&c.enclosing).into(),
            envelope_paper: c.envelope_paper.as_ref().map(Into::into),
            envelope_spares: c.envelope_spares,
            envelope_mg: c.weighed.envelope.map(Weight::mg),
            glue_mg: c.weighed.glue.map(Weight::mg),
            ease: Some(c.ease).filter(|e| *e != EASE).map(Length::units),
            address_short: c.address == Address::Short,
            prices: c.prices.iter().map(Into::into).collect(),
            count: c.count,
            spares: c.spares,
        }
    }
}

impl TryFrom<CardV1> for ProjectCard {
    type Error = Misfit;
    fn try_from(c: CardV1) -> Result<Self, Misfit> {
        let kind = FoldKind::from_word(&c.fold).map_err(|e| Misfit(e.to_string()))?;
        let fold = Fold {
            kind,
            edge: if c.top_edge { FoldEdge::Top } else { FoldEdge::Left },
            panels: c.panels,
            thickness: c.fold_thickness.map(thickness).transpose()?,
            allowance: c.allowance.map(length).transpose()?,
        };
        let mats = c.reveals.into_iter().map(length).collect::<Result<Vec<_>, _>>()?;
        let papers: Vec<Option<ItemId>> = c.papers.into_iter().map(|p| p.map(ItemId)).collect();
        let mut card = Self::new(c.name, c.face.try_into()?).with_mats(&mats, &papers);
        for layer in c.layers {
            card.layers.push(layer.try_into()?);
        }
        for (side, at) in c.scores {
            card.scores.push(Score { side: side.into(), at: length(at)? });
        }
        Ok(Self {
            fold,
            base: c.base.map(TryInto::try_into).transpose()?,
            base_paper: chosen(c.base_paper, c.base_loose)?,
            base_made_by: made_by(&c.base_made_by)?,
            base_allowance: length(c.base_allowance)?,
            base_grain: c.base_grain.map(Into::into),
            extras: c.extras.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            envelope: c.envelope.map(ItemId),
            enclosing: c.enclosing.try_into()?,
            envelope_paper: c.envelope_paper.map(TryInto::try_into).transpose()?,
            envelope_spares: c.envelope_spares,
            weighed: Weighed {
                envelope: c.envelope_mg.map(weight).transpose()?,
                glue: c.glue_mg.map(weight).transpose()?,
            },
            ease: c.ease.map_or(Ok(EASE), length)?,
            address: if c.address_short { Address::Short } else { Address::Long },
            prices: c.prices.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            count: c.count,
            spares: c.spares,
            ..card
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Books of before could hold both for one part, and the line of the shelf was what counted.
    #[test]
    fn of_two_papers_for_one_part_the_shelf_s_holds() {
        let other = PaperV1 { name: "oat".into(), mg_m2: Some(216_000), caliper: None };
        assert_eq!(chosen(Some(4), Some(other.clone())).unwrap(), Some(PaperRef::Shelf(ItemId(4))));
        let kept = chosen(None, Some(other.clone())).unwrap();
        assert_eq!(super::other(kept.as_ref()), Some(other));
        assert_eq!(shelf_number(kept.as_ref()), None);
    }
}
