//! Printing from the bench, the first questions, and the terminal's ground, in a terminal.

use super::harness::Session;
use pty_process::blocking::Command;
use std::path::Path;
use std::time::Duration;
use tempfile::TempDir;

pub fn home() -> TempDir {
    let home = tempfile::tempdir().expect("a folder");
    std::fs::create_dir(home.path().join("tmp")).expect("a folder");
    home
}

pub fn program(home: &Path, arguments: &[&str]) -> std::process::Command {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
    command.env_clear().current_dir(home).args(arguments);
    command.env("HOME", home).env("TMPDIR", home.join("tmp")).env("TERM", "xterm-256color");
    command.env("COLORTERM", "truecolor");
    command
}

fn open(home: &Path, arguments: &[&str]) -> Session {
    Session::open(Command::from(program(home, arguments)), 24, 100)
}

/// The demo with the swatch chart about to be printed.
fn at_the_swatch_chart(home: &Path) -> Session {
    to_the_swatch_chart(open(home, &["--data", "book", "--demo"]))
}

/// From the first screen of the demo to the swatch chart about to be printed.
pub fn to_the_swatch_chart(mut session: Session) -> Session {
    session.wait_for("a sheet");
    session.send("3");
    session.wait_for("Compare real chips");
    session.send("\x10");
    session.wait_for("page of 8 1/2 x 11 in");
    session
}

#[test]
fn a_page_printed_from_the_bench_is_the_one_that_the_command_prints() {
    let home = home();
    let mut session = at_the_swatch_chart(home.path());
    session.send("\r");
    session.wait_for("Wrote swatches.pdf");
    session.wait_for("path copied");
    let from_bench = std::fs::read(home.path().join("swatches.pdf")).expect("the file");
    // Again: it is there already, so the bench asks, and the safe answer leaves it.
    session.send("\x10");
    session.wait_for("page 1 of 1: Swatch chart");
    session.send("\r");
    session.wait_for("is there already");
    session.send("\r");
    session.wait_until("the question closed", |s| !s.contents().contains("is there already"));
    session.send("\x03");
    assert!(session.wait_end().success());
    session.assert_handed_back();
    let output =
        program(home.path(), &["print", "swatches", "--data", "book", "--out", "other.pdf"]).output();
    assert!(output.expect("the program runs").status.success());
    let from_command = std::fs::read(home.path().join("other.pdf")).expect("the file");
    assert!(from_bench == from_command, "{} and {} bytes", from_bench.len(), from_command.len());
}

/// A print command of the test's own: it keeps what it is given and answers as a queue does.
fn stand_in(home: &Path) -> std::path::PathBuf {
    use std::os::unix::fs::PermissionsExt;
    let folder = home.join("programs");
    std::fs::create_dir_all(&folder).expect("a folder");
    let scripts = [
        (
            "lp",
            "#!/bin/sh\nprintf '%s\\n' \"$@\" > \"$HOME/asked\"\n/bin/cat > \"$HOME/printed.pdf\"\necho 'request id is attic-7 (1 file(s))'\n",
        ),
        (
            "lpstat",
            "#!/bin/sh\ncase \"$1\" in -e) printf 'attic\\ncellar\\n';; -d) echo 'system default destination: cellar';; esac\n",
        ),
    ];
    for (name, script) in scripts {
        let file = folder.join(name);
        std::fs::write(&file, script).expect("a script");
        std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o755)).expect("made executable");
    }
    folder
}

#[test]
fn one_key_prints_on_the_chosen_printer_and_its_answer_is_shown() {
    let home = home();
    let programs = stand_in(home.path());
    let mut command = program(home.path(), &["--data", "book", "--demo"]);
    command.env("PATH", &programs);
    let mut session = to_the_swatch_chart(Session::open(Command::from(command), 30, 110));
    // The system's usual printer first; one key goes to the next.
    session.wait_for("cellar");
    session.send("d");
    session.wait_for("attic");
    session.send("y\x15");
    session.send("2\r");
    session.send("u1\r");
    session.send("P");
    session.wait_for("request id is attic-7");
    session.send("\x03");
    assert!(session.wait_end().success());
    let asked = std::fs::read_to_string(home.path().join("asked")).expect("what it was asked");
    let asked: Vec<&str> = asked.lines().collect();
    assert_eq!(asked[..4], ["-o", "print-scaling=none", "-n", "2"]);
    assert_eq!(asked[4..], ["-t", "Swatch chart", "-d", "attic", "-P", "1"]);
    let printed = std::fs::read(home.path().join("printed.pdf")).expect("the pages");
    let output =
        program(home.path(), &["print", "swatches", "--data", "book", "--out", "other.pdf"]).output();
    assert!(output.expect("the program runs").status.success());
    assert!(
        printed == std::fs::read(home.path().join("other.pdf")).expect("the file"),
        "other pages were printed"
    );
}

#[test]
fn without_a_print_command_the_file_is_written_as_ever() {
    let home = home();
    let mut session = at_the_swatch_chart(home.path());
    session.send("P");
    session.wait_for("has no print command");
    session.send("\r");
    session.wait_for("Wrote swatches.pdf");
    session.send("\x03");
    assert!(session.wait_end().success());
}

#[test]
fn a_new_folder_begins_with_questions_and_a_second_start_does_not() {
    let home = home();
    let mut session = open(home.path(), &["--data", "book"]);
    for question in ["1 of 4", "2 of 4", "3 of 4", "4 of 4"] {
        session.wait_for(question);
        session.send("\r");
    }
    session.wait_for("A worked example");
    session.send("\r");
    session.wait_for("a sheet");
    session.send("q");
    assert!(session.wait_end().success());
    let mut session = open(home.path(), &["--data", "book"]);
    session.wait_for("14 a sheet");
    assert!(!session.text().contains("1 of 4"), "{}", session.text());
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

const ASK: &str = "\x1b]11;?\x1b\\";

fn with_auto(home: &Path) -> Session {
    let folder = home.join(".config/trimside");
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::write(folder.join("settings.ron"), "( theme: \"auto\" )").expect("a file");
    let mut session = open(home, &["--demo"]);
    session.wait_for("a sheet");
    session
}

fn ground(session: &Session) -> vt100::Color {
    session.screen().cell(3, 60).map(vt100::Cell::bgcolor).expect("a cell")
}

#[test]
fn the_ground_is_asked_after_the_first_frame_and_answered_or_not_the_bench_is_there() {
    let home = home();
    let mut session = with_auto(home.path());
    session.wait_until("the question", |_| true);
    session.drain(Duration::from_millis(100));
    assert_eq!(session.count(ASK), 1);
    assert_eq!(ground(&session), vt100::Color::Default, "nothing was told: the terminal's own colors");
    session.send("\x1b]11;rgb:ffff/ffff/ffff\x1b\\");
    session.wait_until("the light theme", |s| {
        s.cell(3, 60).is_some_and(|c| c.bgcolor() != vt100::Color::Default)
    });
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn a_late_answer_is_swallowed_and_typed_into_no_field() {
    let home = home();
    let mut session = with_auto(home.path());
    session.send("p\x15");
    session.wait_for("Piece, width x height");
    session.look_away(Duration::from_millis(900));
    session.send("\x1b]11;rgb:ff");
    session.look_away(Duration::from_millis(60));
    session.send("ff/ffff/ffff\x1b\\");
    session.send("2x3");
    session.wait_for("2x3");
    session.drain(Duration::from_millis(100));
    assert!(!session.text().contains("rgb") && !session.text().contains("ff/"), "{}", session.text());
    assert_eq!(ground(&session), vt100::Color::Default, "a late answer changes nothing");
    session.send("\x03");
    assert!(session.wait_end().success());
}

#[test]
fn other_themes_ask_the_terminal_nothing() {
    let home = home();
    let mut session = open(home.path(), &["--demo"]);
    session.wait_for("a sheet");
    session.drain(Duration::from_millis(100));
    assert_eq!(session.count("\x1b]11"), 0);
    session.send("q");
    assert!(session.wait_end().success());
}

/// A click as a terminal sends it: decimal places counted from one (SGR, mode 1006 of xterm's control sequences).
fn click(session: &mut Session, text: &str) {
    let screen = session.text();
    let (y, x) = screen
        .lines()
        .enumerate()
        .find_map(|(y, line)| Some((y, line[..line.find(text)?].chars().count())))
        .unwrap_or_else(|| panic!("\"{text}\" is not shown\n{screen}"));
    let (column, row) = (x + 1, y + 1);
    session.send(format!("\x1b[<0;{column};{row}M\x1b[<0;{column};{row}m"));
}

#[test]
fn the_real_mouse_picks_and_turns_in_a_terminal() {
    let home = home();
    let mut session = open(home.path(), &["--demo"]);
    session.wait_for("a sheet");
    assert_ne!(session.screen().mouse_protocol_mode(), vt100::MouseProtocolMode::None, "on as it comes");
    click(&mut session, "4 Stock");
    session.wait_for("on hand");
    click(&mut session, "Log");
    session.wait_for("reason");
    click(&mut session, "Shelf");
    session.wait_for("booked   free");
    let third =
        session.text().lines().nth(6).unwrap_or_default().trim_start_matches('\u{258c}').trim().to_owned();
    let name = third.split("  ").next().unwrap_or_default().to_owned();
    assert!(!name.is_empty(), "{}", session.text());
    click(&mut session, &name);
    session.wait_until("the third line is marked", |s| {
        s.contents().lines().any(|l| l.trim_start().starts_with('\u{258c}') && l.contains(&name))
    });
    // The wheel, one row up, over the list (button 64); then a click on the marked row asks for a count.
    session.send("\x1b[<64;4;8M");
    session.wait_until("the mark went up", |s| {
        s.contents().lines().any(|l| l.trim_start().starts_with('\u{258c}') && !l.contains(&name))
            && !s.contents().lines().any(|l| l.trim_start().starts_with('\u{258c}') && l.contains(&name))
    });
    click(&mut session, &name);
    session.wait_until("marked again", |s| {
        s.contents().lines().any(|l| l.trim_start().starts_with('\u{258c}') && l.contains(&name))
    });
    click(&mut session, &name);
    session.wait_for("Enter take");
    session.send("\x03");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn shift_is_told_once_a_person_not_once_a_start() {
    let home = home();
    // A drag with the left button: 32 beside the button's own 0.
    let drag = "\x1b[<0;10;10M\x1b[<32;12;10M\x1b[<0;12;10m";
    let mut session = open(home.path(), &["--data", "book"]);
    session.wait_for("Esc");
    session.send("\x1b");
    session.wait_for("a sheet");
    session.send(drag);
    session.wait_for("hold Shift");
    session.send("\x03");
    assert!(session.wait_end().success());
    let mut session = open(home.path(), &["--data", "book"]);
    session.wait_for("a sheet");
    session.send(drag);
    click(&mut session, "saved");
    session.wait_for("Everything is saved");
    assert!(!session.text().contains("hold Shift"), "{}", session.text());
    session.send("\x03");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

/// What the plain mode says to these lines.
fn plain(home: &Path, lines: &str) -> String {
    use std::io::Write as _;
    use std::process::Stdio;
    let mut child = program(home, &["--data", "book", "--plain"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    child.stdin.take().expect("a pipe").write_all(lines.as_bytes()).expect("lines are taken");
    let output = child.wait_with_output().expect("it ends");
    assert!(output.status.success(), "{output:?}");
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn the_first_questions_are_asked_in_the_plain_mode_too_and_the_command_line_knows_the_answer() {
    let home = home();
    let said = plain(home.path(), "furlongs\nmillimeters\n\nwide\n300\ntable\nagainst a stop\n\nq\n");
    for words in [
        "question: 1 of 4",
        "\"furlongs\" is not an answer",
        "question: 2 of 4",
        "question: 3 of 4",
        "question: 4 of 4",
        "\"table\" is not an answer: write against a fence",
        "refused: ",
        "example: How many pieces of 50 x 75 mm does one sheet of A4 give?",
    ] {
        assert!(said.to_lowercase().contains(&words.to_lowercase()), "{words}\n{said}");
    }
    let again = plain(home.path(), "q\n");
    assert!(!again.contains("1 of 4") && again.contains("50 x 75 mm"), "{again}");
    assert!(again.contains("set against a stop behind the blade"), "{again}");
    // A project of the demo, planned with the longest cut of the book, said nowhere on the command line.
    let other = self::home();
    let fill = program(other.path(), &["--data", "book", "--demo", "--plain"])
        .stdin(std::process::Stdio::null())
        .output()
        .expect("it runs");
    assert!(fill.status.success());
    let plan = |arguments: &[&str]| -> serde_json::Value {
        let mut all =
            vec!["plan", "--data", "book", "--project", "Hedgerow notes, class", "--work", "2", "--json"];
        all.extend(arguments);
        let output = program(other.path(), &all).output().expect("it runs");
        assert!(output.status.success(), "{output:?}");
        let mut answer: serde_json::Value = serde_json::from_slice(&output.stdout).expect("an answer");
        answer["totals"]["seconds"] = serde_json::Value::Null;
        answer
    };
    let (free, bound) = (plan(&[]), plan(&["--max-cut", "7"]));
    assert_ne!(free, bound, "a cut of the plan is longer than 7 in");
    let said = plain(other.path(), "1\ntrimmer\n7\nCtrl-s\nq\n");
    assert!(said.contains("longest cut to 7 in"), "{said}");
    assert_eq!(plan(&[]), bound);
}

#[test]
fn a_resized_window_is_painted_whole_and_keeps_the_pick() {
    let home = home();
    let mut session = open(home.path(), &["--demo"]);
    session.wait_for("a sheet");
    session.send("4jjj");
    let name = "chalk, letter";
    let picked = |s: &vt100::Screen| {
        s.contents().lines().any(|l| l.trim_start().starts_with('\u{258c}') && l.contains(name))
    };
    session.wait_until("the fourth line is picked", picked);
    session.drain(Duration::from_millis(150));
    let trimmed =
        |s: &vt100::Screen| s.contents().lines().map(|l| l.trim_end().to_owned()).collect::<Vec<_>>();
    let before = trimmed(session.screen());
    for (rows, columns) in [(10, 40), (50, 160), (1, 1), (24, 80), (18, 60)] {
        session.resize(rows, columns);
        session.drain(Duration::from_millis(150));
    }
    session.wait_until("still picked in the smallest window", picked);
    session.resize(24, 100);
    session.wait_until("the same screen as before", |s| trimmed(s) == before);
    session.send("q");
    assert!(session.wait_end().success());
}
