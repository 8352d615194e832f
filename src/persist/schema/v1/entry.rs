//! Edits and steps as the journal stores them.

use super::card::CardV1;
use super::field::{Misfit, day, maybe_day};
use super::lines::NewLineV1;
use super::project::{ProjectV1, SettingsV1};
use super::rows::{AssortmentV1, BookingV1, FormatV1, ItemV1, OffcutV1, OrderV1, SwatchV1, TrioV1};
use crate::domain::edit::{Edit, Row};
use crate::domain::history::{Entry, Origin, Step};
use crate::domain::project::ProjectCard;
use crate::domain::stock::ProjectId;
use crate::domain::stock::ids::RecordKey;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A step of the journal.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct EntryV1 {
    #[serde(with = "day")]
    pub on: Date,
    /// Who wrote it: tells a writer whether a line that it could not confirm is on the disk after all.
    pub by: u64,
    #[serde(default, skip_serializing_if = "super::field::is_default")]
    pub origin: OriginV1,
    pub edit: EditV1,
}

impl EntryV1 {
    /// A step with its writer's mark.
    pub fn new(entry: &Entry, by: u64) -> Self {
        Self { on: entry.date, by, origin: entry.origin.into(), edit: (&entry.edit).into() }
    }

    /// The step as number `seq`.
    ///
    /// # Errors
    /// What does not fit.
    pub fn into_entry(self, seq: u64) -> Result<Entry, Misfit> {
        Ok(Entry { seq, date: self.on, origin: self.origin.into(), edit: self.edit.try_into()? })
    }
}

/// How a step came about.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum OriginV1 {
    #[default]
    New,
    Undo(u64),
    Redo(u64),
}

impl From<Origin> for OriginV1 {
    fn from(o: Origin) -> Self {
        match o {
            Origin::New => Self::New,
            Origin::Undo(n) => Self::Undo(n),
            Origin::Redo(n) => Self::Redo(n),
        }
    }
}

impl From<OriginV1> for Origin {
    fn from(o: OriginV1) -> Self {
        match o {
            OriginV1::New => Self::New,
            OriginV1::Undo(n) => Self::Undo(n),
            OriginV1::Redo(n) => Self::Redo(n),
        }
    }
}

/// A step that can be taken back or done again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct StepV1 {
    pub seq: u64,
    pub label: String,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "maybe_day")]
    pub date: Option<Date>,
    pub edit: EditV1,
}

impl From<&Step> for StepV1 {
    fn from(s: &Step) -> Self {
        Self { seq: s.seq, label: s.label.clone(), date: s.date, edit: (&s.edit).into() }
    }
}

impl TryFrom<StepV1> for Step {
    type Error = Misfit;
    fn try_from(s: StepV1) -> Result<Self, Misfit> {
        Ok(Self { seq: s.seq, label: s.label, date: s.date, edit: s.edit.try_into()? })
    }
}

/// A change to one record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum RowV1<T> {
    Add(u32, T),
    Remove(u32),
    Alter { id: u32, was: T, now: T },
}

impl<K: RecordKey, T, S: for<'a> From<&'a T>> From<&Row<K, T>> for RowV1<S> {
    fn from(row: &Row<K, T>) -> Self {
        match row {
            Row::Add(id, new) => Self::Add(id.number(), (&**new).into()),
            Row::Remove(id) => Self::Remove(id.number()),
            Row::Alter { id, was, now } => {
                Self::Alter { id: id.number(), was: (&**was).into(), now: (&**now).into() }
            }
        }
    }
}

impl<S> RowV1<S> {
    fn into_row<K: RecordKey, T: TryFrom<S, Error = Misfit>>(self) -> Result<Row<K, T>, Misfit> {
        Ok(match self {
            Self::Add(id, new) => Row::add(K::from_number(id), new.try_into()?),
            Self::Remove(id) => Row::Remove(K::from_number(id)),
            Self::Alter { id, was, now } => Row::alter(K::from_number(id), was.try_into()?, now.try_into()?),
        })
    }
}

/// A change to the book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
#[allow(clippy::large_enum_variant)] // lives for the length of one line
pub enum EditV1 {
    Batch { label: String, edits: Vec<EditV1> },
    Item(RowV1<ItemV1>),
    Swatch(RowV1<SwatchV1>),
    Project(RowV1<ProjectV1>),
    Offcut(RowV1<OffcutV1>),
    Booking(RowV1<BookingV1>),
    Order(RowV1<OrderV1>),
    Assortment(RowV1<AssortmentV1>),
    Format(RowV1<FormatV1>),
    Trio(RowV1<TrioV1>),
    Settings { was: SettingsV1, now: SettingsV1 },
    LooseCard { was: Option<CardV1>, now: Option<CardV1> },
    Activate { was: Option<u32>, now: Option<u32> },
    Log(NewLineV1),
    Void { line: u64 },
}

impl From<&Edit> for EditV1 {
    fn from(edit: &Edit) -> Self {
        match edit {
            Edit::Batch { label, edits } => {
                Self::Batch { label: label.clone(), edits: edits.iter().map(Into::into).collect() }
            }
            Edit::Item(row) => Self::Item(row.into()),
            Edit::Swatch(row) => Self::Swatch(row.into()),
            Edit::Project(row) => Self::Project(row.into()),
            Edit::Offcut(row) => Self::Offcut(row.into()),
            Edit::Booking(row) => Self::Booking(row.into()),
            Edit::Order(row) => Self::Order(row.into()),
            Edit::Assortment(row) => Self::Assortment(row.into()),
            Edit::Format(row) => Self::Format(row.into()),
            Edit::Trio(row) => Self::Trio(row.into()),
            Edit::Settings { was, now } => Self::Settings { was: (&**was).into(), now: (&**now).into() },
            Edit::LooseCard { was, now } => {
                let card = |c: &Option<Box<ProjectCard>>| c.as_deref().map(Into::into);
                Self::LooseCard { was: card(was), now: card(now) }
            }
            Edit::Activate { was, now } => Self::Activate { was: was.map(|p| p.0), now: now.map(|p| p.0) },
            Edit::Log(line) => Self::Log(line.into()),
            Edit::Void { line } => Self::Void { line: *line },
        }
    }
}

impl TryFrom<EditV1> for Edit {
    type Error = Misfit;
    fn try_from(edit: EditV1) -> Result<Self, Misfit> {
        Ok(match edit {
            EditV1::Batch { label, edits } => Self::Batch {
                label,
                edits: edits.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            },
            EditV1::Item(row) => Self::Item(row.into_row()?),
            EditV1::Swatch(row) => Self::Swatch(row.into_row()?),
            EditV1::Project(row) => Self::Project(row.into_row()?),
            EditV1::Offcut(row) => Self::Offcut(row.into_row()?),
            EditV1::Booking(row) => Self::Booking(row.into_row()?),
            EditV1::Order(row) => Self::Order(row.into_row()?),
            EditV1::Assortment(row) => Self::Assortment(row.into_row()?),
            EditV1::Format(row) => Self::Format(row.into_row()?),
            EditV1::Trio(row) => Self::Trio(row.into_row()?),
            EditV1::Settings { was, now } => {
                Self::Settings { was: Box::new(was.try_into()?), now: Box::new(now.try_into()?) }
            }
            EditV1::LooseCard { was, now } => {
                let card = |c: Option<CardV1>| c.map(|c| c.try_into().map(Box::new)).transpose();
                Self::LooseCard { was: card(was)?, now: card(now)? }
            }
            EditV1::Activate { was, now } => {
                Self::Activate { was: was.map(ProjectId), now: now.map(ProjectId) }
            }
            EditV1::Log(line) => Self::Log(line.try_into()?),
            EditV1::Void { line } => Self::Void { line },
        })
    }
}
