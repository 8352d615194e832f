//! Keys as bytes of the terminal, a bell that interrupts waiting for them, and the terminal's end. What the bytes mean is
//! decided elsewhere.

use crate::system::told::KeyNews;
use rustix::event::{PollFd, PollFlags, Timespec};
use std::fs::File;
use std::io::{self, IsTerminal, Read, Write};
use std::os::unix::net::UnixStream;
use std::time::Duration;

/// Wakes whoever waits for keys.
#[derive(Debug)]
pub struct Bell {
    /// Written to wake the reader out of its poll.
    bell: UnixStream,
    /// What the reader polls.
    ear: UnixStream,
}

impl Bell {
    /// A bell that is silent.
    ///
    /// # Errors
    /// When the system refuses a pair of sockets.
    pub fn new() -> io::Result<Self> {
        let (bell, ear) = UnixStream::pair()?;
        bell.set_nonblocking(true)?;
        ear.set_nonblocking(true)?;
        Ok(Self { bell, ear })
    }

    /// Rings; true where whoever waits for keys is woken by it.
    pub fn ring(&self) -> bool {
        // A full socket holds bytes enough to wake the reader.
        let _ = (&self.bell).write(&[0]);
        true
    }

    /// Silences it.
    pub fn hush(&self) {
        let mut bytes = [0; 64];
        while matches!((&self.ear).read(&mut bytes), Ok(count) if count > 0) {}
    }
}

/// Where keys come from: standard input, or the process's terminal where that is something else.
pub struct Keyboard {
    keys: File,
    /// Watched for its end only.
    out: File,
    bytes: Vec<u8>,
}

/// What woke the reader.
enum Woken {
    Bytes,
    Bell,
    Silence,
    Nothing,
    End,
}

impl Keyboard {
    /// Opens it.
    ///
    /// # Errors
    /// When there is no terminal to read from.
    pub fn open() -> io::Result<Self> {
        let stdin = rustix::stdio::stdin();
        let keys = if rustix::termios::isatty(stdin) {
            File::from(stdin.try_clone_to_owned()?)
        } else {
            File::open("/dev/tty")?
        };
        let out = File::from(rustix::stdio::stdout().try_clone_to_owned()?);
        Ok(Self { keys, out, bytes: vec![0; 16_384] })
    }

    /// Waits for keys, the bell, or the end of the terminal; where a limit is given, for no longer.
    pub fn next(&mut self, bell: &Bell, limit: Option<Duration>) -> KeyNews<'_> {
        match self.wait(bell, limit) {
            Woken::Bytes => match self.keys.read(&mut self.bytes) {
                Ok(0) => KeyNews::End,
                Ok(count) => KeyNews::Bytes(self.bytes.get(..count).unwrap_or_default()),
                Err(error) if is_passing(&error) => KeyNews::Nothing,
                Err(_) => KeyNews::End,
            },
            Woken::Bell => KeyNews::Rung,
            Woken::Silence => KeyNews::Silence,
            Woken::Nothing => KeyNews::Nothing,
            Woken::End => KeyNews::End,
        }
    }

    fn wait(&self, bell: &Bell, limit: Option<Duration>) -> Woken {
        let mut watched = [
            PollFd::new(&self.keys, PollFlags::IN),
            PollFd::new(&bell.ear, PollFlags::IN),
            // Asked for nothing, it still tells that the terminal has gone.
            PollFd::new(&self.out, PollFlags::empty()),
        ];
        let limit = limit.map(|limit| Timespec {
            tv_sec: limit.as_secs().try_into().unwrap_or(i64::MAX),
            tv_nsec: limit.subsec_nanos().into(),
        });
        match rustix::event::poll(&mut watched, limit.as_ref()) {
            Ok(0) => return Woken::Silence,
            Ok(_) => {}
            Err(rustix::io::Errno::INTR) => return Woken::Nothing,
            Err(_) => return Woken::End,
        }
        let [keys, bell, out] = watched.map(|one| one.revents());
        if !bell.is_empty() {
            Woken::Bell
        } else if keys.contains(PollFlags::IN) {
            Woken::Bytes
        } else if !keys.is_empty() || !out.is_empty() {
            Woken::End
        } else {
            Woken::Nothing
        }
    }
}

fn is_passing(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::Interrupted | io::ErrorKind::WouldBlock)
}

/// True where there is a terminal to read keys from.
pub fn can_be_read() -> bool {
    io::stdin().is_terminal() || File::open("/dev/tty").is_ok()
}
