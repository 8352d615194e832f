//! Answers about the shelf, for people, spreadsheets or programs.

use super::ask::Form;
use super::rows::{self, ItemRow, LineRow, OrderRow, PackRow, ReorderRows};
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::Book;
use crate::domain::harmless::harmless;
use crate::domain::plural::count_of;
use crate::domain::stock::ItemId;
use crate::domain::stock::find::Shelf;
use crate::domain::stock::{LogLine, lot, reorder};
use crate::exchange::write::stock as csv;
use crate::exchange::write::text::{number, words};
use jiff::civil::Date;
use serde::Serialize;

#[derive(Serialize)]
struct List {
    unit: &'static str,
    items: Vec<ItemRow>,
}

#[derive(Serialize)]
struct Log {
    lines: Vec<LineRow>,
}

pub(super) fn list(desk: &mut Desk<'_>, book: &Book, filter: &str, form: Form) -> anyhow::Result<()> {
    let found = Shelf::new(book).find(filter, desk.unit);
    // A clock past all days tells no pace; the shelf is listed all the same.
    let (unit, day) = (desk.unit, today().ok());
    let items: Vec<(ItemId, ItemRow)> =
        found.into_iter().filter_map(|id| Some((id, rows::item(book, id, unit, day)?))).collect();
    match form {
        Form::Json => {
            let items = items.into_iter().map(|(_, row)| row).collect();
            desk.json(&List { unit: desk.unit.sign(), items })
        }
        Form::Csv => {
            const HEADER: [&str; 14] = [
                "name",
                "kind",
                "width",
                "height",
                "on_hand",
                "booked",
                "free",
                "on_order",
                "low",
                "order_number",
                "state",
                "used_a_month",
                "days_left",
                "suggested_low",
            ];
            let unit = desk.unit;
            let side = |id, of: fn(crate::domain::size::Size) -> crate::domain::length::Length| {
                let size = book.items().get(id).and_then(|i| i.size);
                size.map_or_else(String::new, |s| csv::decimal(of(s), unit))
            };
            let cells = items.into_iter().map(|(id, r)| {
                let (width, height) = (side(id, |s| s.width), side(id, |s| s.height));
                let counts =
                    [r.on_hand.to_string(), r.booked.to_string(), r.free.to_string(), r.on_order.to_string()];
                let [on_hand, booked, free, on_order] = counts;
                [
                    r.name,
                    r.kind.to_owned(),
                    width,
                    height,
                    on_hand,
                    booked,
                    free,
                    on_order,
                    r.low.to_string(),
                    r.order_number,
                    r.state,
                    r.used_a_month.map_or_else(String::new, |n| n.to_string()),
                    shown(r.days_left),
                    shown(r.suggested_low),
                ]
            });
            desk.out.write_all(&csv::table_with_numbers(&HEADER, cells, &[6]))?;
            Ok(())
        }
        Form::Text => list_text(desk, book, &items, filter),
    }
}

fn shown(count: Option<u64>) -> String {
    count.map_or_else(String::new, |n| n.to_string())
}

fn list_text(
    desk: &mut Desk<'_>,
    book: &Book,
    items: &[(ItemId, ItemRow)],
    filter: &str,
) -> anyhow::Result<()> {
    if items.is_empty() {
        let why = if book.items().is_empty() {
            "nothing on the shelf yet: trimside stock import FILE.csv takes in a list".to_owned()
        } else {
            format!("nothing on the shelf has \"{}\"", harmless(filter))
        };
        writeln!(desk.note, "{why}")?;
    }
    let columns = [
        words("name"),
        words("size").minor(),
        number("on hand"),
        number("booked").minor(),
        number("free"),
        number("on order").minor(),
        number("low").minor(),
        number("a month").minor(),
        number("days left").minor(),
        words("order number").minor(),
        words("state"),
    ];
    let cells: Vec<Vec<String>> = items
        .iter()
        .map(|(id, r)| {
            let size =
                book.items().get(*id).and_then(|i| i.size).map_or_else(String::new, |s| s.as_made(desk.unit));
            let mark =
                if r.free < i64::from(book.items().get(*id).map_or(0, crate::domain::stock::Item::mark)) {
                    " low"
                } else {
                    ""
                };
            vec![
                r.name.clone(),
                size,
                r.on_hand.to_string(),
                r.booked.to_string(),
                r.free.to_string(),
                r.on_order.to_string(),
                r.low.to_string(),
                r.used_a_month.map_or_else(String::new, |n| format!("{n:.1}")),
                shown(r.days_left),
                r.order_number.clone(),
                format!("{}{mark}", r.state),
            ]
        })
        .collect();
    desk.table(&columns, &cells, |n| cells[n].last().is_some_and(|state| state.ends_with(" low")))?;
    Ok(())
}

pub(super) fn log(desk: &mut Desk<'_>, book: &Book, name: Option<&str>, form: Form) -> anyhow::Result<()> {
    let only = name.map(|n| book.find_item(n)).transpose().map_err(BadInput::from_error)?;
    let lines = book.log().iter().filter(|l| only.is_none_or(|id| l.item == id));
    let lines: Vec<&LogLine> = lines.collect();
    let draws = lot::draws_of(book, lines.iter().copied());
    let lines: Vec<LineRow> = lines.into_iter().map(|l| rows::line(book, l, draws.get(&l.seq))).collect();
    match form {
        Form::Json => desk.json(&Log { lines }),
        Form::Csv => {
            let header = ["seq", "date", "item", "change", "reason", "job", "lot", "cost"];
            let cells = lines.into_iter().map(|l| {
                let cost = l.cost.map_or_else(String::new, |c| format!("{c:.2}"));
                let (seq, change, reason) = (l.seq.to_string(), l.change.to_string(), l.reason.to_owned());
                [seq, l.date, l.item, change, reason, l.job, l.lot, cost]
            });
            desk.out.write_all(&csv::table_with_numbers(&header, cells, &[3]))?;
            Ok(())
        }
        Form::Text => {
            if lines.is_empty() {
                writeln!(desk.note, "the log has no lines yet: trimside stock receive and use write them")?;
            }
            let columns = [
                number("line"),
                words("date"),
                words("item"),
                number("change"),
                words("reason"),
                number("cost").minor(),
                words("job").minor(),
            ];
            let cells: Vec<Vec<String>> = lines
                .into_iter()
                .map(|l| {
                    vec![
                        l.seq.to_string(),
                        l.date,
                        l.item,
                        format!("{:+}", l.change),
                        l.reason.to_owned(),
                        draws
                            .get(&l.seq)
                            .map_or_else(String::new, |d| d.cost_words(&book.settings().currency)),
                        l.job,
                    ]
                })
                .collect();
            desk.table(&columns, &cells, |_| false)?;
            Ok(())
        }
    }
}

pub(super) fn export(desk: &mut Desk<'_>, book: &Book, form: Form) -> anyhow::Result<()> {
    if form == Form::Json {
        return list(desk, book, "", form);
    }
    desk.out.write_all(&csv::stock(book, desk.unit))?;
    Ok(())
}

pub(super) fn reorder(desk: &mut Desk<'_>, book: &Book, today: Date, form: Form) -> anyhow::Result<()> {
    let list = reorder::reorder(book, today);
    let rows = rows::reorder(book, &list);
    for missing in &rows.unobtainable {
        writeln!(
            desk.note,
            "{} of {} cannot be ordered: {}",
            missing.wanted,
            harmless(&missing.name),
            missing.why
        )?;
    }
    match form {
        Form::Json => desk.json(&rows),
        Form::Csv => {
            let header =
                ["seller", "order_number", "name", "packs", "pack", "brings", "price", "order_by", "why"];
            let cells = rows.sellers.iter().flat_map(|s| {
                let items = s.items.iter().map(|i| order_cells(&s.seller, i));
                items.chain(s.assortments.iter().map(|p| pack_cells(&s.seller, p)))
            });
            desk.out.write_all(&csv::table(&header, cells))?;
            Ok(())
        }
        Form::Text => reorder_text(desk, &rows),
    }
}

fn order_cells(seller: &str, row: &OrderRow) -> [String; 9] {
    [
        seller.to_owned(),
        row.order_number.clone(),
        row.name.clone(),
        row.packs.to_string(),
        row.pack.to_string(),
        row.brings.to_string(),
        row.price.map_or_else(String::new, |p| format!("{p:.2}")),
        row.order_by.clone().unwrap_or_default(),
        row.why.clone(),
    ]
}

fn pack_cells(seller: &str, row: &PackRow) -> [String; 9] {
    let brings: u64 = row.covers.iter().chain(&row.also).map(|c| c.count).sum();
    [
        seller.to_owned(),
        row.order_number.clone(),
        row.name.clone(),
        row.packs.to_string(),
        String::new(),
        brings.to_string(),
        row.price.map_or_else(String::new, |p| format!("{p:.2}")),
        String::new(),
        format!(
            "cheapest cover of {}",
            row.covers.iter().map(|c| format!("{} {}", c.count, c.name)).collect::<Vec<_>>().join(", ")
        ),
    ]
}

fn reorder_text(desk: &mut Desk<'_>, rows: &ReorderRows) -> anyhow::Result<()> {
    if rows.sellers.is_empty() {
        writeln!(desk.note, "nothing needs ordering")?;
    }
    let columns = [
        words("order number").minor(),
        words("name"),
        number("packs"),
        number("of").minor(),
        number("brings"),
        number("price"),
        words("order by"),
        words("why").minor(),
    ];
    for seller in &rows.sellers {
        let name =
            if seller.seller.is_empty() { "no seller given".to_owned() } else { harmless(&seller.seller) };
        writeln!(desk.out, "{name}: {}{}", rows.currency, format_args!("{:.2}", seller.total))?;
        let items = seller.items.iter().map(|i| {
            let mut cells = order_cells("", i);
            if let Some(order_by) = cells.get_mut(7).filter(|_| i.late) {
                order_by.push_str(" (late)");
            }
            cells
        });
        let all = items.chain(seller.assortments.iter().map(|p| pack_cells("", p)));
        let cells: Vec<Vec<String>> = all.map(|c| c.into_iter().skip(1).collect()).collect();
        desk.table(&columns, &cells, |n| cells[n].last().is_some_and(|by| by.ends_with("(late)")))?;
        for pack in &seller.assortments {
            let also: Vec<String> =
                pack.also.iter().map(|c| format!("{} {}", c.count, harmless(&c.name))).collect();
            if !also.is_empty() {
                writeln!(desk.out, "{} also brings {}", harmless(&pack.name), also.join(", "))?;
            }
        }
        if seller.without_price > 0 {
            writeln!(
                desk.note,
                "{} without a price, not in the sum",
                count_of(seller.without_price as u64, "line")
            )?;
        }
    }
    for last in &rows.last_orders {
        writeln!(
            desk.note,
            "{} leaves on {}: {} on hand, {} booked",
            harmless(&last.name),
            last.until,
            last.on_hand,
            last.booked
        )?;
    }
    Ok(())
}
