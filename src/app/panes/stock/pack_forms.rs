//! Packs of several designs as forms: what came in of one, and a new one made of lines of the shelf.

use super::receive::{DAY_IT_CAME, MARK_OF_LOT, come_of, parts_of, read_total};
use super::typed::{self, count};
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::app::state::stock::marks::in_words;
use crate::app::state::views::Tab;
use crate::domain::book::folded;
use crate::domain::edit::{Edit, Row as BookRow};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::{Assortment, AssortmentId, ItemId, shelf};
use std::collections::BTreeSet;

const PACKS: usize = 0;
const PRICE: usize = 1;
const DAY: usize = 2;
const LOT: usize = 3;

/// What came in of a pack.
pub static RECEIVED: FormTable = FormTable {
    title: |s| pack(s).map_or_else(|| "Came in".to_owned(), |p| format!("Came in: packs of {}", p.name)),
    rows: &RECEIVED_ROWS,
    start: |_| PACKS,
    one_line: |s, at, text| (at == PACKS && text.contains(',')).then(|| parts_of(s, text)),
    take: receive,
    again: |_| None,
};

static RECEIVED_ROWS: [FormRow; 4] = [
    FormRow::new("packs", "how many packs", |s, t| {
        let n = u64::from(count(t, 1)?);
        let brings = pack(s).map_or_else(Vec::new, |p| p.contents.clone());
        let each = brings
            .iter()
            .map(|(id, of)| format!("{} {}", u64::from(*of) * n, s.ctx.book.items().name_of(*id)));
        Ok(format!("brings {}", in_words(each.collect())))
    })
    .fits(|_| "1".to_owned()),
    FormRow::new("total price", "what all of them cost together; empty for none", |s, t| {
        read_total(s, t, |_| "shared out by count".to_owned())
    })
    .fits(|s| usual(s).map_or_else(String::new, |p| p.show("")))
    .doubts(|s, t| far(s, t, usual(s)?)),
    DAY_IT_CAME,
    MARK_OF_LOT,
];

fn pack_id(s: &Sight) -> Option<AssortmentId> {
    if let FormFor::ReceivePack(id) = s.what { Some(*id) } else { None }
}

fn pack<'a>(s: &Sight<'a>) -> Option<&'a Assortment> {
    pack_id(s).and_then(|id| s.ctx.book.assortments().get(id))
}

/// What so many packs cost by the price of one.
fn usual(s: &Sight) -> Option<Money> {
    pack(s)?.price?.checked_mul(u64::from(count(s.text(PACKS), 1).ok()?))
}

fn far(s: &Sight, text: &str, was: Money) -> Option<String> {
    let now = Money::parse(text, s.currency()).ok()?;
    typed::is_far(now, was)
        .then(|| format!("{} where it is {} by its price", now.show(s.currency()), was.show(s.currency())))
}

fn receive(s: &Sight) -> Replies {
    let gone = "this pack is gone";
    let (id, n) = (pack_id(s).ok_or(gone)?, count(s.text(PACKS), 1)?);
    let come = come_of(s, [PRICE, DAY, LOT])?;
    let edit = shelf::receive_assortment(s.ctx.book, id, n, &come).ok_or(gone)?;
    Ok(vec![Reply::Edit(edit)])
}

const NAME: usize = 0;
const NUMBER: usize = 1;
const EACH: usize = 2;
const PACK_PRICE: usize = 3;
const SELLER: usize = 4;

/// A new pack.
pub static NEW: FormTable = FormTable {
    title: |s| {
        let ids = lines(s);
        let names = in_words(ids.iter().map(|id| s.ctx.book.items().name_of(*id)).collect());
        format!("A pack of {}: {names}", count_of(ids.len() as u64, "design"))
    },
    rows: &NEW_ROWS,
    start: |_| NAME,
    one_line,
    take: make,
    again: |_| None,
};

static NEW_ROWS: [FormRow; 5] = [
    FormRow::new("name", "what the pack is called", |s, t| {
        if t.is_empty() {
            return Err("write what the pack is called".to_owned());
        }
        match s.ctx.book.assortments().iter().find(|(_, a)| folded(&a.name) == folded(t)) {
            Some((_, a)) => {
                Err(format!("there is a pack \"{}\" already: give this one another name", a.name))
            }
            None => Ok(String::new()),
        }
    }),
    FormRow::new("order number", "the seller's number for the pack; may be empty", |_, t| {
        Ok(if t.is_empty() { "none".to_owned() } else { String::new() })
    }),
    FormRow::new("of each", "how many sheets of each design a pack holds", |s, t| {
        let n = u64::from(count(t, 1)?);
        Ok(format!("{} in a pack", count_of(n * lines(s).len() as u64, "sheet")))
    })
    .fits(|_| "1".to_owned()),
    FormRow::new("price of a pack", "what one pack costs; empty where it is not known", |s, t| {
        if t.is_empty() {
            return Ok("not known".to_owned());
        }
        let price = Money::parse(t, s.currency()).map_err(|e| e.to_string())?;
        let sheets = u64::from(count(s.text(EACH), 1).unwrap_or(1)) * lines(s).len() as u64;
        Ok(format!(
            "{} a pack, {} a sheet",
            price.show(s.currency()),
            price.part(1, sheets).show(s.currency())
        ))
    }),
    FormRow::new("seller", "who sells it", |_, t| {
        Ok(if t.is_empty() { "not said".to_owned() } else { String::new() })
    })
    .fits(|s| first_seller(s).unwrap_or_default())
    .offers(FieldTakes::Text, |s| {
        let names: BTreeSet<&str> =
            s.ctx.book.items().iter().map(|(_, i)| i.seller.as_str()).filter(|n| !n.is_empty()).collect();
        names.into_iter().map(|name| Offer::new(name, "")).collect()
    }),
];

fn lines<'a>(s: &Sight<'a>) -> &'a [ItemId] {
    if let FormFor::NewPack(ids) = s.what { ids } else { &[] }
}

fn first_seller(s: &Sight) -> Option<String> {
    let items = lines(s).iter().filter_map(|id| s.ctx.book.items().get(*id));
    items.map(|i| i.seller.clone()).find(|seller| !seller.is_empty())
}

/// `Meadow pack, M-48, 2, 18.50`: name, order number, of each, price.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    (at == NAME && text.contains(',')).then(|| {
        let parts: Vec<&str> = text.split(',').map(str::trim).collect();
        let (name, number, each, price) = match parts.as_slice() {
            [name, number, each] => (name, number, each, ""),
            [name, number, each, price] => (name, number, each, *price),
            _ => return Err("write name, order number, of each, price: Meadow pack, M-48, 2, 18.50".to_owned()),
        };
        let seller = first_seller(s).unwrap_or_default();
        Ok(vec![(*name).to_owned(), (*number).to_owned(), (*each).to_owned(), price.to_owned(), seller])
    })
}

fn make(s: &Sight) -> Replies {
    let (book, ids) = (s.ctx.book, lines(s));
    if ids.is_empty() {
        return Err("no line is shown or marked to make a pack of".to_owned());
    }
    let each = count(s.text(EACH), 1)?;
    let price = match s.text(PACK_PRICE) {
        "" => None,
        text => Some(Money::parse(text, s.currency()).map_err(|e| e.to_string())?),
    };
    let first = ids.first().and_then(|id| book.items().get(*id));
    let pack = Assortment {
        name: s.text(NAME).to_owned(),
        order_number: s.text(NUMBER).to_owned(),
        seller: s.text(SELLER).to_owned(),
        price,
        contents: ids.iter().map(|id| (*id, each)).collect(),
        state: first.map(|i| i.state).unwrap_or_default(),
        note: String::new(),
    };
    let edit = Edit::Assortment(BookRow::add(book.assortments().next(), pack));
    Ok(vec![Reply::Edit(edit), Reply::Unmark(Tab::Shelf)])
}
