//! The whole book in one file: written, carried to another folder and brought in there, or refused where a byte was lost.

use crate::cli::{Said, program, said};
use std::path::{Path, PathBuf};
use trimside::persist::{Store, demo, parcel};

struct Home(tempfile::TempDir);

impl Home {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn at(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, data: &str, words: &[&str]) -> Said {
        said(&program(self.0.path()).args(words).arg("--data").arg(self.at(data)).output().unwrap())
    }
}

fn book(dir: &Path) -> trimside::domain::book::Book {
    Store::open(dir).unwrap().book().clone()
}

#[test]
fn a_kept_book_is_brought_in_on_another_machine() {
    let home = Home::new();
    demo::fill(&mut Store::open(&home.at("one")).unwrap()).unwrap();
    assert_eq!(home.run("one", &["stock", "use", "fern floor, letter", "4"]).code, 0);
    let kept = home.run("one", &["keep", "--out", "book.ron"]);
    assert_eq!((kept.code, kept.out.lines().count()), (0, 1), "{}", kept.note);
    assert!(kept.out.contains("swatches") && kept.out.contains("read back and whole"), "{}", kept.out);
    // Not twice under one name.
    let again = home.run("one", &["keep", "--out", "book.ron"]);
    assert!(again.code == 2 && again.note.contains("book.ron is there already"), "{}", again.note);
    assert_eq!(home.run("one", &["keep", "--out", "book.ron", "--force"]).code, 0);
    // Into a folder without a book at once, and it is the same book, with its undo.
    let done = home.run("two", &["restore", "book.ron"]);
    assert_eq!(done.code, 0, "{}", done.note);
    let (one, two) = (Store::open(&home.at("one")).unwrap(), Store::open(&home.at("two")).unwrap());
    assert_eq!(one.book().log(), two.book().log());
    assert_eq!(one.book().tables().items.len(), two.book().tables().items.len());
    assert_eq!(one.history().done().count(), two.history().done().count());
    // Over another book only after a look, and that one stays as a copy.
    assert_eq!(home.run("two", &["stock", "use", "fern floor, letter", "5"]).code, 0);
    let before = book(&home.at("two"));
    let shown = home.run("two", &["restore", "book.ron"]);
    assert!(
        shown.code == 0 && shown.out.contains("it replaces") && shown.out.contains("--yes"),
        "{}",
        shown.out
    );
    assert!(book(&home.at("two")) == before);
    let done = home.run("two", &["restore", "book.ron", "--yes"]);
    assert!(done.code == 0 && done.out.contains("is kept as before-restore-"), "{} {}", done.out, done.note);
    assert_eq!(book(&home.at("two")).log(), one.book().log());
    let copies = home.run("two", &["restore"]).out;
    let name =
        copies.lines().find(|l| l.starts_with("before")).unwrap().split("  ").next().unwrap().to_owned();
    assert_eq!(home.run("two", &["restore", &name]).code, 0);
    assert_eq!(book(&home.at("two")).log(), before.log());
}

#[test]
fn a_file_that_is_no_whole_book_is_refused_and_nothing_changes() {
    let home = Home::new();
    demo::fill(&mut Store::open(&home.at("data")).unwrap()).unwrap();
    assert_eq!(home.run("data", &["keep", "--out", "book.ron"]).code, 0);
    let bytes = std::fs::read(home.at("book.ron")).unwrap();
    for at in crate::effort::thinned(0..bytes.len(), bytes.len() / 97) {
        let mut bad = bytes.clone();
        bad[at] ^= 0x10;
        std::fs::write(home.at("bad.ron"), &bad).unwrap();
        assert!(parcel::look(&home.at("bad.ron")).is_err(), "byte {at}");
        std::fs::write(home.at("bad.ron"), &bytes[..at]).unwrap();
        assert!(parcel::look(&home.at("bad.ron")).is_err(), "cut at {at}");
    }
    let before = book(&home.at("data"));
    let cut = &bytes[..bytes.len() / 2];
    let nested =
        [b"// trimside book, schema 2, step 1, check 0000000000000000\n".as_slice(), &b"(".repeat(9_000)]
            .concat();
    for (name, content) in
        [("bad.ron", cut), ("bad.csv", b"name,kind\n"), ("none.ron", b""), ("deep.ron", &nested)]
    {
        std::fs::write(home.at(name), content).unwrap();
        let done = home.run("data", &["restore", name, "--yes"]);
        assert_eq!(
            (done.code, done.out.as_str(), done.note.lines().count()),
            (2, "", 1),
            "{name}: {}",
            done.note
        );
        assert!(done.note.contains(name) && done.note.contains("nothing was changed"), "{}", done.note);
        assert!(!done.note.contains("recursion") && !done.note.contains("serde"), "{}", done.note);
    }
    let done = home.run("data", &["restore", "nowhere.ron"]);
    assert!(done.code == 2 && done.note.contains("no file of that name either"), "{}", done.note);
    assert!(book(&home.at("data")) == before);
}
