//! The rows of the answers, by the names that the command line promises.

use crate::domain::book::Book;
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::stock::lot::Draw;
use crate::domain::stock::pace::pace;
use crate::domain::stock::reorder::{PackLine, Reorder, ReorderLine, SellerList, why};
use crate::domain::stock::summary::standing;
use crate::domain::stock::takings::Takings;
use crate::domain::stock::{ItemId, LogLine};
use jiff::civil::Date;
use serde::Serialize;

/// An item of the list.
#[derive(Serialize)]
pub(super) struct ItemRow {
    pub name: String,
    pub kind: &'static str,
    pub width: Option<f64>,
    pub height: Option<f64>,
    pub on_hand: u64,
    pub booked: u64,
    pub free: i64,
    pub on_order: u64,
    pub low: u32,
    pub order_number: String,
    pub state: String,
    pub used_a_month: Option<f64>,
    pub days_left: Option<u64>,
    pub suggested_low: Option<u64>,
}

pub(super) fn item(book: &Book, id: ItemId, unit: Unit, today: Option<Date>) -> Option<ItemRow> {
    let item = book.items().get(id)?;
    let (s, pace) = (standing(book, id), today.and_then(|today| pace(book, id, today)));
    Some(ItemRow {
        used_a_month: pace.map(|p| p.a_month()),
        days_left: pace.and_then(|p| p.days_left),
        suggested_low: pace.and_then(|p| p.low_mark),
        name: item.name.clone(),
        kind: item.kind.word(),
        width: item.size.map(|s| s.width.in_unit(unit)),
        height: item.size.map(|s| s.height.in_unit(unit)),
        on_hand: s.on_hand,
        booked: s.booked,
        free: s.free,
        on_order: s.on_order,
        low: item.mark(),
        order_number: item.order_number.clone(),
        state: item.state.to_string(),
    })
}

/// A line of the log. A line about the bin names the offcut, so that the changes of one `item` add up to what is held.
#[derive(Serialize)]
pub(super) struct LineRow {
    pub seq: u64,
    pub date: String,
    pub item: String,
    pub change: i64,
    pub reason: &'static str,
    pub job: String,
    pub lot: String,
    pub cost: Option<f64>,
    pub without_price: u64,
}

/// A line with what a use cost, where it was one.
pub(super) fn line(book: &Book, line: &LogLine, draw: Option<&Draw>) -> LineRow {
    LineRow {
        cost: draw.and_then(Draw::known_cost).map(money),
        without_price: draw.map_or(0, |d| d.unpriced),
        seq: line.seq,
        date: line.date.to_string(),
        item: match line.offcut {
            Some(offcut) => book.offcut_title(offcut),
            None => book.items().name_of(line.item),
        },
        change: line.change,
        reason: line.reason.word(),
        job: line.job.clone(),
        lot: line.lot.clone(),
    }
}

/// The reorder list.
#[derive(Serialize)]
pub(super) struct ReorderRows {
    pub currency: String,
    pub sellers: Vec<SellerRow>,
    pub last_orders: Vec<LastRow>,
    pub unobtainable: Vec<MissingRow>,
}

#[derive(Serialize)]
pub(super) struct SellerRow {
    pub seller: String,
    pub items: Vec<OrderRow>,
    pub assortments: Vec<PackRow>,
    /// Sum of the prices that are known.
    pub total: f64,
    pub without_price: usize,
}

#[derive(Serialize)]
pub(super) struct OrderRow {
    pub name: String,
    pub order_number: String,
    pub wanted: u64,
    pub packs: u64,
    pub pack: u32,
    pub brings: u64,
    pub price: Option<f64>,
    pub order_by: Option<String>,
    pub late: bool,
    pub why: String,
}

#[derive(Serialize)]
pub(super) struct PackRow {
    pub name: String,
    pub order_number: String,
    pub packs: u64,
    pub price: Option<f64>,
    pub covers: Vec<NamedCount>,
    pub also: Vec<NamedCount>,
}

#[derive(Serialize)]
pub(super) struct NamedCount {
    pub name: String,
    pub count: u64,
}

#[derive(Serialize)]
pub(super) struct LastRow {
    pub name: String,
    pub until: String,
    pub booked: u64,
    pub on_hand: u64,
}

#[derive(Serialize)]
pub(super) struct MissingRow {
    pub name: String,
    pub wanted: u64,
    pub why: String,
}

/// Minor units as a number of the currency: two decimals are exact enough to print back.
fn money(m: Money) -> f64 {
    m.minor() as f64 / 100.0
}

pub(super) fn reorder(book: &Book, list: &Reorder) -> ReorderRows {
    let name = |id| book.items().name_of(id);
    ReorderRows {
        currency: book.settings().currency.clone(),
        sellers: list.sellers.iter().map(|s| seller(book, s)).collect(),
        last_orders: list
            .last_orders
            .iter()
            .map(|l| LastRow {
                name: name(l.item),
                until: l.until.to_string(),
                booked: l.booked,
                on_hand: l.on_hand,
            })
            .collect(),
        unobtainable: list
            .unobtainable
            .iter()
            .map(|u| MissingRow { name: name(u.item), wanted: u.wanted, why: u.why.clone() })
            .collect(),
    }
}

fn seller(book: &Book, list: &SellerList) -> SellerRow {
    SellerRow {
        seller: list.seller.clone(),
        items: list.lines.iter().map(|l| order(book, l)).collect(),
        assortments: list.packs.iter().map(|p| pack(book, p)).collect(),
        total: money(list.total),
        without_price: list.without_price,
    }
}

fn order(book: &Book, line: &ReorderLine) -> OrderRow {
    let item = book.items().get(line.item);
    OrderRow {
        name: book.items().name_of(line.item),
        order_number: item.map_or_else(String::new, |i| i.order_number.clone()),
        wanted: line.wanted,
        packs: line.packs,
        pack: item.map_or(1, crate::domain::stock::Item::pack_size),
        brings: line.brings,
        price: line.price.map(money),
        order_by: line.order_by.map(|d| d.to_string()),
        late: line.late,
        why: why(book, line.item),
    }
}

fn pack(book: &Book, line: &PackLine) -> PackRow {
    let counts = |list: &[(ItemId, u64)]| {
        list.iter().map(|(id, count)| NamedCount { name: book.items().name_of(*id), count: *count }).collect()
    };
    PackRow {
        name: book.assortments().name_of(line.assortment),
        order_number: book
            .assortments()
            .get(line.assortment)
            .map_or_else(String::new, |a| a.order_number.clone()),
        packs: line.packs,
        price: line.price.map(money),
        covers: counts(&line.covers),
        also: counts(&line.also),
    }
}

pub(super) fn major(m: Money) -> f64 {
    m.minor() as f64 / 100.0
}

/// What a class brought.
#[derive(Serialize)]
pub(super) struct TakingsRow {
    came: Option<u32>,
    paid: Option<u32>,
    seats: Option<f64>,
    kits: f64,
    things: f64,
    things_cost: f64,
    cost: f64,
    takings: f64,
    result: f64,
    kits_left: u64,
    priced: &'static str,
}

pub(super) fn takings_row(t: &Takings) -> TakingsRow {
    TakingsRow {
        came: t.came,
        paid: t.paid,
        seats: t.seats.map(major),
        kits: major(t.kits),
        things: major(t.things),
        things_cost: major(t.things_cost),
        cost: major(t.cost),
        takings: major(t.all()),
        result: major(t.result()),
        kits_left: t.kits_left,
        priced: t.priced.word(),
    }
}
