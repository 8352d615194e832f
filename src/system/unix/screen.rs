//! The terminal's output, size and modes, by termios and the control sequences of the terminal.

use crate::system::told::{Switch, TerminalSize};
use rustix::event::{PollFd, PollFlags, Timespec};
use std::fs::File;
use std::io::{self, Write};
use std::os::fd::{AsFd, BorrowedFd};
use std::time::Duration;

/// Clicks (1000), drags (1002) with decimal coordinates (1006); motion without a button is not asked for, it would
/// wake an idle bench.
pub const MOUSE: Switch =
    Switch { on: "\x1b[?1000h\x1b[?1002h\x1b[?1006h", off: "\x1b[?1006l\x1b[?1002l\x1b[?1000l" };
/// Pasted text between marks (2004).
pub const PASTE: Switch = Switch { on: "\x1b[?2004h", off: "\x1b[?2004l" };
/// Gaining and losing the person's attention (1004).
pub const FOCUS: Switch = Switch { on: "\x1b[?1004h", off: "\x1b[?1004l" };
/// True where the terminal's answers to questions can be told apart from keys.
pub const ANSWERS: bool = true;

/// Standard output as a terminal.
pub struct Out {
    file: File,
}

impl Out {
    /// Takes it; whether it is a terminal is found by others.
    ///
    /// # Errors
    /// What the system says.
    pub fn open() -> io::Result<Self> {
        Ok(Self { file: File::from(rustix::stdio::stdout().try_clone_to_owned()?) })
    }

    /// Writes all bytes at once, waiting where the terminal's side is set to "do not wait".
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn send(&self, mut bytes: &[u8]) -> io::Result<()> {
        let mut out: &File = &self.file;
        while !bytes.is_empty() {
            match out.write(bytes) {
                Ok(0) => return Err(io::ErrorKind::WriteZero.into()),
                Ok(count) => bytes = bytes.get(count..).unwrap_or_default(),
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                // Another program on the same terminal may have set it so; a full line is not a dead one.
                Err(error) if error.kind() == io::ErrorKind::WouldBlock => {
                    self.takes(Duration::from_secs(1));
                }
                Err(error) => return Err(error),
            }
        }
        Ok(())
    }

    /// True when it takes bytes within the time (rounded down to milliseconds).
    pub fn takes(&self, within: Duration) -> bool {
        let mut watched = [PollFd::from_borrowed_fd(self.file.as_fd(), PollFlags::OUT)];
        let limit = Timespec {
            tv_sec: within.as_secs().try_into().unwrap_or(i64::MAX),
            tv_nsec: within.subsec_nanos().into(),
        };
        rustix::event::poll(&mut watched, Some(&limit)).is_ok_and(|ready| ready > 0)
    }
}

/// The size of the terminal on standard output.
///
/// # Errors
/// When there is none.
pub fn size() -> io::Result<TerminalSize> {
    let claimed = rustix::termios::tcgetwinsize(rustix::stdio::stdout())?;
    Ok(TerminalSize {
        columns: claimed.ws_col,
        rows: claimed.ws_row,
        width: claimed.ws_xpixel,
        height: claimed.ws_ypixel,
    })
}

/// Raw mode again, whatever the modes are now; the modes to go back to stay those from before the first entry.
///
/// # Errors
/// When the terminal is gone.
pub fn raw_again() -> io::Result<()> {
    let stdin = rustix::stdio::stdin();
    if rustix::termios::isatty(stdin) { set_raw(stdin) } else { set_raw(File::open("/dev/tty")?.as_fd()) }
}

fn set_raw(tty: BorrowedFd<'_>) -> io::Result<()> {
    let mut modes = rustix::termios::tcgetattr(tty)?;
    modes.make_raw();
    Ok(rustix::termios::tcsetattr(tty, rustix::termios::OptionalActions::Now, &modes)?)
}

/// Turns reports of the mouse on or off where no sequence does it. Nothing here.
///
/// # Errors
/// None.
pub fn set_mouse(_on: bool) -> io::Result<()> {
    Ok(())
}

/// True where the terminal shows any colour without saying so in the environment.
pub fn shows_any_colour() -> bool {
    false
}
