//! Three classes worked by hand from idea to afterwards, in the manner of `trade/acceptance_tasks.csv`: two that overlap on one
//! shelf, one that falls short and takes another paper, one to which not all come. Each figure has its arithmetic beside it.

use super::stock::{Bench, DAY, booking_of, cents, needed, settled, size};
use jiff::civil::{Date, date};
use trimside::domain::book::Book;
use trimside::domain::cutting::planner::InTurn;
use trimside::domain::edit::Edit;
use trimside::domain::money::Money;
use trimside::domain::planning;
use trimside::domain::project::{
    PieceWanted, Progress, Project, ProjectCard, Sale, SaleKind, Stage, Supply, Teaching,
};
use trimside::domain::stock::calendar::{Due, calendar};
use trimside::domain::stock::class::{self, OpenPapers};
use trimside::domain::stock::class_change::{self, ClassChange};
use trimside::domain::stock::cost::{Priced, costs};
use trimside::domain::stock::held_class::{self, Closing, Ware};
use trimside::domain::stock::needs::Settled;
use trimside::domain::stock::outlook::outlook;
use trimside::domain::stock::shelf;
use trimside::domain::stock::{Item, ItemId, Kind, ProjectId, booked, cost_told, takings};
use trimside::domain::stock::{reorder, ways};

/// A mat 4 x 5 1/4: four go on a sheet of letter.
fn mats(paper: ItemId, count: u32) -> PieceWanted {
    PieceWanted { paper: Some(paper), ..PieceWanted::new("mat", size("4x5.25"), count) }
}

fn class_of(name: &str, day: Date, seats: u32, pieces: Vec<PieceWanted>) -> Project {
    Project { date: Some(day), seats, pieces, ..Project::new(name) }
}

fn book_it(bench: &mut Bench, id: ProjectId) {
    let edit = booking_of(&bench.0, id).unwrap();
    bench.do_it(&edit);
}

fn change(bench: &mut Bench, id: ProjectId, change: &ClassChange) -> String {
    let edit = class_change::changed(&bench.0, id, change).unwrap();
    let label = edit.describe(&bench.0);
    bench.do_it(&edit);
    label
}

/// What brings the bookings up to date, with the plan of the difference.
fn difference(book: &Book, id: ProjectId) -> Option<Edit> {
    let job = planning::job_of(book, id, &planning::trimmer(book)).unwrap();
    let plan = planning::settle_project(&job, &mut InTurn);
    class::book_papers(book, Settled { job: &job, plan: &plan }).unwrap()
}

#[test]
fn two_classes_on_one_shelf_are_served_by_date_and_each_says_what_the_other_takes() {
    // 8 seats, 4 mats each: 32 mats, 8 sheets. 6 seats, 4 mats: 24 mats, 6 sheets. 12 lie there: the earlier class has its 8,
    // the later one 12 - 8 = 4 of 6, so 2 are short. Its day is 2026-04-08; oat takes 5 days: ordered by 2026-04-03.
    let mut bench = Bench::default();
    let oat = bench.item(Item {
        size: Some(size("8.5x11")),
        lead_days: 5,
        price: cents(45),
        ..Item::new("oat", Kind::PlainSheet)
    });
    bench.receive(oat, 12);
    let late = bench.project(class_of("late", date(2026, 4, 8), 6, vec![mats(oat, 4)]));
    let early = bench.project(class_of("early", date(2026, 4, 1), 8, vec![mats(oat, 4)]));
    // The later one is booked first: dates decide all the same.
    book_it(&mut bench, late);
    book_it(&mut bench, early);
    let look = |id| outlook(&bench.0, id, None).unwrap();
    let row = |id| {
        let need = look(id).needs.into_iter().find(|n| n.item == oat).unwrap();
        (need.needed, need.booked, need.missing)
    };
    assert_eq!((row(early), row(late)), ((8, 8, 0), (6, 6, 2)));
    let others = |id| look(id).others.iter().map(|o| o.words(&bench.0)).collect::<Vec<_>>();
    assert_eq!(others(late), ["early of 2026-04-01 takes 8 of oat first"]);
    assert_eq!(others(early), ["late of 2026-04-08 takes 6 of oat after it"]);
    // From 2026-03-20: oat by the 2nd; both classes cut and packed on the day before, held on their day. 60 days hold all, 10
    // days only what is early.
    let list = calendar(&bench.0, date(2026, 3, 20), 60, |_| None);
    let told: Vec<(Date, Due, u64)> = list.iter().map(|r| (r.on, r.due, r.count)).collect();
    let day = |d: i8| if d > 20 { date(2026, 3, d) } else { date(2026, 4, d) };
    assert_eq!(
        told,
        [
            (day(31), Due::Cuts, 8),
            (day(31), Due::Kits, 8),
            (day(1), Due::Held, 8),
            (day(2), Due::Order, 2),
            (day(7), Due::Cuts, 6),
            (day(7), Due::Kits, 6),
            (day(8), Due::Held, 6),
        ]
    );
    assert_eq!(calendar(&bench.0, date(2026, 3, 20), 10, |_| None).len(), 0);
    assert_eq!(calendar(&bench.0, date(2026, 3, 20), 12, |_| None).len(), 3);
    // 2 ordered on the 20th arrive on the 25th: nothing is short, and the parcel is in the list.
    let edit = shelf::ordered(&bench.0, oat, 2, date(2026, 3, 20));
    bench.do_it(&edit);
    assert_eq!(outlook(&bench.0, late, None).unwrap().needs[0].missing, 0);
    let first = calendar(&bench.0, date(2026, 3, 20), 60, |_| None).remove(0);
    assert_eq!((first.on, first.due, first.count), (date(2026, 3, 25), Due::Arrival, 2));
}

#[test]
fn a_class_that_falls_short_takes_another_paper_and_only_the_difference_is_booked() {
    // 10 seats, one plum and one oat mat each: 10 and 10 mats, 10 / 4 up to 3 sheets of each. Of plum 2 are there: 1 short.
    // Another class has plum mats of its own. With moss instead: 3 of moss booked, 3 of plum given back, oat as it is.
    let mut bench = Bench::default();
    let paper = |bench: &mut Bench, name: &str, n: u32| {
        let id = bench.paper(name, "8.5x11", 45);
        bench.receive(id, n);
        id
    };
    let (plum, oat, moss) =
        (paper(&mut bench, "plum", 2), paper(&mut bench, "oat", 10), paper(&mut bench, "moss", 10));
    let id = bench.project(class_of("short", date(2026, 4, 8), 10, vec![mats(plum, 1), mats(oat, 1)]));
    let other = bench.project(class_of("other", date(2026, 5, 8), 2, vec![mats(plum, 1)]));
    book_it(&mut bench, id);
    let before: Vec<_> =
        booked::bookings_of(&bench.0, id).filter(|(_, b)| b.item == oat).map(|(n, _)| n).collect();
    let missing = |book: &Book| outlook(book, id, None).unwrap().needs.iter().map(|n| n.missing).sum::<u64>();
    assert_eq!(missing(&bench.0), 1);
    let label = change(&mut bench, id, &ClassChange::Swap { from: plum, to: moss });
    assert_eq!(label, "moss instead of plum in short");
    assert_eq!(bench.0.projects().get(other).unwrap().pieces[0].paper, Some(plum), "for this class only");
    // Nothing of oat is planned anew: what is left to plan is 10 mats of moss.
    let job = planning::job_of(&bench.0, id, &planning::trimmer(&bench.0)).unwrap();
    let (rest, _) = planning::difference(&job);
    let left: Vec<_> = rest.pieces.iter().map(|p| (p.paper.clone().unwrap(), p.count)).collect();
    assert_eq!(left, [("moss".to_owned(), 10)]);
    let edit = difference(&bench.0, id).unwrap();
    assert_eq!(edit.describe(&bench.0), "booked 3 more of moss and gave back 3 of plum for short");
    let applied = bench.0.apply(&edit, DAY).unwrap();
    assert_eq!(booked::items(&bench.0, id), [(oat, 3), (moss, 3)].into());
    let after: Vec<_> =
        booked::bookings_of(&bench.0, id).filter(|(_, b)| b.item == oat).map(|(n, _)| n).collect();
    assert_eq!(before, after, "the booking of oat is the one that was there");
    assert_eq!(missing(&bench.0), 0);
    // One step, which one step takes back.
    bench.0.apply(&applied.inverse, DAY).unwrap();
    assert_eq!(booked::items(&bench.0, id), [(plum, 3), (oat, 3)].into());
}

#[test]
fn a_seat_more_on_the_morning_and_a_design_less_leave_what_is_booked_as_it_is() {
    // 10 seats, 2 mats: 20 mats, 5 sheets, full. One seat more: 22, 2 more from 1 sheet: 6 booked, the five layouts as they were.
    let mut bench = Bench::default();
    let oat = bench.paper("oat", "8.5x11", 45);
    let fern = bench.paper("fern", "8.5x11", 45);
    bench.receive(oat, 20);
    bench.receive(fern, 20);
    let id = bench.project(class_of("morning", date(2026, 4, 8), 10, vec![mats(oat, 2)]));
    book_it(&mut bench, id);
    let layouts = |book: &Book| book.projects().get(id).unwrap().plan.as_ref().unwrap().layouts.clone();
    let first = layouts(&bench.0);
    assert_eq!(change(&mut bench, id, &ClassChange::Seats(1)), "morning now has 11 seats");
    let edit = difference(&bench.0, id).unwrap();
    assert_eq!(edit.describe(&bench.0), "booked 1 more of oat for morning");
    bench.do_it(&edit);
    let now = layouts(&bench.0);
    assert_eq!(now.iter().map(|l| l.copies).sum::<u32>(), 6);
    assert!(first.iter().all(|l| now.iter().any(|n| n.tree == l.tree && n.copies == l.copies)), "{now:?}");
    assert_eq!(difference(&bench.0, id), None, "booked just so");
    assert!(class_change::changed(&bench.0, id, &ClassChange::Seats(-11)).is_err());
    assert!(
        class_change::changed(&bench.0, id, &ClassChange::Drop("mat".into())).is_err(),
        "a loose piece is not a card"
    );
    assert!(class_change::changed(&bench.0, id, &ClassChange::Swap { from: fern, to: oat }).is_err());
}

#[test]
fn a_class_from_idea_to_afterwards() {
    // 8 seats of 2 sets, 1 sample, 2 sets to spare: 8 x 2 + 1 + 2 = 19 sets, 18 kits; a mat a set: 19 mats, 5 sheets of letter
    // at 0.45: 2.25; an envelope a set at 0.10: 19, 1.90. Material 4.15. Adhesive 0.05 and ink 0.02 a set: 0.95 and 0.38.
    // 1 h 30 preparing, 2 h 30 teaching at 15.00: 60.00. Room 40.00. In all 4.15 + 0.95 + 0.38 + 60.00 + 40.00 = 105.48.
    // Break even: 105.48 / 8 = 13.185, up to 13.19. At 18.00 a seat 105.48 / 18 = 5.86, 6 seats. A margin of 30 %:
    // 105.48 / 8 / 0.7 = 18.8357, up to 18.84: 8 x 18.84 = 150.72, of which 45.24 is left, 30.02 %; at 18.83 it is 29.98 %.
    let mut bench = Bench::default();
    let oat = bench.paper("oat", "8.5x11", 45);
    let envelope = bench.item(Item { price: cents(10), ..Item::new("envelope", Kind::Envelope) });
    let pad = bench.item(Item { price: cents(700), ..Item::new("soot pad", Kind::InkPad) });
    bench.receive(oat, 10);
    bench.receive(envelope, 40);
    bench.receive(pad, 3);
    let id = bench.project(Project {
        samples: 1,
        seat_price: cents(1800),
        hour_rate: cents(1500),
        supplies: vec![Supply { item: envelope, count: 1 }],
        teaching: Teaching {
            sets_a_seat: 2,
            spare_sets: 2,
            prepare_minutes: 90,
            teach_minutes: 150,
            room: cents(4000),
            adhesive: cents(5),
            ink: cents(2),
            margin: Some(30),
        },
        ..class_of("idea", date(2026, 4, 8), 8, vec![mats(oat, 1)])
    });
    let project = |book: &Book| book.projects().get(id).unwrap().clone();
    assert_eq!((project(&bench.0).sets(), project(&bench.0).kits()), (19, 18));
    let cost = costs(&bench.0, id, &needed(&bench.0, id)).unwrap();
    let of = |n: i64| Money::from_minor(n);
    assert_eq!(
        (cost.opened, cost.adhesive, cost.ink, cost.work, cost.room),
        (of(415), of(95), of(38), of(6000), of(4000))
    );
    assert_eq!(
        (cost.total(), cost.break_even(), cost.break_even_seats()),
        (of(10_548), cents(1319), Some(6))
    );
    assert_eq!(
        (cost.price_for(30), cost.price_for(100), cost.price_for(0)),
        (cents(1884), None, cents(1319))
    );
    // 8 x 18.00 = 144.00 less 105.48: 38.52.
    assert_eq!(cost.left_over(), cents(3852));

    book_it(&mut bench, id);
    let edit = class::stage_done(&bench.0, id, Stage::Packed, 18).unwrap();
    bench.do_it(&edit);
    // 6 came, 7 had paid: 7 x 18.00 = 126.00. 18 kits less 6 x 2 taken: 6 left over.
    let closing = Closing { papers: OpenPapers::Used, came: Some(6), paid: Some(7), on: date(2026, 4, 8) };
    assert!(
        held_class::taught(&bench.0, id, &Closing { came: Some(10), ..closing })
            .unwrap_err()
            .contains("kits for 9")
    );
    let edit = held_class::taught(&bench.0, id, &closing).unwrap();
    assert_eq!(edit.describe(&bench.0), "logged idea: 6 came, 6 kits left over");
    bench.do_it(&edit);
    let class = project(&bench.0);
    assert_eq!((class.progress, class.kits_left()), (Progress::Done, 6));
    assert_eq!((bench.0.on_hand(oat), bench.0.on_hand(envelope)), (5, 21));
    // A kit cost 4.15 / 19 = 0.2184, 0.22 in material.
    let kits = takings::kits(&bench.0);
    assert_eq!((kits[0].left, kits[0].cost), (6, cents(22)));

    // Afterwards: 2 pads for 19.00 that had cost 14.00, 3 kits for 27.00, a stamp set of 24.00 that was ordered; 2 kits are used.
    let mut sell = |ware: Ware<'_>, n: u32, price: i64| {
        let edit = held_class::sold(&bench.0, id, (ware, n), of(price), date(2026, 4, 9)).unwrap();
        bench.do_it(&edit);
    };
    sell(Ware::Shelf(pad), 2, 1900);
    sell(Ware::Kits, 3, 2700);
    sell(Ware::Other("stamp set"), 1, 2400);
    let edit = held_class::use_kits(&bench.0, id, 2, "a present", date(2026, 4, 9)).unwrap();
    bench.do_it(&edit);
    assert_eq!((project(&bench.0).kits_left(), bench.0.on_hand(pad)), (1, 1));
    let sell = held_class::sold(&bench.0, id, (Ware::Kits, 2), of(100), DAY);
    assert!(sell.unwrap_err().contains("1 kit of idea left, not 2"));
    assert!(held_class::sold(&bench.0, id, (Ware::Shelf(pad), 2), of(100), DAY).is_err());
    // Pads that were sold are no material of the class: 126.00 + 19.00 + 27.00 + 24.00 = 196.00; 105.48 + 14.00 = 119.48:
    // 76.52 is left.
    let year = takings::year(&bench.0, 2026);
    let told = &year.rows[0].takings;
    assert_eq!((told.seats, told.kits, told.things), (cents(12_600), of(2700), of(4300)));
    assert_eq!((told.cost, told.things_cost), (of(10_548), of(1400)));
    assert_eq!((told.all(), told.result()), (of(19_600), of(7652)));
    let sold: Vec<_> = year.sold.iter().map(|s| (s.what.as_str(), s.count, s.takings.minor())).collect();
    assert_eq!(sold, [("soot pad", 2, 1900), ("stamp set", 1, 2400), ("kit", 3, 2700)]);
    assert_eq!((takings::year(&bench.0, 2025).rows.len(), takings::years(&bench.0)), (0, vec![2026]));
    // A line taken out: the pads are back.
    let edit = held_class::unsold(&bench.0, id, 1).unwrap();
    bench.do_it(&edit);
    assert_eq!((bench.0.on_hand(pad), takings::year(&bench.0, 2026).rows[0].takings.all()), (3, of(17_700)));
}

#[test]
fn where_nothing_has_a_price_that_is_said_once_and_no_zero_stands_for_it() {
    // 4 mats, one sheet without a price; nothing else costs anything.
    let mut bench = Bench::default();
    let free = bench.item(Item { size: Some(size("8.5x11")), ..Item::new("gift paper", Kind::PlainSheet) });
    let priced = bench.paper("oat", "8.5x11", 45);
    let id = bench.project(class_of("no prices", date(2026, 4, 8), 4, vec![mats(free, 1)]));
    let cost = costs(&bench.0, id, &needed(&bench.0, id)).unwrap();
    assert_eq!((cost.priced(), cost.material()), (Priced::Nothing, None));
    assert_eq!(cost_told::costs(&cost, "$"), [("material".to_owned(), "no prices".to_owned())]);
    // With 4 mats of oat too, one sheet of 0.45: some has a price, and what has none is named.
    let both = class_of("some", date(2026, 4, 8), 4, vec![mats(free, 1), mats(priced, 1)]);
    let id = bench.project(both);
    let cost = costs(&bench.0, id, &needed(&bench.0, id)).unwrap();
    assert_eq!((cost.priced(), cost.opened), (Priced::Some, Money::from_minor(45)));
    assert_eq!(cost_told::unpriced(&bench.0, &cost).unwrap().1, "gift paper");
    let (_, plan) = settled(&bench.0, id);
    assert!(plan.unplaced.is_empty());
}

fn tags(count: u32) -> PieceWanted {
    PieceWanted::new("tag", size("2x3"), count)
}

#[test]
fn what_a_batch_makes_in_all_becomes_what_a_seat_makes() {
    // 24 cards with 24 envelopes, 48 tags, 5 rolls: a seat makes 1, with 48 / 24 = 2 tags and 5 / 24, up to 1, roll.
    let card = ProjectCard { count: 24, spares: 2, ..ProjectCard::new("thanks", size("4x5")) };
    let supply = Supply { item: ItemId(1), count: 5 };
    let mut batch = Project {
        cards: vec![card],
        pieces: vec![tags(48)],
        supplies: vec![supply],
        ..Project::new("thanks")
    };
    batch.make_for_seats();
    assert_eq!((batch.cards[0].count, batch.cards[0].spares), (1, 2));
    assert_eq!((batch.pieces[0].count, batch.supplies[0].count), (2, 1));
    // Without cards by what they have in common: 20 and 30 are 2 and 3 a seat.
    let mut loose = Project { pieces: vec![tags(20), tags(30)], ..Project::new("tags") };
    loose.make_for_seats();
    assert_eq!(loose.pieces.iter().map(|p| p.count).collect::<Vec<_>>(), [2, 3]);
}

#[test]
fn sets_and_kits_are_counted_word_by_word() {
    // 8 seats of 2 sets: 16; 3 samples, 2 to spare: 21 sets, 18 kits of them. 6 came: 12 kits taken, 6 left; one is sold.
    let mut class = Project { seats: 8, samples: 3, ..Project::new("class") };
    class.teaching = Teaching { sets_a_seat: 2, spare_sets: 2, ..Teaching::default() };
    assert_eq!((class.seat_sets(), class.sets(), class.kits(), class.kits_left()), (16, 21, 18, 0));
    assert_eq!(class.made_for(), "8 seats of 2 sets, 3 sample sets and 2 spare sets");
    assert_eq!((class.stage_total(Stage::Packed), class.kit_of()), (Some(18), "set"));
    class.afterwards.came = Some(6);
    assert_eq!(class.kits_left(), 6);
    class.afterwards.sales.push(Sale {
        on: date(2026, 12, 14),
        kind: SaleKind::Kit,
        what: "kit".into(),
        count: 1,
        takings: Money::from_minor(900),
        cost: Money::ZERO,
        from_shelf: false,
    });
    assert_eq!(class.kits_left(), 5);
    // Where only 14 kits were packed, 14 - 12 - 1 is left.
    class.stages = class.stages.with(Stage::Packed, 14);
    assert_eq!(class.kits_left(), 1);
    assert_eq!(Project::new("batch").made_for(), "one batch");
    assert_eq!((Project::new("batch").sets(), Project::new("batch").kits()), (1, 0));
}

/// The day on which its mats are cut, the one before the class, less the days that an order takes, wherever it is said: 0, 1 and
/// 5 days before 2026-04-07 are the 7th, 6th and 2nd.
#[test]
fn the_last_day_for_an_order_is_one_day_in_calendar_reorder_list_and_ways_out() {
    for (days, by) in [(0, 7), (1, 6), (5, 2)] {
        let mut bench = Bench::default();
        let oat = bench.item(Item {
            size: Some(size("8.5x11")),
            lead_days: days,
            price: cents(45),
            ..Item::new("oat", Kind::PlainSheet)
        });
        let class = bench.project(class_of("spring", date(2026, 4, 8), 6, vec![mats(oat, 4)]));
        book_it(&mut bench, class);
        let by = Some(date(2026, 4, by));
        let today = date(2026, 3, 20);
        let all = calendar(&bench.0, today, 60, |_| None);
        let cut = all.iter().find(|r| r.due == Due::Cuts).map(|r| r.on);
        assert_eq!(cut, Some(date(2026, 4, 7)), "the day before the class");
        let due = all.into_iter().find(|r| r.due == Due::Order);
        assert_eq!(due.map(|r| r.on), by, "{days} days");
        assert_eq!(reorder::order_by(&bench.0, oat), by, "{days} days");
        let look = outlook(&bench.0, class, None).unwrap();
        let way = ways::ways_out(&bench.0, class, &look, today).remove(0).ways.remove(0);
        assert_eq!((way.how, way.by), (ways::How::Order, by), "{days} days");
    }
}
