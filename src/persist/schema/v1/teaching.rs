//! What a class has beside its cards, and what came of it, as it is stored.

use super::field::{day, is_default};
use crate::domain::money::Money;
use crate::domain::project::{Afterwards, Sale, SaleKind, Teaching};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Sets a seat and to spare, hours, room, shares.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct TeachingV1 {
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub sets_a_seat: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub spare_sets: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub prepare_minutes: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub teach_minutes: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adhesive: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ink: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Option<u32>,
}

fn one() -> u32 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that the derive calls
fn is_one(n: &u32) -> bool {
    *n == 1
}

impl Default for TeachingV1 {
    fn default() -> Self {
        (&Teaching::default()).into()
    }
}

impl From<&Teaching> for TeachingV1 {
    fn from(t: &Teaching) -> Self {
        Self {
            sets_a_seat: t.sets_a_seat,
            spare_sets: t.spare_sets,
            prepare_minutes: t.prepare_minutes,
            teach_minutes: t.teach_minutes,
            room: t.room.map(Money::minor),
            adhesive: t.adhesive.map(Money::minor),
            ink: t.ink.map(Money::minor),
            margin: t.margin,
        }
    }
}

impl From<TeachingV1> for Teaching {
    fn from(t: TeachingV1) -> Self {
        Self {
            sets_a_seat: t.sets_a_seat,
            spare_sets: t.spare_sets,
            prepare_minutes: t.prepare_minutes,
            teach_minutes: t.teach_minutes,
            room: t.room.map(Money::from_minor),
            adhesive: t.adhesive.map(Money::from_minor),
            ink: t.ink.map(Money::from_minor),
            margin: t.margin,
        }
    }
}

/// Who came and what sold.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct AfterwardsV1 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub came: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paid: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub sales: Vec<SaleV1>,
}

/// What kind of thing left after a class.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum SaleKindV1 {
    Item,
    Kit,
    KitUsed,
}

/// What was sold, or a kit that was used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct SaleV1 {
    #[serde(with = "day")]
    pub on: Date,
    pub kind: SaleKindV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub what: String,
    pub count: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub takings: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    pub cost: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    pub from_shelf: bool,
}

impl From<&Afterwards> for AfterwardsV1 {
    fn from(a: &Afterwards) -> Self {
        Self { came: a.came, paid: a.paid, sales: a.sales.iter().map(Into::into).collect() }
    }
}

impl From<AfterwardsV1> for Afterwards {
    fn from(a: AfterwardsV1) -> Self {
        Self { came: a.came, paid: a.paid, sales: a.sales.into_iter().map(Into::into).collect() }
    }
}

impl From<&Sale> for SaleV1 {
    fn from(s: &Sale) -> Self {
        let kind = match s.kind {
            SaleKind::Item => SaleKindV1::Item,
            SaleKind::Kit => SaleKindV1::Kit,
            SaleKind::KitUsed => SaleKindV1::KitUsed,
        };
        Self {
            on: s.on,
            kind,
            what: s.what.clone(),
            count: s.count,
            takings: s.takings.minor(),
            cost: s.cost.minor(),
            from_shelf: s.from_shelf,
        }
    }
}

impl From<SaleV1> for Sale {
    fn from(s: SaleV1) -> Self {
        let kind = match s.kind {
            SaleKindV1::Item => SaleKind::Item,
            SaleKindV1::Kit => SaleKind::Kit,
            SaleKindV1::KitUsed => SaleKind::KitUsed,
        };
        Self {
            on: s.on,
            kind,
            what: s.what,
            count: s.count,
            takings: Money::from_minor(s.takings),
            cost: Money::from_minor(s.cost),
            from_shelf: s.from_shelf,
        }
    }
}
