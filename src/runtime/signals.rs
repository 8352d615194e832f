//! Which signals are heard, how to stop for the shell, and how to die of a signal.
//!
//! Signals are only reported from here; what follows from one is decided where all events are. It must not know the
//! model or the screen, except that a process told twice to end, whose main thread does not move, hands its terminal
//! back and goes.

use super::line::Line;
use nix::unistd::{getpgrp, getppid, getsid};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP, SIGWINCH};
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How long the main thread may take to answer a first request to end before a second one is carried out here.
const PATIENCE: Duration = Duration::from_secs(2);

/// A signal that means something to the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// SIGTERM, SIGINT or SIGQUIT from outside (from the keyboard they arrive as keys): save and end.
    Terminate,
    /// SIGHUP: the terminal went away or the session ends. Save, write nothing, end.
    HangUp,
    /// SIGTSTP from outside: stop, if stopping makes sense.
    Suspend,
    /// SIGCONT: running again; the screen may be anybody's work.
    Continue,
}

impl Signal {
    fn of(number: i32) -> Option<Self> {
        match number {
            SIGTERM | SIGINT | SIGQUIT => Some(Self::Terminate),
            SIGHUP => Some(Self::HangUp),
            SIGTSTP => Some(Self::Suspend),
            SIGCONT => Some(Self::Continue),
            _ => None,
        }
    }

    /// True for those after which the program ends.
    pub fn ends(self) -> bool {
        matches!(self, Self::Terminate | Self::HangUp)
    }
}

/// What the signal thread tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heard {
    /// A signal that means something.
    Signal(Signal),
    /// SIGWINCH: the screen may have another size.
    Resized,
}

/// Starts the thread that hears signals and passes them to `tell`.
///
/// # Errors
/// When the system refuses the handlers or the thread.
pub fn listen(line: Option<Arc<Line>>, tell: impl Fn(Heard) + Send + 'static) -> io::Result<()> {
    let numbers = [SIGTERM, SIGINT, SIGQUIT, SIGHUP, SIGTSTP, SIGCONT, SIGWINCH];
    let mut heard = signal_hook::iterator::Signals::new(numbers)?;
    let body = move || {
        let mut asked: Option<Instant> = None;
        for number in heard.forever() {
            let Some(signal) = Signal::of(number) else {
                tell(Heard::Resized);
                continue;
            };
            if signal == Signal::Continue && STOPPING.swap(false, Ordering::SeqCst) {
                continue;
            }
            if signal.ends() {
                if asked.is_some_and(|at| at.elapsed() > PATIENCE) {
                    end_here(line.as_deref(), number);
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

/// Hands the terminal back and carries out what the signal does to a program that does not hear it.
fn end_here(line: Option<&Line>, number: i32) {
    if let Some(line) = line {
        line.drop_now();
    }
    let _ = signal_hook::low_level::emulate_default_handler(number);
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

/// Who is stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// The whole job, as the terminal driver does for the suspend key: a wrapper that started us must stop too, or its
    /// shell waits for ever. Refused where no shell would continue us.
    Job,
    /// This process alone: somebody sent us the signal and can send the other one.
    Process,
}

/// What came of stopping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stopped {
    /// Stopped, and continued again since.
    AndContinued,
    /// No shell is there to bring the job back (the window runs nothing but us), so nothing was stopped.
    NobodyToContinue,
}

/// True from the moment we ask to be stopped until the continuation was heard. A stop of the whole job reaches the
/// calling thread a moment after it was asked for; this tells that it has come and gone.
static STOPPING: AtomicBool = AtomicBool::new(false);

/// Stops; returns after the continuation, which is not reported then. The terminal must have been handed back before,
/// and [`listen`] called.
///
/// # Errors
/// When the system refuses.
pub fn stop(reach: Reach) -> io::Result<Stopped> {
    if reach == Reach::Job && !has_shell() {
        return Ok(Stopped::NobodyToContinue);
    }
    STOPPING.store(true, Ordering::SeqCst);
    match reach {
        // Not SIGTSTP: our own handler would hear it.
        Reach::Job => rustix::process::kill_current_process_group(rustix::process::Signal::STOP)?,
        Reach::Process => signal_hook::low_level::emulate_default_handler(SIGTSTP)?,
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
        for (number, meaning, ends) in table {
            assert_eq!(Signal::of(number), Some(meaning));
            assert_eq!(meaning.ends(), ends);
        }
        assert_eq!(Signal::of(SIGWINCH), None);
    }
}
