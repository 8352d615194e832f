//! Stock lists as CSV: the columns that the reader of such lists knows, every text safe to open in a spreadsheet.

use crate::domain::book::Book;
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::pattern::Pattern;
use crate::domain::size::Grain;
use crate::domain::stock::{Item, ItemId, State};
use crate::exchange::cells::shield;
use crate::exchange::read::stock::COLUMNS;

/// The whole shelf, one item a line, in the order of its numbers; lengths are bare decimals in `unit`.
pub fn stock(book: &Book, unit: Unit) -> Vec<u8> {
    let rows = book.items().iter().map(|(id, item)| row(item, book.on_hand(id), unit));
    table(&COLUMNS, rows)
}

/// Some lines of the shelf, in this order; those that are gone are left out.
pub fn lines(book: &Book, ids: &[ItemId], unit: Unit) -> Vec<u8> {
    let rows = ids.iter().filter_map(|id| Some(row(book.items().get(*id)?, book.on_hand(*id), unit)));
    table(&COLUMNS, rows)
}

/// A table as CSV, its cells shielded.
pub fn table<R: AsRef<[String]>>(header: &[&str], rows: impl Iterator<Item = R>) -> Vec<u8> {
    table_with_numbers(header, rows, &[])
}

/// A table as CSV, its cells shielded but for the columns that hold numbers, which may be below zero.
pub fn table_with_numbers<R: AsRef<[String]>>(
    header: &[&str],
    rows: impl Iterator<Item = R>,
    numbers: &[usize],
) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
    // Writing into memory does not fail, and every row has as many cells as the header.
    let _ = writer.write_record(header);
    for row in rows {
        let cells = row.as_ref().iter().enumerate();
        let cells = cells.map(|(n, cell)| if numbers.contains(&n) { cell.clone() } else { shield(cell) });
        let _ = writer.write_record(cells);
    }
    writer.into_inner().unwrap_or_default()
}

fn row(item: &Item, on_hand: u64, unit: Unit) -> [String; 19] {
    let side = |side: fn(crate::domain::size::Size) -> Length| {
        item.size.map_or_else(String::new, |s| decimal(side(s), unit))
    };
    [
        item.name.clone(),
        item.kind.word().to_owned(),
        side(|s| s.width),
        side(|s| s.height),
        on_hand.to_string(),
        item.pack.to_string(),
        item.low.to_string(),
        item.order_number.clone(),
        item.price.map_or_else(String::new, |p: Money| p.to_string()),
        item.seller.clone(),
        item.edition.clone(),
        item.page.clone(),
        if item.state == State::Current { String::new() } else { item.state.to_string() },
        if item.grain == Grain::Unknown { String::new() } else { item.grain.word().to_owned() },
        item.gsm.map_or_else(String::new, |g| g.to_string()),
        item.pattern.map_or_else(String::new, |p| pattern_text(p, unit)),
        item.place.clone(),
        item.collection.clone(),
        item.note.clone(),
    ]
}

/// The kind with its exact scale, which carries its unit.
fn pattern_text(pattern: Pattern, unit: Unit) -> String {
    let sign = match unit {
        Unit::Inch => "in",
        Unit::Mm => "mm",
    };
    if pattern.is_plain() {
        return pattern.kind.word().to_owned();
    }
    format!("{} {} {sign}", pattern.kind.word(), decimal(pattern.repeat, unit))
}

/// A length as a decimal that reads back as the same length: five decimals of an inch and four of a millimetre are
/// finer than half a unit.
pub fn decimal(length: Length, unit: Unit) -> String {
    let digits = match unit {
        Unit::Inch => 5,
        Unit::Mm => 4,
    };
    let text = format!("{:.digits$}", length.in_unit(unit));
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
