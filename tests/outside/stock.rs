//! Stock against worked tasks and trade practice.
//!
//! Figures: `trade/acceptance_tasks.csv` (worked by hand, each with its working) and `trade/inventory_practice.csv`.

use super::reference;
use jiff::civil::{Date, date};
use std::collections::BTreeMap;
use trimside::domain::book::Book;
use trimside::domain::cutlist;
use trimside::domain::cutting::leftover;
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::planner::InTurn;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::length::{Length, Unit};
use trimside::domain::money::Money;
use trimside::domain::planning::{self, ProjectJob, Takes};
use trimside::domain::project::{PaperRef, PieceWanted, Project, ProjectCard, Supply};
use trimside::domain::size::{Grain, Size};
use trimside::domain::stock::class::OpenPapers;
use trimside::domain::stock::cost::costs;
use trimside::domain::stock::cut::{self, CutSheets, Left};
use trimside::domain::stock::instead::Close;
use trimside::domain::stock::lot::{lots, mixed_lots};
use trimside::domain::stock::needs::{Basis, Needs, Settled, alone_on_a_sheet, needs};
use trimside::domain::stock::reorder::{reorder, wanting};
use trimside::domain::stock::shortage::shortage;
use trimside::domain::stock::{
    Assortment, Booking, Item, ItemId, Kind, NamedColour, NewLine, ProjectId, State, SwatchId, class, shelf,
};

pub const DAY: Date = date(2026, 3, 2);

pub fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

/// A length as typed.
pub fn length(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

pub fn cents(n: i64) -> Option<Money> {
    Some(Money::from_minor(n))
}

/// A book and a short way to fill it.
#[derive(Default)]
pub struct Bench(pub Book);

impl Bench {
    pub fn do_it(&mut self, edit: &Edit) {
        self.0.apply(edit, DAY).unwrap();
    }

    pub fn item(&mut self, item: Item) -> ItemId {
        let id = self.0.items().next();
        self.do_it(&Edit::Item(Row::add(id, item)));
        id
    }

    pub fn swatch(&mut self, name: &str, lab: [f64; 3]) -> SwatchId {
        let id = self.0.swatches().next();
        let new = NamedColour {
            name: name.into(),
            family: String::new(),
            lab,
            measured: false,
            hex: [0; 3],
            former_names: Vec::new(),
            note: String::new(),
        };
        self.do_it(&Edit::Swatch(Row::add(id, new)));
        id
    }

    pub fn paper(&mut self, name: &str, sheet: &str, price: i64) -> ItemId {
        self.item(Item { size: Some(size(sheet)), price: cents(price), ..Item::new(name, Kind::PlainSheet) })
    }

    pub fn project(&mut self, project: Project) -> ProjectId {
        let id = self.0.projects().next();
        self.do_it(&Edit::Project(Row::add(id, project)));
        id
    }

    pub fn receive(&mut self, item: ItemId, n: u32) {
        self.do_it(&Edit::Log(NewLine::received(item, n, "")));
    }

    pub fn book_for(&mut self, project: ProjectId, item: ItemId, count: u32, on: Option<Date>) {
        let was = self.0.projects().get(project).unwrap().clone();
        self.do_it(&Edit::Project(Row::alter(project, was.clone(), Project { date: on, ..was })));
        let booking = Booking { project, item, offcut: None, count, pieces: 0, on };
        let id = self.0.bookings().next();
        self.do_it(&Edit::Booking(Row::add(id, booking)));
    }
}

/// The plan behind a project's figures.
pub fn settled(book: &Book, id: ProjectId) -> (ProjectJob, Plan) {
    let job = planning::job_of(book, id, &planning::trimmer(book)).unwrap();
    let plan = planning::settle(&job.job, &mut InTurn);
    (job, plan)
}

/// What it needs, with that plan.
pub fn needed(book: &Book, id: ProjectId) -> Needs {
    let (job, plan) = settled(book, id);
    needs(book, id, Some(Settled { job: &job, plan: &plan })).unwrap()
}

/// The edit that books it, where there is something to book.
pub fn booking_of(book: &Book, id: ProjectId) -> Option<Edit> {
    let (job, plan) = settled(book, id);
    class::book_plan(book, Settled { job: &job, plan: &plan }).unwrap()
}

/// The expected answer of a worked task, as its row has it.
fn task(id: &str) -> Option<String> {
    let text = reference("trade/acceptance_tasks.csv")?;
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let row = reader.records().map(Result::unwrap).find(|r| &r[0] == id).unwrap();
    Some(row[3].to_owned())
}

#[test]
fn cost_per_card_and_per_seat() {
    // Task 18: letter 0.45, 12 x 12 0.60, envelope 0.18, adhesive 0.06 a card; 53 and 11 sheets, 60 cards, 14 seats.
    let Some(expected) = task("18") else { return };
    let mut bench = Bench::default();
    let letter = bench.paper("letter stock", "8.5x11", 45);
    let square = bench.paper("pattern", "12x12", 60);
    let envelope = bench.item(Item { price: cents(18), ..Item::new("envelope", Kind::Envelope) });
    let adhesive = bench.item(Item { price: cents(6), ..Item::new("adhesive", Kind::Adhesive) });
    let card =
        ProjectCard { envelope: Some(envelope), count: 4, ..ProjectCard::new("card", size("4.25x5.5")) };
    let project = Project {
        seats: 14,
        samples: 1,
        cards: vec![card],
        supplies: vec![Supply { item: adhesive, count: 4 }],
        ..Project::new("spring class")
    };
    let id = bench.project(project);
    let needs = needed(&bench.0, id);
    let things = needs.in_all();
    assert_eq!((things[&envelope], things[&adhesive]), (60, 60));
    let takes = Takes { sheets: BTreeMap::from([(letter, 53), (square, 11)]), ..Takes::default() };
    let costs = costs(&bench.0, id, &Needs { takes, ..needs }).unwrap();

    let paper: Money =
        costs.lines.iter().filter(|l| [letter, square].contains(&l.item)).filter_map(|l| l.opened).sum();
    let of = |item| costs.lines.iter().find(|l| l.item == item).and_then(|l| l.opened).unwrap();
    for figure in [
        format!("Paper {}", paper.show("$")),
        format!("envelopes {}", of(envelope).show("$")),
        format!("adhesive {}", of(adhesive).show("$")),
        format!("total {}", costs.opened.show("$")),
        format!("${:.4} a card made ({})", costs.a_card_made().exact(), costs.made),
        format!("a card handed out ({})", costs.handed_out),
        format!("{} a seat", costs.a_seat().unwrap().show("$")),
    ] {
        assert!(expected.contains(&figure), "{figure}: {expected}");
    }
    // 44.85 / 56 = 0.80089: shown to the cent, exact for programs.
    assert_eq!(costs.a_card_out().to_string(), "0.80");
    assert!((costs.a_card_out().exact() - 0.800_893).abs() < 1e-6);
}

#[test]
fn the_offcut_is_used_first() {
    // Task 7: after 6 mats 4 x 5 1/4 from 12 x 12 an offcut 12 x 1 1/2 is left; it holds strips 1 x 3 and bands
    // 1 1/2 x 5 1/4. The bin entry is the offcut with its paper.
    let mut bench = Bench::default();
    let pattern = bench.paper("garden lattice", "12x12", 60);
    bench.receive(pattern, 1);
    let cut = CutSheets {
        sheets: vec![(pattern, 1)],
        offcuts: Vec::new(),
        left: vec![Left { item: pattern, size: size("12x1.5"), grain: Grain::Unknown, count: 1 }],
        ..CutSheets::default()
    };
    let edit = cut::log_edit(&bench.0, "mats", None, &cut);
    bench.do_it(&edit);
    assert_eq!(bench.0.on_hand(pattern), 0);
    let offcut = bench.0.offcuts().iter().next().unwrap().0;
    assert_eq!(bench.0.offcut_count(offcut), 1);
    for (what, takes_it) in [("1x3", true), ("1.5x5.25", true), ("2x2", false)] {
        let piece = PieceWanted { paper: Some(pattern), ..PieceWanted::new(what, size(what), 1) };
        let id = bench.project(Project { pieces: vec![piece], ..Project::new(what) });
        let takes = needed(&bench.0, id).takes;
        assert_eq!(takes.offcuts.get(&offcut), takes_it.then_some(&1), "{what}");
        assert_eq!(takes.sheet_total(), u64::from(!takes_it), "{what}");
    }
    // Floor of the bin, 1 x 3 or 2 x 2 typical (inventory practice, partial sheets).
    assert!(leftover::is_kept(size("12x1.5"), size("1x3")));
    assert!(!leftover::is_kept(size("12x1/2"), size("1x3")));
}

#[test]
fn photo_mats_take_eight_sheets() {
    // Task 4: 40 photo mats 3 1/2 x 5 from letter: 5 a sheet, 8 sheets.
    let mut bench = Bench::default();
    let letter = bench.paper("fern", "8.5x11", 45);
    let piece = PieceWanted { paper: Some(letter), ..PieceWanted::new("photo mat", size("3.5x5"), 40) };
    let id = bench.project(Project { pieces: vec![piece], ..Project::new("album") });
    let needs = needed(&bench.0, id);
    assert_eq!(alone_on_a_sheet(&bench.0, &needs.list.pieces[0]), 5);
    assert_eq!((needs.still(), needs.basis), (BTreeMap::from([(letter, 8)]), Basis::Planned));
}

#[test]
fn pieces_are_rounded_up_after_the_allowance_then_sheets() {
    // Inventory practice: pieces per attendee x attendees + samples, plus spoilage (a percentage and a fixed number),
    // rounded up, then sheets. 12 seats and 1 sample of 1 card: 13, 5 % of that 0.65 up to 1, 1 fixed: 15 pieces; 12 a
    // sheet (2 1/2 x 3 on 8 1/2 x 11 lying 3 x 4 turned; arithmetic): 2 sheets.
    let mut bench = Bench::default();
    let paper = bench.paper("fern", "9x10", 45);
    let piece = PieceWanted { paper: Some(paper), turn: false, ..PieceWanted::new("tag", size("3x2.5"), 1) };
    let id = bench.project(Project {
        seats: 12,
        samples: 1,
        spoilage_percent: 5,
        spoilage_fixed: 1,
        pieces: vec![piece],
        ..Project::new("class")
    });
    let need = needed(&bench.0, id);
    let tag = &need.list.pieces[0];
    assert_eq!((tag.made, alone_on_a_sheet(&bench.0, tag), need.still()[&paper]), (15, 12, 2));
}

#[test]
fn whole_packs_until_the_mark_is_met() {
    // Inventory practice: order whole packs until on hand + on order - booked >= mark; packs = ceil(deficit / pack).
    let mut bench = Bench::default();
    let item = Item {
        low: 10,
        pack: 24,
        price: cents(900),
        seller: "the mill".into(),
        lead_days: 10,
        ..Item::new("fern", Kind::PlainSheet)
    };
    let fern = bench.item(item);
    bench.receive(fern, 6);
    let class = bench.project(Project::new("class"));
    bench.book_for(class, fern, 25, Some(date(2026, 3, 20)));
    // 10 + 25 - 6 = 29, two packs of 24; needed on the 20th with ten days on the way.
    assert_eq!(wanting(&bench.0, fern), 29);
    let list = reorder(&bench.0, DAY);
    let line = &list.sellers[0].lines[0];
    assert_eq!((line.packs, line.brings, line.price, line.late), (2, 48, cents(1800), false));
    assert_eq!(line.order_by, Some(date(2026, 3, 10)));
    assert!(reorder(&bench.0, date(2026, 3, 11)).sellers[0].lines[0].late);
    assert_eq!(shortage(&bench.0, fern).map(|s| s.missing), Some(19));

    let order = shelf::ordered(&bench.0, fern, 48, DAY);
    bench.do_it(&order);
    assert!(reorder(&bench.0, DAY).sellers.is_empty(), "what is on order counts");
    assert_eq!(shortage(&bench.0, fern), None, "it comes on the 12th");

    // A part arrives, then the rest: both are in the log, nothing is awaited.
    let id = bench.0.orders().iter().next().unwrap().0;
    let first =
        shelf::arrived(&bench.0, id, 24, &shelf::Come { price: cents(900), ..shelf::Come::default() })
            .unwrap();
    bench.do_it(&first);
    assert_eq!((bench.0.on_hand(fern), bench.0.on_order(fern)), (30, 24));
    let rest = shelf::arrived(&bench.0, id, 24, &shelf::Come { price: cents(900), ..shelf::Come::default() })
        .unwrap();
    bench.do_it(&rest);
    assert_eq!((bench.0.on_hand(fern), bench.0.on_order(fern), bench.0.orders().len()), (54, 0, 0));
}

#[test]
fn an_assortment_is_offered_only_where_it_is_the_cheapest_cover() {
    // Inventory practice: N sheets each of M colours under one number; a colour inside it may not be buyable alone.
    let mut bench = Bench::default();
    let colours: Vec<ItemId> = (0..4)
        .map(|n| {
            bench.item(Item {
                low: 8,
                pack: 12,
                price: cents(700),
                ..Item::new(format!("color {n}"), Kind::PlainSheet)
            })
        })
        .collect();
    let contents = colours.iter().map(|c| (*c, 12)).collect();
    let assortment = Assortment {
        name: "four meadows".into(),
        order_number: "M-4".into(),
        seller: String::new(),
        price: cents(2000),
        contents,
        state: State::Current,
        note: String::new(),
    };
    let id = bench.0.assortments().next();
    bench.do_it(&Edit::Assortment(Row::add(id, assortment)));
    // All four wanting: four packs are 28.00, the assortment 20.00.
    let list = reorder(&bench.0, DAY);
    assert_eq!(
        (list.sellers[0].lines.len(), list.sellers[0].packs.len(), list.sellers[0].total),
        (0, 1, Money::from_minor(2000))
    );
    assert_eq!(list.sellers[0].packs[0].also.iter().map(|a| a.1).sum::<u64>(), 16);
    // Two wanting: two packs are 14.00.
    bench.receive(colours[0], 8);
    bench.receive(colours[1], 8);
    let list = reorder(&bench.0, DAY);
    assert_eq!((list.sellers[0].lines.len(), list.sellers[0].packs.len()), (2, 0));
    // One of them is not sold alone: only the assortment brings it, and it covers the other one too.
    let was = bench.0.items().get(colours[2]).unwrap().clone();
    let now = Item { sold_alone: false, ..was.clone() };
    bench.do_it(&Edit::Item(Row::alter(colours[2], was, now)));
    let list = reorder(&bench.0, DAY);
    assert_eq!((list.sellers[0].lines.len(), list.sellers[0].packs.len()), (0, 1));
    assert_eq!(list.sellers[0].packs[0].also.len(), 4, "and says what else it brings");

    let edit = shelf::receive_assortment(
        &bench.0,
        id,
        1,
        &shelf::Come { price: cents(2001), ..shelf::Come::default() },
    )
    .unwrap();
    bench.do_it(&edit);
    assert_eq!(bench.0.on_hand(colours[2]), 12);
    let paid: Money = colours.iter().map(|c| lots(&bench.0, *c).value().0).sum();
    assert_eq!(paid, Money::from_minor(2001), "shared out to the cent");
}

#[test]
fn leaving_items_have_no_mark_and_are_listed_for_a_last_order() {
    // Inventory practice, yearly retirement: mark set to zero when leaving, "last order" list.
    let mut bench = Bench::default();
    let last = date(2026, 8, 31);
    let item = Item { low: 10, state: State::Leaving(last), ..Item::new("fern", Kind::PlainSheet) };
    let fern = bench.item(item);
    let gone = bench.item(Item { low: 5, state: State::Gone, ..Item::new("brick", Kind::PlainSheet) });
    assert!(reorder(&bench.0, DAY).sellers.is_empty());
    let class = bench.project(Project::new("class"));
    bench.book_for(class, fern, 3, None);
    bench.book_for(class, gone, 2, None);
    let list = reorder(&bench.0, DAY);
    assert_eq!(
        (list.sellers[0].lines[0].wanted, list.last_orders[0].until, list.last_orders[0].booked),
        (3, last, 3)
    );
    assert_eq!((list.unobtainable[0].item, list.unobtainable[0].wanted), (gone, 2));
    let late = reorder(&bench.0, date(2026, 9, 1));
    assert!(late.sellers.is_empty() && late.last_orders.is_empty());
}

#[test]
fn the_oldest_lot_goes_first_and_its_uses_add_up_to_its_price() {
    // Inventory practice, first in first out: lots with date, price, note; warn when one set would mix lots.
    let mut bench = Bench::default();
    let fern = bench.paper("fern", "8.5x11", 45);
    for (n, price, mark) in [(7, 1000, "A"), (5, 500, "B")] {
        let line = NewLine {
            lot: mark.into(),
            ..NewLine::received(fern, n, "").for_price(Money::from_minor(price))
        };
        bench.do_it(&Edit::Log(line));
    }
    assert!(mixed_lots(&bench.0, fern, 7).is_none());
    assert!(mixed_lots(&bench.0, fern, 8).unwrap().contains("7 of lot A, 1 of lot B"));
    for n in [3, 3, 3, 3] {
        bench.do_it(&Edit::Log(NewLine::used(fern, n, "cards")));
    }
    let lots = lots(&bench.0, fern);
    let costs: Vec<i64> = lots.draws.iter().map(|d| d.cost.minor()).collect();
    // 1000 / 7 shared by running totals: 428, 857, 1000; then 100 each.
    assert_eq!(costs, [428, 429, 143 + 200, 300]);
    assert_eq!(costs.iter().sum::<i64>(), 1500);
    assert_eq!(lots.value(), (Money::ZERO, 0));
    assert_eq!(lots.draws[2].from, [(1, 1), (2, 2)]);
}

#[test]
fn a_class_books_uses_and_frees_its_papers() {
    // Inventory practice, booked stock: free = on hand - booked.
    let mut bench = Bench::default();
    let paper = bench.paper("fern", "8.5x11", 45);
    bench.receive(paper, 20);
    let card = ProjectCard {
        base_paper: Some(PaperRef::Shelf(paper)),
        ..ProjectCard::new("card", size("4.25x5.5"))
    };
    let project =
        Project { seats: 12, date: Some(date(2026, 4, 1)), cards: vec![card], ..Project::new("class") };
    let id = bench.project(project);
    let edit = booking_of(&bench.0, id).unwrap();
    bench.do_it(&edit);
    assert_eq!((bench.0.booked(paper), bench.0.free(paper), bench.0.on_hand(paper)), (6, 14, 20));
    assert_eq!(booking_of(&bench.0, id), None, "a second booking changes nothing");
    assert_eq!(
        class::kit(&cutlist::cut_list(&bench.0, id).unwrap()).iter().map(|k| k.a_seat).collect::<Vec<_>>(),
        [1]
    );

    let cancelled = class::cancel(&bench.0, id).unwrap();
    let undo = bench.0.apply(&cancelled, DAY).unwrap().inverse;
    assert_eq!((bench.0.booked(paper), bench.0.free(paper)), (0, 20));
    bench.do_it(&undo);
    assert_eq!(bench.0.booked(paper), 6);

    assert_eq!(class::open_papers(&bench.0, id).sheets, BTreeMap::from([(paper, 6)]));
    let logged = class::taught(&bench.0, id, OpenPapers::Used).unwrap();
    bench.do_it(&logged);
    assert_eq!((bench.0.on_hand(paper), bench.0.booked(paper), bench.0.free(paper)), (14, 0, 14));
    assert!(class::taught(&bench.0, id, OpenPapers::Used).unwrap_err().contains("done already"));
    assert!(class::cancel(&bench.0, id).unwrap_err().contains("done already"), "a taught class stays taught");
    assert!(bench.0.has_logged("class"));
}

#[test]
fn count_day_logs_the_differences() {
    // Inventory practice, count errors: enter counted, log the difference with its reason.
    let mut bench = Bench::default();
    let (fern, brick) = (bench.paper("fern", "8.5x11", 45), bench.paper("brick", "8.5x11", 45));
    bench.receive(fern, 10);
    bench.receive(brick, 5);
    let edit = shelf::count_day(&bench.0, &[(fern, 8), (brick, 5)]).unwrap();
    bench.do_it(&edit);
    let last = bench.0.log().last().unwrap();
    assert_eq!((last.change, last.job.as_str(), bench.0.log().len()), (-2, shelf::COUNT_DAY, 3));
    assert_eq!(shelf::count_day(&bench.0, &[(fern, 8), (brick, 5)]), None);
    let edit = shelf::adjust_then_use(&bench.0, brick, 9, 7, "cards");
    bench.do_it(&edit);
    assert_eq!(bench.0.on_hand(brick), 2);
    assert_eq!(shelf::used_by_month(&bench.0, brick, date(2026, 4, 9), 3), [0, 7, 0]);
    assert_eq!(shelf::suggested_mark(&bench.0, brick), 7);
}

#[test]
fn the_yearly_refresh_marks_who_leaves_and_who_arrives() {
    use trimside::domain::stock::import::StockRow;
    use trimside::domain::stock::{KeptTrio, TrioId, refresh};
    let mut bench = Bench::default();
    let mut swatch = |name: &str, lab: [f64; 3]| bench.swatch(name, lab);
    let colours = [
        swatch("fern", [50.0, -30.0, 20.0]),
        swatch("moss", [48.0, -28.0, 22.0]),
        swatch("brick", [45.0, 40.0, 30.0]),
    ];
    let ids: Vec<ItemId> = ["fern", "moss", "brick"]
        .iter()
        .zip(colours)
        .map(|(name, swatch)| {
            bench.item(Item {
                swatch: Some(swatch),
                seller: "the mill".into(),
                order_number: format!("O-{name}"),
                ..Item::new(*name, Kind::PlainSheet)
            })
        })
        .collect();
    let card = ProjectCard {
        base_paper: Some(PaperRef::Shelf(ids[0])),
        ..ProjectCard::new("card", size("4.25x5.5"))
    };
    let project = bench.project(Project { cards: vec![card], ..Project::new("batch") });
    let kept = KeptTrio {
        name: "hedge".into(),
        swatches: colours,
        favourite: false,
        own: true,
        dismissed: false,
        note: String::new(),
    };
    bench.0.apply(&Edit::Trio(Row::add(TrioId(1), kept)), DAY).unwrap();
    let row = |line, name: &str, number: &str| StockRow {
        line,
        name: name.into(),
        order_number: Some(number.into()),
        on_hand: Some(99),
        ..StockRow::default()
    };
    let rows = [row(2, "moss", "N-1"), row(3, "brick", "O-brick"), row(4, "slate rain", "N-2")];
    let plan = refresh::refresh(&bench.0, "The Mill", &rows, date(2026, 8, 31), date(2026, 9, 1));
    assert_eq!(
        (plan.leaving.as_slice(), plan.arriving.as_slice(), plan.staying),
        (&ids[..1], &["slate rain".to_owned()][..], 2)
    );
    bench.do_it(&plan.edit.unwrap());
    let book = &bench.0;
    assert_eq!(book.items().get(ids[0]).unwrap().state, State::Leaving(date(2026, 8, 31)));
    assert_eq!(book.find_item("O-moss").unwrap(), ids[1], "last year's number still finds it");
    assert!(book.log().is_empty(), "a refresh is not a count day");
    let affected = refresh::affected(book, DAY);
    assert_eq!((affected[0].item, affected[0].projects.as_slice()), (ids[0], &[project][..]));
    // CIEDE2000 of fern (50, -30, 20) and moss (48, -28, 22), by the printed formula in a separate program: 2.564.
    let instead = affected[0].instead.unwrap();
    assert_eq!((instead.item, instead.swatch), (ids[1], colours[1]), "moss is the nearest that stays");
    assert!(instead.close == Close::StandsIn && (instead.delta_e - 2.564).abs() < 0.001, "{instead:?}");
    assert_eq!(affected[0].trios, [TrioId(1)]);
    // The trio is told of even where no project uses the colour, and a colour that stays is not told of.
    let mut alone = book.clone();
    let was = alone.projects().get(project).unwrap().clone();
    alone
        .apply(&Edit::Project(Row::alter(project, was.clone(), Project { cards: Vec::new(), ..was })), DAY)
        .unwrap();
    let affected = refresh::affected(&alone, DAY);
    assert_eq!(affected.len(), 1);
    assert_eq!(
        (affected[0].item, affected[0].projects.len(), affected[0].trios.as_slice()),
        (ids[0], 0, &[TrioId(1)][..])
    );
    let turned = refresh::turn_of(book, date(2026, 9, 1)).unwrap();
    bench.do_it(&turned);
    let states: Vec<State> = bench.0.items().iter().map(|(_, i)| i.state).collect();
    assert_eq!(states, [State::Gone, State::Current, State::Current, State::Current]);
}
