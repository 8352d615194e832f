//! The book: a log that is read, lines that are voided and stand again, names that are found, totals that are carried along.

use super::limits::{offcut, refused};
use crate::outside::stock::{Bench, DAY, size};
use trimside::domain::book::{Book, Ledger, is_job_of};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::project::Project;
use trimside::domain::stock::{
    Booking, BookingId, Item, ItemId, Kind, LogLine, NamedColour, NewLine, OffcutId, Order, OrderId, Reason,
};

fn line(seq: u64, change: i64) -> LogLine {
    LogLine {
        seq,
        date: DAY,
        item: ItemId(1),
        offcut: None,
        change,
        reason: Reason::Adjusted,
        job: String::new(),
        voids: None,
        price: None,
        lot: String::new(),
        work: None,
    }
}

/// Lines are numbered from one without a gap; a count is one that a shelf can hold; nothing goes below zero.
#[test]
fn a_log_that_cannot_be_is_not_read() {
    let read = |lines: Vec<LogLine>| Ledger::from_lines(lines).map(|l| l.on_hand(ItemId(1)));
    assert_eq!(read(vec![line(1, 5), line(2, -5)]), Ok(0));
    assert_eq!(read(vec![line(1, 4_294_967_295)]), Ok(4_294_967_295));
    for (lines, words) in [
        (vec![line(2, 5)], "has line 2 where line 1 belongs"),
        (vec![line(1, 5), line(1, 5)], "has line 1 where line 2 belongs"),
        (vec![line(1, 4_294_967_296)], "line 1 of the log counts 4294967296, more than any shelf holds"),
        (vec![line(1, 5), line(2, -6)], "line 2 of the log does not follow from the lines before"),
        (vec![LogLine { voids: Some(1), ..line(1, 5) }], "line 1 of the log does not follow"),
    ] {
        assert!(read(lines).unwrap_err().contains(words), "{words}");
    }
}

/// Line 1 brings 10. Line 2 voids it, line 3 voids line 2, so that line 1 stands again; line 4 voids it anew.
#[test]
fn lines_fall_and_stand_again() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    bench.receive(fern, 10);
    let stands = |bench: &Bench| -> Vec<bool> {
        bench.0.log().iter().map(|l| l.voids.is_none() && !bench.0.is_voided(l.seq)).collect()
    };
    bench.do_it(&Edit::Void { line: 1 });
    assert_eq!((bench.0.on_hand(fern), stands(&bench)), (0, vec![false, false]));
    let why = refused(&bench.0, &Edit::Void { line: 1 }).unwrap();
    assert_eq!(why, "line 1 was voided before, by line 2");
    bench.do_it(&Edit::Void { line: 2 });
    assert_eq!((bench.0.on_hand(fern), stands(&bench)), (10, vec![true, false, false]));
    assert_eq!(refused(&bench.0, &Edit::Void { line: 2 }).unwrap(), "line 2 was voided before, by line 3");
    bench.do_it(&Edit::Void { line: 3 });
    assert_eq!(bench.0.on_hand(fern), 0);
    assert_eq!(refused(&bench.0, &Edit::Void { line: 1 }).unwrap(), "line 1 was voided before, by line 2");
    bench.do_it(&Edit::Void { line: 4 });
    assert_eq!(bench.0.on_hand(fern), 10);
    bench.do_it(&Edit::Void { line: 1 });
    assert_eq!((bench.0.on_hand(fern), bench.0.log().last().unwrap().voids), (0, Some(1)));
    bench.0.check().unwrap();
}

/// 5 came, 4 of them are used: the 5 cannot be taken back, for 1 is left.
#[test]
fn what_was_used_since_cannot_be_taken_back() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    bench.receive(fern, 5);
    bench.do_it(&Edit::Log(NewLine::used(fern, 4, "")));
    let why = refused(&bench.0, &Edit::Void { line: 1 }).unwrap();
    assert!(why.contains("later lines have used what it brought (1 of fern left, 5 needed)"), "{why}");
    assert_eq!(refused(&bench.0, &Edit::Void { line: 2 }), None);
}

/// A step of which the last part is refused leaves nothing behind: no line, no count of an offcut, no name, no total.
#[test]
fn a_refused_step_leaves_the_book_as_it_was() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let class = bench.project(Project::new("class"));
    let bit = OffcutId(1);
    bench.do_it(&Edit::Offcut(Row::add(bit, offcut(fern))));
    bench.receive(fern, 5);
    bench.do_it(&Edit::Log(NewLine::offcut_made(fern, bit, 2, "")));
    let before = bench.0.clone();
    let plum = bench.0.items().next();
    let booking = |offcut, count| Booking { project: class, item: fern, offcut, count, pieces: 0, on: None };
    let step = vec![
        Edit::Log(NewLine::used(fern, 3, "")),
        Edit::Log(NewLine::offcut_used(fern, bit, 1, "")),
        Edit::Log(NewLine::offcut_used(fern, bit, 1, "")),
        Edit::Void { line: 3 },
        Edit::Item(Row::add(plum, Item::new("plum", Kind::PlainSheet))),
        Edit::Log(NewLine::received(plum, 4, "")),
        Edit::Booking(Row::add(BookingId(1), booking(None, 2))),
        Edit::Booking(Row::add(BookingId(2), booking(Some(bit), 1))),
        Edit::Order(Row::add(OrderId(1), Order::of(fern, 7, DAY))),
        Edit::Log(NewLine::used(fern, 99, "")),
    ];
    assert!(bench.0.apply(&Edit::batch("all", step), DAY).is_err());
    assert_eq!(bench.0, before);
    bench.0.check().unwrap();
}

/// What is booked and on order is the sum of the rows, whatever becomes of one: more, fewer, of another thing, gone.
#[test]
fn totals_follow_each_change_of_a_row() {
    let mut bench = Bench::default();
    let [fern, plum] = ["fern", "plum"].map(|name| bench.item(Item::new(name, Kind::PlainSheet)));
    let class = bench.project(Project::new("class"));
    let bit = OffcutId(1);
    bench.do_it(&Edit::Offcut(Row::add(bit, offcut(fern))));
    bench.receive(fern, 3);
    let of = |item, offcut, count| Booking { project: class, item, offcut, count, pieces: 0, on: None };
    let totals = |bench: &Bench| {
        bench.0.check().unwrap();
        (bench.0.booked(fern), bench.0.booked(plum), bench.0.booked_offcuts(bit), bench.0.free(fern))
    };
    bench.do_it(&Edit::Booking(Row::add(BookingId(1), of(fern, None, 4))));
    bench.do_it(&Edit::Booking(Row::add(BookingId(2), of(fern, None, 1))));
    assert_eq!(totals(&bench), (5, 0, 0, -2));
    for (was, now, expected) in [
        (of(fern, None, 4), of(fern, None, 6), (7, 0, 0, -4)),
        (of(fern, None, 6), of(plum, None, 6), (1, 6, 0, 2)),
        (of(plum, None, 6), of(fern, Some(bit), 2), (1, 0, 2, 2)),
        (of(fern, Some(bit), 2), of(fern, None, 2), (3, 0, 0, 0)),
    ] {
        bench.do_it(&Edit::Booking(Row::alter(BookingId(1), was, now)));
        assert_eq!(totals(&bench), expected);
    }
    bench.do_it(&Edit::Booking(Row::Remove(BookingId(1))));
    assert_eq!(totals(&bench), (1, 0, 0, 2));

    let order = |item, count| Order::of(item, count, DAY);
    bench.do_it(&Edit::Order(Row::add(OrderId(1), order(fern, 5))));
    bench.do_it(&Edit::Order(Row::alter(OrderId(1), order(fern, 5), order(plum, 8))));
    assert_eq!((bench.0.on_order(fern), bench.0.on_order(plum)), (0, 8));
    bench.do_it(&Edit::Order(Row::Remove(OrderId(1))));
    assert_eq!(bench.0.on_order(plum), 0);
    bench.0.check().unwrap();
}

/// By number, by a former one, by name, by name and size; where it could be several, they are told, five at the most.
#[test]
fn a_line_is_found_by_what_it_bears() {
    let mut bench = Bench::default();
    for n in 1..=6 {
        let sheet = Some(size(&format!("{n}x12")));
        let order_number = if n == 6 { String::new() } else { format!("F-{n}") };
        bench.item(Item { size: sheet, order_number, ..Item::new("fern", Kind::PlainSheet) });
    }
    let mut renumbered = Item { order_number: "P-1".into(), ..Item::new("plum", Kind::PlainSheet) };
    renumbered.renumber("P-2");
    let plum = bench.item(renumbered);
    let find = |text: &str| bench.0.find_item(text);
    assert_eq!([find("p-1"), find(" P-2"), find("PLUM")].map(Result::unwrap), [plum; 3]);
    assert_eq!((find("f-3").unwrap(), find("fern 4 x 12").unwrap()), (ItemId(3), ItemId(4)));
    let several = find("fern").unwrap_err().to_string();
    assert!(
        several.starts_with("\"fern\" means 6 items, fern 1 x 12 in (order number F-1); fern 2"),
        "{several}"
    );
    assert!(several.contains("fern 5 x 12 in") && !several.contains("fern 6 x 12 in"), "{several}");
    assert!(find("").unwrap_err().to_string().contains("no name given"));
    assert!(
        find("fern 9x12").unwrap_err().to_string().contains("nothing on the shelf is called \"fern 9x12\"")
    );
    assert!(find("qqq").unwrap_err().to_string().contains("trimside stock list shows what is"));
    // Two of one name and size, of two kinds: the size does not tell them apart.
    bench.item(Item { size: Some(size("4x12")), ..Item::new("fern", Kind::Other) });
    assert!(bench.0.find_item("fern 4x12").is_err());
    // A line that is renamed is not found by its old name, and one that is gone not at all.
    let was = bench.0.items().get(plum).unwrap().clone();
    let now =
        Item { name: "rust".into(), order_number: "R-1".into(), former_numbers: Vec::new(), ..was.clone() };
    bench.do_it(&Edit::Item(Row::alter(plum, was, now)));
    assert!(["plum", "P-1", "P-2"].iter().all(|text| bench.0.find_item(text).is_err()));
    assert_eq!((bench.0.find_item("rust").unwrap(), bench.0.find_item("R-1").unwrap()), (plum, plum));
    bench.do_it(&Edit::Item(Row::Remove(plum)));
    assert!(bench.0.find_item("rust").is_err() && bench.0.find_item("R-1").is_err());
    bench.0.check().unwrap();
}

/// Projects and colours by name, whatever the case; a colour by a former name where none bears it now.
#[test]
fn projects_and_colours_are_found_by_name() {
    let mut bench = Bench::default();
    let class = bench.project(Project::new("Spring class"));
    let [fern, moss] = ["fern", "moss"].map(|name| bench.swatch(name, [50.0, 0.0, 0.0]));
    let was = bench.0.swatches().get(moss).unwrap().clone();
    let former_names = vec!["Hedge".into(), "fern".into()];
    bench.do_it(&Edit::Swatch(Row::alter(moss, was.clone(), NamedColour { former_names, ..was })));
    assert_eq!((bench.0.find_project(" SPRING class"), bench.0.find_project("spring")), (Some(class), None));
    let find = |name: &str| bench.0.find_swatch(name);
    assert_eq!(
        [find("FERN"), find("hedge"), find("Moss"), find("rust")],
        [Some(fern), Some(moss), Some(moss), None]
    );
}

/// A job counts as logged as long as a line of it stands; one with spoiled pieces behind it is the same job.
#[test]
fn a_job_is_known_by_its_name() {
    for (line, is) in [
        ("spring", true),
        ("spring (2 spoiled)", true),
        ("spring (2 spoiled", false),
        ("spring 2 spoiled)", false),
        ("springs", false),
        ("sprin", false),
    ] {
        assert_eq!(is_job_of(line, "spring"), is, "{line}");
    }
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    bench.receive(fern, 5);
    assert!(!bench.0.has_logged(""), "a line without a job is of no job");
    bench.do_it(&Edit::Log(NewLine::used(fern, 2, "spring (1 spoiled)")));
    assert!(bench.0.has_logged("spring") && !bench.0.has_logged("autumn"));
    bench.do_it(&Edit::Void { line: 2 });
    assert!(!bench.0.has_logged("spring"));
}

/// Numbers are given once; what is gone keeps its name, and only a record of that name may take its number again.
#[test]
fn numbers_and_names_outlive_their_records() {
    let mut bench = Bench::default();
    assert!(bench.0.items().is_empty() && bench.0.items().next() == ItemId(1));
    let [fern, plum] = ["fern", "plum"].map(|name| bench.item(Item::new(name, Kind::PlainSheet)));
    bench.do_it(&Edit::Item(Row::Remove(plum)));
    let items = bench.0.items();
    assert_eq!((items.len(), items.is_empty(), items.next()), (1, false, ItemId(3)));
    assert_eq!(
        [items.name_of(fern), items.name_of(plum), items.name_of(ItemId(7))],
        ["fern", "plum", "item 7"]
    );
    assert_eq!([fern, plum, ItemId(3)].map(|id| items.knows(id)), [true, true, false]);
    let named = |name: &str| Item::new(name, Kind::PlainSheet);
    let taken = |id, name: &str| items.is_taken(id, &named(name));
    assert_eq!(
        [taken(fern, "fern"), taken(plum, "rust"), taken(plum, "plum"), taken(ItemId(3), "rust")],
        [true, true, false, false]
    );
    assert_eq!(items.former().collect::<Vec<_>>(), [(plum, "plum")]);
    bench.do_it(&Edit::Item(Row::add(plum, named("plum"))));
    assert_eq!((bench.0.items().former().count(), bench.0.items().next()), (0, ItemId(3)));

    let mut book = Book::default();
    book.jump_to(7);
    book.jump_to(3);
    assert_eq!(book.seq(), 7);
}
