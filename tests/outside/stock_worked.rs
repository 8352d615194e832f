//! Tasks of the shelf in the manner of `trade/acceptance_tasks.csv`, each worked by hand with its working beside it.

use super::stock::{Bench, DAY, booking_of, cents, needed, size};
use jiff::civil::date;
use trimside::domain::edit::Edit;
use trimside::domain::money::Money;
use trimside::domain::project::{PieceWanted, Project, Supply};
use trimside::domain::stock::class::OpenPapers;
use trimside::domain::stock::cost::costs;
use trimside::domain::stock::lot::lots;
use trimside::domain::stock::needs::alone_on_a_sheet;
use trimside::domain::stock::reorder::{reorder, wanting};
use trimside::domain::stock::shortage::shortage;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine, class, shelf};

fn piece(paper: ItemId, sides: &str, count: u32) -> PieceWanted {
    PieceWanted { paper: Some(paper), ..PieceWanted::new(format!("piece {sides}"), size(sides), count) }
}

#[test]
fn nine_seats_and_two_samples_of_three_bases() {
    // (9 + 2) x 3 = 33 bases; 10 % of 33 is 3.3, up to 4; 1 fixed: 38. A base 5 1/2 x 8 1/2 goes twice on letter: 19 sheets.
    // Opened 19 x 0.45 = 8.55, by yield 38 / 2 x 0.45 = 8.55; tape, one a card, 38 x 0.06 = 2.28. In all 10.83:
    // 10.83 / 9 = 1.2033, up to 1.21 a seat.
    let mut bench = Bench::default();
    let letter = bench.paper("letter stock", "8.5x11", 45);
    let tape = bench.item(Item { price: cents(6), ..Item::new("tape", Kind::Adhesive) });
    let id = bench.project(Project {
        seats: 9,
        samples: 2,
        spoilage_percent: 10,
        spoilage_fixed: 1,
        pieces: vec![piece(letter, "5.5x8.5", 3)],
        supplies: vec![Supply { item: tape, count: 3 }],
        ..Project::new("bases")
    });
    let needed = needed(&bench.0, id);
    let bases = &needed.list.pieces[0];
    assert_eq!((bases.made, alone_on_a_sheet(&bench.0, bases), needed.still()[&letter]), (38, 2, 19));
    let cost = costs(&bench.0, id, &needed).unwrap();
    assert_eq!((cost.opened, cost.by_yield), (Money::from_minor(1083), Money::from_minor(1083)));
    assert_eq!(cost.break_even(), cents(121));
}

#[test]
fn a_pack_price_is_parted_to_the_nearest_cent_once() {
    // A pack of 24 at 12.50; 37 mats 4 x 5 1/4, four a sheet of letter: 9.25 sheets by yield, 10 opened.
    // Opened 12.50 x 10 / 24 = 5.2083, 5.21; by yield 12.50 x 9.25 / 24 = 4.8177, 4.82.
    // With 5 strips 8 1/2 x 1, eleven a sheet: ten sheets hold both, since the tenth has one mat and room for the strips;
    // by yield 9.25 + 5 / 11 = 9.7045 sheets: 5.0544, 5.05.
    let mut bench = Bench::default();
    let letter = bench.paper("letter stock", "8.5x11", 1250);
    let was = bench.0.items().get(letter).unwrap().clone();
    let now = Item { pack: 24, ..was.clone() };
    bench.do_it(&Edit::Item(trimside::domain::edit::Row::alter(letter, was, now)));
    let mats = Project { pieces: vec![piece(letter, "4x5.25", 37)], ..Project::new("mats") };
    let both = Project {
        pieces: vec![piece(letter, "4x5.25", 37), piece(letter, "8.5x1", 5)],
        ..Project::new("mats and strips")
    };
    for (project, opened, by_yield) in [(mats, 521, 482), (both, 521, 505)] {
        let id = bench.project(project);
        let cost = costs(&bench.0, id, &needed(&bench.0, id)).unwrap();
        assert_eq!((cost.opened.minor(), cost.by_yield.minor()), (opened, by_yield));
    }
}

#[test]
fn three_uses_of_two_lots_cost_what_the_lots_did() {
    // 10 at 3.33, then 7 at 2.50; 4, 5 and 6 are used. Running totals rounded down: 1.33, 2.99, 3.33 of the first lot and
    // 1.78 of the second: 1.33, 1.66, 0.34 + 1.78 = 2.12; two sheets worth 0.72 are left.
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "8.5x11", 45);
    for (n, price) in [(10, 333), (7, 250)] {
        bench.do_it(&Edit::Log(NewLine::received(fern, n, "").for_price(Money::from_minor(price))));
    }
    for n in [4, 5, 6] {
        bench.do_it(&Edit::Log(NewLine::used(fern, n, "cards")));
    }
    let lots = lots(&bench.0, fern);
    assert_eq!(lots.draws.iter().map(|d| d.cost.minor()).collect::<Vec<_>>(), [133, 166, 212]);
    assert_eq!(lots.value(), (Money::from_minor(72), 0));
}

#[test]
fn what_is_on_order_and_what_is_booked_both_count() {
    // Mark 20, 30 on hand, 18 booked, 5 on order: 20 - (30 - 18 + 5) = 3 wanting, one pack of 8 at 4.40. With 12 more
    // booked, 30 in all, 15 are wanting: two packs, 16 sheets, 8.80; nothing is short, since 30 lie there.
    let mut bench = Bench::default();
    let paper = Item { low: 20, pack: 8, price: cents(440), ..Item::new("moss", Kind::PlainSheet) };
    let moss = bench.item(paper);
    bench.receive(moss, 30);
    let order = shelf::ordered(&bench.0, moss, 5, DAY);
    bench.do_it(&order);
    for (name, booked, wanted, packs, price) in [("one", 18, 3, 1, 440), ("two", 12, 15, 2, 880)] {
        let class = bench.project(Project::new(name));
        bench.book_for(class, moss, booked, Some(date(2026, 4, 1)));
        let list = reorder(&bench.0, DAY);
        let line = &list.sellers[0].lines[0];
        assert_eq!((wanting(&bench.0, moss), line.packs, line.brings), (wanted, packs, packs * 8), "{name}");
        assert_eq!(line.price, cents(price), "{name}");
        assert_eq!(shortage(&bench.0, moss), None, "{name}");
    }
}

#[test]
fn a_cancelled_class_frees_its_sheets_and_a_taught_one_uses_them() {
    // Two classes of 8 seats, 12 mats 4 x 5 1/4 a seat: 96 mats, four a letter sheet: 24 sheets each. 40 lie there: the
    // second one is 8 short. When the first is cancelled nothing is; when the second was taught 16 are left, all free.
    let mut bench = Bench::default();
    let paper = bench.paper("oat", "8.5x11", 45);
    bench.receive(paper, 40);
    let class = |name: &str, day| Project {
        seats: 8,
        date: Some(date(2026, 4, day)),
        pieces: vec![piece(paper, "4x5.25", 12)],
        ..Project::new(name)
    };
    let (first, second) = (bench.project(class("first", 1)), bench.project(class("second", 8)));
    for id in [first, second] {
        let edit = booking_of(&bench.0, id).unwrap();
        bench.do_it(&edit);
    }
    assert_eq!((bench.0.booked(paper), bench.0.free(paper)), (48, -8));
    let short = shortage(&bench.0, paper).unwrap();
    assert_eq!((short.missing, short.project), (8, second), "the earlier class comes first");
    let edit = class::cancel(&bench.0, first).unwrap();
    bench.do_it(&edit);
    assert_eq!((bench.0.free(paper), shortage(&bench.0, paper)), (16, None));
    let edit = class::taught(&bench.0, second, OpenPapers::Used).unwrap();
    bench.do_it(&edit);
    assert_eq!((bench.0.on_hand(paper), bench.0.booked(paper), bench.0.free(paper)), (16, 0, 16));
}
