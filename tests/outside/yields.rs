//! Yields of one size against proved optima and a worked table.

use super::reference;
use trimside::domain::cutting::one_size::{SheetYield, answer};
use trimside::domain::cutting::question::Question;
use trimside::domain::length::{Length, Unit};
use trimside::domain::sheet::{Formats, Sheet, parse_sheet};
use trimside::domain::size::Size;

pub fn sheet(name: &str) -> Sheet {
    parse_sheet(name, Unit::Inch, &Formats::built_in()).unwrap()
}

fn ask(sheet_name: &str, piece: &str) -> SheetYield {
    answer(&Question::new(Size::parse(piece, Unit::Inch).unwrap(), sheet(sheet_name)))
}

/// All-one-way counts known at every craft table; common practice, no source.
#[test]
fn counts_of_common_practice() {
    let two_by_three = ask("letter", "2x3");
    assert_eq!((two_by_three.upright, two_by_three.turned), (12, 10));
    assert_eq!(ask("12x12", "2.5x3.5").upright, 12);
    assert_eq!(ask("letter", "4.25x5.5").best, 4);
}

/// Edge-to-edge optima, computed and proved (yield_cases.json holds their proofs).
#[test]
fn optima_of_well_known_sizes() {
    for (sheet, piece, best) in [
        ("letter", "2x3", 14),
        ("letter", "3.5x5", 5),
        ("12x12", "1x5", 28),
        ("12x12", "2.5x3.5", 14),
        ("12x12", "5x7", 3),
    ] {
        let a = ask(sheet, piece);
        assert_eq!((a.best, a.bound, a.proved), (best, best, true), "{piece} from {sheet}");
        assert_eq!(a.layout.pieces.len(), best as usize);
    }
}

/// Units of yield_cases.json: sixteenths, millimetres, or plain numbers taken as millimetres.
pub fn length(units: i64, unit: &str) -> Length {
    if unit == "1/16 in" { Length::sixteenths(units) } else { Length::mm(units) }
}

/// The 84 pairs of sheet and piece whose optima were proved by bounds and a constraint solver.
#[test]
fn proved_cases() {
    let Some(text) = reference("cutting/yield_cases.json") else { return };
    let cases: serde_json::Value = serde_json::from_str(&text).unwrap();
    let cases = cases.as_array().unwrap();
    assert_eq!(cases.len(), 84);
    for case in cases {
        let unit = case["unit"].as_str().unwrap();
        let size = |key: &str| {
            let side = |i: usize| length(case[key][i].as_i64().unwrap(), unit);
            Size::new(side(0), side(1))
        };
        let mut question = Question::new(size("piece_units"), Sheet::new("case", size("sheet_units")));
        question.may_turn = case["rotate"].as_bool().unwrap();
        let a = answer(&question);
        let want = case["optimum_guillotine"].as_u64().unwrap();
        assert_eq!(u64::from(a.best), want, "{case}");
        assert!(a.proved);
        assert_eq!(a.layout.pieces.len() as u64, want);
    }
}

/// The worked table of sheets and pieces (computed with another program).
#[test]
fn worked_table() {
    let Some(text) = reference("trade/yields.csv") else { return };
    let mut rows = 0;
    // Of the sizes that a sheet gives at all: how many, and how many of them gain by mixing both directions.
    let mut gains = std::collections::BTreeMap::<String, (u32, u32)>::new();
    for row in csv::Reader::from_reader(text.as_bytes()).records() {
        let row = row.unwrap();
        let number = |i: usize| row[i].parse::<u32>().unwrap();
        let a = ask(&row[0], &format!("{}x{}", &row[2], &row[3]));
        assert_eq!((a.upright, a.turned, a.best), (number(4), number(5), number(6)), "{row:?}");
        rows += 1;
        if a.best > 0 {
            let (more, all) = gains.entry(row[0].to_owned()).or_default();
            *more += u32::from(a.best > a.upright.max(a.turned));
            *all += 1;
        }
    }
    assert!(rows > 100, "{rows} rows");
    // What the README says of them.
    let sum = gains.values().fold((0, 0), |sum, of| (sum.0 + of.0, sum.1 + of.1));
    assert_eq!((sum, gains["letter"], gains["12x12"]), ((32, 134), (5, 21), (6, 22)));
    let readme = include_str!("../../README.md").split_whitespace().collect::<Vec<_>>().join(" ");
    let claim =
        "on about a quarter of the sizes that crafters cut (from letter 5 of 21, from 12 x 12 6 of 22;";
    assert!(readme.contains(claim));
}

/// Craft retailers' cutting tips: papers an inch wide or less are hard to hold, less than 1/8 in is hard to shave off
/// (`trade/trimmer_practice.csv`). At the inch the step warns, a 64th over it not; at 1/8 in the shave is clean.
#[test]
fn narrow_strips_and_thin_shaves() {
    use trimside::domain::cutting::question::{Question, Trimmer};
    use trimside::domain::cutting::step::Warning;
    use trimside::domain::cutting::{one_size, words};
    if let Some(table) = reference("trade/trimmer_practice.csv") {
        assert!(
            table
                .contains("hard to hold or cut papers an inch wide or less; hard to shave off less than 1/8")
        );
    }
    let size = |text: &str| Size::parse(text, Unit::Inch).unwrap();
    let warned = |piece: &str, sheet: &str, is: fn(&Warning) -> bool| {
        let question = Question::new(size(piece), Sheet::new("sheet".to_owned(), size(sheet)));
        one_size::answer(&question).steps.iter().flat_map(|s| &s.warnings).any(is)
    };
    let narrow = |w: &Warning| matches!(w, Warning::NarrowHold { .. });
    let shave = |w: &Warning| matches!(w, Warning::Shave { .. });
    for (piece, said) in [("63/64x6", true), ("1x6", true), ("1-1/64x6", false)] {
        assert_eq!(warned(piece, "3x6", narrow), said, "{piece}");
        let question = Question::new(size(piece), Sheet::new("sheet".to_owned(), size("3x6")));
        let notes = words::notes(&one_size::answer(&question), &question.trimmer, Unit::Inch);
        assert_eq!(notes.iter().any(|n| n.contains("hard to hold")), said, "{piece}");
    }
    for (sheet, said) in [("4-7/64x6", true), ("4-1/8x6", false)] {
        assert_eq!(warned("4x6", sheet, shave), said, "{sheet}");
    }
    // A person's own trimmer holds narrower strips.
    let own = Trimmer { smallest_strip: Length::sixteenths(8), ..Trimmer::default() };
    assert_eq!((own.is_narrow(Length::sixteenths(8)), own.is_narrow(Length::sixteenths(9))), (true, false));
}
