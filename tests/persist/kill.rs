//! The real program killed, as from outside, at random instants and between the parts of its writes: nothing that it
//! has acknowledged is lost, nothing is half there, and the next start goes on.
//!
//! A process that is killed loses nothing that it has handed to the system, synced or not (what a power cut takes is
//! tried in `crash`), so most rounds work on a file system in memory, where a sync costs nothing; every twentieth works
//! on the disk, so that kills fall into real syncs too.

use crate::effort::cases;
use crate::ended::{self, was_killed};
use crate::faulty;
use crate::laws::wishes::{Dice, folded};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};
use trimside::domain::book::Book;
use trimside::persist::{Store, demo};

/// How often a process is killed in a test.
pub fn kills() -> u64 {
    cases(25, 1_000)
}

/// The folder of a round.
pub fn folder(round: u64) -> tempfile::TempDir {
    let memory = Path::new("/dev/shm");
    let in_memory = (!round.is_multiple_of(20)).then(|| tempfile::tempdir_in(memory).ok()).flatten();
    in_memory.unwrap_or_else(|| tempfile::tempdir().unwrap())
}

fn program(data: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_trimside"));
    command.arg("--data").arg(data).env("HOME", data);
    command
}

/// The same as the bench in lines.
fn in_lines(data: &Path) -> Command {
    let mut command = program(data);
    command.arg("--plain");
    command
}

/// The same, killing itself before an operation of its disk.
fn doomed(data: &Path, words: &[&str], at: usize) -> Command {
    let mut command = faulty::doomed(&[&["--data", data.to_str().unwrap()], words].concat(), at);
    command.env("HOME", data);
    command
}

/// The demo, in a folder to be copied for each round.
struct Template(tempfile::TempDir);

impl Template {
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
        Self(dir)
    }

    fn copy(&self, round: u64) -> (tempfile::TempDir, PathBuf) {
        let dir = folder(round);
        let data = dir.path().join("data");
        std::fs::create_dir(&data).unwrap();
        for entry in std::fs::read_dir(self.0.path()).unwrap() {
            let entry = entry.unwrap();
            if entry.path().is_file() {
                std::fs::copy(entry.path(), data.join(entry.file_name())).unwrap();
            }
        }
        (dir, data)
    }
}

/// The paper that the pane of the shelf opens on.
const PAPER: &str = "duck pond, 12x12";

fn held(book: &Book) -> i64 {
    book.on_hand(book.find_item(PAPER).unwrap()) as i64
}

/// Lines for the plain mode, and what is held and logged after each edit that they make.
fn script(dice: &mut Dice, start: &Book) -> (String, Vec<(i64, usize)>) {
    // A paper of which nothing is set aside: no question comes between.
    let mut text = "4\n/\nduck pond\n".to_owned();
    let mut states = vec![(held(start), start.log().len())];
    let mut changes: Vec<i64> = Vec::new();
    for n in 1..=40_i64 {
        let (now, lines) = *states.last().unwrap();
        let change = match dice.roll(4) {
            0 if !changes.is_empty() => {
                text.push_str("u\n");
                -changes.pop().unwrap_or_default()
            }
            1 | 2 if now >= n => {
                text.push_str(&format!("-\n{n}\n"));
                changes.push(-n);
                -n
            }
            _ => {
                text.push_str(&format!("+\n{n}\nCtrl-s\n"));
                changes.push(n);
                n
            }
        };
        if now + change < 0 {
            // Sheets that came in and are used up cannot be taken back: the program refuses it, and so does the script.
            text.truncate(text.len() - 2);
            changes.push(-change);
            continue;
        }
        states.push((now + change, lines + 1));
    }
    (text, states)
}

/// Runs the script in the plain mode and kills it after a while, where one is given. What it said, and whether it was
/// killed.
fn run(mut command: Command, text: &str, kill: Option<Duration>) -> (String, bool) {
    let mut child =
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    // The script is shorter than a pipe's buffer, so that this does not wait; a killed reader is no failure.
    let _ = child.stdin.take().unwrap().write_all(text.as_bytes());
    if let Some(after) = kill {
        std::thread::sleep(after);
        child.kill().unwrap();
    }
    let mut said = Vec::new();
    child.stdout.take().unwrap().read_to_end(&mut said).unwrap();
    let status = child.wait().unwrap();
    (String::from_utf8_lossy(&said).into_owned(), was_killed(status))
}

/// Edits that the program has said to be done, in whole lines.
fn acknowledged(said: &str) -> usize {
    let whole = said.rsplit_once('\n').map_or("", |(whole, _)| whole);
    let done = ["said: Used", "said: Received", "said: Taken back"];
    whole.lines().filter(|l| done.iter().any(|d| l.starts_with(d))).count()
}

/// The book is as after some edit of the script, none acknowledged is missing, and work goes on.
fn survived(data: &Path, states: &[(i64, usize)], acknowledged: usize, what: &str) {
    let store = Store::open(data).unwrap_or_else(|e| panic!("{what}: {e}"));
    let book = store.book();
    book.check().unwrap();
    for ((item, _), sum) in folded(book).into_iter().filter(|((_, offcut), _)| offcut.is_none()) {
        assert_eq!(i64::try_from(book.on_hand(item)).unwrap(), sum, "{what}");
    }
    let done = book.log().len() - states[0].1;
    assert!(
        (acknowledged..=acknowledged + 1).contains(&done),
        "{what}: {done} done, {acknowledged} acknowledged"
    );
    assert_eq!((held(book), book.log().len()), states[done], "{what}");
}

/// The next command goes on from there.
fn goes_on(data: &Path, what: &str) {
    let more = used(data, "the next class", None);
    assert!(more.status.success(), "{what}: {}", String::from_utf8_lossy(&more.stderr));
}

/// A command after every round takes as long as the round: after so many rounds is enough.
const GOES_ON_EVERY: u64 = 8;

/// One sheet used, over the command line.
fn used(data: &Path, job: &str, kill_at: Option<usize>) -> Output {
    let words = ["stock", "receive", PAPER, "1", "--job", job];
    let mut command = match kill_at {
        Some(at) => doomed(data, &words, at),
        None => program(data),
    };
    if kill_at.is_none() {
        command.args(words);
    }
    let mut out = command.output().unwrap();
    out.stdout = faulty::own_words(&out.stdout).to_vec();
    out
}

#[test]
fn the_bench_in_lines_killed_at_any_instant_loses_nothing_it_acknowledged() {
    let template = Template::new();
    let start = Store::open(template.0.path()).unwrap().book().clone();
    let mut dice = Dice::new(11);
    let (text, states) = script(&mut dice, &start);
    let (_dir, data) = template.copy(1);
    let began = Instant::now();
    let (said, was_killed) = run(in_lines(&data), &text, None);
    let whole = began.elapsed();
    assert!(!was_killed && acknowledged(&said) == states.len() - 1, "{said}");
    survived(&data, &states, states.len() - 1, "not killed");
    let (mut killed, mut done) = (0, 0);
    let all = kills();
    for round in 0..all {
        let (text, states) = script(&mut dice, &start);
        let (_dir, data) = template.copy(round);
        let share = dice.roll(1_000) as u32;
        let (said, was_killed) = run(in_lines(&data), &text, Some(whole * share / 1_000));
        killed += u64::from(was_killed);
        done += acknowledged(&said);
        let what = format!("round {round}, after {share} of 1000");
        survived(&data, &states, acknowledged(&said), &what);
        if round % GOES_ON_EVERY == 0 {
            goes_on(&data, &what);
        }
    }
    println!("{killed} of {all} killed, {done} edits acknowledged before");
    assert!(killed * 6 > all && done > 0, "{killed} of {all} killed, {done} acknowledged");
}

#[test]
fn the_bench_in_lines_killed_inside_a_write_loses_nothing_it_acknowledged() {
    let template = Template::new();
    let start = Store::open(template.0.path()).unwrap().book().clone();
    let mut dice = Dice::new(12);
    let all = kills();
    let mut killed = 0;
    for round in 0..all {
        let (text, states) = script(&mut dice, &start);
        let (_dir, data) = template.copy(round);
        let at = dice.roll(160);
        let (said, was_killed) = run(doomed(&data, &["--plain"], at), &text, None);
        killed += u64::from(was_killed);
        let what = format!("round {round}, before operation {at}");
        survived(&data, &states, acknowledged(&said), &what);
        if round % GOES_ON_EVERY == 0 {
            goes_on(&data, &what);
        }
    }
    println!("{killed} of {all} killed inside a write");
    assert!(killed * 2 > all, "{killed} of {all} killed");
}

#[test]
fn commands_killed_inside_a_write_lose_nothing_they_acknowledged() {
    let (_dir, data) = Template::new().copy(1);
    let mut dice = Dice::new(13);
    let all = kills();
    let (mut killed, mut kept_all_the_same, mut was_killed) = (0, 0, false);
    for round in 0..all {
        let job = format!("round {round}");
        // A command that follows a kill may have a torn line to set aside, which takes more operations.
        let at = dice.roll(if was_killed { 18 } else { 7 });
        let out = used(&data, &job, Some(at));
        was_killed = ended::was_killed(out.status);
        killed += u64::from(was_killed);
        assert!(was_killed || out.status.success(), "{job}: {}", String::from_utf8_lossy(&out.stderr));
        assert_eq!(was_killed, out.stdout.is_empty(), "{job}: said before it was safe");
        if round % 5 == 4 || !was_killed {
            let store = Store::open(&data).unwrap_or_else(|e| panic!("{job}: {e}"));
            store.book().check().unwrap();
            let lines = store.book().log().iter().filter(|l| l.job == job).count();
            assert!(lines == 1 || was_killed && lines == 0, "{job}: {lines} lines");
            kept_all_the_same += u64::from(was_killed && lines == 1);
        }
    }
    println!("{killed} of {all} commands killed, {kept_all_the_same} of a fifth of them safe all the same");
    assert!(killed * 3 > all && killed < all, "{killed} of {all} killed");
}

#[test]
fn commands_at_the_same_time_share_what_there_is() {
    let (_dir, data) = Template::new().copy(0);
    let start = held(Store::open(&data).unwrap().book());
    let take = |who: usize| {
        let mut got = 0;
        for n in 0..9 {
            let mut command = program(&data);
            command.args(["stock", "use", PAPER, "1", "--job", &format!("{who} {n}")]);
            let out = command.output().unwrap();
            let words = String::from_utf8_lossy(&out.stderr).into_owned();
            match out.status.code() {
                Some(0) => got += 1,
                // The shelf is empty, and the sentence says so.
                Some(2) => assert!(words.contains("only 0 of"), "{words}"),
                other => panic!("{other:?}: {words}"),
            }
        }
        got
    };
    let got: i64 = std::thread::scope(|scope| {
        let all: Vec<_> = (0..4).map(|who| scope.spawn(move || take(who))).collect();
        all.into_iter().map(|t| t.join().unwrap()).sum()
    });
    let store = Store::open(&data).unwrap();
    store.book().check().unwrap();
    assert!(start < 36, "there is less than four times nine are asked for");
    assert_eq!((got, held(store.book())), (start, 0), "every sheet went once");
}

#[test]
fn a_folder_being_filled_with_the_demo_holds_all_of_it_or_nothing() {
    let full = demo::book_on(trimside::persist::clock::today().unwrap()).unwrap().0;
    let mut seen = [0, 0];
    for at in 0.. {
        let dir = tempfile::tempdir().unwrap();
        let out = doomed(dir.path(), &["--demo", "stock", "list"], at).output();
        let was_killed = ended::was_killed(out.unwrap().status);
        let store = Store::open(dir.path()).unwrap();
        assert!(
            store.book() == &full || was_killed && store.book().seq() == 0,
            "killed before operation {at}"
        );
        seen[usize::from(store.book() == &full)] += 1;
        if !was_killed {
            break;
        }
    }
    assert!(seen.iter().all(|n| *n > 1), "{seen:?}");
}

#[test]
fn a_stale_lock_blocks_nobody_and_the_lock_file_stays() {
    let (_dir, data) = Template::new().copy(0);
    // Left by a writer that died, by another program, and by another user's umask.
    for content in ["", "pid 4194304\n"] {
        std::fs::write(data.join("lock"), content).unwrap();
        let began = Instant::now();
        assert!(used(&data, "class", None).status.success());
        assert!(began.elapsed() < Duration::from_secs(5));
        assert_eq!(std::fs::read_to_string(data.join("lock")).unwrap(), content, "the lock file was touched");
    }
    // A process killed while it holds the lock: the next one goes on at once.
    for at in [2, 3, 4] {
        assert!(!used(&data, "killed", Some(at)).status.success());
        let began = Instant::now();
        assert!(used(&data, "after", None).status.success());
        assert!(began.elapsed() < Duration::from_secs(5));
        assert!(data.join("lock").exists());
    }
}

#[test]
fn a_living_writer_that_hangs_is_told_after_a_while() {
    let (_dir, data) = Template::new().copy(0);
    let held =
        std::fs::File::options().write(true).create(true).truncate(false).open(data.join("lock")).unwrap();
    held.lock().unwrap();
    let before = std::fs::read(data.join("book.ron")).unwrap();
    let out = used(&data, "class", None);
    let words = String::from_utf8(out.stderr).unwrap();
    assert_eq!((out.status.code(), out.stdout.len(), words.lines().count()), (Some(1), 0, 1), "{words}");
    assert!(words.contains("another window or command has been writing for 10 seconds"), "{words}");
    assert_eq!(std::fs::read(data.join("book.ron")).unwrap(), before);
}
