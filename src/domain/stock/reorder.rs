//! What is to be ordered: how much is wanting, in whole packs, by when, from whom, and whether a pack of several items
//! is the cheapest cover for it.
//!
//! Wanted is what brings on hand + on order - booked up to the mark (common practice: reorder point; whole packs are
//! ordered until the mark is met). Leaving items have no mark: they are wanted only for what is booked.

use crate::domain::book::Book;
use crate::domain::money::Money;
use crate::domain::stock::assort::{self, Wanted};
use crate::domain::stock::shortage::{shortage, taken_on};
use crate::domain::stock::summary::standing;
use crate::domain::stock::{AssortmentId, Item, ItemId, ProjectId, State};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// An item to be ordered on its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReorderLine {
    /// Which.
    pub item: ItemId,
    /// How many single ones are wanting.
    pub wanted: u64,
    /// Packs to order.
    pub packs: u64,
    /// What they bring.
    pub brings: u64,
    /// What they cost; `None` without a price.
    pub price: Option<Money>,
    /// The day it must be ordered by to be here in time, where something is booked for a day.
    pub order_by: Option<Date>,
    /// That day has gone by.
    pub late: bool,
}

/// A pack of several items to be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackLine {
    /// Which.
    pub assortment: AssortmentId,
    /// How many of it.
    pub packs: u64,
    /// What they cost.
    pub price: Option<Money>,
    /// What it covers of what is wanted.
    pub covers: Vec<(ItemId, u64)>,
    /// What else it brings.
    pub also: Vec<(ItemId, u64)>,
}

/// What goes to one seller.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SellerList {
    /// The seller, as the person wrote it; empty where none is given.
    pub seller: String,
    /// Items on their own.
    pub lines: Vec<ReorderLine>,
    /// Packs of several.
    pub packs: Vec<PackLine>,
    /// Sum of the prices that are known.
    pub total: Money,
    /// Lines without a price.
    pub without_price: usize,
}

/// An item that will not be orderable much longer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LastOrder {
    /// Which.
    pub item: ItemId,
    /// The last day.
    pub until: Date,
    /// What is still booked against it.
    pub booked: u64,
    /// What is there.
    pub on_hand: u64,
}

/// Something wanting that cannot be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unobtainable {
    /// Which.
    pub item: ItemId,
    /// How many are wanting.
    pub wanted: u64,
    /// Why, in words.
    pub why: String,
}

/// The whole list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reorder {
    /// By seller.
    pub sellers: Vec<SellerList>,
    /// Items that leave, soonest first.
    pub last_orders: Vec<LastOrder>,
    /// What is wanting and cannot be had.
    pub unobtainable: Vec<Unobtainable>,
}

/// The list as of a day.
pub fn reorder(book: &Book, today: Date) -> Reorder {
    let mut out = Reorder { last_orders: last_orders(book, today), ..Reorder::default() };
    let mut wanted = Vec::new();
    for (id, item) in book.items().iter() {
        let n = wanting(book, id);
        if n == 0 {
            continue;
        }
        if item.state.can_be_ordered(today) {
            wanted.push(Wanted { item: id, count: n, alone: single(item) });
        } else {
            let why = match item.state {
                State::Arriving(day) => format!("it can be ordered from {day}"),
                _ => "it is gone".to_owned(),
            };
            out.unobtainable.push(Unobtainable { item: id, wanted: n, why });
        }
    }
    let cover = assort::cover(book, &wanted, today);
    let mut sellers: BTreeMap<String, SellerList> = BTreeMap::new();
    for (id, packs) in &cover.packs {
        pack_line(book, *id, *packs, &wanted, &mut sellers);
    }
    for want in &cover.rest {
        match book.items().get(want.item) {
            Some(item) if item.sold_alone => {
                let list = seller(&mut sellers, &item.seller);
                list.add_line(line(book, want.item, item, want.count, today));
            }
            _ => out.unobtainable.push(Unobtainable {
                item: want.item,
                wanted: want.count,
                why: "it is sold only in packs of several, and none that can be ordered has it".to_owned(),
            }),
        }
    }
    out.sellers = sellers.into_values().collect();
    out
}

/// How many single ones are wanting of an item.
pub fn wanting(book: &Book, item: ItemId) -> u64 {
    let s = standing(book, item);
    (u64::from(s.mark) + s.booked).saturating_sub(s.on_hand + s.on_order)
}

/// Why an item is on the list, in full: what is short and for whom, what brings it up to the low mark, what is on order
/// already. The two numbers add up to what is wanting: `1 short for Winter class on 2026-12-12, 10 to reach the low mark`.
pub fn why(book: &Book, item: ItemId) -> String {
    told(book, item, true)
}

/// The same where day and mark stand beside it: `1 short for Winter class, 10 below mark`.
pub fn why_short(book: &Book, item: ItemId) -> String {
    told(book, item, false)
}

/// The two numbers alone, where a row has no more room: `1 short, 10 below mark`.
pub fn why_in_numbers(book: &Book, item: ItemId) -> String {
    numbers(book, item).join(", ")
}

/// What matters most of the two numbers, where more is to be said of the line: `1 short`.
pub fn first_number(book: &Book, item: ItemId) -> String {
    numbers(book, item).into_iter().next().unwrap_or_default()
}

fn numbers(book: &Book, item: ItemId) -> Vec<String> {
    let s = standing(book, item);
    let short = s.booked.saturating_sub(s.on_hand + s.on_order);
    let now = shortage(book, item).map_or(0, |first| short.max(first.missing));
    let to_mark = wanting(book, item) - short;
    let parts = [(now, "short"), (to_mark, "below mark")];
    parts.into_iter().filter(|(n, _)| *n > 0).map(|(n, words)| format!("{n} {words}")).collect()
}

fn told(book: &Book, item: ItemId, in_full: bool) -> String {
    let s = standing(book, item);
    let short = s.booked.saturating_sub(s.on_hand + s.on_order);
    let to_mark = wanting(book, item) - short;
    let mut parts = Vec::new();
    if let Some(first) = shortage(book, item) {
        let on = first.on.filter(|_| in_full).map_or_else(String::new, |day| format!(" on {day}"));
        let name = book.projects().name_of(first.project);
        parts.push(match (short, first.missing) {
            (0, n) => format!("{n} short for {name}{on} until what is on order comes"),
            (all, n) if all == n => format!("{n} short for {name}{on}"),
            (all, n) => format!("{all} short, {n} of them for {name}{on}"),
        });
    }
    if to_mark > 0 {
        let mark = format!("{to_mark} to reach the low mark of {}", s.mark);
        parts.push(if in_full { mark } else { format!("{to_mark} below mark") });
    }
    if s.on_order > 0 {
        parts.push(format!("{} on order", s.on_order));
    }
    parts.join(", ")
}

/// What one pack brings and costs, of an item that is sold on its own.
fn single(item: &Item) -> Option<(u64, Option<Money>)> {
    item.sold_alone.then(|| (u64::from(item.pack_size()), item.price))
}

/// The last day to order what is short: the day it is first taken less what the seller takes; `None` where nothing is short or
/// no day is set.
pub fn order_by(book: &Book, id: ItemId) -> Option<Date> {
    let short = shortage(book, id)?;
    Some(order_day(book, id, short.project, short.on?))
}

/// The last day to order what a project that is due on a day takes: so many days before it is cut or packed as the seller
/// takes, so that it is here by then. Every list says this day. What comes later, but by the day itself, is not short: it can be
/// cut that morning.
pub fn order_day(book: &Book, id: ItemId, project: ProjectId, due: Date) -> Date {
    let days = book.items().get(id).map_or(0, |item| item.lead_days);
    taken_on(book, project, id, due).saturating_sub(jiff::Span::new().days(i64::from(days)))
}

fn line(book: &Book, id: ItemId, item: &Item, wanted: u64, today: Date) -> ReorderLine {
    let pack = u64::from(item.pack_size());
    let packs = wanted.div_ceil(pack);
    let order_by = order_by(book, id);
    ReorderLine {
        item: id,
        wanted,
        packs,
        brings: packs * pack,
        price: item.price.and_then(|p| p.checked_mul(packs)),
        order_by,
        late: order_by.is_some_and(|day| day < today),
    }
}

fn pack_line(
    book: &Book,
    id: AssortmentId,
    packs: u64,
    wanted: &[Wanted],
    sellers: &mut BTreeMap<String, SellerList>,
) {
    let Some(assortment) = book.assortments().get(id) else { return };
    let brought = |n: u32| u64::from(n) * packs;
    let is_wanted = |item: ItemId| wanted.iter().find(|w| w.item == item).map(|w| w.count);
    let covers = assortment.contents.iter().filter_map(|(i, n)| Some((*i, brought(*n).min(is_wanted(*i)?))));
    let also = assortment.contents.iter().filter_map(|(i, n)| {
        let extra = brought(*n).saturating_sub(is_wanted(*i).unwrap_or(0));
        (extra > 0).then_some((*i, extra))
    });
    let line = PackLine {
        assortment: id,
        packs,
        price: assortment.price.and_then(|p| p.checked_mul(packs)),
        covers: covers.collect(),
        also: also.collect(),
    };
    let list = seller(sellers, &assortment.seller);
    list.count_price(line.price);
    list.packs.push(line);
}

fn seller<'a>(sellers: &'a mut BTreeMap<String, SellerList>, name: &str) -> &'a mut SellerList {
    let fresh = || SellerList { seller: name.to_owned(), ..SellerList::default() };
    sellers.entry(name.to_owned()).or_insert_with(fresh)
}

impl SellerList {
    fn add_line(&mut self, line: ReorderLine) {
        self.count_price(line.price);
        self.lines.push(line);
    }

    fn count_price(&mut self, price: Option<Money>) {
        match price {
            Some(price) => self.total += price,
            None => self.without_price += 1,
        }
    }
}

/// Leaving and still to be had, the soonest first.
pub fn last_orders(book: &Book, today: Date) -> Vec<LastOrder> {
    let leaving = book.items().iter().filter_map(|(item, i)| match i.state {
        State::Leaving(until) if today <= until => {
            Some(LastOrder { item, until, booked: book.booked(item), on_hand: book.on_hand(item) })
        }
        _ => None,
    });
    let mut all: Vec<LastOrder> = leaving.collect();
    all.sort_by_key(|l| (l.until, l.item));
    all
}
