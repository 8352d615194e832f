//! How many are ordered and when they come: packs typed for the lines of the reorder list, a count or a day for what is on
//! order. Each is one step; nothing is placed before it is typed.

use super::reorder;
use super::typed::{self, count};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::reply::{Replies, Reply};
use crate::app::state::stock::StockPane;
use crate::app::state::stock::marks::{RowMark, in_words};
use crate::app::state::stock::orders::OrderRow;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::Tab;
use crate::domain::book::Book;
use crate::domain::days::{self, DayWay};
use crate::domain::edit::Edit;
use crate::domain::money::Money;
use crate::domain::stock::orders::OrderChange;
use crate::domain::stock::{Item, Order, OrderId, orders, shelf};
use jiff::civil::Date;

/// The prompt for the lines that are marked, or for the one that is picked.
pub fn open(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    let marked = reorder::marked(pane);
    let rows = if marked.is_empty() { reorder::picked(pane).into_iter().collect() } else { marked };
    let asked = if id == CommandId::OrderDue { ask_due(ctx, &rows) } else { ask_count(ctx, &rows) };
    vec![asked.unwrap_or_else(Reply::refuse)]
}

fn ask_due(ctx: &Ctx, rows: &[&OrderRow]) -> Result<Reply, String> {
    let mut ids = Vec::new();
    for row in rows {
        match row {
            OrderRow::Awaited(id) => ids.push(*id),
            OrderRow::Parcel(_, orders) => ids.extend(orders),
            _ => return Err(format!("{} is not on order yet, so it is not due", row.name(ctx.book))),
        }
    }
    let now = ids.first().and_then(|id| ctx.book.orders().get(*id)?.expected);
    let label = "Due (12 dec, sat, +10; empty: no day is known):";
    Ok(typed::prompt(StockText::OrderDue(ids), label, now.map_or_else(String::new, |d| d.to_string())))
}

fn ask_count(ctx: &Ctx, rows: &[&OrderRow]) -> Result<Reply, String> {
    if let [OrderRow::Awaited(id)] = rows {
        let order = ctx.book.orders().get(*id).ok_or("this order is gone")?;
        let name = ctx.book.items().name_of(order.item);
        let label = format!("{name}, still to come (0: it will not come), price of all ordered, seller:");
        return Ok(typed::prompt(StockText::StillToCome(*id), label, told(ctx.book, order)));
    }
    let (mut lines, mut packs) = (Vec::new(), Vec::new());
    for row in rows {
        let (mark, n) = match row {
            OrderRow::Item(_, line) => (RowMark::ToOrder(line.item), line.packs),
            OrderRow::Pack(_, line) => (RowMark::PackToOrder(line.assortment), line.packs),
            OrderRow::Awaited(_) => {
                return Err("count what is on order one line at a time: take the marks off".to_owned());
            }
            _ => return Err(format!("{} is not to be ordered: the line says why", row.name(ctx.book))),
        };
        lines.push(mark);
        packs.push(n.to_string());
    }
    let names = in_words(lines.iter().map(|m| m.name(ctx.book)).collect());
    Ok(typed::prompt(StockText::OrderPacks(lines), format!("Packs to order of {names}:"), packs.join(", ")))
}

/// An order as it would be typed: `4, 3.60, the mill`.
fn told(book: &Book, order: &Order) -> String {
    let price = order.price.map_or_else(String::new, |p| p.show(""));
    let text = format!("{}, {price}, {}", order.count, orders::seller_of(book, order));
    text.trim_end_matches([',', ' ']).to_owned()
}

/// `4`, `4, 3.60`, `4, , the mill`: how many are still to come, what all that was ordered is to cost, from whom. What is left
/// out or empty stays as it is.
fn still(book: &Book, order: &Order, text: &str) -> Result<OrderChange, String> {
    let mut parts = text.splitn(3, ',').map(str::trim);
    let n = count(parts.next().unwrap_or_default(), 0)?;
    let given = |part: Option<&str>| part.filter(|p| !p.is_empty()).map(str::to_owned);
    let (price, seller) = (given(parts.next()), given(parts.next()));
    let price =
        price.map(|p| Money::parse(&p, &book.settings().currency).map_err(|e| e.to_string())).transpose()?;
    // A price that is left as it stood follows the count.
    let price = price.filter(|p| Some(*p) != order.price).map(Some);
    let seller = seller.filter(|s| *s != orders::seller_of(book, order));
    Ok(OrderChange { count: (n != order.count).then_some(n), due: None, price, seller })
}

/// Packs of each line, as many as there are lines.
fn packs(lines: &[RowMark], text: &str) -> Result<Vec<u32>, String> {
    let all: Vec<u32> = text.split(',').map(|n| count(n.trim(), 0)).collect::<Result<_, _>>()?;
    if all.len() != lines.len() {
        return Err("write one number for each line, commas between; 0 leaves a line out".to_owned());
    }
    if all.iter().all(|n| *n == 0) {
        return Err("0 orders nothing: Esc leaves the list as it is".to_owned());
    }
    Ok(all)
}

/// What so many packs of a line cost.
fn price(book: &Book, line: RowMark, packs: u32) -> Option<Money> {
    let of = match line {
        RowMark::ToOrder(id) => book.items().get(id)?.price?,
        RowMark::PackToOrder(id) => book.assortments().get(id)?.price?,
        _ => return None,
    };
    of.checked_mul(u64::from(packs))
}

fn due(text: &str, today: Date) -> Result<Option<Date>, String> {
    if text.trim().is_empty() { Ok(None) } else { days::read(text, today, DayWay::Ahead).map(Some) }
}

/// How a text is read while it is typed.
///
/// # Errors
/// The sentence that refuses it.
pub fn words(ctx: &Ctx, asked: &StockText, text: &str) -> Result<String, String> {
    let book = ctx.book;
    match asked {
        StockText::OrderPacks(lines) => {
            let packs = packs(lines, text)?;
            let prices: Option<Money> = lines.iter().zip(&packs).map(|(l, n)| price(book, *l, *n)).sum();
            let brings = |(line, n): (&RowMark, &u32)| match line {
                RowMark::ToOrder(id) => {
                    let of = book.items().get(*id).map_or(1, Item::pack_size);
                    format!("{} of {}", u64::from(*n) * u64::from(of), line.name(book))
                }
                _ => format!("{n} of {}", line.name(book)),
            };
            let all = in_words(lines.iter().zip(&packs).filter(|(_, n)| **n > 0).map(brings).collect());
            Ok(match prices {
                Some(sum) => format!("{all}: {}", sum.show(&book.settings().currency)),
                None => format!("{all}; not every price is known"),
            })
        }
        StockText::StillToCome(id) => {
            let order = book.orders().get(*id).ok_or("this order is gone")?;
            let change = still(book, order, text)?;
            if change.count == Some(0) {
                return Ok("taken off: it will not come".to_owned());
            }
            let now = change.applied(order);
            let price = now.price.map_or_else(
                || "no price known".to_owned(),
                |p| format!("{} for all", p.show(&book.settings().currency)),
            );
            let from = orders::seller_of(book, &now);
            let from = if from.is_empty() { from } else { format!(", from {from}") };
            Ok(format!("{} of {} still to come, {price}{from}", now.count, now.in_all()))
        }
        _ => {
            Ok(due(text, ctx.today)?
                .map_or_else(|| "no day is known".to_owned(), |d| days::words(d, ctx.today)))
        }
    }
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(ctx: &Ctx, asked: &StockText, text: &str) -> Replies {
    let book = ctx.book;
    match asked {
        StockText::OrderPacks(lines) => {
            let packs = packs(lines, text)?;
            let one = |(line, n): (&RowMark, u32)| match line {
                _ if n == 0 => None,
                RowMark::ToOrder(id) => {
                    let of = book.items().get(*id).map_or(1, Item::pack_size);
                    Some(shelf::ordered(book, *id, n.saturating_mul(of), ctx.today))
                }
                RowMark::PackToOrder(id) => shelf::ordered_pack(book, *id, n, ctx.today),
                _ => None,
            };
            let names = lines.iter().zip(&packs).filter(|(_, n)| **n > 0).map(|(l, _)| l.name(book));
            let label = format!("ordered {}", in_words(names.collect()));
            let edits: Vec<Edit> = lines.iter().zip(packs).filter_map(one).collect();
            Ok(vec![Reply::Edit(shelf::together(book, label, edits)), Reply::Unmark(Tab::Reorder)])
        }
        StockText::StillToCome(id) => {
            let order = book.orders().get(*id).ok_or("this order is gone")?;
            let edit = orders::change(book, *id, &still(book, order, text)?)?;
            Ok(edit.map(Reply::Edit).into_iter().collect())
        }
        StockText::OrderDue(ids) => due_on(ctx, ids, due(text, ctx.today)?),
        _ => Ok(Vec::new()),
    }
}

fn due_on(ctx: &Ctx, ids: &[OrderId], day: Option<Date>) -> Replies {
    let book = ctx.book;
    let edits: Vec<Edit> = ids
        .iter()
        .map(|id| orders::change(book, *id, &OrderChange::due(day)))
        .collect::<Result<Vec<_>, _>>()?
        .into_iter()
        .flatten()
        .collect();
    if edits.is_empty() {
        return Ok(Vec::new());
    }
    let when = day.map_or_else(|| "no day".to_owned(), |d| d.to_string());
    let names = in_words(
        ids.iter().filter_map(|id| Some(book.items().name_of(book.orders().get(*id)?.item))).collect(),
    );
    Ok(vec![Reply::Edit(Edit::batch(format!("{names} due on {when}"), edits)), Reply::Unmark(Tab::Reorder)])
}
