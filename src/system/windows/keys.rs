//! Keys as the console tells them. What they do is decided elsewhere.
//!
//! The console tells of its size only while the mouse is reported, so it is looked at now and then; and nothing wakes who
//! waits for it.

use crate::system::burst::settled;
use crate::system::screen;
use crate::system::told::{KeyNews, TerminalSize};
use crossterm::event::{Event, KeyEventKind, poll, read};
use std::fs::File;
use std::io::{self, IsTerminal};
use std::time::Duration;

/// How often the size is looked at.
const LOOK: Duration = Duration::from_millis(250);
/// Pasted text comes as keys; the next part of it comes within this time.
const MORE: Duration = Duration::from_millis(10);
/// Most events that are taken at once.
const MOST: usize = 100_000;

/// Wakes nobody: who waits for keys comes back by himself.
#[derive(Debug)]
pub struct Bell;

impl Bell {
    /// One that is silent.
    ///
    /// # Errors
    /// None.
    pub fn new() -> io::Result<Self> {
        Ok(Self)
    }

    /// Rings; true where whoever waits for keys is woken by it.
    pub fn ring(&self) -> bool {
        false
    }

    /// Silences it.
    pub fn hush(&self) {}
}

/// Where keys come from: the process's console.
pub struct Keyboard {
    size: Option<TerminalSize>,
}

impl Keyboard {
    /// Opens it.
    ///
    /// # Errors
    /// When there is no console to read from.
    pub fn open() -> io::Result<Self> {
        File::open("CONIN$")?;
        Ok(Self { size: screen::size().ok() })
    }

    /// Waits for keys or the end of the console. The bell is never heard and no limit is needed: there are no bytes that
    /// others could belong to.
    pub fn next(&mut self, _bell: &Bell, _limit: Option<Duration>) -> KeyNews<'_> {
        match poll(LOOK) {
            Ok(true) => match gather() {
                Ok(events) => KeyNews::Events(settled(events)),
                Err(_) => KeyNews::End,
            },
            Ok(false) => self.look(),
            Err(_) => KeyNews::End,
        }
    }

    /// Tells of another size.
    fn look(&mut self) -> KeyNews<'_> {
        let now = screen::size().ok();
        if now == self.size {
            return KeyNews::Nothing;
        }
        self.size = now;
        let size = now.unwrap_or_default();
        KeyNews::Events(vec![Event::Resize(size.columns, size.rows)])
    }
}

/// All that has come, and what follows at once where it may be text that is pasted.
fn gather() -> io::Result<Vec<Event>> {
    let mut events = vec![read()?];
    while events.len() < MOST {
        let pressed =
            events.iter().filter(|e| matches!(e, Event::Key(key) if key.kind != KeyEventKind::Release));
        let wait = if pressed.take(2).count() > 1 { MORE } else { Duration::ZERO };
        if !poll(wait)? {
            break;
        }
        events.push(read()?);
    }
    Ok(events)
}

/// True where there is a console to read keys from.
pub fn can_be_read() -> bool {
    io::stdin().is_terminal() || File::open("CONIN$").is_ok()
}
