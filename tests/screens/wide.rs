//! The demo as it is opened, in windows of four sizes, and how much of a wide window each view uses.
//!
//! `TRIMSIDE_WRITE_CELLS=1` writes the table of DEVELOPERS.md.

use super::harness::Bench;
use std::path::PathBuf;

/// The sizes that are looked at.
pub const SIZES: [(u16, u16); 4] = [(80, 24), (120, 36), (160, 50), (200, 60)];

/// Name and keys of each view, from the page of the day.
const VIEWS: &[(&str, &str)] = &[
    ("today", ""),
    ("yield", "1 p '4-1/8x5-3/8' Enter c '40' Enter s 'fern' Enter"),
    ("shelf", "4"),
    ("offcuts", "4 ]"),
    ("log", "4 ] ]"),
    ("reorder", "4 ] ] ]"),
];

/// Further views whose share is told beside these.
const OTHERS: &[(&str, &str)] = &[
    ("chart", "1 v"),
    ("plan", "1 V"),
    ("mats", "2"),
    ("drawing", "2 v"),
    ("made", "2 z m"),
    ("palette", "3"),
    ("classes", "4 [ [ j"),
    ("class", "4 [ [ j Enter"),
    ("bookings", "4 ["),
    ("history", "4 j j j ;"),
    ("papers", "1 z p"),
    ("near sizes", "1 z n"),
    ("scrap", "1 z g Ctrl-u '4x6' Enter"),
];

/// Shares before a wide window was made use of, in percent at 160 x 50 and 200 x 60, where they were measured.
const BEFORE: &[(&str, u32, u32)] = &[
    ("yield", 43, 34),
    ("mats", 35, 28),
    ("palette", 26, 17),
    ("shelf", 54, 36),
    ("class", 11, 11),
    ("bookings", 1, 1),
];

/// The least share of these views, in percent.
const LEAST: [(&str, u32, u32); 19] = [
    ("today", 55, 45),
    ("yield", 55, 45),
    ("shelf", 55, 45),
    ("offcuts", 55, 45),
    ("reorder", 55, 45),
    ("bookings", 55, 45),
    ("history", 55, 45),
    ("log", 55, 45),
    ("chart", 55, 45),
    ("classes", 55, 45),
    ("class", 55, 45),
    ("papers", 55, 45),
    ("mats", 55, 45),
    ("drawing", 55, 45),
    ("made", 55, 45),
    ("palette", 55, 45),
    ("plan", 55, 45),
    ("near sizes", 55, 45),
    ("scrap", 55, 45),
];

/// The names of the pictures that are kept.
pub fn names() -> impl Iterator<Item = String> {
    VIEWS.iter().flat_map(|(name, _)| SIZES.map(|(w, h)| format!("demo_{name}_{w}x{h}")))
}

fn at(keys: &str, (width, _): (u16, u16)) -> Bench {
    let mut bench = Bench::opened();
    bench.act(trimside::app::action::Action::Room(width));
    bench.keys(keys)
}

#[test]
fn pictures_of_the_demo() {
    for (name, keys) in VIEWS {
        for size in SIZES {
            super::compare(
                &format!("demo_{name}_{}x{}", size.0, size.1),
                &at(keys, size).text(size.0, size.1),
            );
        }
    }
}

/// The share of a screen's cells that lie within four columns, in the same row, of something drawn, in percent. Header, hints,
/// and rows that hold a rule alone are left out.
fn used(text: &str) -> u32 {
    let mut rows: Vec<Vec<char>> = text
        .lines()
        .filter(|l| !l.starts_with("cursor ") && *l != "no cursor")
        .map(|l| l.trim_end().chars().collect())
        .collect();
    while rows.last().is_some_and(Vec::is_empty) {
        rows.pop();
    }
    let width = rows.iter().map(Vec::len).max().unwrap_or(0);
    let is_rule = |row: &Vec<char>| {
        let ink: Vec<&char> = row.iter().filter(|c| **c != ' ').collect();
        !ink.is_empty() && ink.iter().all(|c| "─━-=·".contains(**c))
    };
    let last = rows.len().saturating_sub(1);
    let body: Vec<&Vec<char>> = rows[1..last].iter().filter(|r| !is_rule(r)).collect();
    let full: usize = body
        .iter()
        .map(|row| {
            let is_ink = |x: usize| row.get(x).is_some_and(|c| *c != ' ');
            (0..width).filter(|x| (x.saturating_sub(4)..=x + 4).any(is_ink)).count()
        })
        .sum();
    (100 * full / (width * body.len()).max(1)) as u32
}

fn shares() -> Vec<(&'static str, [u32; 2])> {
    let of = |keys: &str, size: (u16, u16)| used(&at(keys, size).text(size.0, size.1));
    VIEWS.iter().chain(OTHERS).map(|(name, keys)| (*name, [of(keys, SIZES[2]), of(keys, SIZES[3])])).collect()
}

#[test]
fn a_wide_window_is_made_use_of() {
    let shares = shares();
    for (name, at_160, at_200) in LEAST {
        let (_, now) = shares.iter().find(|(n, _)| *n == name).unwrap();
        assert!(
            now[0] >= at_160 && now[1] >= at_200,
            "{name}: {now:?} percent, wanted {at_160} and {at_200}"
        );
    }
    if std::env::var_os("TRIMSIDE_WRITE_CELLS").is_none() {
        return;
    }
    let mut table =
        String::from("| view | 160 x 50, before | now | 200 x 60, before | now |\n|---|---|---|---|---|\n");
    for (name, now) in shares {
        let before = BEFORE.iter().find(|(n, ..)| *n == name);
        let told = |n: Option<u32>| n.map_or_else(|| "-".to_owned(), |n| format!("{n} %"));
        let (a, b) = (told(before.map(|b| b.1)), told(before.map(|b| b.2)));
        table.push_str(&format!("| {name} | {a} | {} % | {b} | {} % |\n", now[0], now[1]));
    }
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let text = std::fs::read_to_string(&path).unwrap();
    let (head, rest) = text.split_once("<!-- cells -->\n").unwrap();
    let (_, tail) = rest.split_once("<!-- /cells -->").unwrap();
    std::fs::write(&path, format!("{head}<!-- cells -->\n{table}<!-- /cells -->{tail}")).unwrap();
}

#[test]
fn beside_the_panel_stand_all_steps_of_the_run_and_the_whole_sheet() {
    let mut bench = at("1 b y", SIZES[3]);
    let steps: Vec<_> = bench.model.yields.run.as_ref().unwrap().sheets[0].steps.clone();
    let (narrow, wide) = (bench.text(SIZES[0].0, SIZES[0].1), bench.text(SIZES[2].0, SIZES[2].1));
    assert!(!narrow.contains("the whole sheet") && wide.contains("the whole sheet"), "{wide}");
    let unit = bench.model.screen.unit;
    for (n, step) in steps.iter().enumerate() {
        let parts = [
            (n + 1).to_string(),
            step.fence.show_with_unit(unit),
            format!("{} of", step.panels),
            step.from.about(unit),
            step.strokes.to_string(),
        ];
        let is_told = wide.lines().any(|line| {
            let words: Vec<&str> = line.split([' ', '▌']).filter(|word| !word.is_empty()).collect();
            let wanted: Vec<&str> = parts.iter().flat_map(|part| part.split_whitespace()).collect();
            words.ends_with(&wanted)
        });
        assert!(is_told, "step {}: {parts:?}\n{wide}", n + 1);
    }
    bench.press("Enter");
    let next = bench.text(SIZES[3].0, SIZES[3].1);
    assert!(next.contains("1 done") && !next.contains("2 done"), "{next}");
}

#[test]
fn below_the_fields_of_a_line_stands_what_is_cut_from_it() {
    let mut bench = at("4 / 'moss pool' Enter Enter", SIZES[3]);
    let text = bench.text(SIZES[3].0, SIZES[3].1);
    let told = |text: &str, words: &[&str]| text.lines().any(|l| words.iter().all(|w| l.contains(w)));
    assert!(told(&text, &["bramble note, mat 1", "4 x 5 1/4 in", "17", "Hedgerow notes, class"]), "{text}");
    assert!(told(&text, &["2026-11-19", "-7", "used", "wreath cards", "54"]), "{text}");
    bench.press("Esc / Ctrl-u 'fern floor' Enter Enter");
    let text = bench.text(SIZES[3].0, SIZES[3].1);
    assert!(told(&text, &["4 x 11 in", "3", "0"]) && text.contains("its offcuts"), "{text}");
}

#[test]
fn the_cursor_stands_before_words_not_on_them() {
    for keys in ["2 v v v Enter", "1 b y", "1 b y Enter"] {
        for (width, height) in SIZES {
            let (cells, cursor) = at(keys, (width, height)).draw(width, height);
            let spot = cursor.unwrap_or_else(|| panic!("{keys} {width}x{height}: no cursor"));
            assert!(
                [" ", "▌"].contains(&cells[spot].symbol()),
                "{keys} {width}x{height}: {}",
                cells[spot].symbol()
            );
        }
    }
}

/// Columns and half rows of what is painted right over these words.
fn painted_over(text: &str, words: &str) -> (usize, usize) {
    let rows: Vec<Vec<char>> = text.lines().map(|line| line.chars().collect()).collect();
    let wanted: Vec<char> = words.chars().collect();
    let ink = |x: usize, y: usize| rows[y].get(x).copied().filter(|c| "█▀▄".contains(*c));
    let found = rows.iter().enumerate().rev().find_map(|(y, row)| {
        let x = row.windows(wanted.len()).position(|part| part == wanted)?;
        ink(x, y.checked_sub(1)?).map(|_| (x, y - 1))
    });
    let (x, foot) = found.unwrap_or_else(|| panic!("nothing is painted over {words}:\n{text}"));
    // A score runs down its middle.
    let columns =
        (x..rows[foot].len()).take_while(|x| ink(*x, foot).is_some() || "┃╹".contains(rows[foot][*x]));
    let halves = (0..=foot).rev().map_while(|y| ink(x, y)).map(|c| if c == '▄' { 1 } else { 2 });
    (columns.count(), halves.sum())
}

#[test]
fn beside_the_large_card_lie_its_parts_to_one_scale_with_what_sheets_give() {
    for size in [SIZES[2], SIZES[3]] {
        let text = at("2 v", size).text(size.0, size.1);
        let parts = [("base ", 136, 88), ("mat 1", 64, 84), ("mat 2", 62, 82)];
        let drawn = parts.map(|(name, ..)| painted_over(&text, name));
        let scale = drawn[0].0 as f64 / 136.0;
        // Half a row is as high as a column is wide.
        for ((name, width, height), (columns, halves)) in parts.into_iter().zip(drawn) {
            let (wide, high) = (f64::from(width) * scale, f64::from(height) * scale);
            assert!((columns as f64 - wide).abs() <= 0.75, "{name}: {columns} columns of {wide}\n{text}");
            assert!((halves as f64 - high).abs() <= 0.75, "{name}: {halves} half rows of {high}\n{text}");
        }
        for words in ["3 7/8 x 5 1/8 in", "~98.43 x ~130.18 mm", "moss pool, letter", "A sheet gives"] {
            assert!(text.contains(words), "{words}\n{text}");
        }
    }
    let facts = trimside::app::facts::facts(&at("2 v", SIZES[2]).model);
    assert!(facts.iter().any(|f| f.text.contains("mat 1 4 x 5 1/4: 4 of moss pool, letter")), "{facts:?}");
}

/// A card of 4 1/4 x 5 1/2: the insert is 1/4 in smaller than the base of 8 1/2 and folds in its middle, at 4 1/8; the square
/// for an inside of 4 1/2 x 5 3/4 has a side of 7 1/2.
#[test]
fn below_each_thing_that_can_be_made_stands_how() {
    let how = [
        ("insert sheet", vec!["cut 8 1/4 x 5 1/4 in", "score at 4 1/8 in along the width"]),
        ("envelope from a square", vec!["cut 7 1/2 x 7 1/2 in", "fold the side flaps first"]),
        ("straight envelope", vec!["tab 3/4 in", "flap 1 13/16 in", "fold the tabs in"]),
    ];
    let bench = at("2 z m", SIZES[3]);
    let text = bench.text(SIZES[3].0, SIZES[3].1);
    let flat = trimside::app::facts::facts(&bench.model);
    for (kind, steps) in how {
        let fact = flat.iter().find(|f| f.label == kind).unwrap_or_else(|| panic!("{kind}: {flat:?}"));
        for step in steps {
            assert!(fact.text.contains(step), "{kind}: {step} in {}", fact.text);
            // Its first words at least stand in one line.
            let first: Vec<&str> = step.split(' ').take(3).collect();
            assert!(text.contains(&first.join(" ")), "{kind}: {step}\n{text}");
        }
    }
    assert!(
        at("2 z m A 'liner' Enter Enter", SIZES[3]).text(SIZES[3].0, SIZES[3].1).contains("A sheet gives")
    );
}
