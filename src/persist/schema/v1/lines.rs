//! Lines of the log as they are stored, and as an edit asks for them.

use super::words::ReasonV1;
use super::{day, is_default, maybe_day};
use crate::domain::money::Money;
use crate::domain::stock::{ItemId, LogLine, NewLine, OffcutId};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A line of the log; its number is its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct LineV1 {
    #[serde(with = "day")]
    pub date: Date,
    pub item: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offcut: Option<u32>,
    pub change: i64,
    pub reason: ReasonV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub job: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voids: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub lot: String,
}

impl From<&LogLine> for LineV1 {
    fn from(l: &LogLine) -> Self {
        Self {
            date: l.date,
            item: l.item.0,
            offcut: l.offcut.map(|o| o.0),
            change: l.change,
            reason: l.reason.into(),
            job: l.job.clone(),
            voids: l.voids,
            price: l.price.map(Money::minor),
            lot: l.lot.clone(),
        }
    }
}

impl LineV1 {
    /// The line as number `seq` of the log.
    pub fn into_line(self, seq: u64) -> LogLine {
        LogLine {
            seq,
            date: self.date,
            item: ItemId(self.item),
            offcut: self.offcut.map(OffcutId),
            change: self.change,
            reason: self.reason.into(),
            job: self.job,
            voids: self.voids,
            price: self.price.map(Money::from_minor),
            lot: self.lot,
        }
    }
}

/// A line as it is asked for in an edit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct NewLineV1 {
    pub item: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offcut: Option<u32>,
    pub change: i64,
    pub reason: ReasonV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub job: String,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "maybe_day")]
    pub on: Option<Date>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub lot: String,
}

impl From<&NewLine> for NewLineV1 {
    fn from(l: &NewLine) -> Self {
        Self {
            item: l.item.0,
            offcut: l.offcut.map(|o| o.0),
            change: l.change,
            reason: l.reason.into(),
            job: l.job.clone(),
            on: l.on,
            price: l.price.map(Money::minor),
            lot: l.lot.clone(),
        }
    }
}

impl From<NewLineV1> for NewLine {
    fn from(l: NewLineV1) -> Self {
        Self {
            item: ItemId(l.item),
            offcut: l.offcut.map(OffcutId),
            change: l.change,
            reason: l.reason.into(),
            job: l.job,
            on: l.on,
            price: l.price.map(Money::from_minor),
            lot: l.lot,
        }
    }
}
