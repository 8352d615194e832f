//! Another writer that comes in between any two calls of an edit: whatever the moment, the two edits end in one book,
//! and an edit for which too little is left is refused, once and with a sentence.

use super::fake::Fake;
use super::mutants::Mutant;
use crate::laws::wishes::DAY;
use std::io;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{Intent, WishError};
use trimside::domain::stock::{Item, ItemId, Kind, NewLine};
use trimside::persist::disk::{Disk, Lock, Sink};
use trimside::persist::{Saved, Store, StoreError};

const DIR: &str = "/data";
const FERN: ItemId = ItemId(1);

type Act = Box<dyn FnOnce() + Send>;

/// A disk on which something happens just before its n-th call.
#[derive(Clone)]
struct Meddled {
    disk: Arc<dyn Disk>,
    left: Arc<AtomicUsize>,
    act: Arc<Mutex<Option<Act>>>,
}

struct MeddledSink(Meddled, Box<dyn Sink>);

impl Meddled {
    fn new(disk: Arc<dyn Disk>, at: usize, act: Act) -> Self {
        Self { disk, left: Arc::new(AtomicUsize::new(at + 1)), act: Arc::new(Mutex::new(Some(act))) }
    }

    fn has_acted(&self) -> bool {
        self.act.lock().unwrap().is_none()
    }

    fn call(&self) {
        let left = self.left.load(Ordering::SeqCst);
        self.left.store(left.saturating_sub(1), Ordering::SeqCst);
        if left == 1 {
            let act = self.act.lock().unwrap().take();
            act.into_iter().for_each(|act| act());
        }
    }

    fn over(&self, sink: io::Result<Box<dyn Sink>>) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(MeddledSink(self.clone(), sink?)))
    }
}

impl Sink for MeddledSink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.call();
        self.1.write(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.0.call();
        self.1.sync()
    }
}

impl Disk for Meddled {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        self.call();
        self.disk.read(path)
    }

    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>> {
        self.call();
        self.disk.read_part(path, from, most)
    }

    fn len(&self, path: &Path) -> io::Result<Option<u64>> {
        self.call();
        self.disk.len(path)
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<String>> {
        self.call();
        self.disk.list(dir)
    }

    fn make_dir(&self, dir: &Path) -> io::Result<()> {
        self.call();
        self.disk.make_dir(dir)
    }

    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        self.call();
        self.over(self.disk.create(path))
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        self.call();
        self.over(self.disk.append(path))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call();
        self.disk.rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.call();
        self.disk.remove(path)
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        self.call();
        self.disk.sync_dir(dir)
    }

    fn try_lock(&self, path: &Path) -> io::Result<Option<Box<dyn Lock>>> {
        self.call();
        self.disk.try_lock(path)
    }

    fn may_lock(&self, path: &Path) -> io::Result<()> {
        self.call();
        self.disk.may_lock(path)
    }

    fn pause(&self) {}
}

/// Five sheets on the shelf; two of the lines stand in a snapshot, two after it.
fn shelf(mutant: Option<Mutant>) -> Fake {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let first = [
        Edit::Item(Row::add(FERN, Item::new("fern", Kind::PlainSheet))),
        Edit::Log(NewLine::received(FERN, 2, "")),
        Edit::Log(NewLine::received(FERN, 2, "")),
        Edit::Log(NewLine::received(FERN, 1, "")),
    ];
    for (n, edit) in first.into_iter().enumerate() {
        store.append(&[Intent::Do(edit)], DAY).unwrap().remove(0).unwrap();
        if n == 1 {
            store.compact(DAY).unwrap();
        }
    }
    disk.mutate(mutant);
    disk
}

type Answer = Result<Result<Saved, WishError>, StoreError>;

fn used(store: &mut Store, count: u32) -> Answer {
    store
        .append(&[Intent::Do(Edit::Log(NewLine::used(FERN, count, "class")))], DAY)
        .map(|mut all| all.remove(0))
}

/// Tries until the lock is free.
fn settled(answer: Answer, store: &mut Store, count: u32) -> Result<Saved, WishError> {
    answer.unwrap_or_else(|_| used(store, count).unwrap())
}

/// One writer uses four of five sheets, the other three, at every moment of the first one's turn.
pub fn uses_at_every_call(mutant: Option<Mutant>) {
    for at in 0.. {
        let disk = shelf(mutant);
        let mut other = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let answered: Arc<Mutex<Option<(Store, Answer)>>> = Arc::default();
        let reply = answered.clone();
        let act = Box::new(move || {
            let answer = used(&mut other, 3);
            *reply.lock().unwrap() = Some((other, answer));
        });
        let mut one = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let meddled = Meddled::new(disk.shared(), at, act);
        one = Store::open_on(Arc::new(meddled.clone()), one.dir()).unwrap();
        let first = used(&mut one, 4);
        if !meddled.has_acted() {
            assert!(at > 10, "an edit of {at} calls");
            return;
        }
        let (mut other, second) = answered.lock().unwrap().take().unwrap();
        let first = settled(first, &mut one, 4);
        let second = settled(second, &mut other, 3);
        let left = match (&first, &second) {
            (Ok(_), Err(why)) => {
                assert!(why.to_string().contains("only 1 of fern on hand, not 3"), "{at}: {why}");
                1
            }
            (Err(why), Ok(_)) => {
                assert!(why.to_string().contains("only 2 of fern on hand, not 4"), "{at}: {why}");
                2
            }
            both => panic!("before call {at}: of five sheets four and three were used: {both:?}"),
        };
        disk.mutate(None);
        let mut after = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        assert_eq!(after.take_notes(), [] as [String; 0], "before call {at}");
        assert_eq!((after.book().on_hand(FERN), after.book().log().len()), (left, 4), "before call {at}");
    }
}

#[test]
fn another_writer_at_any_moment_ends_in_one_book() {
    uses_at_every_call(None);
}

#[test]
fn another_writer_that_folds_the_journal_at_any_moment_loses_nothing() {
    for at in 0.. {
        let disk = shelf(None);
        let mut other = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let act = Box::new(move || {
            let _ = other.compact(DAY);
        });
        let meddled = Meddled::new(disk.shared(), at, act);
        let mut one = Store::open_on(Arc::new(meddled.clone()), Path::new(DIR)).unwrap();
        let answer = used(&mut one, 4);
        settled(answer, &mut one, 4).unwrap_or_else(|why| panic!("before call {at}: {why}"));
        let mut after = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        assert_eq!(after.take_notes(), [] as [String; 0], "before call {at}");
        assert_eq!((after.book().on_hand(FERN), after.book().log().len()), (1, 4), "before call {at}");
        if !meddled.has_acted() {
            return;
        }
    }
}

#[test]
fn what_an_edit_writes_does_not_grow_with_the_book() {
    let mut bytes = Vec::new();
    for items in [10, 2_000] {
        let disk = Fake::default();
        let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        let row = |n| Edit::Item(Row::add(ItemId(n), Item::new(format!("paper {n}"), Kind::PlainSheet)));
        let mut rows: Vec<Edit> = (1..=items).map(row).collect();
        rows.push(Edit::Log(NewLine::received(FERN, 1_000, "")));
        store.append(&[Intent::Do(Edit::batch("shelf", rows))], DAY).unwrap().remove(0).unwrap();
        store.compact(DAY).unwrap();
        // The first edit of a day keeps a copy of the book; the others do not.
        used(&mut store, 1).unwrap().unwrap();
        let before = disk.written();
        for _ in 0..200 {
            used(&mut store, 1).unwrap().unwrap();
        }
        bytes.push(disk.written() - before);
    }
    assert!(bytes[1] < bytes[0] * 11 / 10, "{bytes:?}");
}
