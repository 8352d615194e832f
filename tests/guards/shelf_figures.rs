//! Figures of the shelf: lists that are read, how fast a line goes, what is still to be used, who shares a shelf, what is put
//! into the bin, and ways out of a shortage.

use super::limits::offcut;
use crate::outside::stock::{Bench, DAY, cents, needed, settled, size};
use jiff::civil::date;
use trimside::domain::cutlist;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::length::Unit;
use trimside::domain::project::{PieceWanted, Progress, Project, Supply};
use trimside::domain::sheet::Formats;
use trimside::domain::size::Grain;
use trimside::domain::stock::calendar::wanted;
use trimside::domain::stock::class::{give_back_only, kit};
use trimside::domain::stock::cut::{CutSheets, Left, log_edit};
use trimside::domain::stock::field::{Field, Seen, Terms};
use trimside::domain::stock::import::{StockRow, import};
use trimside::domain::stock::needs::{Basis, Settled, needs};
use trimside::domain::stock::outlook::outlook;
use trimside::domain::stock::pace::pace;
use trimside::domain::stock::shared_shelf::others;
use trimside::domain::stock::summary::standing;
use trimside::domain::stock::ways::{How, ways_out};
use trimside::domain::stock::{
    Assortment, Booking, Item, ItemId, Kind, MadePiece, NewLine, Offcut, OffcutId, Order, OrderId, State,
};

fn strips(paper: ItemId, of: &str, count: u32) -> PieceWanted {
    PieceWanted { paper: Some(paper), ..PieceWanted::new("strip", size(of), count) }
}

/// Two that are new, one whose low mark changes, one as it is.
#[test]
fn a_list_says_how_many_it_adds_and_changes() {
    let mut bench = Bench::default();
    for name in ["fern", "plum"] {
        bench.item(Item { low: 4, ..Item::new(name, Kind::PlainSheet) });
    }
    let row = |line, name: &str, low| StockRow { line, name: name.into(), low, ..StockRow::default() };
    let rows = [row(2, "rust", None), row(3, "moss", None), row(4, "fern", Some(6)), row(5, "plum", Some(4))];
    let read = import(&bench.0, &rows);
    assert_eq!((read.added.len(), read.changed.len(), read.same), (2, 1, 1));
    assert_eq!(read.label(), "imported 3 items: 2 added, 1 changed");
}

/// What came in January was a slip and is voided; what counts begins in March. Until May that is two whole months, and 6 used
/// in them are 3 a month: 12 that are left are 12 x 2 x 365 / (12 x 6) = 121.7 days.
#[test]
fn a_pace_begins_with_the_first_line_that_stands() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let may = date(2026, 5, 20);
    bench.do_it(&Edit::Log(NewLine::received(fern, 40, "").on(date(2026, 1, 5))));
    let slip = bench.0.log().last().unwrap().seq;
    bench.do_it(&Edit::Void { line: slip });
    bench.do_it(&Edit::Log(NewLine::received(fern, 18, "").on(date(2026, 3, 2))));
    for (day, n) in [(date(2026, 3, 9), 2), (date(2026, 4, 9), 4)] {
        bench.do_it(&Edit::Log(NewLine::used(fern, n, "tags").on(day)));
    }
    let found = pace(&bench.0, fern, may).unwrap();
    assert_eq!((found.months, found.used, found.days_left), (2, 6, Some(121)));
    assert_eq!(pace(&bench.0, fern, date(2026, 3, 31)), None, "no whole month has gone by");
}

/// The oldest of three orders stays, the latest give way: 4 + 5 + 6 less 8 is 7, 4 of the first and 3 of the second. Orders of
/// another line are not touched.
#[test]
fn less_on_order_comes_off_the_latest_of_that_line() {
    let mut bench = Bench::default();
    let [fern, plum] = ["fern", "plum"].map(|name| bench.item(Item::new(name, Kind::PlainSheet)));
    for (n, (item, count)) in [(fern, 4), (fern, 5), (fern, 6), (plum, 9)].into_iter().enumerate() {
        bench.do_it(&Edit::Order(Row::add(OrderId(n as u32 + 1), Order::of(item, count, DAY))));
    }
    let formats = Formats::built_in();
    let seen = Seen::of(&bench.0, fern).unwrap();
    let terms = Terms { book: &bench.0, formats: &formats, unit: Unit::Inch };
    let edit = Field::OnOrder.edit(&seen, "7", &terms, DAY).unwrap().unwrap();
    bench.do_it(&edit);
    let counts: Vec<(ItemId, u32)> = bench.0.orders().iter().map(|(_, o)| (o.item, o.count)).collect();
    assert_eq!(counts, [(fern, 4), (fern, 3), (plum, 9)]);
}

/// Given back by name: only what bears it.
#[test]
fn one_thing_is_given_back_and_the_rest_stays_booked() {
    let mut bench = Bench::default();
    let [fern, plum] = ["fern", "plum"].map(|name| bench.item(Item::new(name, Kind::PlainSheet)));
    let class = bench.project(Project::new("class"));
    bench.book_for(class, fern, 3, None);
    bench.book_for(class, plum, 4, None);
    bench.do_it(&give_back_only(&bench.0, class, " FERN ").unwrap());
    assert_eq!((bench.0.booked(fern), bench.0.booked(plum)), (0, 4));
    let why = give_back_only(&bench.0, class, "rust").unwrap_err();
    assert!(why.contains("\"rust\" is not booked for class"), "{why}");
}

/// Before there is a plan: 36 pieces of 2 x 3 are 216 square inches, a 12 x 12 has 144, so at least 2 sheets; with an offcut
/// of 6 x 12 of that paper 144 are left, 1 sheet. An offcut of another paper is no help, and nothing needs no sheet.
#[test]
fn at_least_so_many_sheets_by_area() {
    let least = |bin: &[bool], count| {
        let mut bench = Bench::default();
        let [fern, plum] = ["fern", "plum"].map(|name| bench.paper(name, "12x12", 60));
        for (n, is_fern) in bin.iter().enumerate() {
            let (id, item) = (OffcutId(n as u32 + 1), if *is_fern { fern } else { plum });
            let kept = Offcut { size: size("6x12"), ..offcut(item) };
            bench.do_it(&Edit::Offcut(Row::add(id, kept)));
            bench.do_it(&Edit::Log(NewLine::offcut_made(item, id, 1, "")));
        }
        let project = Project { pieces: vec![strips(fern, "2x3", count)], ..Project::new("p") };
        let id = bench.project(project);
        let needs = needs(&bench.0, id, None).unwrap();
        assert_eq!(needs.basis, Basis::Bound);
        needs.still().get(&fern).copied().unwrap_or(0)
    };
    assert_eq!(least(&[], 36), 2);
    assert_eq!(least(&[], 24), 1, "144 is one sheet to the last bit");
    assert_eq!(least(&[], 25), 2);
    assert_eq!(least(&[true], 36), 1);
    assert_eq!(least(&[false], 36), 2);
    assert_eq!(least(&[true, false, true], 36), 1, "72 are left");
    assert_eq!(least(&[true, true], 24), 0);
}

/// What is used up is not needed any more, and is no row of what is.
#[test]
fn nothing_is_no_row_of_what_is_still_needed() {
    let mut bench = Bench::default();
    let ribbon = bench.item(Item::new("ribbon", Kind::Other));
    bench.receive(ribbon, 9);
    let supplies = vec![Supply { item: ribbon, count: 4 }];
    let class = bench.project(Project { supplies, ..Project::new("class") });
    let still = |bench: &Bench| needed(&bench.0, class).still();
    assert_eq!(still(&bench).get(&ribbon), Some(&4));
    bench.do_it(&Edit::Log(NewLine::used(ribbon, 4, "class")));
    assert!(still(&bench).is_empty());
    assert_eq!(needed(&bench.0, class).in_all().get(&ribbon), Some(&4));
}

/// At its mark a line is not low; one under is.
#[test]
fn a_line_is_low_below_its_mark() {
    let mut bench = Bench::default();
    let fern = bench.item(Item { low: 5, ..Item::new("fern", Kind::PlainSheet) });
    bench.receive(fern, 5);
    assert!(!standing(&bench.0, fern).is_low());
    bench.do_it(&Edit::Log(NewLine::used(fern, 1, "")));
    assert!(standing(&bench.0, fern).is_low());
    let class = bench.project(Project::new("class"));
    bench.book_for(class, fern, 6, None);
    assert_eq!(standing(&bench.0, fern).short(), 2);
    assert_eq!(standing(&bench.0, fern).words(), "4 on hand, 6 booked, -2 free, 0 on order");
}

/// Of the same sheets only, and of sheets only: neither another paper nor a piece of the bin is shared.
#[test]
fn who_shares_a_shelf_takes_the_same_sheets() {
    let mut bench = Bench::default();
    let [fern, plum] = ["fern", "plum"].map(|name| bench.paper(name, "12x12", 60));
    bench.do_it(&Edit::Offcut(Row::add(OffcutId(1), offcut(fern))));
    let own = bench.project(Project { date: Some(date(2026, 4, 1)), ..Project::new("own") });
    let other = bench.project(Project::new("other"));
    bench.book_for(other, plum, 2, Some(date(2026, 3, 9)));
    let bit =
        Booking { project: other, item: fern, offcut: Some(OffcutId(1)), count: 1, pieces: 0, on: None };
    bench.do_it(&Edit::Booking(Row::add(bench.0.bookings().next(), bit)));
    assert!(others(&bench.0, own, &[fern]).is_empty());
    bench.book_for(other, fern, 3, Some(date(2026, 3, 9)));
    let found = others(&bench.0, own, &[fern]);
    assert_eq!(found.iter().map(|o| (o.item, o.count, o.is_first)).collect::<Vec<_>>(), [(fern, 3, true)]);
    assert_eq!(found[0].words(&bench.0), "other of 2026-03-09 takes 3 of fern first");
}

/// 8 strips of 3 x 4 fill a letter sheet once (2 x 3 lie in 8 x 9): what is open is wanted, what is done or given up is not.
#[test]
fn only_open_work_wants_paper() {
    for (progress, rows) in [(Progress::Open, 1), (Progress::Done, 0), (Progress::Cancelled, 0)] {
        let mut bench = Bench::default();
        let fern = bench.paper("fern", "12x12", 60);
        bench.project(Project { pieces: vec![strips(fern, "3x4", 8)], progress, ..Project::new("p") });
        let found = wanted(&bench.0, |_| None);
        assert_eq!(found.len(), rows, "{progress:?}");
        assert!(found.iter().all(|w| (w.item, w.count, w.missing) == (fern, 1, 1)), "{found:?}");
    }
}

/// No pieces are no row; pieces of one name, size and paper are one.
#[test]
fn cut_pieces_are_added_up() {
    let made = |count| MadePiece { name: "tag".into(), size: size("2x3"), count };
    let mut cut = CutSheets::default();
    cut.add_pieces(ItemId(1), made(0));
    assert!(cut.is_empty());
    cut.add_pieces(ItemId(1), made(2));
    cut.add_pieces(ItemId(1), made(3));
    cut.add_pieces(ItemId(2), made(4));
    cut.add_pieces(ItemId(1), MadePiece { size: size("2x4"), ..made(1) });
    let counts: Vec<u32> = cut.pieces.iter().map(|(_, m)| m.count).collect();
    assert_eq!(counts, [5, 4, 1]);
}

/// A leftover joins the kind that has its paper, its size and its grain; any other is a kind of its own.
#[test]
fn a_leftover_joins_only_its_own_kind() {
    let mut bench = Bench::default();
    let [fern, plum] = ["fern", "plum"].map(|name| bench.paper(name, "12x12", 60));
    bench.receive(fern, 9);
    bench.do_it(&Edit::Offcut(Row::add(OffcutId(1), offcut(fern))));
    let left = |item, of: &str, grain| Left { item, size: size(of), grain, count: 2 };
    for (left, kinds) in [
        (left(fern, "2x3", Grain::Unknown), 1),
        (left(fern, "3x2", Grain::Unknown), 1),
        (left(fern, "2x4", Grain::Unknown), 2),
        (left(fern, "2x3", Grain::Long), 3),
        (left(plum, "2x3", Grain::Unknown), 4),
        (left(plum, "2x3", Grain::Unknown), 4),
    ] {
        let cut = CutSheets { left: vec![left], ..CutSheets::default() };
        bench.do_it(&log_edit(&bench.0, "tags", None, &cut));
        assert_eq!(bench.0.offcuts().len(), kinds, "{left:?}");
    }
    let counts: Vec<u64> = (1..=4).map(|n| bench.0.offcut_count(OffcutId(n))).collect();
    assert_eq!(counts, [4, 2, 2, 4]);
}

/// A line of a kit: card, part and paper; the item's name alone for a counted thing.
#[test]
fn a_line_of_a_kit_in_words() {
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "12x12", 60);
    let ribbon = bench.item(Item::new("ribbon", Kind::Other));
    let project = Project {
        pieces: vec![strips(fern, "2x3", 1)],
        supplies: vec![Supply { item: ribbon, count: 1 }],
        ..Project::new("class")
    };
    let lines = kit(&cutlist::of_project(&bench.0, &project));
    let said: Vec<String> = lines.iter().map(|l| l.words(&bench.0)).collect();
    assert_eq!(said, ["strip, fern", "ribbon"]);
    let rest: Vec<(String, String)> = lines.iter().map(|l| (l.paper(&bench.0), l.title(&bench.0))).collect();
    let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
    assert_eq!(rest, [pair("fern", "strip"), pair("", "ribbon")]);
}

/// 12 strips of 3 x 4 come out of a 12 x 12. 8 sheets are short: a season's pack brings 3 for 1.00, and singly they come in
/// fives for 10.00; three of the season bring 9 for 3.00, two fives cost 20.00. 7 sheets are short: the season's pack brings 5
/// for 3.00, and singly they come in twos for 1.50; one of the season and one two bring 7 for 4.50, four twos cost 6.00.
#[test]
fn an_order_says_how_many_packs_and_what_they_cost() {
    let orders = |short: u32, (brings, of_season): (u32, i64), (pack, singly): (u32, i64)| {
        let mut bench = Bench::default();
        let fern = bench.item(Item {
            size: Some(size("12x12")),
            pack,
            price: cents(singly),
            ..Item::new("fern", Kind::PlainSheet)
        });
        let season = Assortment {
            name: "season".into(),
            order_number: String::new(),
            seller: String::new(),
            price: cents(of_season),
            contents: vec![(fern, brings)],
            state: State::Current,
            note: String::new(),
        };
        let id = bench.0.assortments().next();
        bench.do_it(&Edit::Assortment(Row::add(id, season)));
        let pieces = vec![strips(fern, "3x4", 12 * short)];
        let class = bench.project(Project { date: Some(date(2026, 5, 1)), pieces, ..Project::new("class") });
        let (job, plan) = settled(&bench.0, class);
        let look = outlook(&bench.0, class, Some(Settled { job: &job, plan: &plan })).unwrap();
        let lines = ways_out(&bench.0, class, &look, DAY);
        assert_eq!(lines[0].missing, u64::from(short));
        let ways = lines[0].ways.iter().filter(|w| w.how == How::Order);
        let told = ways.map(|way| {
            let mut then = bench.0.clone();
            then.apply(&way.edit, DAY).unwrap();
            (way.words.clone(), way.cost, then.on_order(fern))
        });
        told.collect::<Vec<_>>()
    };
    assert_eq!(
        orders(8, (3, 100), (5, 1000)),
        [
            ("order 3 of season".to_owned(), cents(300), 9),
            ("order 2 packs of 5 fern".to_owned(), cents(2000), 10)
        ]
    );
    assert_eq!(
        orders(7, (5, 300), (2, 150)),
        [
            ("order 1 of season and 1 of fern".to_owned(), cents(450), 7),
            ("order 4 packs of 2 fern".to_owned(), cents(600), 8)
        ]
    );
}
