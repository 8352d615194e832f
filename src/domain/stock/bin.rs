//! The offcut bin: what is worth keeping, and which piece to take before a sheet is opened.

use crate::domain::book::Book;
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, OffcutId};

/// True where a leftover is at least as large as the floor, turned or not.
pub fn is_worth_keeping(left: Size, floor: Size) -> bool {
    floor.fits_in_either_way(left, true)
}

/// Offcuts of a paper that a piece can be cut from, the smallest first, so that large ones stay whole.
pub fn that_hold(book: &Book, paper: ItemId, piece: Size, may_turn: bool) -> Vec<OffcutId> {
    let fits = |size: Size| piece.fits_in_either_way(size, may_turn);
    let of_paper = book.offcuts().iter().filter(|(id, o)| o.item == paper && book.offcut_count(*id) > 0);
    let mut found: Vec<(i128, OffcutId)> =
        of_paper.filter(|(_, o)| fits(o.size)).map(|(id, o)| (o.size.area(), id)).collect();
    found.sort_unstable();
    found.into_iter().map(|(_, id)| id).collect()
}
