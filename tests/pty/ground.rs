//! The real program where others are in the way: a window too small to see in, a book that another process keeps locked,
//! a stop just after a key.

use super::bench::{assert_left_once, kept};
use super::harness::Session;
use crate::cli::{program, said};
use rustix::process::Signal as Kill;
use std::fs::{File, TryLockError};
use std::path::Path;
use std::time::{Duration, Instant};
use trimside::persist::Store;

/// What another process does that writes and never ends, as the lock file knows it.
fn lock_file(data: &Path) -> File {
    File::options().write(true).open(data.join("lock")).unwrap()
}

fn is_free(data: &Path) -> bool {
    match lock_file(data).try_lock() {
        Ok(()) => true,
        Err(TryLockError::WouldBlock) => false,
        Err(TryLockError::Error(e)) => panic!("{e}"),
    }
}

/// Opens the shelf on a paper.
fn on_fern(session: &mut Session) {
    session.send("4/\x15fern floor, letter\r");
    session.wait_for("36 on hand");
}

fn held(dir: &Path) -> u64 {
    let store = Store::open(dir).unwrap();
    store.book().on_hand(store.book().find_item("fern floor, letter").unwrap())
}

#[test]
fn a_window_too_small_to_see_in_takes_keys_for_nothing_but_leaving() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    on_fern(&mut session);
    let before = trimside::persist::memory::read(dir.path());
    session.resize(10, 40);
    session.wait_for("trimside needs 60 x 18");
    // Use one, undo, a new line, a pack, print, a paste, a click, the wheel.
    session.send("l1\ruujkSr5\r:\r\x10\r\x1b[200~77\x1b[201~\r\x1b[<0;20;9M\x1b[<65;20;9M1a");
    session.drain(Duration::from_millis(200));
    session.resize(30, 100);
    session.wait_for("36 on hand");
    assert!(session.text().contains("Fence") || session.text().contains("Shelf"), "{}", session.text());
    assert_eq!(held(dir.path()), 36);
    assert_eq!(before, trimside::persist::memory::read(dir.path()));
    // A prompt is open with something in it: q leaves all the same, and the text counts for nothing.
    session.send("l\x151");
    session.wait_for("36 on hand");
    session.resize(17, 100);
    session.wait_for("trimside needs 60 x 18");
    session.send("\r");
    session.drain(Duration::from_millis(100));
    session.send("q");
    assert!(session.wait_end().success());
    assert_left_once(&session);
    assert_eq!(held(dir.path()), 36);
}

#[test]
fn a_stop_just_after_a_key_holds_no_lock_and_everything_is_on_the_disk() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    on_fern(&mut session);
    for left in (16..36).rev() {
        session.send("l\x151\r");
        session.wait_for(&format!("{left} on hand"));
        session.signal(Kill::TSTP);
        session.wait_stopped();
        assert!(is_free(dir.path()), "stopped with the lock, {left} left");
        assert_eq!(held(dir.path()), left);
        session.signal(Kill::CONT);
        session.wait_for("on hand");
    }
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn a_stop_while_another_keeps_the_book_says_what_is_not_saved_and_saves_it_afterwards() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    on_fern(&mut session);
    let other = lock_file(dir.path());
    other.lock().unwrap();
    session.send("l\x151\r");
    session.wait_for("35 on hand");
    let began = Instant::now();
    session.signal(Kill::TSTP);
    session.wait_stopped();
    assert!(began.elapsed() < Duration::from_secs(8), "{:?}", began.elapsed());
    let text = session.text().replace('\n', " ");
    assert!(text.contains("the last change is not saved yet") && text.contains("used 1 of"), "{text}");
    other.unlock().unwrap();
    session.drain(Duration::from_millis(300));
    assert!(is_free(dir.path()));
    session.signal(Kill::CONT);
    session.wait_until("saved", |s| s.contents().contains("35 on hand") && s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(dir.path()), 35);
}

#[test]
fn reading_waits_for_nobody() {
    let dir = tempfile::tempdir().unwrap();
    let mut first = kept(dir.path());
    first.send("q");
    assert!(first.wait_end().success());
    let other = lock_file(dir.path());
    other.lock().unwrap();
    let ask = |words: &[&str]| {
        said(&program(dir.path()).args(words).arg("--data").arg(dir.path()).output().unwrap())
    };
    let began = Instant::now();
    for words in [
        &["stock", "list"][..],
        &["stock", "log"],
        &["stock", "export"],
        &["restore"],
        &["palette", "order"],
        &["print", "reorder", "--preview"],
    ] {
        let done = ask(words);
        assert_eq!(done.code, 0, "{words:?}: {}", done.note);
        assert!(!done.note.contains("writing"), "{words:?}: {}", done.note);
    }
    // The bench opens too, and says so when it is left.
    let mut session = kept(dir.path());
    assert!(began.elapsed() < Duration::from_secs(8), "{:?}", began.elapsed());
    on_fern(&mut session);
    session.send("l\x151\r");
    session.wait_for("35 on hand");
    session.send("q");
    session.wait_for("Saving the last change");
    session.send("q");
    session.wait_for("saving once more, for up to 5 seconds; Ctrl-C leaves without it");
    // The terminal is its own again, so this is the key that the sentence names.
    session.send("\x03");
    let asked = Instant::now();
    assert_eq!(session.wait_end().code(), Some(1));
    assert!(asked.elapsed() < Duration::from_secs(3), "{:?}", asked.elapsed());
    let text = session.text().replace('\n', " ");
    assert!(text.contains("the last change is not on the disk: another window or command"), "{text}");
    drop(other);
    assert_eq!(held(dir.path()), 36);
}
