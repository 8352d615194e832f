//! Envelopes and formats against trade size charts and ISO 269, as tabled; ISO 216 by its halving rule.

use super::{decimal, len, rows};
use trimside::domain::cards::Tools;
use trimside::domain::cards::envelope::{EASE, all, find, fit};
use trimside::domain::cards::fold::{Fold, base};
use trimside::domain::cards::format::{self, iso_a, iso_b, iso_c};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;

/// The card and envelope of a row: inches as tabled, or millimetres for the ISO rows.
pub fn of_row(row: &super::Row) -> (Size, Size) {
    if row.text("clearance_h").ends_with("mm") {
        let mm = |column: &str| Length::mm(row.text(column).parse().unwrap());
        (Size::new(mm("card_w_mm"), mm("card_h_mm")), Size::new(mm("env_h_mm"), mm("env_l_mm")))
    } else {
        let inch = |column: &str| len(row.number(column));
        (Size::new(inch("card_w_in"), inch("card_h_in")), Size::new(inch("env_h_in"), inch("env_l_in")))
    }
}

#[test]
fn clearances_of_the_card_table() {
    let Some(rows) = rows("cards_envelopes.csv") else { return };
    for row in rows {
        let (face, outside) = of_row(&row);
        let envelope = all().iter().find(|e| e.outside == outside).unwrap_or_else(|| panic!("{outside}"));
        let f = fit(face, Thickness::ZERO, EASE, envelope);
        let text = |l: Length, column: &str| {
            let wanted = row.text(column);
            match wanted.strip_suffix(" mm") {
                Some(mm) => assert_eq!(l, Length::mm(mm.parse().unwrap()), "{}", row.text("name")),
                None => assert_eq!(decimal(l), row.number(column), "{}", row.text("name")),
            }
        };
        text(f.clearance_width, "clearance_h");
        text(f.clearance_height, "clearance_l");
        assert!(f.fits, "{}", row.text("name"));
        let turned = fit(face.turned(), Thickness::ZERO, EASE, envelope);
        assert_eq!(
            (turned.clearance_height, turned.clearance_width),
            (f.clearance_width, f.clearance_height)
        );
    }
}

#[test]
fn iso_envelopes_of_the_table() {
    let Some(rows) = rows("iso_envelopes.csv") else { return };
    for row in rows {
        let e = find(row.text("name"), Unit::Mm).unwrap();
        let mm = |column: &str| Length::mm(row.text(column).parse().unwrap());
        assert_eq!(e.outside, Size::new(mm("height_mm"), mm("length_mm")), "{}", row.text("name"));
    }
}

/// ISO 216:2007 and ISO 269 by halving, against the sizes they print.
#[test]
fn the_halving_rule() {
    let Some(rows) = rows("sheets.csv") else { return };
    let mut seen = 0;
    for row in rows {
        let name = row.text("name");
        let (letter, number) = name.split_at(1);
        let Ok(n) = number.parse::<u32>() else { continue };
        let by_rule = match letter {
            "A" => iso_a(n),
            "B" => iso_b(n),
            "C" => iso_c(n),
            _ => continue,
        };
        let mm = |column: &str| Length::mm(row.text(column).parse().unwrap());
        assert_eq!(by_rule, Some(Size::new(mm("width_mm"), mm("height_mm"))), "{name}");
        seen += 1;
    }
    assert_eq!(seen, 16);
}

/// Rules that each format must keep: base twice the face, card smaller than its envelope both ways, with ease.
#[test]
fn formats_keep_the_rules() {
    for format in format::all() {
        let b = base(format.face, &Fold::default(), &Tools::INCH).unwrap();
        assert_eq!(b.size.area(), 2 * format.face.area(), "{}", format.name);
        assert_eq!(b.scores[0].at + b.scores[0].at, b.size.width);
        let Some(name) = &format.envelope else { continue };
        let envelope = find(name, Unit::Inch).unwrap();
        assert!(fit(format.face, Thickness::ZERO, EASE, &envelope).fits, "{}", format.name);
        assert!(!fit(envelope.outside, Thickness::ZERO, EASE, &envelope).fits);
    }
    // The figures that charts print and that cannot be: A8 folded at 5, a 4 3/4 card in the A6 envelope.
    let a8 = format::find("us-a8", Unit::Inch).unwrap().face;
    assert_eq!(base(a8, &Fold::default(), &Tools::INCH).unwrap().scores[0].at, len(5.25));
    let a6 = find("A6", Unit::Inch).unwrap();
    assert!(!fit(Size::new(len(4.75), len(6.25)), Thickness::ZERO, EASE, &a6).fits);
}

/// A half letter sheet is 5 1/2 x 8 1/2 in (PWG 5101.1 through a print library's table): a letter sheet cut across its height.
#[test]
fn half_a_letter_sheet() {
    use trimside::domain::sheet::Formats;
    let formats = Formats::built_in();
    let half = formats.find("half letter").unwrap().size;
    assert_eq!((half.width, half.height), (Length::sixteenths(88), Length::sixteenths(136)));
    assert_eq!(formats.find("statement").unwrap().size, half);
    let letter = formats.find("letter").unwrap().size;
    assert_eq!((half.width * 2, half.height), (letter.height, letter.width));
    let Some(rows) = rows("sheets.csv") else { return };
    let row = rows.iter().find(|r| r.text("name").starts_with("half letter")).unwrap();
    assert_eq!((row.text("width_mm"), row.text("height_mm")), ("139.7", "215.9"));
}

/// An envelope weighs what its paper does. The square that one is folded of is known from geometry (own arithmetic, tabled): two
/// faces, flap and seams together are between 0.8 and 1.05 times as large as that square, and so is the weight.
#[test]
fn an_envelope_weighs_about_what_its_square_of_paper_weighs() {
    use trimside::domain::cards::stack::{WALL_GRAMMAGE, envelope_weight};
    let Some(table) = rows("envelope_from_square.csv") else { return };
    let mut seen = 0;
    for row in &table {
        let outside = Size::new(len(row.number("env_l")), len(row.number("env_h")));
        // 1 in² = 645.16 mm²; 24 lb bond is 24 x 3.75973 = 90.234 g/m² (basis_weight.csv).
        let square = row.number("square_side").powi(2) * 645.16e-6 * 90.234;
        let share = square / envelope_weight(outside, WALL_GRAMMAGE).grams();
        assert!((0.8..=1.05).contains(&share), "{}: {share:.2}", row.text("card"));
        seen += 1;
    }
    assert_eq!(seen, table.len());
    // 24 lb bond as the table of basic sizes has it.
    let Some(weights) = rows("basis_weight.csv") else { return };
    let bond =
        weights.iter().find(|r| r.text("grade").starts_with("bond") && r.text("basis_lb") == "24").unwrap();
    assert!((bond.text("gsm").parse::<f64>().unwrap() - WALL_GRAMMAGE.gsm()).abs() < 0.05);
}

/// Worked by hand. An A2 card of 80 lb cover with a mat and a panel of the same: 216.33 g/m² (80 x 1406.139 / 520). Base 8 1/2 x 5 1/2,
/// mat 4 x 5 1/4, panel 3 3/4 x 5: 46.75 + 21 + 18.75 = 86.5 in² = 0.0558063 m², 12.073 g. The envelope was weighed at 4.03 g, foam
/// and tape of one card at 0.66 g: 16.76 g to post. Without the scale the envelope is reckoned (3.66 g) and the glue left out.
#[test]
fn a_card_weighs_what_the_scale_says_of_its_envelope_and_glue() {
    use trimside::domain::cards::fold::Fold;
    use trimside::domain::cards::job::{CardSpec, work_out};
    use trimside::domain::cards::layer::{Card, Layer};
    use trimside::domain::cards::paper::{Paper, grammage};
    use trimside::domain::cards::reveal::Reveal;
    use trimside::domain::cards::stack::Weighed;
    use trimside::domain::cards::tools::Tools;
    use trimside::domain::weight::Weight;
    let cover = Paper { grammage: Some(grammage("80 lb cover").unwrap()), ..Paper::default() };
    let layers = vec![
        Layer::mat("mat", Reveal::all(Length::sixteenths(2))),
        Layer::mat("panel", Reveal::all(Length::sixteenths(2))),
    ];
    let face = Size::parse("4-1/4x5-1/2", Unit::Inch).unwrap();
    let card = Card { name: String::new(), face, fold: Fold::default(), layers };
    let mut spec = CardSpec {
        base_paper: Some(cover.clone()),
        papers: vec![Some(cover.clone()); 2],
        ..CardSpec::of(card)
    };
    let reckoned = work_out(&spec, &Tools::INCH).unwrap();
    assert_eq!(reckoned.weight.value.unwrap().mg(), 12_073);
    assert!((reckoned.sealed_weight.unwrap().grams() - 15.73).abs() < 0.01, "{:?}", reckoned.sealed_weight);
    assert!(reckoned.sealed_words().unwrap().starts_with("about "));
    spec.weighed = Weighed { envelope: Some(Weight::from_mg(4030)), glue: Some(Weight::from_mg(660)) };
    let weighed = work_out(&spec, &Tools::INCH).unwrap();
    assert_eq!(weighed.sealed_weight.unwrap().mg(), 16_763);
    assert!(weighed.sealed_words().unwrap().starts_with("16.8 g (0.59 oz) in its envelope"));
    // Guessed from the weight: 0.0095 in a leaf (merchants' chart); 2 + 2 of them, from 7 to 14 tenths of that.
    let span = weighed.thickness_span.unwrap();
    assert_eq!(
        (format!("{:.4}", span.least.inches()), format!("{:.4}", span.most.inches())),
        ("0.0266".to_owned(), "0.0532".to_owned())
    );
}

/// Near the quarter inch a guess is told as one. Measured 0.16 in, foam among it, is a letter; guessed, its papers might be 0.04 in
/// thicker: still a letter; a pile of sixteen leaves at 0.0095 that might be 0.0133 each is not sure to be one.
#[test]
fn a_guess_near_the_quarter_inch_is_careful() {
    use trimside::domain::cards::post::{Piece, all, judge};
    use trimside::domain::cards::stack::Span;
    use trimside::domain::thickness::Thickness;
    let us = all().iter().find(|r| r.id == "us-dmm101").unwrap();
    let inches = Thickness::from_tenths_of_a_mil;
    let piece = |most: i64| Piece {
        thickness: Some(inches(1600)),
        span: Some(Span { least: inches(1200), most: inches(most) }),
        ..Piece::of_size(Size::parse("9x6", Unit::Inch).unwrap())
    };
    assert_eq!(judge(&piece(2000), us, Unit::Inch).verdict.word(), "letter");
    assert_eq!(judge(&piece(2500), us, Unit::Inch).verdict.word(), "letter", "at the limit it is within it");
    let judged = judge(&piece(2501), us, Unit::Inch);
    assert_eq!(judged.verdict.word(), "borderline");
    assert!(
        judged.reasons.iter().any(|r| r.contains("by a guess") && r.contains("measure it")),
        "{:?}",
        judged.reasons
    );
}
