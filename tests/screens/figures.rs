//! The figures of a class are the same on its page on screen, in the plain mode, in the answer of the command line as text
//! and as JSON, in the plan, and on the printed kit list: before it is booked, booked, cut in part, and taught.

use super::harness::Bench;
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;
use trimside::app::facts::as_text;
use trimside::app::panes::plan::bench_run;
use trimside::domain::history::Intent;
use trimside::domain::planning;
use trimside::domain::stock::cut;
use trimside::persist::{Store, demo};

const CLASS: &str = "Hedgerow notes, class";
const DAY: jiff::civil::Date = jiff::civil::date(2026, 11, 2);

/// A line of the class: needed, used, still, booked, free.
type Row = [i64; 5];

fn command(dir: &Path, words: &[&str]) -> String {
    let out =
        Command::new(env!("CARGO_BIN_EXE_trimside")).args(words).arg("--data").arg(dir).output().unwrap();
    assert!(out.status.success(), "{words:?}: {}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

fn json(dir: &Path, words: &[&str]) -> Value {
    serde_json::from_str(&command(dir, words)).unwrap()
}

fn of_json(shown: &Value) -> BTreeMap<String, Row> {
    let row = |n: &Value| ["needed", "used", "still", "booked", "free"].map(|k| n[k].as_i64().unwrap());
    let all = shown["needs"].as_array().unwrap().iter();
    all.map(|n| (n["name"].as_str().unwrap().to_owned(), row(n))).collect()
}

/// The rows of a table or of sentences that begin with a name and hold these five figures in a row.
fn has_row(text: &str, name: &str, row: Row) -> bool {
    text.lines().any(|line| {
        let Some((_, rest)) = line.split_once(name) else { return false };
        let numbers = rest.split_whitespace().map_while(|w| w.parse().ok());
        numbers.take(5).collect::<Vec<i64>>() == row
    })
}

/// The book on the class page.
fn page(dir: &Path) -> Bench {
    let store = Store::open(dir).unwrap();
    let mut bench = Bench::on(store.book().clone(), store.history().clone());
    let class = store.book().find_project(CLASS).unwrap();
    bench.press("4");
    while bench.model.stock.tab() != trimside::app::state::views::Tab::Classes {
        bench.press("]");
    }
    for _ in 0..store.book().projects().len() {
        bench.press("Enter");
        if bench.model.stock.open_class() == Some(class) {
            return bench;
        }
        bench.press("Esc j");
    }
    panic!("the class is in the list");
}

fn agrees(dir: &Path, state: &str) -> BTreeMap<String, Row> {
    let shown = json(dir, &["stock", "class", "show", CLASS, "--json"]);
    let rows = of_json(&shown);
    let text = command(dir, &["stock", "class", "show", CLASS]);
    let bench = page(dir);
    let screen = bench.text(160, 50);
    let plain = as_text(&bench.model);
    for (name, row) in &rows {
        assert!(has_row(&text, name, *row), "{state}, {name} {row:?}:\n{text}");
        assert!(has_row(&screen, name, *row), "{state}, {name} {row:?}:\n{screen}");
        let [needed, used, still, booked, free] = row;
        let words = format!(
            "{name}: {needed} needed, {used} used, {still} still to use, {booked} booked, {free} free"
        );
        assert!(plain.lines().any(|l| l.starts_with(&words)), "{state}, {words}:\n{plain}");
    }
    let pieces = &shown["pieces"];
    let (all, cut) = (pieces["needed"].as_i64().unwrap(), pieces["cut"].as_i64().unwrap());
    assert!(text.contains(&format!("{all} to cut, {cut} cut")), "{state}: {text}");
    assert!(screen.contains(&format!("cutting {cut} of {all} pieces")), "{state}: {screen}");
    assert_eq!(pieces["still"].as_i64().unwrap(), if state == "taught" { 0 } else { all - cut }, "{state}");
    rows
}

/// Whole sheets of each paper that the plan takes.
fn of_plan(dir: &Path) -> BTreeMap<String, i64> {
    let plan = json(dir, &["plan", "--project", CLASS, "--json"]);
    let mut all = BTreeMap::new();
    for sheet in plan["sheets"].as_array().unwrap() {
        let name = sheet["sheet"].as_str().unwrap();
        if !name.contains("offcut") {
            *all.entry(name.to_owned()).or_default() += sheet["copies"].as_i64().unwrap();
        }
    }
    all
}

/// The last number of each row of the printed kit list.
fn in_all(dir: &Path) -> i64 {
    let text = command(dir, &["print", "kit", "--project", CLASS, "--preview"]);
    let rows =
        text.lines().skip_while(|l| !l.contains("in all")).skip(1).take_while(|l| !l.contains("In all"));
    rows.map(|l| l.split_whitespace().next_back().unwrap().parse::<i64>().unwrap()).sum()
}

#[test]
fn the_figures_of_a_class_are_the_same_wherever_they_stand() {
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    agrees(dir.path(), "as it is");
    // Nothing is booked any more, and there is enough of all to be used.
    command(dir.path(), &["project", "give-back", CLASS]);
    command(dir.path(), &["stock", "receive", "moss pool, letter", "3"]);
    let before = agrees(dir.path(), "given back");
    let paper = |rows: &BTreeMap<String, Row>| -> BTreeMap<String, i64> {
        let papers = rows.iter().filter(|(name, row)| !name.starts_with("envelope") && row[2] > 0);
        papers.map(|(name, row)| (name.clone(), row[2])).collect()
    };
    assert_eq!(paper(&before), of_plan(dir.path()));
    // 132 pieces and 28 envelopes: 14 sets of 2.
    assert_eq!(in_all(dir.path()), 132 + 28);

    command(dir.path(), &["stock", "class", "book", CLASS]);
    let booked = agrees(dir.path(), "booked");
    assert_eq!(paper(&booked), of_plan(dir.path()));
    for (name, [needed, _, still, set_aside, free]) in &booked {
        assert_eq!((needed, still), (&before[name][0], set_aside), "{name}");
        assert_eq!(*free, before[name][4] - set_aside, "{name}: free is on hand less all that is booked");
    }

    let mut store = Store::open(dir.path()).unwrap();
    let id = store.book().find_project(CLASS).unwrap();
    let job = planning::job_of(store.book(), id, &planning::trimmer(store.book())).unwrap();
    let plan = planning::booked_plan(store.book(), &job).unwrap();
    let run = bench_run(store.book(), &job, &plan.plan, Some(&plan.layouts));
    let edit = cut::log_edit(store.book(), &run.title, run.of, &run.cut(0, 17));
    store.append(&[Intent::Do(edit)], DAY).unwrap().remove(0).unwrap();
    drop(store);
    let cut = agrees(dir.path(), "cut in part");
    assert_eq!(paper(&cut), of_plan(dir.path()));
    for (name, [needed, used, still, set_aside, free]) in &cut {
        assert_eq!((*needed, used + still, set_aside), (booked[name][0], *needed, still), "{name}");
        assert_eq!(*free, booked[name][4], "{name}: what was booked for it is what is used");
    }
    assert!(cut.values().any(|row| row[1] > 0));

    command(dir.path(), &["stock", "class", "log", CLASS]);
    let taught = agrees(dir.path(), "taught");
    for (name, [needed, used, still, set_aside, _]) in &taught {
        assert_eq!((*needed, used, *still, *set_aside), (before[name][0], needed, 0, 0), "{name}");
    }
}
