//! The suspend key under a shell with job control, as a person presses it.

use super::harness::Session;
use pty_process::blocking::Command;

/// An interactive shell that reads no files of the person's.
fn shell() -> Session {
    let command = Command::new("/bin/sh")
        .arg("-i")
        .env_remove("ENV")
        .env("PS1", "bench> ")
        .env("TERM", "xterm-256color")
        .env_remove("NO_COLOR");
    let mut session = Session::open(command, 24, 120);
    session.wait_for("bench> ");
    session
}

#[test]
fn the_suspend_key_gives_the_shell_back_and_fg_repaints() {
    let mut session = shell();
    let program = std::env::current_exe().expect("a path");
    session.send(format!(
        "{} --exact pty::trial::program --ignored --nocapture --test-threads=1\r",
        program.display()
    ));
    session.wait_for("keys 0 last");
    assert!(session.screen().alternate_screen());

    session.send("\x1a");
    session.wait_until("the first screen", |screen| !screen.alternate_screen());
    // Typed before the shell is back: it must find the line whole.
    session.send("echo shell answers $((40 + 2))\r");
    session.wait_for("shell answers 42");

    session.send("fg\r");
    session.wait_for("last continued");
    assert!(session.screen().alternate_screen() && session.is_raw());

    session.send("q");
    session.wait_for("left after 1 keys");
    assert!(!session.screen().alternate_screen());
    session.send("exit\r");
    assert!(session.wait_end().success());
}

#[test]
fn a_wrapper_in_the_same_job_is_stopped_too() {
    let mut session = shell();
    let program = std::env::current_exe().expect("a path");
    // The inner shell is not interactive, so it shares the job with the program and must stop for the outer one.
    session.send(format!(
        "/bin/sh -c '{} --exact pty::trial::program --ignored --nocapture --test-threads=1; true'\r",
        program.display()
    ));
    session.wait_for("keys 0 last");
    session.send("\x1a");
    session.wait_until("the first screen", |screen| !screen.alternate_screen());
    // Typed before the shell is back: it must find the line whole.
    session.send("echo shell answers $((40 + 2))\r");
    session.wait_for("shell answers 42");
    session.send("fg\r");
    session.wait_for("last continued");
    session.send("q");
    session.wait_for("left after 1 keys");
    session.send("exit\r");
    session.wait_end();
}
