//! The real program where others are in the way: a window too small to see in, a book that another process keeps locked,
//! a stop just after a key.

use super::bench::{assert_left_once, kept, surrounded};
use super::faults::SmallDisk;
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
    session.send("-1\ruujk+5\r:\r\x10\r\x1b[200~77\x1b[201~\r\x1b[<0;20;9M\x1b[<65;20;9M1a");
    session.drain(Duration::from_millis(200));
    session.resize(30, 100);
    session.wait_for("36 on hand");
    assert!(session.text().contains("Fence") || session.text().contains("Shelf"), "{}", session.text());
    assert_eq!(held(dir.path()), 36);
    assert_eq!(before, trimside::persist::memory::read(dir.path()));
    // A prompt is open with something in it: q leaves all the same, and the text counts for nothing.
    session.send("-\x151");
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
        session.send("-\x151\r");
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
    session.send("-\x151\r");
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
    session.send("-\x151\r");
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

/// What lies in a folder.
fn names(dir: &Path) -> Vec<String> {
    let mut names: Vec<_> =
        std::fs::read_dir(dir).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_full_disk_leaves_no_half_file_and_the_name_is_free_for_the_next_try() {
    let Some(disk) = SmallDisk::mount() else { return };
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    let mut session = kept(&data);
    disk.fill();
    let ask = |words: &[&str], out: &str| {
        let out = disk.0.path().join(out);
        let done = program(home.path()).args(words).arg("--out").arg(&out).arg("--data").arg(&data).output();
        said(&done.unwrap())
    };
    let kit = ["mats", "--export", "Hedgerow notes, class"];
    let commands: [(&[&str], &str); 3] =
        [(&kit, "kit.ron"), (&["keep"], "book.ron"), (&["print", "swatches"], "swatches.pdf")];
    for (words, out) in commands {
        let done = ask(words, out);
        assert_eq!((done.code, done.out.as_str(), done.note.lines().count()), (1, "", 1), "{}", done.note);
        assert!(done.note.contains(out) && done.note.contains("the disk is full"), "{}", done.note);
        assert_eq!(names(disk.0.path()), ["filler"], "{out}");
    }
    // The same at the bench: the shelf as a list.
    let shelf = disk.0.path().join("shelf.csv");
    session.send("4E");
    session.send(format!("\x15{}\r", shelf.display()));
    session.wait_for("the disk is full");
    assert_eq!(names(disk.0.path()), ["filler"]);
    std::fs::remove_file(disk.filler()).unwrap();
    session.send("E");
    session.send(format!("\x15{}\r", shelf.display()));
    session.wait_for("Wrote");
    for (words, out) in commands {
        let done = ask(words, out);
        assert_eq!(done.code, 0, "{}", done.note);
        // Anybody may read it who may read the person's other files.
        let mode = |name: &str| {
            std::os::unix::fs::PermissionsExt::mode(
                &std::fs::metadata(disk.0.path().join(name)).unwrap().permissions(),
            )
        };
        std::fs::write(disk.0.path().join("usual"), "").unwrap();
        assert_eq!(mode(out), mode("usual"), "{out}");
    }
    assert_eq!(names(disk.0.path()), ["book.ron", "kit.ron", "shelf.csv", "swatches.pdf", "usual"]);
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn a_damaged_line_offers_what_stands_beyond_it_at_the_bench() {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("data");
    let mut first = kept(&data);
    on_fern(&mut first);
    for left in (31..36).rev() {
        first.send("-\x151\r");
        first.wait_for(&format!("{left} on hand"));
    }
    first.send("q");
    assert!(first.wait_end().success());
    let journal = std::fs::read_dir(&data).unwrap().map(|e| e.unwrap().path());
    let journal = journal.into_iter().find(|p| p.to_string_lossy().contains("journal-")).unwrap();
    let mut bytes = std::fs::read(&journal).unwrap();
    // In the second use.
    let uses: Vec<usize> = (0..bytes.len()).filter(|n| bytes[*n..].starts_with(b"Used")).collect();
    bytes[uses[1]] ^= 1;
    std::fs::write(&journal, &bytes).unwrap();
    let open = || {
        let words = ["--data", data.to_str().unwrap()];
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
        command.args(words);
        let mut session = Session::open(surrounded(command), 24, 80);
        session.wait_for("3 later changes can be carried out");
        session
    };
    // No: nothing is done, and it is offered again.
    let mut session = open();
    session.send("n");
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(&data), 35);
    let mut session = open();
    session.send("y");
    session.wait_for("3 of 3 later changes carried out;");
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(&data), 32);
    assert_eq!(Store::open(&data).unwrap().take_notes(), [] as [String; 0]);
}

#[test]
fn the_book_is_kept_and_brought_in_from_the_finder() {
    let dir = tempfile::tempdir().unwrap();
    let (data, file) = (dir.path().join("data"), dir.path().join("book.ron"));
    let mut session = kept(&data);
    session.send(":keep the book\r");
    session.wait_for("keep the whole book");
    session.send(format!("{}\r", file.display()));
    session.wait_for("Kept the whole book");
    on_fern(&mut session);
    session.send("-\x154\r");
    session.wait_for("32 on hand");
    session.send(":restore a kept book\r");
    session.wait_for("bring in the kept book");
    session.send(format!("{}\r", file.display()));
    session.wait_for("Sure?");
    session.send("y");
    session.wait_for("36 on hand");
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(&data), 36);
}
