//! Lines of the log as they are stored, and as an edit asks for them.

use super::booked::WorkV1;
use super::field::{Misfit, is_default, maybe_day};
use super::words::ReasonV1;
use crate::domain::money::Money;
use crate::domain::stock::{ItemId, LogLine, NewLine, OffcutId, Reason};
use jiff::civil::Date;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A line of the log; its number is its place. A hundred thousand of them are read at every start, so that each is one
/// text, `2026-03-02 12 -4 used spring class` (day, item, change, reason, job), and what few lines have stands apart
/// ([`DetailV1`]).
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)]
pub struct LineV1 {
    pub date: Date,
    pub item: u32,
    pub change: i64,
    pub reason: Reason,
    pub job: String,
}

/// The reasons' words in a line, none with a space.
const REASONS: [(&str, Reason); 6] = [
    ("received", Reason::Received),
    ("used", Reason::Used),
    ("adjusted", Reason::Adjusted),
    ("offcut-made", Reason::OffcutMade),
    ("offcut-used", Reason::OffcutUsed),
    ("voided", Reason::Voided),
];

/// What a change of a count for a reason that is not known is nearest to.
const STAND_IN: [&str; 1] = ["adjusted"];

impl Serialize for LineV1 {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let reason = REASONS.iter().find(|(_, r)| *r == self.reason).map_or("", |(word, _)| word);
        to.collect_str(&format_args!("{} {} {} {reason} {}", self.date, self.item, self.change, self.job))
    }
}

impl<'de> Deserialize<'de> for LineV1 {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_str(LineText)
    }
}

struct LineText;

impl Visitor<'_> for LineText {
    type Value = LineV1;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("a log line such as 2026-03-02 12 -4 used spring class")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<LineV1, E> {
        let none = || E::custom(format!("\"{text}\" is not a log line"));
        let (line, reason) = read_line(text).ok_or_else(none)?;
        match REASONS.iter().find(|(word, _)| *word == reason) {
            Some((_, reason)) => Ok(LineV1 { reason: *reason, ..line }),
            None => Err(E::unknown_variant(reason, &STAND_IN)),
        }
    }
}

/// A line, taken for an adjustment, and the word of its reason.
fn read_line(text: &str) -> Option<(LineV1, &str)> {
    let mut parts = text.splitn(5, ' ');
    let mut next = || parts.next();
    let (date, item, change, reason, job) = (next()?, next()?, next()?, next()?, next()?);
    let line = LineV1 {
        date: date.parse().ok()?,
        item: item.parse().ok()?,
        change: change.parse().ok()?,
        reason: Reason::Adjusted,
        job: job.to_owned(),
    };
    Some((line, reason))
}

/// What few lines of the log have.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct DetailV1 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offcut: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voids: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub lot: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub work: Option<WorkV1>,
}

impl From<&LogLine> for LineV1 {
    fn from(l: &LogLine) -> Self {
        Self { date: l.date, item: l.item.0, change: l.change, reason: l.reason, job: l.job.clone() }
    }
}

impl DetailV1 {
    /// What a line has beyond the usual; `None` for most.
    pub fn of(l: &LogLine) -> Option<Self> {
        let detail = Self {
            offcut: l.offcut.map(|o| o.0),
            voids: l.voids,
            price: l.price.map(Money::minor),
            lot: l.lot.clone(),
            work: l.work.as_ref().map(Into::into),
        };
        (!is_default(&detail)).then_some(detail)
    }
}

impl LineV1 {
    /// The line as number `seq` of the log.
    ///
    /// # Errors
    /// A sentence where a size in it is none.
    pub fn into_line(self, seq: u64, detail: DetailV1) -> Result<LogLine, Misfit> {
        Ok(LogLine {
            seq,
            date: self.date,
            item: ItemId(self.item),
            offcut: detail.offcut.map(OffcutId),
            change: self.change,
            reason: self.reason,
            job: self.job,
            voids: detail.voids,
            price: detail.price.map(Money::from_minor),
            lot: detail.lot,
            work: detail.work.map(TryInto::try_into).transpose()?,
        })
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
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub work: Option<WorkV1>,
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
            work: l.work.as_ref().map(Into::into),
        }
    }
}

impl TryFrom<NewLineV1> for NewLine {
    type Error = Misfit;
    fn try_from(l: NewLineV1) -> Result<Self, Misfit> {
        Ok(Self {
            item: ItemId(l.item),
            offcut: l.offcut.map(OffcutId),
            change: l.change,
            reason: l.reason.into(),
            job: l.job,
            on: l.on,
            price: l.price.map(Money::from_minor),
            lot: l.lot,
            work: l.work.map(TryInto::try_into).transpose()?,
        })
    }
}
