//! What is on order: one order a seller and day, what of it has come, what is back-ordered, what a price was when it was
//! ordered. Placing and booking in stand in `shelf`.

use crate::domain::book::{Book, folded};
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::near::instead;
use crate::domain::plural::count_of;
use crate::domain::stock::cost::Each;
use crate::domain::stock::{ItemId, Order, OrderId, shelf};
use jiff::civil::Date;

/// One order: all that one seller was asked for on one day and has not sent yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacedOrder {
    /// From whom; empty where no seller is known.
    pub seller: String,
    /// On which day.
    pub on: Date,
    /// The day by which all of it should be here; `None` where one of its lines has none.
    pub due: Option<Date>,
    /// Its lines, in the order in which they were written down.
    pub lines: Vec<OrderId>,
    /// What its lines were to cost, those that have come in part in full.
    pub total: Money,
    /// Lines without a price.
    pub without_price: usize,
}

/// Whom an order went to: as it was written down, else the seller of its line.
pub fn seller_of(book: &Book, order: &Order) -> String {
    if order.seller.is_empty() {
        return book.items().get(order.item).map_or_else(String::new, |i| i.seller.clone());
    }
    order.seller.clone()
}

/// What is on order goes up by a new order, and down by taking from the latest ones. What comes in a parcel of several
/// designs stays: the parcel is ticked or taken off as a whole.
///
/// # Errors
/// A sentence where it is not `was` any more, or where a parcel holds what should go.
pub fn set_on_order(
    book: &Book,
    id: ItemId,
    (was, count): (u64, u32),
    today: Date,
) -> Result<Option<Edit>, String> {
    let name = book.items().name_of(id);
    if book.on_order(id) != was {
        return Err(format!("what is on order of {name} was changed meanwhile: Esc, then look at it again"));
    }
    let (now, wanted) = (was, u64::from(count));
    if wanted == now {
        return Ok(None);
    }
    let mut edits = Vec::new();
    if let Some(more) = wanted.checked_sub(now).and_then(|n| u32::try_from(n).ok()) {
        edits.push(shelf::ordered(book, id, more, today));
    } else {
        let mut less = now - wanted;
        let own = |at| shelf::parcel(book, at).is_none();
        for (at, order) in book.orders().iter().rev().filter(|(at, o)| o.item == id && own(*at)) {
            let n = less.min(u64::from(order.count));
            less -= n;
            let rest = u64::from(order.count) - n;
            let rest = u32::try_from(rest).unwrap_or(u32::MAX);
            let row = match (n, rest) {
                (0, _) => break,
                (_, 0) => Row::Remove(at),
                _ => Row::alter(at, order.clone(), order.with_count(rest)),
            };
            edits.push(Edit::Order(row));
        }
        if less > 0 {
            return Err(format!(
                "{less} of {name} come in a parcel of several designs: the reorder list takes that off as a whole"
            ));
        }
    }
    Ok(Some(Edit::batch(format!("set what is on order of {name} to {count}"), edits)))
}

/// Every order, the oldest first, those of one day by seller.
pub fn placed(book: &Book) -> Vec<PlacedOrder> {
    let mut all: Vec<PlacedOrder> = Vec::new();
    for (id, order) in book.orders().iter() {
        let seller = seller_of(book, order);
        let same = |p: &&mut PlacedOrder| p.on == order.placed && folded(&p.seller) == folded(&seller);
        if let Some(one) = all.iter_mut().find(same) {
            one.lines.push(id);
            one.due = one.due.zip(order.expected).map(|(a, b)| a.max(b));
            one.add_price(order.price);
            continue;
        }
        let mut one = PlacedOrder {
            seller,
            on: order.placed,
            due: order.expected,
            lines: vec![id],
            total: Money::ZERO,
            without_price: 0,
        };
        one.add_price(order.price);
        all.push(one);
    }
    all.sort_by_key(|p| (p.on, folded(&p.seller)));
    all
}

impl PlacedOrder {
    fn add_price(&mut self, price: Option<Money>) {
        match price {
            Some(price) => self.total += price,
            None => self.without_price += 1,
        }
    }

    /// `on order from The Mill, 2026-11-25: 2 lines, $27.00, due 2026-12-02`.
    pub fn words(&self, currency: &str) -> String {
        let from = if self.seller.is_empty() { String::new() } else { format!(" from {}", self.seller) };
        let lines = count_of(self.lines.len() as u64, "line");
        let price = if self.total == Money::ZERO {
            String::new()
        } else {
            format!(", {}", self.total.show(currency))
        };
        let unpriced = match self.without_price {
            0 => String::new(),
            n if n == self.lines.len() => ", no price known".to_owned(),
            n => format!(" and {} without a price", count_of(n as u64, "line")),
        };
        let due = self.due.map_or_else(String::new, |d| format!(", due {d}"));
        format!("on order{from}, {}: {lines}{price}{unpriced}{due}", self.on)
    }
}

/// How an order stands: `4 of 10 back-ordered, ordered 2026-11-25, due 2026-12-02, 5 days over`.
pub fn line_words(order: &Order, today: Date) -> String {
    let back = match order.came() {
        0 => String::new(),
        _ => format!("{} of {} back-ordered, ", order.count, order.in_all()),
    };
    let due = match order.expected {
        Some(day) if day < today => {
            let over = (today - day).get_days().unsigned_abs();
            format!(", due {day}, {} over", count_of(u64::from(over), "day"))
        }
        Some(day) => format!(", due {day}"),
        None => String::new(),
    };
    format!("{back}ordered {}{due}", order.placed)
}

/// What one cost when it was ordered.
pub fn price_each(order: &Order) -> Option<Each> {
    order.price.map(|total| Each { total, of: u64::from(order.in_all()) })
}

/// That what came costs more or less than it did when it was ordered: `price went up: $0.40 each, $0.36 when it was
/// ordered`. `None` where it does not, or where one of the two is not known.
pub fn price_change(book: &Book, order: &Order, count: u32, paid: Option<Money>) -> Option<String> {
    let (was, now) = (price_each(order)?, Each { total: paid?, of: u64::from(count) });
    // Compared as fractions of a cent, so that a price that is shared out is no change.
    let (a, b) = (cross(now, was), cross(was, now));
    let way = match a.cmp(&b) {
        std::cmp::Ordering::Equal => return None,
        std::cmp::Ordering::Greater => "up",
        std::cmp::Ordering::Less => "down",
    };
    let currency = &book.settings().currency;
    // Less than a cent for the whole count is a matter of rounding.
    if was.total.part(u64::from(count), was.of) == now.total {
        return None;
    }
    Some(format!("price went {way}: {} each, {} when it was ordered", now.show(currency), was.show(currency)))
}

fn cross(one: Each, other: Each) -> i128 {
    i128::from(one.total.minor()) * i128::from(other.of)
}

/// What is changed about an order; what is `None` stays as it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OrderChange {
    /// How many are still to come; 0 takes the order off.
    pub count: Option<u32>,
    /// The day it is due, or that none is known.
    pub due: Option<Option<Date>>,
    /// What all that was ordered is to cost, or that it is not known.
    pub price: Option<Option<Money>>,
    /// Whom it was ordered from.
    pub seller: Option<String>,
}

impl OrderChange {
    /// Another number still to come.
    pub fn count(count: u32) -> Self {
        Self { count: Some(count), ..Self::default() }
    }

    /// Another day, or none.
    pub fn due(due: Option<Date>) -> Self {
        Self { due: Some(due), ..Self::default() }
    }

    /// The order as it becomes.
    pub fn applied(&self, was: &Order) -> Order {
        let mut now = self.count.map_or_else(|| was.clone(), |n| was.with_count(n));
        now.expected = self.due.unwrap_or(now.expected);
        now.price = self.price.unwrap_or(now.price);
        now.seller = self.seller.clone().unwrap_or(now.seller);
        now
    }

    fn words(&self, name: &str) -> String {
        match self {
            Self { count: Some(n), due: None, price: None, seller: None } => {
                format!("{n} of {name} on order")
            }
            Self { count: None, due: Some(Some(day)), price: None, seller: None } => {
                format!("{name} due {day}")
            }
            _ => format!("changed what is on order of {name}"),
        }
    }
}

/// Changes what is on order; nothing where nothing changes.
///
/// # Errors
/// A sentence where the order is gone, or where the count of one design of a pack is asked for.
pub fn change(book: &Book, id: OrderId, change: &OrderChange) -> Result<Option<Edit>, String> {
    let was = book.orders().get(id).ok_or("this order is gone: it has come, or was taken off")?;
    let name = book.items().name_of(was.item);
    if change.count.is_some() && shelf::parcel(book, id).is_some() {
        return Err(format!(
            "{name} comes in a pack of several designs: that is taken off as a whole, and ordered again"
        ));
    }
    if change.count == Some(0) {
        let edits = vec![Edit::Order(Row::Remove(id))];
        return Ok(Some(Edit::batch(format!("took {name} off the orders"), edits)));
    }
    let now = change.applied(was);
    if now == *was {
        return Ok(None);
    }
    let edits = vec![Edit::Order(Row::alter(id, was.clone(), now))];
    Ok(Some(Edit::batch(change.words(&name), edits)))
}

/// The oldest order of something by its name or order number.
///
/// # Errors
/// A sentence that names what is on order.
pub fn find(book: &Book, name: &str) -> Result<OrderId, String> {
    let found = book.find_item(name).ok();
    let of_item = |item: ItemId| book.orders().iter().find(|(_, o)| o.item == item).map(|(id, _)| id);
    let packs = book.assortments().iter().filter(|(_, a)| folded(&a.order_number) == folded(name));
    let packs: Vec<String> = packs.map(|(_, a)| folded(&a.name)).chain([folded(name)]).collect();
    let of_pack = || book.orders().iter().find(|(_, o)| packs.contains(&folded(&o.note))).map(|(id, _)| id);
    found.and_then(of_item).or_else(of_pack).ok_or_else(|| {
        let names: Vec<String> = book.orders().iter().map(|(_, o)| book.items().name_of(o.item)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        if names.is_empty() {
            return "nothing is on order".to_owned();
        }
        format!("nothing called \"{}\" is on order: {}", name.trim(), instead(name, &names))
    })
}
