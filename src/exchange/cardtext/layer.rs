//! A layer of a card file: its text, how that is read, and how it is written.

use super::measures::{
    Papers, Reader, Writer, at, grain_text, made_by, made_by_text, named_paper, raise_text, side,
};
use crate::domain::cards::fold::Side;
use crate::domain::cards::frame::Frame;
use crate::domain::cards::layer::{Layer, LayerPlace, Shape};
use crate::domain::cards::paper::{self, Paper};
use crate::domain::cards::reveal::Reveal;
use crate::domain::thickness::Thickness;
use serde::{Deserialize, Serialize};

/// More of one layer than any card takes.
const MOST_OF_A_LAYER: u32 = 1000;

#[derive(Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(in crate::exchange) struct LayerText {
    #[serde(skip_serializing_if = "String::is_empty")]
    pub(in crate::exchange) name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) reveal: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) size: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) strip: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) along: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) at: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) x: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) y: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) on: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) paper: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) colour: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) count: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) turn: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) made_by: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) allowance: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) grain: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) raise: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) frame: Option<FrameText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct FrameText {
    pub(in crate::exchange) width: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) overlap: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) insert: Option<String>,
}

impl Reader {
    pub(in crate::exchange) fn layer(
        &self,
        index: usize,
        text: &LayerText,
        papers: &[Paper],
    ) -> Result<Layer, String> {
        let place = format!("layer {}", index + 1);
        let shape = self.shape(&place, text)?;
        let on = match text.on {
            Some(0) => {
                return Err(format!("{place}: on counts layers from 1; leave it out for the one before"));
            }
            on => on.map(|n| n - 1),
        };
        let count = text.count.unwrap_or(1);
        if count > MOST_OF_A_LAYER {
            return Err(format!(
                "{place}: {count} of it on one card is too many: use at most {MOST_OF_A_LAYER}"
            ));
        }
        let raise = text.raise.as_ref().map(|r| at(&place, paper::raise(r, self.unit))).transpose()?;
        let frame = text.frame.as_ref().map(|f| self.frame(&place, f)).transpose()?;
        let (allowance, grain) = self.around(&place, text.allowance.as_deref(), text.grain.as_deref())?;
        Ok(Layer {
            name: text.name.clone(),
            shape,
            on,
            paper: named_paper(&place, text.paper.as_deref(), papers)?,
            colour: text.colour.clone(),
            count,
            may_turn: text.turn.unwrap_or(true),
            made_by: made_by(&place, text.made_by.as_deref())?,
            allowance,
            grain,
            raise: raise.unwrap_or_default(),
            frame,
            insert: named_paper(&place, text.frame.as_ref().and_then(|f| f.insert.as_deref()), papers)?,
        })
    }

    /// A reveal, a size or a strip, and only what belongs to it.
    fn shape(&self, place: &str, text: &LayerText) -> Result<Shape, String> {
        let has_place = text.x.is_some() || text.y.is_some();
        let has_strip = text.along.is_some() || text.at.is_some();
        let shape = match (&text.reveal, &text.size, &text.strip) {
            (Some(reveal), None, None) => Shape::Inset(at(place, Reveal::parse(reveal, self.unit))?),
            (None, Some(size), None) => {
                Shape::Panel { size: self.size(place, size)?, place: self.place(place, text)? }
            }
            (None, None, Some(breadth)) => Shape::Strip {
                along: text.along.as_deref().map_or(Ok(Side::Width), |s| side(place, s))?,
                breadth: self.length(place, breadth)?,
                at: text.at.as_ref().map(|a| self.length_or_zero(place, a)).transpose()?,
            },
            _ => return Err(format!("{place}: give it either a reveal or a size, or a strip's width")),
        };
        if text.size.is_none() && has_place {
            return Err(format!("{place}: x and y are for a layer with a size; a reveal places it already"));
        }
        if text.strip.is_none() && has_strip {
            return Err(format!("{place}: along and at are for a strip; give it a strip's width"));
        }
        Ok(shape)
    }

    fn place(&self, place: &str, text: &LayerText) -> Result<LayerPlace, String> {
        match (&text.x, &text.y) {
            (None, None) => Ok(LayerPlace::Middle),
            (Some(x), Some(y)) => {
                Ok(LayerPlace::At { x: self.length_or_zero(place, x)?, y: self.length_or_zero(place, y)? })
            }
            _ => Err(format!("{place}: give both x and y, or neither for the middle")),
        }
    }

    fn frame(&self, place: &str, text: &FrameText) -> Result<Frame, String> {
        let border = at(place, Reveal::parse(&text.width, self.unit))?;
        Ok(Frame { border, overlap: self.or(place, text.overlap.as_ref(), Frame::OVERLAP)? })
    }
}

impl Writer {
    pub(in crate::exchange) fn layer(&self, layer: &Layer, papers: &mut Papers) -> LayerText {
        let mut name_of = |paper: &Option<Paper>| paper.as_ref().map(|p| papers.name(p));
        let (paper, insert) = (name_of(&layer.paper), name_of(&layer.insert));
        let text = LayerText {
            name: layer.name.clone(),
            on: layer.on.map(|n| n + 1),
            paper,
            colour: layer.colour.clone(),
            count: Some(layer.count).filter(|n| *n != 1),
            turn: (!layer.may_turn).then_some(false),
            made_by: made_by_text(layer.made_by),
            allowance: layer.allowance.is_positive().then(|| self.length(layer.allowance)),
            grain: grain_text(layer.grain),
            raise: (layer.raise > Thickness::ZERO).then(|| raise_text(layer.raise)),
            frame: layer.frame.map(|f| self.frame(&f, insert)),
            ..LayerText::default()
        };
        match layer.shape {
            Shape::Inset(reveal) => LayerText { reveal: Some(self.reveal(&reveal)), ..text },
            Shape::Panel { size, place } => {
                let (x, y) = match place {
                    LayerPlace::Middle => (None, None),
                    LayerPlace::At { x, y } => (Some(self.length(x)), Some(self.length(y))),
                };
                LayerText { size: Some(self.size(size)), x, y, ..text }
            }
            Shape::Strip { along, breadth, at } => LayerText {
                strip: Some(self.length(breadth)),
                along: (along == Side::Height).then(|| along.word().to_owned()),
                at: at.map(|a| self.length(a)),
                ..text
            },
        }
    }

    fn frame(&self, frame: &Frame, insert: Option<String>) -> FrameText {
        let overlap = Some(frame.overlap).filter(|o| *o != Frame::OVERLAP);
        FrameText { width: self.reveal(&frame.border), overlap: overlap.map(|o| self.length(o)), insert }
    }
}
