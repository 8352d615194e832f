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
use crate::app::state::stock::orders::OrderRow;
use crate::app::state::stock::texts::StockText;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row as Change};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::reorder::{self, Line, PackLine, SellerList};
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::{AssortmentId, ItemId, OrderId};
use jiff::civil::Date;

/// Whether the line picked is on order; `None` where there is none.
pub fn is_coming(pane: &StockPane) -> Option<bool> {
    picked(pane).map(OrderRow::is_coming)
}

/// The heading that a row stands under.
pub fn heading(pane: &StockPane, book: &Book, row: &OrderRow) -> String {
    let list = &pane.orders.list;
    match row {
        OrderRow::Item(n, _) | OrderRow::Pack(n, _) => {
            list.sellers.get(*n).map(|s| seller_words(s, book)).unwrap_or_default()
        }
        OrderRow::Awaited(_) | OrderRow::Parcel(..) => "on order".to_owned(),
        OrderRow::Last(_) => "last orders: leaving".to_owned(),
        OrderRow::Missing(_) => "needed, but no longer sold".to_owned(),
    }
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
pub fn cells(book: &Book, row: &OrderRow) -> [String; 6] {
    match row {
        OrderRow::Item(_, line) => cells_of_item(book, line),
        OrderRow::Pack(_, line) => cells_of_pack(book, line),
        OrderRow::Awaited(id) => cells_of_order(book, *id),
        OrderRow::Parcel(pack, orders) => cells_of_parcel(book, *pack, orders),
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
            format!("{} wanting: {}", missing.wanted, missing.why),
        ],
    }
}

fn price_words(price: Option<Money>) -> String {
    price.map_or_else(|| "no price".to_owned(), |p| p.to_string())
}

fn cells_of_item(book: &Book, line: &Line) -> [String; 6] {
    let item = book.items().get(line.item);
    let by = match (line.order_by, line.late) {
        (Some(day), true) => format!(", LATE: order by {day} has gone by"),
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
        price_words(line.price),
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
        price_words(line.price),
        format!("cheapest cover of {}{also}", list(&line.covers)),
    ]
}

fn cells_of_order(book: &Book, id: OrderId) -> [String; 6] {
    let Some(order) = book.orders().get(id) else { return Default::default() };
    let number = book.items().get(order.item).map(|i| i.order_number.clone());
    [
        book.items().name_of(order.item),
        number.unwrap_or_default(),
        String::new(),
        order.count.to_string(),
        String::new(),
        order_words(order.placed, order.expected),
    ]
}

fn cells_of_parcel(book: &Book, pack: AssortmentId, orders: &[OrderId]) -> [String; 6] {
    let rows = || orders.iter().filter_map(|id| book.orders().get(*id));
    let placed = rows().next().map(|o| order_words(o.placed, o.expected));
    [
        book.assortments().name_of(pack),
        book.assortments().get(pack).map(|p| p.order_number.clone()).unwrap_or_default(),
        String::new(),
        rows().map(|o| u64::from(o.count)).sum::<u64>().to_string(),
        String::new(),
        placed.unwrap_or_default(),
    ]
}

fn order_words(placed: Date, expected: Option<Date>) -> String {
    match expected {
        Some(day) => format!("ordered {placed}, due {day}"),
        None => format!("ordered {placed}"),
    }
}

/// The list as text, ready to read to a seller or to paste: order number, packs, name.
pub fn as_text(pane: &StockPane, book: &Book) -> String {
    let orders = &pane.orders;
    let mut lines = Vec::new();
    let mut last = String::new();
    for row in orders.rows.iter().filter(|r| matches!(r, OrderRow::Item(..) | OrderRow::Pack(..))) {
        let heading = heading(pane, book, row);
        if heading != last {
            if !last.is_empty() {
                lines.push(String::new());
            }
            lines.push(heading.clone());
            last = heading;
        }
        let [name, number, packs, brings, price, _] = cells(book, row);
        let number = if number.is_empty() { "no number".to_owned() } else { number };
        lines.push(format!("{number}  {packs} (brings {brings})  {name}  {price}"));
    }
    lines.join("\n") + "\n"
}

/// Columns of the list as a table.
const COLUMNS: [&str; 7] = ["seller", "order_number", "name", "packs", "brings", "price", "why"];

fn table(pane: &StockPane, book: &Book) -> Content {
    let orders = &pane.orders;
    let seller = |n: &usize| orders.list.sellers.get(*n).map(|s| s.seller.clone()).unwrap_or_default();
    let rows = orders.rows.iter().filter_map(|row| {
        let (n, packs) = match row {
            OrderRow::Item(n, line) => (n, line.packs),
            OrderRow::Pack(n, line) => (n, line.packs),
            _ => return None,
        };
        let [name, number, _, brings, price, why] = cells(book, row);
        let price = if price == "no price" { String::new() } else { price };
        Some(vec![seller(n), number, name, packs.to_string(), brings, price, why])
    });
    Content::Table { header: COLUMNS.to_vec(), rows: rows.collect() }
}

fn picked(pane: &StockPane) -> Option<&OrderRow> {
    let rows = &pane.orders.rows;
    rows.get(pane.cursor.row(rows.len())?)
}

/// Runs a command of the list.
pub fn run(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    if matches!(id, Id::OrderCopy | Id::OrderExport) {
        return give_out(pane, ctx, id);
    }
    let Some(row) = picked(pane) else { return Vec::new() };
    let reply = match (id, row.is_coming()) {
        (Id::OrderRemove, true) => remove(ctx.book, row),
        (Id::OrderTick | Id::MarkArrived, true) => ask_arrived(row),
        (Id::OrderTick | Id::MarkOrdered, false) => Some(order(ctx, row)),
        _ => None,
    };
    reply.into_iter().collect()
}

fn give_out(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    if pane.orders.list.sellers.is_empty() {
        return vec![Reply::refuse("nothing is to be ordered")];
    }
    if id == CommandId::OrderCopy {
        let words = Status::note("Sent the list to the clipboard, seller by seller.");
        return vec![Reply::Tell(words), Reply::Do(Effect::Copy(as_text(pane, ctx.book)))];
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
    let content = if is_table { table(pane, ctx.book) } else { Content::Text(as_text(pane, ctx.book)) };
    Ok(vec![Reply::Do(Effect::WriteFile { path, content })])
}

fn order(ctx: &Ctx, row: &OrderRow) -> Reply {
    let most = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    let edit = match row {
        OrderRow::Item(_, line) => Some(shelf::ordered(ctx.book, line.item, most(line.brings), ctx.today)),
        OrderRow::Pack(_, line) => {
            shelf::ordered_pack(ctx.book, line.assortment, most(line.packs), ctx.today)
        }
        OrderRow::Last(_) => {
            return Reply::refuse(
                "none of it is needed yet: book it for a class, and it is listed by its seller",
            );
        }
        _ => return Reply::refuse("it cannot be ordered now: the line says why"),
    };
    edit.map_or_else(|| Reply::refuse("this line is gone"), Reply::Edit)
}

fn remove(book: &Book, row: &OrderRow) -> Option<Reply> {
    let (ids, name) = match row {
        OrderRow::Awaited(id) => {
            let item = book.orders().get(*id).map(|o| o.item);
            (vec![*id], item.map(|i| book.items().name_of(i)).unwrap_or_default())
        }
        OrderRow::Parcel(pack, ids) => (ids.clone(), book.assortments().name_of(*pack)),
        _ => return None,
    };
    let edits = ids.into_iter().map(|id| Edit::Order(Change::Remove(id))).collect();
    Some(Reply::Edit(Edit::batch(format!("took {name} off the orders"), edits)))
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
    let book = ctx.book;
    let gone = || "this order is gone".to_owned();
    match shelf::parcel(book, id) {
        Some((_, orders)) if n == awaited_count(book, id) => {
            shelf::parcel_arrived(book, &orders, come).ok_or_else(gone)
        }
        Some(_) => Err(format!(
            "a pack comes as a whole: {}; p on the shelf receives packs one by one",
            count_of(u64::from(awaited_count(book, id)), "sheet")
        )),
        None => shelf::arrived(book, id, n, come).ok_or_else(gone),
    }
}
