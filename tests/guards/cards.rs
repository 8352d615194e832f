//! Cards: post margins, folds at their borders, reveals and frames that leave one mark, the ruler's names.

use trimside::domain::cards::fold::{self, Fold, FoldKind};
use trimside::domain::cards::frame::{self, Frame};
use trimside::domain::cards::grain;
use trimside::domain::cards::layer::{Card, Layer, most_reveal, sizes};
use trimside::domain::cards::post::{Piece, all, judge};
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cards::tools::Tools;
use trimside::domain::length::{Length, Unit};
use trimside::domain::ruler::{Ruler, read_name};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;
use trimside::domain::weight::{Grammage, Weight};

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

fn length(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

fn verdict(rules: &str, piece: &Piece) -> &'static str {
    let rules = all().iter().find(|r| r.id == rules).unwrap();
    judge(piece, rules, Unit::Inch).verdict.word()
}

/// A letter under DMM 101.1.1 is 1/4 in thick at most: 6.35 mm, which is 635,000 hundredths of a micrometre. Within 0.05 mm
/// (5,000 of them) of it the answer is careful, at that distance as well; a step further it is sure.
#[test]
fn thickness_is_near_its_limit_for_five_hundredths_of_a_millimetre_either_way() {
    for (units, said) in [
        (629_999, "letter"),
        (630_000, "borderline"),
        (635_000, "borderline"),
        (640_000, "borderline"),
        (640_001, "flat"),
    ] {
        let piece = Piece { thickness: Some(Thickness::from_units(units)), ..Piece::of_size(size("9x6")) };
        assert_eq!(verdict("us-dmm101", &piece), said, "{units}");
    }
}

/// A letter weighs 3.5 oz at most: 99.223 g (28.349523125 g an ounce). Two in a hundred of that are 1.98446 g.
#[test]
fn weight_is_near_its_limit_for_two_in_a_hundred_either_way() {
    for (mg, said) in [
        (97_238, "letter"),
        (97_239, "borderline"),
        (99_223, "borderline"),
        (101_207, "borderline"),
        (101_208, "flat"),
    ] {
        let piece = Piece { weight: Some(Weight::from_mg(mg)), ..Piece::of_size(size("9x6")) };
        assert_eq!(verdict("us-dmm101", &piece), said, "{mg}");
    }
}

/// Canada's least size is 140 x 90 mm: half a millimetre under it the answer is careful, more is too small.
#[test]
fn size_is_near_its_least_for_half_a_millimetre() {
    for (text, said) in [
        ("140x89.5mm", "borderline"),
        ("140x89.4mm", "too small"),
        ("139.5x90mm", "borderline"),
        ("139.4x90mm", "too small"),
    ] {
        assert_eq!(verdict("ca", &Piece::of_size(size(text))), said, "{text}");
    }
}

/// The step of a letter fold (common practice): 1/32 in below 8 points, 1/16 from 8 on, 1/8 from 16 on.
#[test]
fn a_letter_fold_changes_its_step_at_exactly_eight_and_sixteen_points() {
    for (tenths_of_a_point, step) in [(79, "1/32"), (80, "1/16"), (159, "1/16"), (160, "1/8")] {
        let thickness = Some(Thickness::from_tenths_of_a_mil(tenths_of_a_point));
        let fold = Fold { kind: FoldKind::Letter, thickness, ..Fold::default() };
        let base = fold::base(size("4x9"), &fold, &Tools::INCH).unwrap();
        assert_eq!(base.allowance, length(step), "{tenths_of_a_point}");
    }
    // A gate's relief knows the lower border alone.
    for (tenths_of_a_point, relief) in [(79, "1/32"), (80, "1/16"), (160, "1/16")] {
        let thickness = Some(Thickness::from_tenths_of_a_mil(tenths_of_a_point));
        let fold = Fold { kind: FoldKind::Gate, thickness, ..Fold::default() };
        let base = fold::base(size("5-1/2x4-1/4"), &fold, &Tools::INCH).unwrap();
        assert_eq!(base.allowance, length(relief), "{tenths_of_a_point}");
    }
}

/// Stock from 150 g/m² on is scored first (a mill's guidance): at exactly 150 as well.
#[test]
fn scoring_is_asked_for_from_exactly_a_hundred_and_fifty_grams() {
    let base = fold::base(size("4-1/4x5-1/2"), &Fold::default(), &Tools::INCH).unwrap();
    let asks = |mg: i64| {
        let notes = grain::notes(&base, Some(Grammage::from_mg_per_m2(mg)));
        notes.iter().any(|n| n.starts_with("score before folding"))
    };
    assert_eq!([149_999, 150_000, 150_001].map(asks), [false, true, true]);
}

/// A front of 4 1/4: a reveal of 2 3/32 leaves 1/16, one mark of the fence, and is taken; 2 1/8 leaves nothing.
#[test]
fn a_reveal_may_leave_exactly_one_mark() {
    let cut = |reveal: &str| {
        let layers = vec![Layer::mat("mat", Reveal::all(length(reveal)))];
        let card = Card { name: String::new(), face: size("4-1/4x5-1/2"), fold: Fold::default(), layers };
        sizes(&card, &Tools::INCH)
    };
    assert_eq!(cut("2-3/32").unwrap()[0].exact.width, length("1/16"));
    assert!(cut("2-7/64").is_err(), "half a mark is no layer");
    assert!(cut("2-1/8").is_err());
    // What is offered instead lies on a mark: of 4 3/16 to share, 2 1/16 each side.
    assert_eq!(most_reveal(size("4-1/4x5-1/2"), &Tools::INCH), length("2-1/16"));
    assert_eq!(most_reveal(size("1/16x1"), &Tools::INCH), Length::ZERO);
}

/// A mat of 4 in: a frame of 1 31/32 leaves an opening of 1/16 and is taken, one of 1 63/64 leaves half a mark.
#[test]
fn a_frame_may_leave_exactly_one_mark() {
    let cut = |border: &str| {
        let frame = Frame { border: Reveal::all(length(border)), overlap: length("1/8") };
        frame::opening("mat", size("4x5"), &frame, &Tools::INCH)
    };
    assert_eq!(cut("1-31/32").unwrap().size.width, length("1/16"));
    assert!(cut("1-63/64").is_err());
    assert!(cut("2").is_err());
}

/// A fraction names a part of one: eight eighths are one, and nobody says so.
#[test]
fn eight_eighths_are_no_mark() {
    assert_eq!(read_name("seven eighths", Ruler::EIGHTHS).unwrap(), length("7/8"));
    assert_eq!(read_name("one eighth", Ruler::EIGHTHS).unwrap(), length("1/8"));
    for no in ["eight eighths", "nine eighths", "zero eighths", "two halves", "three and four quarters"] {
        assert!(read_name(no, Ruler::EIGHTHS).is_err(), "{no}");
    }
}
