//! Orders and ways out of a shortage by their keys, each taken back by one undo.

use super::harness::Bench;
use trimside::app::facts::facts;
use trimside::domain::stock::ItemId;

fn item(bench: &Bench, name: &str) -> ItemId {
    bench.model.book.find_item(name).unwrap()
}

fn screen(bench: &Bench) -> String {
    bench.text(150, 40)
}

#[test]
fn packs_are_typed_before_they_are_ordered_and_the_rest_stays_back_ordered() {
    let mut bench = Bench::demo().keys("4 ] ] ] c");
    let id = item(&bench, "wren steps");
    assert!(screen(&bench).contains("Packs to order of wren steps:"), "{}", screen(&bench));
    bench.press("Ctrl-u '3, 1' Enter");
    assert!(screen(&bench).contains("one number for each"), "{}", screen(&bench));
    // 3 at 1.10 are 3.30.
    bench.press("Ctrl-u '3'");
    assert!(screen(&bench).contains("3 of wren steps: $3.30"), "{}", screen(&bench));
    bench.press("Enter");
    assert_eq!(bench.model.book.on_order(id), 3);
    let head = "on order from the mill by the weir, 2026-11-25: 1 line, $3.30";
    assert!(screen(&bench).contains(head), "{}", screen(&bench));
    bench.press("c");
    assert!(screen(&bench).contains("3, 3.30, the mill by the weir"), "{}", screen(&bench));
    bench.press("Ctrl-u '2' Enter");
    assert_eq!(bench.model.book.on_order(id), 2, "fewer are wanted");
    assert!(screen(&bench).contains("1 line, $2.20"), "their price follows: {}", screen(&bench));
    bench.press("c Ctrl-u '2, 2.50, the other mill' Enter");
    assert!(
        screen(&bench).contains("on order from the other mill, 2026-11-25: 1 line, $2.50"),
        "{}",
        screen(&bench)
    );
    bench.press("u");
    bench.press("u");
    assert_eq!(bench.model.book.on_order(id), 3);
    bench.press("z d Ctrl-u '+10' Enter");
    assert!(screen(&bench).contains("due 2026-12-05"), "{}", screen(&bench));
    // One of three comes, for more than it was ordered at.
    bench.press("+ Ctrl-u '1, 1.30' Enter");
    assert_eq!((bench.model.book.on_hand(id), bench.model.book.on_order(id)), (4, 2));
    let shown = screen(&bench);
    assert!(shown.contains("price went up: $1.30 each, $1.10 when it was ordered"), "{shown}");
    assert!(shown.contains("2 of 3 back-ordered"), "{shown}");
    bench.press("u u u");
    assert_eq!((bench.model.book.on_hand(id), bench.model.book.on_order(id)), (3, 0));
}

#[test]
fn a_shortage_is_answered_by_one_key_and_taken_back_by_one() {
    // 69 chalk letter less 66: 3 are there, the class wants 9: 6 are missing.
    let mut bench = Bench::demo().keys("4 / 'chalk, letter' Enter - '66' Enter ] ] ] ] Home j");
    let id = item(&bench, "chalk, letter");
    bench.press("B");
    let said: Vec<String> =
        facts(&bench.model).into_iter().map(|f| format!("{}: {}", f.label, f.text)).collect();
    assert!(said.iter().any(|l| l.starts_with("it can be fixed: order 1 pack of")), "{said:#?}");
    bench.press("z w");
    let shown = screen(&bench);
    assert!(
        shown.contains("Short: choose what is done") && shown.contains("6 of chalk, letter short"),
        "{shown}"
    );
    assert!(shown.contains("order 1 pack of"), "{shown}");
    let seq = bench.model.book.seq();
    bench.press("Enter");
    assert!(bench.model.book.on_order(id) >= 6, "{}", screen(&bench));
    assert_eq!(bench.model.book.seq(), seq + 1, "one step");
    bench.press("u");
    assert_eq!(bench.model.book.on_order(id), 0);
    bench.press("z w Esc");
    assert_eq!(bench.model.book.on_order(id), 0, "looking takes nothing");
}

#[test]
fn where_nothing_is_short_that_is_said() {
    let bench = Bench::demo().keys("4 ] ] ] ] Home j z w");
    assert!(screen(&bench).contains("Nothing is short for Hedgerow notes, class."), "{}", screen(&bench));
}
