//! Stock lists from CSV: bytes to rows, every bad line with its number. What the rows do to a book is not known here.
//!
//! The first line names the columns, in any order: `name` and `kind` must be there, any of the others in [`COLUMNS`]
//! may be. A cell may be empty. Lengths are bare numbers in the unit in force or carry their own; `state` is `current`,
//! `gone`, `leaving 2026-08-31` or `arriving 2026-09-01`; `pattern` is `stripes 1/2 in` and the like; a shield before a formula is taken off.

use super::table_text::{self, MOST_LINES};
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::pattern::Pattern;
use crate::domain::plural::count_of;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::import::{BadLine, StockRow};
use crate::domain::stock::{Kind, State};
use crate::exchange::cells::unshield;

/// The columns, in the order in which they are written.
pub const COLUMNS: [&str; 19] = [
    "name",
    "kind",
    "width",
    "height",
    "on_hand",
    "pack",
    "low",
    "order_number",
    "price",
    "seller",
    "edition",
    "page",
    "state",
    "grain",
    "gsm",
    "pattern",
    "place",
    "collection",
    "note",
];

/// No count is larger.
const MOST_COUNT: u32 = crate::domain::edit::check::MOST;

/// The rows of a list.
///
/// # Errors
/// Every line that cannot be read, with its number, the first line for a header that will not do.
pub fn stock(bytes: &[u8], unit: Unit, currency: &str) -> Result<Vec<StockRow>, Vec<BadLine>> {
    let bytes = table_text::checked(bytes).map_err(|(line, why)| vec![BadLine { line, why }])?;
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(bytes);
    let header = reader.byte_headers().map_err(|e| vec![unreadable(&e)])?;
    let columns = columns(header).map_err(|why| vec![BadLine { line: 1, why }])?;
    let (mut rows, mut bad) = (Vec::new(), Vec::new());
    let mut record = csv::ByteRecord::new();
    let mut lines = Lines::of(bytes);
    loop {
        match reader.read_byte_record(&mut record) {
            Ok(false) => break,
            Ok(true) if rows.len() + bad.len() == MOST_LINES => {
                let line = lines.line_at(record.position().map_or(0, csv::Position::byte));
                let why = format!("the list is longer than {MOST_LINES} items: split it");
                return Err(vec![BadLine { line, why }]);
            }
            Ok(true) => {
                let line = lines.line_at(record.position().map_or(0, csv::Position::byte));
                match (Cells { record: &record, columns: &columns, unit, currency }).row(line) {
                    Ok(row) => rows.push(row),
                    Err(why) => bad.push(BadLine { line, why }),
                }
            }
            Err(e) => {
                let line = lines.line_at(e.position().map_or(0, csv::Position::byte));
                bad.push(BadLine { line, ..unreadable(&e) });
                break;
            }
        }
    }
    if bad.is_empty() { Ok(rows) } else { Err(bad) }
}

pub(super) fn unreadable(error: &csv::Error) -> BadLine {
    BadLine {
        line: error.position().map_or(1, csv::Position::line),
        why: format!("it cannot be read: {error}"),
    }
}

/// Line numbers by place in the file. The reader's own count is one short after a line that ends in CR LF.
pub(super) struct Lines<'a> {
    bytes: &'a [u8],
    at: usize,
    line: u64,
}

impl<'a> Lines<'a> {
    pub(super) fn of(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0, line: 1 }
    }

    /// The line that a record starting at `byte` begins on. Places must not go backwards.
    pub(super) fn line_at(&mut self, byte: u64) -> u64 {
        let mut to = usize::try_from(byte).unwrap_or(usize::MAX).min(self.bytes.len());
        // The reader leaves the end of the line before, and empty lines, to the record that follows.
        while self.bytes.get(to).is_some_and(|b| matches!(b, b'\r' | b'\n')) {
            to += 1;
        }
        let between = self.bytes.get(self.at..to).unwrap_or_default();
        self.line += between.split(|b| *b == b'\n').count() as u64 - 1;
        self.at = to;
        self.line
    }
}

/// Which column each cell of a line belongs to.
fn columns(header: &csv::ByteRecord) -> Result<Vec<usize>, String> {
    let mut found = Vec::new();
    for cell in header {
        let name = String::from_utf8_lossy(cell).trim().to_lowercase();
        let Some(at) = COLUMNS.iter().position(|c| *c == name) else {
            let hint = if name.contains(';') { "; put commas between the columns" } else { "" };
            return Err(format!(
                "\"{}\" is not a column: the columns are {}{hint}",
                start_of(&name),
                COLUMNS.join(", ")
            ));
        };
        if found.contains(&at) {
            return Err(format!("the column \"{name}\" is there twice"));
        }
        found.push(at);
    }
    match COLUMNS.iter().take(2).enumerate().find(|(n, _)| !found.contains(n)) {
        Some((_, missing)) => Err(format!(
            "the column \"{missing}\" is missing: the first line names the columns, name and kind at least"
        )),
        None => Ok(found),
    }
}

struct Cells<'a> {
    record: &'a csv::ByteRecord,
    columns: &'a [usize],
    unit: Unit,
    currency: &'a str,
}

impl<'a> Cells<'a> {
    fn row(&self, line: u64) -> Result<StockRow, String> {
        if self.record.len() > self.columns.len() {
            return Err(format!(
                "it has {} for {}: put a text with a comma in quotes",
                count_of(self.record.len() as u64, "cell"),
                count_of(self.columns.len() as u64, "column")
            ));
        }
        let kind = self.get("kind")?.unwrap_or_default();
        Ok(StockRow {
            line,
            name: self.get("name")?.unwrap_or_default().to_owned(),
            kind: Kind::from_word(kind).ok_or_else(|| {
                let kinds: Vec<&str> = Kind::ALL.iter().map(|k| k.word()).collect();
                format!("\"{}\" is not a kind: write {}", start_of(kind), kinds.join(", "))
            })?,
            size: self.size()?,
            on_hand: self.count("on_hand")?,
            pack: self.count("pack")?,
            low: self.count("low")?,
            order_number: self.text("order_number")?,
            price: self.read("price", |t| Money::parse(t, self.currency).map_err(|e| e.to_string()))?,
            seller: self.text("seller")?,
            edition: self.text("edition")?,
            page: self.text("page")?,
            state: self.read("state", |t| {
                State::from_words(t).ok_or_else(|| {
                    "write current, gone, leaving 2026-08-31 or arriving 2026-09-01".to_owned()
                })
            })?,
            grain: self.read("grain", |t| {
                Grain::from_word(t).ok_or_else(|| "write long, short or unknown".to_owned())
            })?,
            gsm: self.count("gsm")?,
            pattern: self.read("pattern", |t| Pattern::read(t, self.unit))?,
            place: self.text("place")?,
            collection: self.text("collection")?,
            note: self.text("note")?,
        })
    }

    /// The cell of a column; `None` where the column or the cell is not there or empty.
    fn get(&self, column: &str) -> Result<Option<&'a str>, String> {
        let at = self.columns.iter().position(|c| COLUMNS.get(*c) == Some(&column));
        let Some(bytes) = at.and_then(|at| self.record.get(at)) else { return Ok(None) };
        let text = std::str::from_utf8(bytes).map_err(|_| format!("its {column} is not UTF-8 text"))?;
        let text = unshield(text);
        Ok((!text.is_empty()).then_some(text))
    }

    fn text(&self, column: &str) -> Result<Option<String>, String> {
        Ok(self.get(column)?.map(str::to_owned))
    }

    fn read<T>(&self, column: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<Option<T>, String> {
        let cell = self.get(column)?.filter(|t| !t.trim().is_empty());
        let named =
            |t: &str| read(t).map_err(|why| format!("its {column} \"{}\" will not do: {why}", start_of(t)));
        cell.map(named).transpose()
    }

    fn count(&self, column: &str) -> Result<Option<u32>, String> {
        self.read(column, |t| {
            let count = t.trim().parse().ok().filter(|n| *n <= MOST_COUNT);
            count.ok_or_else(|| format!("write a whole number from 0 to {MOST_COUNT}"))
        })
    }

    fn size(&self) -> Result<Option<Size>, String> {
        let side = |column| self.read(column, |t| Length::parse(t, self.unit).map_err(|e| e.to_string()));
        match (side("width")?, side("height")?) {
            (Some(width), Some(height)) => Ok(Some(Size::new(width, height))),
            (None, None) => Ok(None),
            _ => Err("it has a width or a height alone: give both or none".to_owned()),
        }
    }
}

/// The beginning of a cell, to be shown: a cell may be ten million characters long.
pub(super) fn start_of(text: &str) -> String {
    let start: String = text.chars().take(40).collect();
    if start.len() < text.len() { format!("{start}...") } else { start }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Vec<StockRow>, Vec<BadLine>> {
        stock(text.as_bytes(), Unit::Inch, "$")
    }

    #[test]
    fn reads_any_order_of_columns_and_leaves_out_what_is_not_said() {
        let text = "\u{feff}kind,Name,height,width,on_hand,price,state\r\nPlain Sheet,fern,11,8 1/2,4,$0.45,leaving 2026-08-31\r\nother,tape\r\n";
        let rows = read(text).unwrap();
        assert_eq!(rows[0].size, Some(Size::parse("8.5x11", Unit::Inch).unwrap()));
        assert_eq!((rows[0].on_hand, rows[0].price), (Some(4), Some(Money::from_minor(45))));
        assert_eq!((rows[0].line, rows[1].line, rows[1].kind), (2, 3, Kind::Other));
        assert_eq!((rows[1].on_hand, rows[1].size, rows[1].low), (None, None, None));
    }

    #[test]
    fn names_every_bad_line() {
        let bad = read(
            "name,kind,width,height,low\nfern,plain sheet,8,,\nmoss,vellum,,,\nbrick,other,,,-1\n\"a\nb\",other,,,2\nx,other,,,,,\n",
        );
        let bad = bad.unwrap_err();
        let lines: Vec<(u64, bool)> = bad.iter().map(|b| (b.line, b.why.is_empty())).collect();
        assert_eq!(lines, [(2, false), (3, false), (4, false), (7, false)], "{bad:?}");
        assert!(bad[1].why.contains("ink pad"), "{bad:?}");
    }

    #[test]
    fn a_header_that_will_not_do_is_said() {
        let e = |t: &str| read(t).unwrap_err()[0].why.clone();
        assert!(e("name;kind\n").contains("commas"));
        assert!(e("name,colour\n").contains("order_number"));
        assert!(e("name,low\n").contains("kind"));
        assert!(e("name,kind,name\n").contains("twice"));
        assert!(e("").contains("missing"));
    }
}
