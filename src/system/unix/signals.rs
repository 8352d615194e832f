//! Which signals are heard, how to stop for the shell, and how to die of a signal.
//!
//! Signals are only reported from here; what follows from one is decided where all events are. It must not know the
//! model or the screen, except that a process asked twice to end, whose main thread does not move, is let go of by its
//! caller and goes.

use crate::system::told::{Heard, Signal, SignalReach, Stopped};
use nix::unistd::{getpgrp, getppid, getsid};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP, SIGWINCH};
use std::io;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How long the main thread may take to answer a first request to end before a second one is carried out here.
const PATIENCE: Duration = Duration::from_secs(2);

/// True where a shell may stop a program and bring it back.
pub const CAN_STOP: bool = true;

/// What a number means: SIGTERM, SIGINT and SIGQUIT come from outside (from the keyboard they arrive as keys).
fn meaning(number: i32) -> Option<Signal> {
    match number {
        SIGTERM | SIGINT | SIGQUIT => Some(Signal::Terminate),
        SIGHUP => Some(Signal::HangUp),
        SIGTSTP => Some(Signal::Suspend),
        SIGCONT => Some(Signal::Continue),
        _ => None,
    }
}

/// Starts the thread that hears signals and passes them to `tell`. `let_go` hands the terminal back without waiting for
/// it, before a process dies whose main thread does not move.
///
/// # Errors
/// When the system refuses the handlers or the thread.
pub fn listen(let_go: impl Fn() + Send + 'static, tell: impl Fn(Heard) + Send + 'static) -> io::Result<()> {
    let numbers = [SIGTERM, SIGINT, SIGQUIT, SIGHUP, SIGTSTP, SIGCONT, SIGWINCH];
    let mut heard = signal_hook::iterator::Signals::new(numbers)?;
    let body = move || {
        let mut asked: Option<Instant> = None;
        for number in heard.forever() {
            let Some(signal) = meaning(number) else {
                tell(Heard::Resized);
                continue;
            };
            if signal == Signal::Continue && STOPPING.swap(false, Ordering::SeqCst) {
                continue;
            }
            if signal.ends() {
                if asked.is_some_and(|at| at.elapsed() > PATIENCE) {
                    let_go();
                    let _ = signal_hook::low_level::emulate_default_handler(number);
                }
                asked.get_or_insert_with(Instant::now);
            }
            // Where nobody listens any more the main thread is on its way out, and must not be killed while it tidies up.
            tell(Heard::Signal(signal));
        }
    };
    std::thread::Builder::new().name("signal".to_owned()).spawn(body)?;
    Ok(())
}

/// Ends the process as the signal would have, so that whoever started it sees what happened. Call it last, after the
/// terminal was handed back; does nothing for signals that end nothing.
pub fn die_of(signal: Signal) {
    let number = match signal {
        Signal::Terminate => SIGTERM,
        Signal::HangUp => SIGHUP,
        Signal::Suspend | Signal::Continue => return,
    };
    let _ = signal_hook::low_level::emulate_default_handler(number);
}

/// True from the moment we ask to be stopped until the continuation was heard. A stop of the whole job reaches the
/// calling thread a moment after it was asked for; this tells that it has come and gone.
static STOPPING: AtomicBool = AtomicBool::new(false);

/// Stops; returns after the continuation, which is not reported then. The terminal must have been handed back before,
/// and [`listen`] called.
///
/// # Errors
/// When the system refuses.
pub fn stop(reach: SignalReach) -> io::Result<Stopped> {
    if reach == SignalReach::Job && !has_shell() {
        return Ok(Stopped::NobodyToContinue);
    }
    STOPPING.store(true, Ordering::SeqCst);
    match reach {
        // Not SIGTSTP: our own handler would hear it.
        SignalReach::Job => rustix::process::kill_current_process_group(rustix::process::Signal::STOP)?,
        SignalReach::Process => signal_hook::low_level::emulate_default_handler(SIGTSTP)?,
    }
    // Counted in turns, not in time: time goes on while the process is stopped.
    for _ in 0..1_000 {
        if !STOPPING.load(Ordering::SeqCst) {
            break;
        }
        std::thread::park_timeout(Duration::from_millis(1));
    }
    STOPPING.store(false, Ordering::SeqCst);
    Ok(Stopped::AndContinued)
}

/// True when a shell with job control is likely to be above us: we are not in the session leader's own group, and our
/// parent lives in our session (POSIX calls a group without such a parent orphaned and never stops it). A parent or a
/// leader outside our process namespace, as in a container, answers 0 and is no shell that would continue us.
fn has_shell() -> bool {
    let Ok(session) = getsid(None) else { return false };
    if session.as_raw() == 0 || getpgrp() == session {
        return false;
    }
    let parent = getppid();
    parent.as_raw() != 0 && getsid(Some(parent)) == Ok(session)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_signal_that_is_heard_has_a_meaning() {
        // Numbers by name from the system's own header; meanings from POSIX.1-2017, <signal.h>.
        let table = [
            (SIGTERM, Signal::Terminate, true),
            (SIGINT, Signal::Terminate, true),
            (SIGQUIT, Signal::Terminate, true),
            (SIGHUP, Signal::HangUp, true),
            (SIGTSTP, Signal::Suspend, false),
            (SIGCONT, Signal::Continue, false),
        ];
        for (number, signal, ends) in table {
            assert_eq!(meaning(number), Some(signal));
            assert_eq!(signal.ends(), ends);
        }
        assert_eq!(meaning(SIGWINCH), None);
    }
}
