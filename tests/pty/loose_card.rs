//! The card that is in no project is kept like everything else: over quit, over a kill, with its undo.

use super::bench::{assert_left_once, open_at};
use super::harness::Session;
use rustix::process::Signal;
use std::os::unix::process::ExitStatusExt as _;
use std::path::Path;

/// Another sitting on a folder that was used before.
fn sit_down(dir: &Path) -> Session {
    open_at(dir, "4 Stock")
}

/// A folder in which nothing was done yet; its questions are skipped.
fn begin(dir: &Path) -> Session {
    let mut session = open_at(dir, "A new bench");
    session.send("\x1b");
    session.wait_for("14 a sheet");
    session
}

fn wait_saved(session: &mut Session) {
    session.wait_until("saved", |s| s.contents().lines().next().unwrap_or_default().contains("saved"));
}

/// The front as the pane writes it, in Mats.
fn assert_front(session: &mut Session, front: &str) {
    session.send("2");
    session.wait_for(&format!("Front  {front}"));
}

#[test]
fn a_loose_card_is_there_again_after_quitting() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = begin(dir.path());
    session.send("2f\x155x7\r");
    session.wait_for("Front  5 x 7 in");
    session.send("q");
    assert!(session.wait_end().success());
    assert_left_once(&session);

    let mut again = sit_down(dir.path());
    assert_front(&mut again, "5 x 7 in");
    // An earlier sitting's step is named first.
    again.send("u");
    again.wait_for("Done before this sitting");
    again.send("u");
    again.wait_for("Front  4 1/4 x 5 1/2 in");
    again.send("q");
    assert!(again.wait_end().success());
}

#[test]
fn a_loose_card_that_is_said_to_be_saved_survives_a_kill() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = begin(dir.path());
    for (typed, front) in [("5x7", "5 x 7 in"), ("6x6", "6 x 6 in")] {
        session.send(format!("2f\x15{typed}\r"));
        session.wait_for(&format!("Front  {front}"));
        wait_saved(&mut session);
        session.signal(Signal::KILL);
        assert_eq!(session.wait_end().signal(), Some(9));
        session = sit_down(dir.path());
        assert_front(&mut session, front);
    }
}
