//! Colour against published equations, test pairs and tables.

mod choosing;
mod difference;
mod liked;
mod naming;
mod seeing;
mod spaces;

use std::collections::BTreeMap;
use trimside::domain::colour::space::{Lab, Rgb8};
use trimside::domain::colour::swatch::Swatch;

/// One line of a reference table by column name.
pub struct Row(BTreeMap<String, String>);

impl Row {
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{column}: {text}"))
    }

    pub fn hex(&self, column: &str) -> Rgb8 {
        hex(self.text(column))
    }

    pub fn lab(&self, l: &str, a: &str, b: &str) -> Lab {
        Lab::new(self.number(l), self.number(a), self.number(b))
    }
}

/// The rows of `colour/NAME`, or none where the reference data is not at hand.
pub fn rows(name: &str) -> Option<Vec<Row>> {
    let text = crate::outside::reference(&format!("colour/{name}"))?;
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().unwrap().clone();
    let rows = reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            Row(head.iter().map(String::from).zip(record.iter().map(String::from)).collect())
        })
        .collect();
    Some(rows)
}

/// The JSON of `colour/NAME`, or none.
pub fn json(name: &str) -> Option<serde_json::Value> {
    let text = crate::outside::reference(&format!("colour/{name}"))?;
    Some(serde_json::from_str(&text).unwrap())
}

/// The sixty swatches of the reference, by id.
pub fn sixty() -> Option<Vec<Swatch>> {
    let rows = rows("swatches_60.csv")?;
    let swatch = |row: &Row| Swatch::measured("", "", row.lab("L", "a", "b")).with_id(row.text("id"));
    Some(rows.iter().map(swatch).collect())
}

/// `#rrggbb` read without the code under test.
pub fn hex(text: &str) -> Rgb8 {
    let value = u32::from_str_radix(text.trim_start_matches('#'), 16).unwrap();
    Rgb8::new((value >> 16) as u8, (value >> 8) as u8, value as u8)
}

/// Fails with both numbers where they are further apart than `margin`.
#[track_caller]
pub fn close(what: &str, got: f64, want: f64, margin: f64) {
    assert!((got - want).abs() <= margin, "{what}: got {got}, wanted {want}");
}
