use super::*;
use crate::domain::book::Book;
use crate::domain::history::{Entry, History, Intent, Origin, WishError};
use crate::domain::project::{PaperRef, Progress, ProjectCard};
use crate::domain::stock::{Kind, NewLine};
use jiff::civil::date;

const DAY: jiff::civil::Date = date(2026, 3, 2);

fn shelf() -> (Book, ItemId) {
    let mut book = Book::default();
    let id = book.items().next();
    book.apply(&Edit::Item(Row::add(id, Item::new("fern", Kind::PlainSheet))), DAY).unwrap();
    book.apply(&Edit::Log(NewLine::received(id, 10, "")), DAY).unwrap();
    (book, id)
}

#[test]
fn using_more_than_there_is_changes_nothing() {
    let (mut book, id) = shelf();
    let before = book.clone();
    let refused = book.apply(&Edit::Log(NewLine::used(id, 11, "cards")), DAY).unwrap_err();
    assert!(refused.to_string().contains("only 10 of fern on hand, not 11"), "{refused}");
    assert_eq!(book, before);
}

#[test]
fn a_batch_is_all_or_nothing() {
    let (mut book, id) = shelf();
    let before = book.clone();
    let new = book.items().next();
    let edits = vec![
        Edit::Item(Row::add(new, Item::new("slate rain", Kind::PlainSheet))),
        Edit::Log(NewLine::received(new, 4, "")),
        Edit::Void { line: 2 },
        Edit::Log(NewLine::used(id, 11, "")),
    ];
    assert!(book.apply(&Edit::batch("all of it", edits), DAY).is_err());
    assert_eq!(book, before);
    book.check().unwrap();
}

#[test]
fn a_change_takes_over_only_its_own_fields() {
    let (mut book, id) = shelf();
    let seen = book.items().get(id).unwrap().clone();
    let low = Item { low: 6, ..seen.clone() };
    let place = Item { place: "drawer 2".into(), ..seen.clone() };
    book.apply(&Edit::Item(Row::alter(id, seen.clone(), low)), DAY).unwrap();
    let second = book.apply(&Edit::Item(Row::alter(id, seen.clone(), place)), DAY).unwrap();
    assert_eq!(
        (book.items().get(id).unwrap().low, book.items().get(id).unwrap().place.as_str()),
        (6, "drawer 2")
    );
    book.apply(&second.inverse, DAY).unwrap();
    assert_eq!((book.items().get(id).unwrap().low, book.items().get(id).unwrap().place.as_str()), (6, ""));
    let late = Item { low: 9, ..seen.clone() };
    let refused = book.apply(&Edit::Item(Row::alter(id, seen, late)), DAY).unwrap_err();
    assert!(refused.to_string().contains("low mark of \"fern\" was changed meanwhile"), "{refused}");
}

#[test]
fn undo_appends_a_voiding_line_and_redo_the_line_again() {
    let (mut book, id) = shelf();
    let mut history = History::default();
    history.perform(&mut book, &Intent::Do(Edit::Log(NewLine::used(id, 4, "cards"))), DAY).unwrap();
    assert_eq!(book.on_hand(id), 6);
    history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
    assert_eq!(book.on_hand(id), 10);
    assert_eq!(book.log().last().unwrap().voids, Some(2));
    history.perform(&mut book, &Intent::Redo(None), DAY).unwrap();
    assert_eq!((book.on_hand(id), book.log().len()), (6, 4));
    assert_eq!((book.log()[3].voids, book.is_voided(2)), (Some(3), false), "the line stands again");
    history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
    assert_eq!((book.on_hand(id), book.is_voided(2)), (10, true));
    history.perform(&mut book, &Intent::Redo(None), DAY).unwrap();
    assert!(history.perform(&mut book, &Intent::Redo(None), DAY).is_err());
    book.check().unwrap();
}

#[test]
fn undo_is_refused_while_a_later_step_rests_on_it() {
    let (mut book, id) = shelf();
    let mut history = History::default();
    let (received, _) =
        history.perform(&mut book, &Intent::Do(Edit::Log(NewLine::received(id, 5, ""))), DAY).unwrap();
    history.perform(&mut book, &Intent::Do(Edit::Log(NewLine::used(id, 12, "class"))), DAY).unwrap();
    let refused = history.perform(&mut book, &Intent::Undo(Some(received.seq)), DAY).unwrap_err();
    assert!(matches!(refused, WishError::RestedOn { .. }), "{refused}");
    history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
    history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
    assert_eq!(book.on_hand(id), 10);
}

#[test]
fn an_added_item_can_be_taken_back_with_its_first_count_and_brought_again() {
    let mut book = Book::default();
    let mut history = History::default();
    let id = book.items().next();
    let edits = vec![
        Edit::Item(Row::add(id, Item::new("fern", Kind::PlainSheet))),
        Edit::Log(NewLine::received(id, 24, "")),
    ];
    history.perform(&mut book, &Intent::Do(Edit::batch("added fern", edits)), DAY).unwrap();
    history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
    assert!(book.items().is_empty());
    assert_eq!(book.items().name_of(id), "fern", "the log still has a name for it");
    assert_ne!(book.items().next(), id, "its number is not given away");
    history.perform(&mut book, &Intent::Redo(None), DAY).unwrap();
    assert_eq!(book.on_hand(id), 24);
    book.check().unwrap();
}

#[test]
fn what_is_referred_to_stays() {
    let (mut book, id) = shelf();
    let refused = book.apply(&Edit::Item(Row::Remove(id)), DAY).unwrap_err();
    assert!(refused.to_string().contains("mark it gone"), "{refused}");
    let twin = Edit::Item(Row::add(book.items().next(), Item::new("  FERN ", Kind::PlainSheet)));
    assert!(book.apply(&twin, DAY).unwrap_err().to_string().contains("already"));
}

#[test]
fn the_loose_card_holds_what_it_names_and_two_windows_never_overwrite_it() {
    let (mut book, _) = shelf();
    let id = book.items().next();
    book.apply(&Edit::Item(Row::add(id, Item::new("moss", Kind::PlainSheet))), DAY).unwrap();
    let card = |name: &str| {
        let face = crate::domain::size::Size::new(
            crate::domain::length::Length::inches(5),
            crate::domain::length::Length::inches(7),
        );
        Box::new(ProjectCard { base_paper: Some(PaperRef::Shelf(id)), ..ProjectCard::new(name, face) })
    };
    let first = Edit::LooseCard { was: None, now: Some(card("garden")) };
    let made = book.apply(&first, DAY).unwrap();
    let refused = book.apply(&Edit::Item(Row::Remove(id)), DAY).unwrap_err();
    assert!(refused.to_string().contains("the card that is in no project uses it"), "{refused}");
    let second = Edit::LooseCard { was: None, now: Some(card("orchard")) };
    let refused = book.apply(&second, DAY).unwrap_err();
    assert!(refused.to_string().contains("the design of \"garden\" was changed meanwhile"), "{refused}");
    assert_eq!(book.loose_card().map(|c| c.name.as_str()), Some("garden"));
    book.apply(&made.inverse, DAY).unwrap();
    assert_eq!(book.loose_card(), None);
    let strange = Box::new(ProjectCard { base_paper: Some(PaperRef::Shelf(ItemId(99))), ..*card("odd") });
    assert!(book.apply(&Edit::LooseCard { was: None, now: Some(strange) }, DAY).is_err());
}

#[test]
fn two_windows_may_choose_the_same_number() {
    let (mut book, _) = shelf();
    let id = book.items().next();
    let add = |name: &str| {
        Edit::batch(
            format!("added {name}"),
            vec![
                Edit::Item(Row::add(id, Item::new(name, Kind::PlainSheet))),
                Edit::Log(NewLine::received(id, 3, "")),
            ],
        )
    };
    book.apply(&add("moss"), DAY).unwrap();
    assert!(matches!(book.apply(&add("brick"), DAY), Err(EditError::Taken { .. })));
    let free = add("brick").with_free_numbers(&book);
    book.apply(&free, DAY).unwrap();
    let brick = book.find_item("brick").unwrap();
    assert_eq!((book.on_hand(brick), book.on_hand(id)), (3, 3));
}

#[test]
fn a_name_is_found_by_number_size_or_near_words() {
    let mut book = Book::default();
    for (side, number) in [(11, "F-11"), (12, "F-12")] {
        let size = crate::domain::size::Size::new(
            crate::domain::length::Length::inches(8),
            crate::domain::length::Length::inches(side),
        );
        let item =
            Item { size: Some(size), order_number: number.into(), ..Item::new("fern", Kind::PlainSheet) };
        book.apply(&Edit::Item(Row::add(book.items().next(), item)), DAY).unwrap();
    }
    assert!(book.find_item("fern").unwrap_err().to_string().contains("F-12"));
    assert_eq!(book.find_item("f-12").unwrap(), ItemId(2));
    assert_eq!(book.find_item("Fern 8x11").unwrap(), ItemId(1));
    assert!(book.find_item("fren").unwrap_err().to_string().contains("did you mean fern"));
    assert!(book.find_item(" ").is_err());
}

#[test]
fn a_line_of_a_removed_item_does_not_count_again() {
    let (mut book, id) = shelf();
    let voided = book.apply(&Edit::Void { line: 1 }, DAY).unwrap();
    let removed = book.apply(&Edit::Item(Row::Remove(id)), DAY).unwrap();
    let refused = book.apply(&voided.inverse, DAY).unwrap_err();
    assert!(matches!(refused, EditError::Missing { what: "item", .. }), "{refused}");
    book.apply(&removed.inverse, DAY).unwrap();
    book.apply(&voided.inverse, DAY).unwrap();
    assert_eq!(book.on_hand(id), 10);
    book.check().unwrap();
}

/// A project with sheets set aside for it.
fn class() -> (Book, ItemId, ProjectId) {
    let (mut book, item) = shelf();
    let id = book.projects().next();
    book.apply(&Edit::Project(Row::add(id, Project::new("winter class"))), DAY).unwrap();
    let booking = Booking { project: id, item, offcut: None, count: 4, pieces: 4, on: None };
    book.apply(&Edit::Booking(Row::add(book.bookings().next(), booking)), DAY).unwrap();
    (book, item, id)
}

fn closed(book: &Book, id: ProjectId) -> Edit {
    let was = book.projects().get(id).unwrap().clone();
    let now = Project { progress: Progress::Done, ..was.clone() };
    Edit::Project(Row::alter(id, was, now))
}

#[test]
fn a_project_closes_only_when_nothing_is_booked_for_it() {
    let (mut book, _, id) = class();
    let before = book.clone();
    let closing = closed(&book, id);
    let why = book.apply(&closing, DAY).unwrap_err().to_string();
    assert!(why.contains("sheets are booked for \"winter class\"") && why.contains("release"), "{why}");
    assert_eq!(book, before);
    // Among the parts of a batch too, whatever order they come in.
    let release = Edit::Booking(Row::Remove(BookingId(1)));
    assert!(book.apply(&Edit::batch("", vec![closing.clone(), release.clone()]), DAY).is_err());
    assert_eq!(book, before);
    let applied = book.apply(&Edit::batch("", vec![release, closing]), DAY).unwrap();
    book.apply(&applied.inverse, DAY).unwrap();
    assert_eq!(book.tables(), before.tables());
}

/// Two windows could close a project under a booking before that was refused: such lines are read as they are.
#[test]
fn a_line_that_closed_a_project_under_its_bookings_is_read_again() {
    let (mut book, item, id) = class();
    let mut history = History::default();
    let entry = Entry { seq: book.seq() + 1, date: DAY, origin: Origin::New, edit: closed(&book, id) };
    history.replay(&mut book, &entry).unwrap();
    assert_eq!((book.booked(item), book.projects().get(id).unwrap().progress), (4, Progress::Done));
    // It is changed, released and undone like any other.
    history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
    assert_eq!(book.projects().get(id).unwrap().progress, Progress::Open);
}

#[test]
fn a_step_rests_on_the_one_that_added_what_it_changes() {
    let (mut book, item, id) = class();
    let booked = Booking { project: id, item, offcut: None, count: 2, pieces: 2, on: None };
    let add = book.apply(&Edit::Booking(Row::add(BookingId(2), booked.clone())), DAY).unwrap();
    let fewer = Booking { count: 1, ..booked.clone() };
    let change = Edit::Booking(Row::alter(BookingId(2), booked, fewer));
    let change = book.apply(&Edit::batch("cut one", vec![change]), DAY).unwrap();
    let line = book.apply(&Edit::Log(NewLine::used(item, 1, "")), DAY).unwrap();
    assert!(add.inverse.would_drop_the_work_of(&change.inverse));
    assert!(!change.inverse.would_drop_the_work_of(&add.inverse));
    assert!(!add.inverse.would_drop_the_work_of(&line.inverse));
}
