//! The law of the page of the day, over books made at random: whatever the book, each line agrees with the view that it leads to,
//! and nothing that a view calls open, short, awaited, set aside or leaving is missing from the page.

use super::harness::Bench;
use crate::effort::cases;
use crate::laws::wishes::{DAY, Dice, wish};
use trimside::app::pane::Pane;
use trimside::app::state::stock::orders::OrderRow;
use trimside::app::state::today::{DayRow, Goes};
use trimside::app::state::views::{StockView, YieldView};
use trimside::domain::book::Book;
use trimside::domain::history::History;
use trimside::domain::project::Progress;
use trimside::domain::stock::outlook::{Need, outlook};
use trimside::domain::stock::reorder;
use trimside::domain::stock::shortage::shortage;
use trimside::domain::stock::summary::standing;
use trimside::domain::today::words::Section;

/// A bench on a book after so many wishes, on the day of those or a day long after, with the page open.
fn opened(seed: u64) -> Bench {
    let mut dice = Dice::new(seed);
    let (mut book, mut history) = (Book::default(), History::default());
    for _ in 0..20 + dice.roll(120) {
        let next = wish(&book, &history, &mut dice);
        let _ = history.perform(&mut book, &next, DAY);
    }
    let mut bench = Bench::on(book, history);
    if dice.roll(2) == 0 {
        bench.model.today = DAY;
    }
    bench.keys("4 0")
}

#[test]
fn each_line_agrees_with_the_view_that_it_leads_to() {
    for seed in 0..cases(2, 300) {
        let mut bench = opened(seed);
        if bench.model.book.projects().is_empty() && bench.model.book.orders().is_empty() {
            continue;
        }
        let rows = bench.model.day.rows.clone();
        is_whole(seed, &bench, &rows);
        for (n, row) in rows.iter().enumerate() {
            bench.press("g");
            (0..n).for_each(|_| bench.press("j"));
            bench.press("Enter");
            assert!(!bench.model.day.is_open, "seed {seed}: {row:?} leads nowhere");
            agrees(seed, &bench, row);
            // The bench takes the keys for itself: it is left first.
            if bench.model.is_at_bench() {
                bench.press("Esc");
            }
            bench.press("Backspace");
            assert!(bench.model.day.is_open, "seed {seed}: no way back from {row:?}");
        }
    }
}

/// Two large classes of which nothing is booked lack more papers than have lines: the rest stands under its class, and each of it
/// is seen there.
#[test]
fn what_has_no_line_of_its_own_stands_where_it_is_seen() {
    let classes = "4 [ [ n 'Large class, 99' Ctrl-s P 'winter' Enter n 'Cold evening, 99' Ctrl-s 4 0";
    let mut bench = Bench::demo().keys(classes);
    let rows = bench.model.day.rows.clone();
    let more = rows.iter().filter(|row| row.section == Section::Short && row.what.ends_with(" more"));
    assert!(more.clone().count() > 0, "{}", bench.text(120, 36));
    for row in more {
        let n = rows.iter().position(|other| other == row).unwrap();
        bench.press("g");
        (0..n).for_each(|_| bench.press("j"));
        bench.press("Enter");
        let (id, look) = bench.model.stock.classes.outlook.clone().expect("the page of a class");
        assert!(row.goes == Goes::Class(id) && bench.model.stock.view == StockView::Class(id), "{row:?}");
        let (whose, names) = row.words.split_once(", not booked: ").unwrap();
        assert_eq!(whose, format!("for {}", bench.model.book.projects().name_of(id)));
        assert_eq!(each_of(names).count().to_string(), row.what.trim_end_matches(" more"));
        for (missing, name) in each_of(names) {
            let of = |n: &&Need| bench.model.book.items().name_of(n.item) == name;
            assert_eq!(look.needs.iter().find(of).unwrap().missing.to_string(), missing, "{name}");
        }
        bench.press("Backspace");
        assert!(bench.model.day.is_open);
    }
}

/// The view that came up says what the line said.
fn agrees(seed: u64, bench: &Bench, row: &DayRow) {
    let (model, book) = (&bench.model, &bench.model.book);
    let said = format!("seed {seed}: {row:?}");
    let picked = || model.stock.cursor.row(model.stock.rows(book)).expect("a row is picked");
    match row.goes {
        Goes::Class(id) => {
            assert_eq!(model.stock.view, StockView::Class(id), "{said}");
            let look = outlook(book, id, None).unwrap();
            let (pieces, still) = look.pieces;
            match row.section {
                Section::Next => {
                    let short = look.needs.iter().filter(|n| n.missing > 0).count();
                    let words = match (short, look.is_booked()) {
                        (1.., _) => format!("{short} paper"),
                        (0, true) => ", booked".to_owned(),
                        (0, false) if still == 0 => ", cut".to_owned(),
                        (0, false) => ", not booked".to_owned(),
                    };
                    assert!(row.words.contains(&words), "{said}: {words}");
                }
                Section::Short if row.what.ends_with(" more") => {
                    let whose = format!("for {}, not booked: ", book.projects().name_of(id));
                    let names = row.words.strip_prefix(&whose).unwrap_or_else(|| panic!("{said}"));
                    for (missing, name) in each_of(names) {
                        let of = |n: &&Need| book.items().name_of(n.item) == name;
                        let need = look.needs.iter().find(of).unwrap_or_else(|| panic!("{said}: {name}"));
                        assert_eq!(missing, need.missing.to_string(), "{said}");
                    }
                }
                Section::Short => {
                    let (missing, name) = row.what.split_once(" of ").unwrap();
                    let need = look.needs.iter().find(|n| book.items().name_of(n.item) == name).unwrap();
                    assert_eq!(missing, need.missing.to_string(), "{said}");
                    let whose = format!("; for {}, not booked", book.projects().name_of(id));
                    assert!(row.words.contains(&whose), "{said}");
                }
                Section::Cut => {
                    let words = format!("{} of {pieces} piece", pieces - still);
                    assert!(row.words.contains(&words), "{said}: {words}");
                }
                _ => {}
            }
        }
        Goes::Reorder(item) => {
            let (covers, wanted) = match &model.stock.orders.rows[picked()] {
                OrderRow::Item(_, line) => (line.item == item, line.wanted),
                OrderRow::Pack(_, pack) => (pack.covers.iter().any(|(i, _)| *i == item), 1),
                OrderRow::Missing(missing) => (missing.item == item, missing.wanted),
                other => panic!("{said} leads to {other:?}"),
            };
            assert!(covers && wanted > 0, "{said}");
            if let Some((missing, _)) = row.what.split_once(" of ") {
                let short = shortage(book, item).expect("short");
                assert_eq!(missing, short.missing.to_string(), "{said}");
                let words = row.words.split("; also for ").next().unwrap();
                assert!(words.ends_with(&book.projects().name_of(short.project)), "{said}");
            }
        }
        Goes::Awaited(order) => {
            let is_it = match &model.stock.orders.rows[picked()] {
                OrderRow::Awaited(id) => *id == order,
                OrderRow::Parcel(_, ids) => ids.contains(&order),
                _ => false,
            };
            assert!(is_it, "{said}");
        }
        Goes::Booking(id) => {
            assert_eq!(
                (model.stock.view, model.stock.bookings[picked()]),
                (StockView::Bookings, id),
                "{said}"
            );
            let booking = book.bookings().get(id).unwrap();
            assert!(row.what.starts_with(&format!("{} of ", booking.count)), "{said}");
        }
        Goes::Item(id) => {
            assert_eq!(model.stock.picked_item(), Some(id), "{said}");
            assert!(row.what.starts_with(&format!("{} of ", book.on_hand(id))), "{said}");
        }
        Goes::List(tab) => {
            assert_eq!((model.pane, model.stock.tab()), (Pane::Stock, tab), "{said}");
            if row.section == Section::Short {
                let listed = |name: &str| model.stock.orders.rows.iter().any(|r| covers(book, r, name));
                each_of(&row.words)
                    .for_each(|(_, name)| assert!(listed(name), "{said}: {name} is not there"));
            }
        }
        Goes::Plan => assert_eq!((model.pane, model.yields.view), (Pane::Yield, YieldView::Plan), "{said}"),
        Goes::After(id) => {
            let at = model.yields.after.unwrap_or_else(|| panic!("{said}"));
            let project = book.projects().get(id).unwrap();
            let done = project.stages.done(at.stage);
            let is_one = project.seats == 0 && row.words.ends_with(" yet");
            let agrees = if is_one { done == 0 } else { row.words.contains(&format!("{done} of ")) };
            assert!(at.project == id && agrees, "{said}");
        }
        Goes::Bench => assert!(model.is_at_bench(), "{said}"),
        Goes::Here(_) => panic!("there is work: {said}"),
    }
}

/// Counts and names of a line that tells of several: `1 of moss pool; 3 of fern floor`.
fn each_of(words: &str) -> impl Iterator<Item = (&str, &str)> {
    words.split("; ").map(move |one| one.split_once(" of ").unwrap_or_else(|| panic!("{words}")))
}

/// True where a row of the reorder list orders something of that name, or says that it cannot be had.
fn covers(book: &Book, row: &OrderRow, name: &str) -> bool {
    let is_it = |item| book.items().name_of(item) == name;
    match row {
        OrderRow::Item(_, line) => is_it(line.item),
        OrderRow::Pack(_, pack) => pack.covers.iter().any(|(item, _)| is_it(*item)),
        OrderRow::Missing(missing) => is_it(missing.item),
        _ => false,
    }
}

/// How many things a section tells of: a line each, and those that its last lines count.
fn told(rows: &[DayRow], section: Section) -> usize {
    let of = rows.iter().filter(|row| row.section == section);
    of.map(|row| row.what.strip_suffix(" more").map_or(1, |n| n.parse().unwrap())).sum()
}

/// Nothing that other views tell is missing.
fn is_whole(seed: u64, bench: &Bench, rows: &[DayRow]) {
    let (book, day) = (&bench.model.book, bench.model.today);
    let open_of = || book.projects().iter().filter(|(_, p)| p.progress == Progress::Open);
    assert_eq!(told(rows, Section::Next), open_of().count(), "seed {seed}: {rows:#?}");
    let looks: Vec<_> = open_of().filter_map(|(id, _)| outlook(book, id, None)).collect();
    let lacked = |id| looks.iter().any(|look| look.needs.iter().any(|n| n.item == id && n.missing > 0));
    let short = book.items().iter().filter(|(id, _)| shortage(book, *id).is_some() || lacked(*id)).count();
    let is_low =
        |id| shortage(book, id).is_none() && standing(book, id).is_low() && reorder::wanting(book, id) > 0;
    let low = book.items().iter().any(|(id, _)| is_low(id));
    assert_eq!(told(rows, Section::Short), short + usize::from(low), "seed {seed}: {rows:#?}");
    let uncut = |id| outlook(book, id, None).is_some_and(|look| look.pieces.1 > 0);
    let cut = book.projects().iter().filter(|(id, p)| p.progress == Progress::Open && uncut(*id)).count();
    assert_eq!(told(rows, Section::Cut), cut, "seed {seed}: {rows:#?}");
    assert_eq!(told(rows, Section::Coming), book.orders().len(), "seed {seed}: {rows:#?}");
    let offcuts = book.bookings().iter().filter(|(_, b)| b.offcut.is_some()).count();
    assert_eq!(told(rows, Section::Offcuts), offcuts, "seed {seed}: {rows:#?}");
    let leaving = reorder::last_orders(book, day).iter().filter(|l| l.on_hand > 0).count();
    assert_eq!(told(rows, Section::Leaving), leaving, "seed {seed}: {rows:#?}");
}
