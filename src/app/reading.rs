//! Lengths and sizes as they are typed: reading them, and reading them back in both units with the nearest marks.

use crate::domain::cards::tools::{Reading, Tool, Tools};
use crate::domain::length::{Length, Unit};
use crate::domain::reckon;
use crate::domain::size::Size;

/// Reads a length, or a sum of lengths.
///
/// # Errors
/// The sentence that refuses it.
pub fn read_length(text: &str, unit: Unit) -> Result<Length, String> {
    reckon::length(text, unit).map(|r| r.value).map_err(|e| e.to_string())
}

/// How a length is read: in both units, with the nearest mark of the rule where it is on none.
///
/// # Errors
/// The sentence that refuses it.
pub fn length_words(text: &str, unit: Unit) -> Result<String, String> {
    let length = read_length(text, unit)?;
    Ok(format!("{}{}", length.show_both(unit), nearest_mark(&[length], unit)))
}

/// How a size is read: in both units, with the nearest marks of the rule.
///
/// # Errors
/// The sentence that refuses it.
pub fn size_words(text: &str, unit: Unit) -> Result<String, String> {
    Ok(sides_words(reckon::size(text, unit)?, unit))
}

/// A size in both units, with the nearest marks of the rule where a side is on none.
pub fn sides_words(size: Size, unit: Unit) -> String {
    let both = format!("{} = {}", size.show_with_unit(unit), size.about(unit.other()));
    format!("{both}{}", nearest_mark(&[size.width, size.height], unit))
}

/// The nearest marks of the rule and how far off they are; nothing where every length is on a mark.
pub fn nearest_mark(lengths: &[Length], unit: Unit) -> String {
    let readings: Vec<Reading> = lengths.iter().map(|l| Tools::usual(unit).reading(Tool::Rule, *l)).collect();
    if readings.iter().all(Reading::is_exact) {
        return String::new();
    }
    let off = |r: &Reading| {
        let way = if r.nearest.error.is_positive() { "more" } else { "less" };
        let error = r.nearest.error.abs();
        match unit {
            Unit::Inch => format!("{:.4} in {way}", error.in_unit(unit)),
            Unit::Mm => format!("{} {way}", error.show_with_unit(unit)),
        }
    };
    let covers: Vec<String> = readings.iter().map(|r| r.above.show(unit)).collect();
    let marks: Vec<String> = readings.iter().map(|r| r.nearest.value.show(unit)).collect();
    let errors: Vec<String> = readings.iter().filter(|r| !r.is_exact()).map(off).collect();
    let word = if marks.len() == 1 { "mark" } else { "marks" };
    let nearest = format!("; nearest {word} {}, {}", marks.join(" x "), errors.join(" and "));
    if covers == marks { nearest } else { format!("{nearest}; at least this size: {}", covers.join(" x ")) }
}

/// Four sides in words.
pub fn sides(sides: &[Length; 4], unit: Unit) -> String {
    let names = ["left", "top", "right", "bottom"];
    let all: Vec<String> = names.iter().zip(sides).map(|(n, l)| format!("{n} {}", l.about(unit))).collect();
    format!("{} {}", all.join(", "), unit.sign())
}
