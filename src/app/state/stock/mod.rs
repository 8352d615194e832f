//! What Stock remembers: which list is open, what narrows it, what is worked out while it is in view; and what its rows
//! and texts are for.

pub mod aside;
pub mod classes;
pub mod count;
pub mod gives;
pub mod marks;
pub mod orders;
pub mod pressing;
pub mod preview;
pub mod sort;
pub mod texts;
pub mod ways;

use self::pressing::Pressing;
use super::views::{StockView, Tab};
use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::length::Unit;
use crate::domain::stock::calendar::{CalendarRow, StillWanted};
use crate::domain::stock::find::Shelf;
use crate::domain::stock::{BookingId, Item, ItemId, LogLine, OffcutId, ProjectId};
use jiff::civil::Date;

/// State of the pane.
#[derive(Clone, Debug, Default)]
pub struct StockPane {
    /// Which view is open.
    pub view: StockView,
    /// The view that a list from outside lies over.
    pub under: StockView,
    /// What narrows the shelf.
    pub filter: String,
    /// The items that match, in the order shown.
    pub shown: Vec<ItemId>,
    /// How each list is sorted.
    pub sorts: sort::Sorts,
    /// The rows that are marked.
    pub marks: marks::Marks,
    /// The row picked.
    pub cursor: Cursor,
    /// What to order and what is awaited; worked out while its list is in view.
    pub orders: orders::Orders,
    /// Classes and batches; worked out while one of their lists is in view.
    pub classes: classes::Classes,
    /// What the coming days ask for; worked out while a list is in view that shows them, empty in others.
    pub calendar: Option<Vec<CalendarRow>>,
    /// What open classes still take and have not booked; worked out in every list but that of the classes.
    pub wanted: Vec<StillWanted>,
    /// Open work and how the booking in hand is cut; worked out with it.
    pub aside: aside::Aside,
    /// Bookings, the soonest first.
    pub bookings: Vec<BookingId>,
    /// A count day that goes on or was left.
    pub count: Option<count::CountDay>,
    /// What can be done where a class runs short.
    pub ways: ways::Ways,
    /// What the offcuts in view give.
    pub gives: gives::Gives,
    /// The field in hand of the line or the class that is open.
    pub field: Cursor,
    /// A list from outside that is being looked at.
    pub preview: Option<preview::Preview>,
    /// How many of the lines shown press; counted with them, since a drawing must not read thousands of lines.
    pressing: Pressing,
    /// The whole shelf in the order shown.
    order: Vec<ItemId>,
    /// The shelf made ready for finding, until the book changes.
    ready: Option<Shelf>,
}

impl StockPane {
    /// Brings what is in view up to date with the book.
    pub fn arrange(&mut self, book: &Book, today: Date) {
        let mut rows: Vec<(ItemId, &Item)> = book.items().iter().collect();
        sort::items(book, &mut rows, self.sorts.of(Tab::Shelf));
        self.order = rows.iter().map(|(id, _)| *id).collect();
        self.ready = None;
        for view in [&mut self.view, &mut self.under] {
            *view = still_there(*view, book);
        }
        self.narrow(book, Unit::Inch);
        self.calendar = None;
        match self.tab() {
            Tab::Reorder => {
                self.orders = orders::Orders::of(book, today);
                sort::orders(book, &mut self.orders.rows, self.sorts.of(Tab::Reorder));
            }
            Tab::Classes => {
                let by = self.sorts.of(Tab::Classes);
                self.cursor = self.classes.arrange(book, self.open_class(), self.cursor, by);
            }
            Tab::Bookings => {
                self.bookings = book.bookings().iter().map(|(id, _)| id).collect();
                sort::bookings(book, &mut self.bookings, self.sorts.of(Tab::Bookings));
            }
            Tab::Shelf | Tab::Bin | Tab::Log => {}
        }
        let orders = (self.tab() == Tab::Reorder).then_some(self.orders.rows.as_slice());
        self.marks.keep(book, orders);
        if let Some(preview) = &mut self.preview {
            preview.work_out(book, today);
        }
    }

    /// The lines that the filter finds. `unit` is that of bare lengths in it.
    pub fn narrow(&mut self, book: &Book, unit: Unit) {
        if self.filter.trim().is_empty() {
            self.shown.clone_from(&self.order);
        } else {
            let filter = std::mem::take(&mut self.filter);
            self.shown = self.make_ready(book).find(&filter, unit);
            self.filter = filter;
        }
        self.pressing = Pressing::of(book, &self.shown);
    }

    /// How many of the lines shown press that are not among those in sight.
    pub fn pressing_beside(&self, book: &Book, in_sight: &[ItemId]) -> Pressing {
        self.pressing.without(Pressing::of(book, in_sight))
    }

    /// The shelf made ready for finding.
    pub fn make_ready(&mut self, book: &Book) -> &Shelf {
        let order = &self.order;
        self.ready.get_or_insert_with(|| Shelf::in_order(book, order.iter().copied()))
    }

    /// The view that is open, or the one that a list from outside lies over.
    pub fn below_preview(&self) -> StockView {
        if self.view == StockView::Preview { self.under } else { self.view }
    }

    /// The list that is open, or that a list from outside lies over.
    pub fn tab(&self) -> Tab {
        self.below_preview().tab()
    }

    /// The line of the shelf that is open, field by field.
    pub fn open_item(&self) -> Option<ItemId> {
        if let StockView::Item(id) = self.below_preview() { Some(id) } else { None }
    }

    /// The class that is open, figure by figure.
    pub fn open_class(&self) -> Option<ProjectId> {
        if let StockView::Class(id) = self.below_preview() { Some(id) } else { None }
    }

    /// The item whose lines alone the log shows.
    pub fn history(&self) -> Option<ItemId> {
        if let StockView::History(id) = self.below_preview() { Some(id) } else { None }
    }

    /// The list from outside, while it is in view.
    pub fn preview_in_view(&self) -> Option<&preview::Preview> {
        self.preview.as_ref().filter(|_| self.view == StockView::Preview)
    }

    /// The count day, while it is in view.
    pub fn count_in_view(&self) -> Option<&count::CountDay> {
        self.count.as_ref().filter(|_| self.view == StockView::Count)
    }

    /// The item picked on the shelf.
    pub fn picked_item(&self) -> Option<ItemId> {
        match self.view {
            StockView::Item(id) => Some(id),
            StockView::Shelf => self.shown.get(self.cursor.row(self.shown.len())?).copied(),
            _ => None,
        }
    }

    /// The piece of the bin under the cursor, where offcuts are in view.
    pub fn picked_offcut(&self, book: &Book) -> Option<OffcutId> {
        let all = bin(self, book);
        all.get(self.cursor.row(all.len())?).copied().filter(|_| self.view == StockView::Bin)
    }

    /// The class that is open, else the one under the cursor.
    pub fn picked_class(&self) -> Option<ProjectId> {
        self.classes.picked(self.open_class(), self.cursor)
    }

    /// Rows of the list in view.
    pub fn rows(&self, book: &Book) -> usize {
        if let Some(preview) = self.preview_in_view() {
            return preview.lines.len();
        }
        if let Some(count) = self.count_in_view() {
            return count.items.len();
        }
        match self.tab() {
            Tab::Shelf => self.shown.len(),
            Tab::Bin => in_bin(book).count(),
            Tab::Log => self.history().map_or(book.log().len(), |item| book.lines_of(item).count()),
            Tab::Reorder => self.orders.rows.len(),
            Tab::Classes => self.classes.ids.len(),
            Tab::Bookings => self.bookings.len(),
        }
    }

    /// Narrows the shelf to what these words find. `unit` is that of bare lengths in them.
    pub fn filter_by(&mut self, text: &str, book: &Book, unit: Unit) {
        text.trim().clone_into(&mut self.filter);
        self.cursor = Cursor::default();
        self.narrow(book, unit);
    }

    /// Shows an item on the whole shelf.
    pub fn show(&mut self, id: ItemId, book: &Book, today: Date) {
        self.view = StockView::Shelf;
        self.filter.clear();
        self.arrange(book, today);
        self.cursor = Cursor::at(self.shown.iter().position(|i| *i == id).unwrap_or(0));
    }

    /// Opens a class at its day, as one does that was made just now.
    pub fn open_new_class(&mut self, id: ProjectId, book: &Book, today: Date) {
        (self.view, self.field) = (StockView::Class(id), Cursor::at(1));
        self.arrange(book, today);
    }

    /// The counts are logged, or agree: back to the shelf.
    pub fn end_count(&mut self) {
        self.count = None;
        self.view = StockView::Shelf;
    }

    /// Goes to another list.
    pub fn go(&mut self, view: StockView, book: &Book, today: Date) {
        self.view = view;
        self.cursor = Cursor::default();
        self.classes = classes::Classes::default();
        self.arrange(book, today);
    }
}

/// The view, or the list that it came from where what it shows is gone.
fn still_there(view: StockView, book: &Book) -> StockView {
    let is_there = match view {
        StockView::Item(id) | StockView::History(id) => book.items().get(id).is_some(),
        StockView::Class(id) => book.projects().get(id).is_some(),
        _ => true,
    };
    if is_there { view } else { view.tab().view() }
}

/// Offcuts that are there, as they were kept: to count them, without sorting.
pub fn in_bin(book: &Book) -> impl Iterator<Item = OffcutId> + '_ {
    book.offcuts().iter().map(|(id, _)| id).filter(|id| book.offcut_count(*id) > 0)
}

/// Offcuts that are there, in the order shown.
pub fn bin(pane: &StockPane, book: &Book) -> Vec<OffcutId> {
    let mut rows: Vec<OffcutId> = in_bin(book).collect();
    sort::offcuts(book, &mut rows, pane.sorts.of(Tab::Bin));
    rows
}

/// The line of the log in row `n` of the list in view.
pub fn log_line<'a>(pane: &StockPane, book: &'a Book, n: usize) -> Option<&'a LogLine> {
    let is_newest_first = pane.sorts.of(Tab::Log) == sort::SortBy::Newest;
    match pane.history() {
        Some(item) if is_newest_first => book.lines_of(item).rev().nth(n),
        Some(item) => book.lines_of(item).nth(n),
        None if is_newest_first => book.log().iter().rev().nth(n),
        None => book.log().get(n),
    }
}
