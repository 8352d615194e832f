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
    assert_eq!(verdict(&grams(a6_in_c6, 18), "upu"), "letter");
    assert_eq!(ask(&grams(a6_in_c6, 30), "de").class.as_deref(), Some("Kompaktbrief"));
    // The fourth class of the guide: 1000 g and 50 mm (from memory).
    assert_eq!(ask(&grams(a6_in_c6, 600), "de").class.as_deref(), Some("Maxibrief"));
    let thick = |mm: i64| Piece { thickness: Some(Thickness::from_micrometres(mm * 1000)), ..a6_in_c6 };
    assert_eq!(ask(&thick(30), "de").class.as_deref(), Some("Maxibrief"));
    assert_eq!(verdict(&thick(51), "de"), "parcel");
    assert_eq!(verdict(&grams(a6_in_c6, 1_100), "de"), "too heavy");
    let square = inch("6x6");
    assert!(ask(&square, "ca").reasons.iter().any(|r| r.contains("square pieces")));
}

/// The universal regulations tell of the standardised item alone (article 203): of anything else nothing is known.
#[test]
fn outside_the_standardised_item_the_posting_country_decides() {
    let c6 = inch("114x162 mm");
    assert_eq!(verdict(&c6, "upu"), "letter");
    for piece in [
        inch("4-3/8x5-3/4"),
        inch("4-3/4x6-1/2"),
        inch("5-1/4x7-1/4"),
        inch("6x6"),
        grams(c6, 30),
        points(c6, 2_500),
        Piece { wrapping: Wrapping::Folded, ..c6 },
    ] {
        let got = ask(&piece, "upu");
        assert_eq!(got.verdict.word(), "unknown", "{piece:?}: {:?}", got.reasons);
        let says = |r: &String| r == "not a standardised item; the posting country decides";
        assert!(got.reasons.iter().any(says), "{:?}", got.reasons);
    }
}

/// Letters to other countries from the United States: domestic shapes, least size 5 1/2 x 3 1/2 in (Postal Bulletin 22230a,
/// 2008).
#[test]
fn international_letters_from_the_united_states_follow_the_domestic_shapes() {
    for (piece, wanted) in [
        (inch("4-3/8x5-3/4"), "letter"),
        (inch("4-3/4x6-1/2"), "letter"),
        (inch("5-1/4x7-1/4"), "letter"),
        (inch("3-1/2x5-1/2"), "letter"),
        (inch("3-1/2x5-7/16"), "too small"),
        (inch("3-7/16x5-1/2"), "too small"),
        (inch("6x6"), "nonmachinable letter"),
        (inch("6-1/8x11-1/2"), "letter"),
        (inch("6-3/16x11-1/2"), "flat"),
        (inch("12x15"), "flat"),
        (inch("12-1/16x15"), "parcel"),
        (points(inch("4-3/8x5-3/4"), 69), "too thin"),
        (points(inch("4x5-3/4"), 70), "letter"),
        (Piece { wrapping: Wrapping::OneLeaf, ..inch("4x6") }, "postcard"),
        (grams(inch("5-1/4x7-1/4"), 110), "flat"),
    ] {
        let got = ask(&piece, "us-imm");
        assert_eq!(got.verdict.word(), wanted, "{piece:?}: {:?}", got.reasons);
    }
    // Large enough at home, too small abroad.
    assert_eq!(
        (verdict(&inch("3-1/2x5"), "us-dmm101"), verdict(&inch("3-1/2x5"), "us-imm")),
        ("letter", "too small")
    );
}

/// DMM 601.1.1: the length is the side that the address runs along.
#[test]
fn a_card_addressed_along_its_short_side_is_told_what_it_measures() {
    let piece = Piece { address: Address::Short, ..inch("4-3/8x5-3/4") };
    let got = ask(&piece, "us-dmm101");
    let words = "read along the address it is 4 3/8 in long, the least is 5 in";
    assert!(got.verdict == Verdict::TooSmall && got.reasons.iter().any(|r| r == words), "{:?}", got.reasons);
    let low = ask(&inch("3x6"), "us-dmm101");
    assert!(
        low.reasons.iter().any(|r| r == "3 x 6 in is under the least size of 3 1/2 x 5 in"),
        "{:?}",
        low.reasons
    );
}

/// Least thickness (DMM 101.1.1 and 101.1.2 d): 0.007 in, and 0.009 in over 4 1/4 in high or 6 in long; at the limit, one step
/// under, one over.
#[test]
fn thin_letters_at_their_limits_exactly() {
    let (small, large) = (inch("4-1/4x6"), inch("4-3/8x5-3/4"));
    for (piece, tenths, wanted) in [
        (small, 69, "too thin"),
        (small, 70, "letter"),
        (small, 71, "letter"),
        (large, 69, "too thin"),
        (large, 70, "nonmachinable letter"),
        (large, 89, "nonmachinable letter"),
        (large, 90, "letter"),
        (large, 91, "letter"),
    ] {
        assert_eq!(verdict(&points(piece, tenths), "us-dmm101"), wanted, "{tenths}");
    }
}

/// A judgement names its edition, never says that something can be posted, and ends with the advice to check.
#[test]
fn every_judgement_is_modest() {
    for piece in [inch("4-3/8x5-3/4"), inch("2x2"), points(grams(inch("6x6"), 500), 9000), inch("30x40")] {
        let uneven = Piece { uneven: true, ..piece };
        for rules in all() {
            let got = judge(&uneven, rules, Unit::Inch);
            assert_eq!(got.edition, rules.edition);
            assert!(got.reasons[0].contains(&format!("by {}", rules.edition)), "{:?}", got.reasons);
            assert_eq!(got.reasons.last().map(String::as_str), Some(CHECK));
            assert!(got.reasons.iter().all(|r| !r.contains("can be posted")));
            assert!(got.reasons.iter().any(|r| r.starts_with("may be too stiff or uneven")));
            assert_eq!(Verdict::from_word(got.verdict.word()), Some(got.verdict));
        }
    }
}
