//! What the screen says to be saved is safe by then; a job that is logged is one record; odd days do no harm.

use super::fake::{Crash, Fake};
use crate::effort::thinned;
use crate::laws::wishes::{DAY, Dice, edit};
use crate::screens::harness::Bench;
use std::io;
use std::path::Path;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex};
use std::time::Duration;
use trimside::app::action::Action;
use trimside::domain::edit::Edit;
use trimside::domain::history::Intent;
use trimside::persist::disk::{Disk, Lock, Sink};
use trimside::persist::kept::copies;
use trimside::persist::{Store, demo};
use trimside::runtime::keeper::Keeper;

const DIR: &str = "/data";

/// A disk whose syncs wait for a word.
#[derive(Clone)]
struct Gated {
    disk: Fake,
    gate: Arc<Mutex<Receiver<()>>>,
    /// A mutant: syncs are begun and not waited for.
    hurries: bool,
}

struct GatedSink(Gated, Box<dyn Sink>);

impl Sink for GatedSink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.1.write(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        if self.0.hurries {
            return Ok(());
        }
        let _ = self.0.gate.lock().unwrap().recv();
        self.1.sync()
    }
}

impl Disk for Gated {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        self.disk.read(path)
    }
    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>> {
        self.disk.read_part(path, from, most)
    }
    fn len(&self, path: &Path) -> io::Result<Option<u64>> {
        self.disk.len(path)
    }
    fn list(&self, dir: &Path) -> io::Result<Vec<String>> {
        self.disk.list(dir)
    }
    fn make_dir(&self, dir: &Path) -> io::Result<()> {
        self.disk.make_dir(dir)
    }
    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(GatedSink(self.clone(), self.disk.create(path)?)))
    }
    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(GatedSink(self.clone(), self.disk.append(path)?)))
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.disk.rename(from, to)
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        self.disk.remove(path)
    }
    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        self.disk.sync_dir(dir)
    }
    fn try_lock(&self, path: &Path) -> io::Result<Option<Box<dyn Lock>>> {
        self.disk.try_lock(path)
    }
    fn may_lock(&self, path: &Path) -> io::Result<()> {
        self.disk.may_lock(path)
    }
}

/// A step goes to the keeper; the news of it must come after the sync, and then it must be safe.
fn acknowledged_after_the_sync(hurries: bool) {
    let disk = Fake::default();
    // A new folder gets its snapshot first, which has a sync of its own: the gate stands before the step alone.
    let mut first = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let item = edit(first.book(), &mut Dice::new(2));
    first.append(&[Intent::Do(item)], DAY).unwrap().remove(0).unwrap();
    drop(first);
    let (open, gate): (Sender<()>, _) = channel();
    let gated = Gated { disk: disk.clone(), gate: Arc::new(Mutex::new(gate)), hurries };
    let store = Store::open_on(Arc::new(gated), Path::new(DIR)).unwrap();
    let (mut book, mut history, epoch) = (store.book().clone(), store.history().clone(), store.epoch());
    let (tell, news) = channel();
    let keeper = Keeper::start(store, move |action| tell.send(action).unwrap()).unwrap();
    let wish = Intent::Do(edit(&book, &mut Dice::new(3)));
    let (step, _) = history.perform(&mut book, &wish, DAY).unwrap();
    assert!(keeper.keep(epoch, step));
    let early = news.recv_timeout(Duration::from_millis(150));
    assert!(matches!(early, Err(RecvTimeoutError::Timeout)), "told before the sync: {early:?}");
    // A save has as many syncs as it needs: the snapshot of an older version is written anew before the step.
    for _ in 0..8 {
        open.send(()).unwrap();
    }
    let told = news.recv_timeout(Duration::from_secs(20)).unwrap();
    assert!(matches!(told, Action::Saved(1)), "{told:?}");
    let after = Store::open_on(disk.after(Crash::Strict).shared(), Path::new(DIR)).unwrap();
    assert!(after.book() == &book, "told, and not safe");
    drop(open);
    assert_eq!(keeper.finish(&mut |_| (), &mut |_| false), None);
}

#[test]
fn the_mark_of_the_screen_goes_after_the_sync() {
    acknowledged_after_the_sync(false);
}

#[test]
fn a_keeper_that_does_not_wait_for_the_sync_is_caught() {
    let caught = std::panic::catch_unwind(|| acknowledged_after_the_sync(true));
    assert!(caught.is_err(), "the test above would not notice it");
}

#[test]
fn a_cut_list_logged_with_its_offcuts_is_one_record() {
    let keys = "s 'fern floor, letter' Enter p '5x5' Enter c '4' Enter b Enter Esc W Ctrl-u '2' Enter";
    let bench = Bench::demo().keys(keys);
    assert_eq!(bench.steps.len(), 1, "one step, whatever it holds");
    let Edit::Batch { edits, .. } = &bench.steps[0].edit else { panic!("{:?}", bench.steps[0].edit) };
    let offcuts = edits.iter().filter(|e| matches!(e, Edit::Offcut(_))).count();
    let lines = edits.iter().filter(|e| matches!(e, Edit::Log(_))).count();
    assert!(offcuts >= 1 && lines >= 2, "{edits:?}");
    // In the journal it is one line after those of the mark and the version, and every part of a line is none.
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let (book, history) = demo::book().unwrap();
    store.found(book.clone(), history, DAY).unwrap();
    store.append(&[Intent::Do(bench.steps[0].edit.clone())], DAY).unwrap().remove(0).unwrap();
    let (path, line) =
        disk.files().into_iter().find(|(p, _)| p.to_string_lossy().contains("journal-")).unwrap();
    assert_eq!(line.iter().filter(|b| **b == b'\n').count(), 3);
    for cut in thinned(0..line.len(), 7) {
        let torn = disk.copy();
        torn.put(&path, &line[..cut]);
        let store = Store::open_on(torn.shared(), Path::new(DIR)).unwrap();
        assert!(store.book() == &book, "cut at {cut}: a part of the record counts");
    }
}

#[test]
fn a_clock_that_goes_back_or_far_ahead_loses_nothing() {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let mut dice = Dice::new(21);
    let day = |y, m, d| jiff::civil::date(y, m, d);
    let mut days: Vec<_> = (1..=12).map(|n| day(2026, 3, n)).collect();
    days.extend([day(2019, 1, 1), day(1970, 1, 1), day(9999, 12, 31), day(2026, 3, 13), day(1, 1, 1)]);
    for on in days {
        let next = edit(store.book(), &mut dice);
        let _ = store.append(&[Intent::Do(next)], on).unwrap();
        assert_eq!(store.take_notes(), [] as [String; 0], "{on}");
        let again = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
        assert!((again.book(), again.history()) == (store.book(), store.history()), "{on}");
    }
    let kept = copies(&disk, Path::new(DIR)).unwrap();
    assert!(kept.len() == 10 && kept.iter().all(|c| c.broken.is_none()), "{kept:?}");
}
