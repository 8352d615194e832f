//! The page of the day: each line's figures are those of the view it goes to; a pane's key leaves it at once; with an empty
//! book it is the first evening, and each of its four things is done on the page.

use super::harness::Bench;
use trimside::app::facts::facts;
use trimside::app::pane::Pane;
use trimside::app::state::stock::orders::OrderRow;
use trimside::app::state::today::{DayRow, Goes};
use trimside::app::state::views::{StockView, YieldView};
use trimside::domain::book::Book;
use trimside::domain::screen::Start;
use trimside::domain::stock::calendar::amiss;
use trimside::domain::stock::outlook::outlook;
use trimside::domain::today::words::{Section, Urgency};

fn rows(bench: &Bench) -> Vec<DayRow> {
    bench.model.day.rows.clone()
}

fn of(bench: &Bench, section: Section) -> Vec<DayRow> {
    rows(bench).into_iter().filter(|r| r.section == section).collect()
}

#[test]
fn the_demo_opens_on_a_day_that_shows_something_of_everything() {
    let bench = Bench::opened();
    assert!(bench.model.day.is_open);
    for section in [
        Section::Next,
        Section::Short,
        Section::Cut,
        Section::Time,
        Section::Open,
        Section::Coming,
        Section::Offcuts,
        Section::Leaving,
    ] {
        assert!(!of(&bench, section).is_empty(), "{section:?}: {:#?}", rows(&bench));
    }
    // By the calendar: the 25th of November to the 1st of December are 6 days, to the 12th 17.
    let next = of(&bench, Section::Next);
    assert!(
        next[0].what == "Thank-you batch" && next[0].words.contains("Tue 2026-12-01, in 6 days"),
        "{next:?}"
    );
    assert!(
        next[1].words.starts_with("Sat 2026-12-12, in 17 days; class of 12, 14 sets, 1 paper short"),
        "{next:?}"
    );
    // Ten days it takes to come: ordered by the 1st of December for the 11th, when it is cut.
    let short = of(&bench, Section::Short);
    assert_eq!(short[0].what, "1 of moss pool, letter");
    assert!(short[0].words.starts_with("order by Tue 2026-12-01, in 6 days"), "{short:?}");
}

#[test]
fn every_figure_is_that_of_the_view_it_goes_to() {
    let mut bench = Bench::opened();
    let all = rows(&bench);
    for (n, row) in all.iter().enumerate() {
        bench.press("g");
        for _ in 0..n {
            bench.press("j");
        }
        let book = bench.model.book.clone();
        bench.press("Enter");
        assert!(!bench.model.day.is_open, "{row:?}");
        // The view may have had a plan made: the page reads the same one.
        let figures =
            trimside::domain::today::today(&book, super::harness::TODAY, &|id| bench.model.settling.of(id));
        check(&bench, row, &figures, &book);
        // The bench takes the keys for itself: it is left first.
        if bench.model.is_at_bench() {
            bench.press("Esc");
        }
        bench.press("Backspace");
        assert!(bench.model.day.is_open, "{row:?}");
        // A plan that was made meanwhile may have turned a bound into a figure: the row is the same.
        let back = bench.model.day.picked().unwrap();
        assert_eq!((back.section, &back.what, back.goes), (row.section, &row.what, row.goes));
    }
}

/// The view that came up says what the row said.
fn check(bench: &Bench, row: &DayRow, figures: &trimside::domain::today::Today, book: &Book) {
    let model = &bench.model;
    match row.goes {
        Goes::Class(id) => {
            assert_eq!(model.stock.view, StockView::Class(id));
            let anew = outlook(book, id, model.settling.of(id)).unwrap();
            assert_eq!(model.stock.classes.outlook, Some((id, anew.clone())), "what the class page shows");
            let next = figures.next.iter().find(|n| n.project == id).unwrap();
            assert_eq!((next.pieces, next.sheets), (anew.pieces, anew.still_to_cut(book)));
            assert_eq!(next.short, anew.shortages(book).len());
            assert_eq!(next.is_booked, anew.is_booked());
        }
        Goes::Reorder(item) => {
            let at = model.stock.cursor.row(model.stock.rows(book)).unwrap();
            let OrderRow::Item(_, line) = &model.stock.orders.rows[at] else { panic!("{row:?}") };
            assert_eq!(line.item, item);
            if let Some(short) = figures.short.iter().find(|s| s.item == item) {
                assert_eq!(short.order_by, line.order_by);
                let why = trimside::domain::stock::reorder::why(book, item);
                assert!(why.starts_with(&format!("{} short for", short.missing)), "{why}");
            }
        }
        Goes::Awaited(order) => {
            let at = model.stock.cursor.row(model.stock.rows(book)).unwrap();
            assert!(matches!(&model.stock.orders.rows[at], OrderRow::Awaited(id) if *id == order));
            let order = book.orders().get(order).unwrap();
            assert!(row.what.starts_with(&format!("{} of ", order.count)));
        }
        Goes::Booking(id) => {
            let at = model.stock.cursor.row(model.stock.rows(book)).unwrap();
            assert_eq!((model.stock.view, model.stock.bookings[at]), (StockView::Bookings, id));
        }
        Goes::Item(id) => {
            assert_eq!(model.stock.picked_item(), Some(id));
            assert!(row.what.starts_with(&format!("{} of ", book.on_hand(id))));
        }
        Goes::Bench => {
            assert!(model.is_at_bench());
            let run = model.yields.run.as_ref().unwrap();
            let words =
                format!("step {} of {}, {} strokes left", run.done + 1, run.len(), run.strokes_left());
            assert!(row.words.contains(&words), "{row:?}: {words}");
        }
        Goes::Plan => {
            assert_eq!((model.pane, model.yields.view), (Pane::Yield, YieldView::Plan));
            assert_eq!(model.yields.plan.job.as_ref().map(|j| j.0), book.active());
        }
        Goes::After(id) => {
            let at = model.yields.after.unwrap();
            let project = book.projects().get(id).unwrap();
            assert!(model.is_at_bench() && at.project == id);
            let done = project.stages.done(at.stage);
            let is_one = project.seats == 0 && row.words.ends_with(" yet");
            assert!(if is_one { done == 0 } else { row.words.contains(&format!("{done} of ")) }, "{row:?}");
        }
        Goes::List(_) => panic!("the demo has a line for each: {row:?}"),
        Goes::Here(_) => panic!("there is work: {row:?}"),
    }
}

#[test]
fn the_time_before_the_next_day_is_that_of_the_bench() {
    let bench = Bench::opened();
    let run = bench.model.yields.run.as_ref().unwrap();
    // The invented maker's 120 strokes in 1,080 s are 9 s each; the run is the whole of the batch that is not cut.
    let seconds = run.strokes_left() * 9;
    let words = trimside::domain::cutting::pace::time_words(seconds);
    let time = of(&bench, Section::Time);
    assert_eq!(time[0].what, "before Thank-you batch");
    assert!(time[0].words.starts_with(&format!("about {words} of cutting")), "{time:?}");
    let mut bench = bench;
    while bench.model.day.picked().unwrap().goes != Goes::Bench {
        bench.press("j");
    }
    bench.press("Enter");
    let said = facts(&bench.model).into_iter().find(|f| f.label == "time").unwrap();
    assert_eq!(said.text, format!("about {words} left at your pace"));
}

#[test]
fn a_panes_key_leaves_it_for_the_pane_as_it_was_left() {
    for (key, pane) in [("1", Pane::Yield), ("2", Pane::Mats), ("3", Pane::Palette), ("4", Pane::Stock)] {
        let bench = Bench::opened().keys(key);
        assert!(!bench.model.day.is_open && bench.model.pane == pane);
    }
    let bench = Bench::opened().keys("4 ] ] 0");
    assert!(bench.model.day.is_open);
    let bench = bench.keys("Esc");
    assert_eq!((bench.model.pane, bench.model.stock.view), (Pane::Stock, StockView::Log));
    let bench = bench.keys("0 2 0 4");
    assert_eq!((bench.model.pane, bench.model.stock.view), (Pane::Stock, StockView::Log));
    // Keys of a pane below do nothing here.
    let bench = bench.keys("0 p");
    assert!(bench.model.day.is_open && bench.model.overlays.is_empty());
    assert!(Bench::opened().keys("q").has_left);
}

#[test]
fn it_is_seen_at_the_start_once_there_is_work_and_where_nobody_chose_otherwise() {
    let mut empty = Bench::empty();
    trimside::app::today::begin(&mut empty.model);
    assert!(!empty.model.day.is_open);
    let mut bench = Bench::opened().keys("1 : 'open with the last' Enter");
    assert_eq!(bench.model.screen.start, Start::Pane);
    let text = trimside::app::memory::to_text(&bench.model);
    assert_eq!(trimside::app::memory::screen(&text).start, Start::Pane);
    trimside::app::today::begin(&mut bench.model);
    assert!(!bench.model.day.is_open);
    bench.press(": 'open with today' Enter");
    trimside::app::today::begin(&mut bench.model);
    assert!(bench.model.day.is_open);
}

#[test]
fn the_first_evenings_things_are_done_on_the_page() {
    let mut bench = Bench::empty().keys("0");
    assert_eq!(rows(&bench).len(), 4);
    assert!(rows(&bench).iter().all(|r| r.section == Section::First && r.urgency == Urgency::Calm));
    bench.press("j Enter");
    assert!(bench.model.day.is_open && !bench.model.overlays.is_empty());
    bench.press("'moss edge' Enter '20' Ctrl-s");
    assert!(bench.model.overlays.is_empty(), "{}", bench.text(80, 24));
    assert!(bench.model.day.is_open && rows(&bench)[1].urgency == Urgency::Done, "{}", bench.text(80, 24));
    bench.press("g Enter");
    for _ in 0..5 {
        bench.press("Down");
    }
    bench.press("Ctrl-u 'stop' Ctrl-s");
    assert!(bench.model.day.is_open && rows(&bench)[0].urgency == Urgency::Done, "{}", bench.text(80, 24));
    bench.press("G Enter 'Autumn evening' Ctrl-s");
    // From now on there is work: the page tells what is next.
    assert!(bench.model.day.is_open, "{}", bench.text(80, 24));
    assert_eq!(of(&bench, Section::Next)[0].what, "Autumn evening");
}

#[test]
fn every_row_hidden_is_counted_and_no_words_are_cut() {
    for (width, height) in [(60, 18), (80, 24), (120, 36), (160, 50), (200, 60)] {
        let text = Bench::opened().text(width, height);
        let shown = rows(&Bench::opened())
            .iter()
            .filter(|r| text.contains(r.what.get(..8).unwrap_or(&r.what)))
            .count();
        let body = text.split_once('\n').unwrap().1;
        assert!(!body.contains('…') || width < 80, "{text}");
        assert!(shown == rows(&Bench::opened()).len() || text.contains("more below"), "{text}");
    }
}

/// Weeks without anything take a row, so that the next days that are set are on the page; a class names all the sets it takes.
#[test]
fn every_day_that_is_set_is_among_the_weeks() {
    let bench = Bench::opened();
    let days: Vec<_> = bench.model.day.figures.next.iter().filter_map(|n| n.on).collect();
    assert!(days.len() >= 4, "the demo has several");
    for (width, height) in [(160, 50), (200, 60)] {
        let text = bench.text(width, height);
        for day in &days {
            let number = [format!("{:>2}", day.day()), format!("{:>2} {}", day.day(), day.strftime("%b"))];
            let is_there =
                |number: &String| ["batch", "class"].iter().any(|w| text.contains(&format!("{number} {w}")));
            assert!(number.iter().any(is_there), "{day}\n{text}");
        }
    }
    let class = of(&bench, Section::Next).into_iter().find(|r| r.words.contains("class of 12")).unwrap();
    let stage = of(&bench, Section::Open).into_iter().find(|r| r.what == class.what).unwrap();
    assert!(
        class.words.contains("class of 12, 14 sets") && stage.words.contains(" of 14 sets "),
        "{class:?}"
    );
}

/// What should be done by now is late on the page wherever it is late in the list of classes.
#[test]
fn what_is_late_among_the_classes_is_late_here() {
    let (mut late, mut calm) = (0, 0);
    for days in 0..40 {
        let mut bench = Bench::opened();
        bench.model.today = bench.model.today.saturating_add(jiff::Span::new().days(days));
        bench.press("1 0");
        let (book, today) = (&bench.model.book, bench.model.today);
        for next in &bench.model.day.figures.next {
            let look = outlook(book, next.project, bench.model.settling.of(next.project)).unwrap();
            let amiss = amiss(book, next.project, &look, today).unwrap_or_default();
            let is_late = amiss.starts_with("LATE") || amiss.starts_with("PAST");
            assert_eq!(next.is_late, is_late, "{today}: {amiss}");
            let name = book.projects().name_of(next.project);
            let row = of(&bench, Section::Next).into_iter().find(|row| row.what == name).unwrap();
            assert_eq!(
                row.words.ends_with(", cutting late"),
                amiss.starts_with("LATE"),
                "{today}: {}",
                row.words
            );
            assert!(!is_late || row.urgency == Urgency::Now, "{today}: {}", row.words);
            late += usize::from(is_late);
            calm += usize::from(!is_late);
        }
    }
    assert!(late > 10 && calm > 10, "{late} {calm}");
}
