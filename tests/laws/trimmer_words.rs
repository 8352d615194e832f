//! Follows the words of cut lists on every kind of trimmer, with nothing but the words: which edge is set, which edge lies
//! along the rail, what the setting is and what it is for, on which side of the blade each part lies. Knows no profile, no
//! tree and no type of step.

use super::law_of;
use super::replay::{self, between};
use proptest::prelude::*;
use trimside::domain::cutting::one_size::answer;
use trimside::domain::cutting::question::Question;
use trimside::domain::cutting::trimmer_profile::TrimmerProfile;
use trimside::domain::length::{Length, Unit};
use trimside::domain::sheet::Sheet;
use trimside::domain::size::Size;

/// A trimmer as somebody has it before them: the word for what is set, the side on which a set edge lies (0 left, 1 top,
/// 2 right, counted as a turn to the right carries them), whether there is a rail above, where the two parts lie.
struct Trimmer {
    name: &'static str,
    word: &'static str,
    side: usize,
    has_rail: bool,
    set_part: &'static str,
    rest: &'static str,
}

const TRIMMERS: [Trimmer; 4] = [
    Trimmer {
        name: "fence",
        word: "Fence",
        side: 0,
        has_rail: false,
        set_part: "Fence side",
        rest: "Beyond the blade",
    },
    Trimmer {
        name: "stop",
        word: "Stop",
        side: 1,
        has_rail: false,
        set_part: "Behind the blade",
        rest: "On your side",
    },
    Trimmer {
        name: "ruler-left",
        word: "Ruler",
        side: 0,
        has_rail: true,
        set_part: "Left of the blade",
        rest: "Right of the blade",
    },
    Trimmer {
        name: "ruler-right",
        word: "Ruler",
        side: 2,
        has_rail: true,
        set_part: "Right of the blade",
        rest: "Left of the blade",
    },
];

/// Edges in the order in which a turn to the right carries each to the place of the next.
const ROUND: [&str; 4] = ["left", "top", "right", "bottom"];

/// Reads a step at a trimmer that cuts `error` over what it is set to, and says it as it is said at a fence that cuts true.
fn at_a_fence(
    words: &str,
    own: &Trimmer,
    error: Length,
    corrects: bool,
    unit: Unit,
) -> Result<String, String> {
    let head = words.split(": ").next().unwrap_or_default();
    let (what, set) = head.split_once(' ').ok_or("no setting")?;
    if what != own.word || (own.word != "Fence" && words.contains("ence")) {
        return Err(format!("\"{what}\" on a trimmer with a {}", own.word));
    }
    let (set, note) = set.split_once(" (").map_or((set, None), |(s, n)| (s, Some(n.trim_end_matches(')'))));
    let set = replay::length(set, unit)?;
    let wanted = match note {
        None if error == Length::ZERO => set,
        None => return Err("the error is not said".into()),
        Some(note) if corrects && note.starts_with("for ") => {
            let wanted = replay::length(&note["for ".len()..], unit)?;
            // Millimetres are said to the hundredth: each of the three lengths is off by half of one at most.
            let beside = (set + error - wanted).units().abs();
            if beside > if unit == Unit::Inch { 0 } else { 6 } {
                return Err(format!("set to {set} it gives {}, not {wanted}", set + error));
            }
            wanted
        }
        Some(note) => {
            let way = if error.is_positive() { "over" } else { "under" };
            let said = replay::length(between(note, "comes out ", &format!(" {way}"))?, unit)?;
            if said != replay::length_as_said(error.abs(), unit) {
                return Err(format!("comes out {said} {way}, it is {error}"));
            }
            set
        }
    };
    let edge = between(words, ": ", " edge (")?;
    let along = between(words, "edge (", ")")?;
    let (_, rest) = words.split_once(") ").ok_or("no edge")?;
    let rest = rest.split_once(" of ").filter(|_| rest.starts_with("at the mark, ")).map_or_else(
        || if own.has_rail { Err("no rail".to_owned()) } else { Ok(rest.trim_start_matches("of ")) },
        |(rail, rest)| rail_lies_above(rail, edge, own).map(|()| rest),
    )?;
    let (cuts, parts) = rest.split_once(&format!(" {}: ", own.set_part)).ok_or("no part that is set")?;
    let (part, over) = parts.split_once(&format!(" {}: ", own.rest)).ok_or("no part that remains")?;
    Ok(format!(
        "Fence {}: {edge} edge ({along}) of {cuts} Fence side: {part} Beyond the blade: {over}",
        wanted.show_with_unit(unit)
    ))
}

/// The edge that is said to lie along the rail is above once the edge that is set lies on its side.
fn rail_lies_above(rail: &str, edge: &str, own: &Trimmer) -> Result<(), String> {
    let said = between(rail, "at the mark, ", " edge along the top rail,")?;
    let place = |name: &str| ROUND.iter().position(|e| *e == name).ok_or(format!("no edge \"{name}\""));
    let turned = (own.side + 4 - place(edge)?) % 4;
    if own.has_rail && (place(said)? + turned) % 4 == 1 {
        return Ok(());
    }
    Err(format!("with the {edge} edge at the mark the {said} edge is not above"))
}

fn follow(own: &Trimmer, question: &Question, error: Length, unit: Unit) -> Result<(), String> {
    let a = answer(question);
    if a.steps.is_empty() {
        return Ok(());
    }
    let corrects = question.trimmer.profile.corrects;
    let words = a.steps.iter().map(|s| at_a_fence(&s.words(unit), own, error, corrects, unit));
    let words = words.collect::<Result<Vec<_>, _>>()?;
    let mut table = replay::words_at_the_table(a.sheet, 1, unit, &words)?;
    table.cuts.clear();
    if table == replay::table_of(&a.layout, unit) {
        Ok(())
    } else {
        Err(format!("{table:?} is not the layout"))
    }
}

proptest! {
    #![proptest_config(law_of(100, 2_000))]

    /// On each trimmer, with a test strip or without, its error taken off or not, the words alone lead to the layout.
    #[test]
    fn the_words_lead_to_the_layout_on_every_trimmer(
        sheet in (48_i64..200, 48_i64..200),
        piece in (9_i64..80, 9_i64..80),
        test in prop_oneof![Just(None), (-3_i64..4).prop_map(Some)],
        corrects in any::<bool>(),
        metric in any::<bool>(),
    ) {
        let inches = |(w, h): (i64, i64)| Size::new(Length::sixteenths(w), Length::sixteenths(h));
        let unit = if metric { Unit::Mm } else { Unit::Inch };
        let error = test.map_or(Length::ZERO, Length::sixty_fourths);
        for own in &TRIMMERS {
            let mut question = Question::new(inches(piece), Sheet::new("sheet", inches(sheet)));
            question.trimmer.profile = TrimmerProfile::parse(own.name, unit).unwrap();
            question.trimmer.profile.test = test.map(|_| {
                let set = Length::inches(4);
                trimside::domain::cutting::trimmer_profile::TestStrip { set, measured: set + error }
            });
            question.trimmer.profile.corrects = corrects && test.is_some();
            let done = follow(own, &question, error, unit);
            prop_assert!(done.is_ok(), "{} {question:?}: {done:?}", own.name);
        }
    }
}

/// The follower itself: wrong words are noticed. Letter, top edge to 3 in on a ruler left of the blade: worked by hand.
#[test]
fn wrong_words_are_noticed() {
    let good = "Ruler 2 31/32 in (for 3 in): top edge (8 1/2 in) at the mark, right edge along the top rail, of 1 sheet \
                8 1/2 x 11 in. 1 cut, stroke 1 of 1. Left of the blade: 1 piece 8 1/2 x 3 in. Right of the blade: 1 \
                offcut 8 1/2 x 8 in.";
    let error = Length::sixty_fourths(2);
    let sheet = Size::new(Length::sixteenths(136), Length::inches(11));
    let table = |words: &str| {
        let words = at_a_fence(words, &TRIMMERS[2], error, true, Unit::Inch)?;
        replay::words_at_the_table(sheet, 1, Unit::Inch, &[words])
    };
    assert_eq!(table(good).map(|t| t.pieces.len()), Ok(1));
    for (from, to) in [
        ("2 31/32", "3 1/32"),
        ("for 3 in", "for 3 1/4 in"),
        (" (for 3 in)", ""),
        ("right edge along", "left edge along"),
        ("top edge", "left edge"),
        ("Ruler", "Fence"),
        ("Left of the blade: 1 piece 8 1/2 x 3 in. Right", "Right of the blade: 1 piece 8 1/2 x 3 in. Left"),
        ("at the mark, right edge along the top rail, ", ""),
    ] {
        assert!(table(&good.replacen(from, to, 1)).is_err(), "{from} -> {to}");
    }
}

/// A strip of 1 in off a sheet 12 x 12, worked by hand. At a fence the strip lies under the hand: the other way round 11 in is
/// set from the other side, and it falls off. On a stop behind the blade it falls off as it is. With the thinnest strip said
/// to be 3/4 in there is nothing to warn of; twelve such strips, one after the other, have no other way round.
#[test]
fn a_narrow_strip_is_offered_the_other_way_round() {
    use trimside::domain::cutting::geometry::{CutLine, Edge};
    use trimside::domain::cutting::question::Trimmer;
    use trimside::domain::cutting::step::{OtherWay, Warning};
    use trimside::domain::cutting::steps::cut_list;
    use trimside::domain::cutting::tree::Tree;
    let sheet = Size::new(Length::inches(12), Length::inches(12));
    let piece = || Tree::Piece { piece: 0, turned: false };
    let one = Tree::split(CutLine::Down, Length::inches(1), piece(), Tree::Offcut);
    let warned = |tree: &Tree, trimmer: &Trimmer| cut_list(sheet, tree, trimmer, 1).steps[0].warnings.clone();
    let fence = Trimmer::default();
    let other = OtherWay { fence: Length::inches(11), edge: Edge::Right };
    let width = Length::inches(1);
    assert_eq!(warned(&one, &fence), [Warning::NarrowHold { width, other_way: Some(other) }]);
    let words = cut_list(sheet, &one, &fence, 1).steps[0].words(Unit::Inch);
    assert!(words.contains("set the right edge to 11 in instead, so that the strip falls off"), "{words}");
    let mut stop = fence;
    stop.profile = TrimmerProfile::parse("stop", Unit::Inch).unwrap();
    assert_eq!(warned(&one, &stop), []);
    assert_eq!(warned(&one, &Trimmer { smallest_strip: Length::sixteenths(12), ..fence }), []);
    let short = Trimmer { largest_setting: Some(Length::inches(10)), ..fence };
    assert_eq!(warned(&one, &short), [Warning::NarrowHold { width, other_way: None }]);
    let two = Tree::split(CutLine::Down, Length::inches(1), piece(), one.clone());
    let words = cut_list(sheet, &two, &fence, 1).steps[0].words(Unit::Inch);
    assert!(words.contains("Narrow: only 1 in lies under the hand; use knife and steel rule."), "{words}");
}
