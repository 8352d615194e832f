//! A walk along the shelf: its lines in the order in which they lie, and what was counted of each.

use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::stock::ItemId;

/// A walk along the shelf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CountDay {
    /// The lines, by place and then name.
    pub items: Vec<ItemId>,
    /// What was counted; `None` where nobody has been yet.
    pub counted: Vec<Option<u32>>,
    /// The line in hand.
    pub cursor: Cursor,
}

impl CountDay {
    /// A walk along these lines.
    pub fn of(book: &Book, shown: &[ItemId]) -> Self {
        let mut items = shown.to_vec();
        items.sort_by_cached_key(|id| {
            book.items().get(*id).map(|i| (i.place.to_lowercase(), i.name.to_lowercase()))
        });
        let counted = vec![None; items.len()];
        Self { items, counted, cursor: Cursor::default() }
    }

    /// The lines that were counted, with their counts.
    pub fn done(&self) -> Vec<(ItemId, u32)> {
        self.items.iter().zip(&self.counted).filter_map(|(id, n)| Some((*id, (*n)?))).collect()
    }

    /// By how much a counted line differs from the book.
    pub fn difference(&self, book: &Book, row: usize) -> Option<i64> {
        let (id, n) = (self.items.get(row)?, (*self.counted.get(row)?)?);
        Some(i64::from(n) - book.on_hand(*id) as i64)
    }

    /// How many counted lines differ from the book.
    pub fn differing(&self, book: &Book) -> usize {
        (0..self.items.len()).filter(|n| self.difference(book, *n).is_some_and(|d| d != 0)).count()
    }
}
