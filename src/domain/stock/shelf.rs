//! Work at the shelf: a count day, orders placed and arrived, packs that bring several items, and how much of an item
//! goes in a month.

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::{AssortmentId, Item, ItemId, NewLine, Order, OrderId, Reason};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The job that a count day's lines carry.
pub const COUNT_DAY: &str = "count day";

/// The shelf was walked and counted: every difference becomes a line. `None` where all counts agree.
pub fn count_day(book: &Book, counted: &[(ItemId, u32)]) -> Option<Edit> {
    let lines = counted.iter().filter_map(|(item, n)| {
        let difference = i64::from(*n) - i64::try_from(book.on_hand(*item)).unwrap_or(i64::MAX);
        (difference != 0).then(|| Edit::Log(NewLine::adjusted(*item, difference, COUNT_DAY)))
    });
    let edits: Vec<Edit> = lines.collect();
    let label = format!("counted {}, {}", count_of(counted.len() as u64, "item"), differed(edits.len()));
    (!edits.is_empty()).then(|| Edit::batch(label, edits))
}

fn differed(n: usize) -> String {
    if n == 1 { "1 differed".to_owned() } else { format!("{n} differed") }
}

/// The count was wrong and some are to be used all the same: adjusts it to what was counted, then uses.
pub fn adjust_then_use(book: &Book, item: ItemId, counted: u32, used: u32, job: &str) -> Edit {
    let mut edits: Vec<Edit> = count_day(book, &[(item, counted)]).into_iter().collect();
    edits.push(Edit::Log(NewLine::used(item, used, job)));
    Edit::batch(format!("counted {counted} and used {used} of {}", book.items().name_of(item)), edits)
}

/// So many are ordered today and should be here after the item's lead time.
pub fn ordered(book: &Book, item: ItemId, count: u32, today: Date) -> Edit {
    let line = book.items().get(item);
    let days = line.map_or(0, |i| i.lead_days);
    let expected = (days > 0).then(|| today.saturating_add(jiff::Span::new().days(i64::from(days))));
    let price = line.and_then(|i| Some(i.price?.part(u64::from(count), u64::from(i.pack_size()))));
    let seller = line.map_or_else(String::new, |i| i.seller.clone());
    let order = Order { expected, seller, price, ..Order::of(item, count, today) };
    Edit::Order(Row::add(book.orders().next(), order))
}

/// So many packs of several items are ordered today. Each item's order carries the pack's name as its note, so that the
/// parcel can be booked in as one.
pub fn ordered_pack(book: &Book, id: AssortmentId, packs: u32, today: Date) -> Option<Edit> {
    let assortment = book.assortments().get(id)?;
    let first = book.orders().next().0;
    let price = assortment.price.and_then(|p| p.checked_mul(u64::from(packs)));
    let sheets = |n: u32| u64::from(n.saturating_mul(packs));
    let all: u64 = assortment.contents.iter().map(|(_, n)| sheets(*n)).sum();
    let mut before = 0;
    let orders = (0..).zip(&assortment.contents).map(|(n, (item, each))| {
        let after = before + sheets(*each);
        let price = price.map(|p| p.share(before, after, all));
        before = after;
        let (note, seller) = (assortment.name.clone(), assortment.seller.clone());
        let order = Order { note, seller, price, ..Order::of(*item, each.saturating_mul(packs), today) };
        Edit::Order(Row::add(OrderId(first + n), order))
    });
    let words = count_of(u64::from(packs), "pack");
    Some(Edit::batch(format!("ordered {words} of {}", assortment.name), orders.collect()))
}

/// Orders that are placed together, as one step: each gets a number of its own, in their order.
pub fn together(book: &Book, label: impl Into<String>, orders: Vec<Edit>) -> Edit {
    let flat = orders.into_iter().flat_map(|edit| match edit {
        Edit::Batch { edits, .. } => edits,
        one => vec![one],
    });
    let mut next = book.orders().next().0;
    let numbered = flat.map(|edit| match edit {
        Edit::Order(Row::Add(_, order)) => {
            next += 1;
            Edit::Order(Row::Add(OrderId(next - 1), order))
        }
        other => other,
    });
    Edit::batch(label, numbered.collect())
}

/// Orders that were placed as one pack: the pack, and the orders of the same day that carry its name.
pub fn parcel(book: &Book, id: OrderId) -> Option<(AssortmentId, Vec<OrderId>)> {
    let order = book.orders().get(id)?;
    let (pack, _) = book.assortments().iter().find(|(_, a)| a.name == order.note)?;
    let same = |o: &Order| o.note == order.note && o.placed == order.placed;
    Some((pack, book.orders().iter().filter(|(_, o)| same(o)).map(|(id, _)| id).collect()))
}

/// A parcel has come, or so many packs of it: `part` of `whole` of what is still awaited of each design. The price is
/// shared out by count, to the minor unit; what has not come stays on order.
pub fn parcel_arrived(
    book: &Book,
    orders: &[OrderId],
    (part, whole): (u32, u32),
    come: &Come,
) -> Option<Edit> {
    let rows: Vec<(OrderId, &Order)> =
        orders.iter().filter_map(|id| Some((*id, book.orders().get(*id)?))).collect();
    let name = rows.first()?.1.note.clone();
    let of_it = |o: &Order| u64::from(o.count) * u64::from(part) / u64::from(whole.max(1));
    let all: u64 = rows.iter().map(|(_, o)| of_it(o)).sum();
    let mut before = 0;
    let mut edits = Vec::new();
    for (id, order) in rows {
        let count = u32::try_from(of_it(order)).unwrap_or(u32::MAX);
        let after = before + u64::from(count);
        let price = come.price.map(|p| p.share(before, after, all));
        before = after;
        edits.push(Edit::Log(come.line(order.item, count, price, name.as_str())));
        edits.push(Edit::Order(less(id, order, count)));
    }
    Some(Edit::batch(format!("received {name}"), edits))
}

/// An order of which so many have come: it goes, or the rest stays back-ordered.
fn less(id: OrderId, order: &Order, came: u32) -> Row<OrderId, Order> {
    match order.count.saturating_sub(came) {
        0 => Row::Remove(id),
        rest => {
            Row::alter(id, order.clone(), Order { count: rest, ordered: order.in_all(), ..order.clone() })
        }
    }
}

/// What is known of a parcel.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Come {
    /// What all of it cost.
    pub price: Option<Money>,
    /// The day it came, where that is not the day of logging.
    pub on: Option<Date>,
    /// The maker's mark on the lot.
    pub lot: String,
}

impl Come {
    fn line(&self, item: ItemId, count: u32, price: Option<Money>, job: &str) -> NewLine {
        NewLine { price, on: self.on, lot: self.lot.clone(), ..NewLine::received(item, count, job) }
    }

    /// The received line for so many of an item.
    pub fn received(&self, item: ItemId, count: u32) -> NewLine {
        self.line(item, count, self.price, "")
    }
}

/// So many of an order have come: they are received, and what is still awaited shrinks.
pub fn arrived(book: &Book, id: OrderId, count: u32, come: &Come) -> Option<Edit> {
    let order = book.orders().get(id)?;
    let line = come.line(order.item, count, come.price, &format!("ordered {}", order.placed));
    let change = Edit::Order(less(id, order, count));
    let rest = match order.count.saturating_sub(count) {
        0 => String::new(),
        n => format!(", {n} back-ordered"),
    };
    let label = format!("received {count} of {}{rest}", book.items().name_of(order.item));
    Some(Edit::batch(label, vec![Edit::Log(line), change]))
}

/// So many of an order have come, or of the pack of several designs that it is part of, which comes in whole packs.
///
/// # Errors
/// A sentence where the order is gone, or where no whole packs make that number.
pub fn order_arrived(book: &Book, id: OrderId, count: u32, come: &Come) -> Result<Edit, String> {
    let gone = || "this order is gone".to_owned();
    let Some((pack, orders)) = parcel(book, id) else {
        return arrived(book, id, count, come).ok_or_else(gone);
    };
    let awaited: u32 = orders.iter().filter_map(|id| book.orders().get(*id)).map(|o| o.count).sum();
    let of: u32 = book.assortments().get(pack).map_or(0, |a| a.contents.iter().map(|(_, n)| *n).sum());
    if count > awaited || (count != awaited && !count.is_multiple_of(of)) {
        let name = book.assortments().name_of(pack);
        return Err(format!(
            "{name} comes in whole packs of {of}, and {awaited} are still to come: {count} is not a number of whole packs"
        ));
    }
    parcel_arrived(book, &orders, (count, awaited), come).ok_or_else(gone)
}

/// The same step with another price of a pack for the line.
pub fn with_pack_price(book: &Book, edit: Edit, item: ItemId, price: Money) -> Edit {
    let Some(was) = book.items().get(item).filter(|i| i.price != Some(price)) else { return edit };
    let now = Item { price: Some(price), ..was.clone() };
    let change = Edit::Item(Row::alter(item, was.clone(), now));
    match edit {
        Edit::Batch { label, mut edits } => {
            edits.push(change);
            Edit::Batch { label, edits }
        }
        one => Edit::batch(format!("received {}", was.name), vec![one, change]),
    }
}

/// So many packs of several items have come. The price of all is shared out by count, to the minor unit.
pub fn receive_assortment(book: &Book, id: AssortmentId, packs: u32, come: &Come) -> Option<Edit> {
    let assortment = book.assortments().get(id)?;
    let sheets = |n: u32| u64::from(n) * u64::from(packs);
    let all: u64 = assortment.contents.iter().map(|(_, n)| sheets(*n)).sum();
    let mut before = 0;
    let mut edits = Vec::new();
    for (item, n) in &assortment.contents {
        let after = before + sheets(*n);
        let count = u32::try_from(sheets(*n)).unwrap_or(u32::MAX);
        let part = come.price.map(|p| p.share(before, after, all));
        edits.push(Edit::Log(come.line(*item, count, part, assortment.name.as_str())));
        before = after;
    }
    let packs = count_of(u64::from(packs), "pack");
    Some(Edit::batch(format!("received {packs} of {}", assortment.name), edits))
}

/// How many of an item were used in each of the last `months` months, the present one last.
pub fn used_by_month(book: &Book, item: ItemId, today: Date, months: usize) -> Vec<u64> {
    let number = |d: Date| i64::from(d.year()) * 12 + i64::from(d.month());
    let mut sums = vec![0; months];
    for line in book.lines_of(item) {
        let back = number(today) - number(line.date);
        let counts = line.reason == Reason::Used && line.offcut.is_none() && !book.is_voided(line.seq);
        let place = usize::try_from(back).ok().and_then(|b| months.checked_sub(b + 1));
        if let Some(sum) = place.filter(|_| counts).and_then(|at| sums.get_mut(at)) {
            *sum += line.change.unsigned_abs();
        }
    }
    sums
}

/// The day of the first line of an item's log that counts: of what was before nobody knows.
pub fn known_since(book: &Book, item: ItemId) -> Option<Date> {
    let counts =
        |l: &&super::LogLine| l.offcut.is_none() && l.reason != Reason::Voided && !book.is_voided(l.seq);
    book.lines_of(item).filter(counts).map(|l| l.date).min()
}

/// A low mark worth setting: the largest single draw there has been, by day and job (common practice: the largest
/// class inside the lead time must not find the shelf empty).
pub fn suggested_mark(book: &Book, item: ItemId) -> u64 {
    let mut draws: BTreeMap<(Date, &str), u64> = BTreeMap::new();
    for line in book.lines_of(item) {
        if line.reason == Reason::Used && line.offcut.is_none() && !book.is_voided(line.seq) {
            *draws.entry((line.date, line.job.as_str())).or_default() += line.change.unsigned_abs();
        }
    }
    draws.into_values().max().unwrap_or(0)
}
