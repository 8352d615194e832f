//! The program itself in a terminal: start, every pane, every way out, odd terminals, and one whole errand.

use super::harness::Session;
use crate::faulty;
use pty_process::blocking::Command;
use rustix::process::Signal;
use std::os::unix::process::ExitStatusExt as _;
use std::path::Path;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A home with nothing in it, for settings, data and throw-away copies.
fn home() -> TempDir {
    let home = tempfile::tempdir().expect("a folder");
    std::fs::create_dir(home.path().join("tmp")).expect("a folder");
    home
}

/// The program with nothing of the person's around it but the variables named.
fn command(home: &Path, arguments: &[&str], environment: &[(&str, &str)]) -> Command {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
    command.args(arguments);
    let mut command = surrounded(command, home);
    command.envs(environment.iter().copied());
    Command::from(command)
}

fn surrounded(mut command: std::process::Command, home: &Path) -> std::process::Command {
    let orders: Vec<_> =
        command.get_envs().filter_map(|(k, v)| Some((k.to_owned(), v?.to_owned()))).collect();
    command.env_clear().envs(orders).current_dir(home);
    command.env("HOME", home).env("TMPDIR", home.join("tmp")).env("TERM", "xterm-256color");
    command
}

fn start_in(home: &Path, arguments: &[&str], environment: &[(&str, &str)]) -> Session {
    let mut session = Session::open(command(home, arguments, environment), 24, 80);
    session.wait_for("a sheet");
    session
}

/// The demo in a folder that goes with the test.
struct Demo {
    session: Session,
    home: TempDir,
}

fn demo_with(environment: &[(&str, &str)]) -> Demo {
    let home = home();
    Demo { session: start_in(home.path(), &["--demo"], environment), home }
}

fn demo() -> Demo {
    demo_with(&[])
}

impl Demo {
    /// Leaves by `q`, and finds the terminal and the temporary folder as they were.
    #[track_caller]
    fn leave(mut self) {
        self.session.send("q");
        assert!(self.session.wait_end().success());
        self.assert_clean();
    }

    #[track_caller]
    fn assert_clean(&self) {
        self.session.assert_handed_back();
        let left: Vec<_> = std::fs::read_dir(self.home.path().join("tmp")).expect("a folder").collect();
        assert!(left.is_empty(), "{left:?}");
    }
}

/// What each pane shows in the demo and no other pane does.
const PANES: [(&str, &str); 4] =
    [("1", "upright"), ("2", "reveal"), ("3", "Compare real chips"), ("4", "on hand│booked")];

#[test]
fn every_pane_opens_by_its_digit_and_by_tab() {
    let mut demo = demo();
    for (digit, words) in PANES {
        demo.session.send(digit);
        demo.session.wait_for(words);
    }
    for (_, words) in PANES {
        demo.session.send("\t");
        demo.session.wait_for(words);
    }
    let restored = |session: &Session| session.count("\x1b[?1049l");
    assert_eq!(restored(&demo.session), 0);
    demo.session.send("q");
    assert!(demo.session.wait_end().success());
    assert_eq!(restored(&demo.session), 1);
    demo.assert_clean();
}

#[test]
fn control_c_leaves_from_a_text_field_too() {
    let mut demo = demo();
    demo.session.send("p");
    demo.session.wait_for("Piece, width x height");
    demo.session.send("q");
    demo.session.drain(Duration::from_millis(50));
    assert!(demo.session.screen().alternate_screen());
    demo.session.send("\x03");
    assert!(demo.session.wait_end().success());
    demo.assert_clean();
}

#[test]
fn signals_end_the_program_and_hand_the_terminal_back() {
    for (signal, number) in [(Signal::TERM, 15), (Signal::HUP, 1), (Signal::INT, 15)] {
        let mut demo = demo();
        demo.session.signal(signal);
        assert_eq!(demo.session.wait_end().signal(), Some(number));
        demo.assert_clean();
    }
}

#[test]
fn a_closed_terminal_ends_the_program() {
    let mut demo = demo();
    let began = Instant::now();
    demo.session.close_terminal();
    demo.session.wait_end();
    assert!(began.elapsed() < Duration::from_secs(15), "{:?}", began.elapsed());
    let left: Vec<_> = std::fs::read_dir(demo.home.path().join("tmp")).expect("a folder").collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn a_fault_hands_the_terminal_back_before_it_is_told() {
    let home = home();
    let command = surrounded(faulty::program(&["--demo"]), home.path());
    let mut demo = Demo { session: Session::open(command.into(), 24, 80), home };
    demo.session.wait_for("a sheet");
    demo.session.send(faulty::FATAL.to_string());
    assert!(!demo.session.wait_end().success());
    demo.assert_clean();
    assert_eq!(demo.session.count("\x1b[?1049l"), 1);
    let text = demo.session.text().replace('\n', "");
    assert!(text.contains(&format!("trimside: stopped by a fault of its own: {}", faulty::FAULT)), "{text}");
}

#[test]
fn stopped_from_outside_and_continued() {
    let mut demo = demo();
    demo.session.signal(Signal::TSTP);
    demo.session.wait_stopped();
    demo.session.assert_handed_back();
    demo.session.signal(Signal::CONT);
    demo.session.wait_until("the screen again", |screen| {
        screen.alternate_screen() && screen.contents().contains("a sheet")
    });
    assert!(demo.session.is_raw());
    demo.leave();
}

#[test]
fn the_suspend_key_gives_a_shell_back_and_fg_repaints() {
    let home = home();
    let shell = Command::new("/bin/sh")
        .arg("-i")
        .current_dir(home.path())
        .env_remove("ENV")
        .env("HOME", home.path())
        .env("TMPDIR", home.path().join("tmp"))
        .env("PS1", "bench> ")
        .env("TERM", "xterm-256color")
        .env_remove("NO_COLOR");
    let mut session = Session::open(shell, 24, 80);
    session.wait_for("bench> ");
    session.send(format!("{} --demo\r", env!("CARGO_BIN_EXE_trimside")));
    session.wait_for("a sheet");
    session.send("4");
    session.wait_for("on hand│booked");
    session.send("\x1a");
    session.wait_until("the shell's screen", |screen| !screen.alternate_screen());
    session.send("echo $((40 + 2)) answered\r");
    session.wait_for("42 answered");
    session.send("fg\r");
    session.wait_for("on hand│booked");
    session.send("q");
    session.wait_until("the shell's screen", |screen| !screen.alternate_screen());
    session.send("exit\r");
    assert!(session.wait_end().success());
}

#[test]
fn any_size_at_any_time() {
    let mut demo = demo();
    for step in 0..150_u16 {
        demo.session.resize(1 + (step * 7) % 100, 1 + (step * 37) % 300);
        if step % 10 == 0 {
            demo.session.send("\t");
        }
    }
    demo.session.resize(0, 0);
    demo.session.resize(10, 40);
    demo.session.wait_for("trimside needs 60 x 18");
    demo.session.resize(40, 120);
    // A key that overtakes the news of the size would still find the window too small.
    demo.session.wait_until("panes drawn", |screen| screen.contents().contains("3 Palette"));
    demo.session.send("1");
    demo.session.wait_for("a sheet");
    demo.session.resize(10, 40);
    demo.session.wait_until("needed and present size", |screen| {
        screen.contents().replace('\n', " ").contains("this window has 40 x 10")
    });
    demo.leave();
}

#[test]
fn a_paste_is_one_event_and_does_not_submit() {
    let mut demo = demo();
    demo.session.send("p");
    demo.session.wait_for("Piece, width x height");
    demo.session.send("\x15\x1b[200~5x7\nq\x1b[201~");
    demo.session.wait_for("5x7");
    demo.session.wait_for("Piece, width x height");
    assert!(demo.session.screen().alternate_screen());
    demo.session.send("\x1b");
    demo.session
        .wait_until("the field closed", |screen| !screen.contents().contains("Piece, width x height"));
    demo.leave();
}

#[test]
fn a_paste_of_a_megabyte_harms_nothing() {
    let text = "2x3 upright, then turned\n".repeat(40_000);
    for opens_field in [false, true] {
        let mut demo = demo();
        if opens_field {
            demo.session.send("p");
            demo.session.wait_for("Piece, width x height");
        }
        demo.session.send(format!("\x1b[200~{text}\x1b[201~"));
        if opens_field {
            demo.session.send("\x1b");
            demo.session
                .wait_until("no field", |screen| !screen.contents().contains("Piece, width x height"));
            // An ESC and the next key must not become one.
            demo.session.drain(Duration::from_millis(50));
        }
        demo.session.send("4");
        demo.session.wait_for("on hand│booked");
        demo.leave();
    }
}

/// Colours other than the terminal's own foreground and background on the screen.
fn coloured_cells(session: &Session) -> usize {
    let (rows, columns) = session.screen().size();
    let cells =
        (0..rows).flat_map(|row| (0..columns).filter_map(move |column| session.screen().cell(row, column)));
    cells
        .filter(|cell| cell.fgcolor() != vt100::Color::Default || cell.bgcolor() != vt100::Color::Default)
        .count()
}

#[test]
fn no_color_leaves_marks_and_reverse_and_no_colour() {
    let mut demo = demo_with(&[("NO_COLOR", "1"), ("COLORTERM", "truecolor")]);
    for (digit, words) in PANES {
        demo.session.send(digit);
        demo.session.wait_for(words);
        demo.session.drain(Duration::from_millis(50));
        assert_eq!(coloured_cells(&demo.session), 0, "pane {digit}");
    }
    // An empty attribute command would cancel bold and reverse as well.
    assert_eq!(demo.session.count("\x1b[m"), 0);
    let (rows, columns) = demo.session.screen().size();
    let screen = demo.session.screen();
    let marked = (0..rows)
        .flat_map(|row| (0..columns).filter_map(move |column| screen.cell(row, column)))
        .any(|cell| cell.inverse() || cell.bold());
    assert!(marked, "nothing is bold or reversed");
    demo.leave();
}

#[test]
fn colours_are_no_more_than_the_terminal_announces() {
    for (term, colorterm, may_true, may_256) in [
        ("xterm-256color", "truecolor", true, true),
        ("xterm-256color", "", false, true),
        ("screen-256color", "", false, true),
        ("xterm-16color", "", false, false),
        ("linux", "", false, false),
        ("screen", "", false, false),
        ("tmux", "", false, false),
        ("tmux-256color", "", false, true),
        ("vt100", "", false, false),
    ] {
        let mut demo = demo_with(&[("TERM", term), ("COLORTERM", colorterm)]);
        demo.session.send("3");
        demo.session.wait_for("Compare real chips");
        demo.session.drain(Duration::from_millis(50));
        let (direct, of_256) = colours_beyond_sixteen(&demo.session);
        assert_eq!(direct > 0, may_true, "{term} {colorterm}: {direct} cells in direct color");
        assert_eq!(of_256 > 0, may_256 && !may_true, "{term} {colorterm}: {of_256} cells in the 256");
        demo.leave();
    }
}

/// Cells in direct colour, and cells in one of the 240 colours after the terminal's own sixteen.
fn colours_beyond_sixteen(session: &Session) -> (usize, usize) {
    let (rows, columns) = session.screen().size();
    let screen = session.screen();
    let cells = (0..rows).flat_map(|row| (0..columns).filter_map(move |column| screen.cell(row, column)));
    let colours: Vec<vt100::Color> = cells.flat_map(|cell| [cell.fgcolor(), cell.bgcolor()]).collect();
    let direct = colours.iter().filter(|colour| matches!(colour, vt100::Color::Rgb(..))).count();
    let beyond = colours.iter().filter(|colour| matches!(colour, vt100::Color::Idx(16..))).count();
    (direct, beyond)
}

#[test]
fn a_dumb_terminal_gets_one_sentence() {
    let home = home();
    let mut session = Session::open(command(home.path(), &["--demo"], &[("TERM", "dumb")]), 24, 200);
    assert_eq!(session.wait_end().code(), Some(1));
    session.assert_handed_back();
    assert_eq!(session.count("\x1b"), 0);
    let text = session.text();
    assert_eq!(text.trim().lines().count(), 1, "{text}");
    assert!(text.contains("TERM=dumb") && text.contains("trimside yield"), "{text}");
}

#[test]
fn without_a_terminal_there_is_one_sentence_and_no_output() {
    let home = home();
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
    command.env_clear().env("HOME", home.path()).env("TERM", "xterm").arg("--demo").current_dir(home.path());
    let output = command.stdin(std::process::Stdio::null()).output().expect("the program runs");
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(output.stdout, b"");
    let note = String::from_utf8(output.stderr).expect("text");
    assert_eq!(note.lines().count(), 1, "{note}");
    assert!(note.contains("standard output is not a terminal"), "{note}");
}

#[test]
fn keys_are_read_from_the_terminal_when_standard_input_is_something_else() {
    let home = home();
    let command = command(home.path(), &["--demo"], &[]).stdin(std::process::Stdio::null());
    let mut session = Session::open(command, 24, 80);
    session.wait_for("a sheet");
    session.send("4");
    session.wait_for("on hand│booked");
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn an_idle_bench_writes_nothing() {
    let mut demo = demo();
    demo.session.drain(Duration::from_millis(500));
    let ticks = demo.session.ticks();
    assert_eq!(demo.session.drain(Duration::from_millis(1_500)), 0);
    assert!(demo.session.ticks() - ticks <= 5, "{} ticks", demo.session.ticks() - ticks);
    demo.leave();
}

#[test]
fn a_terminal_that_reads_slowly_misses_nothing() {
    let mut demo = demo();
    demo.session.send("4");
    demo.session.wait_for("on hand│booked");
    // Far more frames than the line holds, and nobody reads one of them for a while.
    for _ in 0..40 {
        demo.session.send_unread("jjjjjjjjkkkkkkkk\t\t\t\t");
        demo.session.look_away(Duration::from_millis(5));
    }
    demo.session.send("1");
    demo.session.wait_for("a sheet");
    demo.leave();
}

#[test]
fn copying_sends_what_the_pane_shows_to_the_clipboard() {
    let mut demo = demo();
    demo.session.send("y");
    demo.session.wait_for("Copied");
    assert_eq!(demo.session.count("\x1b]52;c;"), 1);
    demo.leave();
}

#[test]
fn the_mouse_goes_on_and_off_by_one_key() {
    let mut demo = demo();
    let first = demo.session.screen().mouse_protocol_mode();
    demo.session.send("M");
    demo.session.wait_until("the other way", |screen| screen.mouse_protocol_mode() != first);
    demo.session.send("M");
    demo.session.wait_until("as before", |screen| screen.mouse_protocol_mode() == first);
    demo.leave();
}

/// Keys of a person who tries everything: printable ones, arrows, Tab, Enter, Esc, Backspace; no key that leaves.
fn wild_keys(seed: u64, count: usize) -> Vec<String> {
    let named = [
        "\r", "\x1b", "\t", "\x7f", "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[5~", "\x1b[6~", "\x15",
        "\x04",
    ];
    let printable: Vec<char> = (' '..='~').filter(|letter| *letter != 'q').collect();
    let mut state = seed;
    let mut next = |limit: usize| {
        // Steele and Vigna's splitmix64.
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((mixed ^ (mixed >> 31)) % limit as u64).unwrap_or(0)
    };
    let mut keys = Vec::new();
    for _ in 0..count {
        if next(3) == 0 {
            keys.push(named[next(named.len())].to_owned());
        } else {
            keys.push(printable[next(printable.len())].to_string());
        }
    }
    keys
}

#[test]
fn wild_keys_leave_the_program_alive_and_the_terminal_whole() {
    for seed in [2, 3, 5] {
        let mut demo = demo();
        for key in wild_keys(seed, 400) {
            demo.session.send(key);
            // An ESC and the next key must not become one.
            demo.session.drain(Duration::from_millis(1));
        }
        demo.session.drain(Duration::from_millis(100));
        // Whatever lies open: Ctrl-C leaves, a second one even while something is being saved.
        demo.session.send("\x03");
        // On a loaded machine the first takes its time, and a second one would cut its save short.
        for _ in 0..20 {
            demo.session.drain(Duration::from_millis(300));
            if !demo.session.is_running() {
                break;
            }
        }
        if demo.session.is_running() {
            demo.session.send("\x03");
        }
        assert!(demo.session.wait_end().success(), "seed {seed}\n{}", demo.session.text());
        demo.assert_clean();
    }
}

/// The count on hand in the Stock pane's row of that name.
fn on_hand(text: &str, name: &str) -> Option<u32> {
    // The count stands behind the size.
    let of = |rest: &str| rest.split_whitespace().skip_while(|word| *word != "in").nth(1)?.parse().ok();
    text.lines().find_map(|row| of(row.split(name).nth(1)?))
}

#[test]
fn sheets_that_were_logged_are_gone_after_closing_and_opening() {
    let home = home();
    let data = home.path().join("data");
    let data = data.to_str().expect("a path");
    let mut session = start_in(home.path(), &["--data", data, "--demo"], &[]);
    session.send("4");
    session.wait_for("on hand│booked");
    let count = |text: &str| on_hand(text, "plum stone, letter");
    session.wait_until("the row", |screen| count(&screen.contents()).is_some());
    let before = count(&session.text()).expect("a count");

    session.send("1");
    session.wait_for("a sheet");
    session.send("s");
    session.wait_for("Sheet: paper in stock");
    session.send("plum stone");
    session.wait_until("one row left", |screen| !screen.contents().contains("chalk, letter"));
    session.send("\r");
    session.wait_until("the paper taken", |screen| !screen.contents().contains("Sheet: paper in stock"));
    session.send("p");
    session.wait_for("Piece, width x height");
    session.send("\x152x3\r");
    session.wait_for("14 a sheet");
    session.send("-");
    session.wait_for("plum stone, letter used:");
    session.send("\x153\r");
    session.wait_until("the field closed", |screen| !screen.contents().contains("letter used:"));
    session.wait_until("the sync acknowledged", |screen| screen.contents().contains("· saved"));
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();

    let mut session = start_in(home.path(), &["--data", data], &[]);
    session.send("4");
    session.wait_for("on hand│booked");
    session.wait_until("three sheets fewer", |screen| count(&screen.contents()) == Some(before - 3));
    session.send("q");
    assert!(session.wait_end().success());
}
