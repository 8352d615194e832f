//! Post verdicts against the shapes that were tabled by hand from each operator's limits, and against the limits themselves.

use super::envelopes::of_row;
use super::rows;
use trimside::domain::cards::post::{Address, CHECK, Judgement, Piece, Verdict, Wrapping, all, judge};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;
use trimside::domain::weight::Weight;

fn ask(piece: &Piece, id: &str) -> Judgement {
    let rules = all().iter().find(|r| r.id == id).unwrap();
    judge(piece, rules, Unit::Inch)
}

fn verdict(piece: &Piece, id: &str) -> &'static str {
    ask(piece, id).verdict.word()
}

fn inch(size: &str) -> Piece {
    Piece::of_size(Size::parse(size, Unit::Inch).unwrap())
}

fn points(piece: Piece, tenths_of_a_mil: i64) -> Piece {
    Piece { thickness: Some(Thickness::from_tenths_of_a_mil(tenths_of_a_mil)), ..piece }
}

fn grams(piece: Piece, g: i64) -> Piece {
    Piece { weight: Some(Weight::from_grams(g)), ..piece }
}

/// What a tabled shape is in our words.
fn word(shape: &str, class: Option<&str>) -> &'static str {
    match shape {
        "letter" | "standard size" | "letter size" | "standardized" => "letter",
        s if s.starts_with("letter, nonmachinable") => "nonmachinable letter",
        s if s.starts_with("flat") || s.starts_with("large") || s == "oversize" => "flat",
        s if s.starts_with("compact") => {
            assert_eq!(class, Some("Kompaktbrief"));
            "letter"
        }
        s if s.starts_with("below minimum") => "too small",
        s if s.contains("borderline") => "borderline",
        other => panic!("{other}"),
    }
}

#[test]
fn shapes_of_the_card_table() {
    let Some(rows) = rows("cards_envelopes.csv") else { return };
    for row in rows {
        let (_, outside) = of_row(&row);
        let piece = Piece::of_size(outside);
        for (id, column) in
            [("us-dmm101", "usps_shape"), ("ca", "canada_shape"), ("uk", "uk_shape"), ("de", "germany_shape")]
        {
            let got = ask(&piece, id);
            let wanted = word(row.text(column), got.class.as_deref());
            assert_eq!(got.verdict.word(), wanted, "{} {id}: {:?}", row.text("name"), got.reasons);
        }
        let standard = verdict(&piece, "upu") == "letter";
        assert_eq!(standard, row.text("upu_shape") == "standardized", "{} upu", row.text("name"));
    }
}

/// Every limit of the tabled operators, one hundredth of an inch or half a millimetre and more on either side.
#[test]
fn limits_of_the_postal_table() {
    let Some(rows) = rows("postal.csv") else { return };
    let mut seen = 0;
    for row in &rows {
        let (id, wanted) = match (row.text("operator"), row.text("class")) {
            ("USPS", "letter") => ("us-dmm101", "letter"),
            ("USPS", "flat (large envelope)") => ("us-dmm101", "flat"),
            ("Canada Post", "standard") => ("ca", "letter"),
            ("Canada Post", _) => ("ca", "flat"),
            ("Royal Mail", "letter") => ("uk", "letter"),
            ("Royal Mail", _) => ("uk", "flat"),
            ("Deutsche Post", "Grossbrief") => ("de", "flat"),
            ("Deutsche Post", _) => ("de", "letter"),
            ("UPU (as quoted by a postal operator)", _) => ("upu", "letter"),
            _ => continue,
        };
        seen += 1;
        let most = size_of(row.text("max_size"));
        let at_most = Piece::of_size(most);
        assert_eq!(verdict(&at_most, id), wanted, "{id} {most}");
        let over = Piece::of_size(Size::new(most.width, most.height + Length::mm(3)));
        assert_ne!(verdict(&over, id), wanted, "{id} over {most}");
        let thick = Thickness::parse(row.text("max_thickness"), Unit::Inch).unwrap();
        let step = Thickness::from_micrometres(200);
        let inside = Piece { thickness: Some(thick - step), ..at_most };
        assert_eq!(verdict(&inside, id), wanted, "{id} just under {}", row.text("max_thickness"));
        let outside = Piece { thickness: Some(thick + step), ..at_most };
        let class = ask(&inside, id).class;
        assert_ne!(ask(&outside, id).class, class, "{id} over {}", row.text("max_thickness"));
        let exactly = Piece { thickness: Some(thick), ..at_most };
        assert_eq!(verdict(&exactly, id), "borderline", "{id} no margin at {}", row.text("max_thickness"));
        let weight = row.text("weight").split_whitespace().collect::<Vec<_>>();
        let limit = weight.iter().position(|w| w.starts_with('g') || w.starts_with("oz")).unwrap();
        let most_weight =
            Weight::parse(&format!("{} {}", weight[limit - 1], weight[limit].trim_end_matches(','))).unwrap();
        let heavy = Piece { weight: Some(Weight::from_mg(most_weight.mg() * 11 / 10)), ..at_most };
        assert_ne!(ask(&heavy, id).class, class, "{id} over {most_weight:?}");
        let light = Piece { weight: Some(Weight::from_mg(most_weight.mg() * 9 / 10)), ..at_most };
        assert_eq!(verdict(&light, id), wanted, "{id} under {most_weight:?}");
    }
    assert_eq!(seen, 10);
}

fn size_of(text: &str) -> Size {
    let (number, unit) = text.rsplit_once(' ').unwrap();
    let s = Size::parse(&format!("{number} {unit}"), Unit::Inch).unwrap();
    assert!(s.width <= s.height);
    s
}

/// DMM 101.1.1, 101.1.2, 101.6.2 and 601.1.1: least size and thickness, ratio, address, thin and large, postcards.
#[test]
fn the_american_rules() {
    for (piece, wanted) in [
        (inch("3-1/2x5"), "letter"),
        (inch("3-7/16x5"), "too small"),
        (inch("3-1/2x4-15/16"), "too small"),
        (inch("5x5"), "nonmachinable letter"),
        (inch("4x10"), "letter"),
        (inch("4x10-1/8"), "nonmachinable letter"),
        (inch("5x6-1/2"), "letter"),
        (inch("5-1/8x6-1/2"), "nonmachinable letter"),
        (inch("12x15"), "flat"),
        (inch("12-1/2x15"), "parcel"),
        (points(inch("4-3/8x5-3/4"), 60), "too thin"),
        (points(inch("4-3/8x5-3/4"), 80), "nonmachinable letter"),
        (points(inch("4-1/4x6"), 80), "letter"),
        (points(inch("4-3/8x5-3/4"), 100), "letter"),
        (points(inch("4-3/8x5-3/4"), 2500), "borderline"),
        (points(inch("4-3/8x5-3/4"), 1875), "letter"),
        (points(inch("4-3/8x5-3/4"), 3000), "flat"),
        (points(inch("4-3/8x5-3/4"), 8000), "parcel"),
        (grams(inch("4-3/8x5-3/4"), 90), "letter"),
        (grams(inch("4-3/8x5-3/4"), 99), "borderline"),
        (grams(inch("4-3/8x5-3/4"), 110), "flat"),
        (grams(inch("4-3/8x5-3/4"), 400), "too heavy"),
        (Piece { address: Address::Short, ..inch("5-1/4x7-1/4") }, "nonmachinable letter"),
        (Piece { address: Address::Short, ..inch("4x6") }, "too small"),
        (Piece { wrapping: Wrapping::OneLeaf, ..inch("4x6") }, "postcard"),
        (points(Piece { wrapping: Wrapping::OneLeaf, ..inch("4x6") }, 120), "postcard"),
        (points(Piece { wrapping: Wrapping::OneLeaf, ..inch("4x6") }, 300), "letter"),
        (Piece { wrapping: Wrapping::OneLeaf, ..inch("5x7") }, "letter"),
        (Piece { wrapping: Wrapping::Folded, ..inch("4-1/4x6") }, "nonmachinable letter"),
    ] {
        let got = ask(&piece, "us-dmm101");
        assert_eq!(got.verdict.word(), wanted, "{piece:?}: {:?}", got.reasons);
    }
}

#[test]
fn other_rules() {
    let a6_in_c6 = Piece::of_size(Size::new(Length::mm(114), Length::mm(162)));
    assert_eq!(verdict(&grams(a6_in_c6, 1), "ca"), "unknown", "under the least weight of 2 g");
    assert_eq!(verdict(&points(a6_in_c6, 50), "ca"), "too thin");
    assert_eq!(verdict(&grams(a6_in_c6, 30), "upu"), "too heavy");
    assert_eq!(ask(&grams(a6_in_c6, 30), "de").class.as_deref(), Some("Kompaktbrief"));
    assert_eq!(verdict(&grams(a6_in_c6, 600), "de"), "too heavy");
    let square = inch("6x6");
    assert!(ask(&square, "ca").reasons.iter().any(|r| r.contains("square pieces")));
    assert_eq!(verdict(&Piece { wrapping: Wrapping::Folded, ..a6_in_c6 }, "upu"), "nonmachinable letter");
}

/// A judgement names its edition, never says that something can be posted, and ends with the advice to check.
#[test]
fn every_judgement_is_modest() {
    for piece in [inch("4-3/8x5-3/4"), inch("2x2"), points(grams(inch("6x6"), 500), 9000), inch("30x40")] {
        let uneven = Piece { uneven: true, ..piece };
        for rules in all() {
            let got = judge(&uneven, rules, Unit::Inch);
            assert_eq!(got.edition, rules.edition);
            assert!(got.reasons[0].contains(&format!("within {}", rules.edition)), "{:?}", got.reasons);
            assert_eq!(got.reasons.last().map(String::as_str), Some(CHECK));
            assert!(got.reasons.iter().all(|r| !r.contains("can be posted")));
            assert!(got.reasons.iter().any(|r| r.starts_with("may be too stiff or uneven")));
            assert_eq!(Verdict::from_word(got.verdict.word()), Some(got.verdict));
        }
    }
}
