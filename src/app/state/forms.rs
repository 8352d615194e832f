//! Which forms there are, and one that is being filled in.

use crate::app::input::form::FormState;
use crate::domain::cutting::question::Trimmer;
use crate::domain::stock::{AssortmentId, ItemId, OrderId, ProjectId};

/// What a form is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormFor {
    /// A new line of the shelf, of the kind of this one.
    NewLine(Option<ItemId>),
    /// What came in of an item.
    Receive(ItemId),
    /// What came of an order.
    Arrived(OrderId),
    /// What came in of several items together.
    ReceiveMarked(Vec<ItemId>),
    /// Several orders that came together, each as a whole; of a pack the first of its orders.
    ArrivedMarked(Vec<OrderId>),
    /// Packs of several designs that came in.
    ReceivePack(AssortmentId),
    /// A new pack of these lines of the shelf.
    NewPack(Vec<ItemId>),
    /// A new class.
    Class,
    /// What was sold after a class.
    Sold(ProjectId),
    /// What the trimmer can do, as it was when the form was opened.
    Trimmer(Box<Trimmer>),
    /// An offcut for the bin, of this paper where one was just kept.
    Offcut(Option<ItemId>),
    /// A new colour of the library.
    Swatch,
    /// A new card with the layers that most cards have.
    Card,
}

impl FormFor {
    /// True where several are made in a row.
    pub const fn has_more(&self) -> bool {
        matches!(self, Self::NewLine(_) | Self::Offcut(_) | Self::Swatch | Self::Sold(_))
    }

    /// True for the same form: what was typed into the one stands in the other, whatever it starts from.
    pub fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::NewLine(_), Self::NewLine(_)) | (Self::Offcut(_), Self::Offcut(_)) => true,
            (one, other) => one == other,
        }
    }
}

/// A form on the screen.
#[derive(Clone, Debug)]
pub struct Filling {
    /// What for.
    pub what: FormFor,
    /// What stands in it.
    pub form: FormState,
}
