//! A disk on which the process kills itself, as by SIGKILL from outside, before the N-th operation (from 0) that changes
//! it; a write counts twice, so that a kill falls into its middle too.

use crate::ended::kill_self;
use std::io;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use trimside::persist::disk::{Disk, Lock, RealDisk, Sink};

/// The real disk with that fault on it.
pub fn disk(at: u64) -> Arc<dyn Disk> {
    Arc::new(Doomed { clock: Arc::new(Clock { at, done: AtomicU64::new(0) }) })
}

/// Counts operations.
struct Clock {
    at: u64,
    done: AtomicU64,
}

impl Clock {
    fn tick(&self) {
        if self.done.fetch_add(1, Ordering::SeqCst) == self.at {
            kill_self();
        }
    }
}

struct Doomed {
    clock: Arc<Clock>,
}

struct DoomedSink {
    sink: Box<dyn Sink>,
    clock: Arc<Clock>,
}

impl Sink for DoomedSink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let (first, rest) = bytes.split_at(bytes.len() / 2);
        self.clock.tick();
        self.sink.write(first)?;
        self.clock.tick();
        self.sink.write(rest)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.clock.tick();
        self.sink.sync()
    }
}

impl Doomed {
    fn over(&self, sink: io::Result<Box<dyn Sink>>) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(DoomedSink { sink: sink?, clock: self.clock.clone() }))
    }
}

impl Disk for Doomed {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        RealDisk.read(path)
    }

    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>> {
        RealDisk.read_part(path, from, most)
    }

    fn len(&self, path: &Path) -> io::Result<Option<u64>> {
        RealDisk.len(path)
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<String>> {
        RealDisk.list(dir)
    }

    fn make_dir(&self, dir: &Path) -> io::Result<()> {
        self.clock.tick();
        RealDisk.make_dir(dir)
    }

    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        self.clock.tick();
        self.over(RealDisk.create(path))
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        self.clock.tick();
        self.over(RealDisk.append(path))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.clock.tick();
        RealDisk.rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.clock.tick();
        RealDisk.remove(path)
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        self.clock.tick();
        RealDisk.sync_dir(dir)
    }

    fn try_lock(&self, path: &Path) -> io::Result<Option<Box<dyn Lock>>> {
        RealDisk.try_lock(path)
    }

    fn may_lock(&self, path: &Path) -> io::Result<()> {
        RealDisk.may_lock(path)
    }
}
