//! A class of fourteen sets in the real program: planned, booked, cut with one spoiled piece and one kill, prepared, one piece
//! spoiled after the cuts, packed. The log afterwards is what was done, and nothing twice.

use super::bench::{kept, open_at};
use super::harness::Session;
use rustix::process::Signal;
use std::path::Path;

const CLASS: &str = "Hedgerow notes, class";

/// What the command line says of the folder.
fn asked(dir: &Path, words: &[&str]) -> serde_json::Value {
    let out = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"))
        .args(words)
        .args(["--json", "--data", dir.to_str().unwrap()])
        .output()
        .unwrap();
    assert!(out.status.success(), "{words:?}: {}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

/// `3 of 40 steps done`: the two numbers.
fn steps(session: &Session) -> Option<(u32, u32)> {
    let text = session.text();
    let line = text.lines().find(|l| l.contains("steps done") || l.contains("step done"))?;
    let words: Vec<&str> = line.split_whitespace().collect();
    let at = words.iter().position(|w| *w == "of")?;
    Some((words.get(at.checked_sub(1)?)?.parse().ok()?, words.get(at + 1)?.parse().ok()?))
}

/// Ends the step in hand, and waits until it is ended.
fn end_step(session: &mut Session) -> (u32, u32) {
    let (before, all) = steps(session).expect("a run is in hand");
    session.send("\r");
    session.wait_until("the step is ended", |s| {
        let text = s.contents();
        text.contains(&format!(" {} of {all} step", before + 1)) || text.contains("All cut.")
    });
    steps(session).unwrap_or_default()
}

fn to_the_end(session: &mut Session) {
    while !session.text().contains("All cut.") {
        end_step(session);
    }
}

fn log_all(session: &mut Session) {
    session.send("\r");
    session.wait_for("Enter goes on after the cuts");
    session.wait_until("saved", |s| s.contents().contains("saved"));
}

/// Ticks one set or kit after the other, and waits until the last one is saved.
fn tick(session: &mut Session, which: std::ops::RangeInclusive<u32>, of: &str) {
    for n in which {
        session.send(" ");
        session.wait_for(&format!("{n} {of}"));
    }
    session.wait_until("saved", |s| s.contents().contains("saved"));
}

/// Sheets and offcuts that the class took, by the log.
fn taken(dir: &Path) -> i64 {
    let log = asked(dir, &["stock", "log"]);
    let lines = log["lines"].as_array().unwrap();
    let of_class = lines.iter().filter(|l| l["job"].as_str().is_some_and(|job| job.starts_with(CLASS)));
    of_class.map(|l| l["change"].as_i64().unwrap().min(0).abs()).sum()
}

fn stage(dir: &Path, name: &str) -> (u64, u64) {
    let class = asked(dir, &["stock", "class", "show", CLASS]);
    let all = class["stages"].as_array().unwrap();
    let one = all.iter().find(|s| s["stage"] == name).unwrap_or_else(|| panic!("{class}"));
    (one["done"].as_u64().unwrap(), one["of"].as_u64().unwrap())
}

#[test]
fn a_class_goes_from_the_plan_to_packed_kits() {
    let dir = tempfile::tempdir().unwrap();
    let dir = dir.path();
    let mut session = kept(dir);
    session.send("V");
    session.wait_for("This plan is booked");
    let planned = asked(dir, &["plan", "--project", CLASS]);
    let sheets: i64 =
        planned["sheets"].as_array().unwrap().iter().map(|s| s["copies"].as_i64().unwrap()).sum();
    let before = taken(dir);
    session.send("b");
    session.wait_for("stroke 0 of");
    let (_, all) = end_step(&mut session);
    end_step(&mut session);
    session.send(" ");
    session.wait_for("stroke 1 of");
    // The power goes in the middle of a step; the run goes on at the stroke.
    session.signal(Signal::KILL);
    assert!(!session.wait_end().success());
    assert_eq!(taken(dir), before, "nothing is logged before it is done");
    let mut session = open_at(dir, "This plan is booked");
    session.send("b");
    session.wait_for("stroke 1 of");
    assert_eq!(steps(&session), Some((2, all)), "{}", session.text());
    // A finished piece is spoiled: it is cut again beside the rest.
    to_the_end(&mut session);
    session.send("s");
    session.wait_for("What was spoiled?");
    session.send("\r");
    session.wait_for("Lost 1 x");
    to_the_end(&mut session);
    log_all(&mut session);
    let cut = taken(dir);
    // The demo's class is one sheet short, which cannot be logged before it has come.
    assert!((sheets - 1..=sheets + 1).contains(&(cut - before)), "{} sheets of {sheets}", cut - before);
    let outlook = asked(dir, &["stock", "class", "show", CLASS]);
    // Stamped, then scored: fourteen sets each, one after the other. A kill between two sets loses none that was ticked, and
    // the stage goes on there.
    session.send("\r");
    session.wait_for("0 of 14 sets stamped");
    tick(&mut session, 1..=14, "of 14 sets stamped");
    session.send("\r");
    session.wait_for("0 of 14 sets scored");
    tick(&mut session, 1..=5, "of 14 sets scored");
    session.signal(Signal::KILL);
    assert!(!session.wait_end().success());
    assert_eq!(stage(dir, "prepared"), (5, 14), "{outlook}");
    let mut session = open_at(dir, "Hedgerow");
    // The stages open from the page of the day as from any other.
    session.leaves_today = false;
    session.send(",a");
    session.wait_for("5 of 14 sets scored");
    tick(&mut session, 6..=14, "of 14 sets scored");
    assert_eq!(stage(dir, "prepared"), (14, 14), "{outlook}");
    session.send("\r");
    session.wait_for("0 of 12 kits packed");
    // One piece is spoiled while packing: it is cut again, and the stage comes back.
    session.send("s");
    session.wait_for("What was spoiled?");
    session.send("\r");
    session.wait_for("back on the cut list");
    to_the_end(&mut session);
    session.send("\r");
    session.wait_for("0 of 12 kits packed");
    session.wait_until("saved", |s| s.contents().contains("saved"));
    assert_eq!(taken(dir), cut + 1, "the piece that was cut again took one sheet or offcut");
    tick(&mut session, 1..=12, "of 12 kits packed");
    session.send("q");
    session.wait_until("left", |s| !s.contents().contains("kits packed"));
    session.send("\x03");
    assert!(session.wait_end().success());
    assert_eq!(stage(dir, "packed"), (12, 12));
    assert_eq!(taken(dir), cut + 1);
}
