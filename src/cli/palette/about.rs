//! `trimside palette about`: what the shelf knows of a colour or of a patterned paper.

use super::{DAYLIGHT, PaletteArgs};
use crate::cli::{BadInput, Desk, open_store};
use crate::domain::book::Book;
use crate::domain::colour::naming;
use crate::domain::colour::space::Rgb8;
use crate::domain::length::Unit;
use crate::domain::library::inks;
use crate::domain::library::papers::{self, PaperSide};
use crate::domain::near::question;
use crate::domain::stock::{Item, ItemId, Kind, NamedColour, SwatchId};
use serde_json::{Value, json};
use std::fmt::Write;

/// Answers the question.
///
/// # Errors
/// [`BadInput`] where nothing has that name, anything else for a failure.
pub(super) fn answer(args: &PaletteArgs, name: &str, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    if args.swatches.is_some() {
        return Err(BadInput("a swatch file says nothing of the shelf: leave out --swatches".into()).into());
    }
    let store = open_store(desk)?;
    let book = store.book();
    let value = match (book.find_swatch(name), book.find_item(name)) {
        (Some(id), _) => book.swatches().get(id).map(|s| of_swatch(book, id, s)),
        (None, Ok(id)) => book
            .items()
            .get(id)
            .filter(|i| i.kind == Kind::PatternedPaper)
            .map(|i| of_paper(book, (id, i), desk.unit)),
        (None, Err(_)) => None,
    };
    let Some(value) = value else {
        let swatches = book.swatches().iter().map(|(_, s)| s.name.as_str());
        let papers = book.items().iter().filter(|(_, i)| i.kind == Kind::PatternedPaper);
        let near = question(name, swatches.chain(papers.map(|(_, i)| i.name.as_str())));
        let why = format!(
            "no swatch and no patterned paper \"{name}\": {near}trimside palette order lists the swatches, trimside stock list the papers"
        );
        return Err(BadInput(why).into());
    };
    if args.json {
        return desk.json(&value);
    }
    write!(desk.out, "{}", text(&value))?;
    writeln!(desk.note, "{DAYLIGHT}")?;
    Ok(())
}

/// `swatch, hex, lab, origin, about, former_names[], items[...], papers[{name,side}], inks[{name,ratio,reads,opaque}]`
fn of_swatch(book: &Book, id: SwatchId, swatch: &NamedColour) -> Value {
    let colour = swatch.colour();
    let own = book.items().iter().filter(|(_, i)| i.swatch == Some(id) && i.kind != Kind::PatternedPaper);
    let items: Vec<Value> = own
        .map(|(item, i)| {
            json!({
                "name": i.name, "kind": i.kind.word(), "on_hand": book.on_hand(item), "order_number": i.order_number,
                "former_numbers": i.former_numbers, "state": i.state.to_string(), "place": i.place, "note": i.note,
            })
        })
        .collect();
    let side = |item: &Item| if item.front().contains(&id) { PaperSide::Front } else { PaperSide::Back };
    let papers: Vec<Value> = papers::holding(book, id)
        .into_iter()
        .filter_map(|p| book.items().get(p))
        .map(|i| json!({ "name": i.name, "side": side(i).word() }))
        .collect();
    let [r, g, b] = swatch.hex;
    let inks: Vec<Value> = inks::readings(book, Rgb8::new(r, g, b))
        .into_iter()
        .map(|ink| {
            let opaque = book.items().get(ink.ink).is_some_and(|i| i.opaque);
            json!({
                "name": book.items().name_of(ink.ink), "ratio": ink.reading.ratio,
                "reads": ink.reading.grade.words(), "opaque": opaque,
            })
        })
        .collect();
    json!({
        "swatch": swatch.name, "family": swatch.family, "hex": swatch.hex_text(), "lab": swatch.lab,
        "origin": colour.origin.word(), "about": naming::about(colour.lab), "former_names": swatch.former_names,
        "items": items, "papers": papers, "inks": inks,
    })
}

/// `paper, order_number, ..., front[], back[], matches[{swatch,item,on_hand}]`
fn of_paper(book: &Book, (id, item): (ItemId, &Item), unit: Unit) -> Value {
    let names = |side: PaperSide| -> Vec<String> {
        side.colours(item).into_iter().map(|s| book.swatches().name_of(s)).collect()
    };
    let matches: Vec<Value> = papers::matching(book, id)
        .into_iter()
        .map(|(swatch, plain)| {
            json!({
                "swatch": book.swatches().name_of(swatch), "item": book.items().name_of(plain),
                "on_hand": book.on_hand(plain),
            })
        })
        .collect();
    json!({
        "paper": item.name, "order_number": item.order_number, "former_numbers": item.former_numbers,
        "collection": item.collection, "edition": item.edition, "page": item.page, "other_side": item.back,
        "pattern": item.drawn_pattern().text(unit),
        "on_hand": book.on_hand(id), "state": item.state.to_string(),
        "front": names(PaperSide::Front), "back": names(PaperSide::Back), "matches": matches,
    })
}

/// Fields in the order in which a person reads them.
const LINES: &[&str] = &[
    "swatch",
    "paper",
    "about",
    "family",
    "hex",
    "lab",
    "origin",
    "former_names",
    "collection",
    "order_number",
    "former_numbers",
    "edition",
    "page",
    "on_hand",
    "state",
    "front",
    "back",
    "pattern",
    "other_side",
    "items",
    "papers",
    "inks",
    "matches",
];
/// Fields of a row in a list, in that order.
const PARTS: &[&str] = &[
    "name",
    "item",
    "side",
    "on_hand",
    "order_number",
    "former_numbers",
    "place",
    "state",
    "ratio",
    "opaque",
    "reads",
    "note",
];

/// The same answer in lines: a label, then its words; lists a line each.
fn text(value: &Value) -> String {
    let mut out = String::new();
    for (label, part) in LINES.iter().filter_map(|l| Some((l, value.get(*l)?))) {
        // The words of a colour begin with "about" themselves.
        let label = if *label == "about" { "color".to_owned() } else { label.replace('_', " ") };
        match part {
            Value::Array(rows) if rows.iter().any(Value::is_object) => {
                for row in rows {
                    let _ = writeln!(out, "{label:<14} {}", words(row));
                }
            }
            _ => {
                let said = words(part);
                if !said.is_empty() {
                    let _ = writeln!(out, "{label:<14} {said}");
                }
            }
        }
    }
    out
}

fn words(value: &Value) -> String {
    let join =
        |parts: Vec<String>| parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", ");
    match value {
        Value::String(text) => text.clone(),
        Value::Number(n) if n.is_f64() => format!("{:.1}", n.as_f64().unwrap_or_default()),
        Value::Bool(true) => "opaque".to_owned(),
        Value::Bool(false) | Value::Null => String::new(),
        Value::Number(n) => n.to_string(),
        Value::Array(parts) => join(parts.iter().map(words).collect()),
        Value::Object(fields) => {
            join(PARTS.iter().filter_map(|k| Some(field_words(k, fields.get(*k)?))).collect())
        }
    }
}

fn field_words(key: &str, value: &Value) -> String {
    let said = words(value);
    match key {
        "on_hand" => format!("{said} on hand"),
        "ratio" => format!("{said}:1"),
        "side" => format!("on the {said}"),
        "former_numbers" if !said.is_empty() => format!("formerly {said}"),
        _ => said,
    }
}
