//! One damaged line in the middle of a journal, and a journal that is gone: what stands beyond is told and offered, never
//! carried out unasked and never dropped.

use super::fake::Fake;
use crate::cli::{program, said};
use std::path::{Path, PathBuf};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine};
use trimside::persist::Store;
use trimside::persist::later::is_carried_out;

const DIR: &str = "/data";
const FERN: ItemId = ItemId(1);
const CLAY: ItemId = ItemId(2);

fn day(n: i8) -> jiff::civil::Date {
    jiff::civil::date(2026, 3, n)
}

fn open(disk: &Fake) -> Store {
    Store::open_on(disk.shared(), Path::new(DIR)).unwrap()
}

fn add(id: ItemId, name: &str) -> Intent {
    Intent::Do(Edit::Item(Row::add(id, Item::new(name, Kind::PlainSheet))))
}

fn used(id: ItemId, n: u32) -> Intent {
    Intent::Do(Edit::Log(NewLine::used(id, n, "")))
}

/// Twenty fern in the snapshot; then in the journal: use 3, add clay, receive 5 clay, use 2 clay, use 4 fern, take that
/// back, use 7 fern.
fn shelf() -> (Fake, PathBuf) {
    let disk = Fake::default();
    let mut store = open(&disk);
    store.append(&[add(FERN, "fern")], day(3)).unwrap().remove(0).unwrap();
    let wish = Intent::Do(Edit::Log(NewLine::received(FERN, 20, "")));
    store.append(&[wish], day(3)).unwrap().remove(0).unwrap();
    store.compact(day(3)).unwrap();
    for wish in [
        used(FERN, 3),
        add(CLAY, "clay"),
        Intent::Do(Edit::Log(NewLine::received(CLAY, 5, ""))),
        used(CLAY, 2),
        used(FERN, 4),
        Intent::Undo(None),
        used(FERN, 7),
    ] {
        store.append(&[wish], day(4)).unwrap().remove(0).unwrap();
    }
    assert_eq!((store.book().on_hand(FERN), store.book().on_hand(CLAY)), (10, 3));
    let path = disk.files().keys().find(|p| p.to_string_lossy().contains("journal-")).unwrap().clone();
    (disk, path)
}

/// Spoils the n-th step of the journal, from 0.
fn spoil(disk: &Fake, path: &Path, n: usize) {
    let text = String::from_utf8(disk.files()[path].clone()).unwrap();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let steps: Vec<usize> = (0..lines.len()).filter(|n| lines[*n].contains("edit")).collect();
    assert_eq!(steps.len(), 7);
    lines[steps[n]] = lines[steps[n]].replacen('(', "[", 1);
    disk.put(path, (lines.join("\n") + "\n").as_bytes());
}

#[test]
fn what_stands_beyond_a_damaged_line_is_told_and_carried_out_only_when_asked() {
    // Which step is damaged; what fern and clay are without the rest; how many of the rest fit, and what they come to.
    for (n, before, fit, after) in [
        (0, (20, 0), 6, (13, 3)),
        (1, (17, 0), 3, (10, 0)),
        (2, (17, 0), 3, (10, 0)),
        (3, (17, 5), 3, (10, 5)),
        (4, (17, 3), 1, (10, 3)),
        (5, (13, 3), 1, (6, 3)),
        (6, (17, 3), 0, (17, 3)),
    ] {
        let (disk, path) = shelf();
        spoil(&disk, &path, n);
        let mut store = open(&disk);
        let held = |store: &Store| (store.book().on_hand(FERN), store.book().on_hand(CLAY));
        assert_eq!(held(&store), before, "{n}: nothing was carried out unasked");
        let notes = store.take_notes().join("\n");
        assert!(notes.contains("does not hold"), "{n}: {notes}");
        let rest = 6 - n;
        let Some(later) = store.later() else {
            assert_eq!(rest, 0);
            continue;
        };
        assert_eq!((later.steps.len(), later.fitting()), (rest, fit), "{n}: {later:?}");
        // Every one of them is named, and what cannot be done has its reason.
        for step in &later.steps {
            assert!(notes.contains(&step.label), "{n}: {} in {notes}", step.label);
            if let Some(why) = &step.refused {
                assert!(!why.is_empty() && notes.contains(why), "{n}: {why} in {notes}");
            }
        }
        // Work goes on first; the journal is set aside whole and can be asked for there.
        let waits = n % 2 == 1;
        let mut journal = later.journal.clone();
        if waits {
            store.append(&[used(FERN, 1)], day(5)).unwrap().remove(0).unwrap();
            journal = disk.files().keys().find(|p| p.starts_with("/data/set-aside")).unwrap().clone();
            assert!(store.later().is_none());
        }
        let steps = store.carry_out_later(&journal, day(5)).unwrap();
        assert_eq!(steps.iter().filter(|s| s.refused.is_none()).count(), fit, "{n}");
        let after = (after.0 - u64::from(waits), after.1);
        assert_eq!(held(&store), after, "{n}");
        assert_eq!(held(&open(&disk)), after, "{n}: and safe");
        assert_eq!(open(&disk).take_notes(), [] as [String; 0]);
        assert!(disk.files().keys().any(|p| is_carried_out(p)), "{n}: its name says so");
        store.append(&[Intent::Undo(None)], day(5)).unwrap().remove(0).unwrap();
    }
}

#[test]
fn the_command_tells_shows_and_carries_out() {
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    let run =
        |words: &[&str]| said(&program(home.path()).args(words).arg("--data").arg(&data).output().unwrap());
    let list = home.path().join("list.csv");
    std::fs::write(&list, "name,kind,on_hand\nfern,other,20\n").unwrap();
    assert_eq!(run(&["stock", "import", list.to_str().unwrap()]).code, 0);
    for n in ["1", "2", "3"] {
        assert_eq!(run(&["stock", "use", "fern", n]).code, 0);
    }
    let journal = data.join("journal-0.txt");
    let mut bytes = std::fs::read(&journal).unwrap();
    let at = bytes.windows(4).position(|w| w == b"Used").unwrap();
    bytes[at] ^= 4;
    std::fs::write(&journal, &bytes).unwrap();
    let told = run(&["stock", "list"]);
    assert!(
        told.note.contains("2 later changes can be carried out: used 2 of fern, used 3 of fern"),
        "{}",
        told.note
    );
    assert_eq!(run(&["stock", "use", "fern", "10"]).out, "used 10 of fern: 10 on hand\n");
    let aside = data.join("set-aside/journal-0.txt");
    let shown = run(&["restore", aside.to_str().unwrap()]);
    assert!(
        shown.code == 0 && shown.out.contains("used 3 of fern") && shown.out.contains("--yes"),
        "{}",
        shown.out
    );
    assert!(run(&["stock", "list"]).out.contains("10"));
    let done = run(&["restore", "--yes", aside.to_str().unwrap()]);
    assert!(done.out.contains("2 of 2 carried out"), "{} {}", done.out, done.note);
    assert!(run(&["stock", "list", "--csv"]).out.contains(",5,"), "{}", run(&["stock", "list", "--csv"]).out);
    let again = data.join("set-aside/carried-out-journal-0.txt");
    let done = run(&["restore", "--yes", again.to_str().unwrap()]);
    assert!(done.code == 2 && done.note.contains("carried out before"), "{}", done.note);
}

#[test]
fn lines_that_are_lost_doubled_or_out_of_place_cost_nothing_beyond_them() {
    type Change = fn(&mut Vec<String>, usize);
    type Held = (i64, i64);
    // What happens to the step "use 2 clay"; fern and clay without the rest; how many of the rest fit.
    let cases: [(Change, Held, usize, Held); 3] = [
        (|lines, at| drop(lines.remove(at)), (17, 5), 3, (10, 5)),
        (|lines, at| lines.insert(at, lines[at].clone()), (17, 3), 3, (10, 3)),
        (|lines, at| lines.swap(at, at + 1), (17, 5), 4, (10, 3)),
    ];
    for (n, (change, before, fits, after)) in cases.into_iter().enumerate() {
        let (disk, path) = shelf();
        let text = String::from_utf8(disk.files()[&path].clone()).unwrap();
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let steps: Vec<usize> = (0..lines.len()).filter(|n| lines[*n].contains("edit")).collect();
        change(&mut lines, steps[3]);
        disk.put(&path, (lines.join("\n") + "\n").as_bytes());
        let mut store = open(&disk);
        let held = |store: &Store| (store.book().on_hand(FERN) as i64, store.book().on_hand(CLAY) as i64);
        assert_eq!(held(&store), before, "{n}");
        let later = store.later().unwrap_or_else(|| panic!("{n}: nothing is offered"));
        assert_eq!((later.fitting(), later.unread), (fits, 0), "{n}: {}", later.words());
        let journal = later.journal;
        store.carry_out_later(&journal, day(6)).unwrap();
        assert_eq!((held(&store), held(&open(&disk))), (after, after), "{n}");
    }
}

#[test]
fn an_empty_journal_is_as_good_as_gone() {
    let (disk, path) = shelf();
    disk.put(&path, b"");
    let mut store = open(&disk);
    let notes = store.take_notes().join("; ");
    assert!(notes.contains("gone or cut short") && notes.contains("after step 2"), "{notes}");
    store.append(&[used(FERN, 1)], day(5)).unwrap().remove(0).unwrap();
    assert_eq!(open(&disk).take_notes(), [] as [String; 0]);
    assert_eq!(open(&disk).book().on_hand(FERN), 19);
}

#[test]
fn a_journal_that_is_gone_is_noticed() {
    let (disk, path) = shelf();
    disk.lose(&path);
    let mut store = open(&disk);
    let notes = store.take_notes();
    assert!(
        notes.len() == 1 && notes[0].contains("is gone") && notes[0].contains("after step 2"),
        "{notes:?}"
    );
    store.append(&[used(FERN, 1)], day(5)).unwrap().remove(0).unwrap();
    assert_eq!(open(&disk).take_notes(), [] as [String; 0]);
    // A book that was never written, and one that has just been folded, miss nothing.
    assert_eq!(open(&Fake::default()).take_notes(), [] as [String; 0]);
    open(&disk).compact(day(5)).unwrap();
    assert_eq!(open(&disk).take_notes(), [] as [String; 0]);
}

#[test]
fn a_journal_that_goes_under_an_open_window_costs_nothing_that_the_window_knew() {
    for cut in [None, Some(0), Some(200)] {
        let (disk, path) = shelf();
        let mut store = open(&disk);
        match cut {
            None => disk.lose(&path),
            Some(len) => {
                let bytes = disk.files()[&path].clone();
                disk.put(&path, &bytes[..len]);
            }
        }
        store.append(&[used(FERN, 1)], day(5)).unwrap().remove(0).unwrap();
        let notes = store.take_notes().join("; ");
        assert!(notes.contains("gone or cut short"), "{cut:?}: {notes}");
        let again = open(&disk);
        assert_eq!((again.book().on_hand(FERN), again.book().on_hand(CLAY)), (9, 3), "{cut:?}");
    }
}
