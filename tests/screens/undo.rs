//! Undo over all panes and views: what is in view goes by one press, what is not is named first; the sentence says what and
//! where; redo brings it back; the finder and the plain mode do the same.

use super::harness::Bench;
use super::palette::with_files;
use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::{LazyLock, Mutex};
use trimside::app::action::Action;
use trimside::app::commands::CommandId;
use trimside::app::model::Model;
use trimside::app::status::Tone;
use trimside::app::undo::choices;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::stock::{ItemId, NewLine};
use trimside::persist::Store;
use trimside::runtime::plain;

/// What leads to a view (`TICKED` for a bench with every step ticked), what is done there, and where the sentence says that it was done.
const DONE: &[(&str, &str, &str)] = &[
    ("1", "p '5x7' Enter", "Yield"),
    ("1", "s 'a4' Enter", "Yield"),
    ("1", "e Ctrl-u '8-1/2x10-15/16' Enter", "Yield"),
    ("1", "z e '1/4' Enter", "Yield"),
    ("1", "c '40' Enter", "Yield"),
    ("1", "t", "Yield"),
    ("1", "z o", "Yield"),
    ("1", "z s", "Yield"),
    ("1", "S Ctrl-u '2' Enter", "Yield"),
    ("1", "z t Ctrl-u '12, 8, 1/32, 1/4, 2' Enter", "Yield"),
    ("1", "z t Ctrl-u 'none, 8, 1/32, 1/4, 2' Enter", "Yield"),
    ("s 'plum' Enter", "- Enter", "Yield"),
    ("1", "P 'winter' Enter", "Yield"),
    ("1 v", "e Ctrl-u '1, 4, 1/4' Enter", "Yield, chart"),
    ("1 v j j l", "Enter", "Yield"),
    ("V", "z o", "Yield, plan of"),
    ("V", "z p", "Yield, plan of"),
    ("V", "S Ctrl-u '2' Enter", "Yield, plan of"),
    ("V", "e 'mat 1' Enter Ctrl-u '1/8, no, long' Enter", "Yield, plan of"),
    ("b", "Enter", "at the bench"),
    ("b Enter Enter", "Enter", "at the bench"),
    ("V b Enter Enter Enter", "s Enter", "at the bench"),
    ("s 'plum' Enter b TICKED", "Enter", "at the bench"),
    ("2", "r Ctrl-u '1/16' Enter", "Mats, bramble note"),
    ("2", "F", "Mats, bramble note"),
    ("2 v", "a '1/8' Enter", "Mats, bramble note"),
    ("2 ]", "z b Ctrl-u '1, 4' Enter", "Mats, fern note"),
    ("2", "p", "Yield"),
    ("2", "z c 'third' Ctrl-s", "Mats, third"),
    ("2", "z x", "Mats, fern note"),
    ("2 P 'no project' Enter", "f Ctrl-u '5x7' Enter", "Mats, loose card"),
    ("2 R", "P 'winter' Enter", "Mats, "),
    ("3", "o", "Palette"),
    ("3", "/ 'fern' Enter", "Palette"),
    ("3", "v", "Palette"),
    ("3", "z s", "Palette"),
    ("3", "Space", "Palette"),
    ("3", "w '#4f7942' Enter", "Palette"),
    ("3", "n 'tea, #ccaa88' Enter", "Palette"),
    ("3", "*", "Palette"),
    ("3 / 'slate' Enter", "z x", "Palette"),
    ("3", "z t 'forget' Enter", "Palette"),
    ("3 s 'bramble' Enter", "z 1", "Palette, bramble"),
    ("3 i 'PHOTO' Enter", "Space", "Palette, photo"),
    ("4", "- '2' Enter", "Stock, shelf"),
    ("4", "/ 'card' Enter", "Stock, shelf"),
    ("4", "o", "Stock, shelf"),
    ("4", "Space", "Stock, shelf"),
    ("4 Space Space", "- '1' Enter", "Stock, shelf"),
    ("4 ] ] ] ]", "Space", "Stock, classes"),
    ("4", "z l Ctrl-u '5' Enter", "Stock, shelf"),
    ("4 e", "Enter Ctrl-u 'chalk white, letter' Enter", "Stock, line of"),
    ("4 ]", "- Ctrl-u '1' Enter", "Stock, offcuts"),
    ("4 ] ]", "x", "Stock, log"),
    ("4 ] ] ]", "W", "Stock, reorder"),
    ("4 ] ] ] ] j", "B", "Stock, classes"),
    ("4 ] ] ] ] j Enter", "j Enter Ctrl-u '2026-12-28' Enter", "Stock, class"),
    ("4 ] ] ] ] j B ]", "x", "Stock, bookings"),
    ("4 C Esc", "Enter '30' Enter Esc", "Stock, count day"),
    ("4 C '30' Enter '9' Enter Esc", "W", "Stock, shelf"),
];

/// Where to go from there; none of them changes anything.
const ELSEWHERE: [&str; 6] = ["1", "1 v", "2", "3", "4", "4 ] ]"];

/// All that can be taken back: the book without its growing log, the choices, the cut list.
fn face(bench: &Bench) -> String {
    let (model, book) = (&bench.model, &bench.model.book);
    let tables = book.tables();
    let held: Vec<u64> = tables.items.iter().map(|(id, _)| book.on_hand(id)).collect();
    let bin: Vec<u64> = tables.offcuts.iter().map(|(id, _)| book.offcut_count(id)).collect();
    let run = model.yields.run.as_ref().map(|b| (&b.title, b.done, b.logged, b.spoiled, b.len(), &b.before));
    format!(
        "{held:?} {bin:?} {:?} {:?} {:?} {:?} {:?} {:?} {:?} {:?} {:?} {run:?} {:?}",
        tables.items.iter().collect::<Vec<_>>(),
        tables.swatches.iter().collect::<Vec<_>>(),
        tables.trios.iter().collect::<Vec<_>>(),
        tables.projects.iter().collect::<Vec<_>>(),
        tables.bookings.iter().collect::<Vec<_>>(),
        tables.orders.iter().collect::<Vec<_>>(),
        tables.settings,
        (tables.active, &tables.loose_card),
        tables.offcuts.iter().filter(|(id, _)| book.offcut_count(*id) > 0).collect::<Vec<_>>(),
        choices::read(model)
    )
}

fn said(bench: &Bench) -> String {
    bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default()
}

/// Another bench that stands as this one does.
fn copy(bench: &Bench) -> Bench {
    let mut copy = Bench::empty();
    copy.model = bench.model.clone();
    copy
}

/// A bench with a step done, and its face before and after.
type Stepped = (Model, String, String);

/// The bench with a step done, and its face before and after: several tests begin with the same.
fn with_step(at: &'static str, keys: &'static str) -> (Bench, String, String) {
    static KNOWN: LazyLock<Mutex<BTreeMap<(&str, &str), Stepped>>> = LazyLock::new(Mutex::default);
    let known = KNOWN.lock().unwrap().get(&(at, keys)).cloned();
    let (model, before, after) = known.unwrap_or_else(|| {
        let (bench, before, after) = stepped(at, keys);
        let new = (bench.model, before, after);
        KNOWN.lock().unwrap().insert((at, keys), new.clone());
        new
    });
    let mut bench = Bench::empty();
    bench.model = model;
    (bench, before, after)
}

fn stepped(at: &str, keys: &str) -> (Bench, String, String) {
    let mut bench = Bench::demo().keys(&with_files(at.trim_end_matches("TICKED")));
    while at.ends_with("TICKED") && bench.model.yields.run.as_ref().is_some_and(|b| b.done < b.len()) {
        bench.press("Enter");
    }
    let before = face(&bench);
    bench.press(keys);
    let after = face(&bench);
    assert_ne!(before, after, "{at}, {keys}: nothing was done: {}", said(&bench));
    (bench, before, after)
}

#[test]
fn in_view_one_press_takes_back_and_one_makes_again() {
    for (at, keys, place) in DONE {
        let (mut bench, before, after) = with_step(at, keys);
        for round in 0..2 {
            bench.press("u");
            let words = said(&bench);
            assert!(words.starts_with("Taken back: ") && words.contains(place), "{at}, {keys}: {words}");
            assert_eq!(face(&bench), before, "{at}, {keys}, round {round}: {words}");
            bench.press("U");
            let words = said(&bench);
            assert!(words.starts_with("Made again: ") && words.contains(place), "{at}, {keys}: {words}");
            assert_eq!(face(&bench), after, "{at}, {keys}, round {round}: {words}");
        }
    }
}

/// True where the way leads to the view in which the step's result stands.
fn is_there(bench: &Bench, way: &str) -> bool {
    use trimside::app::state::timeline::Whose;
    use trimside::app::undo::in_view::here;
    let mut there = copy(bench);
    there.press(way);
    bench.model.timeline.done.last().is_some_and(|d| d.whose == Whose::Here(here(&there.model)))
}

#[test]
fn out_of_view_a_step_is_named_first_and_the_second_press_takes_it_back() {
    // From the end: the test beside this one finds the same steps from the beginning at the same time.
    for (n, (at, keys, place)) in DONE.iter().enumerate().rev() {
        // Every step from two other places, so that each place comes up with steps of many kinds.
        let ways = (0..ELSEWHERE.len()).map(|k| ELSEWHERE[(n + k) % ELSEWHERE.len()]);
        let (bench, before, after) = with_step(at, keys);
        let leave = if bench.model.is_at_bench() { "Esc " } else { "" };
        let ways = ways.filter(|way| !is_there(&bench, &format!("{leave}{way}"))).take(2);
        for way in ways {
            let mut bench = copy(&bench);
            bench.press(&format!("{leave}{way} u"));
            let named = said(&bench);
            assert_eq!(face(&bench), after, "{at}, {keys}, from {way}: {named}");
            let label = bench.model.timeline.done.last().unwrap().label.clone();
            assert!(
                named.contains(&label) && named.contains(place) && named.contains("u again"),
                "{at}, {keys}, from {way}: {named}"
            );
            bench.press("u");
            assert_eq!(face(&bench), before, "{at}, {keys}, from {way}: {}", said(&bench));
            assert!(said(&bench).contains(&label) && said(&bench).contains(place), "{}", said(&bench));
            bench.press("U");
            assert_eq!(face(&bench), after, "{at}, {keys}, from {way}: {}", said(&bench));
            assert!(said(&bench).starts_with("Made again: "), "{}", said(&bench));
        }
    }
}

#[test]
fn a_second_press_counts_only_straight_after_the_first() {
    for between in ["j", "Esc", "2 4", "i Esc", "? Esc", "z 2"] {
        let (mut bench, _, after) = with_step("4", "- '2' Enter");
        bench.press(&format!("3 u {between} 3 u"));
        assert_eq!(face(&bench), after, "{between}: named anew");
        assert!(said(&bench).contains("u again takes it back"), "{between}: {}", said(&bench));
    }
}

#[test]
fn the_finder_and_the_plain_mode_name_it_first_too() {
    for (at, keys, place) in crate::effort::thinned(DONE, 2) {
        let (mut bench, before, after) = with_step(at, keys);
        bench.press(if bench.model.is_at_bench() { "Esc 3" } else { "3" });
        if is_there(&bench, "") || is_there(&bench, "4") {
            bench.press(if at.starts_with('3') { "1" } else { "2" });
        }
        if is_there(&bench, "") {
            continue;
        }
        let mut found = copy(&bench);
        for expected in [&after, &before] {
            found.press(": 'undo' Enter");
            assert_eq!(&face(&found), expected, "finder: {at}, {keys}: {}", said(&found));
            assert!(said(&found).contains(place), "{}", said(&found));
        }
        found.press(": 'redo' Enter");
        assert_eq!(face(&found), after, "finder: {at}, {keys}: {}", said(&found));

        for (lines, expected) in
            [("undo\n", &after), ("undo\nundo\n", &before), ("undo\nundo\nredo\n", &after)]
        {
            let mut plainly = copy(&bench);
            let mut out = Vec::new();
            plain::run_plain(&mut plainly.model, &mut Cursor::new(lines), &mut out, &mut |_, _| Vec::new())
                .unwrap();
            assert_eq!(&face(&plainly), expected, "plain mode: {at}, {keys}, {lines:?}");
            let out = String::from_utf8(out).unwrap();
            assert!(out.contains("said: ") && out.contains(place), "{out}");
        }
    }
}

#[test]
fn at_the_bench_undo_is_the_step_back_and_never_an_old_line_of_stock() {
    let mut bench = Bench::demo();
    let (before, lines) = (face(&bench), bench.model.book.log().len());
    bench.press("b Enter Enter u");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, 1, "{}", said(&bench));
    assert!(said(&bench).starts_with("Taken back: step 2 of "), "{}", said(&bench));
    bench.press("u");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, 0);
    bench.press("u");
    assert!(said(&bench).contains("u again takes it back"), "{}", said(&bench));
    assert_eq!(bench.model.book.log().len(), lines, "no line of stock was touched");
    bench.press("Esc");
    assert_eq!(choices::read(&bench.model), choices::read(&Bench::demo().model));
    assert!(!before.is_empty());
    // The step back by its own key is the same as undo: both go on backwards, and redo ticks again.
    let mut bench = Bench::demo().keys("b Enter Enter Enter Backspace u");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, 1);
    bench.press("U U");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, 3);
}

#[test]
fn the_first_press_of_a_sitting_names_what_an_earlier_one_has_done_in_every_view() {
    let views =
        ["1", "1 v", "V", "b", "2", "2 R", "3", "3 s 'bramble' Enter", "4", "4 e", "4 ]", "4 ] ]", "4 ] ] ]"];
    for at in views.iter().chain(&["4 ] ] ] ]", "4 ] ] ] ] Enter", "4 ] ] ] ] ]"]) {
        let mut bench = Bench::demo().keys(at);
        let (before, lines) = (face(&bench), bench.model.book.log().len());
        let last = bench.model.history.next_undo().unwrap().label.clone();
        bench.press("u");
        let words = said(&bench);
        assert_eq!((face(&bench), bench.model.book.log().len()), (before.clone(), lines), "{at}: {words}");
        assert!(
            words.contains("before this sitting") && words.contains(&last) && words.contains("u again"),
            "{at}: {words}"
        );
        bench.press("u");
        assert!(said(&bench).starts_with("Taken back: ") && said(&bench).contains(&last), "{}", said(&bench));
        assert_ne!(face(&bench), before, "{at}");
        bench.press("U");
        assert_eq!(face(&bench), before, "{at}: {}", said(&bench));
    }
}

#[test]
fn each_view_has_its_own_last_step_in_true_time_order() {
    let mut bench = Bench::demo().keys("1 p '5x7' Enter 4 - '2' Enter 1 t p '3x4' Enter 4");
    let item = bench.model.stock.picked_item().unwrap();
    let held = bench.model.book.on_hand(item);
    bench.press("u");
    assert_eq!(bench.model.book.on_hand(item), held + 2, "the last thing done here, not the last of all");
    bench.press("u");
    assert!(said(&bench).contains("piece 3 x 4") && said(&bench).contains("Yield"), "{}", said(&bench));
    bench.press("1 u");
    assert!(said(&bench).contains("piece 3 x 4 in (Yield). Now piece 5 x 7 in"), "{}", said(&bench));
    bench.press("u");
    assert!(bench.model.yields.may_turn);
    bench.press("u");
    assert_eq!(bench.model.yields.piece, Bench::demo().model.yields.piece);
    bench.press("U U U");
    assert!(!bench.model.yields.may_turn);
    assert_eq!(bench.model.book.on_hand(item), held + 2, "what was taken back elsewhere waits there");
    bench.press("4 U");
    assert_eq!(bench.model.book.on_hand(item), held);
}

#[test]
fn a_card_a_class_and_a_line_keep_their_steps_to_themselves() {
    for (keys, place) in [
        ("2 r Ctrl-u '1/16' Enter ] u", "Mats, bramble note"),
        ("2 r Ctrl-u '1/16' Enter P 'winter' Enter u u", "Mats, "),
        ("4 ] ] ] ] j Enter j Enter Ctrl-u '2026-12-28' Enter Esc k Enter u", "Stock, class"),
        ("4 e Enter Ctrl-u 'chalk white, letter' Enter Esc j j e u", "Stock, line of"),
    ] {
        let bench = Bench::demo().keys(keys);
        let words = said(&bench);
        let is_named = words.contains("u again takes it back") || keys.contains("winter");
        assert!(is_named && words.contains(place), "{keys}: {words}");
    }
}

#[test]
fn a_wrong_spoiled_goes_by_one_press_and_a_log_with_it() {
    let mut bench = Bench::demo().keys("V b Enter Enter Enter");
    let (before, run) = (face(&bench), bench.model.yields.run.clone());
    bench.press("s Enter");
    assert_ne!(bench.model.yields.run, run, "something was spoiled");
    bench.press("u");
    assert_eq!((face(&bench), &bench.model.yields.run), (before.clone(), &run), "{}", said(&bench));
    // Ticked on after it: they go first, then the spoiled piece, then the ticks before it.
    bench.press("s Enter Enter Enter u u u");
    assert_eq!(bench.model.yields.run, run, "{}", said(&bench));
    bench.press("u");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, 2);
    // Sheets that were logged go with the mark that they were.
    bench.press("U Esc");
    let held = face(&bench);
    bench.press("W Ctrl-u '1' Enter");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().logged, 1, "{}", said(&bench));
    bench.press("u");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().logged, 0);
    assert_eq!(face(&bench), held);
}

#[test]
fn a_cut_list_that_another_one_has_put_away_comes_back() {
    let mut bench = Bench::demo().keys("b Enter Enter Esc");
    let run = bench.model.yields.run.clone();
    bench.press("p '5x7' Enter b");
    assert_ne!(bench.model.yields.run, run);
    bench.press("u");
    assert_eq!(bench.model.yields.run, run, "{}", said(&bench));
    assert!(said(&bench).contains("in place of"), "{}", said(&bench));
    bench.press("u");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().done, 1, "{}", said(&bench));
}

#[test]
fn what_shows_all_over_the_screen_is_in_view_everywhere() {
    let mut bench = Bench::demo().keys("1 m 3 u");
    assert_eq!(bench.model.screen.unit, Bench::demo().model.screen.unit, "{}", said(&bench));
    bench.press("T Down Enter 4 u");
    assert_eq!(bench.model.screen.theme, Bench::demo().model.screen.theme, "{}", said(&bench));
    // A theme that was only looked at is nothing to take back.
    bench.press("T Down Down Esc u");
    assert!(said(&bench).contains("before this sitting"), "{}", said(&bench));
}

#[test]
fn a_step_that_a_later_one_has_changed_again_waits_for_it() {
    // The sheet was chosen in the chart, then once more in the answer.
    let mut bench = Bench::demo().keys("v s 'a4' Enter v s '12x12' Enter v u");
    assert!(said(&bench).contains("sheet 12x12") && said(&bench).contains("u again"), "{}", said(&bench));
    bench.press("u");
    assert_eq!(bench.model.yields.sheet.sheet.name, "A4");
    bench.press("u");
    assert_eq!(bench.model.yields.sheet.sheet.name, "letter", "{}", said(&bench));
}

#[test]
fn a_book_that_is_only_read_gives_choices_back_and_refuses_the_rest() {
    let mut bench = Bench::demo().keys("t");
    bench.model.read_only = Some("written by a newer version".to_owned());
    bench.press("u");
    assert!(bench.model.yields.may_turn);
    bench.press("u u");
    let status = bench.model.status.clone().unwrap();
    assert_eq!((status.tone, status.text.as_str()), (Tone::Refused, "written by a newer version"));
}

#[test]
fn ticks_of_an_earlier_sitting_are_named_once_and_then_go_back_one_by_one() {
    let mut bench = Bench::demo().keys("b Enter Enter Enter Esc");
    let text = trimside::app::memory::to_text(&bench.model);
    let mut later = Bench::demo();
    trimside::app::memory::restore(&mut later.model, &text);
    later.resume();
    later.press("b u");
    assert_eq!(later.model.yields.run.as_ref().unwrap().done, 3, "{}", said(&later));
    assert!(said(&later).contains("Ticked before this sitting: step 3"), "{}", said(&later));
    later.press("u u");
    assert_eq!(later.model.yields.run.as_ref().unwrap().done, 1, "{}", said(&later));
    later.press("Enter u u");
    assert_eq!(
        later.model.yields.run.as_ref().unwrap().done,
        1,
        "a tick of this sitting by one press, then named anew"
    );
    bench.act(Action::Run(CommandId::Quit));
    assert!(bench.has_left);
}

/// A window on a kept book, with a sheet that it can use, and another writer of the same book.
fn two_writers() -> (tempfile::TempDir, Bench, Store) {
    let dir = tempfile::tempdir().unwrap();
    let (book, history) = trimside::persist::demo::book().unwrap();
    drop(history);
    let mut store = Store::open(dir.path()).unwrap();
    let item = book.items().iter().next().unwrap().1.clone();
    let edits = vec![
        Edit::Item(Row::add(ItemId(1), trimside::domain::stock::Item { swatch: None, ..item })),
        Edit::Log(NewLine::received(ItemId(1), 40, "parcel")),
        Edit::Log(NewLine::used(ItemId(1), 1, "an earlier day")),
    ];
    let wishes: Vec<Intent> = edits.into_iter().map(Intent::Do).collect();
    store.append(&wishes, super::harness::TODAY).unwrap();
    drop(store);
    let (store, other) = (Store::open(dir.path()).unwrap(), Store::open(dir.path()).unwrap());
    let bench = Bench::on(store.book().clone(), store.history().clone()).kept_in(store);
    (dir, bench, other)
}

#[test]
fn steps_of_another_window_are_named_and_own_ones_are_known_under_their_new_numbers() {
    let (_dir, mut bench, mut other) = two_writers();
    let used = |n: u32| Intent::Do(Edit::Log(NewLine::used(ItemId(1), n, "elsewhere")));
    let held = |bench: &Bench| bench.model.book.on_hand(ItemId(1));
    bench.press("4 - Ctrl-u '2' Enter");
    other.append(&[used(5)], super::harness::TODAY).unwrap();
    // The other writer was faster: this step gets another number, and the window another copy of the book.
    bench.press("- Ctrl-u '3' Enter");
    assert_eq!((held(&bench), bench.model.epoch > 0), (29, true), "{}", said(&bench));
    bench.press("u");
    assert_eq!(held(&bench), 32, "{}", said(&bench));
    bench.press("u");
    assert_eq!(held(&bench), 34, "{}", said(&bench));
    bench.press("U");
    assert_eq!(held(&bench), 32);
    bench.press("u u");
    assert_eq!(held(&bench), 34, "named, not taken: {}", said(&bench));
    let words = said(&bench);
    assert!(
        words.contains("another window") && words.contains("used 5") && words.contains("u again"),
        "{words}"
    );
    bench.press("u");
    assert_eq!(held(&bench), 39, "{}", said(&bench));
    bench.press("u");
    assert!(
        said(&bench).contains("before this sitting") && said(&bench).contains("used 1"),
        "{}",
        said(&bench)
    );
    assert!(bench.lost().is_none());
}

#[test]
fn a_step_that_was_refused_on_the_other_copy_is_nothing_to_take_back() {
    let (_dir, mut bench, mut other) = two_writers();
    let all = Intent::Do(Edit::Log(NewLine::used(ItemId(1), 39, "all of it")));
    other.append(&[all], super::harness::TODAY).unwrap();
    bench.press("4 - Ctrl-u '3' Enter");
    assert_eq!(bench.model.book.on_hand(ItemId(1)), 0);
    bench.press("u");
    assert!(said(&bench).contains("another window") && said(&bench).contains("used 39"), "{}", said(&bench));
}
