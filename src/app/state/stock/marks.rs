//! Rows of Stock's lists that are marked, by what they are and not by where they stand: sorting, filtering and other windows do
//! not move a mark to another row. Knows which rows there are; what is done with them is the commands' business.

use super::super::views::{StockView, Tab};
use super::orders::OrderRow;
use super::{StockPane, bin, log_line};
use crate::domain::book::Book;
use crate::domain::plural::count_of;
use crate::domain::stock::{AssortmentId, BookingId, ItemId, OffcutId, OrderId, ProjectId, booked};
use std::collections::BTreeSet;

/// Most rows that are named in one sentence.
const NAMED: usize = 4;

/// One row that can be marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowMark {
    /// A line of the shelf.
    Item(ItemId),
    /// Offcuts of one kind.
    Offcut(OffcutId),
    /// A line of the log, by its number.
    Line(u64),
    /// An item that is to be ordered.
    ToOrder(ItemId),
    /// A pack of several that is to be ordered.
    PackToOrder(AssortmentId),
    /// Something on order.
    Awaited(OrderId),
    /// A pack of several on order: the pack and the first of its orders.
    Parcel(AssortmentId, OrderId),
    /// What leaves soon.
    Last(ItemId),
    /// What cannot be had.
    Missing(ItemId),
    /// A class or batch.
    Class(ProjectId),
    /// Something set aside.
    Booking(BookingId),
}

impl RowMark {
    /// The list that its row stands in.
    pub const fn tab(self) -> Tab {
        match self {
            Self::Item(_) => Tab::Shelf,
            Self::Offcut(_) => Tab::Bin,
            Self::Line(_) => Tab::Log,
            Self::ToOrder(_)
            | Self::PackToOrder(_)
            | Self::Awaited(_)
            | Self::Parcel(..)
            | Self::Last(_)
            | Self::Missing(_) => Tab::Reorder,
            Self::Class(_) => Tab::Classes,
            Self::Booking(_) => Tab::Bookings,
        }
    }

    /// The mark of a row of the reorder list.
    pub fn of_order(row: &OrderRow) -> Option<Self> {
        Some(match row {
            OrderRow::Item(_, line) => Self::ToOrder(line.item),
            OrderRow::Pack(_, line) => Self::PackToOrder(line.assortment),
            OrderRow::Awaited(id) => Self::Awaited(*id),
            OrderRow::Parcel(pack, orders) => Self::Parcel(*pack, *orders.first()?),
            OrderRow::Last(last) => Self::Last(last.item),
            OrderRow::Missing(missing) => Self::Missing(missing.item),
        })
    }

    /// What is marked, by name.
    pub fn name(self, book: &Book) -> String {
        match self {
            Self::Item(id) | Self::ToOrder(id) | Self::Last(id) | Self::Missing(id) => {
                book.items().name_of(id)
            }
            Self::Offcut(id) => book.offcut_title(id),
            Self::Line(seq) => format!("line {seq}"),
            Self::PackToOrder(id) | Self::Parcel(id, _) => book.assortments().name_of(id),
            Self::Awaited(id) => {
                book.orders().get(id).map_or_else(String::new, |o| book.items().name_of(o.item))
            }
            Self::Class(id) => book.projects().name_of(id),
            Self::Booking(id) => book.bookings().get(id).map_or_else(String::new, |b| booked::title(book, b)),
        }
    }

    /// True while what is marked is in the book.
    fn is_there(self, book: &Book) -> bool {
        match self {
            Self::Item(id) | Self::ToOrder(id) | Self::Last(id) | Self::Missing(id) => {
                book.items().get(id).is_some()
            }
            Self::Offcut(id) => book.offcut_count(id) > 0,
            Self::Line(seq) => book.log().last().is_some_and(|last| seq <= last.seq),
            Self::PackToOrder(id) => book.assortments().get(id).is_some(),
            Self::Awaited(id) | Self::Parcel(_, id) => book.orders().get(id).is_some(),
            Self::Class(id) => book.projects().get(id).is_some(),
            Self::Booking(id) => book.bookings().get(id).is_some(),
        }
    }
}

/// Every row that is marked, in all lists of the pane.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Marks(BTreeSet<RowMark>);

impl Marks {
    /// True where a row is marked.
    pub fn has(&self, mark: RowMark) -> bool {
        self.0.contains(&mark)
    }

    /// True where nothing of a list is marked.
    pub fn is_empty_in(&self, tab: Tab) -> bool {
        !self.0.iter().any(|mark| mark.tab() == tab)
    }

    /// Marks a row, or takes its mark off.
    pub fn turn(&mut self, mark: RowMark) {
        if !self.0.remove(&mark) {
            self.0.insert(mark);
        }
    }

    /// Marks a row.
    pub fn add(&mut self, mark: RowMark) {
        self.0.insert(mark);
    }

    /// Takes the marks of a list off.
    pub fn clear(&mut self, tab: Tab) {
        self.0.retain(|mark| mark.tab() != tab);
    }

    /// Drops the marks of what is not in the book any more, and of rows that are not in the reorder list as it is in view.
    pub fn keep(&mut self, book: &Book, orders: Option<&[OrderRow]>) {
        self.0.retain(|mark| mark.is_there(book));
        if let Some(rows) = orders {
            let there: BTreeSet<RowMark> = rows.iter().filter_map(RowMark::of_order).collect();
            self.0.retain(|mark| mark.tab() != Tab::Reorder || there.contains(mark));
        }
    }

    /// How many are marked in all lists.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// True where nothing is marked.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The names of those that are marked, the first few of many: `fern, moss and 3 more`.
    pub fn names(&self, book: &Book) -> String {
        names(book, &self.0.iter().copied().collect::<Vec<_>>())
    }
}

/// Names in one sentence: `fern`, `fern and moss`, `fern, moss, oat, soot and 3 more`.
pub fn names(book: &Book, marks: &[RowMark]) -> String {
    in_words(marks.iter().map(|mark| mark.name(book)).collect())
}

/// Names in one sentence, the first few of many. Names that have commas of their own are parted by semicolons.
pub fn in_words(mut names: Vec<String>) -> String {
    let more = names.len().saturating_sub(NAMED);
    names.truncate(NAMED);
    let has_commas = names.iter().any(|name| name.contains(','));
    if more > 0 {
        names.push(format!("{more} more"));
    }
    if has_commas {
        return names.join("; ");
    }
    match names.pop() {
        None => String::new(),
        Some(last) if names.is_empty() => last,
        Some(last) => format!("{} and {last}", names.join(", ")),
    }
}

impl StockPane {
    /// The mark that belongs to a row of the list in view; nothing where its rows are no things.
    pub fn mark_of(&self, book: &Book, row: usize) -> Option<RowMark> {
        match self.view {
            StockView::Shelf => self.shown.get(row).copied().map(RowMark::Item),
            StockView::Bin => bin(self, book).get(row).copied().map(RowMark::Offcut),
            StockView::Log | StockView::History(_) => log_line(self, book, row).map(|l| RowMark::Line(l.seq)),
            StockView::Reorder => self.orders.rows.get(row).and_then(RowMark::of_order),
            StockView::Classes => self.classes.ids.get(row).copied().map(RowMark::Class),
            StockView::Bookings => self.bookings.get(row).copied().map(RowMark::Booking),
            StockView::Item(_) | StockView::Class(_) | StockView::Count | StockView::Preview => None,
        }
    }

    /// Every mark of the rows of the list in view, from top to bottom.
    pub fn markable(&self, book: &Book) -> Vec<RowMark> {
        match self.view {
            StockView::Bin => bin(self, book).into_iter().map(RowMark::Offcut).collect(),
            StockView::Log => book.log().iter().map(|l| RowMark::Line(l.seq)).collect(),
            StockView::History(item) => book.lines_of(item).map(|l| RowMark::Line(l.seq)).collect(),
            _ if !self.is_list_of_things() => Vec::new(),
            _ => (0..self.rows(book)).filter_map(|row| self.mark_of(book, row)).collect(),
        }
    }

    /// True where a list of things is in view: lines, offcuts, classes and the like, not fields and not a walk.
    const fn is_list_of_things(&self) -> bool {
        !matches!(self.view, StockView::Item(_) | StockView::Class(_) | StockView::Count | StockView::Preview)
    }

    /// True where rows of the list in view can be marked.
    pub fn has_markable(&self, book: &Book) -> bool {
        self.is_list_of_things() && self.rows(book) > 0
    }

    /// True where something of the list in view is marked.
    pub fn has_marks(&self) -> bool {
        self.is_list_of_things() && !self.marks.is_empty_in(self.tab())
    }

    /// What is marked of the list in view: those shown, from top to bottom, then those that are out of sight.
    pub fn marked(&self, book: &Book) -> Vec<RowMark> {
        let (mut shown, hidden) = self.marked_parts(book);
        shown.extend(hidden);
        shown
    }

    fn marked_parts(&self, book: &Book) -> (Vec<RowMark>, Vec<RowMark>) {
        if !self.has_marks() {
            return (Vec::new(), Vec::new());
        }
        let shown: Vec<RowMark> =
            self.markable(book).into_iter().filter(|mark| self.marks.has(*mark)).collect();
        let seen: BTreeSet<RowMark> = shown.iter().copied().collect();
        let is_hidden = |mark: &RowMark| mark.tab() == self.tab() && !seen.contains(mark);
        let hidden = self.marks.0.iter().copied().filter(is_hidden).collect();
        (shown, hidden)
    }

    /// How many are marked of the list in view, in words: `3 marked`, `3 marked, 1 of them out of sight`.
    pub fn marked_words(&self, book: &Book) -> Option<String> {
        let (shown, hidden) = self.marked_parts(book);
        let all = shown.len() + hidden.len();
        match (all, hidden.len()) {
            (0, _) => None,
            (_, 0) => Some(format!("{all} marked")),
            (_, hidden) => Some(format!("{all} marked, {hidden} of them out of sight")),
        }
    }
}

/// So many rows of a list: `3 lines`, `1 class`.
pub fn rows_of(tab: Tab, rows: u64) -> String {
    match tab {
        Tab::Shelf | Tab::Log | Tab::Reorder => count_of(rows, "line"),
        Tab::Bin => count_of(rows, "kind of offcut"),
        Tab::Classes => crate::domain::plural::counted(rows, "class", "classes"),
        Tab::Bookings => count_of(rows, "booking"),
    }
}
