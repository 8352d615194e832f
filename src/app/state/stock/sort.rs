//! How the lists of Stock are sorted: each in its usual way until the person takes another. Sorts what it is given; which list
//! is in view is known elsewhere.

use super::super::views::Tab;
use super::orders::OrderRow;
use crate::domain::book::Book;
use crate::domain::project::{Progress, Project};
use crate::domain::size::Size;
use crate::domain::stock::shortage::day_of;
use crate::domain::stock::summary::standing;
use crate::domain::stock::{BookingId, Item, ItemId, OffcutId, ProjectId};
use std::cmp::Reverse;

/// A way to sort a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SortBy {
    /// Lines by kind and name; offcuts as they were kept; orders by seller.
    Usual,
    /// By name.
    Name,
    /// The fewest on hand first.
    FewestOnHand,
    /// What is furthest below its low mark first.
    LowFirst,
    /// By place on the shelf, what has none last.
    Place,
    /// The largest first.
    Largest,
    /// The most first.
    Most,
    /// By paper.
    Paper,
    /// The newest first.
    Newest,
    /// The oldest first.
    Oldest,
    /// By day, the soonest first.
    Day,
    /// By the class or batch that it is for.
    Project,
}

impl SortBy {
    /// As it is said: `sorted ...`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Usual => "the usual way",
            Self::Name => "by name",
            Self::FewestOnHand => "fewest on hand first",
            Self::LowFirst => "what is low first",
            Self::Place => "by place",
            Self::Largest => "largest first",
            Self::Most => "most first",
            Self::Paper => "by paper",
            Self::Newest => "newest first",
            Self::Oldest => "oldest first",
            Self::Day => "soonest first",
            Self::Project => "by class or batch",
        }
    }

    /// The ways of a list, the usual one first.
    pub const fn of(tab: Tab) -> &'static [Self] {
        match tab {
            Tab::Shelf => &[Self::Usual, Self::Name, Self::FewestOnHand, Self::LowFirst, Self::Place],
            Tab::Bin => &[Self::Usual, Self::Paper, Self::Largest, Self::Most],
            Tab::Log => &[Self::Newest, Self::Oldest],
            Tab::Reorder => &[Self::Usual, Self::Name, Self::Most],
            Tab::Classes => &[Self::Day, Self::Name],
            Tab::Bookings => &[Self::Day, Self::Project, Self::Paper],
        }
    }
}

/// How every list is sorted now.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sorts([usize; Tab::ALL.len()]);

impl Sorts {
    /// How a list is sorted.
    pub fn of(&self, tab: Tab) -> SortBy {
        let ways = SortBy::of(tab);
        ways.get(self.0[tab as usize]).copied().unwrap_or(ways[0])
    }

    /// Takes the next way for a list, after the last the usual one again.
    pub fn next(&mut self, tab: Tab) -> SortBy {
        self.0[tab as usize] = (self.0[tab as usize] + 1) % SortBy::of(tab).len();
        self.of(tab)
    }

    /// The lists that are not sorted the usual way, by name, for the next start.
    pub fn named(&self) -> Vec<(String, String)> {
        let others = Tab::ALL.into_iter().filter(|tab| self.0[*tab as usize] != 0);
        others.map(|tab| (tab.title().to_owned(), self.of(tab).words().to_owned())).collect()
    }

    /// What [`Self::named`] gave; names that are not known are passed over.
    pub fn from_names(names: &[(String, String)]) -> Self {
        let mut sorts = Self::default();
        for (tab, words) in names {
            let tab = Tab::ALL.into_iter().find(|t| t.title() == tab);
            let way = tab.and_then(|t| SortBy::of(t).iter().position(|by| by.words() == words));
            if let (Some(tab), Some(way)) = (tab, way) {
                sorts.0[tab as usize] = way;
            }
        }
        sorts
    }
}

/// Sorts lines of the shelf.
pub fn items(book: &Book, rows: &mut [(ItemId, &Item)], by: SortBy) {
    let name = |item: &Item| (item.kind, item.name.to_lowercase());
    match by {
        SortBy::Name => rows.sort_by_cached_key(|(_, item)| item.name.to_lowercase()),
        SortBy::FewestOnHand => rows.sort_by_cached_key(|(id, item)| (book.on_hand(*id), name(item))),
        SortBy::LowFirst => rows.sort_by_cached_key(|(id, item)| {
            let standing = standing(book, *id);
            (standing.free.saturating_sub(i64::from(standing.mark)), name(item))
        }),
        SortBy::Place => {
            rows.sort_by_cached_key(|(_, item)| {
                (item.place.is_empty(), item.place.to_lowercase(), name(item))
            });
        }
        _ => rows.sort_by_cached_key(|(_, item)| name(item)),
    }
}

/// Sorts offcuts of the bin.
pub fn offcuts(book: &Book, rows: &mut [OffcutId], by: SortBy) {
    let paper = |id: OffcutId| book.offcuts().get(id).map(|o| book.items().name_of(o.item).to_lowercase());
    let size = |id: OffcutId| book.offcuts().get(id).map(|o| area(o.size));
    match by {
        SortBy::Paper => rows.sort_by_cached_key(|id| (paper(*id), Reverse(size(*id)))),
        SortBy::Largest => rows.sort_by_cached_key(|id| (Reverse(size(*id)), paper(*id))),
        SortBy::Most => rows.sort_by_cached_key(|id| (Reverse(book.offcut_count(*id)), paper(*id))),
        _ => {}
    }
}

fn area(size: Size) -> i128 {
    i128::from(size.width.units()) * i128::from(size.height.units())
}

/// Sorts rows of the reorder list inside each of its parts: sellers, on order, last chances and what cannot be had stay apart.
pub fn orders(book: &Book, rows: &mut [OrderRow], by: SortBy) {
    let part = |row: &OrderRow| match row {
        OrderRow::Item(seller, _) | OrderRow::Pack(seller, _) => (0, *seller),
        OrderRow::Awaited(_) | OrderRow::Parcel(..) => (1, 0),
        OrderRow::Last(_) => (2, 0),
        OrderRow::Missing(_) => (3, 0),
    };
    let wanted = |row: &OrderRow| match row {
        OrderRow::Item(_, line) => line.wanted,
        OrderRow::Pack(_, line) => line.packs,
        _ => 0,
    };
    match by {
        SortBy::Name => rows.sort_by_cached_key(|row| (part(row), row.name(book).to_lowercase())),
        SortBy::Most => rows.sort_by_cached_key(|row| (part(row), Reverse(wanted(row)))),
        _ => {}
    }
}

/// Sorts classes and batches: those that are done last, whichever way.
pub fn projects(rows: &mut [(ProjectId, &Project)], by: SortBy) {
    rows.sort_by_cached_key(|(id, p)| {
        let day = (by == SortBy::Day).then_some((p.date.is_none(), p.date));
        (p.progress != Progress::Open, day, p.name.to_lowercase(), *id)
    });
}

/// Sorts bookings.
pub fn bookings(book: &Book, rows: &mut [BookingId], by: SortBy) {
    rows.sort_by_cached_key(|id| {
        let booking = book.bookings().get(*id);
        let project = booking.map(|b| book.projects().name_of(b.project).to_lowercase());
        let paper = booking.map(|b| book.items().name_of(b.item).to_lowercase());
        // The day that is shown: that of the project, as it stands now.
        let day = booking.map(|b| {
            let on = day_of(book, b);
            (on.is_none(), on, b.project)
        });
        match by {
            SortBy::Project => (project, None, day, *id),
            SortBy::Paper => (None, paper, day, *id),
            _ => (None, None, day, *id),
        }
    });
}
