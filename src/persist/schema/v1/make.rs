//! What is made beside a card, as it is stored.

use super::field::Misfit;
use super::words::{SideV1, SizeV1, length};
use crate::domain::cards::construction::bag::Bag;
use crate::domain::cards::make::Make;
use crate::domain::length::Length;
use serde::{Deserialize, Serialize};

/// Something to make. Lengths in units, as everywhere.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum MakeV1 {
    BoxAndLid { floor: SizeV1, depth: i64, lid_depth: i64, room: i64, sheet: Option<SizeV1> },
    SquareEnvelope(Option<SizeV1>),
    StraightEnvelope { inside: Option<SizeV1>, tab: Option<i64>, flap: Option<i64> },
    Bag { width: i64, depth: i64, height: i64, tab: i64, bottom: Option<i64> },
    Pocket { panel: i64, height: i64, tab: i64 },
    Sleeve { width: i64, depth: i64, breadth: i64, tab: i64 },
    BellyBand { breadth: i64, round: SideV1, overlap: i64 },
    InsertSheet,
    InsideLiner,
    EnvelopeLiner { flap: i64, gum: i64 },
}

impl From<Make> for MakeV1 {
    fn from(make: Make) -> Self {
        let units = Length::units;
        match make {
            Make::BoxAndLid { floor, depth, lid_depth, room, sheet } => Self::BoxAndLid {
                floor: floor.into(),
                depth: units(depth),
                lid_depth: units(lid_depth),
                room: units(room),
                sheet: sheet.map(Into::into),
            },
            Make::SquareEnvelope(inside) => Self::SquareEnvelope(inside.map(Into::into)),
            Make::StraightEnvelope { inside, tab, flap } => Self::StraightEnvelope {
                inside: inside.map(Into::into),
                tab: tab.map(units),
                flap: flap.map(units),
            },
            Make::Bag(b) => Self::Bag {
                width: units(b.width),
                depth: units(b.depth),
                height: units(b.height),
                tab: units(b.tab),
                bottom: b.bottom.map(units),
            },
            Make::Pocket { panel, height, tab } => {
                Self::Pocket { panel: units(panel), height: units(height), tab: units(tab) }
            }
            Make::Sleeve { width, depth, breadth, tab } => Self::Sleeve {
                width: units(width),
                depth: units(depth),
                breadth: units(breadth),
                tab: units(tab),
            },
            Make::BellyBand { breadth, round, overlap } => {
                Self::BellyBand { breadth: units(breadth), round: round.into(), overlap: units(overlap) }
            }
            Make::InsertSheet => Self::InsertSheet,
            Make::InsideLiner => Self::InsideLiner,
            Make::EnvelopeLiner { flap, gum } => Self::EnvelopeLiner { flap: units(flap), gum: units(gum) },
        }
    }
}

impl TryFrom<MakeV1> for Make {
    type Error = Misfit;
    fn try_from(make: MakeV1) -> Result<Self, Misfit> {
        let maybe = |n: Option<i64>| n.map(length).transpose();
        Ok(match make {
            MakeV1::BoxAndLid { floor, depth, lid_depth, room, sheet } => Self::BoxAndLid {
                floor: floor.try_into()?,
                depth: length(depth)?,
                lid_depth: length(lid_depth)?,
                room: length(room)?,
                sheet: sheet.map(TryInto::try_into).transpose()?,
            },
            MakeV1::SquareEnvelope(inside) => {
                Self::SquareEnvelope(inside.map(TryInto::try_into).transpose()?)
            }
            MakeV1::StraightEnvelope { inside, tab, flap } => Self::StraightEnvelope {
                inside: inside.map(TryInto::try_into).transpose()?,
                tab: maybe(tab)?,
                flap: maybe(flap)?,
            },
            MakeV1::Bag { width, depth, height, tab, bottom } => Self::Bag(Bag {
                width: length(width)?,
                depth: length(depth)?,
                height: length(height)?,
                tab: length(tab)?,
                bottom: maybe(bottom)?,
            }),
            MakeV1::Pocket { panel, height, tab } => {
                Self::Pocket { panel: length(panel)?, height: length(height)?, tab: length(tab)? }
            }
            MakeV1::Sleeve { width, depth, breadth, tab } => Self::Sleeve {
                width: length(width)?,
                depth: length(depth)?,
                breadth: length(breadth)?,
                tab: length(tab)?,
            },
            MakeV1::BellyBand { breadth, round, overlap } => {
                Self::BellyBand { breadth: length(breadth)?, round: round.into(), overlap: length(overlap)? }
            }
            MakeV1::InsertSheet => Self::InsertSheet,
            MakeV1::InsideLiner => Self::InsideLiner,
            MakeV1::EnvelopeLiner { flap, gum } => {
                Self::EnvelopeLiner { flap: length(flap)?, gum: length(gum)? }
            }
        })
    }
}
