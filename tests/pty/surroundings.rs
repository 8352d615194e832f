//! The real program in other surroundings: a locale without UTF-8, a command line that changes the book meanwhile.

use super::bench::{kept, open_with};
use crate::cli::{program, said};
use trimside::persist::Store;

#[test]
fn signs_are_plain_ascii_where_the_locale_is_not_utf_8() {
    let frames = |name: &str| {
        let dir = tempfile::tempdir().unwrap();
        let data = dir.path().to_str().unwrap();
        let mut session = open_with(&["--demo", "--data", data], &[("LC_ALL", name)]);
        let mut all = session.text();
        for (key, word) in [("2", "reveal"), ("3", "swatches"), ("4", "on hand")] {
            session.send(key);
            session.wait_for(word);
            all.push_str(&session.text());
        }
        session.send("q");
        assert!(session.wait_end().success());
        all
    };
    // The names of POSIX and of a single-byte set (ISO 8859-1); the modifier after @ is no part of the set.
    for name in ["C", "POSIX", "en_US.ISO-8859-1", "de_DE@euro"] {
        let text = frames(name);
        let odd: String = text.chars().filter(|c| !c.is_ascii()).collect();
        assert!(odd.is_empty(), "{name}: {odd:?}\n{text}");
    }
    for name in ["C.UTF-8", "en_US.utf8"] {
        assert!(!frames(name).is_ascii(), "{name}");
    }
}

#[test]
fn a_command_that_changes_the_book_is_told_and_its_undo_names_it() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    session.send("4");
    session.wait_for("fern floor, letter");
    let words = ["stock", "use", "fern floor, letter", "2", "--data"];
    let done = said(&program(dir.path()).args(words).arg(dir.path()).output().unwrap());
    assert_eq!(done.code, 0, "{}", done.note);
    session.wait_for("Changed by another window or a command");
    // Undo says whose step it is before it takes it back.
    session.send("u");
    session.wait_for("Done in another window or by a command");
    let held = || {
        let store = Store::open(dir.path()).unwrap();
        store.book().on_hand(store.book().find_item("fern floor, letter").unwrap())
    };
    assert_eq!(held(), 34);
    session.send("u");
    session.wait_for("Taken back");
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(), 36);
}
