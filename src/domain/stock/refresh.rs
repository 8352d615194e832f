//! The yearly refresh: a new list replaces the old one. What is no longer on it leaves, what is new arrives, what stays
//! takes the new numbers and prices; and what that means for charts, cards, kept trios and classes.
//!
//! A list speaks of the kinds that stand on it and of no other: a list of papers says nothing of ink pads.

mod touched;

pub use touched::{Touched, TouchedWhat, touched};

use crate::domain::book::{Book, folded};
use crate::domain::edit::{Edit, Row};
use crate::domain::plural::count_of;
use crate::domain::size::Size;
use crate::domain::stock::exchange::{Exchanges, exchanges, stays};
use crate::domain::stock::import::{BadLine, StockRow, import, same_item};
use crate::domain::stock::instead::{self, Instead};
use crate::domain::stock::{Item, ItemId, Kind, ProjectId, State, TrioId};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What a new list would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Refresh {
    /// Kinds that stand on the list; what is of another kind stays as it is.
    pub kinds: BTreeSet<Kind>,
    /// Items that are not on the list any more.
    pub leaving: Vec<ItemId>,
    /// Names of items that are new.
    pub arriving: Vec<String>,
    /// How many stay.
    pub staying: usize,
    /// Lines that are refused; then nothing is done.
    pub refused: Vec<BadLine>,
    /// The one edit.
    pub edit: Option<Edit>,
}

/// Compares the items of a seller that can be ordered, of the kinds on the list, with a new list. Old items leave on
/// `last`, new ones arrive on `first`, where a row says nothing else. Counts in the list are left alone: a refresh is no
/// count day.
pub fn refresh(book: &Book, seller: &str, rows: &[StockRow], last: Date, first: Date) -> Refresh {
    let rows: Vec<StockRow> = rows.iter().map(|row| of_seller(book, row, seller, first)).collect();
    let plan = import(book, &rows);
    // A row without a size speaks of every size of its name.
    let mut listed: BTreeMap<(String, Kind), Vec<Option<Size>>> = BTreeMap::new();
    for row in &rows {
        listed.entry((folded(&row.name), row.kind)).or_default().push(row.size);
    }
    let is_on_list = |item: &Item| {
        let sizes = listed.get(&(folded(&item.name), item.kind));
        sizes.is_some_and(|all| item.size.is_none() || all.iter().any(|s| s.is_none() || *s == item.size))
    };
    let kinds: BTreeSet<Kind> = rows.iter().map(|r| r.kind).collect();
    let of_list = |item: &Item| folded(&item.seller) == folded(seller) && kinds.contains(&item.kind);
    let leaves = |item: &Item| of_list(item) && item.state == State::Current && !is_on_list(item);
    let leaving: Vec<ItemId> = book.items().iter().filter(|(_, i)| leaves(i)).map(|(id, _)| id).collect();
    let mut edits: Vec<Edit> = leaving.iter().filter_map(|id| leave(book, *id, last)).collect();
    edits.extend(plan.edit());
    let staying = plan.changed.len() + plan.same;
    let label = format!(
        "refreshed {}: {} leaving, {} arriving",
        if seller.is_empty() { "the list" } else { seller },
        leaving.len(),
        count_of(plan.added.len() as u64, "item")
    );
    let edit = (plan.refused.is_empty() && !edits.is_empty()).then(|| Edit::batch(label, edits));
    Refresh { kinds, leaving, arriving: plan.added, staying, refused: plan.refused, edit }
}

impl Refresh {
    /// The same step with what leaves exchanged in the cards of open projects, and what becomes of each line there.
    pub fn with_exchanges(&self, book: &Book, today: Date) -> (Option<Edit>, Exchanges) {
        let mut then = book.clone();
        let Some(Edit::Batch { label, edits }) = &self.edit else { return (None, Exchanges::default()) };
        if edits.iter().any(|edit| then.apply(edit, today).is_err()) {
            return (self.edit.clone(), Exchanges::default());
        }
        let found = exchanges(&then, &self.leaving, today);
        let label = format!("{label}, {} exchanged in projects", count_of(found.made(), "line"));
        let edits = edits.iter().chain(&found.edits).cloned().collect();
        (Some(Edit::batch(label, edits)), found)
    }
}

/// The seller that a list is most likely of: the one its rows name, else the one that most of the items it names come
/// from.
pub fn seller_of(book: &Book, rows: &[StockRow]) -> String {
    if let Some(named) = rows.iter().find_map(|r| r.seller.clone()) {
        return named;
    }
    let mut votes: BTreeMap<&str, usize> = BTreeMap::new();
    for row in rows {
        let same = book.items_named(&row.name).filter(|(_, i)| i.kind == row.kind);
        same.for_each(|(_, i)| *votes.entry(i.seller.as_str()).or_default() += 1);
    }
    votes.into_iter().max_by_key(|(_, n)| *n).map_or_else(String::new, |(seller, _)| seller.to_owned())
}

fn of_seller(book: &Book, row: &StockRow, seller: &str, first: Date) -> StockRow {
    let is_new = same_item(book, row).is_none();
    let mut row = StockRow { on_hand: None, ..row.clone() };
    if is_new {
        row.state.get_or_insert(State::Arriving(first));
        row.seller.get_or_insert_with(|| seller.to_owned());
    }
    row
}

fn leave(book: &Book, id: ItemId, last: Date) -> Option<Edit> {
    let was = book.items().get(id)?.clone();
    let now = Item { state: State::Leaving(last), ..was.clone() };
    Some(Edit::Item(Row::alter(id, was, now)))
}

/// The dates have come: what has left is gone, what was to arrive is current. `None` where nothing changes.
pub fn turn_of(book: &Book, today: Date) -> Option<Edit> {
    let edits: Vec<Edit> = book
        .items()
        .iter()
        .filter_map(|(id, was)| {
            let state = match was.state {
                State::Leaving(last) if last < today => State::Gone,
                State::Arriving(first) if first <= today => State::Current,
                _ => return None,
            };
            Some(Edit::Item(Row::alter(id, was.clone(), Item { state, ..was.clone() })))
        })
        .collect();
    let label = format!("brought {} up to date", count_of(edits.len() as u64, "item"));
    (!edits.is_empty()).then(|| Edit::batch(label, edits))
}

/// A leaving item that somebody counts on.
#[derive(Clone, Debug, PartialEq)]
pub struct Affected {
    /// The item.
    pub item: ItemId,
    /// Projects that use it.
    pub projects: Vec<ProjectId>,
    /// Kept trios that hold its colour.
    pub trios: Vec<TrioId>,
    /// What can still be had in its place.
    pub instead: Option<Instead>,
}

/// Items that leave or are gone and that open projects use or kept trios show, with what could take their place.
pub fn affected(book: &Book, today: Date) -> Vec<Affected> {
    let ends = |item: &Item| matches!(item.state, State::Leaving(_) | State::Gone);
    let all = book.items().iter().filter(|(_, i)| ends(i)).map(|(id, item)| Affected {
        item: id,
        projects: users(book, id),
        trios: trios_with(book, item),
        instead: replacement(book, id, today),
    });
    all.filter(|a| !a.projects.is_empty() || !a.trios.is_empty()).collect()
}

/// The kept trios that hold an item's colour.
fn trios_with(book: &Book, item: &Item) -> Vec<TrioId> {
    let Some(swatch) = item.swatch else { return Vec::new() };
    let holds = book.trios().iter().filter(|(_, t)| !t.dismissed && t.swatches.contains(&swatch));
    holds.map(|(id, _)| id).collect()
}

fn users(book: &Book, id: ItemId) -> Vec<ProjectId> {
    let open = book.projects().iter().filter(|(_, p)| p.progress == crate::domain::project::Progress::Open);
    open.filter(|(_, p)| p.items().any(|i| i == id)).map(|(p, _)| p).collect()
}

/// What takes an item's place among those of its kind that can be ordered and stay: the same colour in another format
/// first, else the closest colour that stands in or is near; `None` where none is.
pub fn replacement(book: &Book, id: ItemId, today: Date) -> Option<Instead> {
    instead::all_for(book, id, |_, item| stays(item, today)).into_iter().next()
}
