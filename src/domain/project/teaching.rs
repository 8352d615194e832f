//! What a class has beside its cards: sets a seat and to spare, hours, room, shares of adhesive and ink; and what came of it
//! on the day and afterwards. Figures only: what they cost and bring is reckoned in `stock/cost.rs` and `stock/takings.rs`.

use crate::domain::money::Money;
use jiff::civil::Date;

/// What a class has beside its cards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Teaching {
    /// Sets that each seat makes, each packed as a kit; at least 1.
    pub sets_a_seat: u32,
    /// Sets packed to spare, beside the seats and the samples.
    pub spare_sets: u32,
    /// Minutes of preparing, the cards' own minutes not among them.
    pub prepare_minutes: u32,
    /// Minutes of teaching.
    pub teach_minutes: u32,
    /// What the room costs.
    pub room: Option<Money>,
    /// The share of adhesive that a set takes.
    pub adhesive: Option<Money>,
    /// The share of ink that a set takes.
    pub ink: Option<Money>,
    /// The margin that the person wants, in percent of the price of a seat.
    pub margin: Option<u32>,
}

impl Default for Teaching {
    /// One set a seat, none to spare, nothing beside it.
    fn default() -> Self {
        Self {
            sets_a_seat: 1,
            spare_sets: 0,
            prepare_minutes: 0,
            teach_minutes: 0,
            room: None,
            adhesive: None,
            ink: None,
            margin: None,
        }
    }
}

/// What left after a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SaleKind {
    /// A thing, of the shelf or ordered for somebody.
    Item,
    /// Kits that were left over, sold.
    Kit,
    /// Kits that were left over, used for something else; they bring nothing.
    KitUsed,
}

impl SaleKind {
    /// The word shown, stored and answered.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Item => "item",
            Self::Kit => "kit sold",
            Self::KitUsed => "kit used",
        }
    }
}

/// What was sold after a class, or a kit of it that was used. Names and costs are those of the day: an item may be
/// renamed, dearer or gone later.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sale {
    /// The day.
    pub on: Date,
    /// What kind of thing.
    pub kind: SaleKind,
    /// What it was called; of a used kit, what for.
    pub what: String,
    /// How many.
    pub count: u32,
    /// What all of them brought.
    pub takings: Money,
    /// What all of them had cost the maker.
    pub cost: Money,
    /// They were taken from the shelf, and the log says so.
    pub from_shelf: bool,
}

/// What came of a class.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Afterwards {
    /// How many came; `None` as long as nobody counted.
    pub came: Option<u32>,
    /// How many paid for a seat, where that is not those who came.
    pub paid: Option<u32>,
    /// What left afterwards, in the order it was noted.
    pub sales: Vec<Sale>,
}

impl Afterwards {
    /// Seats that were paid for, as far as it is known.
    pub fn seats_paid(&self) -> Option<u32> {
        self.paid.or(self.came)
    }

    /// Kits that were sold or used since.
    pub fn kits_gone(&self) -> u64 {
        let kits = self.sales.iter().filter(|s| s.kind != SaleKind::Item);
        kits.map(|s| u64::from(s.count)).sum()
    }
}
