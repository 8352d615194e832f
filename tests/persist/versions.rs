//! Files of every version that was ever written still open, with everything that is in them.
//!
//! `fixtures/v1` was written by the first version, `fixtures/v2` by the second: a snapshot and a journal after it.

use super::fake::Fake;
use crate::laws::wishes::{DAY, Dice, wish};
use std::path::{Path, PathBuf};
use trimside::domain::book::Book;
use trimside::domain::edit::Edit;
use trimside::domain::history::{History, Intent};
use trimside::domain::stock::{ItemId, NewLine};
use trimside::persist::Store;

fn fixture(version: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/persist/fixtures").join(version)
}

/// A copy of a fixture on a disk in memory.
fn opened(version: &str) -> (Fake, Store) {
    let disk = Fake::default();
    for entry in std::fs::read_dir(fixture(version)).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_owned();
        disk.put(&Path::new("/data").join(name), &std::fs::read(&path).unwrap());
    }
    let store = Store::open_on(disk.shared(), Path::new("/data")).unwrap();
    (disk, store)
}

#[test]
fn version_1_opens() {
    let (disk, mut store) = opened("v1");
    assert_eq!(store.take_notes(), [] as [String; 0]);
    let book = store.book().clone();
    book.check().unwrap();
    let held: Vec<u64> = book.items().iter().map(|(id, _)| book.on_hand(id)).collect();
    let found =
        (counts(&book), held.as_slice(), book.items().name_of(ItemId(1)), store.history().done().count());
    assert_eq!(found, (COUNTS, &HELD[..], FIRST.to_owned(), DONE));
    // Written anew it is the same book.
    store.compact(DAY).unwrap();
    let again = Store::open_on(disk.shared(), Path::new("/data")).unwrap();
    assert!(again.book() == &book);
}

#[test]
fn version_2_opens() {
    let (disk, mut store) = opened("v2");
    assert_eq!(store.take_notes(), [] as [String; 0]);
    let book = store.book().clone();
    book.check().unwrap();
    assert_eq!((counts(&book), store.history().done().count()), (COUNTS_2, DONE_2));
    store.compact(DAY).unwrap();
    let again = Store::open_on(disk.shared(), Path::new("/data")).unwrap();
    assert!(again.book() == &book);
}

/// A book of the first version stays as it is until something is written; then its snapshot comes first, in the
/// version of today, so that a build of the first version leaves it alone from then on.
#[test]
fn version_1_goes_over_with_the_next_change() {
    let (disk, mut store) = opened("v1");
    let before = disk.files();
    store.refresh().unwrap();
    assert_eq!(disk.files(), before);
    let (book, was) = (store.book().clone(), store.book().on_hand(ItemId(2)));
    let mut other = Store::open_on(disk.shared(), Path::new("/data")).unwrap();
    let edit = Intent::Do(Edit::Log(NewLine::used(ItemId(2), 1, "")));
    store.append(std::slice::from_ref(&edit), DAY).unwrap().remove(0).unwrap();
    let files = disk.files();
    let text = |name: &str| String::from_utf8(files[&Path::new("/data").join(name)].clone()).unwrap();
    let journal = format!("journal-{}.txt", book.seq());
    assert!(text("book.ron").starts_with("// trimside book, schema 2, "));
    let head = format!(" schema {}", trimside::persist::schema::CURRENT);
    assert!(text(&journal).lines().nth(1).unwrap().ends_with(&head), "{}", text(&journal));
    // A window that was open all the while follows, and writes on.
    other.append(&[edit], DAY).unwrap().remove(0).unwrap();
    let again = Store::open_on(disk.shared(), Path::new("/data")).unwrap();
    assert_eq!((again.book().seq(), again.book().on_hand(ItemId(2))), (book.seq() + 2, was - 2));
    assert!(again.book().tables() == book.tables(), "only the log went on");
    assert!(!disk.files().keys().any(|p| p.to_string_lossy().contains("set-aside")));
}

#[test]
fn a_new_folder_says_its_version_before_anything_else() {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new("/data")).unwrap();
    store
        .append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(2), 1, "")))], DAY)
        .unwrap()
        .remove(0)
        .unwrap_err();
    let snapshot = disk.files()[Path::new("/data/book.ron")].clone();
    assert!(snapshot.starts_with(b"// trimside book, schema 2, step 0, "));
}

#[test]
fn every_version_that_was_ever_written_has_its_fixture() {
    for version in 1..=trimside::persist::schema::CURRENT.major {
        let dir = fixture(&format!("v{version}"));
        assert!(dir.join("book.ron").exists(), "{} is missing", dir.display());
    }
}

/// A hundred and forty steps, and how many records of each kind there are then.
fn work(seed: u64, each: &mut dyn FnMut(&Intent, usize)) -> [usize; 9] {
    work_with(&mut Dice::new(seed), each)
}

fn work_with(dice: &mut Dice, each: &mut dyn FnMut(&Intent, usize)) -> [usize; 9] {
    let (mut book, mut history) = (Book::default(), History::default());
    for n in 0..140 {
        let next = wish(&book, &history, dice);
        let _ = history.perform(&mut book, &next, DAY);
        each(&next, n);
    }
    counts(&book)
}

fn counts(book: &Book) -> [usize; 9] {
    [
        book.items().len(),
        book.swatches().len(),
        book.projects().len(),
        book.offcuts().len(),
        book.bookings().len(),
        book.orders().len(),
        book.assortments().len(),
        book.formats().len(),
        book.log().len(),
    ]
}

/// Writes a fixture anew; only for a new version, never over an old one.
#[test]
fn write_fixture() {
    let Some(version) = std::env::var_os("TRIMSIDE_TEST_WRITE_FIXTURE") else { return };
    let dir = fixture(&version.to_string_lossy());
    assert!(!dir.exists(), "a version's files are written once");
    std::fs::create_dir_all(dir.parent().unwrap()).unwrap();
    let mut store = Store::open(&dir).unwrap();
    let mut dice = Dice::new((0..).find(|seed| work(*seed, &mut |_, _| ()).iter().all(|n| *n > 0)).unwrap());
    work_with(&mut dice, &mut |wish, n| {
        store.append(std::slice::from_ref(wish), DAY).unwrap();
        if n == 110 {
            store.compact(DAY).unwrap();
        }
    });
    for extra in ["kept", "lock"] {
        let path = dir.join(extra);
        if path.is_dir() {
            std::fs::remove_dir_all(path).unwrap();
        } else {
            std::fs::remove_file(path).unwrap();
        }
    }
}

/// What the fixture of version 1 holds.
const COUNTS: [usize; 9] = [8, 2, 4, 3, 1, 3, 1, 2, 87];
const HELD: [u64; 8] = [0, 24, 4, 31, 16, 37, 49, 1];
const FIRST: &str = "(paren) 670";
const DONE: usize = 51;
/// The same of version 2.
const COUNTS_2: [usize; 9] = [5, 1, 5, 1, 3, 6, 1, 1, 66];
const DONE_2: usize = 53;
