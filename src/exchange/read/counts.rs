//! Counts of a count day from CSV: which line of the shelf, and how many there really are. What the shelf says is not
//! known here.
//!
//! The first line names the columns, in any order: `name` (a name or an order number) and `count`. Other columns are left
//! alone, so that an exported shelf with a column of counts will do.

use super::stock::{Lines, start_of, unreadable};
use super::table_text::{self, MOST_LINES};
use crate::domain::stock::import::BadLine;
use crate::exchange::cells::unshield;

/// A counted line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountedLine {
    /// Where it stands in the file, from 1.
    pub line: u64,
    /// Name or order number.
    pub name: String,
    /// How many there are.
    pub count: u32,
}

/// The counts of a list. A line with an empty count was not counted and is passed over.
///
/// # Errors
/// Every line that cannot be read, with its number, the first line for a header that will not do.
pub fn counts(bytes: &[u8]) -> Result<Vec<CountedLine>, Vec<BadLine>> {
    let bytes = table_text::checked(bytes).map_err(|(line, why)| vec![BadLine { line, why }])?;
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(bytes);
    let header = reader.byte_headers().map_err(|e| vec![unreadable(&e)])?;
    let column = |wanted: &str| {
        let at = header.iter().position(|c| String::from_utf8_lossy(c).trim().to_lowercase() == wanted);
        at.ok_or_else(|| {
            let why =
                format!("the column \"{wanted}\" is missing: the first line names name and count at least");
            vec![BadLine { line: 1, why }]
        })
    };
    let (name, count) = (column("name")?, column("count")?);
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
                match row(&record, name, count, line) {
                    Ok(Some(row)) => rows.push(row),
                    Ok(None) => {}
                    Err(why) => bad.push(BadLine { line, why }),
                }
            }
            Err(e) => {
                bad.push(unreadable(&e));
                break;
            }
        }
    }
    if bad.is_empty() { Ok(rows) } else { Err(bad) }
}

fn row(
    record: &csv::ByteRecord,
    name: usize,
    count: usize,
    line: u64,
) -> Result<Option<CountedLine>, String> {
    let cell = |at: usize, what: &str| {
        let bytes = record.get(at).unwrap_or_default();
        std::str::from_utf8(bytes)
            .map(|t| unshield(t).trim())
            .map_err(|_| format!("its {what} is not UTF-8 text"))
    };
    let (name, text) = (cell(name, "name")?, cell(count, "count")?);
    if text.is_empty() {
        return Ok(None);
    }
    let count = text.parse().map_err(|_| {
        format!("its count \"{}\" will not do: write a whole number of 0 or more", start_of(text))
    })?;
    Ok(Some(CountedLine { line, name: name.to_owned(), count }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_counts_and_names_bad_lines() {
        let rows = counts(b"place,Name,count\nshelf,fern,12\nshelf,moss,\nshelf,F-2,0\n").unwrap();
        assert_eq!(rows.iter().map(|r| (r.line, r.count)).collect::<Vec<_>>(), [(2, 12), (4, 0)]);
        let bad = counts(b"name,count\nfern,x\nmoss,-1\n").unwrap_err();
        assert_eq!(bad.iter().map(|b| b.line).collect::<Vec<_>>(), [2, 3]);
        assert!(counts(b"name,number\n").unwrap_err()[0].why.contains("count"));
    }
}
