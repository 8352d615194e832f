//! Two windows and the command line on one folder: all write, all follow, nothing is lost or done twice.

use super::fake::Fake;
use crate::effort::cases;
use crate::laws::wishes::{DAY, Dice, edit, wish};
use std::path::Path;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{Entry, Intent};
use trimside::domain::stock::{Item, Kind, NewLine};
use trimside::persist::Store;

const DIR: &str = "/data";

/// A window as the workbench has one: its own book, its steps on the way, and a writer behind it.
struct Window {
    store: Store,
    book: trimside::domain::book::Book,
    history: trimside::domain::history::History,
    epoch: u64,
    waiting: Vec<Entry>,
}

impl Window {
    fn open(disk: &Fake) -> Self {
        let store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let (book, history, epoch) = (store.book().clone(), store.history().clone(), store.epoch());
        Self { store, book, history, epoch, waiting: Vec::new() }
    }

    fn act(&mut self, next: &Intent) -> bool {
        match self.history.perform(&mut self.book, next, DAY) {
            Ok((entry, _)) => {
                self.waiting.push(entry);
                true
            }
            Err(_) => false,
        }
    }

    fn save(&mut self) -> Vec<String> {
        let kept = self.store.save(self.epoch, &self.waiting).unwrap();
        self.waiting.clear();
        if let Some(fresh) = kept.fresh {
            (self.book, self.history, self.epoch) = (fresh.book, fresh.history, fresh.epoch);
        }
        assert!(&self.book == self.store.book());
        kept.refused
    }
}

#[test]
fn windows_that_write_in_turn_end_in_one_book() {
    for seed in 0..cases(20, 40) {
        let disk = Fake::default();
        let mut dice = Dice::new(seed);
        let mut windows = [Window::open(&disk), Window::open(&disk), Window::open(&disk)];
        for _ in 0..60 {
            let window = &mut windows[dice.roll(3)];
            for _ in 0..1 + dice.roll(3) {
                let next = wish(&window.book, &window.history, &mut dice);
                window.act(&next);
            }
            if dice.roll(3) > 0 {
                window.save();
            }
            if dice.roll(12) == 0 {
                window.store.compact(DAY).unwrap();
            }
        }
        for window in &mut windows {
            window.save();
        }
        let last = Window::open(&disk).book;
        last.check().unwrap();
        for window in &mut windows {
            window.store.refresh().unwrap();
            assert!(window.store.book() == &last, "seed {seed}");
        }
    }
}

#[test]
fn items_added_in_two_windows_both_stay_with_their_counts() {
    let disk = Fake::default();
    let (mut one, mut two) = (Window::open(&disk), Window::open(&disk));
    for (window, name, count) in [(&mut one, "fern", 5), (&mut two, "brick", 7)] {
        let id = window.book.items().next();
        window.act(&Intent::Do(Edit::Item(Row::add(id, Item::new(name, Kind::PlainSheet)))));
        window.act(&Intent::Do(Edit::Log(NewLine::received(id, count, ""))));
    }
    assert!(one.save().is_empty());
    assert!(two.save().is_empty(), "the second window's item gets another number");
    // The second window undoes its own last step, not what has that number in the book.
    two.act(&Intent::Undo(None));
    two.save();
    let book = two.store.book();
    let count = |name: &str| book.on_hand(book.find_item(name).unwrap());
    assert_eq!((count("fern"), count("brick")), (5, 0));
}

#[test]
fn a_step_that_no_longer_holds_is_told_and_leaves_no_trace() {
    let disk = Fake::default();
    let mut one = Window::open(&disk);
    let id = one.book.items().next();
    one.act(&Intent::Do(Edit::Item(Row::add(id, Item::new("fern", Kind::PlainSheet)))));
    one.act(&Intent::Do(Edit::Log(NewLine::received(id, 5, ""))));
    one.save();
    let mut two = Window::open(&disk);
    assert!(one.act(&Intent::Do(Edit::Log(NewLine::used(id, 4, "")))));
    assert!(two.act(&Intent::Do(Edit::Log(NewLine::used(id, 3, "")))));
    assert!(two.act(&Intent::Undo(None)) && two.act(&Intent::Redo(None)));
    one.save();
    let refused = two.save();
    assert!(refused.iter().any(|r| r.contains("only 1 of fern on hand, not 3")), "{refused:?}");
    assert_eq!(two.book.on_hand(id), 1);
}

#[test]
fn the_other_window_follows_and_knows_when_there_is_news() {
    let disk = Fake::default();
    let (mut one, mut two) = (Window::open(&disk), Window::open(&disk));
    let next = edit(&one.book, &mut Dice::new(4));
    assert!(one.act(&Intent::Do(next)));
    assert!(!two.store.has_news());
    one.save();
    assert!(two.store.has_news());
    assert!(two.store.refresh().unwrap());
    assert!(!two.store.has_news() && !two.store.refresh().unwrap());
    one.store.compact(DAY).unwrap();
    assert!(two.store.has_news());
    two.store.refresh().unwrap();
    assert!(two.store.book() == one.store.book());
}
