//! Clicks and the wheel: places are looked up in the drawn text, so that what is clicked is what a person sees there.

use super::harness::Bench;
use crate::effort::is_long;
use ratatui::layout::{Position, Rect};
use trimside::app::action::{Action, List, Spot};
use trimside::app::commands::CommandId;
use trimside::app::overlay::Overlay;
use trimside::app::pane::Pane;
use trimside::app::state::views::Tab;
use trimside::app::state::views::YieldView;
use trimside::app::status::Saving;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (160, 50)];

/// Cells of the text's `n`th place on the screen, row by row.
fn place(bench: &Bench, (width, height): (u16, u16), text: &str, n: usize) -> Option<Position> {
    let screen = bench.text(width, height);
    let found = screen.lines().take(usize::from(height)).enumerate().flat_map(|(y, line)| {
        line.match_indices(text).map(move |(at, _)| (line[..at].chars().count(), y)).collect::<Vec<_>>()
    });
    found.map(|(x, y)| Position::new(x as u16, y as u16)).nth(n)
}

fn click(bench: &mut Bench, size: (u16, u16), text: &str, n: usize) -> bool {
    let Some(at) = place(bench, size, text, n) else { return false };
    let spot = bench.hits(size.0, size.1).at(at);
    let Some(spot) = spot else {
        panic!("nothing takes a click on \"{text}\"\n{}", bench.text(size.0, size.1))
    };
    bench.act(Action::Click(spot));
    true
}

/// Every row that a list draws: the click on it picks it, and the mark is drawn in that very row.
fn every_row(keys: &str, list: List) {
    for size in SIZES {
        let start = Bench::demo().keys(keys);
        let rows: Vec<(Position, usize)> = start
            .hits(size.0, size.1)
            .all()
            .iter()
            .filter_map(|(area, spot)| match spot {
                Spot::Row(l, n) if *l == list => Some((Position::new(area.x, area.y), *n)),
                _ => None,
            })
            .collect();
        assert!(rows.len() > 1, "{keys} {size:?}: {} rows", rows.len());
        let (text, hits) = (start.text(size.0, size.1), start.hits(size.0, size.1));
        // A quick run clicks the first row, the last and some between; a third of them at each size.
        let last = rows.len() - 1;
        let is_due = |i: usize| is_long() || i == 0 || i == last || i % 3 == usize::from(size.0) % 3;
        for (at, n) in rows.into_iter().enumerate().filter(|(i, _)| is_due(*i)).map(|(_, row)| row) {
            let line = text.lines().nth(usize::from(at.y)).unwrap();
            let line: String = line.chars().skip(usize::from(at.x)).collect();
            if line.starts_with('\u{258c}') {
                continue;
            }
            let words: String = line.chars().skip(1).take(14).collect();
            let mut bench = Bench::demo();
            bench.model = start.model.clone();
            let spot = hits.at(Position::new(at.x + 3, at.y)).unwrap();
            assert_eq!(spot, Spot::Row(list, n));
            bench.act(Action::Click(spot));
            assert!(bench.model.overlays.is_empty(), "{keys} {size:?} row {n}: a first click only picks");
            // The list may scroll under the pick; the words of the row are those that were clicked.
            let after = bench.text(size.0, size.1);
            let marked = after
                .lines()
                .flat_map(|l| {
                    l.match_indices('\u{258c}').map(|(i, m)| l[i + m.len()..].to_owned()).collect::<Vec<_>>()
                })
                .any(|l| l.starts_with(words.trim_end()));
            assert!(marked, "{keys} {size:?} row {n}: \"{words}\" is not the marked row\n{after}");
        }
    }
}

#[test]
fn a_click_picks_exactly_the_row_drawn_there_in_every_list() {
    every_row("1", List::Steps);
    every_row("1 V", List::Layouts);
    every_row("2", List::Parts);
    every_row("3", List::Swatches);
    every_row("3", List::Trios);
    for tabs in ["", "] ", "] ] ", "] ] ] ", "] ] ] ] ", "] ] ] ] ] "] {
        let keys = format!("4 {tabs}");
        let rows = Bench::demo().keys(&keys);
        if rows.model.stock.rows(&rows.model.book) > 1 {
            every_row(&keys, List::Stock);
        }
    }
    every_row("4 C Esc", List::Stock);
    every_row("4 ] ] ] ] Enter", List::Stock);
}

#[test]
fn a_cell_of_the_chart_is_picked_by_its_place_and_taken_by_a_second_click() {
    for size in SIZES {
        let mut bench = Bench::demo().keys("1 v g");
        for (row, column) in [(2, 3), (4, 1), (0, 5)] {
            let at = bench.hits(size.0, size.1).all().iter().find_map(|(area, spot)| {
                (*spot == Spot::Cell(row, column)).then_some(Position::new(area.x, area.y))
            });
            let at = at.unwrap_or_else(|| panic!("{size:?}: no cell {row}, {column}"));
            let cell = bench.model.yields.chart.as_ref().unwrap().cell(row, column).unwrap();
            let (size_of, best) = (cell.size, cell.best);
            let text = bench.text(size.0, size.1);
            let shown: String = text
                .lines()
                .nth(usize::from(at.y))
                .unwrap()
                .chars()
                .skip(usize::from(at.x))
                .take(6)
                .collect();
            assert!(shown.trim().starts_with(&best.to_string()), "\"{shown}\" is not {best}");
            let spot = bench.hits(size.0, size.1).at(Position::new(at.x + 4, at.y)).unwrap();
            bench.act(Action::Click(spot));
            assert_eq!(bench.model.yields.picked_size(), Some(size_of));
        }
        let piece = bench.model.yields.picked_size().unwrap();
        bench.act(Action::Click(Spot::Cell(0, 5)));
        assert!(bench.model.yields.view == YieldView::Answer && bench.model.yields.piece == piece);
    }
}

#[test]
fn a_second_click_does_the_rows_main_action() {
    let size = (120, 40);
    let mut bench = Bench::demo().keys("1");
    bench.act(Action::Click(Spot::Row(List::Steps, 1)));
    assert!(!bench.model.is_at_bench());
    bench.act(Action::Click(Spot::Row(List::Steps, 1)));
    assert!(bench.model.is_at_bench(), "a step leads to the bench");

    let mut bench = Bench::demo().keys("2 g");
    bench.act(Action::Click(Spot::Row(List::Parts, 1)));
    assert!(bench.model.overlays.is_empty());
    bench.act(Action::Click(Spot::Row(List::Parts, 1)));
    assert!(bench.text(120, 40).contains("eveal"), "a layer's reveal is asked for");
    assert!(matches!(bench.model.top(), Some(Overlay::Prompt(_))));

    let mut bench = Bench::demo().keys("4");
    let (name, other) = {
        let id = bench.model.stock.shown[1];
        (bench.model.book.items().name_of(id), bench.model.stock.shown[0])
    };
    assert!(click(&mut bench, size, &name, 0));
    assert_ne!(bench.model.stock.picked_item(), Some(other));
    assert!(click(&mut bench, size, &name, 0));
    assert!(matches!(bench.model.top(), Some(Overlay::Prompt(_))), "a line of stock is logged as used");
    assert!(bench.text(120, 40).contains(&name));

    let mut bench = Bench::demo().keys("3");
    bench.act(Action::Click(Spot::Row(List::Swatches, 4)));
    bench.act(Action::Click(Spot::Row(List::Swatches, 4)));
    assert_eq!(bench.model.palette.pinned, bench.model.palette.picked(), "a swatch is pinned");
}

#[test]
fn names_of_panes_and_lists_and_hints_take_a_click_where_they_are_drawn() {
    let size = (80, 24);
    let mut bench = Bench::demo();
    assert!(click(&mut bench, size, "4 Stock", 0));
    assert_eq!(bench.model.pane, Pane::Stock);
    for (name, tab) in [("Log", Tab::Log), ("Bookings", Tab::Bookings), ("Offcuts", Tab::Bin)] {
        assert!(click(&mut bench, size, name, 0));
        assert_eq!(bench.model.stock.tab(), tab);
    }
    assert!(click(&mut bench, size, "find a", 0) || click(&mut bench, size, "find", 0));
    assert!(matches!(bench.model.top(), Some(Overlay::Picker(_))));
}

#[test]
fn nothing_under_a_layer_takes_a_click_and_its_own_rows_do() {
    let size = (100, 30);
    let mut bench = Bench::demo().keys("4 :");
    assert!(bench.hits(size.0, size.1).all().iter().all(|(_, s)| matches!(s, Spot::Over(_) | Spot::Key(_))));
    let Some(Overlay::Picker(p)) = bench.model.top() else { panic!("no finder") };
    let sixth = p.rows[p.shown[5]].label.clone();
    // The row is found by its place: its words may stand in others too.
    let hits = bench.hits(size.0, size.1);
    let (area, spot) = hits.all().iter().find(|(_, s)| *s == Spot::Over(5)).unwrap();
    let line = bench.text(size.0, size.1).lines().nth(usize::from(area.y)).unwrap().to_owned();
    assert!(line.contains(&sixth), "{sixth}: {line}");
    bench.act(Action::Click(*spot));
    assert!(matches!(bench.model.top(), Some(Overlay::Picker(p)) if p.cursor.row(100) == Some(5)));
    // A question: "no" and "yes" stand where they are drawn.
    let mut bench = Bench::demo().keys("4 - '1' Enter - '2' Enter F4 j Enter");
    let before = bench.model.book.on_hand(bench.model.stock.picked_item().unwrap());
    assert!(click(&mut bench, size, "n no", 0));
    assert_eq!(bench.model.book.on_hand(bench.model.stock.picked_item().unwrap()), before);
    bench.press("Enter");
    assert!(click(&mut bench, size, "y yes", 0));
    assert_eq!(bench.model.book.on_hand(bench.model.stock.picked_item().unwrap()), before + 3);
}

#[test]
fn the_wheel_moves_in_the_list_under_the_pointer() {
    let size = (120, 40);
    let mut bench = Bench::demo().keys("3 g");
    let over = |bench: &Bench, list: List| {
        let hits = bench.hits(size.0, size.1);
        let area = hits.all().iter().find(|(_, s)| *s == Spot::In(list)).expect("the list is drawn").0;
        hits.list_at(Position::new(area.x + 1, area.y + 1))
    };
    let picked = bench.model.palette.picked();
    let list = over(&bench, List::Trios);
    bench.act(Action::Wheel(1, list));
    assert_eq!(bench.model.palette.picked(), picked, "the grid stays");
    assert_eq!(bench.model.palette.trio.row(100), Some(1));
    let list = over(&bench, List::Swatches);
    bench.act(Action::Wheel(1, list));
    assert_ne!(bench.model.palette.picked(), picked);
    bench.act(Action::Wheel(-1, list));
    assert_eq!(bench.model.palette.picked(), picked);
    // Where no list is drawn nothing moves.
    let mut bench = Bench::demo().keys("4 j");
    let row = bench.model.stock.cursor;
    bench.act(Action::Wheel(1, bench.hits(size.0, size.1).list_at(Position::new(0, 0))));
    assert_eq!(bench.model.stock.cursor, row);
}

#[test]
fn the_wheel_ticks_no_cut_in_the_bench_view() {
    let mut bench = Bench::demo().keys("1 b");
    assert!(bench.model.is_at_bench());
    let done = bench.model.yields.run.as_ref().unwrap().done;
    for _ in 0..9 {
        bench.act(Action::Wheel(1, Some(List::Steps)));
        bench.act(Action::Wheel(1, None));
    }
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, done);
}

#[test]
fn a_hint_runs_its_command() {
    let mut bench = Bench::demo().keys("4");
    bench.act(Action::Click(Spot::Hint(CommandId::Finder)));
    assert!(matches!(bench.model.top(), Some(Overlay::Picker(_))));
}

#[test]
fn the_project_in_the_header_opens_its_picker() {
    for size in SIZES {
        let mut bench = Bench::demo();
        let name = bench.model.book.active_project().unwrap().name.clone();
        // A narrow header shortens it.
        let begin: String = name.chars().take(4).collect();
        let first = bench.text(size.0, size.1).lines().next().unwrap().to_owned();
        assert!(first.contains(&begin), "{size:?}: the project is not in the header: {first}");
        let x = first[..first.find(&begin).unwrap()].chars().count() as u16;
        bench.act(Action::Click(bench.hits(size.0, size.1).at(Position::new(x, 0)).unwrap()));
        let Some(Overlay::Picker(p)) = bench.model.top() else { panic!("no picker at {size:?}") };
        assert_eq!(p.title, "Project");
        assert!(click(&mut bench, size, "no project", 0));
        bench.press("Enter");
        assert!(bench.model.book.active().is_none());
        // Where none is active, that is said there, and leads to the picker too.
        assert!(click(&mut bench, size, "no project", 0));
        assert!(matches!(bench.model.top(), Some(Overlay::Picker(p)) if p.title == "Project"));
    }
}

#[test]
fn the_rest_of_the_header_takes_a_click_as_one_would_expect() {
    for size in SIZES {
        let mut bench = Bench::demo();
        assert!(click(&mut bench, size, "saved", 0));
        let said = bench.model.status.as_ref().unwrap().text.clone();
        assert!(said.contains("Everything is saved") || said.contains("demo"), "{said}");
        assert!(click(&mut bench, size, "Today", 0));
        assert!(bench.model.day.is_open && bench.model.overlays.is_empty());
    }
    let mut bench = Bench::demo();
    bench.model.saving = Saving::Failed("the disk is full".to_owned());
    bench.act(Action::Click(Spot::Saved));
    assert!(bench.model.status.unwrap().text.contains("the disk is full"));
}

/// Every hint that a view shows, clicked where it is drawn, does what its command does.
#[test]
fn every_hint_does_by_a_click_what_it_does_by_its_command() {
    let views = [
        CommandId::PaneYield,
        CommandId::OpenChart,
        CommandId::OpenPlan,
        CommandId::OpenBench,
        CommandId::PaneMats,
        CommandId::OpenRuler,
        CommandId::PanePalette,
        CommandId::PaneStock,
        CommandId::ClassOpen,
        CommandId::StartCount,
    ];
    for view in crate::effort::thinned(views, 3) {
        let mut start = Bench::demo();
        for effect in trimside::app::anywhere::run_anywhere(&mut start.model, view) {
            drop(effect);
        }
        start.model.overlays.clear();
        let hints = trimside::ui::view::hint_spots(&start.model, Rect::new(0, 49, 160, 1));
        assert!(hints.len() > 3, "{view:?}: {hints:?}");
        for (id, x, _) in hints {
            let spot = start.hits(160, 50).at(Position::new(x, 49));
            assert_eq!(spot, Some(Spot::Hint(id)), "{view:?}");
            let (mut clicked, mut run) = (Bench::demo(), Bench::demo());
            (clicked.model, run.model) = (start.model.clone(), start.model.clone());
            clicked.model.screen.shift_told = true;
            clicked.act(Action::Click(spot.unwrap()));
            run.act(Action::Run(id));
            assert_eq!(clicked.text(160, 50), run.text(160, 50), "{id:?} in {view:?}");
        }
    }
}

#[test]
fn keys_offered_under_a_layer_take_a_click() {
    let size = (80, 24);
    let mut bench = Bench::demo();
    bench.act(Action::Run(CommandId::Finder));
    bench.press("'units'");
    assert!(click(&mut bench, size, "Enter take", 0));
    assert!(bench.model.overlays.is_empty(), "the row was taken");
    for id in [CommandId::Help, CommandId::Theme, CommandId::Print, CommandId::Piece] {
        let mut bench = Bench::demo();
        bench.act(Action::Run(id));
        assert!(!bench.model.overlays.is_empty());
        assert!(click(&mut bench, size, "Esc ", 0), "{id:?}");
        assert!(bench.model.overlays.is_empty(), "{id:?}");
    }
    // A pair of keys is no button.
    let mut bench = Bench::demo();
    bench.act(Action::Run(CommandId::Help));
    let at = place(&bench, size, "j or k", 0).unwrap();
    assert_eq!(bench.hits(80, 24).at(at), None);
}

#[test]
fn what_can_follow_a_prefix_key_takes_a_click() {
    let mut bench = Bench::demo();
    let sequence = bench.model.keymap.texts(CommandId::Print).into_iter().find(|t| t.contains(' '));
    let sequence = sequence.expect("print has a sequence");
    bench.press(sequence.split(' ').next().unwrap());
    let screen = bench.text(120, 40);
    assert!(screen.contains("and then"), "{screen}");
    let spots: Vec<Spot> = bench.hits(120, 40).all().iter().map(|(_, s)| *s).collect();
    assert!(spots.contains(&Spot::Hint(CommandId::Print)), "{spots:?}");
    bench.act(Action::Click(Spot::Hint(CommandId::Print)));
    assert!(bench.model.pending.is_empty());
    assert!(matches!(bench.model.top(), Some(Overlay::Print(_))));
}

#[test]
fn how_text_is_selected_is_said_once_a_person() {
    let said = |bench: &Bench| bench.model.status.as_ref().is_some_and(|s| s.text.contains("hold Shift"));
    let mut bench = Bench::demo();
    assert!(bench.model.screen.mouse, "the mouse is on as the program comes");
    bench.act(Action::Dragged);
    assert!(said(&bench));
    bench.model.status = None;
    bench.act(Action::Dragged);
    assert!(!said(&bench), "once is enough");
    // The next start knows it.
    let screen = trimside::app::memory::screen(&trimside::app::memory::to_text(&bench.model));
    assert!(screen.shift_told && screen.mouse);
    bench.model.screen.mouse = false;
    assert!(!trimside::app::memory::screen(&trimside::app::memory::to_text(&bench.model)).mouse);
    // A first click says it where it has nothing else to say.
    let mut bench = Bench::demo();
    bench.act(Action::Click(Spot::Pane(Pane::Mats)));
    assert!(said(&bench));
    let mut bench = Bench::demo();
    bench.act(Action::Click(Spot::Saved));
    assert!(!said(&bench));
}
