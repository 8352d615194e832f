//! Lists by key, finder, wheel and click alike, from every view: a list in view moves, one out of sight never does, and
//! the finder goes where a command means something before it runs it.

use super::harness::Bench;
use crate::effort::is_long;
use trimside::app::action::{Action, List, ListRead, Spot};
use trimside::app::commands::{CommandId, command};
use trimside::app::effect::ListUse;
use trimside::app::input::list::Cursor;
use trimside::app::overlay::{Overlay, Target};
use trimside::app::resolve;
use trimside::app::state::views::{StockView, YieldView};
use trimside::app::status::Tone;
use trimside::domain::stock::import::StockRow;

/// Every view with the keys that lead there; the last one waits for a list from outside.
const VIEWS: [(&str, &str); 18] = [
    ("answer", "1"),
    ("chart", "1 v"),
    ("plan", "1 V"),
    ("a further answer", "1 z m"),
    ("layers", "2"),
    ("ruler", "2 R"),
    ("swatches", "3"),
    ("a paper's card", "3 s Enter"),
    ("shelf", "4"),
    ("a line", "4 e"),
    ("count day", "4 C Esc"),
    ("offcuts", "4 ]"),
    ("log", "4 ] ]"),
    ("reorder", "4 ] ] ]"),
    ("classes", "4 ] ] ] ]"),
    ("a class", "4 ] ] ] ] Enter"),
    ("today", "0"),
    ("list from outside", "4"),
];

/// Lists with the command that goes down in them.
const LISTS: [(List, CommandId); 8] = [
    (List::Day, CommandId::TodayDown),
    (List::Steps, CommandId::StepDown),
    (List::Layouts, CommandId::PlanDown),
    (List::Further, CommandId::FurtherDown),
    (List::Parts, CommandId::LayerDown),
    (List::Swatches, CommandId::SwatchDown),
    (List::Trios, CommandId::TrioNext),
    (List::Stock, CommandId::ItemDown),
];

fn long_list() -> Action {
    let row = |n: u64| StockRow { line: n, name: format!("reed {n}"), ..StockRow::default() };
    let rows = Ok((2..60).map(row).collect());
    Action::ListRead(Box::new(ListRead { path: "long.csv".to_owned(), what: ListUse::Import, rows }))
}

fn at(view: (&str, &str)) -> Bench {
    let mut bench = Bench::demo().keys(view.1);
    if view.0 == "list from outside" {
        bench.act(long_list());
    }
    bench
}

/// Where the cursor of each list stands, whichever is in view.
fn cursors(bench: &Bench) -> Vec<Option<usize>> {
    let m = &bench.model;
    let row = |c: Cursor| c.row(usize::MAX);
    vec![
        row(m.day.cursor),
        row(m.yields.step),
        row(m.yields.plan.cursor),
        row(m.yields.further.cursor),
        Some(m.yields.cell.0),
        row(m.mats.layer),
        row(m.palette.cursor),
        row(m.palette.trio),
        row(m.stock.cursor),
        row(m.stock.field),
        m.stock.count.as_ref().and_then(|c| row(c.cursor)),
        m.stock.preview.as_ref().and_then(|p| row(p.cursor)),
    ]
}

/// Picks a command in the finder, wherever it stands there.
fn find(bench: &mut Bench, id: CommandId) {
    bench.press(":");
    let Some(Overlay::Picker(p)) = bench.model.overlays.last_mut() else { panic!("no finder") };
    let is_it = |n: &usize| p.rows[*n].target == Target::Command(id);
    p.cursor = Cursor::at(p.shown.iter().position(is_it).expect("every command is listed"));
    bench.press("Enter");
}

fn is_drawn(bench: &Bench, list: List) -> bool {
    let hits = bench.hits(160, 50);
    hits.all().iter().any(|(_, s)| matches!(s, Spot::Row(l, _) if *l == list))
}

#[test]
fn wheel_and_click_move_what_is_drawn_and_nothing_else() {
    for view in VIEWS {
        for (list, _) in LISTS {
            let mut bench = at(view);
            let (before, drawn) = (cursors(&bench), is_drawn(&bench, list));
            bench.act(Action::Wheel(1, Some(list)));
            assert!(drawn || cursors(&bench) == before, "the wheel moved {list:?} unseen in {}", view.0);
            let mut bench = at(view);
            bench.act(Action::Click(Spot::Row(list, 1)));
            assert!(drawn || cursors(&bench) == before, "a click moved {list:?} unseen in {}", view.0);
            assert!(drawn || bench.model.overlays.is_empty(), "a click opened something in {}", view.0);
        }
    }
}

#[test]
fn the_wheel_does_what_the_key_does_in_the_list_in_view() {
    let keys = [List::Steps, List::Layouts, List::Parts, List::Swatches, List::Stock];
    for view in VIEWS {
        for list in keys {
            let mut wheel = at(view);
            // A ruler lies over the layers and takes the keys itself.
            if !is_drawn(&wheel, list) || view.0 == "ruler" {
                continue;
            }
            let mut key = at(view);
            wheel.act(Action::Wheel(1, Some(list)));
            key.press("j");
            assert_eq!(cursors(&wheel), cursors(&key), "{list:?} in {}", view.0);
        }
    }
}

#[test]
fn the_finder_goes_where_a_list_is_and_moves_in_it_there() {
    for (n, view) in VIEWS.into_iter().enumerate() {
        // A quick run takes turns: every list from every third view.
        let is_due = |at: usize| is_long() || (n + at).is_multiple_of(3);
        for (list, id) in LISTS.into_iter().enumerate().filter(|(at, _)| is_due(*at)).map(|(_, list)| list) {
            let mut bench = at(view);
            let was_drawn = is_drawn(&bench, list);
            let before = cursors(&bench);
            find(&mut bench, id);
            let contexts = resolve::contexts(&bench.model);
            let is_refused = bench.model.status.as_ref().is_some_and(|s| s.tone == Tone::Refused);
            let is_there = contexts.contains(&command(id).context);
            assert!(is_there || is_refused, "{id:?} from {} did nothing", view.0);
            if is_there && !is_refused && was_drawn {
                assert_ne!(cursors(&bench), before, "{id:?} from {} moved nothing", view.0);
            }
            assert!(!is_there || is_refused || is_drawn(&bench, list), "{list:?} from {}", view.0);
        }
    }
}

#[test]
fn no_command_of_the_finder_hides_a_list_from_outside() {
    let mut bench = at(("list from outside", "4"));
    let start = bench.model.clone();
    for row in trimside::app::commands::COMMANDS.iter().filter(|c| c.context.title().starts_with("Stock")) {
        bench.model = start.clone();
        find(&mut bench, row.id);
        let is_kept = bench.model.stock.preview.is_some();
        assert!(
            is_kept || row.id == CommandId::PreviewLeave || row.id == CommandId::PreviewTake,
            "{:?}",
            row.id
        );
        assert!(!is_kept || bench.model.stock.view == StockView::Preview, "{:?}", row.id);
    }
}

#[test]
fn every_command_of_the_finder_runs_in_its_own_view_or_says_why_not() {
    for (turn, view) in [VIEWS[2], VIEWS[6], VIEWS[14]].into_iter().enumerate() {
        let mut bench = at(view);
        let start = bench.model.clone();
        // A quick run takes turns: each command from one of the views.
        let is_due = |n: usize| is_long() || n % 3 == turn;
        let rows = trimside::app::commands::COMMANDS.iter().enumerate().filter(|(n, _)| is_due(*n));
        for (_, row) in rows {
            bench.model = start.clone();
            let is_live = trimside::app::reach::is_live(&bench.model, row);
            find(&mut bench, row.id);
            let is_refused = bench.model.status.as_ref().is_some_and(|s| s.tone == Tone::Refused);
            if !is_live {
                assert!(is_refused, "{:?} from {} is dimmed and says nothing", row.id, view.0);
            }
        }
    }
}

#[test]
fn a_list_from_outside_over_a_class_takes_key_and_wheel() {
    for by_wheel in [false, true] {
        let mut bench = Bench::demo().keys("4 ] ] ] ] Enter");
        find(&mut bench, CommandId::ImportList);
        assert!(matches!(bench.model.top(), Some(Overlay::Prompt(_))), "a file is asked for");
        bench.press("Esc");
        let class = Bench::demo().keys("4 ] ] ] ] Enter").model.stock.field;
        bench.act(long_list());
        if by_wheel {
            bench.act(Action::Wheel(3, Some(List::Stock)));
        } else {
            bench.press("j j j");
        }
        let preview = bench.model.stock.preview_in_view().expect("the list is in view");
        assert_eq!(preview.cursor.row(100), Some(3), "by wheel: {by_wheel}");
        assert_eq!(bench.model.stock.field, class, "the class under it stays where it was");
    }
}

#[test]
fn the_chart_opens_from_an_open_plan() {
    let mut bench = Bench::demo().keys("1 V");
    assert_eq!(bench.model.yields.view, YieldView::Plan);
    find(&mut bench, CommandId::OpenChart);
    assert_eq!(bench.model.yields.view, YieldView::Chart);
    assert!(!is_drawn(&bench, List::Layouts));
    let cell = bench.model.yields.cell;
    bench.act(Action::Wheel(1, Some(List::Cells)));
    assert_ne!(bench.model.yields.cell, cell);
    // The plan is one step back.
    bench.press("Backspace");
    assert_eq!(bench.model.yields.view, YieldView::Plan);
}

#[test]
fn a_count_day_does_not_begin_under_a_list_from_outside() {
    let mut bench = at(("list from outside", "4"));
    find(&mut bench, CommandId::StartCount);
    assert!(bench.model.overlays.is_empty() && bench.model.stock.count.is_none());
    assert_eq!(bench.model.stock.view, StockView::Preview);
    assert_eq!(bench.model.status.as_ref().unwrap().tone, Tone::Refused);
    bench.act(Action::Wheel(1, Some(List::Stock)));
    assert_eq!(bench.model.stock.preview.as_ref().unwrap().cursor.row(100), Some(1));
}
