//! The process's one line to its terminal: the modes that the screen needs, switched on and back exactly once, whoever comes
//! first: the screen's guard, a panic, a signal.

use super::gate::Gate;
use crate::system::screen::{self, FOCUS, MOUSE, Out, PASTE};
use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

/// Second screen (DEC private mode 1049), no cursor.
const ENTER: &str = "\x1b[?1049h\x1b[?25l";
/// Ends a half-sent synchronized update and resets attributes before anything else is switched back.
const LEAVE: &str = "\x1b[?2026l\x1b[0m";
/// Cursor shown, first screen.
const FIRST_SCREEN: &str = "\x1b[?25h\x1b[?1049l";

/// What is asked of the terminal beyond keys and paste.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wishes {
    /// Report clicks, drags and the wheel.
    pub mouse: bool,
    /// Report that the window gained or lost the person's attention.
    pub focus: bool,
}

/// The process's one line to its terminal. Shared with the panic hook and the signal thread.
pub struct TerminalLine {
    out: Out,
    up: AtomicBool,
    mouse: AtomicBool,
    focus: AtomicBool,
    /// What other threads said when they panicked while the screen was up.
    faults: Mutex<Vec<String>>,
    /// Keeps the input thread from reading what is typed for the shell.
    gate: Arc<Gate>,
}

impl TerminalLine {
    pub(super) fn open(wishes: Wishes) -> io::Result<Self> {
        Ok(Self {
            out: Out::open()?,
            up: AtomicBool::new(false),
            mouse: AtomicBool::new(wishes.mouse),
            focus: AtomicBool::new(wishes.focus),
            faults: Mutex::new(Vec::new()),
            gate: Arc::new(Gate::new()?),
        })
    }

    /// Has the mouse report or not.
    pub(super) fn turn_mouse(&self, on: bool) -> io::Result<()> {
        if self.mouse.swap(on, Ordering::SeqCst) == on || !self.is_up() {
            return Ok(());
        }
        screen::set_mouse(on)?;
        self.send(if on { MOUSE.on } else { MOUSE.off }.as_bytes())
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
        if self.mouse.load(Ordering::SeqCst) {
            screen::set_mouse(true)?;
        }
        self.send(self.modes().as_bytes())?;
        self.gate.open();
        Ok(())
    }

    /// The sequences that put the terminal into our modes; sending them twice changes nothing.
    pub(super) fn modes(&self) -> String {
        let mut text = format!("{ENTER}{}", PASTE.on);
        if self.mouse.load(Ordering::SeqCst) {
            text.push_str(MOUSE.on);
        }
        if self.focus.load(Ordering::SeqCst) {
            text.push_str(FOCUS.on);
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
        let mouse = if self.mouse.load(Ordering::SeqCst) {
            text.push_str(MOUSE.off);
            screen::set_mouse(false)
        } else {
            Ok(())
        };
        if self.focus.load(Ordering::SeqCst) {
            text.push_str(FOCUS.off);
        }
        text.push_str(PASTE.off);
        text.push_str(FIRST_SCREEN);
        // The modes first: who sees the shell's screen again and types must not type into raw mode.
        let modes = crossterm::terminal::disable_raw_mode();
        let told = self.send(text.as_bytes());
        mouse.and(modes).and(told)
    }

    /// Hands the terminal back without waiting for it: for a process that must end while its terminal takes nothing.
    pub fn drop_now(&self) {
        if self.out.takes(Duration::ZERO) {
            let _ = self.lower();
        } else if self.up.swap(false, Ordering::SeqCst) {
            let _ = crossterm::terminal::disable_raw_mode();
        }
    }

    /// Writes all bytes at once.
    pub(super) fn send(&self, bytes: &[u8]) -> io::Result<()> {
        self.out.send(bytes)
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
