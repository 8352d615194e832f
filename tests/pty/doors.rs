//! Names that lead to a pipe or a device, typed at the bench: it says so and goes on taking keys.

use super::bench::open_with;
use super::harness::Session;
use crate::hostile::doors::pipe;
use std::path::Path;
use std::time::Duration;

/// Every prompt of the bench that takes a file to read, as keys from a fresh start.
const PROMPTS: [(&str, &str); 5] = [
    ("the list of the shelf", "4I"),
    ("the yearly list", "4Y"),
    ("a card", "2I"),
    ("colors", "3I"),
    ("a photo", "3i"),
];

fn refused(session: &mut Session, what: &str, file: &Path, kind: &str) {
    // What the prompt begins with goes first.
    session.send(format!("\x15{}\r", file.display()));
    session.wait_until(&format!("{what}: {kind}"), |s| {
        s.contents().replace('\n', " ").split_whitespace().collect::<Vec<_>>().join(" ").contains(kind)
    });
    // Keys are taken: another pane, and its answer.
    session.send("\x1b");
    session.drain(Duration::from_millis(100));
    session.send("1");
    session.wait_for("14 a sheet");
}

#[test]
fn a_pipe_or_a_device_freezes_no_prompt() {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path().join("p");
    pipe(&at);
    for (what, keys) in PROMPTS {
        let mut session = open_with(&["--demo"], &[]);
        session.send(keys);
        session.wait_until(&format!("{what}: the prompt"), |s| {
            s.contents().contains('\u{203a}') || !s.hide_cursor()
        });
        refused(&mut session, what, &at, "a named pipe");
        session.send(keys);
        refused(&mut session, what, Path::new("/dev/zero"), "a device");
        session.send("q");
        assert!(session.wait_end().success());
    }
}
