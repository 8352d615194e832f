//! How every item stands: on hand, booked, free, on order, and whether that is low.

use crate::domain::book::Book;
use crate::domain::stock::ids::ItemId;

/// The figures of one item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ItemStanding {
    /// Which item.
    pub item: ItemId,
    /// The sum of its log.
    pub on_hand: u64,
    /// Set aside for projects.
    pub booked: u64,
    /// On hand less booked; below zero where more is booked than there is.
    pub free: i64,
    /// Ordered and not yet here.
    pub on_order: u64,
    /// The mark below which it should be reordered; 0 for what is leaving or gone.
    pub mark: u32,
}

impl ItemStanding {
    /// Free stock is below the mark, or more is booked than there is.
    pub fn is_low(&self) -> bool {
        self.free < i64::from(self.mark)
    }

    /// `17 on hand, 4 booked, 13 free, 25 on order`.
    pub fn words(&self) -> String {
        format!(
            "{} on hand, {} booked, {} free, {} on order",
            self.on_hand, self.booked, self.free, self.on_order
        )
    }

    /// How many are missing for what is booked.
    pub fn short(&self) -> u64 {
        self.booked.saturating_sub(self.on_hand)
    }
}

/// The figures of one item, all zero for one that is not in the book.
pub fn standing(book: &Book, item: ItemId) -> ItemStanding {
    ItemStanding {
        item,
        on_hand: book.on_hand(item),
        booked: book.booked(item),
        free: book.free(item),
        on_order: book.on_order(item),
        mark: book.items().get(item).map_or(0, super::Item::mark),
    }
}
