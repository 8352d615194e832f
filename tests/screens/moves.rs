//! Every list of the program is moved through in the same ways, every key that is offered does something, and a
//! sentence that tells a reason is shown whole.

use super::harness::Bench;
use super::palette::with_files;
use super::stock::looking_at;
use crate::effort::thinned;
use trimside::app::action::{Action, Fresh, List, Solved, Spot};
use trimside::app::effect::{Ask, Effect, ListUse};
use trimside::app::keys::{Key, KeyCode};
use trimside::app::printing::PrintNews;
use trimside::app::resolve;
use trimside::app::state::cutting::PlanNews;
use trimside::app::status::{Saving, Status, Tone, Work};
use trimside::app::update::update;
use trimside::domain::history::Moved;
use trimside::runtime::solve;

/// Places with a list: what leads there on the demo. `LIST` stands for a list from outside that waits to be taken in.
const LISTS: [&str; 16] = [
    "1",
    "1 v",
    "1 V",
    "2",
    "3",
    "3 i Ctrl-u 'PHOTO' Enter",
    "4",
    "4 ]",
    "4 ] ]",
    "4 ] ] ]",
    "4 ] ] ] ]",
    "4 ] ] ] ] Enter",
    "4 ] ] ] ] j B ]",
    "4 C Esc",
    "4 LIST",
    "F4",
];

/// Places without a list that have keys of their own.
const OTHERS: [&str; 6] = ["1 b", "2 R", "2 v", "2 v v", "3 s Enter", "4 - '1' Enter"];

fn at(place: &str) -> Bench {
    if place.contains("LIST") {
        return looking_at(
            ListUse::Refresh,
            "name,kind,seller\nwren steps,patterned paper,the mill by the weir\nsorrel,plain sheet,the mill by the weir\n",
        );
    }
    Bench::demo().keys(&with_files(place))
}

/// The screen without what was said last.
fn seen(bench: &mut Bench) -> String {
    bench.model.status = None;
    bench.text(120, 40)
}

#[test]
fn every_list_of_every_pane_is_moved_through_alike() {
    for place in thinned(LISTS, 2) {
        let mut bench = at(place);
        bench.press("g");
        let first = seen(&mut bench);
        for (there, back) in
            [("Down", "Up"), ("j", "k"), ("PgDn", "PgUp"), ("Ctrl-d", "Ctrl-u"), ("End", "Home"), ("G", "g")]
        {
            bench.press(there);
            assert_ne!(seen(&mut bench), first, "{place}: {there} does nothing");
            bench.press(back);
            assert_eq!(seen(&mut bench), first, "{place}: {back} after {there}");
        }
        for (arrow, letter) in [("Down", "j"), ("End", "G")] {
            bench.press(arrow);
            let by_arrow = seen(&mut bench);
            bench.press(&format!("g {letter}"));
            assert_eq!(seen(&mut bench), by_arrow, "{place}: {arrow} and {letter}");
            bench.press("g");
        }
    }
    // Where rows and columns count, to the sides too.
    for place in ["1 v", "3"] {
        let mut bench = at(place).keys("g");
        let first = seen(&mut bench);
        for (there, back) in [("Right", "Left"), ("l", "h")] {
            bench.press(there);
            assert_ne!(seen(&mut bench), first, "{place}: {there}");
            bench.press(back);
            assert_eq!(seen(&mut bench), first, "{place}: {back}");
        }
    }
}

#[test]
fn what_lies_over_a_pane_is_moved_through_alike() {
    // Letters belong to the field of a finder, so arrows and pages move there.
    for place in [":", "s", "P", "T", "?", "F3", "Ctrl-p"] {
        let mut bench = Bench::demo().keys(place);
        let first = bench.text(80, 24);
        let pairs: &[(&str, &str)] = match place {
            "?" | "F3" | "Ctrl-p" => &[("Down", "Up"), ("j", "k")],
            _ => &[("Down", "Up"), ("PgDn", "PgUp")],
        };
        for (there, back) in pairs {
            bench.press(there);
            assert_ne!(bench.text(80, 24), first, "{place}: {there} does nothing");
            bench.press(back);
            assert_eq!(bench.text(80, 24), first, "{place}: {back}");
        }
    }
}

#[test]
fn every_key_in_the_hint_line_does_something() {
    let mut faults = Vec::new();
    for place in thinned(LISTS.iter().chain(&OTHERS).filter(|p| **p != "F4"), 2) {
        let mut bench = at(place);
        let before = seen(&mut bench);
        for hint in resolve::hints(&bench.model).into_iter().filter(|h| h.is_live) {
            let mut tried = Bench::demo();
            tried.model = bench.model.clone();
            let strokes = trimside::app::keymap::strokes(&hint.key).unwrap();
            let effects: Vec<Effect> =
                strokes.into_iter().flat_map(|key| update(&mut tried.model, Action::Key(key))).collect();
            let is_refused = tried.model.status.as_ref().is_some_and(|s| s.tone == Tone::Refused);
            let said = tried.model.status.clone();
            if is_refused {
                faults.push(format!("{place}: {} is offered and refused: {said:?}", hint.key));
            }
            let did = !effects.is_empty() || said.is_some();
            if !did && seen(&mut tried) == before {
                faults.push(format!("{place}: {} {} does nothing", hint.key, hint.title));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn names_of_swatches_stand_whole_and_down_goes_to_the_row_below_at_every_width() {
    for width in (60..=200).step_by(4) {
        let mut bench = Bench::demo().keys("3");
        let hits = bench.hits(width, 60);
        let columns = hits.columns().expect("a grid is drawn");
        bench.act(Action::Columns(columns));
        let place = |n: usize| {
            let area = hits.all().iter().rev().find(|(_, s)| *s == Spot::Row(List::Swatches, n));
            area.unwrap_or_else(|| panic!("swatch {n} at {width}")).0
        };
        let screen = bench.text(width, 60).replace('\n', " \n");
        for (_, s) in bench.model.book.swatches().iter() {
            assert!(screen.contains(&format!(" {} ", s.name)), "{width}: {} is cut\n{screen}", s.name);
        }
        bench.press("j");
        let now = bench.model.palette.cursor.row(1_000).unwrap();
        let (above, below) = (place(0), place(now));
        assert_eq!((below.x, below.y), (above.x, above.y + above.height), "{width}");
        assert!(
            place(columns - 1).right() <= width * 3 / 5 + 8,
            "{width}: the colors leave room beside them"
        );
    }
}

#[test]
fn a_long_reason_is_shown_whole_on_a_narrow_screen() {
    let why = "the file new-year-list-of-the-mill.csv cannot be read: line 12 has seven columns where the heading \
               names nine; add the two commas or take the line out, then press i again";
    for width in [60, 80, 160] {
        let mut bench = Bench::demo().keys("4");
        let rows = bench.text(width, 24).lines().count();
        bench.model.tell(Status::refused(why));
        let screen = bench.text(width, 24);
        assert_eq!(screen.lines().count(), rows);
        let flat = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(why), "{width}\n{screen}");
        assert!(screen.contains("? help"), "the keys stay");
        bench.model.status = None;
        bench.model.saving = Saving::Failed(why.to_owned());
        let flat = bench.text(width, 24).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(why), "{width}");
    }
}

/// A tour begun while the keys pressed just before still wait for their answers; what was asked before comes too.
fn tour_while_waiting(keys: &str) -> (Bench, Vec<Effect>) {
    let mut bench = Bench::demo();
    let mut asked = Vec::new();
    for token in keys.split(' ') {
        asked.extend(update(&mut bench.model, Action::Key(Key::parse(token).unwrap())));
    }
    let (book, history) = trimside::persist::demo::book().unwrap();
    let fresh = Fresh { epoch: 0, book, history, moved: Moved::default() };
    // The tour's own questions stay without an answer.
    update(&mut bench.model, Action::Tour(Box::new(fresh)));
    (bench, asked)
}

#[test]
fn answers_to_what_was_asked_before_the_tour_reach_the_bench_behind_it() {
    use trimside::engine::planning::{Budget, Cancel, plan};
    let (mut bench, asked) = tour_while_waiting("v");
    for effect in asked {
        if let Effect::Solve(number, ask) = effect {
            update(&mut bench.model, Action::Solved(number, solve::solve(ask)));
        }
    }
    assert!(bench.model.tour.as_ref().unwrap().kept.yields.chart.is_some(), "the bench behind has its chart");
    assert!(bench.model.yields.chart.is_none(), "the tour has none of it");
    bench.press("Esc");
    assert!(bench.model.yields.chart.is_some() && bench.model.yields.chart_waiting.is_none());

    let (mut bench, asked) = tour_while_waiting("V");
    for effect in asked {
        if let Effect::Plan { number, job, .. } = effect {
            let done = plan(*job, Budget::Work(1), &Cancel::default(), &mut |_, _| {});
            update(&mut bench.model, Action::Planned(number, PlanNews::Done(Box::new(done))));
        }
    }
    assert!(
        bench.model.tour.as_ref().unwrap().kept.yields.plan.plan.is_some(),
        "the bench behind has its plan"
    );
    assert!(bench.model.yields.plan.plan.is_none(), "the tour has none of it");
    bench.press("Esc");
    assert!(bench.model.yields.plan.plan.is_some() && bench.model.yields.plan.waiting.is_none());
}

#[test]
fn what_the_tour_pushed_aside_is_asked_again_when_it_is_left() {
    // The worker drops a waiting question for a newer one of its kind: the first answer never comes.
    let (mut bench, asked) = tour_while_waiting("v");
    assert!(asked.iter().any(|e| matches!(e, Effect::Solve(_, Ask::Chart(_)))));
    let again = update(&mut bench.model, Action::Key(Key::plain(KeyCode::Esc)));
    assert!(again.iter().any(|e| matches!(e, Effect::Solve(_, Ask::Chart(_)))), "the chart is asked again");
    let (mut bench, asked) = tour_while_waiting("3");
    assert!(asked.iter().any(|e| matches!(e, Effect::Solve(_, Ask::Trios(_)))));
    let again = update(&mut bench.model, Action::Key(Key::plain(KeyCode::Esc)));
    assert!(again.iter().any(|e| matches!(e, Effect::Solve(_, Ask::Trios(_)))), "the trios are asked again");
    let (mut bench, asked) = tour_while_waiting("2");
    assert!(asked.iter().any(|e| matches!(e, Effect::Solve(_, Ask::Advice(_)))));
    let again = update(&mut bench.model, Action::Key(Key::plain(KeyCode::Esc)));
    assert!(
        again.iter().any(|e| matches!(e, Effect::Solve(_, Ask::Advice(_)))),
        "the reveals are asked again"
    );
}

#[test]
fn saving_and_printing_during_the_tour_are_told_to_the_bench_behind_it() {
    let mut bench = Bench::demo();
    bench.model.saving = Saving::Pending(2);
    bench.model.work = Some(Work { words: "writing".to_owned(), done: 1, of: 4 });
    bench.press("F2");
    bench.act(Action::SaveFailed("the disk is full".to_owned()));
    let kept = |bench: &Bench| bench.model.tour.as_ref().unwrap().kept.clone();
    assert_eq!(kept(&bench).saving, Saving::Failed("the disk is full".to_owned()));
    bench.act(Action::Saved(2));
    assert_eq!(kept(&bench).saving, Saving::Saved);
    bench.act(Action::Printed(PrintNews::Done("Wrote chart.pdf".to_owned())));
    assert!(kept(&bench).work.is_none() && bench.model.work.is_none());
    // Nothing that is done in the tour is sent to the disk, and nothing of it waits to be saved.
    let steps = bench.steps.len();
    bench.press("Enter Enter Enter Enter - '1' Enter");
    assert!(bench.model.history.next_undo().is_some());
    assert_eq!((bench.steps.len(), &bench.model.saving), (steps, &Saving::Saved));
    // Answers to the tour's own questions stay in the tour.
    let number = bench.model.next_ask();
    assert!(number > kept(&bench).asked);
    bench.act(Action::Solved(number, Solved::Failed("a fault".to_owned())));
    assert!(kept(&bench).status.is_none_or(|s| !s.text.contains("a fault")));
    bench.press("Esc");
    assert!(bench.model.tour.is_none() && bench.model.saving == Saving::Saved);
}

#[test]
fn the_finder_knows_papers_swatches_projects_settings_formats_and_the_craft_by_name() {
    use trimside::app::overlay::Overlay;
    let told = |row: &trimside::app::overlay::PickRow| {
        format!("{}: {}, {}", row.label, row.beside.as_ref().map_or("", |b| b.place), row.detail)
    };
    let found = |typed: &str| -> Vec<String> {
        let bench = Bench::demo().keys(":").keys(&format!("'{typed}'"));
        let Some(Overlay::Picker(p)) = bench.model.top() else { panic!("no finder") };
        p.shown.iter().map(|n| told(&p.rows[*n])).collect()
    };
    for (typed, first) in [
        ("fern floor", "fern floor: swatch, green"),
        ("fern", "fern floor, letter: card stock"),
        ("wren", "wren steps: patterned paper"),
        ("thistle", "thistle head: swatch, "),
        ("gate samples", "Window and gate samples: project"),
        ("theme light", "theme light: setting"),
        ("print on a4", "print on A4: setting"),
        ("tabloid", "tabloid: sheet size"),
        ("why a fold", "Why a fold cracks: the craft"),
        ("undo", "undo: every pane, Take back"),
    ] {
        let all = found(typed);
        assert!(all[0].starts_with(first), "{typed}: {all:?}");
    }
    // A name beside other words of its row, a name begun, and letters left out.
    assert!(found("thistle swatch")[0].starts_with("thistle head"));
    assert!(found("mstrd jar")[0].starts_with("mustard jar"));
    // Letters strewn over a sentence find nothing.
    assert!(
        found("mustard").iter().all(|row| row.to_lowercase().contains("mustard")),
        "{:?}",
        found("mustard")
    );
    assert!(found("zzzz").is_empty());
    // A topic opens where it stands.
    let bench = Bench::demo().keys(": 'why a fold' Enter");
    assert!(bench.text(80, 24).contains("Why a fold cracks"), "{}", bench.text(80, 24));
    let bench = Bench::demo().keys(": 'wren' Enter");
    assert_eq!(bench.model.pane, trimside::app::pane::Pane::Stock);
}

#[test]
fn a_length_is_reckoned_in_the_field_with_both_units_and_the_nearest_mark() {
    let read = |keys: &str, typed: &str| {
        let bench = Bench::demo().keys(keys).keys(&format!("Ctrl-u '{typed}'"));
        let screen = bench.text(120, 30);
        screen
            .lines()
            .find_map(|l| l.trim().strip_prefix("= "))
            .unwrap_or_else(|| panic!("{screen}"))
            .to_owned()
    };
    // 4 1/4 - 2 x 1/8 = 4 in = 101.6 mm exactly; 11/3 in = 3.6667 in, 0.0104 in above 3 21/32 (0.0105 as kept, in 1/8128 in).
    assert_eq!(read("p", "4 1/4 - 2*1/8 x 5"), "4 x 5 in = 101.6 x 127 mm");
    let third = read("p", "11 / 3 x 5-1/4");
    assert!(third.contains("= ~93.13 x 133.35 mm; nearest marks 3 21/32 x 5 1/4, 0.0105 in less"), "{third}");
    let reveal = read("2 j r", "1 / 3");
    assert!(reveal.contains("~8.47 mm") && reveal.contains("nearest mark 11/32, 0.0105 in more"), "{reveal}");
    assert!(!read("2 j r", "3/16").contains("nearest"), "on a mark nothing is said of marks");
    let face = read("2 f", "100mm x 5");
    assert!(face.contains("nearest marks 3 15/16 x 5, 0.0005 in more"), "{face}");
}

#[test]
fn the_keys_of_what_lies_over_a_pane_are_read_whole_on_the_smallest_screen() {
    for place in [
        "?", "? /", ":", "s", "T", "F4", "F2", "p", "4 /", "4 -", "Ctrl-p", "Ctrl-p f", "Ctrl-p w",
        "Ctrl-p x", "Ctrl-p b", "2 a",
    ] {
        let screen = Bench::demo().keys(place).text(60, 18);
        let keys = screen.lines().nth(17).unwrap();
        assert!(keys.contains("Esc") && !keys.contains('\u{2026}'), "{place}: {keys}");
    }
    let mut bench = Bench::empty();
    trimside::app::welcome::open(&mut bench.model);
    assert!(bench.text(60, 18).lines().nth(17).unwrap().contains("Esc skip the rest"));
}

#[test]
fn figures_are_never_cut_on_a_narrow_screen() {
    // The class with a shortage and costs, at the narrowest and at a usual width.
    for width in [60, 70, 80, 100] {
        let bench = Bench::demo().keys("4 ] ] ] ] j");
        let screen = bench.text(width, 24);
        for figure in ["$19.18", "$18.99", "$0.56, of 34", "$1.60"] {
            assert!(screen.contains(figure), "{width}: {figure} is cut\n{screen}");
        }
    }
}

#[test]
fn what_takes_something_away_is_undone_by_one_key_or_asks_first() {
    for (place, key) in [
        ("2 j", "d"),
        ("2", "z x"),
        ("3 n 'ash, #8a8d90' Enter", "Delete"),
        ("3", "z x"),
        ("4 ] ] ] W", "x"),
        ("4 ] ] ] ] j B", "x"),
        ("4 ] ] ] ] j B ]", "x"),
        ("4", "z s Ctrl-u 'gone' Enter"),
    ] {
        let mut bench = at(place);
        // All that the book holds but the lines of its log, which only grows.
        let facts = |bench: &Bench| {
            let book = &bench.model.book;
            let counts: Vec<_> = book.items().iter().map(|(id, i)| (i.clone(), book.on_hand(id))).collect();
            let cards: Vec<_> = book.projects().iter().collect();
            let colours: Vec<_> = book.swatches().iter().collect();
            let rest = (book.trios().iter().collect::<Vec<_>>(), book.bookings().iter().collect::<Vec<_>>());
            format!(
                "{counts:?} {cards:?} {colours:?} {rest:?} {:?}",
                book.orders().iter().collect::<Vec<_>>()
            )
        };
        let (before, log) = (facts(&bench), bench.model.book.log().len());
        bench.press(key);
        if bench.model.top().is_some() {
            // A question: the safe answer is the one that Enter gives.
            bench.press("Enter");
            assert_eq!(facts(&bench), before, "{place} {key}");
            continue;
        }
        let said = bench.model.status.clone().unwrap_or_else(|| panic!("{place} {key}: nothing is said"));
        assert_eq!(said.tone, Tone::Done, "{place} {key}: {said:?}");
        assert!(said.text.contains("u takes it back"), "{place} {key}: {}", said.text);
        assert_ne!(facts(&bench), before, "{place} {key}");
        bench.press("u");
        assert_eq!(facts(&bench), before, "{place} {key}: undone");
        assert!(bench.model.book.log().len() >= log, "no line of the log is lost");
    }
}

#[test]
fn a_swatch_leads_to_the_papers_that_hold_it_and_back() {
    use trimside::app::pane::Pane;
    let mut bench = Bench::demo().keys("3 s 'chalk, A4' Enter");
    assert_eq!(bench.model.pane, Pane::Stock);
    let item = bench.model.stock.picked_item().map(|id| bench.model.book.items().name_of(id));
    assert_eq!(item.as_deref(), Some("chalk, A4"));
    bench.press("Backspace");
    assert_eq!(bench.model.pane, Pane::Palette);
    // A patterned paper opens its card beside the swatches.
    bench.press("s 'bramble' Enter");
    assert!(bench.model.pane == Pane::Palette && bench.model.palette.paper().is_some());
}
