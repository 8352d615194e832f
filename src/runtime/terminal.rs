//! Entering the screen, leaving it, and everything between that must be undone exactly once.
//!
//! The guard puts the terminal into raw mode on its second screen and hands it back on every way out: quitting, an
//! error return, a panic, a signal, suspension. Leaving is one atomic switch, so whoever comes first does it and the
//! others find it done. It must not know what is drawn, nor decide when to leave.
//!
//! A frame goes out whole in one write between the marks of a synchronized update, and an unchanged frame does not go
//! out at all. What is still in memory when the screen is left is thrown away: half a frame must not land among the
//! shell's lines. On a dead terminal every call returns an error and nothing panics.

use super::canvas::{FrameBackend, FrameStore};
use super::line::{TerminalLine, Wishes};
use crate::system::told::{SignalReach, Stopped};
use crate::system::{screen, signals};
use ratatui::{Frame, Terminal};
use std::io::{self, Write};
use std::sync::Arc;
use std::thread::ThreadId;

/// Marks of a synchronized update (2026); terminals that do not know the mode ignore it.
const FRAME_BEGINS: &[u8] = b"\x1b[?2026h";
const FRAME_ENDS: &[u8] = b"\x1b[?2026l";

/// The screen while it is ours. One at a time in a process; dropping it hands the terminal back.
pub struct Guard {
    terminal: Terminal<FrameBackend>,
    paint: FrameStore,
    line: Arc<TerminalLine>,
}

impl Guard {
    /// Enters the screen and sets the panic hook that leaves it before the message is printed.
    ///
    /// The calling thread becomes the screen's owner: its panic ends the show, another thread's panic is kept and told
    /// after the screen was left.
    ///
    /// # Errors
    /// When standard output is not a terminal or refuses the modes; everything is handed back then.
    pub fn enter(wishes: Wishes) -> io::Result<Self> {
        let line = Arc::new(TerminalLine::open(wishes)?);
        let paint = FrameStore::default();
        let terminal = Terminal::new(FrameBackend::new(paint.clone()))?;
        hook_panics(Arc::clone(&line), std::thread::current().id());
        let guard = Self { terminal, paint, line };
        guard.line.raise()?;
        Ok(guard)
    }

    /// The line to the terminal, for the signal thread.
    pub fn line(&self) -> Arc<TerminalLine> {
        Arc::clone(&self.line)
    }

    /// Draws one frame and sends it whole; sends nothing when nothing changed.
    ///
    /// # Errors
    /// When the terminal is gone: treat it as a hang-up.
    pub fn draw(&mut self, view: impl FnOnce(&mut Frame<'_>)) -> io::Result<()> {
        self.terminal.draw(view)?;
        self.send_frame()
    }

    fn send_frame(&mut self) -> io::Result<()> {
        let painted = self.paint.take();
        if painted.is_empty() || !self.line.is_up() {
            return Ok(());
        }
        let mut frame = Vec::with_capacity(painted.len() + FRAME_BEGINS.len() + FRAME_ENDS.len());
        frame.extend_from_slice(FRAME_BEGINS);
        frame.extend_from_slice(painted.as_bytes());
        frame.extend_from_slice(FRAME_ENDS);
        self.line.send(&frame)
    }

    /// Sends bytes that draw nothing, such as those of [`super::clipboard::copy`].
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        if self.line.is_up() { self.line.send(bytes) } else { Ok(()) }
    }

    /// Turns reports of clicks and the wheel on or off.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn set_mouse(&mut self, on: bool) -> io::Result<()> {
        self.line.turn_mouse(on)
    }

    /// Hands the terminal back, stops the process, and enters again when it is continued. The next frame is drawn from
    /// nothing.
    ///
    /// The input thread stops reading first, so that what is typed from then on is the shell's. `words` stand on the
    /// shell's screen then.
    ///
    /// # Errors
    /// When the terminal is gone on the way out or back: treat it as a hang-up.
    pub fn suspend(&mut self, reach: SignalReach, words: Option<&str>) -> io::Result<Stopped> {
        self.line.lower()?;
        if let Some(words) = words {
            let _ = writeln!(io::stderr(), "trimside: {words}");
        }
        let stopped = signals::stop(reach);
        self.line.raise()?;
        self.forget()?;
        stopped
    }

    /// After a continuation that nobody announced (the process was stopped from outside): sets every mode again and
    /// draws the next frame from nothing. Harmless when all was in order.
    ///
    /// # Errors
    /// When the terminal is gone: treat it as a hang-up.
    pub fn reassert(&mut self) -> io::Result<()> {
        if !self.line.is_up() {
            return Ok(());
        }
        screen::raw_again()?;
        self.line.send(self.line.modes().as_bytes())?;
        self.forget()
    }

    /// Clears the screen so that the next frame is drawn whole.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn forget(&mut self) -> io::Result<()> {
        self.terminal.backend_mut().forget();
        self.terminal.clear()
    }

    /// Hands the terminal back and says whether that went well.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn leave(self) -> io::Result<()> {
        self.line.lower()
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        let _ = self.line.lower();
        self.line.tell_faults();
    }
}

/// Leaves the screen before a panic of its owner is told; keeps the panics of other threads for later.
fn hook_panics(line: Arc<TerminalLine>, owner: ThreadId) {
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |fault| {
        if !line.is_up() {
            before(fault);
            return;
        }
        let place = fault.location().map_or_else(String::new, |at| format!(" ({}:{})", at.file(), at.line()));
        let said = words_of(fault.payload());
        if std::thread::current().id() != owner {
            let thread = std::thread::current().name().unwrap_or("helper").to_owned();
            line.keep_fault(format!("the {thread} thread failed while the bench was open: {said}{place}"));
            return;
        }
        let _ = line.lower();
        // Not `eprintln!`: it panics on a dead terminal, and a panic in here aborts.
        let mut err = io::stderr();
        let _ = writeln!(err, "trimside: stopped by a fault of its own: {said}{place}");
        let _ = writeln!(
            err,
            "What the screen had acknowledged is on disk. The place named above tells where to fix it."
        );
        let trace = std::backtrace::Backtrace::capture();
        if trace.status() == std::backtrace::BacktraceStatus::Captured {
            let _ = writeln!(err, "{trace}");
        }
    }));
}

/// What a panic said, where it said anything.
pub fn words_of(payload: &(dyn std::any::Any + Send)) -> &str {
    let text = payload.downcast_ref::<&str>().copied();
    text.or_else(|| payload.downcast_ref::<String>().map(String::as_str)).unwrap_or("no message")
}
