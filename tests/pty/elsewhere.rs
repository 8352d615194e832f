//! The program built for Windows in Wine's console, beside the program built for here: the same keys, the same pictures.
//! `.ci/elsewhere screen` runs it, and says in `TRIMSIDE_THERE` where the other program is. Wine 8 does not tell its console
//! of another size of the terminal, so that there is nothing of that here.

use super::feel::{home, program};
use super::harness::Session;
use pty_process::blocking::Command;
use std::path::Path;
use std::time::{Duration, Instant};

/// How long Wine may take to begin, or to answer a key, on a loaded machine.
const PATIENCE: Duration = Duration::from_secs(60);

/// Keys, and what stands on the screen after them. Six keys at once would be a paste there.
const WAY: [(&str, &str); 11] = [
    ("1", "upright"),
    ("2", "reveal"),
    ("3", "Compare real chips"),
    ("4", "on hand│booked"),
    ("1", "upright"),
    ("p", "2 x 3"),
    ("3x4\r", "3 x 4 in"),
    ("v", "down: width"),
    ("\x1b", "cuts at"),
    ("b", "steps done"),
    ("\x1b", "cuts at"),
];

/// The program of the other system, on a folder of its own.
fn there(home: &Path, folder: &str) -> Session {
    let mut command = std::process::Command::new("wine");
    command.arg(std::env::var_os("TRIMSIDE_THERE").expect("TRIMSIDE_THERE names the program for Windows"));
    command.args(["--data", folder]).current_dir(home).env("TERM", "xterm-256color");
    command.env("COLORTERM", "truecolor");
    Session::open(Command::from(command), 30, 100)
}

/// Every cell with its colours and marks; a cell without a sign is a blank one.
fn cells(session: &Session) -> Vec<String> {
    let screen = session.screen();
    let (rows, columns) = screen.size();
    let one = |row, column| {
        let cell = screen.cell(row, column).expect("a cell");
        let sign = if cell.contents().is_empty() { " " } else { cell.contents() };
        let marks = [cell.bold(), cell.dim(), cell.italic(), cell.underline(), cell.inverse()];
        format!("{sign} {:?} {:?} {marks:?}", cell.fgcolor(), cell.bgcolor())
    };
    (0..rows).flat_map(|row| (0..columns).map(move |column| one(row, column))).collect()
}

/// Waits until both show the same, cell by cell.
#[track_caller]
fn alike(what: &str, here: &mut Session, there: &mut Session) {
    let end = Instant::now() + PATIENCE;
    while cells(here) != cells(there) {
        let quiet = Duration::from_millis(100);
        here.drain(quiet);
        there.drain(quiet);
        assert!(Instant::now() < end, "{what}\n--- here\n{}\n--- there\n{}", here.text(), there.text());
    }
}

#[test]
#[ignore = "needs Wine, and the program built for Windows"]
fn the_workbench_in_the_other_console_is_the_same_picture() {
    let home = home();
    for folder in ["here", "there"] {
        let filled = program(home.path(), &["--demo", "--data", folder, "stock", "list"]).output();
        assert!(filled.expect("the program runs").status.success());
    }
    // The two folders are told apart by their marks alone.
    let here = Command::from(program(home.path(), &["--data", "here"]));
    let (mut here, mut there) = (Session::open(here, 30, 100), there(home.path(), "there"));
    for session in [&mut here, &mut there] {
        session.wait_for("a sheet");
    }
    alike("at the start", &mut here, &mut there);
    for (keys, shown) in WAY {
        for session in [&mut here, &mut there] {
            session.send(keys);
            session.wait_for(shown);
        }
        alike(shown, &mut here, &mut there);
    }
    println!("{}", there.text());
    for session in [&mut here, &mut there] {
        session.send("q");
        assert!(session.wait_end().success());
        session.assert_handed_back();
    }
}
