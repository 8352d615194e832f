//! Power lost after every single operation: nothing acknowledged is lost, nothing is half there.

use super::fake::{Crash, Fake, Plan};
use super::mutants::Mutant;
use crate::effort::cases;
use crate::laws::wishes::{DAY, Dice, wish};
use std::path::Path;
use trimside::domain::book::Book;
use trimside::domain::history::History;
use trimside::persist::Store;

const DIR: &str = "/data";

/// A day's work up to the first failure: the books after each step that was tried, and how many were acknowledged.
fn work(disk: &Fake, seed: u64, steps: usize) -> (Vec<(Book, History)>, usize) {
    let mut dice = Dice::new(seed);
    let mut states = vec![(Book::default(), History::default())];
    let mut acknowledged = 0;
    let Ok(mut store) = Store::open_on(disk.shared(), Path::new(DIR)) else { return (states, 0) };
    for n in 0..steps {
        let mut group = Vec::new();
        for _ in 0..1 + dice.roll(3) {
            let (mut book, mut history) = states.last().unwrap().clone();
            let next = wish(&book, &history, &mut dice);
            if history.perform(&mut book, &next, DAY).is_ok() {
                states.push((book, history));
            }
            group.push(next);
        }
        if store.append(&group, DAY).is_err() {
            break;
        }
        acknowledged = states.len() - 1;
        if n % 7 == 6 && store.compact(DAY).is_err() {
            break;
        }
    }
    (states, acknowledged)
}

/// Opens what a crash has left and finds out which state it is.
fn survived(disk: &Fake, states: &[(Book, History)], acknowledged: usize, at: &str) {
    let mut store = Store::open_on(disk.shared(), Path::new(DIR)).unwrap_or_else(|e| panic!("{at}: {e}"));
    store.book().check().unwrap();
    let found = states.iter().position(|(b, h)| b == store.book() && h == store.history());
    let found = found.unwrap_or_else(|| panic!("{at}: the book is in no state that it ever was in"));
    assert!(found >= acknowledged, "{at}: state {found} of {acknowledged} acknowledged");
    // Work goes on, and a further start finds it.
    let more = wish(store.book(), store.history(), &mut Dice::new(99));
    store.append(&[more], DAY).unwrap_or_else(|e| panic!("{at}: {e}"));
    let again = Store::open_on(disk.shared(), Path::new(DIR)).unwrap_or_else(|e| panic!("{at}: {e}"));
    assert!((again.book(), again.history()) == (store.book(), store.history()), "{at}");
}

/// Runs the work up to each of its operations, takes the power away there, and looks at what is left. The number of
/// operations.
pub fn every_prefix(seed: u64, steps: usize, torn_percent: usize, mutant: Option<Mutant>) -> usize {
    let whole = Fake::default();
    whole.mutate(mutant);
    work(&whole, seed, steps);
    let ops = whole.ops();
    for at in 0..=ops.len() {
        let disk = Fake::default();
        disk.mutate(mutant);
        disk.plan(Plan { from: Some(at), torn_percent, ..Plan::default() });
        let (states, acknowledged) = work(&disk, seed, steps);
        for crash in Crash::ALL {
            let op = ops.get(at).map_or("the end", String::as_str);
            let at = format!("seed {seed}, before operation {at} ({op}), {crash:?}");
            survived(&disk.after(crash), &states, acknowledged, &at);
        }
    }
    ops.len()
}

#[test]
fn nothing_acknowledged_is_lost_whenever_the_power_goes() {
    let seeds = cases(1, 4);
    let ops: usize =
        (1..=seeds).map(|seed| every_prefix(seed, 16, [0, 50, 99, 100][seed as usize % 4], None)).sum();
    assert!(ops as u64 > 30 * seeds, "the work was too small to tell: {ops} operations");
}
