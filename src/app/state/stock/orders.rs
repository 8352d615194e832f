//! The reorder list as rows: what goes to each seller, what is on order, what leaves soon, what cannot be had.

use crate::domain::book::Book;
use crate::domain::shelf_answers::next_low::{NextLow, next_low};
use crate::domain::stock::reorder::{self, LastOrder, PackLine, Reorder, ReorderLine, Unobtainable};
use crate::domain::stock::{AssortmentId, OrderId};
use crate::domain::stock::{orders, shelf};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// A row of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OrderRow {
    /// An item to be ordered, at this place of the sellers' lists.
    Item(usize, ReorderLine),
    /// A pack of several items to be ordered.
    Pack(usize, PackLine),
    /// Something on order.
    Awaited(OrderId),
    /// A pack of several items on order: the orders it was split into.
    Parcel(AssortmentId, Vec<OrderId>),
    /// Leaves soon: the last chance.
    Last(LastOrder),
    /// Wanting, and cannot be had.
    Missing(Unobtainable),
}

impl OrderRow {
    /// What it is about, by name.
    pub fn name(&self, book: &Book) -> String {
        let of_order = |id: &OrderId| book.orders().get(*id).map(|o| book.items().name_of(o.item));
        match self {
            Self::Item(_, line) => book.items().name_of(line.item),
            Self::Pack(_, line) => book.assortments().name_of(line.assortment),
            Self::Awaited(order) => of_order(order).unwrap_or_default(),
            Self::Parcel(pack, _) => book.assortments().name_of(*pack),
            Self::Last(last) => book.items().name_of(last.item),
            Self::Missing(missing) => book.items().name_of(missing.item),
        }
    }

    /// True where it is on order.
    pub const fn is_coming(&self) -> bool {
        matches!(self, Self::Awaited(_) | Self::Parcel(..))
    }
}

/// The list and its rows.
#[derive(Clone, Debug, Default)]
pub struct Orders {
    /// The list by seller.
    pub list: Reorder,
    /// Its rows from top to bottom.
    pub rows: Vec<OrderRow>,
    /// What runs low next.
    pub next: Vec<NextLow>,
}

impl Orders {
    /// The list as of a day.
    pub fn of(book: &Book, today: Date) -> Self {
        let list = reorder::reorder(book, today);
        let mut rows = Vec::new();
        for (n, seller) in list.sellers.iter().enumerate() {
            rows.extend(seller.packs.iter().map(|p| OrderRow::Pack(n, p.clone())));
            rows.extend(seller.lines.iter().map(|l| OrderRow::Item(n, l.clone())));
        }
        rows.extend(awaited(book));
        rows.extend(list.last_orders.iter().cloned().map(OrderRow::Last));
        rows.extend(list.unobtainable.iter().cloned().map(OrderRow::Missing));
        Self { list, rows, next: next_low(book, today) }
    }
}

/// What is on order, the orders of one pack in one row.
fn awaited(book: &Book) -> Vec<OrderRow> {
    let mut seen = BTreeSet::new();
    let mut rows = Vec::new();
    for id in orders::placed(book).into_iter().flat_map(|p| p.lines) {
        if !seen.insert(id) {
            continue;
        }
        match shelf::parcel(book, id) {
            Some((pack, orders)) => {
                seen.extend(orders.iter().copied());
                rows.push(OrderRow::Parcel(pack, orders));
            }
            None => rows.push(OrderRow::Awaited(id)),
        }
    }
    rows
}
