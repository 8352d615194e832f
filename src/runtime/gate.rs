//! Stops the input thread while the screen is not ours, so that what is typed then belongs to the shell. Knows nothing
//! of bytes or screens.

use crate::system::keys::Bell;
use std::io;
use std::sync::{Condvar, Mutex, PoisonError};
use std::time::Duration;

/// How long leaving the screen waits for the input thread. It is asleep nearly always and answers at once; a thread
/// that is gone answers never.
const PATIENCE: Duration = Duration::from_millis(100);

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Standing {
    closed: bool,
    reader_waits: bool,
    has_reader: bool,
}

/// A gate with one reader.
#[derive(Debug)]
pub struct Gate {
    standing: Mutex<Standing>,
    changed: Condvar,
    /// Wakes the reader out of waiting for keys.
    bell: Bell,
}

impl Gate {
    /// An open gate.
    ///
    /// # Errors
    /// When the system refuses a bell.
    pub fn new() -> io::Result<Self> {
        Ok(Self { standing: Mutex::default(), changed: Condvar::new(), bell: Bell::new()? })
    }

    /// Stops the reader; returns when it has stopped, or soon.
    pub fn close(&self) {
        let mut standing = self.standing.lock().unwrap_or_else(PoisonError::into_inner);
        standing.closed = true;
        // Where nothing wakes the reader, it comes by itself after the next key.
        if !standing.has_reader || !self.bell.ring() {
            return;
        }
        let stopped = self.changed.wait_timeout_while(standing, PATIENCE, |now| !now.reader_waits);
        drop(stopped);
    }

    /// Lets the reader go on.
    pub fn open(&self) {
        self.standing.lock().unwrap_or_else(PoisonError::into_inner).closed = false;
        self.changed.notify_all();
    }

    /// What the reader listens for beside its own source; when it rings, it is to call [`Gate::pass`].
    pub fn bell(&self) -> &Bell {
        &self.bell
    }

    /// For the reader: waits here while the gate is closed.
    pub fn pass(&self) {
        self.bell.hush();
        let mut standing = self.standing.lock().unwrap_or_else(PoisonError::into_inner);
        while standing.closed {
            standing.reader_waits = true;
            self.changed.notify_all();
            standing = self.changed.wait(standing).unwrap_or_else(PoisonError::into_inner);
        }
        standing.reader_waits = false;
    }

    /// For the reader: says that it is there, or that it is gone.
    pub fn set_reader(&self, is_there: bool) {
        self.standing.lock().unwrap_or_else(PoisonError::into_inner).has_reader = is_there;
        self.changed.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Instant;

    #[test]
    fn without_a_reader_nobody_waits() {
        let gate = Gate::new().unwrap();
        let began = Instant::now();
        gate.close();
        gate.open();
        gate.pass();
        assert!(began.elapsed() < PATIENCE);
    }

    #[test]
    fn a_closed_gate_holds_the_reader_until_it_is_opened() {
        let gate = Arc::new(Gate::new().unwrap());
        let rounds = Arc::new(AtomicUsize::new(0));
        gate.set_reader(true);
        let (at_gate, counted) = (Arc::clone(&gate), Arc::clone(&rounds));
        let reader = std::thread::spawn(move || {
            while counted.fetch_add(1, Ordering::SeqCst) < 1_000_000 {
                at_gate.pass();
            }
        });
        gate.close();
        let held = rounds.load(Ordering::SeqCst);
        std::thread::park_timeout(Duration::from_millis(20));
        assert_eq!(rounds.load(Ordering::SeqCst), held);
        rounds.store(1_000_000, Ordering::SeqCst);
        gate.open();
        reader.join().unwrap();
    }
}
