//! What is made beside a card, and what is said where a size or a thickness stands right at a limit of the post.

use trimside::domain::cards::card::Card;
use trimside::domain::cards::construction::LineKind;
use trimside::domain::cards::job::{CardSpec, work_out};
use trimside::domain::cards::make::Make;
use trimside::domain::cards::paper::Paper;
use trimside::domain::cards::post::{Piece, all, judge};
use trimside::domain::cards::tools::Tools;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;
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
