//! What is made beside a card, what an insert weighs, and what is said where a size, a shape or a thickness stands at a limit
//! of the post.

use trimside::domain::cards::card::Card;
use trimside::domain::cards::construction::LineKind;
use trimside::domain::cards::fold::Base;
use trimside::domain::cards::job::{CardSpec, work_out};
use trimside::domain::cards::layer::{self, Layer};
use trimside::domain::cards::make::Make;
use trimside::domain::cards::paper::Paper;
use trimside::domain::cards::parts::{Part, PartKind};
use trimside::domain::cards::post::{Piece, all, judge};
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cards::table::System;
use trimside::domain::cards::tools::Tools;
use trimside::domain::cards::{grain, stack};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::domain::thickness::{Span, Thickness};
use trimside::domain::weight::Grammage;

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

fn length(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

/// An A2 card of 300 g/m² stock, measured or not.
fn spec(measured: bool) -> CardSpec {
    let caliper = measured.then(|| Thickness::from_points(12));
    let paper = Paper { name: "oat".to_owned(), grammage: Some(Grammage::from_gsm(300)), caliper };
    CardSpec::of(Card { base_paper: Some(paper), ..Card::new("card", size("4-1/4x5-1/2")) })
}

/// Box of 4 x 4 and 2 deep: 8 x 8 flat. Its lid, 1/8 larger and 1 deep: 6 1/8 x 6 1/8. A sheet has to hold each of them.
#[test]
fn a_sheet_that_holds_the_lid_alone_holds_no_box() {
    let (spec, tools) = (spec(true), Tools::INCH);
    let worked = work_out(&spec, &tools).unwrap();
    for (sheet, said) in [
        ("7x7", "a sheet of 7 x 7 in does not hold the blanks"),
        ("8x8", "box and lid need 2 sheets of 8 x 8 in"),
        ("8x14-1/8", "box and lid lie side by side on one sheet of 8 x 14 1/8 in"),
    ] {
        let made = Make::BoxAndLid {
            floor: size("4x4"),
            depth: length("2"),
            lid_depth: length("1"),
            room: length("1/8"),
            sheet: Some(size(sheet)),
        };
        let made = made.build(&spec, &worked, &tools).unwrap();
        assert_eq!([made[0].blank, made[1].blank], [size("8x8"), size("6-1/8x6-1/8")]);
        assert!(made[1].notes.iter().any(|note| note == said), "{sheet}: {:?}", made[1].notes);
    }
}

/// In an A2 envelope, 4 3/8 high: with a flap of 2 less 1/2 for the gum the liner is 5 7/8 and is scored where the flap
/// folds; with a flap that is less than the gum it ends below that fold.
#[test]
fn a_liner_is_scored_where_the_flap_folds() {
    let (spec, tools) = (spec(true), Tools::INCH);
    let worked = work_out(&spec, &tools).unwrap();
    for (flap, height, scores) in [("2", "5-7/8", 1), ("1/2", "4-3/8", 0), ("1/4", "4-1/8", 0)] {
        let made = Make::EnvelopeLiner { flap: length(flap), gum: length("1/2") };
        let made = made.build(&spec, &worked, &tools).unwrap();
        assert_eq!(made[0].blank.height, length(height), "{flap}");
        let scored = made[0].lines.iter().filter(|line| line.kind == LineKind::Score).count();
        assert_eq!((scored, made[0].lines.len()), (scores, scores), "{flap}");
    }
}

#[test]
fn a_thickness_that_was_guessed_is_said_and_a_measured_one_is_not() {
    let notes = |measured: bool| work_out(&spec(measured), &Tools::INCH).unwrap().notes;
    let guessed = "is guessed from the weight, and papers differ: measure it where it matters";
    assert!(notes(false).iter().any(|note| note.ends_with(guessed)), "{:?}", notes(false));
    assert!(notes(true).is_empty(), "{:?}", notes(true));
}

fn reasons(piece: &Piece) -> String {
    let rules = all().iter().find(|r| r.id == "us-dmm101").unwrap();
    judge(piece, rules, Unit::Inch).reasons.join("; ")
}

/// DMM 101.1.1: a letter is at most 6 1/8 x 11 1/2 in and 1/4 in thick.
#[test]
fn right_at_a_limit_there_is_no_margin() {
    let at = reasons(&Piece::of_size(size("11-1/2x6-1/8")));
    assert!(at.contains("is exactly at the") && at.contains("no margin"), "{at}");
    let inside = reasons(&Piece::of_size(size("11-7/16x6-1/16")));
    assert!(!inside.contains("is exactly at the"), "{inside}");
    for (tenths_of_a_mil, said) in
        [(2490, "is just under the"), (2500, "is exactly the"), (2510, "is over the")]
    {
        let thickness = Some(Thickness::from_tenths_of_a_mil(tenths_of_a_mil));
        let thick = reasons(&Piece { thickness, ..Piece::of_size(size("4-3/8x5-3/4")) });
        assert!(thick.contains(said), "{tenths_of_a_mil}: {thick}");
    }
}

/// DMM 101.1.1: a piece is at least 0.007 in thick. A guess whose thinnest is under it is told; one right at it is not.
#[test]
fn a_guess_that_may_be_too_thin_is_told() {
    for (least, told) in [(60, true), (70, false), (80, false)] {
        let span = Span {
            least: Thickness::from_tenths_of_a_mil(least),
            most: Thickness::from_tenths_of_a_mil(110),
        };
        let thickness = Some(Thickness::from_tenths_of_a_mil(90));
        let said = reasons(&Piece { span: Some(span), thickness, ..Piece::of_size(size("4-3/8x5-3/4")) });
        assert_eq!(said.contains("thick by a guess, which may be under 0.0070 in"), told, "{least}: {said}");
    }
}

/// DMM 101.1.2: machines take letters whose length is 1.3 to 2.5 times their height.
#[test]
fn a_shape_beyond_its_ratio_says_which_way() {
    let square = reasons(&Piece::of_size(size("5-1/2x5-1/2")));
    assert!(square.contains("length / height is 1.000, under the 1.3 of"), "{square}");
    let long = reasons(&Piece::of_size(size("11x4")));
    assert!(long.contains("length / height is 2.750, over the 2.5 of"), "{long}");
    assert_eq!([System::Us.word(), System::Iso.word()], ["US", "ISO"]);
}

/// A fold over thick stock has two scores as far apart as the stock is thick; the panel between them tells it from a gate
/// fold and from a fold whose spine is something else.
#[test]
fn two_scores_are_told_of_where_the_panel_between_them_is_the_thickness() {
    let base = |panels: &[&str], allowance: &str| Base {
        size: size("8-1/2x5-1/2"),
        scores: fold_base().scores,
        panels: panels.iter().map(|p| length(p)).collect(),
        allowance: length(allowance),
    };
    let told = |base: &Base| grain::notes(base, None).iter().any(|note| note.starts_with("thick stock"));
    assert!(told(&base(&["4-1/4", "1/64", "4-1/4"], "1/64")));
    assert!(!told(&base(&["4-1/4", "1/128", "4-1/4"], "1/128")), "thinner than a blade sets");
    assert!(!told(&base(&["4-1/4", "1/16"], "1/16")), "two panels have one score");
    assert!(!told(&base(&["2", "4-1/4", "2"], "1/16")), "a gate fold");
}

fn fold_base() -> Base {
    work_out(&spec(true), &Tools::INCH).unwrap().base
}

/// What lies behind an opening weighs with its own frame, whichever layer that is; the other parts keep their weight.
#[test]
fn an_insert_weighs_with_its_frame() {
    let paper = Paper { name: "oat".to_owned(), grammage: Some(Grammage::from_gsm(300)), caliper: None };
    let mat = Layer { paper: Some(paper.clone()), ..Layer::mat("", Reveal::all(length("1/8"))) };
    let Part::Layer(read) = PartKind::Frame.read("1/8, 1/2, 1/8", Unit::Inch).unwrap() else {
        panic!("a frame is a layer")
    };
    let frame = Layer { frame: read.frame, insert: Some(paper.clone()), ..mat.clone() };
    let spec = spec(true);
    let card = Card { layers: vec![mat, frame], ..spec.card };
    let sizes = layer::sizes(card.face, &card.layers, &Tools::INCH).unwrap();
    let before = stack::weight_by_part(size("8-1/2x5-1/2"), &card, &sizes);
    let (mut weight, mut after) = (stack::weight(size("8-1/2x5-1/2"), &card, &sizes), before.clone());
    let bare = weight.value.unwrap();
    stack::add_inserts(&card, &sizes, &mut weight, &mut after);
    let insert = paper.grammage.unwrap().weight_of(sizes[1].opening.unwrap().insert_cut);
    assert!(insert.mg() > 0);
    assert_eq!(weight.value, Some(bare + insert));
    assert_eq!(after, [before[0], before[1], before[2].map(|own| own + insert)]);
}
