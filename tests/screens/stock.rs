//! The Stock pane by its keys: every flow from the home row, and that one undo takes each of them back.

use super::harness::{Bench, TODAY};
use std::collections::BTreeMap;
use trimside::app::action::{Action, ListRead};
use trimside::app::effect::ListUse;
use trimside::app::pane::Pane;
use trimside::app::state::stock::preview::Sign;
use trimside::app::state::views::Tab;
use trimside::domain::cutlist::cut_list;
use trimside::domain::length::Unit;
use trimside::domain::project::Progress;
use trimside::domain::stock::needs::Basis;
use trimside::domain::stock::outlook::outlook;
use trimside::domain::stock::{Item, ItemId, Kind, ProjectId, Reason, State, booked};

fn item(bench: &Bench, name: &str) -> ItemId {
    bench.model.book.find_item(name).unwrap()
}

/// Goes to the Stock pane and to the line of this name.
fn at(name: &str) -> Bench {
    let mut bench = Bench::demo().keys("4");
    let id = item(&bench, name);
    let (book, today) = (bench.model.book.clone(), bench.model.today);
    bench.model.stock.show(id, &book, today);
    bench
}

fn screen(bench: &Bench) -> String {
    bench.text(149, 50)
}

#[test]
fn the_six_lists_are_reached_both_ways_from_the_home_row() {
    let mut bench = Bench::demo().keys("4");
    let mut seen = vec![bench.model.stock.tab()];
    for _ in 0..5 {
        bench.press("]");
        seen.push(bench.model.stock.tab());
    }
    assert_eq!(seen, Tab::ALL);
    bench.press("] [");
    assert_eq!(bench.model.stock.tab(), Tab::Bookings);
    bench.press("Left Right Right v");
    assert_eq!(bench.model.stock.tab(), Tab::Bin);
}

#[test]
fn an_empty_list_says_what_to_press() {
    let mut bench = Bench::empty().keys("4");
    for words in ["press n", "press n", "+ on the shelf", "z l on a line", "press n", "B there"] {
        let shown = screen(&bench);
        assert!(shown.contains(words), "{words}: {shown}");
        let said = trimside::app::facts::as_text(&bench.model);
        assert!(said.contains("empty: "), "{said}");
        bench.press("]");
    }
}

#[test]
fn a_first_line_is_put_on_the_shelf_by_hand() {
    let mut bench = Bench::empty().keys("4 n 'fern, letter, plain sheet, 8-1/2x11, 24' Enter");
    let id = item(&bench, "fern, letter");
    assert_eq!(bench.model.book.on_hand(id), 24);
    bench.press("n 'fern, letter, card stock, letter' Enter");
    assert!(screen(&bench).contains("on the shelf already"), "{}", screen(&bench));
    bench.press("Esc u");
    assert!(bench.model.book.items().is_empty());
}

#[test]
fn more_than_is_held_is_used_after_the_count_is_put_right() {
    let mut bench = at("wren steps").keys("- '5'");
    assert!(screen(&bench).contains("If the count is wrong, Tab adjusts it"), "{}", screen(&bench));
    let id = item(&bench, "wren steps");
    let lines = bench.model.book.log().len();
    bench.press("Tab Ctrl-u '4' Enter");
    assert!(screen(&bench).contains("from 5"), "fewer than are used cannot have been there");
    bench.press("Ctrl-u '6' Enter");
    assert_eq!(bench.model.book.on_hand(id), 1);
    let new: Vec<(i64, Reason)> =
        bench.model.book.log()[lines..].iter().map(|l| (l.change, l.reason)).collect();
    assert_eq!(new, [(3, Reason::Adjusted), (-5, Reason::Used)]);
    bench.press("u");
    assert_eq!(bench.model.book.on_hand(id), 3, "one undo takes both back");
}

#[test]
fn a_use_is_typed_in_words() {
    let mut bench = Bench::demo().keys("4 z u '4 sheets of fern floor, letter'");
    let id = item(&bench, "fern floor, letter");
    assert!(screen(&bench).contains("fern floor, letter: 32 left"), "{}", screen(&bench));
    bench.press("Enter");
    assert_eq!(bench.model.book.on_hand(id), 32);
    bench.press("z u '2 hw-06' Enter z u 'some fern' Enter");
    assert_eq!(bench.model.book.on_hand(item(&bench, "wren steps")), 1);
    assert!(screen(&bench).contains("not a count"));
    bench.press("Ctrl-u '9 wren steps' Tab");
    assert!(screen(&bench).contains("9 were used. How many were there"), "{}", screen(&bench));
}

#[test]
fn a_receipt_carries_price_day_and_lot_and_mixed_lots_are_said() {
    let mut bench = at("fern floor, letter");
    let id = item(&bench, "fern floor, letter");
    bench.press("c '0' Enter + '3, 1.20, 2026-11-20, lot A' Enter + '4, 1.60, lot B' Enter");
    let line = bench.model.book.lines_of(id).rev().nth(1).unwrap().clone();
    assert_eq!((line.price.unwrap().minor(), line.lot.as_str()), (120, "A"));
    assert_eq!(line.date.to_string(), "2026-11-20");
    bench.press("- '5'");
    assert!(screen(&bench).contains("3 of lot A, 2 of lot B"), "{}", screen(&bench));
    bench.press("Enter");
    assert!(screen(&bench).contains("keep each visible set to one lot"));
    assert_eq!(bench.model.book.on_hand(id), 2);
}

#[test]
fn history_shows_one_items_lines_and_what_goes_a_month() {
    let mut bench = at("chalk, letter").keys(";");
    assert_eq!(bench.model.stock.tab(), Tab::Log);
    let shown = screen(&bench);
    assert!(shown.contains("16 since 2026-09-01"), "6 in September and 10 in October: {shown}");
    assert!(!shown.contains("kite tails") && shown.contains("first count"), "{shown}");
    bench.press("Enter");
    assert!(screen(&bench).contains("kite tails"), "the whole log again");
}

#[test]
fn a_line_of_the_log_is_voided_and_the_line_stays() {
    let mut bench = at("kite tails").keys(";");
    let (id, lines) = (item(&bench, "kite tails"), bench.model.book.log().len());
    let held = bench.model.book.on_hand(id);
    bench.press("x");
    assert_eq!((bench.model.book.on_hand(id), bench.model.book.log().len()), (held + 2, lines + 1));
    bench.press("j x");
    assert!(screen(&bench).contains("voided before"), "{}", screen(&bench));
}

#[test]
fn offcuts_are_put_in_used_and_counted() {
    let mut bench = Bench::demo().keys("4 ] n 'moss pool' Enter '4x4, 2' Enter G");
    let id = *trimside::app::state::stock::bin(&bench.model.stock, &bench.model.book).last().unwrap();
    assert_eq!(bench.model.book.offcut_count(id), 2);
    bench.press("- Ctrl-u '3' Enter");
    assert!(screen(&bench).contains("there, not 3"));
    bench.press("Ctrl-u '1' Enter");
    assert_eq!(bench.model.book.offcut_count(id), 1);
    bench.press("c '4' Enter z f Ctrl-u '2x2' Enter");
    assert_eq!(bench.model.book.offcut_count(id), 4);
    assert_eq!(bench.model.book.settings().offcut_floor.show(trimside::domain::length::Unit::Inch), "2 x 2");
    bench.press("u u u u");
    assert!(!trimside::app::state::stock::bin(&bench.model.stock, &bench.model.book).contains(&id));
}

#[test]
fn a_low_line_is_ordered_arrives_and_its_lot_is_booked_in() {
    let mut bench = Bench::demo().keys("4 ] ] ]");
    let id = item(&bench, "wren steps");
    let shown = screen(&bench);
    assert!(shown.contains("1 to reach the low mark of 4") && shown.contains("HW-06"), "{shown}");
    bench.press("Enter");
    assert_eq!(bench.model.book.on_order(id), 1);
    assert!(screen(&bench).contains("on order"));
    bench.press("W");
    assert!(screen(&bench).contains("on order already"));
    bench.press("+ ', 1.05, lot 8' Enter");
    assert_eq!((bench.model.book.on_hand(id), bench.model.book.on_order(id)), (4, 0));
    let line = bench.model.book.log().last().unwrap();
    assert_eq!((line.price.unwrap().minor(), line.lot.as_str(), line.date), (105, "8", TODAY));
    bench.press("u u");
    assert_eq!((bench.model.book.on_hand(id), bench.model.book.on_order(id)), (3, 0));
}

#[test]
fn the_list_is_copied_and_written_for_ordering() {
    let dir = tempfile::tempdir().unwrap();
    let mut bench = Bench::demo().keys("4 ] ] ] y");
    assert!(bench.copied[0].contains("HW-06") && bench.copied[0].contains("the mill"), "{}", bench.copied[0]);
    for (name, words) in [("list.csv", "seller,order_number"), ("list.txt", "HW-06")] {
        let path = dir.path().join(name);
        bench.press("E Ctrl-u");
        bench.press(&format!("'{}' Enter", path.display()));
        assert!(std::fs::read_to_string(&path).unwrap().contains(words), "{name}");
    }
    bench.press("E Ctrl-u");
    bench.press(&format!("'{}' Enter", dir.path().join("list.txt").display()));
    assert!(screen(&bench).contains("left alone"), "a file that is there is not written over");
}

#[test]
fn a_pack_of_the_lines_shown_is_made_ordered_and_received_as_one() {
    let mut bench = Bench::demo().keys("4 / 'hedgerow walk' Enter z n 'Hedge pack, HW-0, 2, 6.00' Enter");
    let (id, pack) = bench.model.book.assortments().iter().next().map(|(i, a)| (i, a.clone())).unwrap();
    assert_eq!((pack.contents.len(), pack.contents[0].1), (8, 2));
    let wren = item(&bench, "wren steps");
    assert_eq!(bench.model.book.assortments().name_of(id), "Hedge pack");
    // Alone one wren steps is cheaper; when it comes only in packs, the pack is the one cover.
    bench.press("] ] ]");
    assert!(!screen(&bench).contains("cheapest cover"), "{}", screen(&bench));
    bench.press("[ [ [ / Ctrl-u 'wren' Enter z a ] ] ]");
    let shown = screen(&bench);
    assert!(shown.contains("cheapest cover of 1 wren steps; also brings"), "{shown}");
    bench.press("W");
    assert_eq!(bench.model.book.orders().len(), 8);
    bench.press("+ ', 6.01' Enter");
    assert_eq!((bench.model.book.on_hand(wren), bench.model.book.orders().len()), (5, 0));
    let paid: i64 =
        bench.model.book.log().iter().rev().take(8).filter_map(|l| l.price).map(|p| p.minor()).sum();
    assert_eq!(paid, 601, "shared out to the cent");
    bench.press("u");
    assert_eq!((bench.model.book.on_hand(wren), bench.model.book.orders().len()), (3, 8));
    bench.press("[ [ [ z p Enter Ctrl-u '1, 6' Enter");
    assert_eq!(bench.model.book.on_hand(wren), 5);
}

#[test]
fn leaving_lines_lose_their_mark_and_are_listed_for_a_last_order() {
    let mut bench = at("wren steps").keys("z s Ctrl-u 'leaving 2027-01-31' Enter");
    let id = item(&bench, "wren steps");
    assert!(matches!(bench.model.book.items().get(id).unwrap().state, State::Leaving(_)));
    bench.press("] ] ]");
    let shown = screen(&bench);
    assert!(shown.contains("until 2027-01-31: 3 on hand, 0 booked"), "{shown}");
    assert!(!shown.contains("mark 4"), "{shown}");
}

#[test]
fn a_class_is_made_changed_booked_and_taught_with_one_undo() {
    let mut bench = Bench::demo().keys("4 [ [ n 'Spring class, 9' Enter");
    let id = bench.model.stock.open_class().unwrap();
    let class = |b: &Bench| b.model.book.projects().get(id).unwrap().clone();
    assert_eq!((class(&bench).seats, class(&bench).samples, class(&bench).cards.len()), (9, 1, 2));
    assert_eq!(class(&bench).spoilage_percent, bench.model.book.settings().spoilage_percent);
    bench.press("Enter '2027-03-06' Enter j Enter Ctrl-u '8' Enter j j Enter Ctrl-u '10' Enter j Enter Ctrl-u '2' Enter");
    bench.press("j Enter '15' Enter j Enter '6' Enter j Enter '20' Enter");
    let now = class(&bench);
    assert_eq!((now.date.unwrap().to_string().as_str(), now.seats), ("2027-03-06", 8));
    assert_eq!((now.spoilage_percent, now.spoilage_fixed, now.minutes_a_card), (10, 2, 6));
    let shown = screen(&bench);
    for words in ["break-even price", "work", "left over", "kit of a seat", "bramble rows"] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
    // 8 + 1 sets of 2 cards: 18 envelopes, whatever is spoiled of their paper.
    bench.press("B");
    let chalk = item(&bench, "envelope A2, chalk");
    assert_eq!(bench.model.book.booked(chalk), 18);
    bench.press("g j j Enter Ctrl-u '10' Enter");
    assert_eq!(bench.model.book.booked(chalk), 18, "what is booked stays until it is booked anew");
    bench.press("B");
    assert_eq!(bench.model.book.booked(chalk), 22);
    // The difference was booked beside what was booked before; booking once more takes the plan with fewer sheets.
    bench.press("B B");
    assert!(screen(&bench).contains("booked already, just so"), "{}", screen(&bench));
    while class(&bench).seats == 10 {
        bench.press("u");
    }
    assert_eq!((class(&bench).seats, bench.model.book.booked(chalk)), (8, 18));
    let held = bench.model.book.on_hand(chalk);
    bench.press("W");
    assert!(screen(&bench).contains("not logged as cut"), "{}", screen(&bench));
    bench.press("Down Enter");
    assert_eq!(class(&bench).progress, Progress::Done);
    assert_eq!((bench.model.book.on_hand(chalk), bench.model.book.booked(chalk)), (held - 18, 0));
    bench.press("u");
    assert_eq!(class(&bench).progress, Progress::Open);
    assert_eq!((bench.model.book.on_hand(chalk), bench.model.book.booked(chalk)), (held, 18));
    bench.press("x");
    assert_eq!((class(&bench).progress, bench.model.book.booked(chalk)), (Progress::Cancelled, 0));
    bench.press("B");
    assert!(screen(&bench).contains("cancelled already"));
}

#[test]
fn a_shortage_stands_in_words_and_on_the_reorder_list() {
    let mut bench = Bench::demo().keys("4 [ [ n 'Large class, 60' Enter Enter '2026-12-20' Enter B");
    let shown = screen(&bench);
    assert!(shown.contains("SHORT on 2026-12-20: ") && shown.contains("reorder list has it"), "{shown}");
    assert!(trimside::app::facts::as_text(&bench.model).contains("short: "));
    bench.press("Esc ]");
    assert!(screen(&bench).contains("SHORT "));
    bench.press("[ [");
    let shown = screen(&bench);
    assert!(shown.contains("short for Large class on 2026-12-20"), "{shown}");
    bench.press("] ] G x");
    assert!(screen(&bench).contains("Released a booking"), "{}", screen(&bench));
}

#[test]
fn the_day_of_undated_work_is_asked_for_before_its_papers_are_booked() {
    let mut bench = Bench::demo().keys("4 [ [ n 'Some class, 3' Enter B");
    let id = bench.model.stock.open_class().unwrap();
    assert!(screen(&bench).contains("Day it is needed"), "{}", screen(&bench));
    bench.press("'next week' Enter");
    assert!(screen(&bench).contains("is not a day") && bench.model.book.bookings().is_empty());
    bench.press("Ctrl-u '2027-03-06' Enter");
    assert!(bench.model.book.projects().get(id).unwrap().date.is_some());
    assert!(outlook(&bench.model.book, id, None).unwrap().is_booked());
    // Empty leaves it without a day: it is booked all the same, after all that has one.
    let bench = Bench::demo().keys("4 [ [ n 'Some class, 3' Enter B Enter");
    let id = bench.model.stock.open_class().unwrap();
    assert!(bench.model.book.projects().get(id).unwrap().date.is_none());
    assert!(outlook(&bench.model.book, id, None).unwrap().is_booked());
}

#[test]
fn closing_asks_only_about_papers_that_are_booked_and_not_cut() {
    let mut bench = Bench::demo().keys("4 [ [");
    let id = bench.model.book.find_project("Thank-you batch").unwrap();
    assert_eq!(bench.model.stock.classes.ids[0], id);
    bench.press("B W");
    assert!(screen(&bench).contains("not logged as cut"));
    let used = |b: &Bench| b.model.book.log().iter().filter(|l| l.reason == Reason::Used).count();
    let before = used(&bench);
    // Of what was set aside, what is no paper: some of it is used up by now.
    let is_thing = |item: &ItemId| !bench.model.book.items().get(*item).unwrap().kind.is_paper();
    let things = booked::items(&bench.model.book, id).keys().filter(|i| is_thing(i)).count();
    bench.press("Enter");
    assert_eq!(used(&bench), before + things, "the safe answer comes first: only counted things are used");
    assert_eq!(bench.model.book.projects().get(id).unwrap().progress, Progress::Done);
    assert!(bench.model.book.bookings().is_empty());
    bench.press("u W Down Enter");
    assert!(used(&bench) > before + things);
    bench.press("x");
    assert!(screen(&bench).contains("done already"), "what is taught stays taught: {}", screen(&bench));
}

/// A whole class at the bench: the booked plan is what is cut, cutting ends just the bookings that it fulfils, and when all
/// is cut nothing is left to ask.
#[test]
fn a_class_cut_at_the_bench_leaves_no_booking_and_no_question() {
    let mut bench = Bench::demo().keys("4 [ [ j B");
    let id = bench.model.book.find_project("Hedgerow notes, class").unwrap();
    let book = |b: &Bench| b.model.book.clone();
    let (items, offcuts) = (booked::items(&book(&bench), id), booked::offcuts(&book(&bench), id));
    let look = outlook(&book(&bench), id, None).unwrap();
    assert_eq!((look.basis, look.is_booked()), (Basis::Booked, true));
    let lines = bench.model.book.log().len();
    let held = book(&bench);
    // The plan view shows the booked plan, the bench cuts it.
    bench.press("1 V");
    assert!(screen(&bench).contains("This plan is booked"), "{}", screen(&bench));
    bench.press("b");
    let steps = bench.model.yields.run.as_ref().unwrap().len();
    bench.press(&"Enter ".repeat(steps + 1));
    bench.press("Esc");
    let now = book(&bench);
    let list = cut_list(&now, id).unwrap();
    let things: BTreeMap<ItemId, u64> = list.counted.iter().map(|c| (c.item, u64::from(c.made))).collect();
    assert_eq!(booked::items(&now, id), things, "only envelopes and the like are still booked");
    assert!(booked::offcuts(&now, id).is_empty());
    // Booked = logged = the difference on the shelf.
    let logged = |item| -> i64 {
        now.log()[lines..].iter().filter(|l| l.item == item && l.offcut.is_none()).map(|l| -l.change).sum()
    };
    for (item, n) in &items {
        let paper = n - things.get(item).copied().unwrap_or(0);
        assert_eq!(logged(*item), paper as i64);
        assert_eq!(held.on_hand(*item) - now.on_hand(*item), paper);
    }
    for (offcut, n) in &offcuts {
        let used: i64 = now.log()[lines..]
            .iter()
            .filter(|l| l.offcut == Some(*offcut) && l.reason == Reason::OffcutUsed)
            .map(|l| -l.change)
            .sum();
        assert_eq!(used, *n as i64);
    }
    let look = outlook(&now, id, None).unwrap();
    assert_eq!((look.pieces.1, look.needs.iter().map(|n| n.missing).sum::<u64>()), (0, 0));
    // Nothing is open but the envelopes: no question, and both counts are right.
    bench.press("4 W");
    let after = book(&bench);
    assert_eq!(after.projects().get(id).unwrap().progress, Progress::Done, "{}", screen(&bench));
    assert!(after.bookings().iter().all(|(_, b)| b.project != id));
    for (item, n) in &things {
        assert_eq!(now.on_hand(*item) - after.on_hand(*item), *n);
    }
    let look = outlook(&after, id, None).unwrap();
    assert!(look.needs.iter().all(|n| n.missing == 0), "a taught class is not short");
}

/// What is cut in part: the plan, the bookings and the page speak of the rest.
#[test]
fn a_plan_that_is_cut_in_part_is_planned_and_booked_for_the_rest_only() {
    let mut bench = Bench::demo().keys("4 [ [ j B");
    let id = bench.model.book.find_project("Hedgerow notes, class").unwrap();
    let all = outlook(&bench.model.book, id, None).unwrap();
    bench.press("1 V b Enter Esc W Ctrl-u '3' Enter");
    let rest = outlook(&bench.model.book, id, None).unwrap();
    assert_eq!((rest.basis, rest.is_booked()), (Basis::Booked, true), "{rest:?}");
    for (before, now) in all.needs.iter().zip(&rest.needs) {
        assert_eq!(before.needed, now.needed, "needed in all stays what it was");
    }
    let used: u64 =
        rest.needs.iter().map(|n| n.used).sum::<u64>() + rest.offcuts.iter().map(|o| o.used).sum::<u64>();
    assert_eq!(used, 3);
    assert!(rest.pieces.1 < all.pieces.1 && rest.pieces.0 == all.pieces.0);
    let held = bench.model.book.bookings().clone();
    bench.press("4 B");
    assert_eq!(bench.model.book.bookings(), &held, "a booking after cutting books only what remains");
    // The sheets were logged from the plan, out of view here, and the booking cannot go before them.
    bench.press("u");
    let named = bench.model.status.clone().unwrap().text;
    assert!(named.contains("Yield, plan of") && named.contains("u again"), "{named}");
    bench.press("u");
    assert!(outlook(&bench.model.book, id, None).unwrap().is_booked(), "one undo sets them aside again");
    let again = outlook(&bench.model.book, id, None).unwrap();
    assert_eq!(again.pieces, all.pieces);
}

#[test]
fn a_count_day_logs_the_differences_as_one_step() {
    let mut bench = Bench::demo().keys("4 / 'ink pad' Enter C");
    let lines = bench.model.book.log().len();
    bench.press("'9' Enter Enter 'x' Enter");
    assert!(screen(&bench).contains("whole number"));
    bench.press("Ctrl-u '8' Enter Esc");
    let count = bench.model.stock.count.clone().unwrap();
    assert_eq!((count.items.len(), count.done().len()), (4, 2), "an empty line was passed over");
    bench.press("Esc");
    assert_eq!(bench.model.book.log().len(), lines);
    bench.press("C");
    assert!(screen(&bench).contains("2 of 4 counted"), "{}", screen(&bench));
    bench.press("W");
    let new: Vec<_> = bench.model.book.log()[lines..].iter().map(|l| (l.change, l.job.clone())).collect();
    assert!(!new.is_empty() && new.iter().all(|(_, job)| job == "count day"), "{new:?}");
    bench.press("u");
    let voided = bench.model.book.log().iter().filter(|l| l.voids.is_some()).count();
    assert_eq!(voided, new.len(), "one undo voids them all");
}

#[test]
fn a_list_is_looked_at_before_it_is_taken_in() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("new.csv");
    let mut bench = Bench::demo().keys("4");
    let read = |b: &mut Bench, text: &str| {
        std::fs::write(&path, text).unwrap();
        b.press("I");
        b.press(&format!("'{}' Enter", path.display()));
    };
    read(&mut bench, "name,kind,low\nfern,vellum,3\nmoss,other,-1\n");
    let shown = screen(&bench);
    assert!(shown.contains("2 lines refused") && shown.contains("refused"), "{shown}");
    bench.press("W");
    assert!(bench.model.stock.preview.is_some(), "nothing is taken in");
    bench.press("Esc");
    let (items, seq) = (bench.model.book.items().len(), bench.model.book.seq());
    read(
        &mut bench,
        "name,kind,width,height,low,on_hand\nwren steps,patterned paper,12,12,6,9\nivy,other,,,,4\n",
    );
    let shown = screen(&bench);
    assert!(shown.contains("1 new, 1 changed") && shown.contains("on hand 3 to 9"), "{shown}");
    assert_eq!(bench.model.book.seq(), seq, "looking changes nothing");
    bench.press("]");
    assert!(bench.model.stock.preview.is_some(), "no key loses the list unseen");
    bench.press("Enter");
    assert_eq!((bench.model.book.items().len(), bench.model.book.seq()), (items + 1, seq + 1));
    bench.press("u");
    assert_eq!(bench.model.book.items().len(), items);
    bench.press("I 'no such file.csv' Enter");
    assert!(screen(&bench).contains("cannot be read"));
}

#[test]
fn the_yearly_list_says_who_leaves_and_what_would_take_its_place() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("year.csv");
    let mut bench = Bench::demo().keys("4");
    // A list of papers: it says nothing of ink pads, tape and envelopes.
    let keep: Vec<String> = bench
        .model
        .book
        .items()
        .iter()
        .filter(|(_, i)| i.name != "plum stone, letter" && i.kind == Kind::PlainSheet)
        .map(|(_, i)| format!("\"{}\",{}", i.name, i.kind.word()))
        .collect();
    std::fs::write(&path, format!("name,kind\n{}\nsorrel,plain sheet\n", keep.join("\n"))).unwrap();
    bench.press("Y");
    bench.press(&format!("'{}' Enter", path.display()));
    // Taken in without its days, each of them is asked for first, and nothing is changed by a day that nobody said.
    let seq = bench.model.book.seq();
    assert!(screen(&bench).contains("on a day not said yet"), "{}", screen(&bench));
    bench.press("W");
    assert!(screen(&bench).contains("Last day of what leaves:"), "{}", screen(&bench));
    bench.press("'2027-01-31' Enter W");
    assert!(screen(&bench).contains("First day of what arrives:"), "{}", screen(&bench));
    bench.press("'2027-02-01' Enter");
    assert_eq!(bench.model.book.seq(), seq);
    let shown = screen(&bench);
    assert!(shown.contains("1 leaving on 2027-01-31, 1 arriving on 2027-02-01"), "{shown}");
    assert!(shown.contains("plum stone, letter: 7 on hand"), "{shown}");
    let said: Vec<String> = trimside::app::facts::facts(&bench.model)
        .into_iter()
        .map(|f| format!("{}: {}", f.label, f.text))
        .collect();
    for what in ["chart: card stock: ", "card: ", "class: Hedgerow notes"] {
        let line = said.iter().find(|l| l.starts_with(what)).unwrap_or_else(|| panic!("{what}: {said:#?}"));
        assert!(line.contains("; after: "), "{line}");
    }
    bench.press("W");
    let id = item(&bench, "plum stone, letter");
    assert_eq!(bench.model.book.items().get(id).unwrap().state.to_string(), "leaving 2027-01-31");
    bench.press("u");
    assert_eq!(bench.model.book.items().get(id).unwrap().state, State::Current);
    assert!(bench.model.book.find_item("sorrel").is_err());
}

#[test]
fn cards_take_what_takes_a_leaving_papers_place_where_the_person_says_so() {
    let mut bench = Bench::demo().keys("4");
    let leaves = item(&bench, "chalk, letter");
    let sheet = |(_, i): &(ItemId, &Item)| i.kind == Kind::PlainSheet;
    let keep: Vec<String> = bench
        .model
        .book
        .items()
        .iter()
        .filter(|row| sheet(row) && row.0 != leaves)
        .map(|(_, i)| format!("\"{}\",{}", i.name, i.kind.word()))
        .collect();
    let text = format!("name,kind\n{}\n", keep.join("\n"));
    let rows = trimside::exchange::read::stock::stock(text.as_bytes(), Unit::Inch, "$");
    bench.act(Action::ListRead(Box::new(ListRead { path: "year.csv".into(), what: ListUse::Refresh, rows })));
    bench.press("z l '2027-01-31' Enter z f '2027-02-01' Enter");
    let uses = |bench: &Bench| -> Vec<ProjectId> {
        let open = bench.model.book.projects().iter().filter(|(_, p)| p.progress == Progress::Open);
        open.filter(|(_, p)| p.items().any(|i| i == leaves)).map(|(id, _)| id).collect()
    };
    let before = uses(&bench);
    assert!(!before.is_empty());
    let lines = |bench: &Bench| {
        let preview = bench.model.stock.preview.as_ref().unwrap();
        preview.lines.iter().filter(|l| l.sign == Sign::Exchange).map(|l| l.text.clone()).collect::<Vec<_>>()
    };
    assert!(lines(&bench).is_empty());
    bench.press("z e");
    assert_eq!(lines(&bench).len(), before.len(), "{:?}", lines(&bench));
    // Asked for again, cards keep their papers.
    bench.press("z e");
    assert!(lines(&bench).is_empty());
    bench.press("z e");
    let (shown, said) = (screen(&bench), lines(&bench));
    assert!(shown.contains(" exchanged"), "{shown}");
    bench.press("W");
    let after = uses(&bench);
    for id in &before {
        let name = bench.model.book.projects().name_of(*id);
        let line = said.iter().find(|l| l.starts_with(&name)).unwrap_or_else(|| panic!("{name}: {said:?}"));
        assert_eq!(line.contains("chalk, letter stays"), after.contains(id), "{line}");
    }
    bench.press("u");
    assert_eq!(uses(&bench), before);
}

#[test]
fn the_filter_knows_sizes_places_and_what_is_low() {
    let bench = Bench::demo().keys("4 / '>=12x12' Enter");
    let book = &bench.model.book;
    let sizes = bench.model.stock.shown.iter().filter_map(|id| book.items().get(*id).and_then(|i| i.size));
    assert!(sizes.clone().count() > 5 && sizes.clone().all(|s| s.width.units() >= 12 * 8128));
    for (words, found) in
        [("wren low", 1), ("HW-03", 1), ("purple letter", 1), ("shelf 5 envelope", 2), ("leaving", 1)]
    {
        let bench = Bench::demo().keys("4 /").keys(&format!("'{words}' Enter"));
        assert_eq!(bench.model.stock.shown.len(), found, "{words}");
    }
}

#[test]
fn leaving_the_pane_and_coming_back_keeps_the_list_in_view() {
    let bench = Bench::demo().keys("4 ] ] 1 4");
    assert_eq!((bench.model.pane, bench.model.stock.tab()), (Pane::Stock, Tab::Log));
}

#[test]
fn the_low_mark_takes_the_days_to_arrive_with_it() {
    let mut bench = at("wren steps").keys("z l Ctrl-u '9, 14' Enter");
    let id = item(&bench, "wren steps");
    let low = |b: &Bench| b.model.book.items().get(id).map(|i| (i.low, i.lead_days)).unwrap();
    assert_eq!(low(&bench), (9, 14));
    bench.press("z l Ctrl-u '5' Enter z l Ctrl-u '5, 999' Enter");
    assert_eq!(low(&bench), (5, 14), "days that nobody typed stay");
    assert!(screen(&bench).contains("0 to 365"));
}

/// A list that stands before the person, without a file.
pub fn looking_at(what: ListUse, text: &str) -> Bench {
    let mut bench = Bench::demo().keys("4");
    let rows = trimside::exchange::read::stock::stock(text.as_bytes(), Unit::Inch, "$");
    bench.act(Action::ListRead(Box::new(ListRead { path: "new-year.csv".into(), what, rows })));
    bench
}

/// Pictures of lists from outside: name, list, what for.
pub const LISTS: &[(&str, &str, ListUse)] = &[
    ("stock_import_refused", "name,kind,low\nfern,vellum,3\nmoss,other,-1\n", ListUse::Import),
    (
        "stock_import",
        "name,kind,on_hand,low\nwren steps,patterned paper,9,6\nivy,other,4,\ntape runner,adhesive,,\n",
        ListUse::Import,
    ),
    (
        "stock_yearly_list",
        "name,kind,seller\nwren steps,patterned paper,the mill by the weir\nsorrel,plain sheet,the mill by the weir\n",
        ListUse::Refresh,
    ),
];

#[test]
fn pictures_of_lists() {
    for (name, text, what) in LISTS {
        let bench = looking_at(*what, text);
        super::compare(name, &bench.text(80, 24));
        super::compare(&format!("{name}_160x50"), &bench.text(160, 50));
        assert!(trimside::app::facts::as_text(&bench.model).contains("it would do: "));
    }
}

/// A class that is called off needs no more; what was never cut is not said to be cut for that.
#[test]
fn a_class_that_is_called_off_says_what_was_cut() {
    let open = Bench::demo().keys("4 [ [ j");
    assert!(open.text(120, 36).contains("cutting 0 of 132 pieces"), "{}", open.text(120, 36));
    let off = open.keys("x");
    assert!(off.text(120, 36).contains("cutting 0 of 132 pieces"), "{}", off.text(120, 36));
    let whole = off.keys("Enter").text(160, 50);
    assert!(whole.contains("cancelled") && !whole.contains("132 of 132"), "{whole}");
}
