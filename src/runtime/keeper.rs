//! What is on its way to the disk, and the thread that keeps the book there, so that no key ever waits for a sync.
//!
//! Steps come in the order of the keys; all that have come by the time the disk is free go out as one group. What is
//! reported back is what the screen needs: so many are safe, the disk refused (the steps are kept here and tried again), or
//! the book as other windows have left it. When the bench is left, the last try's failure is handed back as a sentence.

use super::whole_book::{self, as_fresh};
use crate::app::action::Action;
use crate::app::effect::BookOrder;
use crate::domain::book::Book;
use crate::domain::history::Entry;
use crate::persist::turn::{Hurry, PATIENCE};
use crate::persist::{Store, StoreError};
use crate::system::watch;
use jiff::civil::Date;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

/// How often a refused save is tried again.
const AGAIN: Duration = Duration::from_millis(700);
/// How often the folder is looked at where the system does not tell of changes (network disks, other systems).
const LOOK: Duration = Duration::from_secs(2);
/// With nothing to wait for but news, the thread sleeps; this is only the longest that a wait can be.
const SLEEP: Duration = Duration::from_secs(86_400);
/// So many lost steps are named one by one.
const NAMED: usize = 5;
/// How long the bench waits for the last save when it is left.
pub const LAST_TRY: Duration = Duration::from_secs(5);
/// A last save that takes longer than this is told.
const MOMENT: Duration = Duration::from_millis(200);
/// How long stopping for the shell waits for a save.
const BEFORE_A_STOP: Duration = Duration::from_secs(1);
/// How long a save may take to give up once it is asked to.
const TO_GIVE_UP: Duration = Duration::from_millis(300);

/// A step and the epoch of the book that it was made on.
type Step = (u64, Entry);

/// The store and the steps that are not safe in it yet, oldest first.
pub struct Waiting {
    store: Store,
    steps: Vec<Step>,
    why: String,
    /// Another book is in the place of ours, which was told.
    is_displaced: bool,
    /// The last look has failed.
    is_lost: bool,
}

impl Waiting {
    /// Nothing is on its way yet.
    pub fn new(store: Store) -> Self {
        Self { store, steps: Vec::new(), why: String::new(), is_displaced: false, is_lost: false }
    }

    /// The book as it is on the disk.
    pub fn book(&self) -> &Book {
        self.store.book()
    }

    /// Takes a step that the screen shows already.
    pub fn add(&mut self, epoch: u64, entry: Entry) {
        self.steps.push((epoch, entry));
    }

    /// Saves what is waiting, a group for each epoch, up to the first refusal. What was refused keeps waiting.
    pub fn save(&mut self, tell: &mut dyn FnMut(Action)) {
        while let Some(epoch) = self.steps.first().map(|s| s.0) {
            let group: Vec<Entry> =
                self.steps.iter().take_while(|s| s.0 == epoch).map(|s| s.1.clone()).collect();
            match self.store.save(epoch, &group) {
                Ok(kept) => {
                    self.steps.drain(..group.len());
                    tell(Action::Saved(group.len()));
                    if let Some(fresh) = kept.fresh {
                        tell(Action::Followed(Box::new(as_fresh(fresh)), kept.refused));
                    }
                }
                Err(error) => {
                    self.why = match error {
                        StoreError::NotSaved { why } => why,
                        other => other.to_string(),
                    };
                    return tell(Action::SaveFailed(self.why.clone()));
                }
            }
        }
    }

    /// Trouble with looking is told when something is to be written: a note every second helps nobody. Another book in
    /// the place of ours is told once, and that ours is back.
    fn look(&mut self, tell: &mut dyn FnMut(Action)) {
        let news = if self.is_lost || self.store.has_news() { self.store.refresh() } else { Ok(false) };
        self.is_lost = news.is_err();
        match news {
            Ok(is_new) => {
                if is_new {
                    let fresh = self.store.fresh();
                    tell(Action::Followed(Box::new(as_fresh(fresh)), Vec::new()));
                }
                if std::mem::take(&mut self.is_displaced) {
                    tell(Action::Saved(0));
                }
            }
            Err(error @ StoreError::OtherBook { .. }) if !self.is_displaced => {
                self.is_displaced = true;
                tell(Action::SaveFailed(error.to_string()));
            }
            Err(_) => {}
        }
    }

    /// The last try. Where it fails too, a sentence that says what is lost, so that it can be done once more. `say` hears
    /// at once where another writer is in the way.
    pub fn finish(mut self, say: &mut dyn FnMut(&str)) -> Option<String> {
        if !self.steps.is_empty() && self.store.is_kept_out() {
            say(&last_try(PATIENCE));
        }
        self.finish_silently()
    }

    fn finish_silently(&mut self) -> Option<String> {
        self.save(&mut |_| ());
        let (count, names) = self.unsaved()?;
        Some(format!("{count} not on the disk: {}; to be done again: {names}", self.why))
    }

    /// The steps that are not safe, counted and named; `None` where all are.
    fn unsaved(&self) -> Option<(String, String)> {
        let labels = self.steps.iter().map(|(_, e)| e.edit.describe(self.store.book()));
        let mut named: Vec<String> = labels.take(NAMED).collect();
        if self.steps.len() > NAMED {
            named.push("and so on".to_owned());
        }
        let count = match self.steps.len() {
            0 => return None,
            1 => "the last change is".to_owned(),
            n => format!("the last {n} changes are"),
        };
        Some((count, named.join(", ")))
    }

    /// Does something with the whole book, once all that is waiting is in it.
    pub fn book_order(&mut self, order: BookOrder, today: Date, tell: &mut dyn FnMut(Action)) {
        self.save(tell);
        if let Some((count, names)) = self.unsaved() {
            return tell(Action::Refuse(format!("Not done, {count} not on the disk yet: {names}.")));
        }
        whole_book::carry_out(order, &mut self.store, today).into_iter().for_each(tell);
    }

    /// A try before the process is stopped; a sentence for what is not safe then.
    fn before_a_stop(&mut self, tell: &mut dyn FnMut(Action)) -> Option<String> {
        self.save(tell);
        let (count, names) = self.unsaved()?;
        Some(format!(
            "{count} not saved yet ({}): {names}; all of it is kept here and saved when you come back",
            self.why
        ))
    }
}

fn last_try(limit: Duration) -> String {
    format!("saving once more, for up to {} seconds; Ctrl-C leaves without it", limit.as_secs())
}

/// What wakes the thread.
enum Call {
    Step(Box<Step>),
    /// Something changed in the data folder.
    Changed,
    /// Save what is waiting, say what is not safe, and do nothing until the process goes on.
    Rest(Sender<Option<String>>, Receiver<()>),
    /// Save what is waiting, then do this with the whole book.
    Book(BookOrder, Date),
    /// Save what is waiting, then end.
    Finish,
}

/// A keeper at work.
#[derive(Debug)]
pub struct Keeper {
    calls: Sender<Call>,
    thread: JoinHandle<Option<String>>,
    hurry: Hurry,
}

/// A keeper that does nothing, and holds no lock, as long as this is there.
#[derive(Debug)]
pub struct Rest {
    /// What is not safe, where anything is not.
    pub unsaved: Option<String>,
    _go_on: Sender<()>,
}

impl Keeper {
    /// Starts the thread; `tell` passes its news on.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn start(store: Store, mut tell: impl FnMut(Action) + Send + 'static) -> std::io::Result<Self> {
        let (calls, inbox) = channel();
        let news = calls.clone();
        let is_told = watch::folder(store.dir(), move || news.send(Call::Changed).is_ok());
        let hurry = store.hurry();
        let mut waiting = Waiting::new(store);
        let thread = thread::Builder::new().name("keeper".to_owned()).spawn(move || {
            run(&mut waiting, &inbox, is_told, &mut tell);
            waiting.finish_silently()
        })?;
        Ok(Self { calls, thread, hurry })
    }

    /// Has everything saved that was handed over, within a moment, before the process is stopped: a process that is
    /// stopped while it holds the lock keeps all others out.
    pub fn rest(&self) -> Rest {
        let ((answer, heard), (go_on, until)) = (channel(), channel());
        let asked = self.calls.send(Call::Rest(answer, until)).is_ok();
        let mut unsaved = heard.recv_timeout(BEFORE_A_STOP);
        if asked && unsaved == Err(RecvTimeoutError::Timeout) {
            self.hurry.begin();
            unsaved = heard.recv_timeout(TO_GIVE_UP);
            self.hurry.end();
        }
        let silent = "the disk does not answer: what was changed last may not be saved yet";
        Rest { unsaved: unsaved.unwrap_or_else(|_| Some(silent.to_owned())), _go_on: go_on }
    }

    /// Waits until everything that was handed over is saved, for [`LAST_TRY`] at most, and ends the thread. A sentence
    /// where something could not be saved.
    ///
    /// Where it takes more than a moment `say` hears so. `is_given_up` lets at most the time pass that it is given, and
    /// tells whether the person will wait no longer.
    pub fn finish(
        self,
        say: &mut dyn FnMut(&str),
        is_given_up: &mut dyn FnMut(Duration) -> bool,
    ) -> Option<String> {
        // The watcher holds a sender too, so that the end is a call of its own.
        let _ = self.calls.send(Call::Finish);
        let began = Instant::now();
        let (mut is_told, mut turn) = (false, Duration::from_millis(1));
        while !self.thread.is_finished() {
            if !is_told && began.elapsed() > MOMENT {
                is_told = true;
                say(&last_try(LAST_TRY));
            }
            if is_given_up(turn) || began.elapsed() > LAST_TRY {
                self.hurry.begin();
            }
            turn = (turn * 2).min(MOMENT / 10);
        }
        self.thread.join().unwrap_or_else(|_| {
            Some("the thread that saves has failed: see in the log what is there and what is not".to_owned())
        })
    }

    /// Hands an order over that is about the whole book. False where the thread is gone.
    pub fn book(&self, order: BookOrder, today: Date) -> bool {
        self.calls.send(Call::Book(order, today)).is_ok()
    }

    /// Hands a step over. False where the thread is gone.
    pub fn keep(&self, epoch: u64, entry: Entry) -> bool {
        self.calls.send(Call::Step(Box::new((epoch, entry)))).is_ok()
    }
}

/// Until the end is called. `is_told` where the system tells of changes in the folder, so that nobody needs to look.
fn run(waiting: &mut Waiting, inbox: &Receiver<Call>, mut is_told: bool, tell: &mut dyn FnMut(Action)) {
    loop {
        // A folder that was gone once may come back as another one, of which the system tells nothing.
        is_told &= !waiting.is_lost;
        let limit = match (waiting.steps.is_empty(), is_told) {
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
                Call::Step(step) => waiting.steps.push(*step),
                Call::Changed => {}
                Call::Rest(answer, until) => {
                    let _ = answer.send(waiting.before_a_stop(tell));
                    // Until the other end is dropped.
                    let _ = until.recv();
                }
                Call::Book(order, today) => waiting.book_order(order, today, tell),
                Call::Finish => ends = true,
            }
        }
        if ends {
            return;
        }
        if waiting.steps.is_empty() {
            waiting.look(tell);
        } else {
            waiting.save(tell);
        }
    }
}
