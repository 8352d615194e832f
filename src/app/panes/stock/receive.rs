//! What came in of an item, or of an order, as a form: how many, what all of it cost, the day, the mark of the lot.

use super::reorder;
use super::typed::{self, count};
use crate::app::panes::form::{Offer, OneLine, Row, Sight, Table, Takes};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::domain::days::{self, Way};
use crate::domain::edit::Edit;
use crate::domain::money::Money;
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::{Item, ItemId, LogLine};
use jiff::civil::Date;

const COUNT: usize = 0;
const PRICE: usize = 1;
const DAY: usize = 2;
const LOT: usize = 3;

/// The form.
pub static TABLE: Table = Table {
    title: |s| {
        let book = s.ctx.book;
        let parcel = if let FormFor::Arrived(order) = s.what { shelf::parcel(book, *order) } else { None };
        match parcel {
            Some((pack, _)) => format!("Came in: {}", book.assortments().name_of(pack)),
            None => format!("Came in: {}, {} on hand", book.items().name_of(id(s)), book.on_hand(id(s))),
        }
    },
    rows: &ROWS,
    start: |_| COUNT,
    one_line,
    take,
    again: |_| None,
};

static ROWS: [Row; 4] = [
    Row::new("came in", "how many, in single sheets or things", read_count).fits(|s| {
        item(s).filter(|i| i.pack_size() > 1).map_or_else(String::new, |i| i.pack_size().to_string())
    }),
    Row::new("total price", "what all of them cost together; empty for none", read_price)
        .fits(usual_price)
        .doubts(far_price),
    Row::new("day", "the day it came: today, sat, 20 nov, -3 or 2026-11-20", |s, t| {
        day(s, t).map(|d| days::words(d, s.ctx.today))
    })
    .fits(|_| "today".to_owned())
    .offers(Takes::Text, |_| vec![Offer::new("today", ""), Offer::new("yesterday", "")])
    .doubts(|s, t| {
        let on = day(s, t).ok().filter(|d| *d > s.ctx.today)?;
        Some(format!("{} is still to come", days::words(on, s.ctx.today)))
    }),
    Row::new("lot", "the maker's mark on the parcel; sheets of one lot match in colour", |_, t| {
        Ok(if t.is_empty() { "no mark".to_owned() } else { format!("lot {t}") })
    }),
];

fn id(s: &Sight) -> ItemId {
    let none = s.ctx.book.items().next();
    match s.what {
        FormFor::Receive(id) => *id,
        FormFor::Arrived(order) => s.ctx.book.orders().get(*order).map_or(none, |o| o.item),
        _ => none,
    }
}

fn item<'a>(s: &Sight<'a>) -> Option<&'a Item> {
    s.ctx.book.items().get(id(s))
}

/// What is awaited, or a pack.
fn usual_count(s: &Sight) -> String {
    if let FormFor::Arrived(order) = s.what {
        return reorder::awaited_count(s.ctx.book, *order).to_string();
    }
    item(s).filter(|i| i.pack_size() > 1).map_or_else(String::new, |i| i.pack_size().to_string())
}

fn read_count(s: &Sight, text: &str) -> Result<String, String> {
    let n = count(text, 1)?;
    if let FormFor::Arrived(order) = s.what {
        reorder::arrived(s.ctx, *order, n, &Come::default())?;
        let left = reorder::awaited_count(s.ctx.book, *order).saturating_sub(n);
        return Ok(format!("{left} still to come"));
    }
    Ok(format!("{} on hand then", s.ctx.book.on_hand(id(s)) + u64::from(n)))
}

/// What so many cost last time, or by the price of a pack.
fn usual_price(s: &Sight) -> String {
    let Ok(n) = count(s.text(COUNT), 1) else { return String::new() };
    let price = price_of(s, n);
    price.map_or_else(String::new, |p| p.show(""))
}

fn price_of(s: &Sight, n: u32) -> Option<Money> {
    // A parcel of several designs costs what its pack does, whatever one of them cost.
    if let FormFor::Arrived(order) = s.what
        && shelf::parcel(s.ctx.book, *order).is_some()
    {
        return None;
    }
    let paid = |l: &LogLine| Some((l.price?, u64::try_from(l.change).ok().filter(|n| *n > 0)?));
    let last = s.ctx.book.lines_of(id(s)).rev().find_map(paid);
    let (all, of) = last.or_else(|| item(s).and_then(|i| Some((i.price?, u64::from(i.pack_size())))))?;
    let times = all.checked_mul(u64::from(n))?;
    Some(times.part(1, of))
}

fn read_price(s: &Sight, text: &str) -> Result<String, String> {
    if text.is_empty() {
        return Ok("without a price".to_owned());
    }
    let price = Money::parse(text, s.currency()).map_err(|e| e.to_string())?;
    let n = u64::from(count(s.text(COUNT), 1).unwrap_or(1));
    Ok(format!("{} in all, {} each", price.show(s.currency()), price.part(1, n).show(s.currency())))
}

fn far_price(s: &Sight, text: &str) -> Option<String> {
    let now = Money::parse(text, s.currency()).ok()?;
    let was = price_of(s, count(s.text(COUNT), 1).ok()?)?;
    typed::is_far(now, was)
        .then(|| format!("{} where so many cost {} before", now.show(s.currency()), was.show(s.currency())))
}

fn day(s: &Sight, text: &str) -> Result<Date, String> {
    if text.is_empty() { Ok(s.ctx.today) } else { days::read(text, s.ctx.today, Way::Back) }
}

/// `24, 9.00, 2026-11-25, lot B`: parts are told apart by what they are.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    (at == COUNT && text.contains(',')).then(|| {
        // With nothing before the first comma as many came as were awaited, or a pack.
        let text = if text.starts_with(',') { usual_count(s) + text } else { text.to_owned() };
        let (n, come) = typed::come(&text, s.currency(), s.ctx.today)?;
        let price = come.price.map_or_else(String::new, |p| p.show(""));
        let on = come.on.map_or_else(String::new, |d| d.to_string());
        Ok(vec![n.to_string(), price, on, come.lot])
    })
}

fn take(s: &Sight) -> Replies {
    let n = count(s.text(COUNT), 1)?;
    let price = match s.text(PRICE) {
        "" => None,
        text => Some(Money::parse(text, s.currency()).map_err(|e| e.to_string())?),
    };
    let on = Some(day(s, s.text(DAY))?).filter(|d| *d != s.ctx.today);
    let come = Come { price, on, lot: s.text(LOT).to_owned() };
    let edit = match s.what {
        FormFor::Arrived(order) => reorder::arrived(s.ctx, *order, n, &come)?,
        _ => Edit::Log(come.received(id(s), n)),
    };
    Ok(vec![Reply::Edit(edit)])
}
