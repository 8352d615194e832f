//! The process's one line to its terminal: the modes that the screen needs, switched on and back exactly once, whoever comes
//! first: the screen's guard, a panic, a signal.

use super::gate::Gate;
use rustix::event::{PollFd, PollFlags};
use std::fs::File;
use std::io::{self, Write};
use std::os::fd::AsFd;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
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
    pub(super) fn open(wishes: Wishes) -> io::Result<Self> {
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

    /// The file that frames are written to.
    pub(super) fn file(&self) -> Arc<File> {
        Arc::clone(&self.out)
    }

    /// Notes whether the mouse is to report; true where that is news.
    pub(super) fn turn_mouse(&self, on: bool) -> bool {
        self.mouse.swap(on, Ordering::SeqCst) != on
    }

    /// The gate that the input thread passes.
    pub fn gate(&self) -> Arc<Gate> {
        Arc::clone(&self.gate)
    }

    /// True while the screen is ours.
    pub fn is_up(&self) -> bool {
        self.up.load(Ordering::SeqCst)
    }

    pub(super) fn raise(&self) -> io::Result<()> {
        crossterm::terminal::enable_raw_mode()?;
        self.up.store(true, Ordering::SeqCst);
        self.send(self.modes().as_bytes())?;
        self.gate.open();
        Ok(())
    }

    /// The sequences that put the terminal into our modes; sending them twice changes nothing.
    pub(super) fn modes(&self) -> String {
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
    pub(super) fn send(&self, mut bytes: &[u8]) -> io::Result<()> {
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

    pub(super) fn keep_fault(&self, sentence: String) {
        self.faults.lock().unwrap_or_else(PoisonError::into_inner).push(sentence);
    }

    pub(super) fn tell_faults(&self) {
        let faults = std::mem::take(&mut *self.faults.lock().unwrap_or_else(PoisonError::into_inner));
        for sentence in faults {
            let _ = writeln!(io::stderr(), "trimside: {sentence}");
        }
    }
}

/// The sequences that turn reports of the mouse on or off.
pub(super) const fn mouse_modes(on: bool) -> &'static str {
    if on { MOUSE_ON } else { MOUSE_OFF }
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
