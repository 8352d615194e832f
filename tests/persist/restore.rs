//! Bringing a copy back, with the power going at every operation, and over the command line.

use super::fake::{Crash, Fake, Plan};
use crate::laws::wishes::DAY;
use std::path::Path;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine};
use trimside::persist::Store;
use trimside::persist::kept::{copies, restore};

const DIR: &str = "/data";

fn day(n: i8) -> jiff::civil::Date {
    jiff::civil::date(2026, 3, n)
}

/// Ten received on the 3rd, one used on the 4th: the copy of the 4th holds ten.
fn two_days() -> Fake {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let add = Edit::Item(Row::add(ItemId(1), Item::new("fern", Kind::PlainSheet)));
    let first = Edit::batch("first", vec![add, Edit::Log(NewLine::received(ItemId(1), 10, ""))]);
    store.append(&[Intent::Do(first)], day(3)).unwrap();
    store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "")))], day(4)).unwrap();
    disk
}

#[test]
fn a_restore_cut_short_at_any_operation_leaves_the_old_book_or_the_copy() {
    let whole = two_days().copy();
    restore(&whole, Path::new(DIR), "2026-03-04", day(5)).unwrap();
    let ops = whole.ops().len();
    assert!(ops >= 8, "{ops}");
    let mut seen = [0, 0];
    for at in 0..=ops {
        for crash in Crash::ALL {
            let disk = two_days().copy();
            disk.plan(Plan { from: Some(at), torn_percent: 50, ..Plan::default() });
            let told = restore(&disk, Path::new(DIR), "2026-03-04", day(5));
            let after = disk.after(crash);
            let mut store = Store::open_on(after.shared(), Path::new(DIR)).unwrap();
            let held = store.book().on_hand(ItemId(1));
            assert!(held == 10 || held == 9 && told.is_err(), "{at} {crash:?}: {held}");
            seen[usize::from(held == 10)] += 1;
            if held == 10 {
                let kept = copies(&after, Path::new(DIR)).unwrap();
                let before = kept.iter().find(|c| c.name.starts_with("before-restore")).unwrap();
                assert_eq!((before.lines, before.broken.as_deref()), (2, None), "{at} {crash:?}");
            }
            store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 2, "")))], day(5)).unwrap();
            let again = Store::open_on(after.shared(), Path::new(DIR)).unwrap();
            assert_eq!(again.book().on_hand(ItemId(1)), held - 2, "{at} {crash:?}");
        }
    }
    assert!(seen.iter().all(|n| *n > 2), "{seen:?}");
}

#[test]
fn a_book_is_put_into_an_empty_folder_whole_or_not_at_all() {
    use trimside::persist::demo;
    let (book, _) = demo::book().unwrap();
    let whole = Fake::default();
    demo::fill(&mut Store::open_on(whole.shared(), Path::new(DIR)).unwrap()).unwrap();
    let mut seen = [0, 0];
    for at in crate::effort::thinned(0..=whole.ops().len(), 2) {
        for crash in Crash::ALL {
            let disk = Fake::default();
            disk.plan(Plan { from: Some(at), torn_percent: 50, ..Plan::default() });
            let done = demo::fill(&mut Store::open_on(disk.shared(), Path::new(DIR)).unwrap());
            let after = disk.after(crash);
            let mut store = Store::open_on(after.shared(), Path::new(DIR)).unwrap();
            let is_there = store.book() == &book;
            assert!(is_there || store.book().seq() == 0 && done.is_err(), "{at} {crash:?}");
            seen[usize::from(is_there)] += 1;
            // Asked for again it is there, once.
            demo::fill(&mut store).unwrap();
            assert!(store.book() == &book, "{at} {crash:?}");
        }
    }
    assert!(seen.iter().all(|n| *n > 2), "{seen:?}");
}

#[test]
fn the_command_lists_the_copies_and_brings_one_back() {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("data");
    let said = |words: &[&str]| {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
        let out = command.args(words).arg("--data").arg(&data).output().unwrap();
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        (out.status.code(), text(&out.stdout), text(&out.stderr))
    };
    assert!(said(&["restore"]).2.contains("no copies yet"));
    let mut store = Store::open(&data).unwrap();
    let add = Edit::Item(Row::add(ItemId(1), Item::new("fern", Kind::PlainSheet)));
    let first = Edit::batch("first", vec![add, Edit::Log(NewLine::received(ItemId(1), 10, ""))]);
    store.append(&[Intent::Do(first)], DAY).unwrap();
    store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 4, "")))], day(9)).unwrap();
    let (code, list, _) = said(&["restore"]);
    assert_eq!((code, list.as_str()), (Some(0), "2026-03-09  1 item, 1 log line\n"));
    let (code, out, err) = said(&["restore", "../book"]);
    assert_eq!((code, out.as_str(), err.lines().count()), (Some(2), "", 1), "{err}");
    assert!(err.contains("no copy \"../book\"") && err.contains("2026-03-09"), "{err}");
    let (code, out, _) = said(&["restore", "2026-03-09"]);
    assert!(code == Some(0) && out.contains("was brought back") && out.contains("before-restore-"), "{out}");
    assert!(said(&["stock", "list"]).1.contains("10"));
}

/// Ten received on the 3rd, nine used one by one on the 4th: the copy of the 4th holds the ten.
fn nine_uses() -> Fake {
    let disk = two_days();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    for _ in 0..8 {
        store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "")))], day(4)).unwrap();
    }
    disk
}

#[test]
fn steps_that_the_journal_holds_beyond_a_copy_come_back_with_it() {
    // The book is emptied; of the journal nothing, the last line, or all from the sixth use on is damaged.
    for (damaged_from, held, lost) in [(None, 1, 0), (Some(8), 2, 1), (Some(5), 5, 4), (Some(0), 10, 9)] {
        let disk = nine_uses();
        disk.put(&Path::new(DIR).join("book.ron"), b"");
        let files = disk.files();
        let (path, bytes) = files.iter().find(|(p, _)| p.to_string_lossy().contains("journal-")).unwrap();
        let mut lines: Vec<String> =
            String::from_utf8(bytes.clone()).unwrap().lines().map(str::to_owned).collect();
        let uses: Vec<usize> = (0..lines.len()).filter(|n| lines[*n].contains("Used")).collect();
        assert_eq!(uses.len(), 9);
        if let Some(from) = damaged_from {
            lines[uses[from]].push('x');
        }
        disk.put(path, (lines.join("\n") + "\n").as_bytes());
        let before = copies(&disk, Path::new(DIR)).unwrap().remove(0);
        let later = before.later.unwrap();
        assert_eq!((later.follow, later.lost), (9 - lost, lost));
        let told = restore(&disk, Path::new(DIR), "2026-03-04", day(5)).unwrap();
        let words = told.last().unwrap();
        if lost > 0 {
            assert!(words.contains(&format!("{lost} line")), "{told:?}");
        }
        assert!(lost == 9 || words.starts_with(&format!("{} later step", 9 - lost)), "{told:?}");
        let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        assert_eq!((store.take_notes(), store.book().on_hand(ItemId(1))), (vec![], held));
        store.append(&[Intent::Undo(None)], day(5)).unwrap().remove(0).unwrap();
        assert_eq!(
            store.book().on_hand(ItemId(1)),
            if lost == 9 { 0 } else { held + 1 },
            "undo goes on from there"
        );
    }
}

#[test]
fn a_journal_with_a_gap_before_it_is_counted_and_not_followed() {
    let disk = nine_uses();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    store.compact(day(4)).unwrap();
    store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "")))], day(4)).unwrap();
    disk.put(&Path::new(DIR).join("book.ron"), b"");
    let later = copies(&disk, Path::new(DIR)).unwrap().remove(0).later.unwrap();
    assert_eq!((later.follow, later.lost), (0, 1));
    let told = restore(&disk, Path::new(DIR), "2026-03-04", day(5)).unwrap();
    assert!(told.last().unwrap().contains("1 line of the journals could not be"), "{told:?}");
    assert!(disk.has_set_aside("journal-"));
    let store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    assert_eq!(store.book().on_hand(ItemId(1)), 10);
}
