//! A line of the shelf changed field by field, and what is said where lots would mix at the bench.

use super::harness::Bench;
use trimside::app::pane::Pane;
use trimside::app::panes::stock::form;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::stock::field::Field;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine, State};

fn item<'a>(bench: &'a Bench, name: &str) -> (ItemId, &'a Item) {
    let id = bench.model.book.find_item(name).unwrap();
    (id, bench.model.book.items().get(id).unwrap())
}

/// The form of a line, at a field.
fn at(bench: &mut Bench, name: &str, field: Field) {
    let (id, _) = item(bench, name);
    let (book, today) = (bench.model.book.clone(), bench.model.today);
    bench.model.stock.show(id, &book, today);
    bench.press("e");
    to(bench, field);
}

fn to(bench: &mut Bench, field: Field) {
    bench.press("g");
    for _ in Field::ALL {
        if form::picked(&bench.model.stock, &bench.model.ctx()) == Some(field) {
            return;
        }
        bench.press("j");
    }
    panic!("{field:?} is not in the form");
}

#[test]
fn every_field_is_changed_by_keys_and_one_undo_takes_each_back() {
    let mut bench = Bench::demo().keys("4");
    at(&mut bench, "fern floor, letter", Field::Name);
    let before = item(&bench, "fern floor, letter").1.clone();
    for (field, text) in [
        (Field::Size, "a4"),
        (Field::Measured, "8 7/16 x 11"),
        (Field::Grain, "short"),
        (Field::Colours, "night ferry"),
        (Field::Gsm, "300"),
        (Field::BoughtAs, "80 lb cover"),
        (Field::Caliper, "12 pt"),
        (Field::OrderNumber, "X-99"),
        (Field::Seller, "another one"),
        (Field::Pack, "50"),
        (Field::Price, "7.75"),
        (Field::Edition, "spring"),
        (Field::Page, "44"),
        (Field::Collection, "woods"),
        (Field::State, "leaving 2027-08-31"),
        (Field::Low, "9"),
        (Field::LeadDays, "12"),
        (Field::OnOrder, "48"),
        (Field::Place, "box 7"),
        (Field::Note, "for the class"),
    ] {
        to(&mut bench, field);
        let (was, steps) = (form::rows(&bench.model.stock, &bench.model.ctx()), bench.steps.len());
        bench.press(&format!("Enter Ctrl-u '{text}' Enter"));
        assert_eq!(bench.steps.len(), steps + 1, "{field:?}: {}", bench.text(100, 30));
        assert_ne!(form::rows(&bench.model.stock, &bench.model.ctx()), was, "{field:?}");
        bench.press("u");
        assert_eq!(form::rows(&bench.model.stock, &bench.model.ctx()), was, "{field:?}: one undo");
        bench.press("U");
    }
    to(&mut bench, Field::SoldAlone);
    bench.press("Enter");
    let (id, now) = item(&bench, "x-99");
    assert_eq!((now.gsm, now.low, now.sold_alone, now.lead_days), (Some(216), 9, false, 12));
    assert_eq!(
        (now.state, now.price.unwrap().minor()),
        (State::Leaving(jiff::civil::date(2027, 8, 31)), 775)
    );
    assert_eq!((bench.model.book.on_order(id), &now.name), (48, &before.name));
    assert!(now.former_numbers.contains(&before.order_number), "last year's number still finds it");
}

#[test]
fn a_line_keeps_the_cursor_when_its_name_moves_it() {
    let mut bench = Bench::demo().keys("4");
    at(&mut bench, "fern floor, letter", Field::Name);
    let id = item(&bench, "fern floor, letter").0;
    bench.press("Enter Ctrl-u 'zebra, letter' Enter Esc");
    assert_eq!((bench.model.stock.picked_item(), bench.model.stock.open_item().is_none()), (Some(id), true));
    assert!(bench.text(100, 30).contains("zebra, letter"));
    // A new line is picked at once, so that e goes on with it.
    bench.press("n 'aaa foam, adhesive, 40' Enter e");
    assert_eq!(bench.model.stock.open_item().unwrap(), item(&bench, "aaa foam").0);
    let said = trimside::app::facts::as_text(&bench.model);
    assert!(said.contains("name (picked): aaa foam") && said.contains("state: current"), "{said}");
    assert!(!said.contains("grain"), "an adhesive has none: {said}");
}

#[test]
fn a_bad_text_is_answered_in_one_sentence_and_kept() {
    let mut bench = Bench::demo().keys("4");
    at(&mut bench, "fern floor, letter", Field::State);
    let steps = bench.steps.len();
    bench.press("Enter Ctrl-u 'leaving soon' Enter");
    assert!(bench.text(149, 40).contains("\"soon\" is not a day"), "{}", bench.text(149, 40));
    assert_eq!(bench.steps.len(), steps);
    bench.press("Ctrl-u 'gone'");
    assert!(bench.text(149, 40).contains("gone"));
    bench.press("Enter");
    assert_eq!((item(&bench, "fern floor, letter").1.state, bench.steps.len()), (State::Gone, steps + 1));
}

#[test]
fn a_field_that_another_window_changed_while_it_was_typed_is_not_overwritten() {
    let mut bench = Bench::demo().keys("4");
    at(&mut bench, "fern floor, letter", Field::Place);
    bench.press("Enter Ctrl-u 'box 7'");
    let (id, was) = item(&bench, "fern floor, letter");
    let (was, now) = (was.clone(), Item { place: "box 1".into(), ..was.clone() });
    let mut book = bench.model.book.clone();
    book.apply(&Edit::Item(Row::alter(id, was, now)), super::harness::TODAY).unwrap();
    bench.model.book = book;
    bench.press("Enter");
    assert!(bench.text(149, 40).contains("changed meanwhile"), "{}", bench.text(149, 40));
    assert_eq!(item(&bench, "fern floor, letter").1.place, "box 1");
}

/// A bench on a shelf with two lots of one paper, the sheet of Yield.
fn two_lots() -> Bench {
    let mut bench = Bench::empty();
    let mut book = bench.model.book.clone();
    let id = book.items().next();
    let size = trimside::domain::size::Size::parse("8.5x11", trimside::domain::length::Unit::Inch).ok();
    let fern = Item { size, ..Item::new("fern", Kind::PlainSheet) };
    book.apply(&Edit::Item(Row::add(id, fern)), super::harness::TODAY).unwrap();
    for (n, lot) in [(3, "A"), (4, "B")] {
        let line = NewLine { lot: lot.into(), ..NewLine::received(id, n, "") };
        book.apply(&Edit::Log(line), super::harness::TODAY).unwrap();
    }
    bench = Bench::on(book, trimside::domain::history::History::default());
    bench.keys("4 s")
}

#[test]
fn sheets_of_two_lots_are_named_before_the_first_cut_and_when_they_are_logged() {
    // Letter gives 8 of 2 3/4 x 4 1/4 ... two sheets need one lot, five need both.
    for (sheets, mixes) in [(3, false), (5, true)] {
        let mut bench = two_lots().keys("p '8.5x5.5' Enter");
        bench.press(&format!("c '{}' Enter b", sheets * 2));
        assert_eq!((bench.model.pane, bench.model.is_at_bench()), (Pane::Yield, true));
        let words = "3 of lot A, 2 of lot B";
        assert_eq!(bench.text(120, 40).contains(words), mixes, "{}", bench.text(120, 40));
        let said = trimside::app::facts::as_text(&bench.model);
        assert_eq!(said.contains(words), mixes, "{said}");
        let steps = bench.model.yields.run.as_ref().unwrap().len();
        for _ in 0..steps {
            bench.press("Enter");
        }
        assert_eq!(bench.text(120, 40).contains(words), mixes, "{}", bench.text(120, 40));
        bench.press("Enter");
        assert_eq!(bench.model.book.log().len(), 3, "{}", bench.text(120, 40));
        let status = bench.model.status.as_ref().unwrap().text.clone();
        assert_eq!(status.contains(words), mixes, "{status}");
    }
}

#[test]
fn a_pack_is_changed_field_by_field_and_taken_off_the_list() {
    let mut bench = Bench::demo().keys("4 / 'bramble' Enter z n 'hedge pack, HP-1, 2, 18.50' Enter");
    let pack = |bench: &Bench| {
        let found = bench.model.book.assortments().iter().find(|(_, a)| a.order_number.starts_with("HP"));
        found.map(|(_, a)| a.clone())
    };
    assert_eq!(pack(&bench).unwrap().contents.len(), bench.model.stock.shown.len());
    for (field, text) in [
        ("order number", "HP-2"),
        ("price", "20.25"),
        ("state", "leaving 2027-05-31"),
        ("brings", "3 fern floor, letter; 1 wren steps"),
        ("note", "spring season"),
    ] {
        let (was, steps) = (pack(&bench), bench.steps.len());
        bench.press(&format!("z e 'hedge pack' Enter '{field}' Enter Ctrl-u '{text}' Enter"));
        assert_eq!(bench.steps.len(), steps + 1, "{field}: {}", bench.text(120, 40));
        bench.press("u");
        assert_eq!(pack(&bench), was, "{field}: one undo");
        bench.press("U");
    }
    let now = pack(&bench).unwrap();
    assert_eq!((now.order_number.as_str(), now.price.unwrap().minor()), ("HP-2", 2025));
    assert_eq!(now.state, State::Leaving(jiff::civil::date(2027, 5, 31)));
    let (fern, wren) = (item(&bench, "fern floor, letter").0, item(&bench, "wren steps").0);
    assert_eq!(now.contents, [(fern, 3), (wren, 1)]);
    // One receipt adds to both.
    let held = bench.model.book.on_hand(fern);
    bench.press("z p 'hedge pack' Enter Ctrl-u '2, 40.50' Enter");
    assert_eq!(bench.model.book.on_hand(fern), held + 6);
    bench.press("z e 'hedge pack' Enter 'brings' Enter Ctrl-u '3 nobody' Enter");
    assert!(bench.text(149, 40).contains("nothing on the shelf"), "{}", bench.text(149, 40));
    bench.press("Esc z e 'hedge pack' Enter 'off the list' Enter");
    assert_eq!(pack(&bench), None);
}

#[test]
fn an_offcut_is_put_by_with_its_grain() {
    let mut bench = Bench::demo().keys("4 ] n 'moss pool' Enter '4 x 4 1/2, 2, long'");
    assert!(bench.text(120, 40).contains("2 offcuts"), "{}", bench.text(120, 40));
    bench.press("Enter");
    let (id, kept) = bench.model.book.offcuts().iter().last().unwrap();
    assert_eq!((kept.grain, bench.model.book.offcut_count(id)), (trimside::domain::size::Grain::Long, 2));
    bench.press("n 'moss pool' Enter '4 x 4 1/2, grain short' Enter");
    let last = |bench: &Bench| {
        let kept = bench.model.book.offcuts().iter().last().unwrap().1.clone();
        (kept.grain.word(), kept.place)
    };
    assert_eq!(last(&bench), ("short", String::new()));
    bench.press("G e Ctrl-u 'long, bin 2' Enter");
    assert_eq!(last(&bench), ("long", "bin 2".to_owned()));
    bench.press("e Ctrl-u 'box, low shelf' Enter");
    assert_eq!(last(&bench), ("long", "box, low shelf".to_owned()));
    bench.press("u u");
    assert_eq!(last(&bench), ("short", String::new()));
}
