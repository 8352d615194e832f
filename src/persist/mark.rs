//! Marks that tell books and groups of lines apart. What is marked is decided elsewhere.

use super::frame;
use std::sync::atomic::{AtomicU64, Ordering};

/// A mark that no other line bears: process, moment and a running number, stirred.
pub(super) fn new_mark() -> u64 {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
    let n = COUNT.fetch_add(1, Ordering::Relaxed);
    frame::checksum(&[&std::process::id().to_le_bytes(), &now.as_nanos().to_le_bytes(), &n.to_le_bytes()])
}
