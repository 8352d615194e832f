//! The shelf: which way a piece may lie, money left over, packs, marks, lots, and days that are the very day.

use crate::outside::stock::{Bench, DAY, cents, size};
use jiff::civil::date;
use trimside::domain::cutlist::{self, Counted, CutList};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::money::Money;
use trimside::domain::project::{PieceWanted, Project, ProjectCard};
use trimside::domain::stock::assort::{Wanted, cover};
use trimside::domain::stock::class::kit;
use trimside::domain::stock::cost::Costs;
use trimside::domain::stock::lot::{lots, mixed_lots};
use trimside::domain::stock::reorder::reorder;
use trimside::domain::stock::shelf::{Come, suggested_mark};
use trimside::domain::stock::shortage::shortage;
use trimside::domain::stock::{Assortment, Item, ItemId, Kind, NewLine, Order, State};

fn strip(paper: ItemId, turn: bool) -> PieceWanted {
    PieceWanted { paper: Some(paper), turn, ..PieceWanted::new("strip", size("2x3"), 1) }
}

/// A pack of two papers for 7.00.
fn pack(contents: Vec<(ItemId, u32)>) -> Assortment {
    let text = String::new;
    let state = State::Current;
    Assortment {
        name: "both".to_owned(),
        order_number: text(),
        seller: text(),
        price: cents(700),
        contents,
        state,
        note: text(),
    }
}

/// A piece turns where it may and its paper's pattern has no upright: both are asked.
#[test]
fn a_piece_turns_only_where_it_may_and_the_pattern_lets_it() {
    let mut bench = Bench::default();
    let birds = bench.item(Item {
        size: Some(size("12x12")),
        one_way: true,
        ..Item::new("birds", Kind::PatternedPaper)
    });
    let plain = bench.paper("plain", "12x12", 60);
    for (paper, turn, turns) in
        [(plain, true, true), (plain, false, false), (birds, true, false), (birds, false, false)]
    {
        let project = Project { pieces: vec![strip(paper, turn)], ..Project::new("p") };
        let list = cutlist::of_project(&bench.0, &project);
        assert_eq!(list.pieces[0].may_turn, turns, "{paper:?} {turn}");
        assert_eq!(list.pieces[0].one_way, paper == birds);
    }
}

/// 14 seats at 5.00 bring 70.00; material 44.85, work 20.00: 5.15 is left, without work 25.15.
#[test]
fn what_is_left_over_is_less_material_and_work() {
    let costs = |work: i64| Costs {
        opened: Money::from_minor(4485),
        work: Money::from_minor(work),
        seats: 14,
        seat_price: cents(500),
        ..Costs::default()
    };
    assert_eq!(costs(2000).left_over(), cents(515));
    assert_eq!(costs(0).left_over(), cents(2515));
    // 64.85 over 14 seats is 4.632: a seat sold for 4.63 would not pay.
    assert_eq!(costs(2000).break_even(), cents(464));
}

/// Of a pack with 2 of one paper and 3 of another, 3 packs bring the 5 that are wanted of the first; only one is needed for
/// the 2 of the second. What is needed most decides, where the first is not to be had alone.
#[test]
fn as_many_packs_as_the_most_wanted_paper_needs() {
    let mut bench = Bench::default();
    let fern = bench.item(Item { sold_alone: false, ..Item::new("fern", Kind::PlainSheet) });
    let plum = bench.item(Item { sold_alone: true, ..Item::new("plum", Kind::PlainSheet) });
    let pack = pack(vec![(fern, 2), (plum, 3)]);
    let id = bench.0.assortments().next();
    bench.do_it(&Edit::Assortment(Row::add(id, pack)));
    let wanted = [
        Wanted { item: fern, count: 5, alone: None },
        Wanted { item: plum, count: 2, alone: Some((1, cents(50))) },
    ];
    let found = cover(&bench.0, &wanted, DAY);
    assert_eq!(found.packs, [(id, 3)]);
    assert!(found.rest.is_empty());
}

/// A pack covers no more than is wanted; the rest of what it brings is named apart.
#[test]
fn a_pack_covers_what_is_wanted_and_brings_the_rest_besides() {
    let mut bench = Bench::default();
    let fern = bench.item(Item { sold_alone: false, low: 5, ..Item::new("fern", Kind::PlainSheet) });
    let plum = bench.item(Item { sold_alone: false, low: 1, ..Item::new("plum", Kind::PlainSheet) });
    let pack = pack(vec![(fern, 3), (plum, 3)]);
    let id = bench.0.assortments().next();
    bench.do_it(&Edit::Assortment(Row::add(id, pack)));
    let list = reorder(&bench.0, DAY);
    let line = &list.sellers[0].packs[0];
    // Two packs bring six of each: of fern five are wanted and one is over, of plum one and five.
    assert_eq!(
        (line.packs, &line.covers, &line.also),
        (2, &vec![(fern, 5), (plum, 1)], &vec![(fern, 1), (plum, 5)])
    );
}

/// The largest draw was a slip of 40, taken back: 3 on one day for one job is the largest that stands.
#[test]
fn a_suggested_mark_leaves_out_what_was_taken_back() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    bench.receive(fern, 50);
    bench.do_it(&Edit::Log(NewLine::used(fern, 40, "slip")));
    let line = bench.0.log().last().unwrap().seq;
    assert_eq!(suggested_mark(&bench.0, fern), 40);
    bench.do_it(&Edit::Void { line });
    bench.do_it(&Edit::Log(NewLine::used(fern, 2, "tags")));
    bench.do_it(&Edit::Log(NewLine::used(fern, 1, "tags")));
    assert_eq!(suggested_mark(&bench.0, fern), 3);
}

/// Two lots without a mark are nothing to warn of, nor is one mark beside none; two marks are, and what has none is told.
#[test]
fn lots_without_a_mark_are_no_second_colour() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let come = |lot: &str| Come { lot: lot.to_owned(), ..Come::default() };
    for lot in ["", "", "A"] {
        bench.do_it(&Edit::Log(come(lot).received(fern, 2)));
    }
    assert_eq!(mixed_lots(&bench.0, fern, 4), None);
    assert_eq!(mixed_lots(&bench.0, fern, 6), None, "one mark and none");
    bench.do_it(&Edit::Log(come("B").received(fern, 2)));
    let said = mixed_lots(&bench.0, fern, 8).unwrap();
    assert!(said.contains("4 without a mark, 2 of lot A, 2 of lot B"), "{said}");
}

/// Four at 1.00 and then four at 3.00: five used cost 4 x 0.25 and 1 x 0.75.
#[test]
fn what_a_use_cost_is_first_in_first_out() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    for price in [100, 300] {
        let come = Come { price: cents(price), ..Come::default() };
        bench.do_it(&Edit::Log(come.received(fern, 4)));
    }
    bench.do_it(&Edit::Log(NewLine::used(fern, 5, "tags")));
    let all = lots(&bench.0, fern);
    assert_eq!(all.draws[0].known_cost(), cents(175));
    assert_eq!(all.lots.iter().map(|l| l.used_cost()).collect::<Vec<_>>(), [cents(100), cents(75)]);
    let worth = all.lots.iter().map(|l| l.value()).collect::<Vec<_>>();
    assert_eq!(worth, [cents(0), cents(225)]);
    // Three more, of which one has no price: what is known is told as less than all.
    bench.receive(fern, 1);
    bench.do_it(&Edit::Log(NewLine::used(fern, 4, "tags")));
    let draw = &lots(&bench.0, fern).draws[1];
    assert_eq!(
        (draw.known_cost(), draw.unpriced, draw.cost_words("$").as_str()),
        (cents(225), 1, "over $2.25")
    );
}

/// What must be ordered by today can be ordered today; by yesterday is late.
#[test]
fn the_day_to_order_by_is_not_late_on_that_day() {
    let mut bench = Bench::default();
    let fern = bench.item(Item { sold_alone: true, lead_days: 10, ..Item::new("fern", Kind::PlainSheet) });
    let project = bench.project(Project::new("class"));
    bench.book_for(project, fern, 3, Some(date(2026, 3, 12)));
    let late = |today| reorder(&bench.0, today).sellers[0].lines[0].late;
    assert_eq!(reorder(&bench.0, DAY).sellers[0].lines[0].order_by, Some(DAY));
    assert_eq!((late(date(2026, 3, 1)), late(DAY), late(date(2026, 3, 3))), (false, false, true));
}

/// The last day to order is a day to order.
#[test]
fn what_leaves_can_be_ordered_on_its_last_day() {
    let mut bench = Bench::default();
    let leaving =
        Item { sold_alone: true, state: State::Leaving(DAY), ..Item::new("fern", Kind::PlainSheet) };
    let fern = bench.item(leaving);
    let project = bench.project(Project::new("class"));
    bench.book_for(project, fern, 3, None);
    for (today, listed) in [(date(2026, 3, 1), true), (DAY, true), (date(2026, 3, 3), false)] {
        let list = reorder(&bench.0, today);
        assert_eq!(list.last_orders.len(), usize::from(listed), "{today}");
        assert_eq!(list.sellers.len(), usize::from(listed), "{today}");
        assert_eq!(list.unobtainable.len(), usize::from(!listed), "{today}");
    }
}

/// What comes on the very day is there for the day; what comes the day after is not.
#[test]
fn what_comes_on_the_day_is_in_time() {
    for (expected, missing) in [(date(2026, 3, 11), 0), (date(2026, 3, 12), 0), (date(2026, 3, 13), 3)] {
        let mut bench = Bench::default();
        let fern = bench.item(Item::new("fern", Kind::PlainSheet));
        let project = bench.project(Project::new("class"));
        bench.book_for(project, fern, 3, Some(date(2026, 3, 12)));
        let order = Order { expected: Some(expected), ..Order::of(fern, 3, DAY) };
        let id = bench.0.orders().next();
        bench.do_it(&Edit::Order(Row::add(id, order)));
        assert_eq!(shortage(&bench.0, fern).map_or(0, |s| s.missing), missing, "{expected}");
    }
}

/// What no seat is given is in no kit: pieces and things that are only made to spare.
#[test]
fn a_kit_holds_what_a_seat_is_given() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let project = Project { pieces: vec![strip(fern, true)], seats: 4, ..Project::new("class") };
    let mut list = cutlist::of_project(&bench.0, &project);
    assert_eq!(kit(&list).len(), 1);
    list.pieces[0].a_set = 0;
    assert!(kit(&list).is_empty());
    let ribbon =
        |a_set| CutList { counted: vec![Counted { item: fern, a_set, made: 2 }], ..CutList::default() };
    assert_eq!((kit(&ribbon(0)).len(), kit(&ribbon(1)).len()), (0, 1));
}

/// Eight seats of two cards with ten in a hundred spoiled and three spare: 16 envelopes, and more only where they are asked
/// for. Bases are 16 + 3 and two more for spoilage (1.9, rounded up).
#[test]
fn envelopes_are_neither_spoiled_nor_spare_by_themselves() {
    let mut bench = Bench::default();
    let envelope = bench.item(Item::new("envelope", Kind::Envelope));
    let card = ProjectCard {
        envelope: Some(envelope),
        count: 2,
        spares: 3,
        ..ProjectCard::new("card", size("4.25x5.5"))
    };
    let project = |card: &ProjectCard| Project {
        seats: 8,
        spoilage_percent: 10,
        cards: vec![card.clone()],
        ..Project::new("class")
    };
    let envelopes = |card: &ProjectCard| cutlist::of_project(&bench.0, &project(card)).counted[0].made;
    assert_eq!(cutlist::made(&project(&card), 2, 3), 21);
    assert_eq!(envelopes(&card), 16);
    assert_eq!(envelopes(&ProjectCard { envelope_spares: 2, ..card.clone() }), 18);
}
