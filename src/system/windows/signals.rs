//! What the console tells a program from outside, and how to die of it. Nothing is stopped and continued here.
//!
//! After a window was closed the system waits some seconds for its programs; `tokio` keeps its answer back until the process
//! ends, so that the last save gets that time.

use crate::system::told::{Heard, Signal, SignalReach, Stopped};
use std::io;
use std::time::{Duration, Instant};
use tokio::signal::windows::{ctrl_break, ctrl_c, ctrl_close, ctrl_logoff, ctrl_shutdown};

/// How long the main thread may take to answer a first request to end before a second one is carried out here.
const PATIENCE: Duration = Duration::from_secs(2);
/// `STATUS_CONTROL_C_EXIT`: what a program ends with that does not hear Ctrl-C.
const ENDED_FROM_OUTSIDE: i32 = 0xC000_013A_u32.cast_signed();
/// True where a shell may stop a program and bring it back.
pub const CAN_STOP: bool = false;

/// Starts the thread that hears the console and passes what it says to `tell`. `let_go` hands the console back without
/// waiting for it, before a process dies whose main thread does not move.
///
/// # Errors
/// When the system refuses the handlers or the thread.
pub fn listen(let_go: impl Fn() + Send + 'static, tell: impl Fn(Heard) + Send + 'static) -> io::Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread().build()?;
    let inside = runtime.enter();
    let (mut key, mut pause) = (ctrl_c()?, ctrl_break()?);
    let (mut close, mut logoff, mut shutdown) = (ctrl_close()?, ctrl_logoff()?, ctrl_shutdown()?);
    drop(inside);
    let body = move || {
        let mut asked: Option<Instant> = None;
        loop {
            let signal = runtime.block_on(std::future::poll_fn(|context| {
                let keys = [key.poll_recv(context), pause.poll_recv(context)];
                if keys.iter().any(std::task::Poll::is_ready) {
                    return std::task::Poll::Ready(Signal::Terminate);
                }
                let ends = [close.poll_recv(context), logoff.poll_recv(context), shutdown.poll_recv(context)];
                if ends.iter().any(std::task::Poll::is_ready) {
                    return std::task::Poll::Ready(Signal::HangUp);
                }
                std::task::Poll::Pending
            }));
            if asked.is_some_and(|at| at.elapsed() > PATIENCE) {
                let_go();
                die_of(signal);
            }
            asked.get_or_insert_with(Instant::now);
            // Where nobody listens any more the main thread is on its way out, and must not be killed while it tidies up.
            tell(Heard::Signal(signal));
        }
    };
    std::thread::Builder::new().name("signal".to_owned()).spawn(body)?;
    Ok(())
}

/// Ends the process as it would have ended without hearing. Call it last, after the console was handed back; does nothing
/// for signals that end nothing.
pub fn die_of(signal: Signal) {
    if signal.ends() {
        std::process::exit(ENDED_FROM_OUTSIDE);
    }
}

/// Stops nothing: there is no shell that could continue it.
///
/// # Errors
/// None.
pub fn stop(_reach: SignalReach) -> io::Result<Stopped> {
    Ok(Stopped::NobodyToContinue)
}
