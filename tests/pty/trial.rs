//! The guard, the channel and the signals, tried with a program as small as can be.
//!
//! The program is the test binary itself, called again under a pseudo terminal with the name of the one test that is
//! the program.

use super::harness::Session;
use crate::skipped::{Needs, skip};
use crossterm::event::{KeyCode, KeyModifiers};
use pty_process::blocking::Command;
use ratatui::Frame;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use rustix::process::Signal as Kill;
use std::time::{Duration, Instant};
use trimside::runtime::clipboard;
use trimside::runtime::events::{Input, gather, listen};
use trimside::runtime::line::Wishes;
use trimside::runtime::terminal::Guard;
use trimside::system::signals::die_of;
use trimside::system::told::{Signal, SignalReach, Stopped};

/// What the program has seen.
#[derive(Default)]
struct Seen {
    keys: usize,
    last: String,
    pasted: usize,
}

#[test]
#[ignore = "the program that the tests in this file run under a pseudo terminal"]
fn program() {
    let busy = std::env::var_os("TRIAL_BUSY").is_some();
    let mut guard = Guard::enter(Wishes { mouse: true, focus: true }).expect("a terminal");
    let ears = listen::<u32>(Some(guard.line())).expect("threads");
    let mut seen = Seen::default();
    let end = loop {
        if guard.draw(|frame| view(frame, &seen)).is_err() {
            break Some(Signal::HangUp);
        }
        let mut end = None;
        for input in gather(&ears.inbox) {
            match input {
                Input::Key(key) if key.modifiers == KeyModifiers::CONTROL => {
                    let KeyCode::Char('z') = key.code else { continue };
                    match guard.suspend(SignalReach::Job, None).expect("back again") {
                        Stopped::AndContinued => seen.last = "continued".into(),
                        Stopped::NobodyToContinue => seen.last = "no shell".into(),
                    }
                }
                Input::Key(key) => {
                    seen.keys += 1;
                    seen.last = format!("{:?}", key.code);
                    match key.code {
                        KeyCode::Char('q') => end = Some(None),
                        KeyCode::Char('p') => panic!("the fence slipped"),
                        KeyCode::Char('f') => fault_elsewhere(),
                        KeyCode::Char('m') => guard.set_mouse(false).expect("told"),
                        KeyCode::Char('c') => {
                            let bytes = clipboard::copy("2x3", clipboard::Between::Nothing).expect("short");
                            guard.send(&bytes).expect("told");
                        }
                        KeyCode::Char('b') if busy => stand_still(),
                        _ => {}
                    }
                }
                Input::Paste(text) => seen.pasted += text.len(),
                Input::Signal(Signal::Suspend) => {
                    guard.suspend(SignalReach::Process, None).expect("back again");
                    seen.last = "continued".into();
                }
                // The terminal's end brings SIGCONT with SIGHUP, so the modes may not be there to set.
                Input::Signal(Signal::Continue) if guard.reassert().is_err() => {
                    end = Some(Some(Signal::HangUp))
                }
                Input::Signal(Signal::Continue) => {}
                Input::Signal(signal) => end = Some(Some(signal)),
                Input::Ground(colour) => seen.last = format!("ground {colour:.2?}"),
                Input::HangUp => end = Some(Some(Signal::HangUp)),
                Input::Resize(..) | Input::Mouse(_) | Input::Focus(_) | Input::Answer(_) => {}
            }
        }
        if let Some(end) = end {
            break end;
        }
    };
    drop(guard);
    if let Some(signal) = end {
        die_of(signal);
    }
    println!("left after {} keys", seen.keys);
}

fn view(frame: &mut Frame<'_>, seen: &Seen) {
    let area = frame.area();
    let lines = [
        Line::from(format!("size {}x{}", area.width, area.height)),
        Line::from(format!("keys {} last {} pasted {}.", seen.keys, seen.last, seen.pasted)),
    ];
    frame.render_widget(Paragraph::new(lines.to_vec()), area);
}

fn fault_elsewhere() {
    let worker = std::thread::Builder::new().name("solver".into());
    let joined = worker.spawn(|| panic!("the strip was too narrow")).expect("a thread").join();
    assert!(joined.is_err());
}

/// A main thread that answers nobody.
fn stand_still() {
    std::thread::park_timeout(Duration::from_secs(120));
}

fn start_with(environment: &[(&str, &str)]) -> Session {
    start_as(Command::new(std::env::current_exe().expect("a path")), environment)
}

fn start_as(mut command: Command, environment: &[(&str, &str)]) -> Session {
    command =
        command.args(["--exact", "pty::trial::program", "--ignored", "--nocapture", "--test-threads=1"]);
    command = command
        .envs(environment.iter().copied())
        .env("TERM", "xterm-256color")
        .env_remove("NO_COLOR")
        .env_remove("RUST_BACKTRACE");
    let mut session = Session::open(command, 24, 80);
    session.wait_for("keys 0 last");
    assert!(session.is_raw());
    assert!(session.screen().alternate_screen() && session.screen().bracketed_paste());
    session
}

fn start() -> Session {
    start_with(&[])
}

/// Each sequence that hands something back was written this often.
#[track_caller]
fn assert_left(session: &Session, times: usize) {
    for (what, sequence) in [
        ("first screen", "\x1b[?1049l"),
        ("paste", "\x1b[?2004l"),
        ("cursor", "\x1b[?25h"),
        ("mouse", "\x1b[?1000l"),
        ("focus", "\x1b[?1004l"),
    ] {
        assert_eq!(session.count(sequence), times, "{what}");
    }
}

#[test]
fn quitting_hands_the_terminal_back_once() {
    let mut session = start();
    session.send("aq");
    assert!(session.wait_end().success());
    session.assert_handed_back();
    assert_left(&session, 1);
    assert!(session.text().contains("left after 2 keys"), "{}", session.text());
}

#[test]
fn a_panic_hands_back_first_and_is_readable_after() {
    let mut session = start();
    session.send("p");
    assert!(!session.wait_end().success());
    session.assert_handed_back();
    assert_left(&session, 1);
    let text = session.text().replace('\n', "");
    assert!(text.contains("trimside: stopped by a fault of its own: the fence slipped"), "{text}");
    assert!(text.contains("trial.rs:"), "{text}");
}

#[test]
fn a_worker_panic_leaves_the_screen_alone_and_is_told_later() {
    let mut session = start();
    session.send("f");
    session.wait_for("last Char('f')");
    assert!(session.screen().alternate_screen());
    assert!(!session.text().contains("strip"), "{}", session.text());
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
    assert_left(&session, 1);
    let text = session.text().replace('\n', "");
    assert!(
        text.contains("the solver thread failed while the bench was open: the strip was too narrow"),
        "{text}"
    );
}

#[test]
fn signals_that_end_hand_the_terminal_back_and_end_by_themselves() {
    use std::os::unix::process::ExitStatusExt as _;
    for (signal, number) in [(Kill::TERM, 15), (Kill::HUP, 1), (Kill::INT, 15), (Kill::QUIT, 15)] {
        let mut session = start();
        session.signal(signal);
        assert_eq!(session.wait_end().signal(), Some(number));
        session.assert_handed_back();
        assert_left(&session, 1);
    }
}

#[test]
fn a_closed_terminal_ends_the_program_without_spinning() {
    use std::os::unix::process::ExitStatusExt as _;
    let mut session = start();
    let began = Instant::now();
    session.close_terminal();
    assert_eq!(session.wait_end().signal(), Some(1));
    assert!(began.elapsed() < Duration::from_secs(10), "{:?}", began.elapsed());
}

#[test]
fn a_second_request_ends_a_program_whose_main_thread_stands_still() {
    use std::os::unix::process::ExitStatusExt as _;
    let mut session = start_with(&[("TRIAL_BUSY", "1")]);
    session.send("b");
    session.drain(Duration::from_millis(100));
    session.signal(Kill::TERM);
    session.drain(Duration::from_millis(2_100));
    session.signal(Kill::TERM);
    assert_eq!(session.wait_end().signal(), Some(15));
    session.assert_handed_back();
    assert_left(&session, 1);
}

#[test]
fn a_stop_from_outside_hands_back_and_the_continuation_repaints() {
    let mut session = start();
    session.signal(Kill::TSTP);
    session.wait_stopped();
    session.assert_handed_back();
    assert_left(&session, 1);
    session.signal(Kill::CONT);
    session.wait_for("last continued");
    assert!(session.is_raw() && session.screen().alternate_screen());
    session.send("aq");
    assert!(session.wait_end().success());
    session.assert_handed_back();
    assert_left(&session, 2);
}

#[test]
fn a_stop_that_cannot_be_heard_is_mended_at_the_continuation() {
    let mut session = start();
    session.signal(Kill::STOP);
    session.wait_stopped();
    let drawn = session.count("80x24");
    session.signal(Kill::CONT);
    let end = Instant::now() + Duration::from_secs(20);
    while session.count("80x24") == drawn {
        assert!(Instant::now() < end, "not repainted");
        session.drain(Duration::from_millis(10));
    }
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn the_suspend_key_does_not_freeze_a_window_without_a_shell() {
    let mut session = start();
    session.send("\x1a");
    session.wait_for("last no shell");
    assert!(session.is_raw() && session.screen().alternate_screen());
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

/// As in a container: the parent and the session's leader live outside, and the system answers 0 for them.
#[test]
fn a_parent_outside_the_process_namespace_is_no_shell() {
    let apart = ["--pid", "--fork", "--mount-proc"];
    let may = std::process::Command::new("unshare").args(apart).arg("true").status();
    if !may.is_ok_and(|status| status.success()) {
        skip(Needs::Tool("namespace"), "of processes");
        return;
    }
    let itself = std::env::current_exe().expect("a path");
    let mut session = start_as(Command::new("unshare").args(apart).arg(itself), &[]);
    session.send("\x1a");
    session.wait_for("last no shell");
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn an_idle_program_writes_nothing_and_uses_no_time() {
    let mut session = start();
    session.drain(Duration::from_millis(200));
    let ticks = session.ticks();
    assert_eq!(session.drain(Duration::from_millis(1_500)), 0);
    assert!(session.ticks() - ticks <= 1, "{} ticks", session.ticks() - ticks);
    // A key that changes nothing on screen costs nothing either: Ctrl-A is ignored by the program.
    session.send("\x01");
    assert_eq!(session.drain(Duration::from_millis(200)), 0);
}

#[test]
fn frames_are_synchronized_and_whole() {
    let mut session = start();
    session.send("x");
    session.wait_for("keys 1");
    session.send("q");
    assert!(session.wait_end().success());
    let (begun, ended) = (session.count("\x1b[?2026h"), session.count("\x1b[?2026l"));
    // Leaving ends an update once more, in case a frame was cut off.
    assert!(begun >= 2);
    assert_eq!(ended, begun + 1);
}

#[test]
fn a_paste_of_a_megabyte_is_one_event_and_no_key() {
    let mut session = start();
    let line = "2x3 upright, then turned\n";
    let text = line.repeat(1_000_000 / line.len());
    session.send(format!("\x1b[200~{text}\x1b[201~"));
    session.wait_for(&format!("keys 0 last  pasted {}.", text.len()));
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn damaged_reports_do_not_make_the_program_deaf() {
    let mut session = start();
    session.send(b"\x1b[<0;0;0M\x1b[0;0R\x1b[<0;99999999;1M\x1b[M\x01\x02\x03\x1b]11;rgb:0/0/0\x07\xff\xc3");
    session.send("k");
    session.wait_for("keys 1 last Char('k')");
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn a_flood_of_keys_is_taken_to_the_last() {
    let mut session = start();
    session.send("x".repeat(5_000));
    session.wait_for("keys 5000 last");
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn escape_is_a_key_of_its_own_after_a_moment() {
    let mut session = start();
    session.send("\x1b");
    session.wait_for("keys 1 last Esc");
    session.send("\x1b[A");
    session.wait_for("keys 2 last Up");
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn a_storm_of_sizes_ends_with_the_last() {
    let mut session = start();
    for step in 0..120_u16 {
        session.resize(1 + (step * 7) % 100, 1 + (step * 37) % 300);
    }
    session.resize(0, 0);
    session.resize(65_535, 1);
    session.resize(30, 100);
    session.wait_for("size 100x30");
    session.send("q");
    assert!(session.wait_end().success());
    session.assert_handed_back();
}

#[test]
fn mouse_reports_can_be_turned_off() {
    let mut session = start();
    assert_ne!(session.screen().mouse_protocol_mode(), vt100::MouseProtocolMode::None);
    session.send("m");
    session.wait_until("no mouse", |screen| screen.mouse_protocol_mode() == vt100::MouseProtocolMode::None);
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(session.count("\x1b[?1000l"), 1);
}

#[test]
fn copying_sends_the_clipboard_string() {
    let mut session = start();
    session.send("c");
    session.wait_for("last Char('c')");
    // "2x3" as coreutils' base64 encodes it.
    assert_eq!(session.count("\x1b]52;c;Mngz\x07"), 1);
    session.send("q");
    assert!(session.wait_end().success());
}
