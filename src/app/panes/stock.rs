//! Stock: the shelf, the bin, the log and what to reorder. Every count shown is a fold of the log.

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::model::Model;
use crate::app::overlay::{Echo, Purpose};
use crate::app::pane::Pane;
use crate::app::panes::yields;
use crate::app::prompt;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::stock::{Item, ItemId, NewLine};

/// What the pane lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Tab {
    /// Papers, inks, envelopes.
    #[default]
    Shelf,
    /// Offcuts.
    Bin,
    /// The log, newest line first.
    Log,
    /// What is at or under its low mark.
    Reorder,
}

impl Tab {
    /// All, in the order in which the key goes through them.
    pub const ALL: [Self; 4] = [Self::Shelf, Self::Bin, Self::Log, Self::Reorder];

    /// Its name.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Shelf => "Shelf",
            Self::Bin => "Offcut bin",
            Self::Log => "Log",
            Self::Reorder => "Reorder",
        }
    }

    fn next(self) -> Self {
        let at = Self::ALL.iter().position(|t| *t == self).unwrap_or(0);
        Self::ALL[(at + 1) % Self::ALL.len()]
    }
}

/// State of the pane.
#[derive(Clone, Debug, Default)]
pub struct StockPane {
    /// What is listed.
    pub tab: Tab,
    /// What narrows the shelf.
    pub filter: String,
    /// The items that match, in the order shown.
    pub shown: Vec<ItemId>,
    /// The items at or under their low mark.
    pub low: Vec<ItemId>,
    /// The row picked.
    pub cursor: Cursor,
}

impl StockPane {
    /// Brings the lists up to date with the book: by kind, then name.
    pub fn arrange(&mut self, book: &Book) {
        let mut rows: Vec<(ItemId, &Item)> =
            book.items().iter().filter(|(id, item)| matches(book, *id, item, &self.filter)).collect();
        rows.sort_by_key(|(_, item)| (item.kind, item.name.to_lowercase()));
        self.shown = rows.iter().map(|(id, _)| *id).collect();
        self.low = rows.iter().filter(|(id, item)| is_low(book, *id, item)).map(|(id, _)| *id).collect();
    }

    /// The item picked on the shelf or in the reorder list.
    pub fn picked_item(&self) -> Option<ItemId> {
        let list = match self.tab {
            Tab::Shelf => &self.shown,
            Tab::Reorder => &self.low,
            Tab::Bin | Tab::Log => return None,
        };
        list.get(self.cursor.row(list.len())?).copied()
    }

    /// Shows an item on the whole shelf.
    pub fn show(&mut self, id: ItemId, book: &Book) {
        self.tab = Tab::Shelf;
        self.filter.clear();
        self.arrange(book);
        self.cursor = Cursor::at(self.shown.iter().position(|i| *i == id).unwrap_or(0));
    }

    /// How many rows the list in view has.
    pub fn rows(&self, book: &Book) -> usize {
        match self.tab {
            Tab::Shelf => self.shown.len(),
            Tab::Reorder => self.low.len(),
            Tab::Bin => book.offcuts().iter().filter(|(id, _)| book.offcut_count(*id) > 0).count(),
            Tab::Log => book.log().len(),
        }
    }
}

/// True where what is free and on order is not above the low mark.
pub fn is_low(book: &Book, id: ItemId, item: &Item) -> bool {
    let coming = i64::try_from(book.on_order(id)).unwrap_or(i64::MAX);
    item.mark() > 0 && book.free(id).saturating_add(coming) <= i64::from(item.mark())
}

/// Every word of the filter stands somewhere in the item's own words.
fn matches(book: &Book, id: ItemId, item: &Item, filter: &str) -> bool {
    if filter.trim().is_empty() {
        return true;
    }
    let family =
        item.swatch.and_then(|s| book.swatches().get(s)).map(|s| s.family.clone()).unwrap_or_default();
    let state = item.state.to_string();
    let low = if is_low(book, id, item) { "low" } else { "" };
    let words = [
        item.name.as_str(),
        item.kind.word(),
        &item.order_number,
        &item.seller,
        &item.place,
        &item.collection,
        &item.note,
        &state,
        &family,
        low,
    ]
    .join(" ")
    .to_lowercase();
    filter.to_lowercase().split_whitespace().all(|part| words.contains(part))
}

/// Narrows the shelf.
pub fn filter(model: &mut Model, text: &str) {
    text.trim().clone_into(&mut model.stock.filter);
    model.stock.cursor = Cursor::default();
    model.stock.arrange(&model.book);
}

/// Runs a command of this pane.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let rows = model.stock.rows(&model.book);
    match id {
        Id::ItemDown => model.stock.cursor.go(Move::By(1), rows),
        Id::ItemUp => model.stock.cursor.go(Move::By(-1), rows),
        Id::ItemPageDown => model.stock.cursor.go(Move::By(PAGE), rows),
        Id::ItemPageUp => model.stock.cursor.go(Move::By(-PAGE), rows),
        Id::ItemFirst => model.stock.cursor.go(Move::First, rows),
        Id::ItemLast => model.stock.cursor.go(Move::Last, rows),
        Id::StockTab => {
            model.stock.tab = model.stock.tab.next();
            model.stock.cursor = Cursor::default();
        }
        Id::StockFilter => {
            model.stock.tab = Tab::Shelf;
            let now = model.stock.filter.clone();
            prompt::open(model, Purpose::StockFilter, "Show lines with:", &now);
        }
        Id::Use | Id::Receive | Id::Adjust | Id::LowMark => open_count(model, id),
        Id::ItemToYield => return to_yield(model),
        _ => {}
    }
    Vec::new()
}

fn open_count(model: &mut Model, id: CommandId) {
    let Some(item) = model.stock.picked_item() else { return };
    let name = model.book.items().name_of(item);
    let held = model.book.on_hand(item);
    match id {
        CommandId::Use => {
            prompt::open(model, Purpose::Use(item), &format!("{name}, {held} on hand. Used:"), "");
        }
        CommandId::Receive => prompt::open(model, Purpose::Receive(item), &format!("{name}. Came in:"), ""),
        CommandId::Adjust => {
            prompt::open(
                model,
                Purpose::Adjust(item),
                &format!("{name}: the book says {held}. Really there:"),
                "",
            );
        }
        _ => {
            let mark = model.book.items().get(item).map_or(0, |i| i.low).to_string();
            prompt::open(model, Purpose::LowMark(item), &format!("{name}. Reorder at:"), &mark);
        }
    }
}

fn to_yield(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.stock.picked_item() else { return Vec::new() };
    let Some(choice) = yields::sheet_of_item(model, id) else {
        model.tell(Status::refused("this line has no size, so nothing can be cut from it"));
        return Vec::new();
    };
    model.pane = Pane::Yield;
    model.yields.chart_open = false;
    yields::take_sheet(model, choice)
}

fn count(text: &str, least: u32) -> Result<u32, String> {
    match text.trim().parse::<u32>() {
        Ok(n) if n >= least && n <= 1_000_000 => Ok(n),
        _ => Err(format!("\"{}\" is not a count: write a whole number from {least} to 1000000", text.trim())),
    }
}

/// How a prompt's text is read, while it is typed.
pub fn echo(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    let held = |id: &ItemId| model.book.on_hand(*id);
    let read = match purpose {
        Purpose::Use(id) | Purpose::UseSheets(id) => count(text, 1).and_then(|n| {
            let left = held(id).checked_sub(u64::from(n));
            left.map(|l| format!("{l} left")).ok_or_else(|| too_many(model, *id, n))
        }),
        Purpose::Receive(id) => count(text, 1).map(|n| format!("{} then", held(id) + u64::from(n))),
        Purpose::Adjust(id) => {
            count(text, 0).map(|n| format!("{:+} against the book", i64::from(n) - held(id) as i64))
        }
        Purpose::LowMark(_) => count(text, 0).map(|n| format!("reorder when {n} or fewer are free")),
        _ => return Echo::Nothing,
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

fn too_many(model: &Model, id: ItemId, wanted: u32) -> String {
    let name = model.book.items().name_of(id);
    let held = model.book.on_hand(id);
    format!("{wanted} of {name} cannot go, {held} on hand: if the count was wrong, Esc, then a to adjust it")
}

/// Takes a prompt's text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    let job = model.book.active_project().map(|p| p.name.clone()).unwrap_or_default();
    let edit = match purpose {
        Purpose::Use(id) | Purpose::UseSheets(id) => {
            let n = count(text, 1)?;
            if u64::from(n) > model.book.on_hand(*id) {
                return Err(too_many(model, *id, n));
            }
            Edit::Log(NewLine::used(*id, n, job))
        }
        Purpose::Receive(id) => Edit::Log(NewLine::received(*id, count(text, 1)?, "")),
        Purpose::Adjust(id) => {
            let difference = i64::from(count(text, 0)?) - model.book.on_hand(*id) as i64;
            if difference == 0 {
                model.tell(Status::note("The count was right: nothing to adjust."));
                return Ok(Vec::new());
            }
            Edit::Log(NewLine::adjusted(*id, difference, "counted"))
        }
        Purpose::LowMark(id) => {
            let low = count(text, 0)?;
            let was = model.book.items().get(*id).cloned().ok_or("this line is gone")?;
            let now = Item { low, ..was.clone() };
            if now == was {
                return Ok(Vec::new());
            }
            Edit::Item(Row::alter(*id, was, now))
        }
        _ => return Ok(Vec::new()),
    };
    update::make(model, edit)
}
