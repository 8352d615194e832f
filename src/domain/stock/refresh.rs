//! The yearly refresh: a new list replaces the old one. What is no longer on it leaves, what is new arrives, what stays
//! takes the new numbers and prices; and what that means for projects and colours.

use crate::domain::book::{Book, folded};
use crate::domain::colour::difference::ciede2000;
use crate::domain::colour::space::Lab;
use crate::domain::edit::{Edit, Row};
use crate::domain::plural::count_of;
use crate::domain::stock::import::{BadLine, StockRow, import};
use crate::domain::stock::{Item, ItemId, Kind, ProjectId, State, SwatchId, TrioId};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What a new list would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Refresh {
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

/// Compares the items of a seller that can be ordered with a new list. Old items leave on `last`, new ones arrive on
/// `first`, where a row says nothing else. Counts in the list are left alone: a refresh is no count day.
pub fn refresh(book: &Book, seller: &str, rows: &[StockRow], last: Date, first: Date) -> Refresh {
    let rows: Vec<StockRow> = rows.iter().map(|row| of_seller(book, row, seller, first)).collect();
    let plan = import(book, &rows);
    let listed: BTreeSet<(String, Kind)> = rows.iter().map(|r| (folded(&r.name), r.kind)).collect();
    let is_on_list = |item: &Item| listed.contains(&(folded(&item.name), item.kind));
    let of_seller = |item: &Item| folded(&item.seller) == folded(seller);
    let leaves = |item: &Item| of_seller(item) && item.state == State::Current && !is_on_list(item);
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
    Refresh { leaving, arriving: plan.added, staying, refused: plan.refused, edit }
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
    let is_new = !book.items_named(&row.name).any(|(_, item)| item.kind == row.kind);
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
    /// The nearest colour that can still be had in the same kind, and its CIEDE2000.
    pub instead: Option<(SwatchId, f64)>,
}

/// Items that leave or are gone and that open projects use or kept trios show, with what could take their place.
pub fn affected(book: &Book, today: Date) -> Vec<Affected> {
    let ends = |item: &Item| matches!(item.state, State::Leaving(_) | State::Gone);
    let all = book.items().iter().filter(|(_, i)| ends(i)).map(|(id, item)| Affected {
        item: id,
        projects: users(book, id),
        trios: trios_with(book, item),
        instead: replacement(book, item, today),
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

/// The nearest other colour among items of the same kind that can be ordered and stay.
pub fn replacement(book: &Book, item: &Item, today: Date) -> Option<(SwatchId, f64)> {
    let own = item.swatch?;
    let lab = |id: SwatchId| book.swatches().get(id).map(|s| Lab::new(s.lab[0], s.lab[1], s.lab[2]));
    let from = lab(own)?;
    let stays =
        |i: &Item| i.kind == item.kind && i.state.can_be_ordered(today) && i.state.word() != "leaving";
    let others: BTreeSet<SwatchId> = book
        .items()
        .iter()
        .filter(|(_, i)| stays(i))
        .filter_map(|(_, i)| i.swatch)
        .filter(|s| *s != own)
        .collect();
    let near = others.into_iter().filter_map(|id| Some((id, ciede2000(from, lab(id)?))));
    near.min_by(|a, b| a.1.total_cmp(&b.1))
}
