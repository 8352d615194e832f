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
    /// How many were ordered at first; 0 where that was not written down.
    pub ordered: u32,
    /// Whom it was ordered from; empty where that was not written down.
    pub seller: String,
    /// What all that was ordered was to cost, as the line said it then.
    pub price: Option<Money>,
}

impl Order {
    /// An order of so many, of which nothing else is known.
    pub fn of(item: ItemId, count: u32, placed: Date) -> Self {
        Self {
            item,
            count,
            placed,
            expected: None,
            note: String::new(),
            ordered: count,
            seller: String::new(),
            price: None,
        }
    }

    /// How many were ordered, those that have come among them.
    pub fn in_all(&self) -> u32 {
        self.ordered.max(self.count)
    }

    /// How many have come. Where any have, what is still to come is back-ordered.
    pub fn came(&self) -> u32 {
        self.in_all() - self.count
    }

    /// The same with another number still to come, because more or fewer are wanted: its price follows.
    #[must_use]
    pub fn with_count(&self, count: u32) -> Self {
        let all = self.came().saturating_add(count);
        let price = self.price.map(|p| p.part(u64::from(all), u64::from(self.in_all())));
        Self { count, ordered: all, price, ..self.clone() }
    }
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
