//! A book as large as is read, kept and restored within the memory that is promised.

use super::words::sealed;
use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Output};
use trimside::persist::{Store, demo, parcel};

/// What is promised of the largest book, bytes of the file and of memory.
const PROMISED: (usize, usize) = (12_000_000, 300_000_000);
/// What the program takes without a book.
const ALONE: usize = 30_000_000;

/// A kept book of nearly so many bytes: the demo, and lines by turns that come and go.
fn kept_book(file: &Path, bytes: usize) -> usize {
    let folder = file.with_extension("data");
    demo::fill(&mut Store::open(&folder).unwrap()).unwrap();
    parcel::keep(&Store::open(&folder).unwrap(), file, false).unwrap();
    let text = std::fs::read_to_string(file).unwrap();
    let (head, body) = text.split_once('\n').unwrap();
    let (before, rest) = body.split_once("log:[").unwrap();
    let (log, after) = rest.split_once("],").unwrap();
    let mut lines = 0;
    let mut more = String::new();
    while text.len() + more.len() + 200 < bytes {
        for (change, reason) in [(2, "received"), (-2, "used")] {
            let day = 1 + lines % 28;
            write!(more, ",\"2026-03-{day:02} 1 {change} {reason} spring class\"").unwrap();
            lines += 1;
        }
    }
    let body = format!("{before}log:[{log}{more}],{}", after.trim_end_matches('\n'));
    std::fs::write(file, sealed(head, body.as_bytes())).unwrap();
    std::fs::remove_dir_all(folder).unwrap();
    lines
}

/// The program with so much memory of its own, stacks of threads and all, and no more.
fn within(memory: usize, home: &Path, words: &[&str]) -> Output {
    let mut command = Command::new("sh");
    command.arg("-c").arg(format!("ulimit -d {} && exec \"$0\" \"$@\"", memory / 1024));
    command.arg(env!("CARGO_BIN_EXE_trimside")).args(words);
    command.env_clear().env("HOME", home).current_dir(home);
    command.output().unwrap()
}

#[test]
fn the_largest_book_is_kept_and_restored_within_the_memory_that_is_promised() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("book.ron");
    // A smaller book in every run, with its share of the memory.
    let (bytes, memory) =
        if crate::effort::is_long() { PROMISED } else { (PROMISED.0 / 8, ALONE + (PROMISED.1 - ALONE) / 8) };
    let lines = kept_book(&file, bytes);
    assert!(lines > 0 && std::fs::metadata(&file).unwrap().len() as usize > bytes * 99 / 100);
    let asked: [&[&str]; 4] = [
        &["restore", "book.ron", "--data", "one"],
        &["keep", "--out", "again.ron", "--data", "one"],
        // Over a book of its own size, first shown, then done.
        &["restore", "again.ron", "--data", "one"],
        &["restore", "again.ron", "--data", "one", "--yes"],
    ];
    for words in asked {
        let done = within(memory, home.path(), words);
        let note = String::from_utf8_lossy(&done.stderr);
        assert!(done.status.success(), "{words:?} of {bytes} bytes in {memory}: {note}");
    }
    assert!(Store::open(&home.path().join("one")).unwrap().book().log().len() >= lines);
    // The least that a program takes is not the whole of what it is given: with half of it there is not enough.
    let done = within(memory / 3, home.path(), &["keep", "--out", "third.ron", "--data", "one"]);
    assert!(!done.status.success(), "a third of the memory is enough: promise less");
}
