//! A disk that is full, read-only or failing for a while: the person is told, and the same wish given again is carried
//! out once, never twice.

use super::fake::{Crash, Fake, Plan};
use super::mutants::Mutant;
use crate::effort::thinned;
use crate::laws::wishes::{DAY, Dice, wish};
use std::io::ErrorKind;
use std::path::Path;
use trimside::domain::book::Book;
use trimside::domain::history::{Entry, History};
use trimside::persist::{Store, StoreError};

const DIR: &str = "/data";

/// Works with wishes in groups, trying each group again until it is acknowledged; fails where the book then differs
/// from the same work on a sound disk.
pub fn stubborn(plan: &Plan, seed: u64, mutant: Option<Mutant>) -> usize {
    let disk = Fake::default();
    disk.mutate(mutant);
    let mut dice = Dice::new(seed);
    let (mut book, mut history) = (Book::default(), History::default());
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    disk.plan(plan.clone());
    let mut failures = 0;
    for n in 0..14 {
        let mut group = Vec::new();
        for _ in 0..1 + dice.roll(3) {
            let next = wish(&book, &history, &mut dice);
            let _ = history.perform(&mut book, &next, DAY);
            group.push(next);
        }
        let mut tries = 0;
        while let Err(error) = store.append(&group, DAY) {
            assert!(matches!(error, StoreError::NotSaved { .. } | StoreError::Io { .. }), "{error}");
            failures += 1;
            tries += 1;
            assert!(tries < 60, "never saved: {error}");
        }
        assert!(
            store.book() == &book,
            "after step {n}, {failures} failures: {plan:?} {:?} {} {}",
            disk.ops(),
            store.book().seq(),
            book.seq()
        );
        if n % 5 == 4 {
            let _ = store.compact(DAY);
        }
    }
    let again = Store::open_on(disk.after(Crash::Strict).shared(), Path::new(DIR)).unwrap();
    assert!(again.book() == &book && again.history() == &history, "{plan:?}");
    let mut again = Store::open_on(disk.copy().shared(), Path::new(DIR)).unwrap();
    assert!(again.book() == &book && again.history() == &history, "{plan:?}");
    let notes = again.take_notes();
    assert!(notes.is_empty(), "{plan:?}: {notes:?}");
    failures
}

#[test]
fn a_wish_is_carried_out_once_whichever_operation_fails() {
    let kinds = [
        (ErrorKind::StorageFull, 40),
        (ErrorKind::StorageFull, 100),
        (ErrorKind::Other, 40),
        (ErrorKind::Other, 100),
    ];
    let (mut tried, mut failures) = (0, 0);
    for plan in thinned(plans(&kinds, 60, &[1, 3, 9], false), 7) {
        tried += 1;
        failures += stubborn(&plan, 3, None);
    }
    assert!(failures > tried / 2, "too few failures to tell: {failures} in {tried} plans");
}

/// Every kind of failure at each of the first `calls` operations, `counts` times in a row.
fn plans(kinds: &[(ErrorKind, usize)], calls: usize, counts: &[usize], every_call: bool) -> Vec<Plan> {
    let mut all = Vec::new();
    for &(kind, torn_percent) in kinds {
        for at in 0..calls {
            for &count in counts {
                let (from, count, kind) = (Some(at), Some(count), Some(kind));
                all.push(Plan { from, count, kind, torn_percent, every_call });
            }
        }
    }
    all
}

/// A window shows its steps at once and sends them until they are saved.
fn stubborn_window(plan: &Plan, seed: u64) -> usize {
    let disk = Fake::default();
    let mut dice = Dice::new(seed);
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    let (mut book, mut history) = (store.book().clone(), store.history().clone());
    let epoch = store.epoch();
    disk.plan(plan.clone());
    let mut failures = 0;
    let mut waiting: Vec<Entry> = Vec::new();
    for _ in 0..30 {
        let next = wish(&book, &history, &mut dice);
        if let Ok((entry, _)) = history.perform(&mut book, &next, DAY) {
            waiting.push(entry);
        }
        match store.save(epoch, &waiting) {
            Ok(kept) => {
                assert!(kept.refused.is_empty(), "{:?} {plan:?} {:?}", kept.refused, disk.ops());
                assert!(kept.fresh.is_none(), "nobody else has written: {plan:?} {:?}", disk.ops());
                assert!(store.book() == &book, "{plan:?}");
                waiting.clear();
            }
            Err(_) => failures += 1,
        }
    }
    disk.plan(Plan::default());
    store.save(epoch, &waiting).unwrap();
    let again = Store::open_on(disk.copy().shared(), Path::new(DIR)).unwrap();
    assert!((again.book(), again.history()) == (&book, &history), "{plan:?}");
    failures
}

#[test]
fn a_step_shown_at_once_is_saved_once_whichever_operation_fails() {
    let kinds = [0, 60, 100].map(|torn_percent| (ErrorKind::StorageFull, torn_percent));
    let (mut tried, mut failures) = (0, 0);
    for plan in thinned(plans(&kinds, 50, &[1, 2, 8], false), 7) {
        tried += 1;
        failures += stubborn_window(&plan, 5);
    }
    assert!(failures > tried / 5, "too few failures to tell: {failures} in {tried} plans");
}

#[test]
fn a_wish_is_carried_out_once_whichever_call_fails_reading_included() {
    let kinds = [(ErrorKind::StorageFull, 60), (ErrorKind::Other, 100)];
    let (mut tried, mut failures) = (0, 0);
    for plan in thinned(plans(&kinds, 110, &[1, 4], true), 7) {
        tried += 1;
        failures += stubborn(&plan, 3, None);
    }
    assert!(failures > tried / 3, "too few failures to tell: {failures} in {tried} plans");
}

#[test]
fn a_start_that_fails_at_any_call_says_so_and_changes_nothing() {
    let disk = Fake::default();
    let mut dice = Dice::new(8);
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    for n in 0..9 {
        let next = wish(store.book(), store.history(), &mut dice);
        let _ = store.append(&[next], DAY).unwrap();
        if n == 4 {
            store.compact(DAY).unwrap();
        }
    }
    let book = store.book().clone();
    let before = disk.files();
    for kind in [ErrorKind::PermissionDenied, ErrorKind::StorageFull, ErrorKind::Other] {
        let mut refused = 0;
        for at in 0..12 {
            let now = disk.copy();
            let (from, kind) = (Some(at), Some(kind));
            now.plan(Plan { from, count: Some(1), kind, torn_percent: 0, every_call: true });
            match Store::open_on(now.shared(), Path::new(DIR)) {
                Ok(store) => assert!(store.book() == &book),
                Err(error) => {
                    refused += 1;
                    assert!(error.to_string().starts_with("cannot "), "{error}");
                }
            }
            assert_eq!(now.files(), before);
        }
        assert!(refused >= 3, "{refused}");
    }
}

#[test]
fn a_full_disk_is_said_in_plain_words() {
    let disk = Fake::default();
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap();
    disk.plan(Plan { from: Some(0), kind: Some(ErrorKind::StorageFull), ..Plan::default() });
    let add = crate::laws::wishes::edit(store.book(), &mut Dice::new(1));
    let error = store.append(&[trimside::domain::history::Intent::Do(add)], DAY).unwrap_err().to_string();
    assert!(error.contains("the disk is full") && error.contains("try again"), "{error}");
}
