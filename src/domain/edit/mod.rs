//! Edits: the only way in which a book changes. An edit holds numbers of records and differences with their
//! preconditions ("use 4"), never a count to be set, so that two windows can both write and neither overwrites the
//! other. Each has an inverse, and a refused one changes nothing.

mod apply;
pub mod check;
mod describe;
pub mod renumber;
mod rests;

use crate::domain::book::format::SheetFormat;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::settings::BookSettings;
use crate::domain::stock::{
    Assortment, AssortmentId, Booking, BookingId, FormatId, Item, ItemId, KeptTrio, NamedColour, NewLine,
    Offcut, OffcutId, Order, OrderId, ProjectId, SwatchId, TrioId,
};

/// A change to one record of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Row<K, T> {
    /// A new record, under a number that no other has or had.
    Add(K, Box<T>),
    /// A record goes; refused while another one refers to it.
    Remove(K),
    /// The fields in which the two differ go from `was` to `now`; refused where one of them is no longer as it was.
    Alter {
        /// Which record.
        id: K,
        /// As the person saw it.
        was: Box<T>,
        /// As the person wants it.
        now: Box<T>,
    },
}

impl<K: Copy, T> Row<K, T> {
    /// Which record it is about.
    pub fn id(&self) -> K {
        match self {
            Self::Add(id, _) | Self::Remove(id) | Self::Alter { id, .. } => *id,
        }
    }

    /// The record as it becomes, where the edit holds it.
    pub fn now(&self) -> Option<&T> {
        match self {
            Self::Add(_, now) | Self::Alter { now, .. } => Some(now),
            Self::Remove(_) => None,
        }
    }

    /// A new record.
    pub fn add(id: K, row: T) -> Self {
        Self::Add(id, Box::new(row))
    }

    /// A changed record.
    pub fn alter(id: K, was: T, now: T) -> Self {
        Self::Alter { id, was: Box::new(was), now: Box::new(now) }
    }
}

/// A change to the book.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Several at once, all or none, under one name.
    Batch {
        /// What the person did, in the past tense: "imported 12 items".
        label: String,
        /// The parts, in order.
        edits: Vec<Edit>,
    },
    /// A line of the shelf.
    Item(Row<ItemId, Item>),
    /// A colour.
    Swatch(Row<SwatchId, NamedColour>),
    /// A project or class.
    Project(Row<ProjectId, Project>),
    /// A kind of offcut.
    Offcut(Row<OffcutId, Offcut>),
    /// Sheets set aside.
    Booking(Row<BookingId, Booking>),
    /// Something awaited.
    Order(Row<OrderId, Order>),
    /// A pack of several items.
    Assortment(Row<AssortmentId, Assortment>),
    /// A sheet format.
    Format(Row<FormatId, SheetFormat>),
    /// A trio that is kept.
    Trio(Row<TrioId, KeptTrio>),
    /// Settings that belong to the data.
    Settings {
        /// As the person saw them.
        was: Box<BookSettings>,
        /// As the person wants them.
        now: Box<BookSettings>,
    },
    /// The card that is in no project.
    LooseCard {
        /// As the person saw it; nothing as long as none was made.
        was: Option<Box<ProjectCard>>,
        /// As the person wants it.
        now: Option<Box<ProjectCard>>,
    },
    /// Another project becomes the active one.
    Activate {
        /// The active one so far.
        was: Option<ProjectId>,
        /// The active one from now on.
        now: Option<ProjectId>,
    },
    /// A line in the log.
    Log(NewLine),
    /// A counter line to an earlier one.
    Void {
        /// The number of the line.
        line: u64,
    },
}

impl Edit {
    /// Several edits as one.
    pub fn batch(label: impl Into<String>, edits: Vec<Self>) -> Self {
        Self::Batch { label: label.into(), edits }
    }
}

/// What came of an edit.
#[derive(Clone, Debug, PartialEq)]
pub struct Applied {
    /// The number of the edit.
    pub seq: u64,
    /// What was done, in one line for the status and the undo list.
    pub label: String,
    /// The edit that takes it back.
    pub inverse: Edit,
}

/// Why an edit was refused. The text is the whole sentence; nothing has changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// More would go than there is.
    #[error("only {held} of {name} on hand, not {wanted}: if the shelf holds more, adjust the count first")]
    NotEnough {
        /// The item's or offcut's name.
        name: String,
        /// How many would go.
        wanted: u64,
        /// How many are held.
        held: u64,
    },
    /// Voiding a line would take away what a later line has used.
    #[error(
        "line {line} cannot be voided: later lines have used what it brought ({held} of {name} left, {wanted} needed), undo those first"
    )]
    UsedSince {
        /// The line.
        line: u64,
        /// The item's or offcut's name.
        name: String,
        /// How many would go.
        wanted: u64,
        /// How many are held.
        held: u64,
    },
    /// A record that is not there.
    #[error("there is no {what} {number} any more: it was removed meanwhile")]
    Missing {
        /// What kind of record.
        what: &'static str,
        /// Its number.
        number: u64,
    },
    /// A record's number is in use.
    #[error(
        "the {what} \"{name}\" came too late: another window has just added one under the same number, try again"
    )]
    Taken {
        /// What kind of record.
        what: &'static str,
        /// What it would have been called.
        name: String,
    },
    /// Another record of that name.
    #[error("there is already {what} \"{name}\": give this one another name")]
    SameName {
        /// What kind of record, with its article.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A field is no longer as the person saw it.
    #[error("the {field} of \"{name}\" was changed meanwhile: look at it again before changing it")]
    Changed {
        /// The record's name.
        name: String,
        /// The field's words.
        field: &'static str,
    },
    /// Other records refer to it.
    #[error("\"{name}\" cannot be removed: {by}")]
    InUse {
        /// The record's name.
        name: String,
        /// Who refers to it and what would do.
        by: String,
    },
    /// A line was voided before.
    #[error("line {line} was voided before, by line {by}")]
    VoidedBefore {
        /// The line.
        line: u64,
        /// Its counter.
        by: u64,
    },
    /// A value that cannot stand.
    #[error("{0}")]
    Bad(String),
}

#[cfg(test)]
mod tests;
