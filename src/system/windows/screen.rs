//! The console's output, size and modes. Frames go out in the control sequences that consoles take since 2016; keys and the
//! mouse come as events, so that no report is asked for by a sequence.

use crate::system::tally::pieces;
use crate::system::told::{Switch, TerminalSize};
use crossterm::ansi_support::supports_ansi;
use crossterm::cursor::position;
use crossterm::event::{DisableMouseCapture, EnableMouseCapture};
use std::io::{self, Write};
use std::time::Duration;

/// By the console's own modes: [`set_mouse`].
pub const MOUSE: Switch = NONE;
/// Pasted text comes as keys.
pub const PASTE: Switch = NONE;
/// Told without being asked.
pub const FOCUS: Switch = NONE;
/// True where the terminal's answers to questions can be told apart from keys.
pub const ANSWERS: bool = false;

const NONE: Switch = Switch { on: "", off: "" };

/// Standard output as a console.
pub struct Out {
    /// True where it counts control sequences as signs.
    counts: bool,
}

impl Out {
    /// Takes it, and has it take control sequences.
    ///
    /// # Errors
    /// Where it takes none.
    pub fn open() -> io::Result<Self> {
        if supports_ansi() {
            Ok(Self { counts: counts_sequences().unwrap_or(false) })
        } else {
            let words =
                "this console takes no control sequences: open the workbench in a newer one, or with --plain";
            Err(io::Error::new(io::ErrorKind::Unsupported, words))
        }
    }

    /// Writes all bytes at once.
    ///
    /// # Errors
    /// When the console is gone.
    pub fn send(&self, bytes: &[u8]) -> io::Result<()> {
        let text = if self.counts { std::str::from_utf8(bytes).ok() } else { None };
        match (text, size()) {
            (Some(text), Ok(size)) => {
                pieces(text, size.columns.into()).iter().try_for_each(|piece| write(piece.as_bytes()))
            }
            _ => write(bytes),
        }
    }

    /// True when it takes bytes within the time. A console does.
    pub fn takes(&self, _within: Duration) -> bool {
        true
    }
}

/// The standard library hands a console its text in the console's own form, whatever its page of signs.
fn write(bytes: &[u8]) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(bytes)?;
    out.flush()
}

/// True where a sequence that moves nothing moves the place that the console knows.
fn counts_sequences() -> io::Result<bool> {
    let before = position()?;
    write(b"\x1b[0m")?;
    Ok(position()? != before)
}

/// The size of the console's window.
///
/// # Errors
/// When there is none.
pub fn size() -> io::Result<TerminalSize> {
    let (columns, rows) = crossterm::terminal::size()?;
    Ok(TerminalSize { columns, rows, ..TerminalSize::default() })
}

/// Raw mode again, whatever the modes are now.
///
/// # Errors
/// When the console is gone.
pub fn raw_again() -> io::Result<()> {
    crossterm::terminal::enable_raw_mode()
}

/// Turns reports of the mouse on or off.
///
/// # Errors
/// When the console is gone.
pub fn set_mouse(on: bool) -> io::Result<()> {
    if on {
        crossterm::execute!(io::stdout(), EnableMouseCapture)
    } else {
        crossterm::execute!(io::stdout(), DisableMouseCapture)
    }
}

/// True where the terminal shows any colour without saying so in the environment.
pub fn shows_any_colour() -> bool {
    supports_ansi()
}
