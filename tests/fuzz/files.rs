//! Files of the data folder and pictures. The frames around the stored text are made to fit, so that what lies behind
//! the checksum is reached: a file may also be changed by hand, or by another program.

use super::{bend, corpus};
use crate::laws::wishes::{DAY, Dice, edit};
use crate::persist::fake::Fake;
use crate::persist::mutants::fnv;
use std::path::Path;
use trimside::domain::history::Intent;
use trimside::exchange::read;
use trimside::persist::Store;

const DIR: &str = "/data";

/// A fixture's body, or its lines.
fn fixture(name: &str) -> Vec<u8> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/persist/fixtures/v1");
    std::fs::read(dir.join(name)).unwrap()
}

/// Whatever was opened holds together, and more can be written to it; what was refused is as it was.
fn opened(disk: &Fake) {
    let before = disk.files();
    let Ok(mut store) = Store::open_on(disk.shared(), Path::new(DIR)) else {
        assert_eq!(disk.files(), before);
        return;
    };
    store.book().check().unwrap();
    let is_read_only = store.read_only().is_some();
    let next = edit(store.book(), &mut Dice::new(5));
    let answer = store.append(&[Intent::Do(next)], DAY);
    assert!(answer.is_ok() != is_read_only, "{answer:?}");
    if is_read_only {
        assert_eq!(disk.files(), before);
        return;
    }
    let again = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    assert!(again.book() == store.book(), "what was said to be saved is not there");
    assert!(again.history() == store.history(), "its history is another");
}

fn snapshots(bytes: &[u8]) {
    let disk = Fake::default();
    let body = String::from_utf8_lossy(bytes);
    let sum = fnv(format!("1 100\n{body}").as_bytes());
    let file = format!("// trimside book, schema 1, step 100, check {sum:016x}\n{body}\n");
    disk.put(&Path::new(DIR).join("book.ron"), file.as_bytes());
    opened(&disk);
}

#[test]
fn snapshots_with_a_checksum_that_fits() {
    let file = fixture("book.ron");
    let at = file.iter().position(|b| *b == b'\n').unwrap() + 1;
    let body = file[at..].strip_suffix(b"\n").unwrap().to_vec();
    bend("snapshot", &[body], 120, snapshots);
}

/// A folder with the fixture's snapshot and these lines after it.
fn with_journal(journal: &[u8]) -> Fake {
    let disk = Fake::default();
    disk.put(&Path::new(DIR).join("book.ron"), &fixture("book.ron"));
    disk.put(&Path::new(DIR).join("journal-100.txt"), journal);
    disk
}

fn journals(bytes: &[u8]) {
    let mut journal = Vec::new();
    for (n, line) in bytes.split(|b| *b == b'\n').enumerate() {
        let text = String::from_utf8_lossy(line);
        let ron = text.splitn(3, ' ').nth(2).unwrap_or(&text);
        let seq = 101 + n;
        let sum = fnv(format!("{seq} {ron}").as_bytes());
        journal.extend_from_slice(format!("{seq} {sum:016x} {ron}\n").as_bytes());
    }
    opened(&with_journal(&journal));
}

#[test]
fn journals_with_checksums_that_fit() {
    let lines = fixture("journal-100.txt");
    let lines = lines.strip_suffix(b"\n").unwrap();
    let few: Vec<_> = lines.split(|b| *b == b'\n').take(6).collect();
    let mut seeds = vec![few.join(&b'\n')];
    seeds.extend(corpus("journal"));
    bend("journal", &seeds, 40, journals);
}

#[test]
fn journals_as_they_come() {
    bend("raw-journal", &[fixture("journal-100.txt")], 20, |bytes| opened(&with_journal(bytes)));
}

fn pictures(bytes: &[u8]) {
    match read::image::read(bytes) {
        Ok(read) => {
            let (width, height) = (read.picture.width, read.picture.height);
            assert!(width > 0 && height > 0 && read.picture.light.len() == width * height);
        }
        Err(why) => assert!(!why.to_string().is_empty()),
    }
    let _ = read::profile::Profile::read(bytes);
}

#[test]
fn pictures_and_profiles() {
    bend("image", &corpus("image"), 600, pictures);
}
