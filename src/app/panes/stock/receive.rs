//! What came in of an item, or of an order, as a form: how many, what all of it cost, the day, the mark of the lot.

use super::reorder;
use super::typed::{self, count};
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::days::{self, DayWay};
use crate::domain::edit::Edit;
use crate::domain::money::Money;
use crate::domain::stock::orders::price_change;
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::{Item, ItemId, LogLine};
use jiff::civil::Date;

const COUNT: usize = 0;
const PRICE: usize = 1;
const DAY: usize = 2;
const LOT: usize = 3;
const PACK_PRICE: usize = 4;

/// The form.
pub static TABLE: FormTable = FormTable {
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

static ROWS: [FormRow; 5] = [
    FormRow::new("came in", "how many, in single sheets or things", read_count).fits(|s| {
        item(s).filter(|i| i.pack_size() > 1).map_or_else(String::new, |i| i.pack_size().to_string())
    }),
    FormRow::new("total price", "what all of them cost together; empty for none", read_price)
        .fits(usual_price)
        .doubts(far_price),
    DAY_IT_CAME,
    MARK_OF_LOT,
    FormRow::new(
        "pack price",
        "the line's price of a pack from now on; empty keeps what it is",
        read_pack_price,
    )
    .offers(FieldTakes::Text, |s| {
        new_pack_price(s).into_iter().map(|p| Offer::new(p.show(""), "as this parcel comes to")).collect()
    })
    .where_(|s| matches!(s.what, FormFor::Arrived(_)) && new_pack_price(s).is_some()),
];

/// The day that something came.
pub(super) const DAY_IT_CAME: FormRow =
    FormRow::new("day", "the day it came: today, sat, 20 nov, -3 or 2026-11-20", |s, t| {
        day(s, t).map(|d| days::words(d, s.ctx.today))
    })
    .fits(|_| "today".to_owned())
    .offers(FieldTakes::Text, |_| vec![Offer::new("today", ""), Offer::new("yesterday", "")])
    .doubts(|s, t| {
        let on = day(s, t).ok().filter(|d| *d > s.ctx.today)?;
        Some(format!("{} is still to come", days::words(on, s.ctx.today)))
    });

/// The maker's mark on what came.
pub(super) const MARK_OF_LOT: FormRow =
    FormRow::new("lot", "the maker's mark on the parcel; sheets of one lot match in color", |_, t| {
        Ok(if t.is_empty() { "no mark".to_owned() } else { format!("lot {t}") })
    });

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
    usual(s.ctx.book, id(s), n)
}

/// What so many of an item cost last time, or by the price of a pack.
pub(super) fn usual(book: &Book, item: ItemId, n: u32) -> Option<Money> {
    let paid = |l: &LogLine| Some((l.price?, u64::try_from(l.change).ok().filter(|n| *n > 0)?));
    let last = book.lines_of(item).rev().find_map(paid);
    let by_pack = || book.items().get(item).and_then(|i| Some((i.price?, u64::from(i.pack_size()))));
    let (all, of) = last.or_else(by_pack)?;
    let times = all.checked_mul(u64::from(n))?;
    Some(times.part(1, of))
}

fn read_price(s: &Sight, text: &str) -> Result<String, String> {
    read_total(s, text, |price| {
        let n = count(s.text(COUNT), 1).unwrap_or(1);
        let each = format!("{} each", price.part(1, u64::from(n)).show(s.currency()));
        changed(s, n, price).map_or(each.clone(), |words| format!("{each}; {words}"))
    })
}

/// That the price is another than when it was ordered.
fn changed(s: &Sight, n: u32, price: Money) -> Option<String> {
    let FormFor::Arrived(order) = s.what else { return None };
    price_change(s.ctx.book, s.ctx.book.orders().get(*order)?, n, Some(price))
}

/// What a pack comes to by the price that is typed, where the line says another.
fn new_pack_price(s: &Sight) -> Option<Money> {
    let (n, item) = (count(s.text(COUNT), 1).ok()?, item(s)?);
    let price = Money::parse(s.text(PRICE), s.currency()).ok()?;
    let FormFor::Arrived(order) = s.what else { return None };
    if shelf::parcel(s.ctx.book, *order).is_some() {
        return None;
    }
    let pack = price.checked_mul(u64::from(item.pack_size()))?.part(1, u64::from(n));
    (item.price != Some(pack)).then_some(pack)
}

fn read_pack_price(s: &Sight, text: &str) -> Result<String, String> {
    let was = item(s).and_then(|i| i.price).map_or_else(|| "none".to_owned(), |p| p.show(s.currency()));
    if text.is_empty() {
        return Ok(format!("the line keeps its price of a pack: {was}"));
    }
    let now = Money::parse(text, s.currency()).map_err(|e| e.to_string())?;
    Ok(format!("{} a pack from now on, {was} before", now.show(s.currency())))
}

/// A price of all that came, with what it comes to; it may be left out.
pub(super) fn read_total(
    s: &Sight,
    text: &str,
    comes_to: impl FnOnce(Money) -> String,
) -> Result<String, String> {
    if text.is_empty() {
        return Ok("without a price".to_owned());
    }
    let price = Money::parse(text, s.currency()).map_err(|e| e.to_string())?;
    Ok(format!("{} in all, {}", price.show(s.currency()), comes_to(price)))
}

fn far_price(s: &Sight, text: &str) -> Option<String> {
    let now = Money::parse(text, s.currency()).ok()?;
    let was = price_of(s, count(s.text(COUNT), 1).ok()?)?;
    typed::is_far(now, was)
        .then(|| format!("{} where so many cost {} before", now.show(s.currency()), was.show(s.currency())))
}

fn day(s: &Sight, text: &str) -> Result<Date, String> {
    if text.is_empty() { Ok(s.ctx.today) } else { days::read(text, s.ctx.today, DayWay::Back) }
}

/// `24, 9.00, 2026-11-25, lot B`: parts are told apart by what they are.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    (at == COUNT && text.contains(',')).then(|| {
        // With nothing before the first comma as many came as were awaited, or a pack.
        let text = if text.starts_with(',') { usual_count(s) + text } else { text.to_owned() };
        parts_of(s, &text)
    })
}

/// What the fields of price, day and lot say of a parcel.
///
/// # Errors
/// The sentence that refuses one of them.
pub(super) fn come_of(s: &Sight, [price, on, lot]: [usize; 3]) -> Result<Come, String> {
    let price = match s.text(price) {
        "" => None,
        text => Some(Money::parse(text, s.currency()).map_err(|e| e.to_string())?),
    };
    let on = Some(day(s, s.text(on))?).filter(|d| *d != s.ctx.today);
    Ok(Come { price, on, lot: s.text(lot).to_owned() })
}

/// The texts of a parcel typed as one line: how many, price, day, lot.
///
/// # Errors
/// The sentence that refuses it.
pub(super) fn parts_of(s: &Sight, text: &str) -> Result<Vec<String>, String> {
    let (n, come) = typed::come(text, s.currency(), s.ctx.today)?;
    let price = come.price.map_or_else(String::new, |p| p.show(""));
    let on = come.on.map_or_else(String::new, |d| d.to_string());
    Ok(vec![n.to_string(), price, on, come.lot])
}

fn take(s: &Sight) -> Replies {
    let n = count(s.text(COUNT), 1)?;
    let come = come_of(s, [PRICE, DAY, LOT])?;
    let edit = match s.what {
        FormFor::Arrived(order) => {
            let edit = reorder::arrived(s.ctx, *order, n, &come)?;
            match s.text(PACK_PRICE) {
                "" => edit,
                text => {
                    let price = Money::parse(text, s.currency()).map_err(|e| e.to_string())?;
                    shelf::with_pack_price(s.ctx.book, edit, id(s), price)
                }
            }
        }
        _ => Edit::Log(come.received(id(s), n)),
    };
    let mut replies = vec![Reply::Edit(edit)];
    if let Some(words) = come.price.and_then(|p| changed(s, n, p)) {
        let name = s.ctx.book.items().name_of(id(s));
        replies.push(Reply::Tell(Status::note(format!("Received {n} of {name}: {words}."))));
    }
    Ok(replies)
}
