//! Orders: placed from the reorder list or by name, changed, arrived in parts; what is on order, by seller and day.

use super::ask::{AwaitedAsk, Form, OrderAsk};
use super::change;
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::{Book, folded};
use crate::domain::days::{self, DayWay};
use crate::domain::edit::{Edit, Row};
use crate::domain::harmless::harmless;
use crate::domain::money::Money;
use crate::domain::near::instead;
use crate::domain::stock::orders::{self, OrderChange, line_words, placed, price_change, price_each};
use crate::domain::stock::reorder::reorder;
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::{AssortmentId, Item, OrderId};
use crate::exchange::write::stock as csv;
use crate::exchange::write::text::{number, words};
use crate::persist::Store;
use jiff::civil::Date;
use serde::Serialize;

#[derive(Serialize)]
struct Answer {
    currency: String,
    dry_run: bool,
    done: Option<String>,
    notes: Vec<String>,
    orders: Vec<PlacedRow>,
}

#[derive(Serialize)]
struct PlacedRow {
    seller: String,
    placed: String,
    due: Option<String>,
    total: f64,
    without_price: usize,
    lines: Vec<LineRow>,
}

#[derive(Serialize)]
struct LineRow {
    name: String,
    order_number: String,
    pack: Option<String>,
    ordered: u32,
    came: u32,
    still_to_come: u32,
    back_ordered: bool,
    due: Option<String>,
    price: Option<f64>,
    price_each: Option<f64>,
    words: String,
}

fn money(m: Money) -> f64 {
    m.minor() as f64 / 100.0
}

fn rows(book: &Book, today: Date) -> Vec<PlacedRow> {
    let line = |id: &OrderId| {
        let order = book.orders().get(*id)?;
        let item = book.items().get(order.item);
        Some(LineRow {
            name: book.items().name_of(order.item),
            order_number: item.map_or_else(String::new, |i| i.order_number.clone()),
            pack: shelf::parcel(book, *id).map(|(pack, _)| book.assortments().name_of(pack)),
            ordered: order.in_all(),
            came: order.came(),
            still_to_come: order.count,
            back_ordered: order.came() > 0,
            due: order.expected.map(|d| d.to_string()),
            price: order.price.map(money),
            price_each: price_each(order).map(crate::domain::stock::cost::Each::exact),
            words: line_words(order, today),
        })
    };
    let one = |p: orders::PlacedOrder| PlacedRow {
        lines: p.lines.iter().filter_map(line).collect(),
        seller: p.seller,
        placed: p.on.to_string(),
        due: p.due.map(|d| d.to_string()),
        total: money(p.total),
        without_price: p.without_price,
    };
    placed(book).into_iter().map(one).collect()
}

/// What is on order.
pub(super) fn list(desk: &mut Desk<'_>, book: &Book, form: Form) -> anyhow::Result<()> {
    if book.orders().is_empty() {
        writeln!(desk.note, "nothing is on order")?;
    }
    told(desk, book, (None, false), Vec::new(), form)
}

/// Places an order, as one step.
pub(super) fn place(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &OrderAsk,
    form: Form,
) -> anyhow::Result<()> {
    let day = today()?;
    let due = ask.due.as_deref().map(|text| due_day(text, day)).transpose()?.flatten();
    done(desk, store, (ask.dry_run, form), |book| {
        let edit = match (&ask.name, &ask.seller) {
            (Some(name), _) => by_name(book, name, ask.packs, day)?,
            (None, seller) if ask.all || seller.is_some() => from_list(book, seller.as_deref(), day)?,
            _ => return Err("order what? Give a name, or --seller NAME, or --all".to_owned()),
        };
        Ok((with_due(edit, due), Vec::new()))
    })
}

/// A line or a pack of several: so many packs, else as many as are wanted.
fn by_name(book: &Book, name: &str, packs: Option<u32>, day: Date) -> Result<Edit, String> {
    let list = reorder(book, day);
    let wanted = packs == Some(0);
    if wanted {
        return Err("--packs: order 1 pack or more".to_owned());
    }
    let pack = pack_named(book, name);
    if let Some(pack) = pack {
        let listed =
            list.sellers.iter().flat_map(|s| &s.packs).find(|p| p.assortment == pack).map(|p| p.packs);
        let packs = packs.or(listed.and_then(|n| u32::try_from(n).ok())).unwrap_or(1);
        return shelf::ordered_pack(book, pack, packs, day).ok_or_else(|| "this pack is gone".to_owned());
    }
    let item = book.find_item(name).map_err(|e| e.to_string())?;
    let listed = list.sellers.iter().flat_map(|s| &s.lines).find(|l| l.item == item).map(|l| l.packs);
    let packs = packs.or(listed.and_then(|n| u32::try_from(n).ok())).ok_or_else(|| {
        format!(
            "{} is not on the reorder list: say how many with --packs N",
            harmless(&book.items().name_of(item))
        )
    })?;
    let of = book.items().get(item).map_or(1, Item::pack_size);
    let edit = shelf::ordered(book, item, packs.saturating_mul(of), day);
    Ok(Edit::batch(
        format!("ordered {} of {}", packs.saturating_mul(of), book.items().name_of(item)),
        vec![edit],
    ))
}

fn pack_named(book: &Book, name: &str) -> Option<AssortmentId> {
    if book.find_item(name).is_ok() {
        return None;
    }
    let wanted = folded(name);
    book.assortments()
        .iter()
        .find(|(_, a)| folded(&a.name) == wanted || folded(&a.order_number) == wanted)
        .map(|(id, _)| id)
}

/// All that the list has, of one seller or of all.
fn from_list(book: &Book, seller: Option<&str>, day: Date) -> Result<Edit, String> {
    let list = reorder(book, day);
    let names: Vec<&str> = list.sellers.iter().map(|s| s.seller.as_str()).collect();
    let chosen: Vec<_> =
        list.sellers.iter().filter(|s| seller.is_none_or(|name| folded(name) == folded(&s.seller))).collect();
    if chosen.is_empty() {
        return Err(match seller {
            Some(name) if !names.is_empty() => {
                format!("nothing needs ordering from \"{}\": {}", harmless(name), instead(name, &names))
            }
            _ => "nothing needs ordering".to_owned(),
        });
    }
    let most = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    let mut edits = Vec::new();
    for seller in &chosen {
        let packs =
            seller.packs.iter().filter_map(|p| shelf::ordered_pack(book, p.assortment, most(p.packs), day));
        edits.extend(packs);
        edits.extend(seller.lines.iter().map(|l| shelf::ordered(book, l.item, most(l.brings), day)));
    }
    let from: Vec<&str> = chosen
        .iter()
        .map(|s| if s.seller.is_empty() { "no seller given" } else { s.seller.as_str() })
        .collect();
    Ok(shelf::together(book, format!("ordered from {}", from.join(", ")), edits))
}

/// The same with another day for all its orders.
fn with_due(edit: Edit, due: Option<Date>) -> Edit {
    let Some(day) = due else { return edit };
    match edit {
        Edit::Batch { label, edits } => {
            Edit::batch(label, edits.into_iter().map(|e| with_due(e, due)).collect())
        }
        Edit::Order(Row::Add(id, mut order)) => {
            order.expected = Some(day);
            Edit::Order(Row::Add(id, order))
        }
        other => other,
    }
}

/// `2027-01-10`, `sat`, `none`.
fn due_day(text: &str, today: Date) -> Result<Option<Date>, BadInput> {
    if text.trim() == "none" {
        return Ok(None);
    }
    let bad = |e: String| BadInput(format!("--due: {}", harmless(&e)));
    days::read(text, today, DayWay::Ahead).map(Some).map_err(bad)
}

/// What came.
pub(super) struct Arrival<'a> {
    pub name: &'a str,
    pub count: &'a str,
    pub price: Option<&'a str>,
    pub on: Option<&'a str>,
    pub lot: Option<&'a str>,
    pub pack_price: Option<&'a str>,
    pub dry_run: bool,
}

/// Some of what is on order has come; the rest stays back-ordered.
pub(super) fn arrived(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &Arrival<'_>,
    form: Form,
) -> anyhow::Result<()> {
    let day = today()?;
    let n = ask.count.trim().parse::<u32>().ok().filter(|n| *n > 0);
    let n = n.ok_or_else(|| {
        BadInput(format!("\"{}\" is not a count: give a whole number of 1 or more", harmless(ask.count)))
    })?;
    let on = match ask.on {
        Some(text) => Some(
            days::read(text, day, DayWay::Back).map_err(|e| BadInput(format!("--on: {}", harmless(&e))))?,
        ),
        None => None,
    };
    done(desk, store, (ask.dry_run, form), |book| {
        let currency = &book.settings().currency;
        let read = |text: Option<&str>, what: &str| {
            text.map(|t| Money::parse(t, currency).map_err(|e| format!("{what}: {e}"))).transpose()
        };
        let (price, pack_price) = (read(ask.price, "--price")?, read(ask.pack_price, "--pack-price")?);
        let id = orders::find(book, ask.name)?;
        let come = Come { price, on: on.filter(|d| *d != day), lot: ask.lot.unwrap_or_default().to_owned() };
        arrival(book, id, n, &come, pack_price)
    })
}

fn arrival(
    book: &Book,
    id: OrderId,
    n: u32,
    come: &Come,
    pack_price: Option<Money>,
) -> Result<(Edit, Vec<String>), String> {
    let order = book.orders().get(id).ok_or("this order is gone")?;
    let notes = price_change(book, order, n, come.price).into_iter().collect();
    let edit = shelf::order_arrived(book, id, n, come)?;
    let edit = match pack_price {
        Some(price) => shelf::with_pack_price(book, edit, order.item, price),
        None => edit,
    };
    Ok((edit, notes))
}

/// Another number still to come, or another day.
pub(super) fn awaited(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &AwaitedAsk,
    form: Form,
) -> anyhow::Result<()> {
    let name = &ask.name;
    if ask.count.is_none() && ask.due.is_none() && ask.price.is_none() && ask.seller.is_none() {
        let what = "change what? Give --count N, --due DATE, --price PRICE or --seller NAME";
        return Err(BadInput(what.to_owned()).into());
    }
    let day = today()?;
    let due = ask.due.as_deref().map(|text| due_day(text, day)).transpose()?;
    done(desk, store, (ask.dry_run, form), |book| {
        let id = orders::find(book, name)?;
        let read = |text: &String| match text.trim() {
            "none" => Ok(None),
            price => {
                Money::parse(price, &book.settings().currency).map(Some).map_err(|e| format!("--price: {e}"))
            }
        };
        let price = ask.price.as_ref().map(read).transpose()?;
        let change = OrderChange { count: ask.count, due, price, seller: ask.seller.clone() };
        let edit = orders::change(book, id, &change)?;
        edit.map(|edit| (edit, Vec::new()))
            .ok_or_else(|| "it is that way already: nothing was changed".to_owned())
    })
}

/// Carries an edit out, and tells what is on order then.
fn done(
    desk: &mut Desk<'_>,
    store: &mut Store,
    (dry_run, form): (bool, Form),
    make: impl FnOnce(&Book) -> Result<(Edit, Vec<String>), String>,
) -> anyhow::Result<()> {
    let mut notes = Vec::new();
    let mut then = store.book().clone();
    let label = change::carry_out(desk, store, dry_run, |book| {
        let (edit, said) = make(book)?;
        notes = said;
        if dry_run {
            then.apply(&edit, today().map_err(|e| e.to_string())?).map_err(|e| e.to_string())?;
        }
        Ok(edit)
    })?;
    let book = if dry_run { &then } else { store.book() };
    told(desk, book, (Some(label), dry_run), notes, form)
}

fn told(
    desk: &mut Desk<'_>,
    book: &Book,
    (done, dry_run): (Option<String>, bool),
    notes: Vec<String>,
    form: Form,
) -> anyhow::Result<()> {
    let currency = book.settings().currency.clone();
    let answer = Answer { currency, dry_run, done, notes, orders: rows(book, today()?) };
    match form {
        Form::Json => desk.json(&answer),
        Form::Csv => {
            let header = [
                "seller",
                "placed",
                "order_number",
                "name",
                "ordered",
                "came",
                "still_to_come",
                "due",
                "price",
            ];
            let cells = answer.orders.iter().flat_map(|p| p.lines.iter().map(|l| line_cells(p, l)));
            desk.out.write_all(&csv::table(&header, cells))?;
            Ok(())
        }
        Form::Text => text(desk, book, &answer),
    }
}

fn line_cells(of: &PlacedRow, line: &LineRow) -> [String; 9] {
    [
        of.seller.clone(),
        of.placed.clone(),
        line.order_number.clone(),
        line.name.clone(),
        line.ordered.to_string(),
        line.came.to_string(),
        line.still_to_come.to_string(),
        line.due.clone().unwrap_or_default(),
        line.price.map_or_else(String::new, |p| format!("{p:.2}")),
    ]
}

fn text(desk: &mut Desk<'_>, book: &Book, answer: &Answer) -> anyhow::Result<()> {
    if let Some(label) = &answer.done {
        let would = if answer.dry_run { "would be done: " } else { "" };
        writeln!(desk.out, "{would}{}", harmless(label))?;
    }
    for note in &answer.notes {
        writeln!(desk.note, "{}", harmless(note))?;
    }
    let columns = [
        words("order number").minor(),
        words("name"),
        number("to come"),
        number("ordered").minor(),
        number("price").minor(),
        words("how it stands"),
    ];
    for (of, said) in answer.orders.iter().zip(placed(book)) {
        writeln!(desk.out, "{}", harmless(&said.words(&answer.currency)))?;
        let cells: Vec<Vec<String>> = of
            .lines
            .iter()
            .map(|l| {
                let price = l.price.map_or_else(String::new, |p| format!("{p:.2}"));
                vec![
                    l.order_number.clone(),
                    l.name.clone(),
                    l.still_to_come.to_string(),
                    l.ordered.to_string(),
                    price,
                    l.words.clone(),
                ]
            })
            .collect();
        desk.table(&columns, &cells, |n| of.lines.get(n).is_some_and(|l| l.back_ordered))?;
    }
    Ok(())
}
