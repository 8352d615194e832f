//! What follows from log, bookings and orders: work done, fields read back, what is taught and sold, who is served first.

use crate::outside::stock::{Bench, DAY, cents, size};
use jiff::civil::date;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::length::Unit;
use trimside::domain::money::Money;
use trimside::domain::project::{Afterwards, PieceWanted, Progress, Project, ProjectCard, Sale, SaleKind};
use trimside::domain::sheet::Formats;
use trimside::domain::stock::designs::{Design, all};
use trimside::domain::stock::field::{Field, Seen, Terms};
use trimside::domain::stock::held_class::Ware;
use trimside::domain::stock::orders::placed;
use trimside::domain::stock::shortage::{served_before, taken_from_others};
use trimside::domain::stock::takings::year;
use trimside::domain::stock::work::{last_lines, work_done};
use trimside::domain::stock::{Item, Kind, MadePiece, NewLine, Order, OrderId, ProjectWork};

/// Pieces cut for a class are added up by paper, name and size: 2 and 3 tags of 2 x 3 are 5, one of 2 x 4 stays by itself.
#[test]
fn pieces_cut_so_far_are_added_up_by_name_and_size() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    bench.receive(fern, 9);
    let class = bench.project(Project::new("class"));
    for (name, of, count) in [("tag", "2x3", 2), ("tag", "2x3", 3), ("tag", "2x4", 1), ("label", "2x3", 4)] {
        let pieces = vec![MadePiece { name: name.into(), size: size(of), count }];
        let work = ProjectWork { pieces, ..ProjectWork::of(class) };
        bench.do_it(&Edit::Log(NewLine::used(fern, 1, "class").for_work(work)));
    }
    let done = work_done(&bench.0, class);
    let counts: Vec<(&str, u32)> = done.pieces.iter().map(|p| (p.name.as_str(), p.count)).collect();
    assert_eq!(counts, [("tag", 5), ("tag", 1), ("label", 4)]);
    assert_eq!(done.items.get(&fern), Some(&4));
}

/// The newest lines of a class come first, and no more of them than are asked for; a line by hand under its name is one of them.
#[test]
fn the_last_lines_of_a_class() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    bench.receive(fern, 9);
    let class = bench.project(Project::new("class"));
    for job in ["class", "other", "class (1 spoiled)", "class"] {
        bench.do_it(&Edit::Log(NewLine::used(fern, 1, job)));
    }
    assert_eq!(last_lines(&bench.0, class, 9), [5, 4, 2]);
    assert_eq!(last_lines(&bench.0, class, 2), [5, 4]);
    bench.do_it(&Edit::Void { line: 5 });
    assert_eq!(last_lines(&bench.0, class, 9), [4, 2]);
}

/// What is typed into a field is read back before it is taken.
#[test]
fn a_field_says_how_it_is_read() {
    let mut bench = Bench::default();
    let fern = bench.item(Item { low: 3, ..Item::new("fern", Kind::PlainSheet) });
    bench.do_it(&Edit::Order(Row::add(OrderId(1), Order::of(fern, 4, DAY))));
    let formats = Formats::built_in();
    let seen = Seen::of(&bench.0, fern).unwrap();
    let terms = Terms { book: &bench.0, formats: &formats, unit: Unit::Inch };
    let read = |field: Field, text: &str| field.words(&seen, text, &terms, DAY).unwrap();
    assert_eq!(read(Field::OnOrder, "7"), "7 on order, +3");
    assert_eq!(read(Field::OnOrder, "1"), "1 on order, -3");
    assert_eq!(read(Field::Gsm, "216"), "216 gsm");
    assert_eq!(read(Field::Size, "8-1/2 x 10"), "8 1/2 x 10 in");
}

/// What can be taught: each card, and a project as a whole where that is more than its one card.
#[test]
fn a_project_is_taught_as_a_whole_where_it_is_more_than_a_card() {
    let card = |name: &str| ProjectCard::new(name, size("4.25x5.5"));
    let tag = || PieceWanted::new("tag", size("2x3"), 1);
    for (cards, pieces, cards_told, whole) in
        [(1, 0, 1, false), (1, 1, 1, true), (2, 0, 2, true), (2, 1, 2, true), (0, 1, 0, true)]
    {
        let mut bench = Bench::default();
        let id = bench.project(Project {
            cards: (0..cards).map(|n| card(&format!("card {n}"))).collect(),
            pieces: (0..pieces).map(|_| tag()).collect(),
            ..Project::new("p")
        });
        let mut expected: Vec<Design> = (0..cards_told).map(|n| Design::Card(id, n)).collect();
        expected.extend(whole.then_some(Design::Whole(id)));
        assert_eq!(all(&bench.0), expected, "{cards} {pieces}");
    }
}

/// What is sold is a line of the shelf where one bears the name, unless it was ordered for somebody; else anything.
#[test]
fn what_is_sold_is_read_by_its_name() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let read = |text, ordered| Ware::read(&bench.0, text, ordered);
    assert_eq!([read("fern", false), read("fern", true)], [Ware::Shelf(fern), Ware::Other("fern")]);
    assert_eq!(
        [read("Kits", false), read("kit", true), read("cake", false)],
        [Ware::Kits, Ware::Kits, Ware::Other("cake")]
    );
}

/// A class that was held, and a batch that sold something; neither a batch that sold nothing nor a class that is open.
#[test]
fn a_year_tells_of_classes_held_and_batches_sold() {
    let mut bench = Bench::default();
    let sale = Sale {
        on: DAY,
        kind: SaleKind::Item,
        what: "tag".into(),
        count: 1,
        takings: Money::from_minor(500),
        cost: Money::ZERO,
        from_shelf: false,
    };
    for (name, seats, sales, progress) in [
        ("class", 4, 0, Progress::Done),
        ("batch sold", 0, 1, Progress::Done),
        ("batch", 0, 0, Progress::Done),
        ("open", 4, 1, Progress::Open),
    ] {
        let afterwards = Afterwards { sales: vec![sale.clone(); sales], ..Afterwards::default() };
        bench.project(Project { date: Some(DAY), seats, progress, afterwards, ..Project::new(name) });
    }
    let told: Vec<String> = year(&bench.0, 2026).rows.into_iter().map(|r| r.name).collect();
    assert_eq!(told, ["batch sold", "class"]);
    assert!(year(&bench.0, 2025).rows.is_empty());
}

/// On one day who booked first is served first; without a booking of its own all of that day come before.
#[test]
fn on_one_day_who_booked_first_is_served_first() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    bench.receive(fern, 5);
    let [one, two, three] = ["one", "two", "three"].map(|name| bench.project(Project::new(name)));
    let day = Some(date(2026, 4, 1));
    bench.book_for(one, fern, 1, day);
    bench.book_for(two, fern, 2, day);
    let first = |id| -> Vec<u32> {
        served_before(&bench.0, id, fern, day).into_iter().map(|(_, b)| b.count).collect()
    };
    assert_eq!((first(one), first(two), first(three)), (vec![], vec![1], vec![2, 1]));
    // 5 there, 3 booked by others: 2 are free, a third is one that somebody has booked.
    assert_eq!(taken_from_others(&bench.0, Some(three), fern, 2), None);
    assert!(taken_from_others(&bench.0, Some(three), fern, 3).unwrap().starts_with("takes 1 of fern that"));
}

/// Orders of one day at one seller are one: 12.00 and 15.00 are 27.00, and what has no price is counted.
#[test]
fn what_was_ordered_together_is_added_up() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    for (n, price) in [cents(1200), cents(1500), None, None].into_iter().enumerate() {
        let order = Order { price, ..Order::of(fern, 4, DAY) };
        bench.do_it(&Edit::Order(Row::add(OrderId(n as u32 + 1), order)));
    }
    let all = placed(&bench.0);
    assert_eq!(all.len(), 1);
    assert_eq!((all[0].lines.len(), all[0].total, all[0].without_price), (4, Money::from_minor(2700), 2));
}
