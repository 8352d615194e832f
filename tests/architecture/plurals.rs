//! Counted nouns: a sentence never says "1 sheets". What counts goes through `domain/plural.rs`, or stands in a branch that
//! knows that there are more.

use super::source::texts;

/// What the program counts.
#[rustfmt::skip]
const NOUNS: &[&str] = &[
    "sheets", "pieces", "layers", "seats", "lines", "cards", "steps", "trios", "swatches", "colours", "colors", "offcuts",
    "settings", "strokes", "cuts", "days", "pages", "labels", "copies", "envelopes", "papers", "projects", "samples", "mats",
    "folds", "scores", "rows", "kinds", "packs", "items", "months", "layouts", "files", "panels", "parts", "changes", "sizes",
    "designs", "matches", "bookings", "orders", "classes", "cells", "columns", "kits", "reveals", "minutes", "weeks",
];

/// Signs that one is told apart on the line itself, or that a limit far above one is named.
const KNOWS: [&str; 7] = ["== 1", "> 1", "n => ", "n > 0 => ", "n) => ", "{MOST", "{KEPT"];

/// Lines that count what is never one, by a part of each, with the reason.
const NEVER_ONE: &[(&str, &str)] = &[
    ("in {MONTHS} months", "a year"),
    ("of {} sizes were not searched", "all sizes of a chart"),
    ("{n} sheets a stroke.", "said of stacks only"),
    ("names {} swatches; say which", "one would have been found"),
    ("pages and a drawing holds one", "one would have been drawn"),
    ("means {count} items", "one would have been found"),
    ("{cards} cards need more pieces", "more than can be counted"),
    ("the chart has {values} sizes", "more than the most"),
    ("more than {most} rows", "a limit"),
    ("{} x {} cells", "the least size of a window"),
    ("MANY_SEATS).map(|n|", "many seats"),
    ("format!(\"{all} pieces\")", "more than the most"),
    ("{0} kits are more than", "more than the most"),
    ("{} sheets a stroke\"", "said of stacks only"),
    ("{} trios\", s.name()", "the name of a scheme, no count"),
];

fn findings(name: &str, text: &str) -> Vec<String> {
    let shown = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = shown.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//"));
    lines
        .filter(|(_, line)| counts(line))
        .filter(|(_, line)| !KNOWS.iter().any(|sign| line.contains(sign)))
        .filter(|(_, line)| !NEVER_ONE.iter().any(|(part, _)| line.contains(part)))
        .map(|(n, line)| format!("{name}:{}: {}", n + 1, line.trim()))
        .collect()
}

/// Whether a figure put into a text has a noun in the plural right behind it.
fn counts(line: &str) -> bool {
    line.split("} ").skip(1).any(|after| {
        let word: String = after.chars().take_while(char::is_ascii_lowercase).collect();
        NOUNS.contains(&word.as_str())
    })
}

#[test]
fn a_count_of_one_is_said_in_the_singular() {
    let mut sources = texts();
    sources
        .retain(|(name, _)| name.starts_with("src/") && name.ends_with(".rs") && !name.ends_with("tests.rs"));
    let all: Vec<String> = sources.iter().flat_map(|(name, text)| findings(name, text)).collect();
    super::none("a count that can be one stands before a plural: use plural::count_of", &all);
    for (part, why) in NEVER_ONE {
        assert!(!why.is_empty() && sources.iter().any(|(_, text)| text.contains(part)), "\"{part}\" is gone");
    }
}

#[test]
fn a_bad_sentence_would_be_found() {
    assert_eq!(findings("x", "say(format!(\"{n} sheets are left\"));").len(), 1);
    assert_eq!(findings("x", "if n == 1 { one } else { format!(\"{n} sheets\") }").len(), 0);
    assert_eq!(findings("x", "// {n} sheets").len(), 0);
}
