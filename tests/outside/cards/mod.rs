//! Cards, folds, envelopes, post and constructions against published figures and figures worked by hand.
//!
//! Fractions are read here by a reader of its own, in 64ths and in decimals, so that a slip in the crate's reader or in its
//! lengths cannot hide behind itself.

mod cautions;
mod constructions;
mod demo;
mod envelopes;
mod folds;
mod layers;
mod limits;
mod papers;
mod post;
mod ruler;
mod tasks;
mod whole_card;

use std::collections::BTreeMap;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;

/// One line of a reference table by column name.
pub struct Row(BTreeMap<String, String>);

impl Row {
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub fn number(&self, column: &str) -> f64 {
        inches(self.text(column))
    }
}

/// The rows of `trade/NAME`, or none where the reference data is not at hand.
pub fn rows(name: &str) -> Option<Vec<Row>> {
    let text = crate::outside::reference(&format!("trade/{name}"))?;
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().unwrap().clone();
    let rows: Vec<Row> = reader
        .records()
        .map(|record| {
            Row(head.iter().map(String::from).zip(record.unwrap().iter().map(String::from)).collect())
        })
        .collect();
    assert!(!rows.is_empty(), "{name} has rows");
    Some(rows)
}

/// `5 1/4`, `1/8`, `7.25`, `12` as a decimal.
pub fn inches(text: &str) -> f64 {
    text.split_whitespace()
        .map(|part| match part.split_once('/') {
            Some((over, under)) => over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
            None => part.parse::<f64>().unwrap_or_else(|_| panic!("{text}: {part}")),
        })
        .sum()
}

/// `4 1/4 x 5 1/2` as two decimals.
pub fn pair(text: &str) -> (f64, f64) {
    let (w, h) = text.split_once(" x ").unwrap_or_else(|| panic!("{text}"));
    (inches(w), inches(h))
}

/// A length from decimal inches that lie on a 64th.
pub fn len(inches: f64) -> Length {
    let sixty_fourths = inches * 64.0;
    assert_eq!(sixty_fourths.fract(), 0.0, "{inches} is no 64th");
    Length::sixty_fourths(sixty_fourths as i64)
}

/// A size from two decimals.
pub fn size(of: (f64, f64)) -> Size {
    Size::new(len(of.0), len(of.1))
}

pub fn decimal(length: Length) -> f64 {
    length.in_unit(Unit::Inch)
}
