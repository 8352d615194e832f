//! What is set aside, what is awaited, and packs that bring several items at once.

use crate::domain::money::Money;
use crate::domain::stock::ids::{ItemId, OffcutId, ProjectId};
use crate::domain::stock::item::State;
use jiff::civil::Date;

/// Sheets, or pieces of the bin, set aside for a project: free = on hand - booked, whoever booked them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Booking {
    /// Who needs them.
    pub project: ProjectId,
    /// What is set aside; the paper, where it is an offcut.
    pub item: ItemId,
    /// The offcuts that are set aside; `None` for whole sheets and counted things.
    pub offcut: Option<OffcutId>,
    /// How many sheets, offcuts or things.
    pub count: u32,
    /// The pieces they are for, where that is known.
    pub pieces: u32,
    /// When they are needed; `None` counts as now.
    pub on: Option<Date>,
}

/// Something ordered that has not arrived.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// What is awaited.
    pub item: ItemId,
    /// How many are still to come, in single sheets.
    pub count: u32,
    /// When it was ordered.
    pub placed: Date,
    /// When it should be here.
    pub expected: Option<Date>,
    /// Anything else.
    pub note: String,
}

/// A pack of several items under one order number: so many of each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assortment {
    /// What it is called.
    pub name: String,
    /// The seller's number for it.
    pub order_number: String,
    /// Who sells it.
    pub seller: String,
    /// Price of the whole pack.
    pub price: Option<Money>,
    /// What one pack brings.
    pub contents: Vec<(ItemId, u32)>,
    /// Where it stands in the range; a season's pack leaves on its own date.
    pub state: State,
    /// Anything else.
    pub note: String,
}
