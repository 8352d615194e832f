//! Says that nobody waits for an answer any more. Solvers look at it now and then and give what they have by then.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A request to stop, shared between who asks and who works.
#[derive(Clone, Debug, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Asks to stop.
    pub fn ask(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// True once that was asked.
    pub fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
