//! Each limit of each operator: one step under it, at it and one step over it. The values stand beside their source and
//! are typed here a second time, so that a slip in the table of rules is found.

use trimside::domain::cards::post::{Piece, Wrapping, all, judge};
use trimside::domain::length::Unit;
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;
use trimside::domain::weight::Weight;

/// A piece as `size, thickness, weight in tenths of a gram`; a dash for what is not known.
fn piece(text: &str) -> Piece {
    let part = |n: usize| text.split(", ").nth(n).filter(|p| *p != "-");
    Piece {
        thickness: part(1).map(|t| Thickness::parse(t, Unit::Inch).unwrap()),
        weight: part(2).map(|w| Weight::from_mg(100 * w.parse::<i64>().unwrap())),
        ..Piece::of_size(Size::parse(part(0).unwrap(), Unit::Inch).unwrap())
    }
}

fn verdict(rules: &str, piece: &Piece) -> &'static str {
    let rules = all().iter().find(|r| r.id == rules).unwrap();
    judge(piece, rules, Unit::Inch).verdict.word()
}

/// Rules, source, then under, at and over the limit with the verdict of each.
type Row = (&'static str, &'static str, [(&'static str, &'static str); 3]);

#[rustfmt::skip]
const LIMITS: &[Row] = &[
    ("us-dmm101", "DMM 101.1.1: letters are 5 x 3 1/2 in or more", [("4.999x3.5, 0.02, -", "borderline"), ("5x3.5, 0.02, -", "letter"), ("5.5x3.5, 0.02, -", "letter")]),
    ("us-dmm101", "DMM 101.1.1: the short side", [("5x3.499, 0.02, -", "borderline"), ("5x3.5, 0.02, -", "letter"), ("5.5x3.5, 0.02, -", "letter")]),
    ("us-dmm101", "DMM 101.1.1: letters are 11 1/2 in long at most", [("11.4x6.125, 0.02, -", "letter"), ("11.5x6.125, 0.02, -", "letter"), ("11.501x6.125, 0.02, -", "flat")]),
    ("us-dmm101", "DMM 101.1.1: letters are 6 1/8 in high at most", [("11.5x6.1, 0.02, -", "letter"), ("11.5x6.125, 0.02, -", "letter"), ("11.5x6.126, 0.02, -", "flat")]),
    ("us-dmm101", "DMM 101.1.1: a letter is 1/4 in thick at most; near it the answer is careful", [("200x120mm, 5.06mm, -", "letter"), ("9x6, 0.25, -", "borderline"), ("9x6, 0.253, -", "flat")]),
    ("us-dmm101", "DMM 101.2.0: flats are 15 x 12 in at most, long side", [("14.9x12, 0.3, -", "flat"), ("15x12, 0.3, -", "flat"), ("15.01x12, 0.3, -", "parcel")]),
    ("us-dmm101", "DMM 101.2.0: flats, short side", [("15x11.9, 0.3, -", "flat"), ("15x12, 0.3, -", "flat"), ("15x12.01, 0.3, -", "parcel")]),
    ("us-dmm101", "DMM 101.2.0: flats are 3/4 in thick at most", [("12x10, 0.74, -", "flat"), ("12x10, 0.75, -", "borderline"), ("12x10, 0.753, -", "parcel")]),
    ("us-dmm101", "DMM 101.1.1: not less than 0.007 in thick", [("5.75x4.375, 0.00699, -", "too thin"), ("5.75x4.2, 0.007, -", "letter"), ("5.75x4.2, 0.02, -", "letter")]),
    ("us-dmm101", "DMM 101.1.2: over 4 1/4 x 6 in not less than 0.009 in", [("6.1x4.3, 0.00899, -", "nonmachinable letter"), ("6.1x4.3, 0.009, -", "letter"), ("6.5x5, 0.02, -", "letter")]),
    ("us-dmm101", "DMM 101.1.2: length by height 1.3 or more", [("6.4x5, 0.02, -", "nonmachinable letter"), ("6.5x5, 0.02, -", "letter"), ("10x4, 0.02, -", "letter")]),
    ("us-dmm101", "DMM 101.1.2: length by height 2.5 or less", [("6.5x5, 0.02, -", "letter"), ("10x4, 0.02, -", "letter"), ("10.1x4, 0.02, -", "nonmachinable letter")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: 5 1/2 in or more", [("5x3.5, 0.02, -", "too small"), ("5.5x3.5, 0.02, -", "letter"), ("140x90mm, 0.5mm, -", "letter")]),
    ("ca", "Canada Post: 140 x 90 mm or more", [("139.9x90mm, 0.5mm, -", "borderline"), ("140x90mm, 0.5mm, -", "letter"), ("235x125mm, 1mm, -", "letter")]),
    ("ca", "Canada Post: the short side", [("140x89.9mm, 0.5mm, -", "borderline"), ("140x90mm, 0.5mm, -", "letter"), ("235x125mm, 1mm, -", "letter")]),
    ("ca", "Canada Post: standard to 245 x 156 mm, long side", [("235x125mm, 1mm, -", "letter"), ("245x156mm, 1mm, -", "letter"), ("245.1x156mm, 1mm, -", "flat")]),
    ("ca", "Canada Post: standard, short side", [("235x125mm, 1mm, -", "letter"), ("245x156mm, 1mm, -", "letter"), ("245x156.1mm, 1mm, -", "flat")]),
    ("ca", "Canada Post: standard to 5 mm", [("200x120mm, 4.94mm, -", "letter"), ("200x120mm, 5mm, -", "borderline"), ("200x120mm, 5.06mm, -", "flat")]),
    ("ca", "Canada Post: not less than 0.18 mm", [("200x120mm, 0.17mm, -", "too thin"), ("200x120mm, 0.18mm, -", "letter"), ("200x120mm, 1mm, 20", "letter")]),
    ("ca", "Canada Post: not less than 2 g", [("200x120mm, 1mm, 19", "unknown"), ("200x120mm, 1mm, 20", "letter"), ("200x120mm, 1mm, 200", "letter")]),
    ("ca", "Canada Post: other to 380 x 270 mm", [("353x250mm, 1mm, -", "flat"), ("380x270mm, 1mm, -", "flat"), ("380.1x270mm, 1mm, -", "parcel")]),
    ("ca", "Canada Post: other to 20 mm", [("240x165mm, 10mm, -", "flat"), ("240x165mm, 20mm, -", "borderline"), ("240x165mm, 20.06mm, -", "parcel")]),
    ("ca", "Canada Post: standard to 50 g", [("200x120mm, 1mm, 201", "letter"), ("200x120mm, 1mm, 500", "borderline"), ("200x120mm, 1mm, 1000", "flat")]),
    ("ca", "Canada Post: other to 500 g", [("200x120mm, 1mm, 1000", "flat"), ("240x165mm, 1mm, 5000", "borderline"), ("240x165mm, 1mm, 7500", "too heavy")]),
    ("uk", "size guides: 140 x 90 mm or more", [("139.9x90mm, 0.5mm, -", "borderline"), ("140x90mm, 0.5mm, -", "letter"), ("235x125mm, 1mm, -", "letter")]),
    ("uk", "size guides: letter to 240 x 165 mm", [("235x125mm, 1mm, -", "letter"), ("240x165mm, 1mm, -", "letter"), ("240.1x165mm, 1mm, -", "flat")]),
    ("uk", "size guides: letter to 5 mm", [("200x120mm, 4.94mm, -", "letter"), ("200x120mm, 5mm, -", "borderline"), ("200x120mm, 5.06mm, -", "flat")]),
    ("uk", "size guides: letter to 100 g", [("200x120mm, 1mm, 501", "letter"), ("200x120mm, 1mm, 1000", "borderline"), ("240x165mm, 1mm, 5000", "flat")]),
    ("uk", "size guides: large letter to 353 x 250 mm", [("240.1x165mm, 1mm, -", "flat"), ("353x250mm, 1mm, -", "flat"), ("353.1x250mm, 1mm, -", "parcel")]),
    ("uk", "size guides: large letter to 25 mm", [("240x165mm, 20mm, -", "flat"), ("240x165mm, 25mm, -", "borderline"), ("240x165mm, 25.06mm, -", "parcel")]),
    ("uk", "size guides: large letter to 750 g", [("240x165mm, 1mm, 5000", "flat"), ("240x165mm, 1mm, 7500", "borderline"), ("240x165mm, 1mm, 10000", "too heavy")]),
    ("de", "press guide of 2025-02-12: 100 x 70 mm or more", [("99.9x70mm, 1mm, -", "borderline"), ("100x70mm, 1mm, -", "letter"), ("140x90mm, 0.5mm, -", "letter")]),
    ("de", "press guide of 2025-02-12: the short side", [("100x69.9mm, 1mm, -", "borderline"), ("100x70mm, 1mm, -", "letter"), ("140x90mm, 0.5mm, -", "letter")]),
    ("de", "press guide of 2025-02-12: Kompaktbrief to 235 x 125 mm", [("235x120mm, 1mm, -", "letter"), ("235x125mm, 1mm, -", "letter"), ("235.1x125mm, 1mm, -", "flat")]),
    ("de", "older guide: length by width 1.4 or more", [("167.9x120mm, 1mm, -", "borderline"), ("168x120mm, 1mm, -", "letter"), ("200x120mm, 4.94mm, -", "letter")]),
    ("de", "press guide of 2025-02-12: Standardbrief to 5 mm, beyond it Kompaktbrief", [("200x120mm, 4.94mm, -", "letter"), ("200x120mm, 5mm, -", "borderline"), ("200x120mm, 5.06mm, -", "letter")]),
    ("de", "press guide of 2025-02-12: Kompaktbrief to 50 g", [("200x120mm, 4.94mm, -", "letter"), ("200x120mm, 1mm, 500", "borderline"), ("200x120mm, 1mm, 1000", "flat")]),
    ("de", "press guide of 2025-02-12: Grossbrief to 20 mm, beyond it Maxibrief", [("240x165mm, 10mm, -", "flat"), ("240x165mm, 20mm, -", "borderline"), ("240x165mm, 20.06mm, -", "flat")]),
    ("de", "Maxibrief to 50 mm, from memory", [("240x165mm, 25mm, -", "flat"), ("240x165mm, 50mm, -", "borderline"), ("240x165mm, 50.06mm, -", "parcel")]),
    ("upu", "Letter-post Regulations, article 203: 140 x 90 mm or more, 2 mm of tolerance", [("100x70mm, 1mm, -", "too small"), ("139.9x90mm, 0.5mm, -", "borderline"), ("140x90mm, 0.5mm, -", "letter")]),
    ("upu", "Letter-post Regulations, article 203: 120 mm high at most, 2 mm of tolerance", [("235x120mm, 1mm, -", "letter"), ("235x122mm, 1mm, -", "borderline"), ("235x122.1mm, 1mm, -", "unknown")]),
    ("upu", "Letter-post Regulations, article 203: length by height 1.4 or more", [("175x125mm, 1mm, -", "unknown"), ("167.9x120mm, 1mm, -", "borderline"), ("168x120mm, 1mm, -", "letter")]),
    ("upu", "Letter-post Regulations, article 203: 5 mm at most", [("200x120mm, 4.94mm, -", "letter"), ("200x120mm, 5mm, -", "borderline"), ("200x120mm, 5.06mm, -", "unknown")]),
    ("upu", "Letter-post Regulations, article 203: 20 g at most", [("200x120mm, 1mm, 19", "letter"), ("200x120mm, 1mm, 200", "borderline"), ("200x120mm, 1mm, 500", "unknown")]),
    ("us-dmm101", "DMM 101.1.1: a letter weighs 3.5 oz (99.2 g) at most; within two in a hundred the answer is careful", [("9x6, 0.02, 972", "letter"), ("9x6, 0.02, 992", "borderline"), ("9x6, 0.02, 1013", "flat")]),
    ("us-dmm101", "DMM 101.2.0: a flat weighs 13 oz (368.5 g) at most", [("12x10, 0.3, 3610", "flat"), ("12x10, 0.3, 3685", "borderline"), ("12x10, 0.3, 3760", "too heavy")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: the short side, 3 1/2 in or more", [("5.5x3.499, 0.02, -", "borderline"), ("5.5x3.5, 0.02, -", "letter"), ("5.5x3.6, 0.02, -", "letter")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: letters as at home, 11 1/2 in long at most", [("11.4x6.125, 0.02, -", "letter"), ("11.5x6.125, 0.02, -", "letter"), ("11.501x6.125, 0.02, -", "flat")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: letters as at home, 6 1/8 in high at most", [("11.5x6.1, 0.02, -", "letter"), ("11.5x6.125, 0.02, -", "letter"), ("11.5x6.126, 0.02, -", "flat")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: letters as at home, 1/4 in thick at most", [("200x120mm, 6.29mm, -", "letter"), ("9x6, 0.25, -", "borderline"), ("9x6, 0.253, -", "flat")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: not less than 0.007 in thick", [("5.75x4.375, 0.00699, -", "too thin"), ("5.75x4.2, 0.007, -", "letter"), ("5.75x4.2, 0.02, -", "letter")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: over 4 1/4 x 6 in not less than 0.009 in", [("6.1x4.3, 0.00899, -", "nonmachinable letter"), ("6.1x4.3, 0.009, -", "letter"), ("6.5x5, 0.02, -", "letter")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: length by height 1.3 or more", [("6.4x5, 0.02, -", "nonmachinable letter"), ("6.5x5, 0.02, -", "letter"), ("10x4, 0.02, -", "letter")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: length by height 2.5 or less", [("6.5x5, 0.02, -", "letter"), ("10x4, 0.02, -", "letter"), ("10.1x4, 0.02, -", "nonmachinable letter")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: flats as at home, 15 in at most", [("14.9x12, 0.3, -", "flat"), ("15x12, 0.3, -", "flat"), ("15.01x12, 0.3, -", "parcel")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: flats as at home, 12 in at most", [("15x11.9, 0.3, -", "flat"), ("15x12, 0.3, -", "flat"), ("15x12.01, 0.3, -", "parcel")]),
    ("us-imm", "Postal Bulletin 22230a, 2008: flats as at home, 3/4 in thick at most", [("12x10, 0.74, -", "flat"), ("12x10, 0.75, -", "borderline"), ("12x10, 0.753, -", "parcel")]),
    ("us-imm", "a letter weighs 3.5 oz (99.2 g) at most, from memory", [("9x6, 0.02, 972", "letter"), ("9x6, 0.02, 992", "borderline"), ("9x6, 0.02, 1013", "flat")]),
    ("us-imm", "a flat weighs 15.994 oz (453.4 g) at most, from memory", [("12x10, 0.3, 4443", "flat"), ("12x10, 0.3, 4534", "borderline"), ("12x10, 0.3, 4626", "too heavy")]),
    ("ca", "Canada Post: other, short side", [("380x269mm, 1mm, -", "flat"), ("380x270mm, 1mm, -", "flat"), ("380x270.1mm, 1mm, -", "parcel")]),
    ("uk", "size guides: the short side, 90 mm or more", [("140x89.9mm, 0.5mm, -", "borderline"), ("140x90mm, 0.5mm, -", "letter"), ("140x91mm, 0.5mm, -", "letter")]),
    ("uk", "size guides: letter, short side", [("240x164mm, 1mm, -", "letter"), ("240x165mm, 1mm, -", "letter"), ("240x165.1mm, 1mm, -", "flat")]),
    ("uk", "size guides: large letter, short side", [("353x249mm, 1mm, -", "flat"), ("353x250mm, 1mm, -", "flat"), ("353x250.1mm, 1mm, -", "parcel")]),
    ("de", "press guide of 2025-02-12: Standardbrief from 140 x 90 mm, long side", [("139.9x90mm, 1mm, -", "borderline"), ("140x90mm, 1mm, -", "letter"), ("141x90mm, 1mm, -", "letter")]),
    ("de", "press guide of 2025-02-12: Standardbrief and Kompaktbrief, short side", [("235x124mm, 1mm, -", "letter"), ("235x125mm, 1mm, -", "letter"), ("235x125.1mm, 1mm, -", "flat")]),
    ("de", "press guide of 2025-02-12: Standardbrief to 20 g, beyond it Kompaktbrief", [("200x120mm, 1mm, 195", "letter"), ("200x120mm, 1mm, 200", "borderline"), ("200x120mm, 1mm, 205", "letter")]),
    ("de", "press guide of 2025-02-12: Kompaktbrief to 10 mm", [("200x120mm, 9.94mm, -", "letter"), ("200x120mm, 10mm, -", "borderline"), ("200x120mm, 10.06mm, -", "flat")]),
    ("de", "press guide of 2025-02-12: Grossbrief to 353 x 250 mm, long side", [("352x250mm, 1mm, -", "flat"), ("353x250mm, 1mm, -", "flat"), ("353.1x250mm, 1mm, -", "parcel")]),
    ("de", "press guide of 2025-02-12: Grossbrief, short side", [("353x249mm, 1mm, -", "flat"), ("353x250mm, 1mm, -", "flat"), ("353x250.1mm, 1mm, -", "parcel")]),
    ("de", "press guide of 2025-02-12: Grossbrief to 500 g, beyond it Maxibrief", [("353x250mm, 10mm, 4890", "flat"), ("353x250mm, 10mm, 5000", "borderline"), ("353x250mm, 10mm, 5110", "flat")]),
    ("de", "Maxibrief to 1000 g, from memory", [("353x250mm, 40mm, 9790", "flat"), ("353x250mm, 40mm, 10000", "borderline"), ("353x250mm, 40mm, 10210", "too heavy")]),
    ("upu", "Letter-post Regulations, article 203: the short side, 90 mm or more, 2 mm of tolerance", [("140x87.9mm, 1mm, -", "too small"), ("140x88mm, 1mm, -", "borderline"), ("140x90mm, 1mm, -", "letter")]),
    ("upu", "Letter-post Regulations, article 203: 235 mm long at most, 2 mm of tolerance", [("235x120mm, 1mm, -", "letter"), ("237x120mm, 1mm, -", "borderline"), ("237.1x120mm, 1mm, -", "unknown")]),
];

#[test]
fn each_limit_holds_at_it_and_one_step_beside_it() {
    for (rules, source, three) in LIMITS {
        for (text, wanted) in three {
            assert_eq!(verdict(rules, &piece(text)), *wanted, "{rules}, {source}: {text}");
        }
    }
}

/// A card of one leaf without an envelope. DMM 101.6.2 and, abroad, Postal Bulletin 22230a: 4 1/4 x 6 in and 0.016 in at most.
#[test]
fn a_postcard_is_one_up_to_its_limits() {
    for id in ["us-dmm101", "us-imm"] {
        for (text, wanted) in [
            ("6x4.25, 0.014, -", "postcard"),
            ("6.001x4.25, 0.014, -", "letter"),
            ("6x4.251, 0.014, -", "letter"),
            ("6x4.25, 0.016, -", "borderline"),
            ("6x4.25, 0.018, -", "letter"),
            ("6x4.25, 0.014, 972", "postcard"),
            ("6x4.25, 0.014, 992", "borderline"),
        ] {
            let leaf = Piece { wrapping: Wrapping::OneLeaf, ..piece(text) };
            assert_eq!(verdict(id, &leaf), wanted, "{id}: {text}");
            assert_ne!(verdict(id, &piece(text)), "postcard", "{id}: {text} in an envelope");
        }
    }
}

#[test]
fn every_set_of_rules_is_tried() {
    for rules in all() {
        let rows = LIMITS.iter().filter(|(id, _, _)| *id == rules.id).count();
        assert!(rows >= 1, "no limit of {} is tried", rules.id);
    }
}

/// Where the price changes on the way to a class's greatest weight, which is the last step. United States: DMM 101.6.2 for letters,
/// by the ounce to 3 and then 3.5; by the ounce to 13 for flats (from memory). Canada: 30 and 50 g; 100 to 500 g (from memory).
/// United Kingdom: 100 g; 100, 250, 500 and 750 g (from memory). Germany: a class each, press guide of 2025-02-12. UPU: 20 g.
#[rustfmt::skip]
const STEPS: &[(&str, &str, &[&str])] = &[
    ("us-dmm101", "9x6, 0.02", &["1 oz", "2 oz", "3 oz", "3.5 oz"]),
    ("us-dmm101", "12x10, 0.3", &["1 oz", "2 oz", "3 oz", "4 oz", "5 oz", "6 oz", "7 oz", "8 oz", "9 oz", "10 oz", "11 oz", "12 oz", "13 oz"]),
    ("us-imm", "9x6, 0.02", &["1 oz", "2 oz", "3 oz", "3.5 oz"]),
    ("ca", "200x120mm, 1mm", &["30 g", "50 g"]),
    ("ca", "353x250mm, 10mm", &["100 g", "200 g", "300 g", "400 g", "500 g"]),
    ("uk", "200x120mm, 1mm", &["100 g"]),
    ("uk", "353x250mm, 10mm", &["100 g", "250 g", "500 g", "750 g"]),
    ("de", "200x120mm, 1mm", &["20 g"]),
    ("de", "200x120mm, 8mm", &["50 g"]),
    ("de", "353x250mm, 10mm", &["500 g"]),
    ("de", "353x250mm, 40mm", &["1000 g"]),
    ("upu", "200x120mm, 1mm", &["20 g"]),
];

/// Just under a step and at it that step is the next; a milligram over it, the one after.
#[test]
fn each_next_weight_step_is_told() {
    for (id, text, steps) in STEPS {
        let rules = all().iter().find(|r| r.id == *id).unwrap();
        let steps: Vec<Weight> = steps.iter().map(|s| Weight::parse(s).unwrap()).collect();
        let next = |mg: i64| {
            let piece = Piece { weight: Some(Weight::from_mg(mg)), ..piece(&format!("{text}, -")) };
            let reasons = judge(&piece, rules, Unit::Inch).reasons;
            reasons.into_iter().find(|r| r.contains("below the step at"))
        };
        for (n, step) in steps.iter().enumerate() {
            for mg in [step.mg() - 1, step.mg()] {
                let said = next(mg).unwrap_or_else(|| panic!("{id} {text}: no step at {mg} mg"));
                assert!(said.ends_with(&format!("below the step at {}", step.show())), "{id} {text}: {said}");
            }
            let Some(after) = steps.get(n + 1) else { continue };
            let said = next(step.mg() + 1).unwrap();
            assert!(said.ends_with(&format!("below the step at {}", after.show())), "{id} {text}: {said}");
        }
    }
}
