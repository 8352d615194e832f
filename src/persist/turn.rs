//! Waiting for one's turn as a writer. An edit holds the lock for milliseconds, so that a longer wait means a writer that
//! hangs or was stopped; one that has died holds nothing, since the system frees its locks. It must not know what is
//! written.

use super::disk::{Disk, Lock};
use std::io;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How long a writer waits for another one.
pub const PATIENCE: Duration = Duration::from_secs(10);

/// Tells a writer from another thread to wait no longer: it tries for the lock once and gives up.
#[derive(Clone, Debug, Default)]
pub struct Hurry(Arc<AtomicBool>);

impl Hurry {
    /// Nothing is waited for from now on, until [`Hurry::end`].
    pub fn begin(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// There is time again.
    pub fn end(&self) {
        self.0.store(false, Ordering::Relaxed);
    }

    fn is_on(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// Waits for the lock.
///
/// # Errors
/// [`io::ErrorKind::TimedOut`] with a sentence where another writer keeps it, and whatever the disk refuses.
pub fn take_turn(disk: &dyn Disk, path: &Path, hurry: &Hurry) -> io::Result<Box<dyn Lock>> {
    let start = Instant::now();
    loop {
        if let Some(lock) = disk.try_lock(path)? {
            return Ok(lock);
        }
        let waited = start.elapsed();
        if hurry.is_on() || waited > PATIENCE {
            let words = match waited.as_secs() {
                0 => "another window or command is writing".to_owned(),
                1 => "another window or command has been writing for 1 second".to_owned(),
                n => format!("another window or command has been writing for {n} seconds"),
            };
            return Err(io::Error::new(io::ErrorKind::TimedOut, words));
        }
        disk.pause();
    }
}
