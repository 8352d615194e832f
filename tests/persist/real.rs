//! On a real disk: who may read the files, what happens where a folder is not what it should be, and several
//! processes at once. Processes are made of this test program itself, started again with a word in its environment.

use super::kill::{folder, kills};
use crate::laws::wishes::{DAY, Dice, folded};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine};
use trimside::persist::Store;

/// Where a child works; without it the child's test does nothing.
const PLACE: &str = "TRIMSIDE_TEST_CHILD_DIR";
const SEED: &str = "TRIMSIDE_TEST_CHILD_SEED";
const STEPS: &str = "TRIMSIDE_TEST_CHILD_STEPS";

/// What a child says when it has started.
const READY: &str = "ready";

const ITEMS: u32 = 4;

pub fn fresh() -> (tempfile::TempDir, Store) {
    fresh_in(tempfile::tempdir().unwrap())
}

fn fresh_in(dir: tempfile::TempDir) -> (tempfile::TempDir, Store) {
    let mut store = Store::open(&dir.path().join("data")).unwrap();
    for n in 0..ITEMS {
        let id = ItemId(n + 1);
        let add = Edit::Item(Row::add(id, Item::new(format!("paper {n}"), Kind::PlainSheet)));
        let first = Edit::Log(NewLine::received(id, 1000, "first count"));
        store.append(&[Intent::Do(Edit::batch("added", vec![add, first]))], DAY).unwrap();
    }
    (dir, store)
}

fn child(dir: &Path, seed: u64, steps: usize) -> Child {
    Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "persist::real::child_at_work", "--nocapture", "--test-threads=1"])
        .env(PLACE, dir)
        .env(SEED, seed.to_string())
        .env(STEPS, steps.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// The work of a child: it says what was acknowledged, a line at once.
#[test]
fn child_at_work() {
    let Some(dir) = std::env::var_os(PLACE) else { return };
    let number = |name| std::env::var(name).unwrap().parse().unwrap();
    let (seed, steps): (u64, u64) = (number(SEED), number(STEPS));
    let mut dice = Dice::new(seed);
    let mut out = std::io::stdout().lock();
    // The test program has begun a line of its own.
    writeln!(out, "\n{READY}").unwrap();
    out.flush().unwrap();
    let mut store = Store::open(Path::new(&dir)).unwrap();
    for n in 0..steps {
        let item = ItemId(1 + dice.roll(ITEMS as usize) as u32);
        let job = format!("seed {seed} step {n}");
        let line = match dice.roll(3) {
            0 => NewLine::received(item, 1 + dice.roll(9) as u32, job.as_str()),
            // Two lines that belong together.
            1 => NewLine::used(item, 1, job.as_str()),
            _ => NewLine::used(item, 1 + dice.roll(9) as u32, job.as_str()),
        };
        let pair = Edit::Log(NewLine::used(ItemId(1), 1, job.as_str()));
        let edit = Edit::batch("two at once", vec![Edit::Log(line), pair]);
        let answer = store.append(&[Intent::Do(edit)], DAY).unwrap().remove(0);
        if dice.roll(40) == 0 {
            store.compact(DAY).unwrap();
        }
        match answer {
            Ok(_) => writeln!(out, "done {job}").unwrap(),
            Err(_) => writeln!(out, "refused {job}").unwrap(),
        }
        out.flush().unwrap();
    }
}

/// What a child says, line by line, from when it has started.
fn said(child: &mut Child) -> impl Iterator<Item = String> + use<> {
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    assert!(lines.any(|line| line == READY), "the child has started");
    lines
}

/// Edits done, and edits refused.
fn answers(lines: impl Iterator<Item = String>) -> (Vec<String>, Vec<String>) {
    let answers = lines.filter(|l| l.starts_with("done ") || l.starts_with("refused "));
    answers.partition(|l| l.starts_with("done "))
}

/// The book holds every acknowledged pair whole, and counts are sums.
fn check(dir: &Path, acknowledged: &[String], pairs_beyond: usize) {
    let store = Store::open(dir).unwrap();
    let book = store.book();
    book.check().unwrap();
    for ((item, _), sum) in folded(book) {
        assert_eq!(i64::try_from(book.on_hand(item)).unwrap(), sum);
    }
    let mut of_job = BTreeMap::new();
    book.log().iter().for_each(|l| *of_job.entry(l.job.as_str()).or_insert(0) += 1);
    for line in acknowledged {
        assert_eq!(of_job.get(line.strip_prefix("done ").unwrap()), Some(&2), "{line}");
    }
    let logged = book.log().len() - ITEMS as usize;
    assert!(logged.is_multiple_of(2), "a pair is half there");
    assert!((acknowledged.len()..=acknowledged.len() + pairs_beyond).contains(&(logged / 2)));
}

#[test]
fn four_processes_lose_nothing() {
    let (dir, mut window) = fresh();
    let data = window.dir().to_owned();
    const STEPS: usize = 500;
    let mut children: Vec<Child> = (0..4).map(|seed| child(&data, seed, STEPS)).collect();
    let (mut done, mut refused) = (Vec::new(), Vec::new());
    // Read side by side, so that no child waits for the other's pipe.
    std::thread::scope(|scope| {
        let readers: Vec<_> = children.iter_mut().map(|c| scope.spawn(|| answers(said(c)))).collect();
        for reader in readers {
            let (d, r) = reader.join().unwrap();
            assert_eq!(d.len() + r.len(), STEPS, "every edit was answered");
            done.extend(d);
            refused.extend(r);
        }
    });
    assert!(children.iter_mut().all(|c| c.wait().unwrap().success()));
    assert!(done.len() > 100 && refused.len() > 100, "{} done, {} refused", done.len(), refused.len());
    check(&data, &done, 0);
    let jobs: std::collections::BTreeSet<_> =
        Store::open(&data).unwrap().book().log().iter().map(|l| l.job.clone()).collect();
    assert!(refused.iter().all(|r| !jobs.contains(r.strip_prefix("refused ").unwrap())));
    // A window that was open all the while and one that reads the files anew see the same book.
    window.refresh().unwrap();
    let again = Store::open(&data).unwrap();
    assert!((window.book(), window.history()) == (again.book(), again.history()));
    drop(dir);
}

/// A child is killed before it has done about so many of its steps.
const STEPS_BEFORE: usize = 40;

/// How long a child takes for so many steps once it has started: machines and systems differ.
fn time_of(steps: usize) -> Duration {
    let (_dir, store) = fresh_in(folder(1));
    let mut child = child(store.dir(), 0, steps);
    let said = said(&mut child);
    let began = Instant::now();
    assert_eq!(said.filter(|l| l.contains("step")).count(), steps);
    assert!(child.wait().unwrap().success());
    began.elapsed()
}

#[test]
fn a_process_killed_at_any_instant_loses_nothing_it_acknowledged() {
    let rounds = kills();
    let mut dice = Dice::new(7);
    let (mut killed, mut done) = (0, 0);
    let whole = time_of(STEPS_BEFORE);
    for round in 0..rounds {
        let (dir, store) = fresh_in(folder(round));
        let data = store.dir().to_owned();
        drop(store);
        let mut child = child(&data, round, 400);
        let said = said(&mut child);
        std::thread::sleep(whole * dice.roll(1_000) as u32 / 1_000);
        child.kill().unwrap();
        let acknowledged = answers(said).0;
        killed += usize::from(!child.wait().unwrap().success());
        done += acknowledged.len();
        check(&data, &acknowledged, 1);
        drop(dir);
    }
    println!("{killed} of {rounds} killed, {done} edits acknowledged before");
    assert!(killed * 2 > rounds as usize && done > 0, "{killed} killed, {done} acknowledged");
}

#[test]
fn a_folder_that_will_not_do_is_said_in_a_sentence() {
    let dir = tempfile::tempdir().unwrap();
    let refusal = |path: &Path| Store::open(path).err().unwrap().to_string();
    let file = dir.path().join("file");
    std::fs::write(&file, "not a folder").unwrap();
    assert!(refusal(&file).contains("a file is where a folder should be"), "{}", refusal(&file));
    let missing = dir.path().join("no such mount").join("data");
    assert!(refusal(&missing).contains("is the disk mounted?"), "{}", refusal(&missing));
    let odd = dir.path().join("odd");
    std::fs::create_dir_all(odd.join("book.ron")).unwrap();
    assert!(refusal(&odd).contains("it is a folder where a file should be"), "{}", refusal(&odd));
    let foreign = dir.path().join("foreign");
    std::fs::create_dir(&foreign).unwrap();
    std::fs::write(foreign.join("book.ron"), "something else\n").unwrap();
    assert!(refusal(&foreign).contains("line 1, column 1"), "{}", refusal(&foreign));
    assert_eq!(std::fs::read_to_string(foreign.join("book.ron")).unwrap(), "something else\n");
}

#[test]
fn a_copy_of_the_day_can_be_brought_back_and_the_present_book_too() {
    use trimside::persist::disk::RealDisk;
    use trimside::persist::kept::{copies, restore};
    let (_dir, mut store) = fresh();
    let day = |n| jiff::civil::date(2026, 3, n);
    for n in 3..18 {
        store.append(&[Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "")))], day(n)).unwrap();
    }
    let all = copies(&RealDisk, store.dir()).unwrap();
    assert_eq!(all.len(), 10, "ten stay");
    assert_eq!((all[0].name.as_str(), all[9].name.as_str()), ("2026-03-08", "2026-03-17"));
    // The copy of the 10th is the book before the first change of the 10th: seven used.
    let said = restore(&RealDisk, store.dir(), "2026-03-10", day(18)).unwrap();
    assert!(said.iter().any(|s| s.contains("before-restore")), "{said:?}");
    assert!(store.has_news() && store.refresh().unwrap(), "an open window sees it");
    assert_eq!(store.book().on_hand(ItemId(1)), 993);
    store.append(&[Intent::Undo(None)], day(18)).unwrap().remove(0).unwrap();
    assert_eq!(Store::open(store.dir()).unwrap().book().on_hand(ItemId(1)), 994);
    let before =
        copies(&RealDisk, store.dir()).unwrap().into_iter().find(|c| c.name.starts_with("before")).unwrap();
    restore(&RealDisk, store.dir(), &before.name, day(18)).unwrap();
    assert_eq!(Store::open(store.dir()).unwrap().book().on_hand(ItemId(1)), 985);
    assert!(
        restore(&RealDisk, store.dir(), "yesterday", day(18)).unwrap_err().to_string().contains("2026-03-17")
    );
    // A book that cannot be read is set aside whole when a copy takes its place.
    std::fs::write(store.dir().join("book.ron"), "broken").unwrap();
    let said = restore(&RealDisk, store.dir(), "2026-03-17", day(18)).unwrap();
    assert!(said.iter().any(|s| s.contains("set aside")), "{said:?}");
    let aside: Vec<_> =
        std::fs::read_dir(store.dir().join("set-aside")).unwrap().map(|e| e.unwrap().path()).collect();
    assert!(aside.iter().any(|p| std::fs::read_to_string(p).unwrap() == "broken"));
    assert_eq!(Store::open(store.dir()).unwrap().book().on_hand(ItemId(1)), 986);
}
