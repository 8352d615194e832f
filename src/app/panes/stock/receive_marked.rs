//! What came in of several lines together, or of several orders, as a form: how many of each, what all of it cost, the day, the
//! mark of the lot. It is one step.

use super::receive::{DAY_IT_CAME, MARK_OF_LOT, come_of, parts_of, read_total, usual};
use super::typed::{self, count};
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::app::state::stock::marks::in_words;
use crate::app::state::views::Tab;
use crate::app::status::Status;
use crate::domain::edit::Edit;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::{Item, ItemId, OrderId};

const EACH: usize = 0;
const PRICE: usize = 1;
const DAY: usize = 2;
const LOT: usize = 3;

/// What stands for a pack of each line.
const A_PACK: &str = "a pack";

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |s| format!("Came in together: {}", in_words(parts(s).iter().map(|p| p.name.clone()).collect())),
    rows: &ROWS,
    start: |s| if matches!(s.what, FormFor::ReceiveMarked(_)) { EACH } else { PRICE },
    one_line,
    take,
    again: |_| None,
};

static ROWS: [FormRow; 4] = [
    FormRow::new("of each", "how many of each, in single sheets or things; or: a pack", read_each)
        .fits(|s| if items(s).any(|i| i.pack_size() > 1) { A_PACK.to_owned() } else { String::new() })
        .offers(FieldTakes::Text, |_| vec![Offer::new(A_PACK, "of each, whatever it holds")])
        .where_(|s| matches!(s.what, FormFor::ReceiveMarked(_))),
    FormRow::new("total price", "what all of them cost together; empty for none", read_price)
        .fits(|s| usual_of_all(s).map_or_else(String::new, |p| p.show("")))
        .doubts(far_price),
    DAY_IT_CAME,
    MARK_OF_LOT,
];

/// A line of what came: its name, how many, and what that many cost usually.
struct Part {
    name: String,
    count: u64,
    usual: Option<Money>,
}

fn items<'a>(s: &'a Sight) -> impl Iterator<Item = &'a Item> {
    let ids: &[ItemId] = if let FormFor::ReceiveMarked(ids) = s.what { ids } else { &[] };
    ids.iter().filter_map(|id| s.ctx.book.items().get(*id))
}

/// How many of a line: as typed, or a pack of it.
fn of_each(s: &Sight, item: &Item) -> Result<u32, String> {
    let text = s.text(EACH);
    if text == A_PACK { Ok(item.pack_size()) } else { count(text, 1) }
}

fn parts(s: &Sight) -> Vec<Part> {
    let book = s.ctx.book;
    match s.what {
        FormFor::ReceiveMarked(ids) => ids
            .iter()
            .filter_map(|id| Some((*id, book.items().get(*id)?)))
            .map(|(id, item)| {
                let n = of_each(s, item).unwrap_or(0);
                Part { name: item.name.clone(), count: u64::from(n), usual: usual(book, id, n) }
            })
            .collect(),
        FormFor::ArrivedMarked(orders) => orders.iter().map(|order| of_order(s, *order)).collect(),
        _ => Vec::new(),
    }
}

fn of_order(s: &Sight, order: OrderId) -> Part {
    let book = s.ctx.book;
    let count = super::reorder::awaited_count(book, order);
    if let Some((pack, _)) = shelf::parcel(book, order) {
        let known = book.assortments().get(pack);
        let sheets: u64 = known.map_or(0, |p| p.contents.iter().map(|(_, n)| u64::from(*n)).sum());
        let price = known.and_then(|p| p.price?.checked_mul(u64::from(count) / sheets.max(1)));
        return Part { name: book.assortments().name_of(pack), count: u64::from(count), usual: price };
    }
    let item = book.orders().get(order).map(|o| o.item);
    Part {
        name: item.map_or_else(String::new, |i| book.items().name_of(i)),
        count: u64::from(count),
        usual: item.and_then(|i| usual(book, i, count)),
    }
}

fn read_each(s: &Sight, text: &str) -> Result<String, String> {
    if text != A_PACK {
        count(text, 1)?;
    }
    let all = parts(s).into_iter().map(|p| format!("{} of {}", p.count, p.name));
    Ok(in_words(all.collect()))
}

/// What all of it costs usually, where that is known of every line.
fn usual_of_all(s: &Sight) -> Option<Money> {
    let minor = parts(s).iter().map(|p| Some(p.usual?.minor())).sum::<Option<i64>>()?;
    (minor > 0).then_some(Money::from_minor(minor))
}

fn read_price(s: &Sight, text: &str) -> Result<String, String> {
    read_total(s, text, |price| {
        let shares: Vec<String> =
            shared(price, &parts(s)).into_iter().map(|share| share.to_string()).collect();
        let shares = format!("shared as {}", shares.join(" + "));
        changed(s, price).map_or(shares.clone(), |words| format!("{shares}; {words}"))
    })
}

/// What these orders were to cost for what comes of them now; `None` where one of them has no price.
fn ordered_for(s: &Sight) -> Option<Money> {
    let FormFor::ArrivedMarked(orders) = s.what else { return None };
    let book = s.ctx.book;
    let of = |id: &OrderId| {
        let ids = shelf::parcel(book, *id).map_or_else(|| vec![*id], |(_, ids)| ids);
        let one = |id: &OrderId| {
            let order = book.orders().get(*id)?;
            Some(order.price?.part(u64::from(order.count), u64::from(order.in_all())))
        };
        ids.iter().map(one).sum::<Option<Money>>()
    };
    orders.iter().map(of).sum()
}

/// That all of it costs another price than when it was ordered.
fn changed(s: &Sight, price: Money) -> Option<String> {
    let was = ordered_for(s).filter(|was| *was != price)?;
    let way = if price > was { "up" } else { "down" };
    Some(format!("prices went {way}: {} when it was ordered", was.show(s.currency())))
}

fn far_price(s: &Sight, text: &str) -> Option<String> {
    let now = Money::parse(text, s.currency()).ok()?;
    let was = usual_of_all(s)?;
    typed::is_far(now, was)
        .then(|| format!("{} where so many cost {} before", now.show(s.currency()), was.show(s.currency())))
}

/// The price of all, shared out by what each line costs usually, or by count where that is not known of every line. The shares
/// add up to the price.
fn shared(price: Money, parts: &[Part]) -> Vec<Money> {
    let usual: Option<Vec<u64>> = parts.iter().map(|p| u64::try_from(p.usual?.minor()).ok()).collect();
    let weights = usual.filter(|w| w.iter().sum::<u64>() > 0);
    let weights = weights.unwrap_or_else(|| parts.iter().map(|p| p.count).collect());
    let all = weights.iter().sum();
    let mut before = 0;
    let share = |weight: u64| {
        let from = before;
        before += weight;
        price.share(from, before, all)
    };
    weights.into_iter().map(share).collect()
}

/// `25, 18.50, sat, lot B`: of each, total price, day, lot. Orders come as they were placed: `18.50, sat, lot B`.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    let is_first = at == if matches!(s.what, FormFor::ReceiveMarked(_)) { EACH } else { PRICE };
    (is_first && text.contains(',')).then(|| match text.strip_prefix(A_PACK) {
        Some(rest) => parts_of(s, &format!("1{rest}")).map(|mut texts| {
            A_PACK.clone_into(&mut texts[EACH]);
            texts
        }),
        None if at == PRICE => parts_of(s, &format!("1, {text}")),
        None => parts_of(s, text),
    })
}

fn take(s: &Sight) -> Replies {
    let book = s.ctx.book;
    let come = come_of(s, [PRICE, DAY, LOT])?;
    let parts = parts(s);
    let prices: Vec<Option<Money>> = match come.price {
        Some(price) => shared(price, &parts).into_iter().map(Some).collect(),
        None => vec![None; parts.len()],
    };
    let one = |price: &Option<Money>| Come { price: *price, ..come.clone() };
    let mut edits = Vec::new();
    let tab = match s.what {
        FormFor::ReceiveMarked(ids) => {
            for (id, price) in ids.iter().zip(&prices) {
                let item = book.items().get(*id).ok_or("one of these lines is gone: mark them again")?;
                edits.push(Edit::Log(one(price).received(*id, of_each(s, item)?)));
            }
            Tab::Shelf
        }
        FormFor::ArrivedMarked(orders) => {
            for (order, price) in orders.iter().zip(&prices) {
                let n = super::reorder::awaited_count(book, *order);
                edits.push(super::reorder::arrived(s.ctx, *order, n, &one(price))?);
            }
            Tab::Reorder
        }
        _ => return Ok(Vec::new()),
    };
    let names = in_words(parts.into_iter().map(|p| p.name).collect());
    let what =
        if edits.len() == 1 { String::new() } else { format!("{}: ", count_of(edits.len() as u64, "line")) };
    let mut replies =
        vec![Reply::Edit(Edit::batch(format!("received {what}{names}"), edits)), Reply::Unmark(tab)];
    if let Some(words) = come.price.and_then(|p| changed(s, p)) {
        replies.push(Reply::Tell(Status::note(format!("Received {names}: {words}."))));
    }
    Ok(replies)
}
