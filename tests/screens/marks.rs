//! Rows of Stock that are marked, and what is done to all of them: one step, by key, by click and by the finder; kept by what
//! they are, not by where they stand.

use super::harness::Bench;
use ratatui::layout::Position;
use trimside::app::action::{Action, Spot};
use trimside::app::facts;
use trimside::app::overlay::Overlay;
use trimside::app::printing::{PageKind, PagePreview};
use trimside::app::state::views::Tab;
use trimside::domain::book::Book;
use trimside::domain::cutting::plan_words;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{History, Intent};
use trimside::domain::length::Unit;
use trimside::domain::plural::count_of;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine, OrderId};

/// A shelf of four lines: fern 10, moss 3, oat 20, plum 0.
fn shelf() -> Bench {
    let (mut book, mut history) = (Book::default(), History::default());
    for (n, (name, held)) in [("fern", 10), ("moss", 3), ("oat", 20), ("plum", 0)].into_iter().enumerate() {
        let id = ItemId(n as u32 + 1);
        let item =
            Item { low: 5, seller: "the barn".to_owned(), pack: 5, ..Item::new(name, Kind::PlainSheet) };
        let mut edits = vec![Edit::Item(Row::add(id, item))];
        if held > 0 {
            edits.push(Edit::Log(NewLine::received(id, held, "")));
        }
        let edit = Edit::batch(format!("put {name} on the shelf"), edits);
        history.perform(&mut book, &Intent::Do(edit), super::harness::TODAY).unwrap();
    }
    Bench::on(book, history)
}

fn on_hand(bench: &Bench) -> Vec<u64> {
    (1..=4).map(|n| bench.model.book.on_hand(ItemId(n))).collect()
}

fn status(bench: &Bench) -> String {
    bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default()
}

#[test]
fn marks_are_seen_without_colour_counted_and_told_in_plain_mode() {
    let bench = shelf().keys("4 Space j Space");
    let text = bench.text(80, 24);
    assert!(text.contains("* fern") && text.contains("* oat") && !text.contains("* moss"), "{text}");
    assert!(text.contains("* 2 marked"), "{text}");
    let said = facts::as_text(&bench.model);
    assert!(said.contains("marked: 2 marked: fern and oat"), "{said}");
    assert!(said.contains("fern (marked)") && said.contains("oat (marked)"), "{said}");
    // Without marks no room is taken for them.
    assert!(shelf().keys("4").text(80, 24).contains("▌fern"));
}

#[test]
fn marks_go_with_their_rows_whatever_the_order_and_the_filter() {
    let mut bench = shelf().keys("4 Space o o");
    assert!(bench.text(80, 24).contains("* fern"), "sorted by what is on hand");
    bench.press("/ 'oat' Enter");
    let text = bench.text(80, 24);
    assert!(text.contains("1 marked, 1 of them out of sight"), "{text}");
    bench.press("Esc");
    assert!(!bench.model.stock.has_marks(), "Esc takes the marks off first");
    assert_eq!(bench.model.stock.filter, "oat", "and then, pressed again, the filter");
    bench.press("Esc");
    assert_eq!(bench.model.stock.filter, "");
}

#[test]
fn marking_is_a_choice_that_undo_takes_back() {
    let mut bench = shelf().keys("4 Space Space");
    bench.press("u");
    assert!(status(&bench).contains("Taken back: marked: fern and moss"), "{}", status(&bench));
    assert!(bench.text(80, 24).contains("* 1 marked"));
    bench.press("U");
    assert!(bench.text(80, 24).contains("* 2 marked"));
    bench.press("z m");
    assert!(bench.text(80, 24).contains("* 4 marked"));
    bench.press("z m");
    assert!(!bench.model.stock.has_marks());
}

#[test]
fn a_use_of_each_is_one_step_and_undo_brings_the_marks_back_too() {
    let mut bench = shelf().keys("4 Space j Space - '4'");
    let text = bench.text(80, 24);
    assert!(text.contains("2 lines marked. Used of each: 4"), "{text}");
    assert!(text.contains("6 of fern and 16 of oat left"), "{text}");
    bench.press("Enter");
    assert_eq!(on_hand(&bench), [6, 3, 16, 0]);
    assert!(!bench.model.stock.has_marks(), "done: the marks go");
    bench.press("u");
    assert_eq!(on_hand(&bench), [10, 3, 20, 0], "one undo takes all of it back");
    assert_eq!(bench.model.stock.marked(&bench.model.book).len(), 2, "and the marks are there again");
}

#[test]
fn what_cannot_be_done_to_one_row_is_said_by_name_and_nothing_is_half_done() {
    let mut bench = shelf().keys("4 z m - '4' Enter");
    let text = bench.text(80, 24);
    assert!(text.contains("only 3 of moss and 0 of plum there, not 4"), "{text}");
    assert_eq!(on_hand(&bench), [10, 3, 20, 0]);
    assert!(bench.model.stock.has_marks(), "the marks stay: they can be mended");
    bench.press("Esc");
    // In the reorder list: what is on order cannot be ordered again.
    let mut bench = shelf().keys("4 ] ] ]");
    assert_eq!(bench.model.stock.orders.rows.len(), 2, "moss and plum are low");
    bench.press("Enter z m W");
    let said = status(&bench);
    assert!(said.contains("is on order already"), "{said}");
    assert_eq!(bench.model.book.orders().len(), 1);
}

#[test]
fn several_lines_come_in_together_and_share_one_price() {
    let mut bench = shelf().keys("4 Space j Space + Ctrl-u '5' Enter Ctrl-u '10' Enter Enter 'B7' Enter");
    assert_eq!(on_hand(&bench), [15, 3, 25, 0]);
    let lines: Vec<_> = bench.model.book.log().iter().rev().take(2).collect();
    assert!(lines.iter().all(|l| l.lot == "B7"), "{lines:?}");
    // No price is known of either, so it is shared by count: five and five.
    let paid: i64 = lines.iter().map(|l| l.price.unwrap().minor()).sum();
    assert_eq!((paid, lines[0].price), (1000, lines[1].price));
    bench.press("u");
    assert_eq!(on_hand(&bench), [10, 3, 20, 0]);
    // The same in one line; a pack of each.
    bench.press("+ 'a pack, 9, lot C' Enter");
    assert_eq!(on_hand(&bench), [15, 3, 25, 0], "{}", bench.text(80, 24));
}

#[test]
fn several_lines_are_ordered_and_arrive_together() {
    let mut bench = shelf().keys("4 ] ] ] z m W");
    assert_eq!(bench.model.book.orders().len(), 2, "{}", status(&bench));
    let numbers: Vec<OrderId> = bench.model.book.orders().iter().map(|(id, _)| id).collect();
    assert_ne!(numbers[0], numbers[1]);
    bench.press("u");
    assert_eq!(bench.model.book.orders().len(), 0, "one step");
    bench.press("U z m Enter");
    assert!(matches!(bench.model.overlays.last(), Some(Overlay::Form(_))), "on order: they have come");
    bench.press("'7.50' Ctrl-s");
    assert_eq!(bench.model.book.orders().len(), 0);
    let held = on_hand(&bench);
    assert!(held[1] > 3 && held[3] > 0, "{held:?}");
    let paid: i64 =
        bench.model.book.log().iter().rev().take(2).filter_map(|l| l.price).map(|p| p.minor()).sum();
    assert_eq!(paid, 750);
    bench.press("u");
    assert_eq!((on_hand(&bench), bench.model.book.orders().len()), (vec![10, 3, 20, 0], 2));
    // Taken off the orders together.
    bench.press("d");
    assert_eq!(bench.model.book.orders().len(), 0);
    // Ordered from the shelf: the row in hand, or each that is marked.
    bench.press("[ [ [ W Ctrl-u '12' Enter");
    assert_eq!(bench.model.book.on_order(ItemId(1)), 12);
    bench.press("Space Space W Ctrl-u '5' Enter");
    assert_eq!((bench.model.book.on_order(ItemId(1)), bench.model.book.on_order(ItemId(2))), (17, 5));
}

#[test]
fn fields_counts_and_packs_of_all_that_are_marked() {
    let mut bench = shelf().keys("4 z m z l '8' Enter");
    assert!((1..=4).all(|n| bench.model.book.items().get(ItemId(n)).unwrap().low == 8));
    bench.press("u z m z m z s 'leaving 2027-08-31' Enter");
    let state = |n: u32| bench.model.book.items().get(ItemId(n)).unwrap().state.to_string();
    assert!((1..=4).all(|n| state(n) == state(1)) && state(1).contains("leaving"), "{}", state(1));
    let mut bench = shelf().keys("4 Space j Space z a");
    let alone = |bench: &Bench, n: u32| bench.model.book.items().get(ItemId(n)).unwrap().sold_alone;
    assert!(!alone(&bench, 1) && alone(&bench, 2) && !alone(&bench, 3));
    bench.press("u c '9' Enter");
    assert_eq!(on_hand(&bench), [9, 3, 9, 0], "the count of each");
    bench.press("u C");
    assert_eq!(bench.model.stock.count.as_ref().unwrap().items.len(), 2, "a walk along what is marked");
    bench.press("Esc Esc z n 'two greens, TG-1, 3, 4.20' Enter");
    let pack = bench.model.book.assortments().iter().next().unwrap().1.clone();
    assert_eq!(pack.contents, [(ItemId(1), 3), (ItemId(3), 3)]);
}

#[test]
fn a_click_before_a_row_marks_it_and_the_finder_acts_on_all_marked() {
    let mut bench = shelf().keys("4");
    let hits = bench.hits(80, 24);
    let (area, spot) =
        hits.all().iter().find(|(_, s)| *s == Spot::Mark(2)).expect("the third row takes a mark");
    assert_eq!(hits.at(Position::new(area.x, area.y)), Some(*spot));
    bench.act(Action::Click(*spot));
    bench.act(Action::Click(Spot::Mark(0)));
    assert_eq!(bench.model.stock.cursor.row(4), Some(0), "the row in hand stays");
    assert!(bench.text(80, 24).contains("* 2 marked"));
    bench.press(": 'log how many were used' Enter '2' Enter");
    assert_eq!(on_hand(&bench), [8, 3, 18, 0], "{}", bench.text(80, 24));
}

#[test]
fn labels_are_printed_for_what_is_marked() {
    let bench = shelf().keys("4 Space j Space Ctrl-p");
    let Some(Overlay::Print(desk)) = bench.model.overlays.last() else { panic!("the print overlay") };
    assert_eq!(desk.kind(), PageKind::ShelfLabels);
    let PagePreview::Pages(pages) = &desk.preview else { panic!("{:?}", desk.preview) };
    let words = pages.lines.join("\n");
    assert!(words.contains("fern") && words.contains("oat") && !words.contains("moss"), "{words}");
    assert!(bench.text(80, 24).contains("2 lines marked"));
    // Offcuts alike; with nothing marked the list is reordered as ever.
    let bench = Bench::demo().keys("4 ] Space Ctrl-p");
    let Some(Overlay::Print(desk)) = bench.model.overlays.last() else { panic!("the print overlay") };
    assert_eq!(desk.kind(), PageKind::ShelfLabels);
    let Some(Overlay::Print(desk)) = &shelf().keys("4 Ctrl-p").model.overlays.pop() else { panic!() };
    assert_eq!(desk.kind(), PageKind::Reorder);
}

/// Over a plan the labels are for what it leaves to keep: one a stack, with paper, size, grain and how many.
#[test]
fn labels_are_printed_for_the_leftovers_of_a_plan() {
    let bench = Bench::demo().keys("1 P 'Hedgerow' Enter V Ctrl-p");
    let Some(Overlay::Print(desk)) = bench.model.overlays.last() else { panic!("the print overlay") };
    let to = PageKind::ALL.iter().position(|k| *k == PageKind::ShelfLabels).unwrap();
    let from = PageKind::ALL.iter().position(|k| *k == desk.kind()).unwrap();
    let bench = bench.keys(&"j ".repeat(to - from));
    let Some(Overlay::Print(desk)) = bench.model.overlays.last() else { panic!("the print overlay") };
    assert_eq!(desk.kind(), PageKind::ShelfLabels);
    let PagePreview::Pages(pages) = &desk.preview else { panic!("{:?}", desk.preview) };
    let words = pages.lines.join("\n");
    let (_, of) = bench.model.yields.plan.job.as_ref().unwrap();
    let kept = plan_words::kept(&of.job, bench.model.yields.plan.to_cut().unwrap());
    assert!(!kept.is_empty());
    for stack in &kept {
        let line = format!("{}, {}", count_of(stack.count.into(), "offcut"), stack.size.as_made(Unit::Inch));
        assert!(words.contains(&stack.paper) && words.contains(&line), "{line}: {words}");
    }
}

#[test]
fn what_is_marked_is_written_alone() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("some.csv");
    let mut bench = shelf().keys("4 Space j Space E");
    assert!(bench.text(80, 24).contains("Write 2 lines marked to the file"));
    bench.press(&format!("Ctrl-u '{}' Enter", file.display()));
    let text = std::fs::read_to_string(file).unwrap();
    let names: Vec<&str> = text.lines().skip(1).filter_map(|l| l.split(',').next()).collect();
    assert_eq!(names, ["fern", "oat"]);
}

#[test]
fn offcuts_lines_bookings_and_classes_that_are_marked() {
    let mut bench = Bench::demo().keys("4 ] z m");
    let kinds = bench.model.stock.marked(&bench.model.book).len();
    assert!(kinds > 1);
    bench.press("e 'short, bin 9' Enter");
    let kept = |bench: &Bench| bench.model.book.offcuts().iter().filter(|(_, o)| o.place == "bin 9").count();
    assert_eq!(kept(&bench), kinds);
    bench.press("u");
    assert_eq!(kept(&bench), 0);
    // Lines of the log, the later one first.
    let mut bench = shelf().keys("4 - '3' Enter - '2' Enter ] ] Space Space d");
    assert_eq!(on_hand(&bench)[0], 10, "{}", status(&bench));
    bench.press("u");
    assert_eq!(on_hand(&bench)[0], 5);
    // Bookings are given free together.
    let mut bench = Bench::demo().keys("4 ] ] ] ] j B ]");
    let booked = bench.model.book.bookings().len();
    assert!(booked > 1);
    bench.press("z m d");
    assert_eq!(bench.model.book.bookings().len(), 0);
    bench.press("u");
    assert_eq!(bench.model.book.bookings().len(), booked);
}

#[test]
fn several_classes_are_booked_as_one_step_and_one_without_a_day_is_named() {
    let mut bench = Bench::demo().keys("4 ] ] ] ]");
    let open: Vec<_> = {
        let book = &bench.model.book;
        book.projects().iter().filter(|(_, p)| p.date.is_some()).map(|(id, p)| (id, p.name.clone())).collect()
    };
    assert!(open.len() > 1, "{open:?}");
    let rows = bench.model.stock.classes.ids.clone();
    for (id, _) in &open {
        let row = rows.iter().position(|r| r == id).unwrap();
        bench.act(Action::Click(Spot::Mark(row)));
    }
    bench.press("B");
    let said = status(&bench);
    let has = |bench: &Bench, id| bench.model.book.bookings().iter().any(|(_, b)| b.project == id);
    let booked = open.iter().filter(|(id, _)| has(&bench, *id)).count();
    assert!(booked > 0, "{said}");
    for (id, name) in &open {
        assert!(has(&bench, *id) || said.contains(name.as_str()), "{name}: {said}");
    }
    bench.press("u");
    assert!(open.iter().all(|(id, _)| !has(&bench, *id)), "one step: {}", status(&bench));
    // One without a day.
    let mut bench = Bench::demo().keys("4 ] ] ] ] n 'Rain day, 4' Ctrl-s Esc z m B");
    let said = status(&bench);
    assert!(said.contains("Rain day") && said.contains("no day yet"), "{said}");
    assert!(bench.model.book.bookings().is_empty());
    bench.press("Esc");
    assert!(bench.model.stock.marks.is_empty_in(Tab::Classes));
}
