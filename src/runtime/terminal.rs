//! Entering the screen, leaving it, and everything between that must be undone exactly once.
//!
//! The guard puts the terminal into raw mode on its second screen and hands it back on every way out: quitting, an
//! error return, a panic, a signal, suspension. Leaving is one atomic switch, so whoever comes first does it and the
//! others find it done. It must not know what is drawn, nor decide when to leave.
//!
//! A frame goes out whole in one write between the marks of a synchronized update, and an unchanged frame does not go
//! out at all. What is still in memory when the screen is left is thrown away: half a frame must not land among the
//! shell's lines. On a dead terminal every call returns an error and nothing panics.

use super::canvas::{Canvas, Paint};
use super::gate::Gate;
use super::signals;
use ratatui::{Frame, Terminal};
use rustix::event::{PollFd, PollFlags};
use std::fs::File;
use std::io::{self, Write};
use std::os::fd::AsFd;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::ThreadId;
use std::time::Duration;

/// Second screen (DEC private mode 1049), bracketed paste (2004).
const ENTER: &str = "\x1b[?1049h\x1b[?2004h\x1b[?25l";
/// Ends a half-sent synchronized update and resets attributes before anything else is switched back.
const LEAVE: &str = "\x1b[?2026l\x1b[0m";
/// Paste off, cursor shown, first screen.
const FIRST_SCREEN: &str = "\x1b[?2004l\x1b[?25h\x1b[?1049l";
/// Clicks (1000), drags (1002) with decimal coordinates (1006); motion without a button is not asked for, it would
/// wake an idle bench.
const MOUSE_ON: &str = "\x1b[?1000h\x1b[?1002h\x1b[?1006h";
const MOUSE_OFF: &str = "\x1b[?1006l\x1b[?1002l\x1b[?1000l";
const FOCUS_ON: &str = "\x1b[?1004h";
const FOCUS_OFF: &str = "\x1b[?1004l";
/// Marks of a synchronized update (2026); terminals that do not know the mode ignore it.
const FRAME_BEGINS: &[u8] = b"\x1b[?2026h";
const FRAME_ENDS: &[u8] = b"\x1b[?2026l";

/// What is asked of the terminal beyond keys and paste.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wishes {
    /// Report clicks, drags and the wheel.
    pub mouse: bool,
    /// Report that the window gained or lost the person's attention.
    pub focus: bool,
}

/// The process's one line to its terminal. Shared with the panic hook and the signal thread.
pub struct Line {
    out: Arc<File>,
    up: AtomicBool,
    mouse: AtomicBool,
    focus: AtomicBool,
    /// What other threads said when they panicked while the screen was up.
    faults: Mutex<Vec<String>>,
    /// Keeps the input thread from reading what is typed for the shell.
    gate: Arc<Gate>,
}

impl Line {
    fn open(wishes: Wishes) -> io::Result<Self> {
        let out = rustix::stdio::stdout().try_clone_to_owned()?;
        Ok(Self {
            out: Arc::new(File::from(out)),
            up: AtomicBool::new(false),
            mouse: AtomicBool::new(wishes.mouse),
            focus: AtomicBool::new(wishes.focus),
            faults: Mutex::new(Vec::new()),
            gate: Arc::new(Gate::new()?),
        })
    }

    /// The gate that the input thread passes.
    pub fn gate(&self) -> Arc<Gate> {
        Arc::clone(&self.gate)
    }

    /// True while the screen is ours.
    pub fn is_up(&self) -> bool {
        self.up.load(Ordering::SeqCst)
    }

    fn raise(&self) -> io::Result<()> {
        crossterm::terminal::enable_raw_mode()?;
        self.up.store(true, Ordering::SeqCst);
        self.send(self.modes().as_bytes())?;
        self.gate.open();
        Ok(())
    }

    /// The sequences that put the terminal into our modes; sending them twice changes nothing.
    fn modes(&self) -> String {
        let mut text = String::from(ENTER);
        if self.mouse.load(Ordering::SeqCst) {
            text.push_str(MOUSE_ON);
        }
        if self.focus.load(Ordering::SeqCst) {
            text.push_str(FOCUS_ON);
        }
        text
    }

    /// Hands the terminal back if it is ours, once; later calls do nothing.
    ///
    /// # Errors
    /// When the terminal is gone. The state is "handed back" all the same.
    pub fn lower(&self) -> io::Result<()> {
        if !self.up.swap(false, Ordering::SeqCst) {
            return Ok(());
        }
        self.gate.close();
        let mut text = String::from(LEAVE);
        if self.mouse.load(Ordering::SeqCst) {
            text.push_str(MOUSE_OFF);
        }
        if self.focus.load(Ordering::SeqCst) {
            text.push_str(FOCUS_OFF);
        }
        text.push_str(FIRST_SCREEN);
        // The modes first: who sees the shell's screen again and types must not type into raw mode.
        let modes = crossterm::terminal::disable_raw_mode();
        let told = self.send(text.as_bytes());
        modes.and(told)
    }

    /// Hands the terminal back without waiting for it: for a process that must end while its terminal takes nothing.
    pub fn drop_now(&self) {
        if writable(&self.out, Duration::ZERO) {
            let _ = self.lower();
        } else if self.up.swap(false, Ordering::SeqCst) {
            let _ = crossterm::terminal::disable_raw_mode();
        }
    }

    /// Writes all bytes at once, waiting where the terminal's side is set to "do not wait".
    fn send(&self, mut bytes: &[u8]) -> io::Result<()> {
        let mut out: &File = &self.out;
        while !bytes.is_empty() {
            match out.write(bytes) {
                Ok(0) => return Err(io::ErrorKind::WriteZero.into()),
                Ok(count) => bytes = bytes.get(count..).unwrap_or_default(),
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                // Another program on the same terminal may have set it so; a full line is not a dead one.
                Err(error) if error.kind() == io::ErrorKind::WouldBlock => {
                    writable(&self.out, Duration::from_secs(1));
                }
                Err(error) => return Err(error),
            }
        }
        Ok(())
    }

    fn keep_fault(&self, sentence: String) {
        self.faults.lock().unwrap_or_else(PoisonError::into_inner).push(sentence);
    }

    fn tell_faults(&self) {
        let faults = std::mem::take(&mut *self.faults.lock().unwrap_or_else(PoisonError::into_inner));
        for sentence in faults {
            let _ = writeln!(io::stderr(), "trimside: {sentence}");
        }
    }
}

/// True when the file takes bytes within the time (rounded down to milliseconds).
fn writable(file: &File, within: Duration) -> bool {
    let mut watched = [PollFd::from_borrowed_fd(file.as_fd(), PollFlags::OUT)];
    let limit = rustix::event::Timespec {
        tv_sec: within.as_secs().try_into().unwrap_or(i64::MAX),
        tv_nsec: within.subsec_nanos().into(),
    };
    rustix::event::poll(&mut watched, Some(&limit)).is_ok_and(|ready| ready > 0)
}

/// The screen while it is ours. One at a time in a process; dropping it hands the terminal back.
pub struct Guard {
    terminal: Terminal<Canvas>,
    paint: Paint,
    line: Arc<Line>,
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
        let line = Arc::new(Line::open(wishes)?);
        let paint = Paint::default();
        let terminal = Terminal::new(Canvas::new(paint.clone(), Arc::clone(&line.out)))?;
        hook_panics(Arc::clone(&line), std::thread::current().id());
        let guard = Self { terminal, paint, line };
        guard.line.raise()?;
        Ok(guard)
    }

    /// The line to the terminal, for the signal thread.
    pub fn line(&self) -> Arc<Line> {
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
        if self.line.mouse.swap(on, Ordering::SeqCst) == on {
            return Ok(());
        }
        self.send(if on { MOUSE_ON } else { MOUSE_OFF }.as_bytes())
    }

    /// Hands the terminal back, stops the process, and enters again when it is continued. The next frame is drawn from
    /// nothing.
    ///
    /// The input thread stops reading first, so that what is typed from then on is the shell's. `words` stand on the
    /// shell's screen then.
    ///
    /// # Errors
    /// When the terminal is gone on the way out or back: treat it as a hang-up.
    pub fn suspend(&mut self, reach: signals::Reach, words: Option<&str>) -> io::Result<signals::Stopped> {
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
        make_raw()?;
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

/// Raw mode again, whatever the modes are now; the modes to go back to stay those from before the first entry.
fn make_raw() -> io::Result<()> {
    let set = |tty: &dyn AsFdDyn| -> io::Result<()> {
        let mut modes = rustix::termios::tcgetattr(tty.fd())?;
        modes.make_raw();
        Ok(rustix::termios::tcsetattr(tty.fd(), rustix::termios::OptionalActions::Now, &modes)?)
    };
    let stdin = rustix::stdio::stdin();
    if rustix::termios::isatty(stdin) { set(&stdin) } else { set(&File::open("/dev/tty")?) }
}

/// A way to treat standard input and an opened terminal alike.
trait AsFdDyn {
    fn fd(&self) -> std::os::fd::BorrowedFd<'_>;
}

impl<T: AsFd> AsFdDyn for T {
    fn fd(&self) -> std::os::fd::BorrowedFd<'_> {
        self.as_fd()
    }
}

/// Leaves the screen before a panic of its owner is told; keeps the panics of other threads for later.
fn hook_panics(line: Arc<Line>, owner: ThreadId) {
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
            "What the screen had acknowledged is on disk. The place named above tells where to mend it."
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
