//! What is done to a class beside its figures, by keys: another paper, a design less, a seat more, who came, what sold, kits, names;
//! each is one step that one key takes back.

use super::harness::Bench;
use trimside::domain::project::{Progress, Project, SaleKind};
use trimside::domain::stock::{ItemId, ProjectId};

fn screen(bench: &Bench) -> String {
    bench.text(160, 50)
}

/// The demo's class, open.
fn opened() -> (Bench, ProjectId) {
    let bench = Bench::demo().keys("4 [ [ j Enter");
    let id = bench.model.stock.open_class().unwrap();
    (bench, id)
}

fn class(bench: &Bench, id: ProjectId) -> Project {
    bench.model.book.projects().get(id).unwrap().clone()
}

fn item(bench: &Bench, name: &str) -> ItemId {
    bench.model.book.find_item(name).unwrap()
}

#[test]
fn another_paper_is_taken_with_two_keys_and_what_is_booked_follows() {
    let (mut bench, id) = opened();
    bench.press("B");
    let (plum, night) = (item(&bench, "plum stone, letter"), item(&bench, "night ferry, letter"));
    let (had, before) = (bench.model.book.booked(plum), bench.model.book.booked(night));
    assert!(had > 0, "{}", screen(&bench));
    bench.press("z p 'plum' Enter 'night' Enter");
    assert!(class(&bench, id).items().all(|i| i != plum), "{}", screen(&bench));
    let after = (bench.model.book.booked(plum), bench.model.book.booked(night));
    assert!(
        after.0 == 0 && after.1 > before,
        "{had} and {before} before, then {after:?}: {}",
        screen(&bench)
    );
    bench.press("u u");
    assert_eq!((bench.model.book.booked(plum), bench.model.book.booked(night)), (had, before));
}

#[test]
fn a_design_is_dropped_and_a_seat_is_added_and_both_are_taken_back() {
    let (mut bench, id) = opened();
    let before = class(&bench, id);
    bench.press("z d 'fern' Enter");
    assert_eq!(class(&bench, id).cards.len(), 1);
    bench.press("z s Enter");
    assert_eq!(class(&bench, id).seats, 13);
    bench.press("z a 'gate note' Enter");
    assert_eq!(class(&bench, id).cards.len(), 2);
    bench.press("u u u");
    assert_eq!(class(&bench, id), before);
    bench.press("z s Ctrl-u 'many' Enter");
    assert!(screen(&bench).contains("not a number of seats"), "{}", screen(&bench));
}

#[test]
fn who_came_what_sold_and_what_is_left_are_noted_after_the_class() {
    let (mut bench, id) = opened();
    bench.press("z c '9' Enter");
    assert!(screen(&bench).contains("not taught yet"), "{}", screen(&bench));
    bench.press("Esc B W Down Enter");
    assert_eq!(class(&bench, id).progress, Progress::Done, "{}", screen(&bench));
    assert!(screen(&bench).contains("How many came? z c notes it"), "{}", screen(&bench));
    bench.press("z c '9, 10' Enter");
    let after = class(&bench, id).afterwards;
    assert_eq!((after.came, after.paid, class(&bench, id).kits_left()), (Some(9), Some(10), 3));
    assert!(screen(&bench).contains("3 kits"), "{}", screen(&bench));
    let pad = item(&bench, "soot ink pad");
    let held = bench.model.book.on_hand(pad);
    bench.press("z l 'soot ink pad' Enter '1' Enter '9.50' Enter Enter Esc");
    assert_eq!(bench.model.book.on_hand(pad), held - 1, "{}", screen(&bench));
    bench.press("z l 'kit' Enter Ctrl-u '2' Enter '15' Enter Enter Esc");
    bench.press("z k '1 for a present' Enter");
    let sales = class(&bench, id).afterwards.sales;
    let kinds: Vec<SaleKind> = sales.iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [SaleKind::Item, SaleKind::Kit, SaleKind::KitUsed], "{}", screen(&bench));
    assert_eq!((class(&bench, id).kits_left(), sales[2].what.as_str()), (0, "a present"));
    // The list says what the year brought: nothing for seats without a price, 9.50 + 15.00 for the rest.
    bench.press("Esc");
    let shown = screen(&bench);
    assert!(shown.contains("2026: 1 class, 9 came, $24.50 taken"), "{shown}");
    // The same figures as a file: 24.50 in three columns, less what the class and the pad cost.
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("year.csv");
    bench.press(&format!("E Ctrl-u '{}' Enter", path.display()));
    let file = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{e}: {}", screen(&bench)));
    let told = trimside::domain::stock::takings::year(&bench.model.book, 2026);
    let row: Vec<&str> = file.lines().nth(1).unwrap().rsplitn(10, ',').collect();
    assert!(file.starts_with("date,class,seats,came,paid,seat_takings,kit_takings,item_takings"), "{file}");
    assert_eq!((row[7], row[8]), ("10", "9"), "{file}");
    assert_eq!((row[5], row[4]), ("15.00", "9.50"), "{file}");
    assert_eq!(row[1], told.rows[0].takings.result().to_string(), "{file}");
    // Three steps; one that stood in another view is named by a first press and taken back by the next.
    let is_back = |bench: &Bench| class(bench, id).afterwards.sales.is_empty();
    for _ in 0..6 {
        if !is_back(&bench) {
            bench.press("u");
        }
    }
    assert_eq!((class(&bench, id).kits_left(), bench.model.book.on_hand(pad)), (3, held));
}

#[test]
fn names_are_kept_with_the_class_and_stand_on_its_page_alone() {
    let (mut bench, id) = opened();
    bench.press("z n 'A. Guest, B. Guest' Enter");
    assert_eq!(class(&bench, id).attendees, ["A. Guest", "B. Guest"]);
    assert!(screen(&bench).contains("A. Guest, B. Guest"), "{}", screen(&bench));
    bench.press("z n Ctrl-u 'B. Guest' Enter");
    assert_eq!(class(&bench, id).attendees, ["B. Guest"]);
    bench.press("u u");
    assert!(class(&bench, id).attendees.is_empty());
}

#[test]
fn the_next_days_are_one_command_away_from_every_list() {
    for keys in ["4 z t", "4 ] ] z t", "2 : 'next 60' Enter"] {
        let bench = Bench::demo().keys(keys);
        let shown = screen(&bench);
        assert!(shown.contains("in 60 days") && shown.contains("pack 12 kits"), "{keys}: {shown}");
    }
}
