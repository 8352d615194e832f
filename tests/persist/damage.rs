//! Damaged files: every byte of a small snapshot and journal changed, cut, or followed by rubbish. Never a panic, never
//! a file overwritten that could not be read, and what holds is kept.

use super::fake::Fake;
use super::mutants::Mutant;
use crate::effort::{is_long, thinned};
use crate::laws::wishes::{DAY, Dice, edit};
use std::path::{Path, PathBuf};
use trimside::domain::book::Book;
use trimside::domain::history::Intent;
use trimside::persist::{Store, StoreError};

const DIR: &str = "/data";

/// A folder with a snapshot and three lines after it, and the books after each of them.
fn small() -> (Fake, Vec<Book>) {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let mut dice = Dice::new(12);
    let mut books = Vec::new();
    while books.len() < 5 {
        let next = edit(store.book(), &mut dice);
        if store.append(&[Intent::Do(next)], DAY).unwrap()[0].is_err() {
            continue;
        }
        books.push(store.book().clone());
        if books.len() == 2 {
            store.compact(DAY).unwrap();
        }
    }
    (disk, books.split_off(1))
}

fn snapshot() -> PathBuf {
    Path::new(DIR).join("book.ron")
}

fn journal(disk: &Fake) -> PathBuf {
    let files = disk.files();
    files.keys().find(|p| p.to_string_lossy().contains("journal-")).unwrap().clone()
}

/// Every way in which one byte can be lost or changed (a sample of the values), and every length; a thirteenth of them
/// in a run before a change.
fn damages(bytes: &[u8]) -> Vec<Vec<u8>> {
    let mut all = Vec::new();
    for at in 0..bytes.len() {
        for value in [bytes[at] ^ 1, bytes[at] ^ 0x80, b'\n', b'0', 0] {
            if value != bytes[at] {
                let mut bad = bytes.to_vec();
                bad[at] = value;
                all.push(bad);
            }
        }
        all.push(bytes[..at].to_vec());
        all.push([&bytes[..at], &bytes[at + 1..]].concat());
    }
    thinned(all, 13).collect()
}

#[test]
fn a_damaged_journal_keeps_its_good_part_and_is_set_aside_whole() {
    damaged_journals(None);
}

/// Every damage to the journal.
pub fn damaged_journals(mutant: Option<Mutant>) {
    let (disk, books) = small();
    disk.mutate(mutant);
    let path = journal(&disk);
    let good = disk.files()[&path].clone();
    let mut kept = [0; 4];
    for bad in damages(&good) {
        let disk = disk.copy();
        disk.put(&path, &bad);
        let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let state = books.iter().position(|b| b == store.book()).expect("a state that the book was in");
        kept[state] += 1;
        let notes = store.take_notes();
        assert_eq!(disk.files()[&path], bad, "opening changes nothing");
        let next = edit(store.book(), &mut Dice::new(7));
        assert!(store.append(&[Intent::Do(next)], DAY).unwrap()[0].is_ok());
        let again = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        assert!(again.book() == store.book());
        // A journal cut exactly between two lines looks like a shorter one; everything else is told and set aside.
        if !(bad.is_empty() || good.starts_with(&bad) && bad.ends_with(b"\n")) && bad.len() != good.len() + 1
        {
            if notes.is_empty() {
                // The case of a checksum's letters, or a line end that was a line end before.
                assert_eq!(state, 3);
                continue;
            }
            assert!(notes.iter().any(|n| n.contains("set aside")), "{notes:?}");
            let aside = disk.files().into_iter().find(|(p, _)| p.starts_with("/data/set-aside")).unwrap();
            assert_eq!(aside.1, bad, "nothing of what could not be read is lost");
        }
    }
    // The last state needs every byte as it was.
    let least = if is_long() { 20 } else { 1 };
    assert!(kept[..3].iter().all(|n| *n > least), "{kept:?}");
}

#[test]
fn a_damaged_snapshot_is_refused_with_its_place_and_left_alone() {
    damaged_snapshots(None);
}

/// Every damage to the snapshot.
pub fn damaged_snapshots(mutant: Option<Mutant>) {
    let (disk, _) = small();
    disk.mutate(mutant);
    let good = disk.files()[&snapshot()].clone();
    for bad in damages(&good) {
        let disk = disk.copy();
        disk.put(&snapshot(), &bad);
        let before = disk.files();
        match Store::open_on(disk.shared(), Path::new(DIR)) {
            Err(StoreError::Unreadable { line, column, .. }) => assert!(line >= 1 && column >= 1),
            Err(other) => panic!("{other}"),
            // A newer version's header would carry its own checksum: only the letters' case can pass.
            Ok(store) => assert!(store.book().seq() == 2 && bad.len() == good.len()),
        }
        assert_eq!(disk.files(), before);
    }
}

#[test]
fn a_snapshot_that_is_gone_is_not_taken_for_an_empty_book() {
    let (disk, _) = small();
    let files = disk.files();
    let bare = Fake::default();
    for (path, bytes) in files.iter().filter(|(p, _)| **p != snapshot()) {
        bare.put(path, bytes);
    }
    let error = Store::open_on(bare.shared(), Path::new(DIR)).err().unwrap().to_string();
    assert!(error.contains("missing") && error.contains("restore"), "{error}");
}
