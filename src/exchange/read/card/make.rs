//! The `make` list of a card file: what is to be made beside the card.

use crate::domain::cards::card::Extra;
use crate::domain::cards::construction::bag::Bag;
use crate::domain::cards::construction::boxes::LID_ROOM;
use crate::domain::cards::construction::envelope::for_card;
use crate::domain::cards::fold::Side;
use crate::domain::cards::format;
use crate::domain::cards::frame::BAND_OVERLAP;
use crate::domain::cards::make::Make;
use crate::domain::cards::paper::Paper;
use crate::domain::length::Length;
use crate::domain::size::Size;
use crate::exchange::cardtext::MakeText;
use crate::exchange::cardtext::measures::{Reader, at, named_paper, side};

impl Reader {
    pub(super) fn extra(&self, text: &MakeText, papers: &[Paper]) -> Result<Extra, String> {
        let MakeText::Of { paper, count, what } = text else { return Ok(Extra::of(self.make(text)?)) };
        Ok(Extra {
            make: self.make(what)?,
            paper: named_paper("make", paper.as_deref(), papers)?,
            count: count.unwrap_or(1),
        })
    }

    fn make(&self, text: &MakeText) -> Result<Make, String> {
        let half = Length::sixteenths(8);
        match text {
            MakeText::Box { length, width, depth, lid_depth, room, sheet } => {
                let depth = self.length("box: depth", depth)?;
                let floor = Size::new(self.length("box: length", length)?, self.length("box: width", width)?);
                Ok(Make::BoxAndLid {
                    floor,
                    depth,
                    lid_depth: self.or("box: lid depth", lid_depth.as_ref(), depth)?,
                    room: self.or("box: room", room.as_ref(), LID_ROOM)?,
                    sheet: sheet.as_ref().map(|s| self.size("box: sheet", s)).transpose()?,
                })
            }
            MakeText::SquareEnvelope { card, inside } => {
                let place = "square envelope";
                let inside = match (card, inside) {
                    (None, None) => None,
                    (None, Some(inside)) => Some(self.size(place, inside)?),
                    (Some(card), None) => {
                        let face = at(place, format::find(card, self.unit))?.face;
                        Some(for_card(face))
                    }
                    _ => return Err(format!("{place}: give it a card or an inside, not both")),
                };
                Ok(Make::SquareEnvelope(inside))
            }
            MakeText::StraightEnvelope { inside, tab, flap } => Ok(Make::StraightEnvelope {
                inside: inside.as_ref().map(|s| self.size("straight envelope", s)).transpose()?,
                tab: self.optional("straight envelope: tab", tab.as_ref())?,
                flap: self.optional("straight envelope: flap", flap.as_ref())?,
            }),
            MakeText::Bag { width, depth, height, tab, bottom } => Ok(Make::Bag(Bag {
                width: self.length("bag: width", width)?,
                depth: self.length("bag: depth", depth)?,
                height: self.length("bag: height", height)?,
                tab: self.or("bag: tab", tab.as_ref(), half)?,
                bottom: self.optional("bag: bottom", bottom.as_ref())?,
            })),
            MakeText::Pocket { panel, height, tab } => Ok(Make::Pocket {
                panel: self.length("pocket: panel", panel)?,
                height: self.length("pocket: height", height)?,
                tab: self.or("pocket: tab", tab.as_ref(), half)?,
            }),
            MakeText::Sleeve { width, depth, breadth, tab } => Ok(Make::Sleeve {
                width: self.length("sleeve: width", width)?,
                depth: self.length("sleeve: depth", depth)?,
                breadth: self.length("sleeve: its width (breadth)", breadth)?,
                tab: self.or("sleeve: tab", tab.as_ref(), half)?,
            }),
            MakeText::BellyBand { breadth, round, overlap } => Ok(Make::BellyBand {
                breadth: self.length("belly band: its width (breadth)", breadth)?,
                round: round.as_ref().map_or(Ok(Side::Width), |r| side("belly band: round", r))?,
                overlap: self.or("belly band: overlap", overlap.as_ref(), BAND_OVERLAP)?,
            }),
            MakeText::Of { .. } => Err("make: of(...) holds one thing, not another of(...)".to_owned()),
            MakeText::InsertSheet => Ok(Make::InsertSheet),
            MakeText::InsideLiner => Ok(Make::InsideLiner),
            MakeText::EnvelopeLiner { flap, gum } => Ok(Make::EnvelopeLiner {
                flap: self.length("envelope liner: flap", flap)?,
                gum: self.or("envelope liner: gum", gum.as_ref(), half)?,
            }),
        }
    }
}
