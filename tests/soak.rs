//! A day at the bench: keys at random, within sense, over all panes, saved to a real folder as they come. Memory stays
//! flat, and the book is what the steps of the day make of the first book, and what a new start reads from the disk.
//!
//! The day runs in a process of its own, so that its memory can be measured.

use crate::effort::cases;
use crate::laws::wishes::Dice;

use crate::screens::harness::{Bench, WALK};
use std::process::Command;
use trimside::app::action::Action;
use trimside::app::keys::Key;
use trimside::domain::history::History;
use trimside::persist::{Store, demo};

const KEYS: &str = "TRIMSIDE_TEST_SOAK_KEYS";
/// What a day may add to the memory in use; the book and its log grow, by far less.
const MOST_KB: u64 = 12_000;

#[test]
fn a_day_at_the_bench_stays_flat_and_replays_to_the_same_book() {
    // A day is ten thousand keys; a long run takes a week, a short one a morning.
    let keys = cases(1_500, 70_000);
    let out = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "soak::the_day", "--nocapture", "--test-threads=1"])
        .env(KEYS, keys.to_string())
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(out.status.success(), "{text}\n{}", String::from_utf8_lossy(&out.stderr));
    let line = text.lines().find(|l| l.contains("keys,")).unwrap_or_else(|| panic!("{text}"));
    println!("{line}");
}

/// Memory in use in KB (proc(5): field 2 of `statm`, in pages of 4 KB); 0 where the system does not tell.
fn memory_kb() -> u64 {
    let statm = std::fs::read_to_string("/proc/self/statm").unwrap_or_default();
    statm.split_whitespace().nth(1).and_then(|n| n.parse::<u64>().ok()).unwrap_or(0) * 4
}

#[test]
fn the_day() {
    let Some(keys) = std::env::var(KEYS).ok().and_then(|k| k.parse::<usize>().ok()) else { return };
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    let store = Store::open(dir.path()).unwrap();
    let (first_book, first_history) = (store.book().clone(), store.history().clone());
    let mut bench = Bench::on(first_book.clone(), first_history.clone()).kept_in(store);
    let mut dice = Dice::new(2026);
    let (mut pressed, mut early) = (0, 0);
    while pressed < keys {
        for key in stretch(&mut dice) {
            bench.act(Action::Key(key));
            pressed += 1;
        }
        if dice.roll(12) == 0 {
            let _ = bench.draw(60 + dice.roll(120) as u16, 18 + dice.roll(40) as u16);
        }
        if early == 0 && pressed > keys * 2 / 5 {
            early = memory_kb();
        }
    }
    let late = memory_kb();
    bench.model.book.check().unwrap();
    // The steps of the day on the book it began with.
    let (mut book, mut history): (_, History) = (first_book, first_history);
    for step in &bench.steps {
        history.replay(&mut book, step).unwrap();
    }
    assert!(bench.steps.len() > keys / 60, "only {} steps in {pressed} keys", bench.steps.len());
    assert!(book == bench.model.book && history == bench.model.history, "the replay ends in another book");
    // What is on the disk.
    assert_eq!(bench.lost(), None);
    let again = Store::open(dir.path()).unwrap();
    assert!(again.book() == &bench.model.book, "the disk holds another book");
    assert!(again.history() == &bench.model.history, "the disk holds another history");
    println!("\n{pressed} keys, {} steps, memory {early} KB early, {late} KB late", bench.steps.len());
    assert!(late < early + MOST_KB, "memory grew from {early} KB to {late} KB");
}

fn typed(text: &str) -> Vec<Key> {
    text.chars().map(Key::char).collect()
}

/// A few keys that belong together, most of the time.
fn stretch(dice: &mut Dice) -> Vec<Key> {
    let parse = |names: &[&str]| names.iter().map(|n| Key::parse(n).unwrap()).collect::<Vec<_>>();
    let count = 1 + dice.roll(9);
    let prompt = |key: char, text: String| {
        let mut keys = vec![Key::char(key)];
        keys.extend(typed(&text));
        keys.extend(parse(&["Enter"]));
        keys
    };
    let sixteenths = |d: &mut Dice| format!("{} {}/16", 1 + d.roll(8), 1 + d.roll(15));
    let mut keys = match dice.roll(26) {
        0..=3 => vec![Key::char(char::from(b'1' + dice.roll(4) as u8))],
        4 => prompt('p', format!("{}x{}", sixteenths(dice), sixteenths(dice))),
        5 => prompt('c', (count * 7).to_string()),
        6 => prompt('s', ["letter", "a4", "12x12", "fern floor", "oat"][dice.roll(5)].to_owned()),
        // The count that the field offers is replaced.
        7..=9 => [parse(&["4", "-", "Ctrl-u"]), typed(&count.to_string()), parse(&["Enter"])].concat(),
        10..=12 => {
            [parse(&["4", "+", "Ctrl-u"]), typed(&(count + 2).to_string()), parse(&["Enter"])].concat()
        }
        13 => [parse(&["4", "c", "Ctrl-u"]), typed(&(count + 10).to_string()), parse(&["Enter"])].concat(),
        14 => [parse(&["1", "-", "Enter"])].concat(),
        15 => parse(&["2", "a"]).into_iter().chain(typed("1/16")).chain(parse(&["Enter"])).collect(),
        16 => parse(&["2", "r"]).into_iter().chain(typed("3/16")).chain(parse(&["Enter"])).collect(),
        17 => parse(&[["2", "d"], ["2", "F"], ["2", "]"]][dice.roll(3)]),
        18 => parse(&["3", ["o", "z", "v", "Space", "j", "l"][dice.roll(6)]]),
        19 => prompt('/', ["fern", "letter", "xyz", ""][dice.roll(4)].to_owned()),
        20 => prompt(':', ["undo", "chart", "theme", "units", "stock"][dice.roll(5)].to_owned()),
        21 => parse(&["1", "b", "Enter", "Enter", "Enter", "Enter"]),
        22 => parse(&["1", "v", "j", "l", "Enter"]),
        23 => parse(&[["u", "u"], ["u", "U"], ["P", "j"]][dice.roll(3)]),
        24 => (0..count).map(|_| Key::plain(WALK[dice.roll(WALK.len())])).collect(),
        _ => (0..count).map(|_| Key::char(char::from(b' ' + dice.roll(95) as u8))).collect(),
    };
    // Every stretch begins with nothing lying over the pane.
    keys.splice(0..0, parse(&["Esc", "Esc"]));
    if dice.roll(3) > 0 {
        keys.push(Key::plain(WALK[dice.roll(2)]));
    }
    keys
}
