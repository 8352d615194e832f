//! The papers on the shelf, as far as an answer needs them.

use crate::domain::book::Book;
use crate::domain::money::Money;
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, State};

/// A paper that is held.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldPaper {
    /// Which line of the shelf.
    pub item: ItemId,
    /// What it is called.
    pub name: String,
    /// The size to cut from.
    pub size: Size,
    /// Sheets that nobody has booked.
    pub free: u64,
    /// Its pattern runs one way: pieces stay upright.
    pub one_way: bool,
    /// Where it stands in its maker's range.
    pub state: State,
    /// The price of a pack, and how many are in it.
    pub price: Option<(Money, u32)>,
}

impl HeldPaper {
    /// True for a paper that goes or is gone from its maker's range.
    pub const fn is_leaving(&self) -> bool {
        matches!(self.state, State::Leaving(_) | State::Gone)
    }
}

/// Every paper with a size of which a sheet is free, in the order of the shelf.
pub fn papers(book: &Book) -> Vec<HeldPaper> {
    let held = book.items().iter().filter(|(id, item)| item.kind.is_paper() && book.free(*id) > 0);
    held.filter_map(|(id, item)| {
        Some(HeldPaper {
            item: id,
            name: item.name.clone(),
            size: item.cutting_size()?,
            free: u64::try_from(book.free(id)).unwrap_or(0),
            one_way: item.one_way,
            state: item.state,
            price: item.price.map(|price| (price, item.pack_size())),
        })
    })
    .collect()
}

/// Free offcuts, each kind once, as papers of their own: they cost nothing.
pub fn offcuts(book: &Book) -> Vec<HeldPaper> {
    let free = book.offcuts().iter().filter(|(id, _)| book.free_offcuts(*id) > 0);
    free.map(|(id, offcut)| HeldPaper {
        item: offcut.item,
        name: format!("{}, {}", offcut.size.about(book.shown_in()), book.items().name_of(offcut.item)),
        size: offcut.size,
        free: book.free_offcuts(id),
        one_way: book.items().get(offcut.item).is_some_and(|item| item.one_way),
        state: State::Current,
        price: None,
    })
    .collect()
}
