//! Another book in the place of the one that is open: another disk mounted there, another folder moved there. It is not
//! taken for the same book with news in it, nothing of either gets into the other, and what a window has waits.

use super::fake::Fake;
use super::mutants::Mutant;
use crate::effort::cases;
use crate::laws::wishes::{DAY, Dice, wish};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::channel;
use std::time::Duration;
use trimside::app::action::Action;
use trimside::domain::book::Book;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{Entry, History, Intent};
use trimside::domain::stock::{Item, ItemId, Kind, NewLine};
use trimside::persist::{Store, StoreError};
use trimside::runtime::keeper::Keeper;

const DIR: &str = "/data";

type Files = BTreeMap<PathBuf, Vec<u8>>;

/// A book of one paper with so many received in `steps` steps more, its snapshot written at the end or not.
fn book(name: &str, steps: u32, is_compact: bool, mutant: Option<Mutant>) -> (Fake, Store) {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let add = Edit::Item(Row::add(ItemId(1), Item::new(name, Kind::PlainSheet)));
    store.append(&[Intent::Do(add)], DAY).unwrap();
    for n in 1..=steps {
        store.append(&[Intent::Do(Edit::Log(NewLine::received(ItemId(1), n, name)))], DAY).unwrap();
    }
    if is_compact {
        store.compact(DAY).unwrap();
    }
    disk.mutate(mutant);
    let window = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    (disk, window)
}

/// The files of a book, without the copies of the day.
fn files(disk: &Fake) -> Files {
    let all = disk.files().into_iter();
    all.filter(|(p, _)| p.parent() == Some(Path::new(DIR)) && !p.ends_with("lock")).collect()
}

/// Other files come into the place of those that are there.
fn exchange(disk: &Fake, for_these: &Files) {
    let real = disk.shared();
    for path in files(disk).keys() {
        real.remove(path).unwrap();
    }
    for (path, bytes) in for_these {
        disk.put(path, bytes);
    }
}

/// A step that a window has made on the store's book.
fn step(store: &Store, n: u32) -> Entry {
    let (mut book, mut history) = (store.book().clone(), store.history().clone());
    history.perform(&mut book, &Intent::Do(Edit::Log(NewLine::used(ItemId(1), n, "waits"))), DAY).unwrap().0
}

#[test]
fn another_book_in_the_same_place_is_told_and_nothing_is_mixed() {
    exchanged(None);
}

pub fn exchanged(mutant: Option<Mutant>) {
    for (mine_compact, its_steps, its_compact) in [
        (false, 3, false),
        (false, 9, false),
        (false, 3, true),
        (true, 3, true),
        (true, 9, true),
        (true, 3, false),
        (true, 9, false),
    ] {
        let what = format!("mine compact {mine_compact}, the other {its_steps} steps, compact {its_compact}");
        let (disk, mut window) = book("fern", 3, mine_compact, mutant);
        let (other, _) = book("moss", its_steps, its_compact, mutant);
        let (ours, theirs) = (files(&disk), files(&other));
        let before = window.book().clone();
        exchange(&disk, &theirs);

        assert!(window.has_news(), "{what}");
        let error = window.refresh().unwrap_err();
        assert!(matches!(error, StoreError::OtherBook { .. }), "{what}: {error}");
        let said = error.to_string();
        assert!(said.contains("another book") && said.contains(DIR) && !said.contains('\n'), "{said}");
        let waits = step(&window, 2);
        let epoch = window.epoch();
        for _ in 0..3 {
            let error = window.save(epoch, std::slice::from_ref(&waits)).unwrap_err();
            assert!(matches!(error, StoreError::OtherBook { .. }), "{what}: {error}");
        }
        assert!(window.compact(DAY).is_err() && window.append(&[Intent::Undo(None)], DAY).is_err());
        assert!(window.book() == &before, "{what}: the window shows its own book");
        assert_eq!(files(&disk), theirs, "{what}: the other book is as it was");

        exchange(&disk, &ours);
        window.save(epoch, std::slice::from_ref(&waits)).unwrap();
        assert_eq!(window.book().on_hand(ItemId(1)), 4, "{what}: saved once the first one is back");
        let again = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        assert!(again.book() == window.book() && again.book().items().name_of(ItemId(1)) == "fern");
    }
}

#[test]
fn a_book_stays_the_same_through_everything_that_is_done_to_it() {
    // Two windows, changes and new snapshots in turn: the one is never taken for another book.
    let seeds = cases(4, 400);
    for seed in 0..seeds {
        let disk = Fake::default();
        let mut dice = Dice::new(seed);
        let open = || Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let mut windows = [open(), open()];
        for _ in 0..40 {
            let n = dice.roll(2);
            let next = wish(windows[n].book(), windows[n].history(), &mut dice);
            let _ = windows[n].append(&[next], DAY).unwrap();
            if dice.roll(6) == 0 {
                windows[n].compact(DAY).unwrap();
            }
            windows[1 - n].refresh().unwrap();
        }
        assert!(windows[0].book() == windows[1].book());
    }
}

#[test]
fn a_copy_brought_back_is_the_same_book() {
    let (disk, mut window) = book("fern", 3, true, None);
    let next: jiff::civil::Date = jiff::civil::date(2026, 3, 9);
    window.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "")))], next).unwrap();
    let name = next.to_string();
    trimside::persist::kept::restore(&*disk.shared(), Path::new(DIR), &name, next).unwrap();
    assert!(window.refresh().unwrap());
    assert_eq!(window.book().on_hand(ItemId(1)), 6);
}

#[test]
fn a_journal_of_another_book_beside_the_snapshot_is_set_aside() {
    foreign_journal(None);
}

pub fn foreign_journal(mutant: Option<Mutant>) {
    let (disk, _) = book("fern", 3, true, mutant);
    let (other, mut moss) = book("moss", 3, true, mutant);
    moss.append(&[Intent::Do(Edit::Log(NewLine::received(ItemId(1), 50, "moss")))], DAY).unwrap();
    for (path, bytes) in files(&other).iter().filter(|(p, _)| p.to_string_lossy().contains("journal")) {
        disk.put(path, bytes);
    }
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    assert_eq!(store.book().on_hand(ItemId(1)), 6);
    assert!(store.take_notes().iter().any(|n| n.contains("belongs to another book")));
    store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "")))], DAY).unwrap();
    assert!(disk.has_set_aside("journal-"));
}

#[test]
fn the_bench_says_so_keeps_its_changes_and_saves_them_when_its_book_is_back() {
    let place = tempfile::tempdir().unwrap();
    let at = |name: &str| place.path().join(name);
    let found = |name: &str| {
        let mut store = Store::open(&at(name)).unwrap();
        let mut book = Book::default();
        book.apply(&Edit::Item(Row::add(ItemId(1), Item::new(name, Kind::PlainSheet))), DAY).unwrap();
        book.apply(&Edit::Log(NewLine::received(ItemId(1), 9, "")), DAY).unwrap();
        store.found(book, History::default(), DAY).unwrap();
        store
    };
    drop(found("other"));
    let store = found("data");
    let (entry, epoch) = (step(&store, 4), store.epoch());
    let (news, heard) = channel();
    let keeper = Keeper::start(store, move |action| drop(news.send(action)));
    let keeper = keeper.unwrap();
    let wait = || heard.recv_timeout(Duration::from_secs(20)).unwrap();
    std::fs::rename(at("data"), at("away")).unwrap();
    std::fs::rename(at("other"), at("data")).unwrap();
    let there = std::fs::read(at("data").join("book.ron")).unwrap();
    // Nothing is to be saved yet, and it is told all the same; and that the own book is back.
    if cfg!(target_os = "linux") {
        let Action::SaveFailed(why) = wait() else { panic!("it was not noticed") };
        assert!(why.contains("another book"), "{why}");
        std::fs::rename(at("data"), at("other")).unwrap();
        std::fs::rename(at("away"), at("data")).unwrap();
        assert!(matches!(wait(), Action::Saved(0)));
        std::fs::rename(at("data"), at("away")).unwrap();
        std::fs::rename(at("other"), at("data")).unwrap();
    }
    assert!(keeper.keep(epoch, entry));
    for _ in 0..2 {
        // Told, tried again, told again.
        let Action::SaveFailed(why) = wait() else { panic!("it was not refused") };
        assert!(why.contains("another book"), "{why}");
    }
    assert_eq!(std::fs::read(at("data").join("book.ron")).unwrap(), there);
    std::fs::rename(at("data"), at("other")).unwrap();
    std::fs::rename(at("away"), at("data")).unwrap();
    let mut saved = false;
    while !saved {
        saved = matches!(wait(), Action::Saved(1));
    }
    assert_eq!(keeper.finish(&mut |_| (), &mut |_| false), None);
    assert_eq!(Store::open(&at("data")).unwrap().book().on_hand(ItemId(1)), 5);
    assert_eq!(Store::open(&at("other")).unwrap().book().on_hand(ItemId(1)), 9);
}
