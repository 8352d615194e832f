//! The real program in a real terminal, on the demo.

use super::harness::Session;
use crate::faulty;
use pty_process::blocking::Command;
use std::path::Path;
use std::time::Duration;

/// The sequences that hand the terminal back were written once. The cursor is shown in frames too, so it is not counted.
#[track_caller]
pub fn assert_left_once(session: &Session) {
    session.assert_handed_back();
    for sequence in ["\x1b[?1049l", "\x1b[?2004l"] {
        assert_eq!(session.count(sequence), 1, "{sequence:?}");
    }
}

fn command(args: &[&str], environment: &[(&str, &str)]) -> Command {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
    command.args(args);
    surrounded(command).envs(environment.iter().copied())
}

/// In surroundings that are the same on every machine.
pub fn surrounded(command: std::process::Command) -> Command {
    let home = std::env::temp_dir();
    Command::from(command)
        .env("HOME", &home)
        .env("XDG_CONFIG_HOME", home.join("trimside-no-settings-here"))
        .env("TERM", "xterm-256color")
        .env("COLORTERM", "truecolor")
        .env_remove("NO_COLOR")
        .env_remove("RUST_BACKTRACE")
}

pub fn open_with(args: &[&str], environment: &[(&str, &str)]) -> Session {
    let mut session = Session::open(command(args, environment), 24, 80);
    session.wait_for("14 a sheet");
    session
}

fn open() -> Session {
    open_with(&["--demo"], &[])
}

pub fn kept(dir: &Path) -> Session {
    open_with(&["--demo", "--data", dir.to_str().unwrap()], &[])
}

/// What the shelf says is held of the line under the cursor.
fn held(session: &Session) -> u32 {
    let text = session.text();
    let line = text.lines().find(|l| l.contains("on hand,")).unwrap_or_default();
    line.split_whitespace().next().and_then(|n| n.parse().ok()).unwrap_or_else(|| panic!("{text}"))
}

#[test]
fn sheets_logged_are_gone_after_a_restart_and_undo_brings_them_back() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    session.send("sfern floor\r");
    session.wait_for("36 on hand");
    session.send("p2x5\r");
    session.wait_for("8 a sheet");
    session.send("c20\r");
    session.wait_for("3 sheets for 20");
    session.send("-");
    session.wait_for("33 left");
    session.send("\r");
    session.wait_for("takes it back");
    session.wait_until("saved", |s| s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_left_once(&session);

    let mut again = open_at(dir.path(), "8 a sheet");
    again.send("4/fern floor, letter\r");
    again.wait_for("33 on hand, 3 booked");
    assert_eq!(held(&again), 33);
    // The filter of this sitting comes first; a step of an earlier one is named, and the next press takes it back.
    again.send("u");
    again.wait_for("Taken back: filter");
    again.send("u");
    again.wait_for("Done before this sitting");
    again.send("u");
    again.wait_for("fern floor, letter    8 1/2 x 11 in      36");
    again.wait_until("saved", |s| s.contents().contains("saved"));
    again.send("q");
    assert!(again.wait_end().success());
}

/// Opens a folder, and waits for what its first screen says.
pub fn open_at(dir: &Path, answer: &str) -> Session {
    let mut session = Session::open(command(&["--data", dir.to_str().unwrap()], &[]), 24, 80);
    session.wait_for(answer);
    session
}

/// Opens and waits for a message of the start before the page of the day is left, for leaving takes the message away.
pub fn open_to_a_message(dir: &Path, message: &str) -> Session {
    let mut session = Session::open(command(&["--data", dir.to_str().unwrap()], &[]), 24, 80);
    session.leaves_today = false;
    session.wait_for(message);
    session.leaves_today = true;
    session
}

#[test]
fn the_other_window_and_the_command_line_write_while_this_one_is_open() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    session.send("4/fern floor, letter\r");
    session.wait_for("36 on hand");
    let used = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"))
        .args(["stock", "use", "fern floor, letter", "4", "--data", dir.path().to_str().unwrap()])
        .status()
        .unwrap();
    assert!(used.success());
    session.wait_for("32 on hand");
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn every_pane_is_drawn_and_leaving_hands_back_once() {
    let mut session = open();
    for (key, words) in [("2", "bramble note"), ("3", "28 swatches"), ("4", "on hand"), ("1", "14 a sheet")] {
        session.send(key);
        session.wait_for(words);
    }
    session.send("v");
    session.wait_for("across: height");
    session.send("vb");
    session.wait_for("steps done");
    session.send("\x03");
    assert!(session.wait_end().success());
    assert_left_once(&session);
}

#[test]
fn idle_writes_nothing() {
    let mut session = open();
    session.drain(Duration::from_millis(400));
    let mut quiet = 0;
    // A loaded machine may deliver a late frame once; a timer would do so for ever.
    for _ in 0..5 {
        quiet = session.drain(Duration::from_millis(1_500));
        if quiet == 0 {
            break;
        }
    }
    assert_eq!(quiet, 0);
}

#[test]
fn no_colour_and_few_colours_keep_the_selection_readable() {
    let mut session = open_with(&["--demo"], &[("NO_COLOR", "1"), ("COLORTERM", "")]);
    session.send("4");
    session.wait_for("on hand");
    assert_eq!(session.count("\x1b[38;2;"), 0, "no 24-bit color");
    let screen = session.screen();
    let picked = (0..24).any(|y| (0..80).any(|x| screen.cell(y, x).is_some_and(vt100::Cell::inverse)));
    assert!(picked, "the picked row is reversed");
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn a_panic_in_the_bench_hands_the_terminal_back() {
    let command = surrounded(faulty::program(&["--demo"]));
    let mut session = Session::open(command, 24, 80);
    session.wait_for("14 a sheet");
    session.send(faulty::FATAL.to_string());
    assert!(!session.wait_end().success());
    assert_left_once(&session);
}

#[test]
fn a_storm_of_sizes_ends_drawn_at_the_last() {
    let mut session = open();
    for n in 0..40_u16 {
        session.resize(1 + (n * 7) % 60, 1 + (n * 13) % 200);
    }
    session.resize(30, 100);
    session.wait_until("drawn at 100 columns", |s| s.contents().lines().any(|l| l.chars().count() == 100));
    session.wait_for("14 a sheet");
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn a_large_paste_goes_into_the_field_and_submits_nothing() {
    let mut session = open();
    session.send("p");
    session.wait_for("Piece, width x height");
    session.send(format!("\x1b[200~{}\nq\x1b[201~", "9".repeat(1_000_000)));
    session.wait_for("is not a size");
    session.send("\x1b");
    session.wait_until("the prompt is gone", |s| !s.contents().contains("Piece, width x height"));
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn without_a_screen_it_refuses_in_one_sentence() {
    let bin = env!("CARGO_BIN_EXE_trimside");
    let out =
        std::process::Command::new(bin).arg("--demo").stdin(std::process::Stdio::null()).output().unwrap();
    assert_eq!(out.status.code(), Some(1));
    let words = String::from_utf8(out.stderr).unwrap();
    assert!(words.contains("not a terminal") && words.lines().count() == 1, "{words}");
    let mut session = Session::open(command(&["--demo"], &[("TERM", "dumb")]), 24, 80);
    assert!(!session.wait_end().success());
    assert!(session.text().contains("TERM=dumb"), "{}", session.text());
}

#[test]
fn the_plain_mode_takes_lines_and_says_facts() {
    use std::io::Write;
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"))
        .args(["--demo", "--plain"])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"1\np\n2x5\ns\nfern floor\n-\n3\n4\n").unwrap();
    let out = child.wait_with_output().unwrap();
    assert!(out.status.success());
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(text.contains("best: 14 a sheet"), "{text}");
    assert!(text.contains("best: 8 a sheet"), "{text}");
    assert!(text.contains("fern floor, letter: 33 on hand"), "{text}");
    assert!(!text.contains('─') && !text.contains('\u{1b}'), "no boxes, no escapes");
}
