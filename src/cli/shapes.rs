//! The shapes of the answers for programs: a JSON Schema each, kept in `assets/answers`, told in words by
//! `trimside manual json`. Knows no answer itself: tests hold every answer of the suite against these.

use serde_json::{Map, Value};
use std::fmt::Write;

/// Every answer by its name, and its schema. Of the keywords only type, properties, required, items and enum are used.
pub const ANSWERS: &[(&str, &str)] = &[
    ("yield", include_str!("../../assets/answers/yield.json")),
    ("yield held", include_str!("../../assets/answers/yield-held.json")),
    ("chart", include_str!("../../assets/answers/chart.json")),
    ("plan", include_str!("../../assets/answers/plan.json")),
    ("plan most", include_str!("../../assets/answers/plan-most.json")),
    ("plan bin", include_str!("../../assets/answers/plan-bin.json")),
    ("scrap", include_str!("../../assets/answers/scrap.json")),
    ("use up", include_str!("../../assets/answers/use-up.json")),
    ("today", include_str!("../../assets/answers/today.json")),
    ("strips", include_str!("../../assets/answers/strips.json")),
    ("mats", include_str!("../../assets/answers/mats.json")),
    ("mats file", include_str!("../../assets/answers/mats-file.json")),
    ("palette nearest", include_str!("../../assets/answers/palette-nearest.json")),
    ("palette trios", include_str!("../../assets/answers/palette-trios.json")),
    ("palette photo", include_str!("../../assets/answers/palette-photo.json")),
    ("palette picture", include_str!("../../assets/answers/palette-picture.json")),
    ("palette about, a swatch", include_str!("../../assets/answers/palette-about-a-swatch.json")),
    ("palette about, a paper", include_str!("../../assets/answers/palette-about-a-paper.json")),
    ("palette order", include_str!("../../assets/answers/palette-order.json")),
    ("stock list", include_str!("../../assets/answers/stock-list.json")),
    ("stock log", include_str!("../../assets/answers/stock-log.json")),
    ("stock line", include_str!("../../assets/answers/stock-line.json")),
    ("stock pack", include_str!("../../assets/answers/stock-pack.json")),
    ("stock reorder", include_str!("../../assets/answers/stock-reorder.json")),
    ("stock orders", include_str!("../../assets/answers/stock-orders.json")),
    ("stock class ways", include_str!("../../assets/answers/stock-class-ways.json")),
    ("stock import", include_str!("../../assets/answers/stock-import.json")),
    ("stock count", include_str!("../../assets/answers/stock-count.json")),
    ("stock refresh", include_str!("../../assets/answers/stock-refresh.json")),
    ("stock class list", include_str!("../../assets/answers/stock-class-list.json")),
    ("stock class show", include_str!("../../assets/answers/stock-class-show.json")),
    ("stock class done", include_str!("../../assets/answers/stock-class-done.json")),
    ("stock class kits", include_str!("../../assets/answers/stock-class-kits.json")),
    ("stock class names", include_str!("../../assets/answers/stock-class-names.json")),
    ("stock class calendar", include_str!("../../assets/answers/stock-class-calendar.json")),
    ("stock class year", include_str!("../../assets/answers/stock-class-year.json")),
    ("print", include_str!("../../assets/answers/print.json")),
    ("paths", include_str!("../../assets/answers/paths.json")),
    ("keep", include_str!("../../assets/answers/keep.json")),
    ("restore list", include_str!("../../assets/answers/restore-list.json")),
    ("restore", include_str!("../../assets/answers/restore.json")),
    ("project show", include_str!("../../assets/answers/project-show.json")),
    ("project done", include_str!("../../assets/answers/project-done.json")),
];

/// What holds for all of them.
const ALL: &str = "\
With --json an answer is one line of JSON (UTF-8) on standard output; --pretty indents it. Sentences beside it stay on
standard error. Lengths are numbers in the unit of the answer (\"unit\": \"in\" or \"mm\"), exact and not rounded to marks
unless it says so; weights are grams, thicknesses millimeters, shares 0 to 1, money in units of the currency, days
2027-01-31. Names are as they were given, also where they hold controls. What is not known is null. Fields are only
ever added, never renamed, removed or given another meaning: pass over those that you do not know. The schema of one is
printed by trimside manual \"json stock list\".
";

/// The schema of an answer, by its name.
pub fn schema(name: &str) -> Option<&'static str> {
    let of = |row: &&(&str, &str)| row.0.eq_ignore_ascii_case(name);
    ANSWERS.iter().find(of).map(|(_, schema)| *schema)
}

/// Every shape in words: a field a line, with its type and unit.
pub fn told() -> String {
    let mut out = ALL.to_owned();
    for (name, schema) in ANSWERS {
        let Ok(schema) = serde_json::from_str::<Value>(schema) else { continue };
        let words = schema.get("description").and_then(Value::as_str).unwrap_or_default();
        let _ = writeln!(out, "\n{name}: {words}");
        fields(&schema, 1, &mut out);
    }
    out
}

/// The fields of an object or of the things in a list, each with what is below it.
fn fields(schema: &Value, depth: usize, out: &mut String) {
    if let Some(items) = schema.get("items") {
        return fields(items, depth, out);
    }
    let none = Map::new();
    let required: Vec<&str> = schema
        .get("required")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    for (name, field) in schema.get("properties").and_then(Value::as_object).unwrap_or(&none) {
        let sometimes = if required.contains(&name.as_str()) { "" } else { "?" };
        let words = field.get("description").and_then(Value::as_str).unwrap_or_default();
        let _ = writeln!(
            out,
            "{}{name}{sometimes}  {}: {words}{}",
            "  ".repeat(depth),
            kind(field),
            choices(field)
        );
        fields(field, depth + 1, out);
    }
}

/// `text`, `list of numbers`, `length`, `whole number or null`.
fn kind(field: &Value) -> String {
    let words = |word: &str| match word {
        "string" => "text".to_owned(),
        "integer" => "whole number".to_owned(),
        "boolean" => "true or false".to_owned(),
        "array" => {
            let of = field.get("items").map(kind).unwrap_or_default();
            format!("list of {of}")
        }
        other => other.to_owned(),
    };
    match field.get("type") {
        Some(Value::String(one)) => words(one),
        Some(Value::Array(several)) => {
            let all: Vec<String> = several.iter().filter_map(Value::as_str).map(words).collect();
            all.join(" or ")
        }
        _ => String::new(),
    }
}

/// ` (one of in, mm)`
fn choices(field: &Value) -> String {
    let all: Vec<&str> =
        field.get("enum").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str).collect();
    if all.is_empty() { String::new() } else { format!(" (one of {})", all.join(", ")) }
}

#[cfg(test)]
#[path = "../../tests/cli/validator.rs"]
mod validator;

#[cfg(test)]
pub(super) mod tests {
    use super::validator::findings;
    use super::*;

    /// Asks of every answer that a test beside the code sees: it has a schema.
    pub(in crate::cli) fn fits_one(answer: &Value) {
        let fits = |schema: &str| findings(&serde_json::from_str(schema).unwrap(), answer).is_empty();
        assert!(ANSWERS.iter().any(|(_, schema)| fits(schema)), "no schema tells of {answer}");
    }

    #[test]
    fn every_field_has_words_and_a_type() {
        for line in told().lines().filter(|l| l.starts_with("  ")) {
            let (_, rest) = line.trim_start().split_once("  ").unwrap();
            let (kind, words) = rest.split_once(": ").unwrap();
            assert!(!kind.is_empty() && !words.is_empty(), "{line}");
        }
    }
}
