//! The thread that keeps the book on the disk, so that no key ever waits for a sync.
//!
//! Steps come in the order of the keys; all that have come by the time the disk is free go out as one group. What is
//! told back is what the screen needs: so many are safe, the disk refused (the steps are kept here and tried again), or
//! the book as other windows have left it.

use super::watch;
use crate::app::action::{Action, Fresh};
use crate::domain::history::Entry;
use crate::persist;
use crate::persist::Store;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// How often a refused save is tried again.
const AGAIN: Duration = Duration::from_millis(700);
/// How often the folder is looked at where the system does not tell of changes (network disks, other systems).
const LOOK: Duration = Duration::from_secs(2);
/// With nothing to wait for but news, the thread sleeps; this is only the longest that a wait can be.
const SLEEP: Duration = Duration::from_secs(86_400);

/// A step and the epoch of the book that it was made on.
type Step = (u64, Entry);

/// What wakes the thread.
enum Call {
    Step(Box<Step>),
    /// Something changed in the data folder.
    Changed,
    /// Save what is waiting, then end.
    Finish,
}

/// A keeper at work.
#[derive(Debug)]
pub struct Keeper {
    calls: Sender<Call>,
    thread: JoinHandle<()>,
}

impl Keeper {
    /// Starts the thread; `tell` passes its news on.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn start(store: Store, tell: impl Fn(Action) + Send + 'static) -> std::io::Result<Self> {
        let (calls, inbox) = channel();
        let news = calls.clone();
        let is_told = watch::folder(store.dir(), move || news.send(Call::Changed).is_ok());
        let work = Work { store, tell, waiting: Vec::new(), is_told };
        let thread = thread::Builder::new().name("keeper".to_owned()).spawn(move || work.run(&inbox))?;
        Ok(Self { calls, thread })
    }

    /// Waits until everything that was handed over is saved or refused, and ends the thread.
    pub fn finish(self) {
        // The watcher holds a sender too, so that the end is a call of its own.
        let _ = self.calls.send(Call::Finish);
        // A panic of the thread was told when it happened; there is nothing more to save then.
        let _ = self.thread.join();
    }

    /// Hands a step over. False where the thread is gone.
    pub fn keep(&self, epoch: u64, entry: Entry) -> bool {
        self.calls.send(Call::Step(Box::new((epoch, entry)))).is_ok()
    }
}

struct Work<T> {
    store: Store,
    tell: T,
    /// Steps that are not safe yet, oldest first.
    waiting: Vec<Step>,
    /// The system tells of changes in the folder; nobody needs to look.
    is_told: bool,
}

impl<T: Fn(Action)> Work<T> {
    fn run(mut self, inbox: &Receiver<Call>) {
        loop {
            let limit = match (self.waiting.is_empty(), self.is_told) {
                (false, _) => AGAIN,
                (true, false) => LOOK,
                (true, true) => SLEEP,
            };
            let first = match inbox.recv_timeout(limit) {
                Ok(call) => Some(call),
                Err(RecvTimeoutError::Timeout) => None,
                Err(RecvTimeoutError::Disconnected) => return,
            };
            let mut ends = false;
            for call in first.into_iter().chain(inbox.try_iter()) {
                match call {
                    Call::Step(step) => self.waiting.push(*step),
                    Call::Changed => {}
                    Call::Finish => ends = true,
                }
            }
            if self.waiting.is_empty() {
                self.look();
            } else {
                self.save();
            }
            if ends {
                return;
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
