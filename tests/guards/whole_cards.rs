//! Whole cards: what their papers, lifts, address and wrapping say in the post, and what is made beside them.

use trimside::domain::cards::card::{Card, EnvelopeChoice};
use trimside::domain::cards::construction::bag::Bag;
use trimside::domain::cards::construction::envelope::Straight;
use trimside::domain::cards::fold::{FoldKind, Side};
use trimside::domain::cards::frame::{BAND_OVERLAP, belly_band};
use trimside::domain::cards::job::{CardSpec, Worked, work_out};
use trimside::domain::cards::layer::{Layer, LayerPlace, sizes};
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cards::make::Make;
use trimside::domain::cards::paper::{Paper, grammage};
use trimside::domain::cards::parts::{Part, PartKind, keep_rest};
use trimside::domain::cards::post::{Address, Piece, all, judge};
use trimside::domain::cards::reveal::Reveal;
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

/// An A2 front on a base of 300 g/m², 0.012 in thick where it was measured.
fn a2(measured: bool) -> Card {
    let caliper = measured.then(|| Thickness::from_points(12));
    let paper = Paper { name: "oat".to_owned(), grammage: Some(Grammage::from_gsm(300)), caliper };
    Card { base_paper: Some(paper), ..Card::new("card", size("4-1/4x5-1/2")) }
}

/// A mat of the same measured paper, lifted so far.
fn lifted(card: Card, raise: Thickness) -> Card {
    let paper = card.base_paper.clone().map(|p| Paper { caliper: Some(Thickness::from_points(12)), ..p });
    let mat = Layer { paper, raise, ..Layer::mat("", Reveal::all(length("1/8"))) };
    Card { layers: vec![mat], ..card }
}

fn worked(card: Card) -> Worked {
    work_out(&CardSpec::of(card), &Tools::INCH).unwrap()
}

/// Verdict and reasons under the domestic rules of the United States.
fn at_home(card: Card) -> (&'static str, String) {
    let post = worked(card).post;
    assert_eq!(post.len(), all().len(), "every set of rules judges");
    let judged = post.iter().find(|j| j.rules == "us-dmm101").unwrap();
    (judged.verdict.word(), judged.reasons.join("; "))
}

/// Flat, 2 leaves of 0.012 in: a letter. A lift of 1/4 in is over the limit of 1/4 in (DMM 101.1.1), in its envelope and without.
#[test]
fn what_lifts_a_layer_counts_in_the_post() {
    let quarter = Thickness::from_tenths_of_a_mil(2500);
    let (verdict, said) = at_home(a2(true));
    assert_eq!(verdict, "letter");
    assert!(!said.contains("uneven"), "{said}");
    let (verdict, said) = at_home(lifted(a2(true), quarter));
    assert_eq!(verdict, "flat");
    assert!(said.contains("may be too stiff or uneven"), "{said}");
    let bare = Card { enclosing: EnvelopeChoice::NoEnvelope, ..lifted(a2(true), quarter) };
    assert_eq!(at_home(bare).0, "flat");
}

/// A guess that may reach over 1/4 in makes the answer careful: the lift is chosen so that only the thickest paper does.
#[test]
fn a_guessed_thickness_counts_as_the_span_it_lies_in() {
    let quarter = Thickness::from_tenths_of_a_mil(2500);
    for enclosing in [EnvelopeChoice::Smallest, EnvelopeChoice::NoEnvelope] {
        let of = |raise| Card { enclosing: enclosing.clone(), ..lifted(a2(false), raise) };
        let flat = worked(of(Thickness::ZERO));
        let walls = match enclosing {
            EnvelopeChoice::NoEnvelope => 0,
            // Two walls and the flap of 24 lb bond, 0.0048 in each.
            _ => 3 * Thickness::from_tenths_of_a_mil(48).units(),
        };
        let most = flat.thickness_span.unwrap().most.units() + walls;
        let value = flat.thickness.value.unwrap().units() + walls;
        assert!(most - value > 5_000, "more than the margin of 0.05 mm: {most} {value}");
        let raise = Thickness::from_units(quarter.units() - most + 1);
        let (verdict, said) = at_home(of(raise));
        assert!(said.contains("thick by a guess, which may be over the 0.25"), "{said}");
        assert_ne!(verdict, "letter");
        let (_, said) = at_home(of(Thickness::from_units(raise.units() - 2)));
        assert!(!said.contains("may be over the 0.25"), "{said}");
    }
}

/// 8 1/2 x 5 1/2 in of 300 g/m²: 46.75 sq in of 0.00064516 m² are 9.05 g. Its envelope of 4 3/8 x 5 3/4 in, two and a half faces
/// of 90.234 g/m²: 3.66 g.
#[test]
fn the_weight_in_the_post_is_that_of_what_is_mailed() {
    let (_, said) = at_home(a2(true));
    assert!(said.contains("weighs 12.7 g"), "{said}");
    let (_, said) = at_home(Card { enclosing: EnvelopeChoice::NoEnvelope, ..a2(true) });
    assert!(said.contains("weighs 9.0 g"), "{said}");
    let (_, said) = at_home(Card::new("bare", size("4-1/4x5-1/2")));
    assert!(!said.contains("weighs"), "{said}");
}

#[test]
fn address_and_wrapping_reach_the_verdict() {
    let (verdict, said) = at_home(Card { address: Address::Short, ..a2(true) });
    // Read along the address the envelope is 4 3/8 in long, under the 5 in of a letter.
    assert_eq!(verdict, "too small");
    assert!(said.contains("read along the address it is 4 3/8 in long, the least is 5 in"), "{said}");
    // A piece that is short both ways is no matter of the address.
    let rules = all().iter().find(|r| r.id == "us-dmm101").unwrap();
    let small = judge(&Piece::of_size(size("4x3")), rules, Unit::Inch).reasons.join("; ");
    assert!(small.contains("is under the least size of") && !small.contains("read along"), "{small}");
    let folded = Card { enclosing: EnvelopeChoice::NoEnvelope, ..a2(true) };
    let (verdict, said) = at_home(folded.clone());
    assert_eq!(verdict, "nonmachinable letter");
    assert!(said.contains("unprepared self-mailer"), "{said}");
    let mut leaf = folded;
    leaf.fold.kind = FoldKind::Flat;
    assert_eq!(at_home(leaf).0, "postcard");
}

#[test]
fn what_is_not_known_is_named() {
    let card = Card { base_paper: None, ..lifted(a2(true), Thickness::ZERO) };
    let blank = Card { layers: vec![Layer::mat("", Reveal::all(length("1/8")))], ..card.clone() };
    assert_eq!(worked(card).weight_words(), "not known until the paper of base has a weight");
    assert_eq!(
        worked(blank.clone()).weight_words(),
        "not known until each paper of base, mat 1 has a weight"
    );
    assert!(worked(blank).thickness_words(Unit::Inch).contains("each paper of base, mat 1 has a thickness"));
    // Two leaves of 0.012 in.
    let two = Thickness::from_points(24);
    assert_eq!(worked(a2(true)).thickness_words(Unit::Inch), two.show(Unit::Inch));
    assert!(worked(a2(false)).thickness_words(Unit::Inch).ends_with("is possible"));
}

#[test]
fn layers_know_their_name_and_what_they_are() {
    let at = LayerPlace::Middle;
    let mat: Layer = Layer::mat("under", Reveal::all(length("1/8")));
    let panel: Layer = Layer::panel("tag", size("2x3"), at);
    let strip: Layer = Layer::strip("sky", Side::Width, length("3/4"), None);
    assert_eq!([&mat.name, &panel.name, &strip.name], ["under", "tag", "sky"]);
    assert_eq!([mat.word(), panel.word(), strip.word()], ["mat", "panel", "strip"]);
    // A panel that is too large one way alone: what would go is named.
    for (own, works) in [("5x2", "4 x 2 in works"), ("2x6", "2 x 5 in works"), ("5x6", "4 x 5 in works")] {
        let large: [Layer; 1] = [Layer::panel("tag", size(own), at)];
        let why = sizes(size("4x5"), &large, &Tools::INCH).unwrap_err().to_string();
        assert!(why.contains(works), "{why}");
    }
}

#[test]
fn grain_is_told_where_it_matters_to_how_a_part_is_made() {
    for (way, said) in [
        (MadeBy::Straight, None),
        (MadeBy::DieCut, None),
        (MadeBy::PrintedToEdge, None),
        (MadeBy::Torn, Some("paper tears straight along the grain and ragged across it")),
        (MadeBy::Embossed, Some("fine lines may crack across the grain of thick stock")),
    ] {
        assert_eq!(way.grain_words(), said, "{way:?}");
    }
}

#[test]
fn weights_are_plain_decimals() {
    assert_eq!(grammage("216 gsm").unwrap(), Grammage::from_gsm(216));
    assert_eq!(grammage("2000 gsm").unwrap(), Grammage::from_gsm(2000));
    for no in [".5 gsm", "2000.001 gsm", "1234567 gsm", "1.2345 gsm", "21x gsm"] {
        assert!(grammage(no).is_err(), "{no}");
    }
}

/// A published band for a 5 x 7 card is 11 in long with an overlap of 1: each half of the back is 2 1/2 and half the overlap.
#[test]
fn a_band_folds_behind_the_card() {
    let band = belly_band(length("5"), Thickness::ZERO, length("2"), BAND_OVERLAP);
    assert_eq!(band.strip, size("11x2"));
    assert_eq!(band.folds, ["3", "8"].map(length));
    // 0.1 in thick (1/10 in = 812.8 units, kept as 813): the folds step over it twice.
    let t = Thickness::parse("1/16", Unit::Inch).unwrap();
    let thick = belly_band(length("5"), t, length("2"), BAND_OVERLAP);
    assert_eq!(thick.folds, ["3", "3-1/16", "8-1/16", "8-1/8"].map(length));
    assert_eq!(thick.strip.width, length("11-1/8"));
}

#[test]
fn measures_that_were_typed_reach_the_blank() {
    let spec = CardSpec::of(a2(true));
    let worked = work_out(&spec, &Tools::INCH).unwrap();
    let blank = |tab: Option<&str>, flap: Option<&str>| {
        let made = Make::StraightEnvelope {
            inside: Some(size("5-3/4x4-3/8")),
            tab: tab.map(length),
            flap: flap.map(length),
        };
        made.build(&spec, &worked, &Tools::INCH).unwrap()[0].clone()
    };
    let own = |tab: &str, flap: &str| {
        let straight = Straight { inside: size("5-3/4x4-3/8"), tab: length(tab), flap: length(flap) };
        straight.make(&Tools::INCH).unwrap()
    };
    assert_eq!(blank(Some("1/2"), Some("2")), own("1/2", "2"));
    // The usual tab is 3/4 in; the usual flap two fifths of 4 3/8, up to the next mark: 1 3/4.
    assert_eq!(blank(None, None), own("3/4", "1-3/4"));
    let Part::Layer(frame) = PartKind::Frame.read("1/8, 1/2, 1/8", Unit::Inch).unwrap() else {
        panic!("a frame is a layer")
    };
    assert_eq!(frame.frame.unwrap().border, Reveal::all(length("1/2")));
    // Typed anew, a bag keeps the tab and the bottom that were not typed.
    let bag = |width: &str, tab: &str, bottom: Option<&str>| {
        Make::Bag(Bag {
            width: length(width),
            depth: length("2"),
            height: length("6"),
            tab: length(tab),
            bottom: bottom.map(length),
        })
    };
    let kept = keep_rest(&bag("4", "1", Some("3")), bag("5", "3/4", None));
    assert_eq!(kept, bag("5", "1", Some("3")));
}
