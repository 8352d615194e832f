//! The thread that keeps the book on the disk, so that no key ever waits for a sync.
//!
//! Steps come in the order of the keys; all that have come by the time the disk is free go out as one group. What is
//! told back is what the screen needs: so many are safe, the disk refused (the steps are kept here and tried again), or
//! the book as other windows have left it.

use crate::app::action::{Action, Fresh};
use crate::domain::history::Entry;
use crate::persist;
use crate::persist::Store;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// How often the journal is looked at for what other windows wrote, and a refused save is tried again. Looking draws
/// nothing.
const LOOK: Duration = Duration::from_millis(700);

/// A step and the epoch of the book that it was made on.
type Step = (u64, Entry);

/// A keeper at work.
#[derive(Debug)]
pub struct Keeper {
    steps: Sender<Step>,
    thread: JoinHandle<()>,
}

impl Keeper {
    /// Starts the thread; `tell` passes its news on.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn start(store: Store, tell: impl Fn(Action) + Send + 'static) -> std::io::Result<Self> {
        let (steps, inbox) = channel();
        let work = Work { store, tell, waiting: Vec::new() };
        let thread = thread::Builder::new().name("keeper".to_owned()).spawn(move || work.run(&inbox))?;
        Ok(Self { steps, thread })
    }

    /// Waits until everything that was handed over is saved or refused, and ends the thread.
    pub fn finish(self) {
        drop(self.steps);
        // A panic of the thread was told when it happened; there is nothing more to save then.
        let _ = self.thread.join();
    }

    /// Hands a step over. False where the thread is gone.
    pub fn keep(&self, epoch: u64, entry: Entry) -> bool {
        self.steps.send((epoch, entry)).is_ok()
    }
}

struct Work<T> {
    store: Store,
    tell: T,
    /// Steps that are not safe yet, oldest first.
    waiting: Vec<Step>,
}

impl<T: Fn(Action)> Work<T> {
    fn run(mut self, inbox: &Receiver<Step>) {
        loop {
            match inbox.recv_timeout(LOOK) {
                Ok(step) => self.waiting.push(step),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return,
            }
            self.waiting.extend(inbox.try_iter());
            if self.waiting.is_empty() {
                self.look();
            } else {
                self.save();
            }
        }
    }

    /// Saves what is waiting, a group for each epoch.
    fn save(&mut self) {
        while let Some(epoch) = self.waiting.first().map(|s| s.0) {
            let group: Vec<Entry> =
                self.waiting.iter().take_while(|s| s.0 == epoch).map(|s| s.1.clone()).collect();
            match self.store.save(epoch, &group) {
                Ok(kept) => {
                    self.waiting.drain(..group.len());
                    (self.tell)(Action::Saved(group.len()));
                    if let Some(fresh) = kept.fresh {
                        (self.tell)(Action::Followed(Box::new(as_fresh(fresh)), kept.refused));
                    }
                }
                Err(why) => return (self.tell)(Action::SaveFailed(why.to_string())),
            }
        }
    }

    /// Trouble with looking is told when something is to be written: a note every second helps nobody.
    fn look(&mut self) {
        if self.store.has_news() && matches!(self.store.refresh(), Ok(true)) {
            let fresh = self.store.fresh();
            (self.tell)(Action::Followed(Box::new(as_fresh(fresh)), Vec::new()));
        }
    }
}

fn as_fresh(fresh: persist::Fresh) -> Fresh {
    Fresh { epoch: fresh.epoch, book: fresh.book, history: fresh.history }
}
