//! A class of fifteen in the real program: planned, booked, cut with one spoiled piece and one kill, stamped and scored with another
//! kill, one piece spoiled after the cuts, packed. The log afterwards is what was done, and nothing twice.

use super::bench::open_at;
use super::harness::Session;
use rustix::process::Signal;
use std::collections::BTreeMap;
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

/// Sheets and offcuts that the class took, by the log: how many of each.
fn taken(dir: &Path) -> BTreeMap<String, i64> {
    let log = asked(dir, &["stock", "log"]);
    let lines = log["lines"].as_array().unwrap();
    let of_class = lines.iter().filter(|l| l["job"].as_str().is_some_and(|job| job.starts_with(CLASS)));
    let mut all = BTreeMap::new();
    for line in of_class.filter(|l| l["change"].as_i64().unwrap() < 0) {
        *all.entry(line["item"].as_str().unwrap().to_owned()).or_default() -=
            line["change"].as_i64().unwrap();
    }
    all
}

/// What was taken now and not before.
fn more(now: &BTreeMap<String, i64>, before: &BTreeMap<String, i64>) -> BTreeMap<String, i64> {
    let all = now.iter().map(|(name, n)| (name.clone(), n - before.get(name).copied().unwrap_or(0)));
    all.filter(|(_, n)| *n != 0).collect()
}

/// Pieces that are needed, cut, and still to be cut.
fn pieces(dir: &Path) -> [u64; 3] {
    let class = asked(dir, &["stock", "class", "show", CLASS]);
    ["needed", "cut", "still"].map(|of| class["pieces"][of].as_u64().unwrap())
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
    // The demo's class with fifteen seats and paper for them, nothing to spare.
    asked(dir, &["--demo", "stock", "list"]);
    for paper in ["moss pool, letter", "oat husk, letter"] {
        asked(dir, &["stock", "receive", paper, "10"]);
    }
    asked(
        dir,
        &["stock", "class", "edit", CLASS, "--seats", "15", "--spoilage", "0", "--spoilage-pieces", "0"],
    );
    let planned = asked(dir, &["plan", "--project", CLASS]);
    let mut sheets: BTreeMap<String, i64> = BTreeMap::new();
    for sheet in planned["sheets"].as_array().unwrap() {
        *sheets.entry(sheet["sheet"].as_str().unwrap().to_owned()).or_default() +=
            sheet["copies"].as_i64().unwrap();
    }
    let [needed, ..] = pieces(dir);
    assert_eq!((pieces(dir), taken(dir).is_empty()), ([needed, 0, needed], true));
    let mut session = open_at(dir, "14 a sheet");
    session.send("V");
    session.wait_for("This plan is booked");
    session.send("b");
    session.wait_for(" strokes done");
    let (_, all) = end_step(&mut session);
    end_step(&mut session);
    session.send(" ");
    session.wait_for(" 1 of 1 stroke done");
    // The power goes in the middle of a step; the run goes on at the stroke.
    session.signal(Signal::KILL);
    assert!(!session.wait_end().success());
    assert!(taken(dir).is_empty(), "nothing is logged before it is done");
    let mut session = open_at(dir, "This plan is booked");
    session.send("b");
    session.wait_for(" 1 of 1 stroke done");
    assert_eq!(steps(&session), Some((2, all)), "{}", session.text());
    // A finished piece is spoiled: it is cut again beside the rest.
    to_the_end(&mut session);
    session.send("s");
    session.wait_for("What was spoiled?");
    // A piece of which none is to spare.
    session.send("sentiment");
    session.wait_for("one sentiment strip");
    session.send("\r");
    session.wait_for("Lost 1 x");
    assert!(session.text().contains("1 to make again"), "{}", session.text());
    to_the_end(&mut session);
    log_all(&mut session);
    // The log is the plan, and what the spoiled piece was cut from again: a leftover of these sheets, or one sheet or offcut.
    let cut = taken(dir);
    let again = more(&cut, &sheets);
    assert!(again.values().sum::<i64>() <= 1 && again.values().all(|n| *n == 1), "{cut:?} of {sheets:?}");
    assert!(more(&sheets, &cut).values().all(|n| *n < 0), "{cut:?} of {sheets:?}");
    assert_eq!(pieces(dir), [needed, needed, 0]);
    let outlook = asked(dir, &["stock", "class", "show", CLASS]);
    assert!(
        outlook["needs"]
            .as_array()
            .unwrap()
            .iter()
            .all(|n| n["name"].as_str() == Some("envelope A2, chalk") || n["booked"] == 0)
    );
    // Stamped, then scored: seventeen sets each, one after the other. A kill between two sets loses none that was ticked, and
    // the stage goes on there.
    session.send("\r");
    session.wait_for("0 of 17 sets stamped");
    tick(&mut session, 1..=17, "of 17 sets stamped");
    session.send("\r");
    session.wait_for("0 of 17 sets scored");
    tick(&mut session, 1..=5, "of 17 sets scored");
    session.signal(Signal::KILL);
    assert!(!session.wait_end().success());
    assert_eq!(stage(dir, "prepared"), (5, 17), "{outlook}");
    let mut session = open_at(dir, "Hedgerow");
    // The stages open from the page of the day as from any other.
    session.leaves_today = false;
    session.send(",a");
    session.wait_for("5 of 17 sets scored");
    tick(&mut session, 6..=17, "of 17 sets scored");
    assert_eq!(stage(dir, "prepared"), (17, 17), "{outlook}");
    session.send("\r");
    session.wait_for("0 of 15 kits packed");
    // One piece is spoiled while packing: it is cut again, and the stage comes back.
    session.send("s");
    session.wait_for("What was spoiled?");
    session.send("\r");
    session.wait_for("back on the cut list");
    to_the_end(&mut session);
    session.send("\r");
    session.wait_for("0 of 15 kits packed");
    session.wait_until("saved", |s| s.contents().contains("saved"));
    let last = taken(dir);
    let again = more(&last, &cut);
    assert_eq!(
        again.values().sum::<i64>(),
        1,
        "the piece that was cut again took one sheet or offcut: {again:?}"
    );
    assert_eq!(pieces(dir), [needed, needed, 0], "and no piece is counted twice");
    tick(&mut session, 1..=15, "of 15 kits packed");
    session.send("q");
    session.wait_until("left", |s| !s.contents().contains("kits packed"));
    session.send("\x03");
    assert!(session.wait_end().success());
    assert_eq!(stage(dir, "packed"), (15, 15));
    assert_eq!(taken(dir), last, "packing takes no paper");
    assert_eq!(pieces(dir), [needed, needed, 0]);
}
