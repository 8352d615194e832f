//! What may enter a book: each limit at its border. The limits are the project's own: 1,000,000 of anything, 200 characters of
//! a name, 2,000 of any other text, 100 layers, 1,000 pieces alike, 4 in of allowance.

use crate::outside::stock::{Bench, DAY, cents, length, size};
use trimside::domain::book::Book;
use trimside::domain::book::format::SheetFormat;
use trimside::domain::cards::fold::{Score, Side};
use trimside::domain::cards::make::Make;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::length::Length;
use trimside::domain::money::Money;
use trimside::domain::pattern::Pattern;
use trimside::domain::project::{
    Afterwards, CardColour, CardExtra, CardLayer, PaperRef, PieceWanted, Project, ProjectCard, Sale,
    SaleKind, Stage, Stages, Teaching,
};
use trimside::domain::settings::BookSettings;
use trimside::domain::size::{Grain, Size};
use trimside::domain::stock::{
    Assortment, Booking, BookingId, Item, ItemId, KeptTrio, Kind, MadePiece, NamedColour, NewLine, Offcut,
    OffcutId, Order, OrderId, ProjectId, ProjectWork, State, SwatchId, TrioId,
};
use trimside::domain::weight::Weight;

const MOST: u32 = 1_000_000;

pub fn refused(book: &Book, edit: &Edit) -> Option<String> {
    book.clone().apply(edit, DAY).err().map(|e| e.to_string())
}

/// The first is taken, the second refused with these words.
fn border<T>(book: &Book, edit: impl Fn(T) -> Edit, at: T, over: T, words: &str) {
    assert_eq!(refused(book, &edit(at)), None, "at the limit: {words}");
    let why = refused(book, &edit(over)).unwrap_or_else(|| panic!("taken: {words}"));
    assert!(why.contains(words), "{why}");
}

fn add_item(book: &Book, item: Item) -> Edit {
    Edit::Item(Row::add(book.items().next(), item))
}

fn add_project(book: &Book, project: Project) -> Edit {
    Edit::Project(Row::add(book.projects().next(), project))
}

pub fn card() -> ProjectCard {
    ProjectCard::new("card", size("4.25x5.5"))
}

pub fn offcut(item: ItemId) -> Offcut {
    let text = String::new;
    Offcut {
        item,
        size: size("2x3"),
        grain: Grain::Unknown,
        job: text(),
        since: None,
        place: text(),
        note: text(),
    }
}

pub fn pack(contents: Vec<(ItemId, u32)>) -> Assortment {
    let text = String::new;
    let name = "both".to_owned();
    Assortment {
        name,
        order_number: text(),
        seller: text(),
        price: None,
        contents,
        state: State::Current,
        note: text(),
    }
}

#[test]
fn an_item_at_its_limits() {
    let book = Book::default();
    let new = |item: Item| add_item(&book, item);
    let plain = || Item::new("fern", Kind::PlainSheet);
    let named = |n: usize| new(Item { name: "a".repeat(n), ..plain() });
    border(&book, named, 200, 201, "a name of 201 characters is too long");
    border(
        &book,
        |n: usize| new(Item { note: "é".repeat(n), ..plain() }),
        2000,
        2001,
        "the note is too long",
    );
    border(
        &book,
        |n: usize| new(Item { place: "a".repeat(n), ..plain() }),
        2000,
        2001,
        "the place is too long",
    );
    border(
        &book,
        |pack| new(Item { pack, ..plain() }),
        MOST,
        MOST + 1,
        "as pack size is more than makes sense",
    );
    border(&book, |low| new(Item { low, ..plain() }), MOST, MOST + 1, "as low mark is more");
    border(&book, |n| new(Item { price: cents(n), ..plain() }), 0, -1, "a price is zero or more");
    for (at, over) in [(20, 19), (2000, 2001)] {
        border(&book, |g| new(Item { gsm: Some(g), ..plain() }), at, over, "weighs between 20 and 2000 g/m2");
    }
    let sized = |of: Length| new(Item { size: Some(Size::new(of, length("1"))), ..plain() });
    border(&book, sized, Length::from_units(1), Length::ZERO, "above zero both ways");
    let measured = |of: Length| new(Item { measured: Some(Size::new(length("1"), of)), ..plain() });
    border(&book, measured, Length::from_units(1), Length::ZERO, "above zero both ways");
    let far = |repeat: Length| {
        let pattern = Pattern { repeat, ..Pattern::of_colours(2) };
        new(Item { pattern: Some(pattern), ..Item::new("dots", Kind::PatternedPaper) })
    };
    border(&book, far, length("12"), length("12") + Length::from_units(1), "1/16 to 12 in apart");
    assert!(
        refused(&book, &new(Item { name: " \u{200b}".into(), ..plain() })).unwrap().contains("needs a name")
    );
}

/// Several colours are a patterned paper's, and each has to be in the library.
#[test]
fn colours_of_an_item() {
    let mut bench = Bench::default();
    let fern = bench.swatch("fern", [50.0, -30.0, 20.0]);
    let gone = SwatchId(9);
    for (front, back) in [(vec![fern], vec![]), (vec![], vec![fern])] {
        let of =
            |kind| Item { colours: front.clone(), back_colours: back.clone(), ..Item::new("leaves", kind) };
        let book = &bench.0;
        border(
            book,
            |k| add_item(book, of(k)),
            Kind::PatternedPaper,
            Kind::PlainSheet,
            "only a patterned paper",
        );
    }
    let of = |item: Item| refused(&bench.0, &add_item(&bench.0, item));
    let leaves = || Item::new("leaves", Kind::PatternedPaper);
    for item in [
        Item { swatch: Some(gone), ..leaves() },
        Item { colours: vec![fern, gone], ..leaves() },
        Item { back_colours: vec![gone], ..leaves() },
    ] {
        assert_eq!(of(item).unwrap(), "there is no swatch 9 any more: it was removed meanwhile");
    }
    // One name in two sizes or of two kinds is two lines; in one size it is the same line twice.
    bench.item(Item { size: Some(size("12x12")), ..leaves() });
    let of = |item: Item| refused(&bench.0, &add_item(&bench.0, item));
    assert_eq!(of(Item { size: Some(size("6x6")), ..leaves() }), None);
    assert_eq!(of(Item { size: Some(size("12x12")), ..Item::new("leaves", Kind::Other) }), None);
    assert!(of(Item { size: Some(size("12x12")), ..leaves() }).unwrap().contains("there is already an item"));
}

#[test]
fn a_project_at_its_limits() {
    let book = Book::default();
    let new = |project: Project| add_project(&book, project);
    let p = || Project::new("class");
    border(&book, |seats| new(Project { seats, ..p() }), MOST, MOST + 1, "as seats is more");
    border(&book, |samples| new(Project { samples, ..p() }), MOST, MOST + 1, "as sample sets is more");
    border(&book, |n| new(Project { spoilage_fixed: n, ..p() }), MOST, MOST + 1, "as spoilage is more");
    border(&book, |n| new(Project { spoilage_percent: n, ..p() }), 100, 101, "a percentage from 0 to 100");
    for stage in Stage::ALL {
        let words = format!("as {} is more", stage.word());
        border(
            &book,
            |n| new(Project { stages: Stages::default().with(stage, n), ..p() }),
            MOST,
            MOST + 1,
            &words,
        );
    }
    let teach = |teaching: Teaching| new(Project { teaching, ..p() });
    let t = Teaching::default;
    border(&book, |n| teach(Teaching { sets_a_seat: n, ..t() }), 1, 0, "sets a seat of 0");
    border(&book, |n| teach(Teaching { sets_a_seat: n, ..t() }), MOST, MOST + 1, "as sets a seat is more");
    border(&book, |n| teach(Teaching { spare_sets: n, ..t() }), MOST, MOST + 1, "as spare sets is more");
    border(
        &book,
        |n| teach(Teaching { prepare_minutes: n, ..t() }),
        MOST,
        MOST + 1,
        "minutes of preparing is",
    );
    border(&book, |n| teach(Teaching { teach_minutes: n, ..t() }), MOST, MOST + 1, "minutes of teaching is");
    border(&book, |n| teach(Teaching { margin: Some(n), ..t() }), 99, 100, "a percentage from 0 to 99");
    border(&book, |n| teach(Teaching { room: cents(n), ..t() }), 0, -1, "a price is zero or more");
    border(&book, |n| teach(Teaching { adhesive: cents(n), ..t() }), 0, -1, "a price is zero or more");
    border(&book, |n| teach(Teaching { ink: cents(n), ..t() }), 0, -1, "a price is zero or more");
    let after = |afterwards: Afterwards| new(Project { afterwards, ..p() });
    border(
        &book,
        |n| after(Afterwards { came: Some(n), ..Afterwards::default() }),
        MOST,
        MOST + 1,
        "as people is",
    );
    border(
        &book,
        |n| after(Afterwards { paid: Some(n), ..Afterwards::default() }),
        MOST,
        MOST + 1,
        "as people is",
    );
    let sold = |count: u32, takings: i64, cost: i64| Sale {
        on: DAY,
        kind: SaleKind::Item,
        what: "tag".into(),
        count,
        takings: Money::from_minor(takings),
        cost: Money::from_minor(cost),
        from_shelf: false,
    };
    let sale = |sale: Sale| after(Afterwards { sales: vec![sale], ..Afterwards::default() });
    border(&book, |n| sale(sold(n, 0, 0)), 1, 0, "sale of 0");
    border(&book, |n| sale(sold(1, n, 0)), 0, -1, "a price is zero or more");
    border(&book, |n| sale(sold(1, 0, n)), 0, -1, "a price is zero or more");
    let people = |name: &str| new(Project { attendees: vec!["A".into(), name.into()], ..p() });
    border(&book, people, "B", " ", "a person needs a name");
    let piece = |piece: PieceWanted| new(Project { pieces: vec![piece], ..p() });
    let tag = |n| PieceWanted::new("tag", size("2x3"), n);
    border(&book, |n| piece(tag(n)), MOST, MOST + 1, "as pieces is more");
    border(
        &book,
        |allowance| piece(PieceWanted { allowance, ..tag(1) }),
        length("4"),
        length("4 1/64"),
        "from 0 to 4 in",
    );
    let under = Length::ZERO - Length::from_units(1);
    border(
        &book,
        |allowance| piece(PieceWanted { allowance, ..tag(1) }),
        Length::ZERO,
        under,
        "from 0 to 4 in",
    );
}

#[test]
fn a_card_at_its_limits() {
    let book = Book::default();
    let loose = |card: ProjectCard| Edit::LooseCard { was: None, now: Some(Box::new(card)) };
    let in_class =
        |card: ProjectCard| add_project(&book, Project { cards: vec![card], ..Project::new("class") });
    for new in [&loose as &dyn Fn(ProjectCard) -> Edit, &in_class] {
        border(&book, |n| new(ProjectCard { count: n, ..card() }), MOST, MOST + 1, "as cards is more");
        border(&book, |n| new(ProjectCard { spares: n, ..card() }), MOST, MOST + 1, "as spares is more");
        border(
            &book,
            |n| new(ProjectCard { envelope_spares: n, ..card() }),
            MOST,
            MOST + 1,
            "as spare envelopes is",
        );
        border(
            &book,
            |l| new(ProjectCard { base_allowance: l, ..card() }),
            length("4"),
            length("4 1/64"),
            "0 to 4 in",
        );
        let mats = |n: usize| new(card().with_mats(&vec![length("1/64"); n], &[]));
        border(&book, mats, 100, 101, "a card of more than 100 layers is a book");
        let extras =
            |n: usize| new(ProjectCard { extras: vec![CardExtra::of(Make::InsertSheet); n], ..card() });
        border(&book, extras, 100, 101, "a card of more than 100 layers is a book");
        let score = Score { side: Side::Width, at: length("1") };
        let scores = |n: usize| new(ProjectCard { scores: vec![score; n], ..card() });
        border(&book, scores, 100, 101, "a card of more than 100 layers is a book");
        let layer = |change: &dyn Fn(&mut CardLayer)| {
            let mut card = card().with_mats(&[length("1/8")], &[]);
            change(&mut card.layers[0]);
            new(card)
        };
        border(
            &book,
            |n: u32| layer(&|l| l.count = n),
            1000,
            1001,
            "1001 layers alike on one card are too many",
        );
        border(&book, |a: Length| layer(&|l| l.allowance = a), length("4"), length("4 1/64"), "0 to 4 in");
        let called = |n: usize| layer(&|l| l.name = "a".repeat(n));
        border(&book, called, 2000, 2001, "the layer's name is too long");
        let coloured = |n: usize| layer(&|l| l.colour = Some(CardColour::Named("a".repeat(n))));
        border(&book, coloured, 2000, 2001, "the color is too long");
        let weight = |n: i64| {
            let mut card = card();
            card.weighed.glue = Some(Weight::from_mg(n));
            new(card)
        };
        border(&book, weight, 2_000_000, 2_000_001, "between nothing and 2 kg");
        border(&book, weight, 0, -1, "between nothing and 2 kg");
        let gone = PaperRef::Shelf(ItemId(9));
        let why = refused(&book, &new(ProjectCard { base_paper: Some(gone), ..card() })).unwrap();
        assert!(why.contains("there is no item 9"), "{why}");
        let why = refused(&book, &layer(&|l| l.colour = Some(CardColour::Swatch(SwatchId(9))))).unwrap();
        assert!(why.contains("there is no swatch 9"), "{why}");
    }
}

#[test]
fn other_records_at_their_limits() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let plum = bench.item(Item::new("plum", Kind::PlainSheet));
    let class = bench.project(Project::new("class"));
    let bit = OffcutId(1);
    bench.do_it(&Edit::Offcut(Row::add(bit, offcut(fern))));
    let book = &bench.0;

    let order = |count| Edit::Order(Row::add(OrderId(1), Order::of(fern, count, DAY)));
    border(book, order, 1, 0, "order of 0");
    border(book, order, MOST, MOST + 1, "as order is more");
    let of = |item| Edit::Order(Row::add(OrderId(1), Order::of(item, 1, DAY)));
    border(book, of, fern, ItemId(9), "there is no item 9");

    let booking = |project, item, offcut, count| {
        Edit::Booking(Row::add(BookingId(1), Booking { project, item, offcut, count, pieces: 0, on: None }))
    };
    border(book, |n| booking(class, fern, None, n), 1, 0, "booking of 0");
    border(book, |p| booking(p, fern, None, 1), class, ProjectId(9), "there is no project 9");
    border(book, |i| booking(class, i, None, 1), fern, ItemId(9), "there is no item 9");
    border(book, |o| booking(class, fern, Some(o), 1), bit, OffcutId(9), "there is no offcut 9");
    border(book, |i| booking(class, i, Some(bit), 1), fern, plum, "another paper than was booked");

    let id = book.assortments().next();
    let brings = |contents| Edit::Assortment(Row::add(id, pack(contents)));
    border(book, brings, vec![(fern, 1)], vec![], "this pack is empty");
    border(book, brings, vec![(fern, MOST)], vec![(fern, MOST + 1)], "as pack is more");
    border(book, brings, vec![(fern, 1)], vec![(fern, 1), (plum, 0)], "pack of 0");
    border(book, brings, vec![(fern, 1)], vec![(fern, 1), (ItemId(9), 1)], "there is no item 9");

    let next = book.offcuts().next();
    let kept = |o: Offcut| Edit::Offcut(Row::add(next, o));
    border(book, |item| kept(Offcut { item, ..offcut(fern) }), fern, ItemId(9), "there is no item 9");
    let wide = |width| {
        let size = Size { width, ..size("2x3") };
        kept(Offcut { size, ..offcut(fern) })
    };
    border(book, wide, Length::from_units(1), Length::ZERO, "above zero both ways");
    border(
        book,
        |n: usize| kept(Offcut { place: "a".repeat(n), ..offcut(fern) }),
        2000,
        2001,
        "the place is too long",
    );
    let moved = |item| {
        Edit::Offcut(Row::alter(bit, offcut(fern), Offcut { item, note: "moved".into(), ..offcut(fern) }))
    };
    border(book, moved, fern, plum, "an offcut cannot change its paper");

    let set = |now: BookSettings| Edit::Settings { was: Box::default(), now: Box::new(now) };
    let s = BookSettings::default;
    border(
        book,
        |c: &str| set(BookSettings { currency: c.into(), ..s() }),
        "farthing",
        "farthings",
        "a currency is",
    );
    border(book, |c: &str| set(BookSettings { currency: c.into(), ..s() }), "EUR", "EUR1", "a currency is");
    border(book, |n| set(BookSettings { spoilage_percent: n, ..s() }), 100, 101, "from 0 to 100");
    border(book, |n| set(BookSettings { spoilage_fixed: n, ..s() }), MOST, MOST + 1, "as spoilage is more");
    border(
        book,
        |l| set(BookSettings { finest_mark: l, ..s() }),
        Length::from_units(1),
        Length::ZERO,
        "the finest mark",
    );
    for (at, over) in [("1/64", 0), ("2", 1)] {
        let floor = |on: bool| {
            let mut floor = size("1x3");
            let l = if on { length(at) } else { Length::ZERO };
            if over == 0 {
                floor.width = l
            } else {
                floor.height = l
            }
            set(BookSettings { offcut_floor: floor, ..s() })
        };
        border(book, floor, true, false, "the offcut floor must be above zero");
    }

    let format = |name: &str| {
        let format = SheetFormat { name: name.into(), size: size("6x9"), note: String::new() };
        Edit::Format(Row::add(book.formats().next(), format))
    };
    border(book, format, "mine", "", "a sheet format needs a name");
    let mut then = book.clone();
    then.apply(&format("mine"), DAY).unwrap();
    let twice = |name: &str| {
        let format = SheetFormat { name: name.into(), size: size("6x9"), note: String::new() };
        Edit::Format(Row::add(then.formats().next(), format))
    };
    border(&then, twice, "yours", " MINE", "there is already a sheet format");
    // Under its own name it is changed without being another.
    let was = SheetFormat { name: "mine".into(), size: size("6x9"), note: String::new() };
    let now = SheetFormat { size: size("6x8"), ..was.clone() };
    assert_eq!(
        refused(&then, &Edit::Format(Row::alter(then.formats().iter().next().unwrap().0, was, now))),
        None
    );
}

#[test]
fn swatches_and_trios_at_their_limits() {
    let mut bench = Bench::default();
    let [a, b, c] = ["a", "b", "c"].map(|name| bench.swatch(name, [50.0, 0.0, 0.0]));
    let trio = |swatches| {
        let kept = KeptTrio {
            name: "trio".into(),
            swatches,
            favourite: false,
            own: true,
            dismissed: false,
            note: String::new(),
        };
        Edit::Trio(Row::add(TrioId(1), kept))
    };
    for twice in [[a, a, b], [a, b, b], [a, b, a]] {
        border(&bench.0, trio, [a, b, c], twice, "three different colors");
    }
    border(&bench.0, trio, [a, b, c], [a, b, SwatchId(9)], "there is no swatch 9");
    let was = bench.0.swatches().get(a).unwrap().clone();
    let alter = |now: NamedColour| Edit::Swatch(Row::alter(a, was.clone(), now));
    let lab = |l: f64| alter(NamedColour { lab: [50.0, l, 0.0], ..was.clone() });
    border(&bench.0, lab, 1000.0, 1000.1, "coordinates must be plain numbers");
    border(&bench.0, lab, -1000.0, f64::NAN, "coordinates must be plain numbers");
    let named = |name: &str| alter(NamedColour { name: name.into(), ..was.clone() });
    border(&bench.0, named, "A", " B ", "there is already a swatch");
    let formerly = |name: &str| alter(NamedColour { former_names: vec![name.into()], ..was.clone() });
    border(&bench.0, formerly, "old", "", "a former name needs a name");
}

/// A line of the log: counts of 1 to 1,000,000, each reason in its own direction, a price for what came alone.
#[test]
fn a_line_at_its_limits() {
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let plum = bench.item(Item::new("plum", Kind::PlainSheet));
    bench.receive(fern, 20);
    let bit = OffcutId(1);
    bench.do_it(&Edit::Offcut(Row::add(bit, offcut(fern))));
    bench.do_it(&Edit::Log(NewLine::offcut_made(fern, bit, 3, "")));
    let book = &bench.0;
    border(book, |n| Edit::Log(NewLine::received(fern, n, "")), 1, 0, "0 is no change");
    border(book, |n| Edit::Log(NewLine::received(fern, n, "")), MOST, MOST + 1, "more than a shelf holds");
    border(book, |i| Edit::Log(NewLine::received(i, 1, "")), fern, ItemId(9), "there is no item 9");
    border(
        book,
        |i| Edit::Log(NewLine::offcut_used(i, bit, 1, "")),
        fern,
        plum,
        "another paper than the line says",
    );
    border(
        book,
        |o| Edit::Log(NewLine::offcut_made(fern, o, 1, "")),
        bit,
        OffcutId(9),
        "there is no offcut 9",
    );
    border(
        book,
        |n: usize| Edit::Log(NewLine::used(fern, 1, "j".repeat(n))),
        2000,
        2001,
        "the job is too long",
    );
    let turned = |new: fn(ItemId, u32, &'static str) -> NewLine, back: bool| {
        let line = new(fern, 2, "");
        let change = if back { -line.change } else { line.change };
        Edit::Log(NewLine { change, ..line })
    };
    border(book, |back| turned(NewLine::received, back), false, true, "a line \"received\" cannot change");
    border(book, |back| turned(NewLine::used, back), false, true, "a line \"used\" cannot change");
    let bits = |new: fn(ItemId, OffcutId, u32, &'static str) -> NewLine, back: bool| {
        let line = new(fern, bit, 2, "");
        let change = if back { -line.change } else { line.change };
        Edit::Log(NewLine { change, ..line })
    };
    border(
        book,
        |back| bits(NewLine::offcut_made, back),
        false,
        true,
        "a line \"offcut made\" cannot change",
    );
    border(
        book,
        |back| bits(NewLine::offcut_used, back),
        false,
        true,
        "a line \"offcut used\" cannot change",
    );
    for change in [-2, 2] {
        assert_eq!(refused(book, &Edit::Log(NewLine::adjusted(fern, change, ""))), None);
    }
    let priced = |line: NewLine| Edit::Log(line.for_price(Money::from_minor(100)));
    border(book, priced, NewLine::received(fern, 1, ""), NewLine::used(fern, 1, ""), "only what is received");
    let dear = |n| Edit::Log(NewLine::received(fern, 1, "").for_price(Money::from_minor(n)));
    border(book, dear, 0, -1, "a price is zero or more");
    // Neither a line of sheets for an offcut nor one of an offcut for sheets.
    let astray = NewLine { offcut: Some(bit), ..NewLine::received(fern, 1, "") };
    assert!(refused(book, &Edit::Log(astray)).unwrap().contains("cannot change a count"));
    let astray = NewLine { offcut: None, ..NewLine::offcut_used(fern, bit, 1, "") };
    assert!(refused(book, &Edit::Log(astray)).unwrap().contains("cannot change a count"));
}

/// A million rows of a list are taken, one more is not: pieces and layouts of a line, sales and names of a class.
#[test]
fn lists_at_their_limits() {
    const ROWS: usize = MOST as usize;
    let mut bench = Bench::default();
    let fern = bench.item(Item::new("fern", Kind::PlainSheet));
    let class = bench.project(Project::new("class"));
    bench.receive(fern, 1);
    let line = |work| Edit::Log(NewLine::used(fern, 1, "").for_work(work));
    let made = MadePiece { name: String::new(), size: size("2x3"), count: 1 };
    let pieces = |n| line(ProjectWork { pieces: vec![made.clone(); n], ..ProjectWork::of(class) });
    border(&bench.0, pieces, ROWS, ROWS + 1, "cannot name that many pieces");
    let layouts = |n| line(ProjectWork { layouts: vec![(0, 1); n], ..ProjectWork::of(class) });
    border(&bench.0, layouts, ROWS, ROWS + 1, "cannot name that many pieces");
    let sale = Sale {
        on: DAY,
        kind: SaleKind::Item,
        what: String::new(),
        count: 1,
        takings: Money::ZERO,
        cost: Money::ZERO,
        from_shelf: false,
    };
    let new = |project| add_project(&bench.0, project);
    let sales = |n| {
        let afterwards = Afterwards { sales: vec![sale.clone(); n], ..Afterwards::default() };
        new(Project { afterwards, ..Project::new("other") })
    };
    border(&bench.0, sales, ROWS, ROWS + 1, "cannot have that many lines of sales or names");
    let names = |n| new(Project { attendees: vec!["a".to_owned(); n], ..Project::new("other") });
    border(&bench.0, names, ROWS, ROWS + 1, "cannot have that many lines of sales or names");
    let work = |n: usize| {
        line(ProjectWork {
            pieces: vec![MadePiece { name: "a".repeat(n), ..made.clone() }],
            ..ProjectWork::of(class)
        })
    };
    border(&bench.0, work, 2000, 2001, "the piece's name is too long");
    let count = |count| {
        line(ProjectWork { pieces: vec![MadePiece { count, ..made.clone() }], ..ProjectWork::of(class) })
    };
    border(&bench.0, count, 1, 0, "pieces of 0");
    let copies = |n| line(ProjectWork { layouts: vec![(0, n)], ..ProjectWork::of(class) });
    border(&bench.0, copies, 1, 0, "sheets of a layout of 0");
    let of = |project| line(ProjectWork::of(project));
    border(&bench.0, of, class, ProjectId(9), "there is no project 9");
}
