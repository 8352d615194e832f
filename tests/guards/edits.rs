//! Edits at work: who may be removed, numbers that are given anew, what an edit is called, and which steps rest on which.

use crate::outside::stock::{Bench, DAY, length, size};
use jiff::civil::date;
use trimside::domain::book::Book;
use trimside::domain::book::format::SheetFormat;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::project::{CardColour, PaperRef, PieceWanted, Project, ProjectCard, Supply};
use trimside::domain::settings::BookSettings;
use trimside::domain::stock::{
    AssortmentId, Booking, BookingId, FormatId, Item, ItemId, KeptTrio, Kind, NamedColour, NewLine, Offcut,
    OffcutId, Order, OrderId, ProjectId, ProjectWork, SwatchId, TrioId,
};

use super::limits::{card, offcut, pack, refused};

/// Each thing that stands in the way of removing a line of the shelf, alone; without it the line goes.
#[test]
fn what_is_in_use_stays_and_says_by_whom() {
    let with = |fill: &dyn Fn(&mut Bench, ItemId)| {
        let mut bench = Bench::default();
        let fern = bench.item(Item::new("fern", Kind::PlainSheet));
        fill(&mut bench, fern);
        refused(&bench.0, &Edit::Item(Row::Remove(fern)))
    };
    assert_eq!(with(&|_, _| ()), None);
    let base = |fern| ProjectCard { base_paper: Some(PaperRef::Shelf(fern)), ..card() };
    let said = [
        with(&|b, fern| b.receive(fern, 1)),
        with(&|b, fern| b.do_it(&Edit::Offcut(Row::add(OffcutId(1), offcut(fern))))),
        with(&|b, fern| {
            let class = b.project(Project::new("class"));
            b.book_for(class, fern, 1, None);
        }),
        with(&|b, fern| b.do_it(&Edit::Order(Row::add(OrderId(1), Order::of(fern, 1, DAY))))),
        with(&|b, fern| {
            let id = b.0.assortments().next();
            b.do_it(&Edit::Assortment(Row::add(id, pack(vec![(fern, 1)]))));
        }),
        with(&|b, fern| b.do_it(&Edit::LooseCard { was: None, now: Some(Box::new(base(fern))) })),
        with(&|b, fern| {
            b.project(Project { supplies: vec![Supply { item: fern, count: 1 }], ..Project::new("class") });
        }),
    ];
    let words = [
        "it has lines in the log",
        "the bin has offcuts of it",
        "sheets of it are booked",
        "it is on order",
        "the pack \"both\" contains it",
        "the card that is in no project uses it",
        "the project \"class\" uses it",
    ];
    for (said, words) in said.into_iter().zip(words) {
        let said = said.unwrap_or_else(|| panic!("removed: {words}"));
        assert!(said.starts_with("\"fern\" cannot be removed: ") && said.contains(words), "{said}");
    }

    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let class = bench.project(Project::new("class"));
    let other = bench.project(Project::new("other"));
    bench.book_for(class, fern, 1, None);
    let gone = |book: &Book, id| refused(book, &Edit::Project(Row::Remove(id)));
    assert!(gone(&bench.0, class).unwrap().contains("sheets are booked for it"));
    assert_eq!(gone(&bench.0, other), None);
    bench.do_it(&Edit::Activate { was: None, now: Some(other) });
    assert!(gone(&bench.0, other).unwrap().contains("it is the active project"));
    let astray = Edit::Activate { was: Some(other), now: Some(ProjectId(9)) };
    assert!(refused(&bench.0, &astray).unwrap().contains("there is no project 9"));
    let late = Edit::Activate { was: None, now: Some(class) };
    assert!(refused(&bench.0, &late).unwrap().contains("active project of \"class\" was changed meanwhile"));

    let [one, two] = [OffcutId(1), OffcutId(2)];
    bench.do_it(&Edit::Offcut(Row::add(one, offcut(fern))));
    bench.do_it(&Edit::Offcut(Row::add(two, Offcut { size: size("3x3"), ..offcut(fern) })));
    let gone = |book: &Book, id| refused(book, &Edit::Offcut(Row::Remove(id)));
    assert_eq!((gone(&bench.0, one), gone(&bench.0, two)), (None, None));
    bench.do_it(&Edit::Log(NewLine::offcut_made(fern, one, 1, "")));
    let aside = Booking { project: class, item: fern, offcut: Some(two), count: 1, pieces: 0, on: None };
    bench.do_it(&Edit::Booking(Row::add(BookingId(2), aside)));
    assert!(gone(&bench.0, one).unwrap().contains("it has lines in the log"));
    assert!(gone(&bench.0, two).unwrap().contains("it is booked"));
}

#[test]
fn a_colour_in_use_stays_and_says_by_whom() {
    let with = |fill: &dyn Fn(&mut Bench, [SwatchId; 3])| {
        let mut bench = Bench::default();
        let three = ["fern", "plum", "rust"].map(|name| bench.swatch(name, [50.0, 0.0, 0.0]));
        fill(&mut bench, three);
        refused(&bench.0, &Edit::Swatch(Row::Remove(three[0])))
    };
    let layer = |id| {
        let mut card = card().with_mats(&[length("1/8")], &[]);
        card.layers[0].colour = Some(CardColour::Swatch(id));
        card
    };
    assert_eq!(with(&|_, _| ()), None);
    let said = [
        with(&|b, s| {
            b.item(Item { swatch: Some(s[0]), ..Item::new("paper", Kind::PlainSheet) });
        }),
        with(&|b, s| {
            b.project(Project { cards: vec![layer(s[0])], ..Project::new("class") });
        }),
        with(&|b, s| b.do_it(&Edit::LooseCard { was: None, now: Some(Box::new(layer(s[0]))) })),
        with(&|b, swatches| {
            let kept = KeptTrio {
                name: "hedge".into(),
                swatches,
                favourite: false,
                own: true,
                dismissed: false,
                note: String::new(),
            };
            b.do_it(&Edit::Trio(Row::add(TrioId(1), kept)));
        }),
    ];
    let words = [
        "\"paper\" has this color",
        "a layer in the project \"class\" has it",
        "a layer of the card that is in no project has it",
        "the trio \"hedge\" holds it",
    ];
    for (said, words) in said.into_iter().zip(words) {
        let said = said.unwrap_or_else(|| panic!("removed: {words}"));
        assert!(said.contains(words), "{said}");
    }
}

/// Two windows, each with a book in which the same numbers are free: all that the later one adds is given the next numbers,
/// and what names it in the same step follows.
#[test]
fn new_numbers_follow_through_a_whole_step() {
    let step = |name: &str| {
        let card = ProjectCard {
            base_paper: Some(PaperRef::Shelf(ItemId(1))),
            envelope: Some(ItemId(1)),
            ..card().with_mats(&[length("1/8")], &[Some(ItemId(1))])
        };
        let mut colours = card.clone();
        colours.layers[0].colour = Some(CardColour::Swatch(SwatchId(1)));
        let swatch = |id: u32, name: &str| {
            let new = NamedColour {
                name: name.into(),
                family: String::new(),
                lab: [50.0, 0.0, 0.0],
                measured: false,
                hex: [0; 3],
                former_names: Vec::new(),
                note: String::new(),
            };
            Edit::Swatch(Row::add(SwatchId(id), new))
        };
        let trio = KeptTrio {
            name: name.into(),
            swatches: [SwatchId(1), SwatchId(2), SwatchId(3)],
            favourite: false,
            own: true,
            dismissed: false,
            note: String::new(),
        };
        let item = Item { swatch: Some(SwatchId(1)), ..Item::new(name, Kind::PlainSheet) };
        let project = Project {
            cards: vec![colours],
            pieces: vec![PieceWanted { paper: Some(ItemId(1)), ..PieceWanted::new("tag", size("2x3"), 1) }],
            supplies: vec![Supply { item: ItemId(1), count: 1 }],
            ..Project::new(name)
        };
        let aside = Booking {
            project: ProjectId(1),
            item: ItemId(1),
            offcut: Some(OffcutId(1)),
            count: 1,
            pieces: 0,
            on: None,
        };
        Edit::batch(
            name,
            vec![
                swatch(1, name),
                swatch(2, &format!("{name} 2")),
                swatch(3, &format!("{name} 3")),
                Edit::Item(Row::add(ItemId(1), item)),
                Edit::Offcut(Row::add(OffcutId(1), offcut(ItemId(1)))),
                Edit::Project(Row::add(ProjectId(1), project)),
                Edit::Booking(Row::add(BookingId(1), aside)),
                Edit::Order(Row::add(OrderId(1), Order::of(ItemId(1), 4, DAY))),
                Edit::Trio(Row::add(TrioId(1), trio)),
                Edit::Log(NewLine::received(ItemId(1), 3, "")),
                Edit::Log(NewLine::offcut_made(ItemId(1), OffcutId(1), 2, "")),
                Edit::Log(NewLine::used(ItemId(1), 1, name).for_work(ProjectWork::of(ProjectId(1)))),
            ],
        )
    };
    let mut book = Book::default();
    book.apply(&step("one"), DAY).unwrap();
    let other = step("two").with_free_numbers(&book);
    book.apply(&other, DAY).unwrap();
    book.check().unwrap();
    let (item, project, bit) = (ItemId(2), ProjectId(2), OffcutId(2));
    let swatches = [SwatchId(4), SwatchId(5), SwatchId(6)];
    assert_eq!(book.items().get(item).unwrap().swatch, Some(swatches[0]));
    let two = book.projects().get(project).unwrap();
    assert_eq!(two.items().collect::<Vec<_>>(), [item; 5]);
    assert_eq!(two.swatches().collect::<Vec<_>>(), [swatches[0]]);
    assert_eq!(book.offcuts().get(bit).unwrap().item, item);
    let aside = book.bookings().get(BookingId(2)).unwrap();
    assert_eq!((aside.project, aside.item, aside.offcut), (project, item, Some(bit)));
    assert_eq!(book.orders().get(OrderId(2)).unwrap().item, item);
    assert_eq!(book.trios().get(TrioId(2)).unwrap().swatches, swatches);
    assert_eq!((book.on_hand(ItemId(1)), book.on_hand(item), book.offcut_count(bit)), (2, 2, 2));
    assert_eq!(book.log().last().unwrap().work.as_ref().unwrap().project, project);
    // The first step is as it was.
    assert_eq!(book.projects().get(ProjectId(1)).unwrap().items().collect::<Vec<_>>(), [ItemId(1); 5]);
    // Where the numbers are free, nothing is changed.
    assert_eq!(step("two").with_free_numbers(&Book::default()), step("two"));
}

/// Each edit in words, as the list of what can be undone says it.
#[test]
fn edits_are_told_in_one_line() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let class = bench.project(Project::new("class"));
    let bit = OffcutId(1);
    bench.do_it(&Edit::Offcut(Row::add(bit, offcut(fern))));
    bench.receive(fern, 9);
    let booking = Booking { project: class, item: fern, offcut: None, count: 4, pieces: 0, on: None };
    let of_bit = Booking { offcut: Some(bit), ..booking.clone() };
    let order = Order::of(fern, 5, DAY);
    let was = Item::new("fern", Kind::PlainSheet);
    let said = |edit: Edit| edit.describe(&bench.0);
    let new = BookingId(1);
    let settings = |now: BookSettings| Edit::Settings { was: Box::default(), now: Box::new(now) };
    let mut forgetful = BookSettings::default();
    forgetful.forgotten.trios_before = TrioId(3);
    for (edit, words) in [
        (Edit::batch("did much", vec![]), "did much"),
        (Edit::Item(Row::add(ItemId(2), Item::new("plum", Kind::Other))), "added item plum"),
        (Edit::Item(Row::Remove(fern)), "removed item fern"),
        (
            Edit::Item(Row::alter(fern, was.clone(), Item { name: "moss".into(), ..was.clone() })),
            "changed item fern to moss",
        ),
        (Edit::Item(Row::alter(fern, was.clone(), Item { low: 3, ..was.clone() })), "changed item fern"),
        (Edit::Booking(Row::add(new, booking.clone())), "booked 4 of fern"),
        (Edit::Booking(Row::add(new, of_bit)), "booked 4 of fern offcut 2 x 3 in"),
        (Edit::Booking(Row::Remove(new)), "released a booking"),
        (Edit::Booking(Row::alter(new, booking.clone(), booking)), "changed a booking of fern"),
        (Edit::Order(Row::add(OrderId(1), order.clone())), "ordered 5 of fern"),
        (Edit::Order(Row::Remove(OrderId(1))), "took an order off the list"),
        (Edit::Order(Row::alter(OrderId(1), order.clone(), order)), "changed an order of fern"),
        (settings(BookSettings { spoilage_percent: 7, ..BookSettings::default() }), "changed the settings"),
        (settings(forgetful), "changed which choices of colors count"),
        (Edit::LooseCard { was: None, now: Some(Box::new(card())) }, "changed the card"),
        (Edit::LooseCard { was: None, now: None }, "started the loose card over"),
        (Edit::Activate { was: None, now: Some(class) }, "made class the active project"),
        (Edit::Activate { was: None, now: None }, "left the active project"),
        (Edit::Log(NewLine::received(fern, 3, "")), "received 3 of fern"),
        (Edit::Log(NewLine::used(fern, 3, "")), "used 3 of fern"),
        (Edit::Log(NewLine::used(fern, 0, "")), "cut from fern on the table"),
        (Edit::Log(NewLine::adjusted(fern, 3, "")), "adjusted fern by +3"),
        (Edit::Log(NewLine::adjusted(fern, -3, "")), "adjusted fern by -3"),
        (Edit::Log(NewLine::offcut_made(fern, bit, 2, "")), "kept 2 of fern offcut 2 x 3 in"),
        (Edit::Log(NewLine::offcut_used(fern, bit, 2, "")), "used 2 of fern offcut 2 x 3 in"),
        (Edit::Void { line: 1 }, "voided line 1: received 9 of fern"),
        (Edit::Void { line: 7 }, "voided line 7"),
    ] {
        assert_eq!(said(edit), words);
    }
    bench.do_it(&Edit::Void { line: 1 });
    assert_eq!(Edit::Void { line: 2 }.describe(&bench.0), "line 1 of fern counts again");
}

/// Taking back a step that added a record would take away what a later step has done to that very record, and to no other:
/// neither to another number nor to a record of another table with the same number.
#[test]
fn only_later_work_on_the_same_record_is_in_the_way() {
    let item = Edit::Item(Row::Remove(ItemId(1)));
    let altered = |id| {
        let was = Item::new("fern", Kind::PlainSheet);
        Edit::Item(Row::alter(ItemId(id), was.clone(), was))
    };
    let text = String::new;
    let format = |id| {
        let was = SheetFormat { name: text(), size: size("6x9"), note: text() };
        Edit::Format(Row::alter(FormatId(id), was.clone(), was))
    };
    assert!(item.would_drop_the_work_of(&altered(1)));
    assert!(!item.would_drop_the_work_of(&altered(2)));
    assert!(!item.would_drop_the_work_of(&format(1)));
    assert!(!altered(1).would_drop_the_work_of(&altered(1)), "a change takes no record away");
    assert!(!format(1).would_drop_the_work_of(&item), "nor does one of another table");
    let both = |a, b| Edit::batch("", vec![a, b]);
    assert!(both(format(1), item.clone()).would_drop_the_work_of(&both(altered(2), altered(1))));
    let project = Edit::Project(Row::Remove(ProjectId(1)));
    let order = Edit::Order(Row::Remove(OrderId(1)));
    let was = Project::new("p");
    assert!(project.would_drop_the_work_of(&Edit::Project(Row::alter(ProjectId(1), was.clone(), was))));
    let was = Order::of(ItemId(1), 1, DAY);
    assert!(order.would_drop_the_work_of(&Edit::Order(Row::alter(OrderId(1), was.clone(), was))));
}

/// A line of a kind of offcut that was removed since does not count again, nor does one that was never there.
#[test]
fn a_line_of_a_removed_offcut_does_not_count_again() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let bit = OffcutId(1);
    bench.do_it(&Edit::Offcut(Row::add(bit, offcut(fern))));
    bench.do_it(&Edit::Log(NewLine::offcut_made(fern, bit, 3, "")));
    assert_eq!(refused(&bench.0, &Edit::Void { line: 1 }), None);
    bench.do_it(&Edit::Void { line: 1 });
    assert_eq!(refused(&bench.0, &Edit::Void { line: 2 }), None);
    bench.do_it(&Edit::Offcut(Row::Remove(bit)));
    assert!(refused(&bench.0, &Edit::Void { line: 2 }).unwrap().contains("there is no offcut 1 any more"));
    assert!(refused(&bench.0, &Edit::Void { line: 9 }).unwrap().contains("there is no log line 9 any more"));
}

/// A line is voided on the day on which it is voided, whenever it was logged.
#[test]
fn a_counter_line_bears_its_own_day() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    bench.do_it(&Edit::Log(NewLine::received(fern, 3, "").on(date(2026, 1, 5))));
    bench.0.apply(&Edit::Void { line: 1 }, date(2026, 4, 9)).unwrap();
    let days: Vec<_> = bench.0.log().iter().map(|l| l.date).collect();
    assert_eq!(days, [date(2026, 1, 5), date(2026, 4, 9)]);
}

/// Each table of its own: what a later step changed in it stands in the way of taking its record away.
#[test]
fn later_work_is_seen_in_every_table() {
    let text = String::new;
    let kept = KeptTrio {
        name: text(),
        swatches: [SwatchId(1), SwatchId(2), SwatchId(3)],
        favourite: false,
        own: true,
        dismissed: false,
        note: text(),
    };
    let swatch = NamedColour {
        name: text(),
        family: text(),
        lab: [0.0; 3],
        measured: false,
        hex: [0; 3],
        former_names: Vec::new(),
        note: text(),
    };
    let booking =
        Booking { project: ProjectId(1), item: ItemId(1), offcut: None, count: 1, pieces: 0, on: None };
    let pairs = [
        (
            Edit::Swatch(Row::Remove(SwatchId(1))),
            Edit::Swatch(Row::alter(SwatchId(1), swatch.clone(), swatch)),
        ),
        (Edit::Trio(Row::Remove(TrioId(1))), Edit::Trio(Row::alter(TrioId(1), kept.clone(), kept))),
        (
            Edit::Offcut(Row::Remove(OffcutId(1))),
            Edit::Offcut(Row::alter(OffcutId(1), offcut(ItemId(1)), offcut(ItemId(1)))),
        ),
        (
            Edit::Booking(Row::Remove(BookingId(1))),
            Edit::Booking(Row::alter(BookingId(1), booking.clone(), booking)),
        ),
        (
            Edit::Assortment(Row::Remove(AssortmentId(1))),
            Edit::Assortment(Row::alter(AssortmentId(1), pack(vec![]), pack(vec![]))),
        ),
    ];
    for (n, (gone, _)) in pairs.iter().enumerate() {
        for (m, (_, changed)) in pairs.iter().enumerate() {
            assert_eq!(gone.would_drop_the_work_of(changed), n == m, "{gone:?} {changed:?}");
        }
    }
}
