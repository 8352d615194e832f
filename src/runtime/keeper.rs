//! The thread that keeps the book on the disk, so that no key ever waits for a sync.
//!
//! Wishes come in the order of the keys and are appended in that order. What is told back is what the screen needs:
//! so many are safe, the disk refused, or the book as another window left it.

use crate::app::action::Action;
use crate::domain::book::Book;
use crate::domain::history::{History, Wish};
use jiff::civil::Date;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::Duration;

/// How often the journal is looked at for what other windows wrote. Looking draws nothing.
const LOOK: Duration = Duration::from_millis(700);

/// Somewhere that a book is kept.
pub trait Keep: Send {
    /// Appends a wish; it is safe on the disk when this returns.
    ///
    /// # Errors
    /// Why not, and whether the disk or the book refused.
    fn keep(&mut self, wish: &Wish, today: Date) -> Result<(), Refusal>;

    /// Looks for what others wrote; the state as it stands if they did.
    fn follow(&mut self) -> Result<bool, String>;

    /// The state as this keeper knows it.
    fn state(&self) -> (Book, History);
}

/// Who refused a wish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The book does: another window was faster, or something later rests on it.
    Book(String),
    /// The disk does.
    Disk(String),
}

/// A keeper at work.
#[derive(Debug)]
pub struct Keeper {
    wishes: Sender<(Wish, Date)>,
}

impl Keeper {
    /// Starts the thread; `tell` passes its news on.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn start(keep: Box<dyn Keep>, tell: impl Fn(Action) + Send + 'static) -> std::io::Result<Self> {
        let (wishes, inbox) = channel();
        thread::Builder::new().name("keeper".to_owned()).spawn(move || work(keep, &inbox, &tell))?;
        Ok(Self { wishes })
    }

    /// Hands a wish over. False where the thread is gone.
    pub fn keep(&self, wish: Wish, today: Date) -> bool {
        self.wishes.send((wish, today)).is_ok()
    }
}

fn work(mut keep: Box<dyn Keep>, inbox: &Receiver<(Wish, Date)>, tell: &impl Fn(Action)) {
    loop {
        match inbox.recv_timeout(LOOK) {
            Ok((wish, today)) => one(&mut *keep, &wish, today, inbox, tell),
            Err(RecvTimeoutError::Timeout) => {
                // Trouble with looking is told when something is to be written: a note every second helps nobody.
                if matches!(keep.follow(), Ok(true)) {
                    tell(Action::Followed(Box::new(keep.state())));
                }
            }
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

fn one(
    keep: &mut dyn Keep,
    wish: &Wish,
    today: Date,
    inbox: &Receiver<(Wish, Date)>,
    tell: &impl Fn(Action),
) {
    match keep.keep(wish, today) {
        Ok(()) => tell(Action::Saved(1)),
        Err(Refusal::Book(why)) => {
            // What was typed on top of the refused edit was typed on a book that never was.
            while inbox.try_recv().is_ok() {}
            tell(Action::EditRefused(why, Box::new(keep.state())));
        }
        Err(Refusal::Disk(why)) => tell(Action::SaveFailed(why)),
    }
}
