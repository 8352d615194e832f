//! The cut list: what a piece already cut counts for, which pieces something can be said of, and what it then says.

use crate::outside::stock::{Bench, length, size};
use trimside::domain::cards::fold::Side;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cardwork::CardPart;
use trimside::domain::cutlist::parts::{CutRules, parts, with};
use trimside::domain::cutlist::{self, ListPart};
use trimside::domain::length::Length;
use trimside::domain::project::{PaperRef, PieceWanted, Project, ProjectCard};
use trimside::domain::size::Grain;
use trimside::domain::stock::work::CutPiece;
use trimside::domain::stock::{Item, ItemId, Kind};

fn loose(name: &str, of: &str, count: u32, paper: ItemId) -> PieceWanted {
    PieceWanted { paper: Some(paper), ..PieceWanted::new(name, size(of), count) }
}

/// Four tags and three labels of 2 x 3, two tickets of 2 x 3 from another paper, one strip of 1 x 6. Cut and called tag: five.
/// Four are the tags, the fifth is a label. A ticket's paper decides, and a strip's size.
#[test]
fn a_cut_piece_counts_for_its_name_first_then_for_its_like() {
    let mut bench = Bench::default();
    let (fern, plum) = (bench.paper("fern", "12x12", 60), bench.paper("plum", "12x12", 60));
    let pieces = vec![
        loose("label", "2x3", 3, fern),
        loose("tag", "2x3", 4, fern),
        loose("ticket", "2x3", 2, plum),
        loose("strip", "1x6", 1, fern),
    ];
    let list = cutlist::of_project(&bench.0, &Project { pieces, ..Project::new("p") });
    let cut =
        |paper, name: &str, of: &str, count| CutPiece { paper, name: name.into(), size: size(of), count };
    assert_eq!(list.still_to_cut(&[]), [3, 4, 2, 1]);
    assert_eq!(list.still_to_cut(&[cut(fern, "tag", "2x3", 5)]), [2, 0, 2, 1]);
    assert_eq!(list.still_to_cut(&[cut(fern, "tag", "2x3", 3)]), [3, 1, 2, 1]);
    // A name from before a renaming: first come, first served.
    assert_eq!(list.still_to_cut(&[cut(fern, "old name", "2x3", 4)]), [0, 3, 2, 1]);
    assert_eq!(list.still_to_cut(&[cut(plum, "tag", "2x3", 1)]), [3, 4, 1, 1]);
    assert_eq!(list.still_to_cut(&[cut(fern, "strip", "1x5", 1)]), [3, 4, 2, 1]);
    assert_eq!(list.still_to_cut(&[cut(fern, "tag", "3x2", 4)]), [3, 4, 2, 1], "lying the other way");
    let two = [cut(fern, "tag", "2x3", 1), cut(fern, "label", "2x3", 9)];
    assert_eq!(list.still_to_cut(&two), [0, 0, 2, 1], "more than are wanted are nothing more");
}

/// A tag of 2 x 3 with 1/8 in around it for a die is cut to 2 1/4 x 3 1/4, and known by that.
#[test]
fn a_piece_is_known_by_the_size_it_is_cut_to() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let made_by = MadeBy::DieCut;
    let tag = PieceWanted { made_by, allowance: length("1/8"), ..loose("tag", "2x3", 4, fern) };
    let list = cutlist::of_project(&bench.0, &Project { pieces: vec![tag], ..Project::new("p") });
    assert_eq!(list.pieces[0].cut_size(), size("2.25x3.25"));
    let cut = |of: &str| [CutPiece { paper: fern, name: "tag".into(), size: size(of), count: 1 }];
    assert_eq!((list.still_to_cut(&cut("2x3")), list.still_to_cut(&cut("2.25x3.25"))), (vec![4], vec![3]));
    assert_eq!(list.pieces[0].called(), "tag, die-cut");
    let row = list.pieces[0].for_job(3, "fern, 12x12".to_owned());
    assert_eq!((row.name.as_str(), row.count, row.finished), ("tag", 3, size("2x3")));
    assert_eq!((row.allowance, row.paper.as_deref()), (length("1/8"), Some("fern, 12x12")));
}

/// Twelve kits of two tags with one kit of samples, ten in a hundred spoiled and one more: 26, 2.6 rounded up and 1.
#[test]
fn spoilage_is_rounded_up_once_and_nothing_stays_nothing() {
    let project =
        Project { seats: 12, samples: 1, spoilage_percent: 10, spoilage_fixed: 1, ..Project::new("p") };
    assert_eq!(cutlist::made(&project, 2, 0), 26 + 3 + 1);
    assert_eq!(cutlist::made(&project, 0, 4), 4 + 1 + 1, "spares alone");
    assert_eq!(cutlist::made(&project, 0, 0), 0, "and no spoilage of nothing");
}

/// One supply named twice is one line; one of which none is made is none.
#[test]
fn a_counted_thing_stands_once() {
    let mut bench = Bench::default();
    let envelope = bench.item(Item::new("envelope", Kind::Envelope));
    let card =
        |count| ProjectCard { envelope: Some(envelope), count, ..ProjectCard::new("card", size("4.25x5.5")) };
    let project = |cards| Project { seats: 5, cards, ..Project::new("class") };
    let list = cutlist::of_project(&bench.0, &project(vec![card(1), card(2)]));
    assert_eq!(list.counted.len(), 1);
    assert_eq!((list.counted[0].a_set, list.counted[0].made), (3, 15));
    assert!(cutlist::of_project(&bench.0, &project(vec![card(0)])).counted.is_empty());
}

/// A base without a paper is bought ready made and is no fault; any other piece without one is told.
#[test]
fn only_a_base_may_want_its_paper_without_a_word() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let card = ProjectCard { count: 1, ..ProjectCard::new("card", size("4.25x5.5")) };
    let matted = card.with_mats(&[length("1/8"), length("1/8")], &[Some(fern)]);
    let tag = PieceWanted::new("tag", size("2x3"), 1);
    let project = Project { cards: vec![matted], pieces: vec![tag], ..Project::new("p") };
    let list = cutlist::of_project(&bench.0, &project);
    assert_eq!(
        list.notes,
        [
            "card, mat 2: no paper is chosen, so it is not planned",
            "tag: no paper is chosen, so it is not planned"
        ]
    );
    assert_eq!(list.pieces.iter().filter(|p| p.paper == Some(fern)).count(), 1);
    assert_eq!(list.pieces.len(), 4);
}

/// Bases, layers and loose pieces, in that order, each with what was said of it; nothing else has rules of its own.
#[test]
fn rules_are_listed_and_given_piece_by_piece() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let card = ProjectCard {
        base_paper: Some(PaperRef::Shelf(fern)),
        count: 1,
        ..ProjectCard::new("card", size("4.25x5.5"))
    };
    let project = Project {
        cards: vec![card.with_mats(&[length("1/8")], &[Some(fern)])],
        pieces: vec![PieceWanted { turn: false, ..loose("tag", "2x3", 1, fern) }],
        ..Project::new("p")
    };
    let rows = parts(&bench.0, &project);
    let places: Vec<ListPart> = rows.iter().map(|r| r.part).collect();
    let (base, mat, tag) =
        (ListPart::Card(0, CardPart::Base), ListPart::Card(0, CardPart::Layer(0)), ListPart::Loose(0));
    assert_eq!(places, [base, mat, tag]);
    assert_eq!([rows[1].size, rows[2].size], [size("4x5.25"), size("2x3")]);
    assert!(rows[1].rules.may_turn && !rows[2].rules.may_turn);

    let said =
        CutRules { made_by: MadeBy::DieCut, allowance: length("1/4"), may_turn: false, grain: Grain::Short };
    for row in &rows[1..] {
        let now = with(&project, row, said).unwrap();
        let after = parts(&bench.0, &now);
        for (was, is) in rows.iter().zip(&after) {
            let expected = if was.part == row.part { said } else { was.rules };
            assert_eq!(is.rules, expected, "{}", was.name);
        }
    }
    let gone = Project::new("p");
    for row in &rows {
        let rules = CutRules { may_turn: true, grain: Grain::Unknown, ..said };
        let why = with(&gone, row, rules).unwrap_err();
        assert!(why.contains("is not a piece of this project any more"), "{why}");
    }
}

/// A base of 8 1/2 x 5 1/2 lies longer in its width, one of 4 1/4 x 11 in its height: grain long is along that side, short
/// along the other. A square base, 4 x 4 opened from 2 x 4, has no longer one.
#[test]
fn the_grain_of_a_base_is_said_by_its_sides() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let project = |face: &str| Project {
        cards: vec![ProjectCard {
            base_paper: Some(PaperRef::Shelf(fern)),
            count: 1,
            ..ProjectCard::new("card", size(face))
        }],
        ..Project::new("p")
    };
    let rules =
        |grain| CutRules { made_by: MadeBy::Straight, allowance: Length::ZERO, may_turn: true, grain };
    let grain_of = |face: &str, grain| {
        let project = project(face);
        let row = parts(&bench.0, &project).remove(0);
        with(&project, &row, rules(grain)).map(|p| (row.size, p.cards[0].base_grain))
    };
    for (face, base, long, short) in
        [("4.25x5.5", "8.5x5.5", Side::Width, Side::Height), ("2x9", "4x9", Side::Height, Side::Width)]
    {
        assert_eq!(grain_of(face, Grain::Long).unwrap(), (size(base), Some(long)));
        assert_eq!(grain_of(face, Grain::Short).unwrap(), (size(base), Some(short)));
        assert_eq!(grain_of(face, Grain::Unknown).unwrap(), (size(base), None));
    }
    assert_eq!(grain_of("2x4", Grain::Unknown).unwrap(), (size("4x4"), None));
    for grain in [Grain::Long, Grain::Short] {
        assert!(grain_of("2x4", grain).unwrap_err().contains("sides of this base are alike"));
    }
    let fixed = project("4.25x5.5");
    let row = parts(&bench.0, &fixed).remove(0);
    let why = with(&fixed, &row, CutRules { may_turn: false, ..rules(Grain::Long) }).unwrap_err();
    assert!(why.contains("a base may always turn"), "{why}");
}
