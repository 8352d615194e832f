//! The reorder list as rows: what goes to each seller and why, what is on order, what leaves soon, what cannot be had.
//! Ticking a row makes it ordered, then arrived.

use crate::app::panes::stock::typed;

use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::{Content, Effect};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::marks::{RowMark, in_words};
use crate::app::state::stock::orders::OrderRow;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::Tab;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::days;
use crate::domain::edit::{Edit, Row as Change};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::reorder::{self, PackLine, ReorderLine, SellerList};
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::{AssortmentId, ItemId, OrderId, orders};
use jiff::civil::Date;

/// Whether one of the lines marked, or the line picked where none is, is on order or is not.
pub fn has(pane: &StockPane, is_coming: bool) -> bool {
    if pane.has_marks() {
        return marked(pane).iter().any(|row| row.is_coming() == is_coming);
    }
    picked(pane).is_some_and(|row| row.is_coming() == is_coming)
}

/// The lines that are marked.
pub fn marked(pane: &StockPane) -> Vec<&OrderRow> {
    let is_marked = |row: &&OrderRow| RowMark::of_order(row).is_some_and(|mark| pane.marks.has(mark));
    pane.orders.rows.iter().filter(is_marked).collect()
}

/// The lines that are given out: those that are marked, else all.
fn given_out(pane: &StockPane) -> Vec<&OrderRow> {
    let marked = marked(pane);
    if marked.is_empty() { pane.orders.rows.iter().collect() } else { marked }
}

/// The heading that a row stands under.
pub fn heading(pane: &StockPane, book: &Book, row: &OrderRow) -> String {
    let list = &pane.orders.list;
    match row {
        OrderRow::Item(n, _) | OrderRow::Pack(n, _) => {
            list.sellers.get(*n).map(|s| seller_words(s, book)).unwrap_or_default()
        }
        OrderRow::Awaited(id) => placed_words(book, *id),
        OrderRow::Parcel(_, ids) => ids.first().map_or_else(String::new, |id| placed_words(book, *id)),
        OrderRow::Last(_) => "last orders: leaving".to_owned(),
        OrderRow::Missing(_) => "needed, but no longer sold".to_owned(),
    }
}

/// The order that a line is part of: from whom, of which day, with what it comes to.
fn placed_words(book: &Book, id: OrderId) -> String {
    let of = orders::placed(book).into_iter().find(|p| p.lines.contains(&id));
    of.map_or_else(|| "on order".to_owned(), |p| p.words(&book.settings().currency))
}

fn seller_words(seller: &SellerList, book: &Book) -> String {
    let name = if seller.seller.is_empty() { "no seller given" } else { seller.seller.as_str() };
    let unpriced = match seller.without_price {
        0 => String::new(),
        n => format!(" and {} without a price", count_of(n as u64, "line")),
    };
    format!("{name}: {}{unpriced}", seller.total.show(&book.settings().currency))
}

/// The cells of a row: name, order number, how much, what it brings, price, why.
pub fn cells(book: &Book, today: Date, row: &OrderRow) -> [String; 6] {
    match row {
        OrderRow::Item(_, line) => cells_of_item(book, line),
        OrderRow::Pack(_, line) => cells_of_pack(book, line),
        OrderRow::Awaited(id) => cells_of_order(book, today, *id),
        OrderRow::Parcel(pack, orders) => cells_of_parcel(book, today, *pack, orders),
        OrderRow::Last(last) => [
            book.items().name_of(last.item),
            book.items().get(last.item).map(|i| i.order_number.clone()).unwrap_or_default(),
            String::new(),
            String::new(),
            String::new(),
            format!("until {}: {} on hand, {} booked against it", last.until, last.on_hand, last.booked),
        ],
        OrderRow::Missing(missing) => [
            book.items().name_of(missing.item),
            String::new(),
            String::new(),
            missing.wanted.to_string(),
            String::new(),
            format!("{} missing: {}", missing.wanted, missing.why),
        ],
    }
}

/// Why a row is on the list, as short as a narrow screen needs it; it is told in full below the list.
pub fn why_narrow(book: &Book, today: Date, row: &OrderRow) -> String {
    match row {
        OrderRow::Item(_, line) if line.late => format!("LATE, {}", reorder::first_number(book, line.item)),
        OrderRow::Item(_, line) if line.order_by == Some(today) => {
            format!("{}, order today", reorder::first_number(book, line.item))
        }
        OrderRow::Item(_, line) => reorder::why_in_numbers(book, line.item),
        OrderRow::Awaited(id) => {
            let count = book.orders().get(*id).map_or(0, |order| order.count);
            format!("{count} {}", awaited_briefly(book, today, Some(*id)))
        }
        OrderRow::Parcel(_, ids) => awaited_briefly(book, today, ids.first().copied()),
        OrderRow::Last(last) => format!("until {}, {} held", last.until, last.on_hand),
        OrderRow::Missing(missing) => format!("{} missing", missing.wanted),
        OrderRow::Pack(_, line) => format!("covers {}", count_of(line.covers.len() as u64, "design")),
    }
}

/// Why a row is on the list, and the day to order by where it has one: `Tue 2026-12-01, today`.
pub fn why_and_day(book: &Book, today: Date, row: &OrderRow) -> (String, String) {
    let OrderRow::Item(_, line) = row else {
        let [.., why] = cells(book, today, row);
        return (why, String::new());
    };
    let late = if line.late { ": LATE" } else { "" };
    let by = line.order_by.map_or_else(String::new, |day| format!("{}{late}", days::when(day, today)));
    (reorder::why(book, line.item), by)
}

fn awaited_briefly(book: &Book, today: Date, id: Option<OrderId>) -> String {
    let Some(order) = id.and_then(|id| book.orders().get(id)) else { return String::new() };
    match order.expected {
        Some(day) if day < today => format!("was due {day}"),
        Some(day) => format!("due {day}"),
        None => format!("ordered {}", order.placed),
    }
}

fn price_words(book: &Book, price: Option<Money>) -> String {
    price.map_or_else(|| "no price".to_owned(), |p| p.show(&book.settings().currency))
}

fn cells_of_item(book: &Book, line: &ReorderLine) -> [String; 6] {
    let item = book.items().get(line.item);
    let by = match (line.order_by, line.late) {
        (Some(day), true) => format!(", LATE: should have been ordered by {day}"),
        (Some(day), false) => format!(", order by {day}"),
        (None, _) => String::new(),
    };
    let of = item.map_or(1, crate::domain::stock::Item::pack_size);
    let packs = if of == 1 { line.packs.to_string() } else { format!("{} x {of}", line.packs) };
    [
        book.items().name_of(line.item),
        item.map(|i| i.order_number.clone()).unwrap_or_default(),
        packs,
        line.brings.to_string(),
        price_words(book, line.price),
        format!("{}{by}", reorder::why(book, line.item)),
    ]
}

fn cells_of_pack(book: &Book, line: &PackLine) -> [String; 6] {
    let pack = book.assortments().get(line.assortment);
    let list = |all: &[(ItemId, u64)]| {
        let words: Vec<String> =
            all.iter().map(|(i, n)| format!("{n} {}", book.items().name_of(*i))).collect();
        words.join(", ")
    };
    let also =
        if line.also.is_empty() { String::new() } else { format!("; also brings {}", list(&line.also)) };
    let brings: u64 = line.covers.iter().chain(&line.also).map(|(_, n)| n).sum();
    [
        book.assortments().name_of(line.assortment),
        pack.map(|p| p.order_number.clone()).unwrap_or_default(),
        line.packs.to_string(),
        brings.to_string(),
        price_words(book, line.price),
        format!("cheapest cover of {}{also}", list(&line.covers)),
    ]
}

fn cells_of_order(book: &Book, today: Date, id: OrderId) -> [String; 6] {
    let Some(order) = book.orders().get(id) else { return Default::default() };
    let number = book.items().get(order.item).map(|i| i.order_number.clone());
    [
        book.items().name_of(order.item),
        number.unwrap_or_default(),
        String::new(),
        order.count.to_string(),
        order.price.map_or_else(String::new, |p| p.show(&book.settings().currency)),
        orders::line_words(order, today),
    ]
}

fn cells_of_parcel(book: &Book, today: Date, pack: AssortmentId, orders: &[OrderId]) -> [String; 6] {
    let rows = || orders.iter().filter_map(|id| book.orders().get(*id));
    let placed = rows().next().map(|o| orders::line_words(o, today));
    let price: Option<Money> = rows().map(|o| o.price).sum();
    [
        book.assortments().name_of(pack),
        book.assortments().get(pack).map(|p| p.order_number.clone()).unwrap_or_default(),
        String::new(),
        rows().map(|o| u64::from(o.count)).sum::<u64>().to_string(),
        price.map_or_else(String::new, |p| p.show(&book.settings().currency)),
        placed.unwrap_or_default(),
    ]
}

/// The list as text, ready to read to a seller or to paste: order number, packs, name.
pub fn as_text(pane: &StockPane, book: &Book, today: Date) -> String {
    let mut lines = Vec::new();
    let mut last = String::new();
    let is_wanted = |r: &&OrderRow| matches!(r, OrderRow::Item(..) | OrderRow::Pack(..));
    for row in given_out(pane).into_iter().filter(is_wanted) {
        let heading = heading(pane, book, row);
        if heading != last {
            if !last.is_empty() {
                lines.push(String::new());
            }
            lines.push(heading.clone());
            last = heading;
        }
        let [name, number, packs, brings, price, _] = cells(book, today, row);
        let number = if number.is_empty() { "no number".to_owned() } else { number };
        lines.push(format!("{number}  {packs} (brings {brings})  {name}  {price}"));
    }
    lines.join("\n") + "\n"
}

/// Columns of the list as a table.
const COLUMNS: [&str; 7] = ["seller", "order_number", "name", "packs", "brings", "price", "why"];

fn table(pane: &StockPane, book: &Book, today: Date) -> Content {
    let orders = &pane.orders;
    let seller = |n: &usize| orders.list.sellers.get(*n).map(|s| s.seller.clone()).unwrap_or_default();
    let rows = given_out(pane).into_iter().filter_map(|row| {
        let (n, packs) = match row {
            OrderRow::Item(n, line) => (n, line.packs),
            OrderRow::Pack(n, line) => (n, line.packs),
            _ => return None,
        };
        let [name, number, _, brings, price, why] = cells(book, today, row);
        let price = if price == "no price" { String::new() } else { price };
        Some(vec![seller(n), number, name, packs.to_string(), brings, price, why])
    });
    Content::Table { header: COLUMNS.to_vec(), rows: rows.collect(), below_zero: Vec::new() }
}

pub(super) fn picked(pane: &StockPane) -> Option<&OrderRow> {
    let rows = &pane.orders.rows;
    rows.get(pane.cursor.row(rows.len())?)
}

/// Runs a command of the list.
pub fn run_reorder(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    if matches!(id, Id::OrderCopy | Id::OrderExport) {
        return give_out(pane, ctx, id);
    }
    if pane.has_marks() {
        return run_marked(pane, ctx, id);
    }
    let Some(row) = picked(pane) else { return Vec::new() };
    let reply = match (id, row.is_coming()) {
        (Id::OrderRemove, true) => remove(ctx.book, row),
        (Id::OrderTick | Id::MarkArrived, true) => ask_arrived(row),
        (Id::OrderTick | Id::MarkOrdered, false) => {
            Some(order(ctx, row).map_or_else(Reply::refuse, Reply::Edit))
        }
        _ => None,
    };
    reply.into_iter().collect()
}

fn give_out(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    let is_wanted = |r: &&OrderRow| matches!(r, OrderRow::Item(..) | OrderRow::Pack(..));
    if !given_out(pane).iter().any(is_wanted) {
        let why = if pane.has_marks() { "nothing marked needs ordering" } else { "nothing needs ordering" };
        return vec![Reply::refuse(why)];
    }
    if id == CommandId::OrderCopy {
        let words = Status::note("Sent the list to the clipboard, seller by seller.");
        return vec![Reply::Tell(words), Reply::Do(Effect::Copy(as_text(pane, ctx.book, ctx.today)))];
    }
    let label = "Write the list to the file (.csv for a table, else text):";
    vec![typed::prompt(StockText::OrderFile, label, "reorder.csv")]
}

/// Takes the name of the list's file.
///
/// # Errors
/// A sentence where there is none.
pub fn export(pane: &StockPane, ctx: &Ctx, text: &str) -> Replies {
    let path = typed::file(text)?;
    let is_table = path.to_lowercase().ends_with(".csv");
    let content = if is_table {
        table(pane, ctx.book, ctx.today)
    } else {
        Content::Text(as_text(pane, ctx.book, ctx.today))
    };
    Ok(vec![Reply::Do(Effect::WriteFile { path, content })])
}

/// The edit that notes a line as ordered.
fn order(ctx: &Ctx, row: &OrderRow) -> Result<Edit, String> {
    let most = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    let name = row.name(ctx.book);
    match row {
        OrderRow::Item(_, line) => Ok(shelf::ordered(ctx.book, line.item, most(line.brings), ctx.today)),
        OrderRow::Pack(_, line) => {
            shelf::ordered_pack(ctx.book, line.assortment, most(line.packs), ctx.today)
                .ok_or_else(|| "this line is gone".to_owned())
        }
        OrderRow::Last(_) => {
            Err(format!("{name} is not needed yet: book it for a class, and it is listed by its seller"))
        }
        OrderRow::Missing(_) => Err(format!("{name} cannot be ordered now: the line says why")),
        OrderRow::Awaited(_) | OrderRow::Parcel(..) => Err(format!("{name} is on order already")),
    }
}

/// What is done with all lines that are marked, as one step; where it cannot be done with one of them, it is said of which
/// and nothing is done.
fn run_marked(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let rows = marked(pane);
    let coming = rows.iter().filter(|row| row.is_coming()).count();
    let what = match id {
        Id::OrderTick if coming == rows.len() => Id::MarkArrived,
        Id::OrderTick if coming == 0 => Id::MarkOrdered,
        Id::OrderTick => {
            let names = |is_coming: bool| {
                in_words(
                    rows.iter().filter(|r| r.is_coming() == is_coming).map(|r| r.name(ctx.book)).collect(),
                )
            };
            let words = format!(
                "{} on order, {} not: <mark-ordered> and <mark-arrived> each need lines of one kind",
                are(coming, &names(true)),
                are(rows.len() - coming, &names(false))
            );
            return vec![Reply::refuse(ctx.keys.say(&words))];
        }
        other => other,
    };
    let replies = match what {
        Id::MarkOrdered => order_marked(ctx, &rows),
        Id::MarkArrived => arrive_marked(ctx, &rows),
        _ => remove_marked(ctx.book, &rows),
    };
    replies.unwrap_or_else(|why| vec![Reply::refuse(why)])
}

fn are(n: usize, names: &str) -> String {
    format!("{names} {}", if n == 1 { "is" } else { "are" })
}

fn order_marked(ctx: &Ctx, rows: &[&OrderRow]) -> Replies {
    let edits: Vec<Edit> = rows.iter().map(|row| order(ctx, row)).collect::<Result<_, _>>()?;
    let names = in_words(rows.iter().map(|r| r.name(ctx.book)).collect());
    let edit = shelf::together(ctx.book, format!("ordered {names}"), edits);
    Ok(vec![Reply::Edit(edit), Reply::Unmark(Tab::Reorder)])
}

fn arrive_marked(ctx: &Ctx, rows: &[&OrderRow]) -> Replies {
    let orders: Vec<OrderId> = rows.iter().map(|row| first_order(ctx.book, row)).collect::<Result<_, _>>()?;
    Ok(vec![Reply::Form(FormFor::ArrivedMarked(orders))])
}

/// The order that a line on order goes by: of a pack the first.
fn first_order(book: &Book, row: &OrderRow) -> Result<OrderId, String> {
    let id = match row {
        OrderRow::Awaited(id) => Some(*id),
        OrderRow::Parcel(_, ids) => ids.first().copied(),
        _ => None,
    };
    id.ok_or_else(|| format!("{} is not on order: take its mark off first", row.name(book)))
}

fn remove_marked(book: &Book, rows: &[&OrderRow]) -> Replies {
    let mut edits = Vec::new();
    for row in rows {
        first_order(book, row)?;
        edits.extend(removed(row));
    }
    let names = in_words(rows.iter().map(|r| r.name(book)).collect());
    let edit = Edit::batch(format!("took {names} off the orders"), edits);
    Ok(vec![Reply::Edit(edit), Reply::Unmark(Tab::Reorder)])
}

fn removed(row: &OrderRow) -> Vec<Edit> {
    let ids = match row {
        OrderRow::Awaited(id) => vec![*id],
        OrderRow::Parcel(_, ids) => ids.clone(),
        _ => Vec::new(),
    };
    ids.into_iter().map(|id| Edit::Order(Change::Remove(id))).collect()
}

fn remove(book: &Book, row: &OrderRow) -> Option<Reply> {
    let edits = removed(row);
    let label = format!("took {} off the orders", row.name(book));
    (!edits.is_empty()).then(|| Reply::Edit(Edit::batch(label, edits)))
}

fn ask_arrived(row: &OrderRow) -> Option<Reply> {
    let id = match row {
        OrderRow::Awaited(id) => *id,
        OrderRow::Parcel(_, ids) => *ids.first()?,
        _ => return None,
    };
    Some(Reply::Form(FormFor::Arrived(id)))
}

/// How many of an order are still to come, over a whole pack.
pub fn awaited_count(book: &Book, id: OrderId) -> u32 {
    let count = |id: &OrderId| book.orders().get(*id).map_or(0, |o| o.count);
    match shelf::parcel(book, id) {
        Some((_, orders)) => orders.iter().map(count).sum(),
        None => count(&id),
    }
}

/// The edit that books in what came.
///
/// # Errors
/// The sentence that refuses it.
pub fn arrived(ctx: &Ctx, id: OrderId, n: u32, come: &Come) -> Result<Edit, String> {
    shelf::order_arrived(ctx.book, id, n, come)
}
