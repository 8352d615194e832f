//! Files that a person names at the bench, read and written on threads of their own: `~` is the home folder, a file that
//! is there is never written over unasked. What may be opened is decided by [`given`].

use super::handed;
use super::named::named;
use crate::app::action::{Action, ListRead};
use crate::app::effect::{Content, HandOn, ListUse};
use crate::domain::book::Book;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::exchange::{read, write};
use crate::persist::given::{self, LIST};
use crate::persist::made;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// How long a file may take before the person is told that it takes long.
const LONG: Duration = Duration::from_millis(700);

/// What is asked for.
#[derive(Debug)]
pub enum FileOrder {
    /// The rows of a list.
    ReadList {
        /// The file, as the person typed it.
        path: String,
        /// The unit of bare lengths.
        unit: Unit,
        /// The currency that prices may carry.
        currency: String,
        /// What the list is for.
        what: ListUse,
    },
    /// A card or a project, from the file of this name; bare numbers in it are in the unit.
    ReadCard(String, Unit),
    /// The files whose names begin like this.
    Names(String),
    /// A card or a project to a file.
    WriteCard(Box<HandOn>),
    /// A new file of these bytes.
    WriteNew {
        /// The file, as the person typed it.
        path: String,
        /// All of it.
        bytes: Vec<u8>,
    },
}

impl FileOrder {
    /// Puts a new file together from the book as it is now.
    pub fn write(path: String, content: &Content, book: &Book) -> Self {
        let bytes = match content {
            Content::Shelf(unit) => write::stock::stock(book, *unit),
            Content::Lines(unit, ids) => write::stock::lines(book, ids, *unit),
            Content::Table { header, rows, below_zero } => {
                write::stock::table_with_numbers(header, rows.iter(), below_zero)
            }
            Content::Text(text) => text.clone().into_bytes(),
        };
        Self::WriteNew { path, bytes }
    }

    fn path(&self) -> &str {
        match self {
            Self::ReadList { path, .. }
            | Self::ReadCard(path, _)
            | Self::Names(path)
            | Self::WriteNew { path, .. } => path,
            Self::WriteCard(file) => &file.path,
        }
    }

    const fn writes(&self) -> bool {
        matches!(self, Self::WriteCard(_) | Self::WriteNew { .. })
    }
}

/// Carries an order out, here and now; what came of it is an action.
pub fn carry_out(order: FileOrder) -> Action {
    match order {
        FileOrder::ReadList { path, unit, currency, what } => read_list(path, unit, &currency, what),
        FileOrder::ReadCard(name, unit) => handed::read(&name, unit),
        FileOrder::Names(typed) => {
            let (folder, begun) = typed.rsplit_once('/').map_or(("", typed.as_str()), |(f, b)| (f, b));
            let folder = if typed.contains('/') { format!("{folder}/") } else { String::new() };
            let place = if folder.is_empty() { "." } else { folder.as_str() };
            let names = given::names(&named(place), begun);
            let names = names.into_iter().map(|name| format!("{folder}{name}")).collect();
            Action::Names(typed, names)
        }
        FileOrder::WriteCard(file) => handed::write(&file),
        FileOrder::WriteNew { path, bytes } => match made::write_new(&named(&path), &bytes) {
            Ok(()) => Action::Tell(format!("Wrote {}.", harmless(&path))),
            Err(why) => Action::Refuse(format!("{} {why}", harmless(&path))),
        },
    }
}

fn read_list(path: String, unit: Unit, currency: &str, what: ListUse) -> Action {
    match given::read(&named(&path), LIST) {
        Ok(bytes) => {
            let rows = read::stock::stock(&bytes, unit, currency);
            Action::ListRead(Box::new(ListRead { path, what, rows }))
        }
        Err(why) => Action::Refuse(format!("{} {why}", harmless(&path))),
    }
}

/// An order under way; dropping it says that it is done.
struct Slip {
    order: FileOrder,
    done: Sender<()>,
}

/// The front of the two threads: one reads, one writes, each in the order of asking. A disk that hangs while it is read
/// holds up neither what is written nor the end of the bench.
pub struct Clerks {
    reading: Sender<Slip>,
    writing: Sender<Slip>,
    writer: JoinHandle<()>,
    tell: Tell,
}

type Tell = Arc<dyn Fn(Action) + Send + Sync>;

impl Clerks {
    /// Starts the threads; `tell` takes what came of an order.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn start(tell: impl Fn(Action) + Send + Sync + 'static) -> std::io::Result<Self> {
        Self::start_with(carry_out, Arc::new(tell))
    }

    fn start_with(
        do_it: impl Fn(FileOrder) -> Action + Send + Clone + 'static,
        tell: Tell,
    ) -> std::io::Result<Self> {
        let (reading, to_read) = channel();
        let (writing, to_write) = channel();
        let (read, news) = (do_it.clone(), Arc::clone(&tell));
        thread::Builder::new().name("reader".to_owned()).spawn(move || work(&to_read, &read, &news))?;
        let news = Arc::clone(&tell);
        let body = move || work(&to_write, &do_it, &news);
        let writer = thread::Builder::new().name("writer".to_owned()).spawn(body)?;
        Ok(Self { reading, writing, writer, tell })
    }

    /// Hands an order over. False where the thread is gone.
    pub fn ask(&self, order: FileOrder) -> bool {
        let (done, waits) = channel();
        let sentence = still(&order);
        let tell = Arc::clone(&self.tell);
        // Where there is no thread to wait on it, nobody is told that it takes long.
        let _ = thread::Builder::new().name("patience".to_owned()).spawn(move || {
            if waits.recv_timeout(LONG) == Err(RecvTimeoutError::Timeout) {
                tell(Action::Tell(sentence));
            }
        });
        let clerk = if order.writes() { &self.writing } else { &self.reading };
        clerk.send(Slip { order, done }).is_ok()
    }

    /// Waits until everything that was to be written is. What is still being read is given up.
    pub fn finish(self) {
        drop((self.reading, self.writing));
        // A thread that fell over has told so.
        let _ = self.writer.join();
    }
}

fn still(order: &FileOrder) -> String {
    let what = if order.writes() { "written" } else { "read" };
    format!("{} is still being {what}; you can keep working.", harmless(order.path()))
}

fn work(orders: &Receiver<Slip>, do_it: &impl Fn(FileOrder) -> Action, tell: &Tell) {
    for Slip { order, done } in orders {
        let path = harmless(order.path());
        let action = catch_unwind(AssertUnwindSafe(|| do_it(order))).unwrap_or_else(|fault| {
            let why = super::terminal::words_of(&*fault);
            Action::Refuse(format!("{path}: a fault of the program's own ({why}); nothing else is affected"))
        });
        drop(done);
        tell(action);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Mutex;

    const SOON: Duration = Duration::from_secs(20);

    fn read(name: &str) -> FileOrder {
        FileOrder::ReadCard(name.to_owned(), Unit::Inch)
    }

    fn write(name: &str) -> FileOrder {
        FileOrder::WriteNew { path: name.to_owned(), bytes: Vec::new() }
    }

    /// Clerks whose reader hangs until it is let go, and falls over on `bad`.
    fn clerks() -> (Clerks, Sender<()>, Receiver<String>) {
        let (hold, held) = channel::<()>();
        let held = Arc::new(Mutex::new(held));
        let (told, news) = channel();
        let work = move |order: FileOrder| {
            if !order.writes() {
                let _ = held.lock().unwrap().recv_timeout(SOON);
            }
            assert!(order.path() != "bad", "a bad order");
            Action::Tell(format!("done with {}", order.path()))
        };
        let tell = move |action| match action {
            Action::Tell(text) | Action::Refuse(text) => told.send(text).unwrap_or_default(),
            other => panic!("{other:?}"),
        };
        (Clerks::start_with(work, Arc::new(tell)).unwrap(), hold, news)
    }

    #[test]
    fn a_disk_that_hangs_is_told_and_holds_up_neither_writing_nor_the_end() {
        let (clerks, hold, news) = clerks();
        assert!(clerks.ask(read("slow.ron")));
        assert_eq!(news.recv_timeout(SOON).unwrap(), "slow.ron is still being read; you can keep working.");
        assert!(clerks.ask(write("quick.csv")));
        assert_eq!(news.recv_timeout(SOON).unwrap(), "done with quick.csv");
        clerks.ask(write("last.csv"));
        clerks.finish();
        assert_eq!(news.try_recv().unwrap(), "done with last.csv", "written before the end");
        hold.send(()).unwrap();
    }

    #[test]
    fn orders_are_carried_out_in_turn_and_a_fault_ends_one_of_them_only() {
        let (clerks, hold, news) = clerks();
        for name in ["one.ron", "bad", "two.ron"] {
            clerks.ask(read(name));
            hold.send(()).unwrap();
        }
        let said: Vec<String> = (0..3).map(|_| news.recv_timeout(SOON).unwrap()).collect();
        assert!(said[0] == "done with one.ron" && said[2] == "done with two.ron", "{said:?}");
        assert!(said[1].starts_with("bad: a fault of the program's own"), "{said:?}");
    }
}
