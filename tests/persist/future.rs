//! Books of the future: fields, words and versions that this build does not know, at every place where there can be
//! one. Such a book is open for reading only, says so, and not a byte of its folder changes.

use super::fake::Fake;
use super::mutants::fnv;
use crate::effort::is_long;
use crate::laws::wishes::{DAY, Dice, edit};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use trimside::domain::book::Book;
use trimside::domain::history::{History, Intent};
use trimside::persist::demo;
use trimside::persist::kept::restore;
use trimside::persist::schema::{CURRENT, Version};
use trimside::persist::{Store, StoreError};

const DIR: &str = "/data";
/// The step that the kept snapshot ends with.
const STEP: u64 = 83;

fn fixture(name: &str) -> String {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/persist/fixtures/v2");
    std::fs::read_to_string(dir.join(name)).unwrap()
}

fn place(name: &str) -> PathBuf {
    Path::new(DIR).join(name)
}

/// The kept file of today's version: the RON of its snapshot, and the steps after it.
fn parts() -> (String, Vec<(u64, String)>) {
    let snapshot = fixture("book.ron");
    let body = snapshot.splitn(3, '\n').nth(2).unwrap().trim_end().to_owned();
    let lines = fixture("journal-83.txt");
    let lines = lines.lines().map(|l| {
        let mut parts = l.splitn(3, ' ');
        let seq = parts.next().unwrap().parse().unwrap();
        (seq, parts.nth(1).unwrap().to_owned())
    });
    (body, lines.filter(|(_, text)| text.starts_with('(')).collect())
}

/// Snapshots to bend: the kept one, and the demo, whose cards have all there is.
fn bodies() -> Vec<String> {
    let disk = Fake::default();
    demo::fill(&mut opened(&disk).unwrap()).unwrap();
    let text = String::from_utf8(disk.files()[&place("book.ron")].clone()).unwrap();
    vec![parts().0, text.splitn(3, '\n').nth(2).unwrap().trim_end().to_owned()]
}

/// A snapshot with a checksum that fits.
fn snapshot(version: Version, ron: &str) -> String {
    let body = format!("// minor {}\n{ron}", version.minor);
    let sum = fnv(format!("{} {STEP}\n{body}", version.major).as_bytes());
    format!("// trimside book, schema {}, step {STEP}, check {sum:016x}\n{body}\n", version.major)
}

fn line(seq: u64, text: &str) -> String {
    format!("{seq} {:016x} {text}\n", fnv(format!("{seq} {text}").as_bytes()))
}

fn journal(version: Version, lines: &[(u64, String)]) -> String {
    let lines = lines.iter().map(|(seq, text)| line(*seq, text));
    std::iter::once(line(STEP + 1, &format!("schema {version}"))).chain(lines).collect()
}

fn folder(snapshot: &str, journal: &str) -> Fake {
    let disk = Fake::default();
    disk.put(&place("book.ron"), snapshot.as_bytes());
    if !journal.is_empty() {
        disk.put(&place("journal-83.txt"), journal.as_bytes());
    }
    disk.put(&place("kept/2026-03-01.ron"), fixture("book.ron").as_bytes());
    disk
}

fn opened(disk: &Fake) -> Result<Store, StoreError> {
    Store::open_on(disk.shared(), Path::new(DIR))
}

/// Whatever is tried, the folder stays as it is, and all that is said is that the book comes from a newer version.
fn is_left_alone(disk: &Fake, what: &str) -> Book {
    let before = disk.files();
    let is_told = |said: &str| {
        assert!(said.contains("was written by a newer version of trimside"), "{what}: {said}");
        assert!(!said.contains("restore") && !said.contains("set aside"), "{what}: {said}");
    };
    let mut store = opened(disk).unwrap_or_else(|e| panic!("{what}: {e}"));
    let notes = store.take_notes();
    assert_eq!(notes.len(), 1, "{what}: {notes:?}");
    is_told(&notes[0]);
    is_told(store.read_only().unwrap());
    let next = edit(store.book(), &mut Dice::new(7));
    let mut shown = (store.book().clone(), store.history().clone());
    let step = shown.1.perform(&mut shown.0, &Intent::Do(next.clone()), DAY).unwrap().0;
    is_told(&store.append(&[Intent::Do(next.clone())], DAY).unwrap_err().to_string());
    is_told(&store.save(store.epoch(), &[step]).unwrap_err().to_string());
    is_told(&store.compact(DAY).unwrap_err().to_string());
    is_told(&store.found(Book::default(), History::default(), DAY).unwrap_err().to_string());
    store.refresh().unwrap();
    is_told(&store.append(&[Intent::Do(next)], DAY).unwrap_err().to_string());
    is_told(&restore(disk, Path::new(DIR), "2026-03-01", DAY).unwrap_err().to_string());
    assert_eq!(disk.files(), before, "{what}");
    store.book().clone()
}

/// The places of bytes that stand in no text, each with its byte.
fn outside_texts(ron: &str) -> Vec<(usize, u8)> {
    let (mut found, mut in_text, mut is_escaped) = (Vec::new(), false, false);
    for (at, byte) in ron.bytes().enumerate() {
        match byte {
            _ if is_escaped => is_escaped = false,
            b'\\' if in_text => is_escaped = true,
            b'"' => in_text = !in_text,
            _ if !in_text => found.push((at, byte)),
            _ => {}
        }
    }
    found
}

/// Where a field of the future could stand: behind the bracket of every record, one of each sort. A record begins with
/// a bracket and a name with a colon; texts are passed over.
fn records(ron: &str) -> Vec<(usize, String)> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (at, _) in outside_texts(ron).into_iter().filter(|(_, byte)| *byte == b'(') {
        let name: String = ron[at + 1..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        let is_record = ron.as_bytes().get(at + 1 + name.len()) == Some(&b':') && !name.is_empty();
        let before: String = ron[..at].chars().rev().take_while(|c| c.is_alphabetic()).collect();
        if is_record && seen.insert((name.clone(), before)) {
            found.push((at + 1, name));
        }
    }
    found
}

/// Words of an enumeration: names that begin with a capital, one of each.
fn words(ron: &str) -> Vec<(usize, String)> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    let bytes = ron.as_bytes();
    let begins = |at: usize, byte: u8| byte.is_ascii_uppercase() && !bytes[at - 1].is_ascii_alphanumeric();
    for (at, _) in outside_texts(ron).into_iter().filter(|(at, byte)| begins(*at, *byte)) {
        let word: String = ron[at..].chars().take_while(|c| c.is_alphanumeric()).collect();
        if word != "Some" && word != "None" && seen.insert(word.clone()) {
            found.push((at, word));
        }
    }
    found
}

const NEXT_MINOR: Version = Version { minor: CURRENT.minor + 1, ..CURRENT };
const NEXT_MAJOR: Version = Version { major: CURRENT.major + 1, minor: 0 };

#[test]
fn todays_book_is_none_of_the_future() {
    let (body, lines) = parts();
    let disk = folder(&snapshot(CURRENT, &body), &journal(CURRENT, &lines));
    let mut store = opened(&disk).unwrap();
    assert_eq!((store.take_notes(), store.read_only()), (vec![], None));
    assert!(store.book().seq() > STEP + 1);
}

#[test]
fn a_field_of_the_future_in_any_record_of_the_snapshot() {
    let mut seen = BTreeSet::new();
    for body in bodies() {
        let today = opened(&folder(&snapshot(CURRENT, &body), "")).unwrap();
        for (at, name) in records(&body) {
            if !seen.insert(name.clone()) {
                continue;
            }
            let ron = format!("{}of_tomorrow:Some([(a:1),(b:Word(2))]),{}", &body[..at], &body[at..]);
            for version in [CURRENT, NEXT_MINOR, NEXT_MAJOR, Version { major: 1, minor: 0 }] {
                let what = format!("a field before {name} in {version}");
                let shown = is_left_alone(&folder(&snapshot(version, &ron), ""), &what);
                assert!(&shown == today.book(), "{what}: the rest is shown");
            }
        }
    }
    assert!(seen.len() > 15, "{seen:?}");
}

#[test]
fn a_higher_version_alone_is_enough() {
    let (body, lines) = parts();
    let whole = opened(&folder(&snapshot(CURRENT, &body), &journal(CURRENT, &lines))).unwrap();
    let short = opened(&folder(&snapshot(CURRENT, &body), "")).unwrap();
    // What a higher minor version has written is followed as far as it is known, what a higher major one has is not.
    let shown = is_left_alone(&folder(&snapshot(NEXT_MINOR, &body), &journal(NEXT_MINOR, &lines)), "minor");
    assert!(&shown == whole.book());
    let shown =
        is_left_alone(&folder(&snapshot(CURRENT, &body), &journal(NEXT_MINOR, &lines)), "minor, journal");
    assert!(&shown == whole.book());
    for first in [CURRENT, NEXT_MAJOR] {
        let disk = folder(&snapshot(first, &body), &journal(NEXT_MAJOR, &lines));
        assert!(&is_left_alone(&disk, "major") == short.book());
    }
}

#[test]
fn a_word_of_the_future_anywhere_in_the_snapshot() {
    let mut seen = BTreeSet::new();
    for body in bodies() {
        let today = opened(&folder(&snapshot(CURRENT, &body), "")).unwrap();
        for (at, word) in words(&body) {
            // A quick run bends every third word.
            if !seen.insert(word.clone()) || !is_long() && seen.len() % 3 != 1 {
                continue;
            }
            let ron = format!("{}Tomorrow{}", &body[..at], &body[at + word.len()..]);
            // A quick run takes turns.
            let turn = seen.len() % 2;
            let versions = [CURRENT, NEXT_MINOR].into_iter().enumerate();
            for (_, version) in versions.filter(|(n, _)| crate::effort::is_long() || *n == turn) {
                let what = format!("{word} in {version}");
                let shown = is_left_alone(&folder(&snapshot(version, &ron), ""), &what);
                assert_eq!(shown.log(), today.book().log(), "{what}: the rest is shown");
                assert_eq!(shown.items().len(), today.book().items().len(), "{what}");
                assert_eq!(shown.projects().len(), today.book().projects().len(), "{what}");
            }
        }
    }
    assert!(seen.len() > 12, "{seen:?}");
}

#[test]
fn a_new_kind_of_many_lines_and_a_new_sort_of_step_are_shown_as_far_as_they_are_known() {
    let body = &bodies()[1];
    let ron = body.replace("kind:PatternedPaper", "kind:Felt").replace("edit:Batch(", "edit:Tomorrow(");
    assert!(ron.matches("kind:Felt").count() > 3 && ron.contains("edit:Tomorrow("));
    let disk = folder(&snapshot(CURRENT, &ron), "");
    let shown = is_left_alone(&disk, "felt");
    let today = opened(&folder(&snapshot(CURRENT, body), "")).unwrap();
    assert_eq!(shown.items().len(), today.book().items().len());
    let said = opened(&disk).unwrap().take_notes().remove(0);
    assert!(said.contains("does not know the word Felt, and shows Felt as PlainSheet"), "{said}");
    // A reason of the log that is not known: the counts are the same.
    let ron = body.replace(" used ", " lent ");
    assert!(ron.matches(" lent ").count() > 2);
    let disk = folder(&snapshot(NEXT_MINOR, &ron), "");
    let shown = is_left_alone(&disk, "lent");
    for (item, _) in today.book().items().iter() {
        assert_eq!(shown.on_hand(item), today.book().on_hand(item));
    }
}

#[test]
fn a_field_of_the_future_in_any_line_of_the_journal() {
    let (body, lines) = parts();
    let mut kinds = BTreeSet::new();
    for (n, (seq, text)) in lines.iter().enumerate() {
        for (at, name) in records(text) {
            let kind = text
                .split_once("edit:")
                .unwrap()
                .1
                .chars()
                .take_while(|c| c.is_alphabetic())
                .collect::<String>();
            if !kinds.insert((kind.clone(), name.clone())) {
                continue;
            }
            let mut changed = lines.clone();
            changed[n].1 = format!("{}of_tomorrow:{{1:2}},{}", &text[..at], &text[at..]);
            for version in [CURRENT, NEXT_MINOR] {
                let what = format!("a field before {name} of {kind} in step {seq}, {version}");
                let disk = folder(&snapshot(CURRENT, &body), &journal(version, &changed));
                let shown = is_left_alone(&disk, &what);
                assert_eq!(shown.seq(), seq - 1, "{what}: nothing of the line is applied");
            }
        }
    }
    assert!(kinds.len() > 15, "{kinds:?}");
}

#[test]
fn a_word_of_the_future_in_any_line_of_the_journal() {
    let (body, lines) = parts();
    let mut seen = BTreeSet::new();
    for (n, (seq, text)) in lines.iter().enumerate() {
        for (at, word) in words(text) {
            if !seen.insert(word.clone()) {
                continue;
            }
            let mut changed = lines.clone();
            changed[n].1 = format!("{}Tomorrow{}", &text[..at], &text[at + word.len()..]);
            let disk = folder(&snapshot(CURRENT, &body), &journal(CURRENT, &changed));
            let shown = is_left_alone(&disk, &format!("{word} in step {seq}"));
            assert_eq!(shown.seq(), seq - 1, "{word}");
        }
    }
    assert!(seen.len() > 12, "{seen:?}");
}

#[test]
fn a_newer_window_that_writes_first_makes_the_older_one_a_reader() {
    let (body, lines) = parts();
    let (today, written) = (snapshot(CURRENT, &body), journal(CURRENT, &lines));
    let last = lines.last().unwrap().0;
    let head = line(last + 1, &format!("schema {NEXT_MINOR}"));
    // The newer one has written the snapshot anew, or goes on in the journal.
    for newer in [folder(&snapshot(NEXT_MINOR, &body), &written), folder(&today, &(written.clone() + &head))]
    {
        let disk = folder(&today, &written);
        let mut older = opened(&disk).unwrap();
        let next = edit(older.book(), &mut Dice::new(7));
        newer.files().iter().for_each(|(path, bytes)| disk.put(path, bytes));
        let before = disk.files();
        assert!(older.has_news());
        for _ in 0..2 {
            let error = older.append(&[Intent::Do(next.clone())], DAY).unwrap_err().to_string();
            assert!(error.contains("newer version of trimside"), "{error}");
        }
        assert_eq!(disk.files(), before);
    }
}
