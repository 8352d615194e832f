//! The program with a fault in it. The shipped program knows of no faults and reads no orders for them, so the tests run
//! their own binary as the program: same `main`, on a disk that kills, or with a key that panics.

use crate::persist::doomed;
use crossterm::event::{KeyCode, KeyEvent};
use std::ffi::OsString;
use std::process::Command;
use std::time::{Duration, UNIX_EPOCH};
use trimside::persist::clock;
use trimside::persist::disk::stand_in;

// `main` is what the shipped program begins with; here it begins with `run`.
#[allow(dead_code)]
#[path = "../src/main.rs"]
mod itself;

const WORDS: &str = "TRIMSIDE_TEST_WORDS";
const KILL_AT: &str = "TRIMSIDE_TEST_KILL_AT";
const CLOCK: &str = "TRIMSIDE_TEST_CLOCK";
/// The key that panics.
pub const FATAL: char = '~';
/// What the panic says.
pub const FAULT: &str = "a fault ordered by a test";

/// The program on these words, with no fault but the key [`FATAL`].
pub fn program(words: &[&str]) -> Command {
    let mut command = Command::new(std::env::current_exe().expect("a path"));
    command.args(["--exact", "faulty::run", "--ignored", "--nocapture", "--test-threads=1", "--quiet"]);
    command.env(WORDS, words.join("\n"));
    command
}

/// The program on these words, which kills itself before that operation of its disk.
pub fn doomed(words: &[&str], at: usize) -> Command {
    let mut command = program(words);
    command.env(KILL_AT, at.to_string());
    command
}

/// The program on these words, with a clock that stands so many seconds after the beginning of 1970, or before it.
pub fn clocked(words: &[&str], seconds: i64) -> Command {
    let mut command = program(words);
    command.env(CLOCK, seconds.to_string());
    command
}

/// What the program itself wrote to a pipe, without the heading of a run of tests.
pub fn own_words(out: &[u8]) -> &[u8] {
    out.strip_prefix(b"\nrunning 1 test\n").unwrap_or(out)
}

fn fatal(key: &KeyEvent) {
    assert!(key.code != KeyCode::Char(FATAL), "{FAULT}");
}

#[test]
#[ignore = "the program that other tests run"]
fn run() {
    let Ok(words) = std::env::var(WORDS) else { return };
    if let Some(at) = std::env::var(KILL_AT).ok().and_then(|n| n.parse().ok()) {
        assert!(stand_in(doomed::disk(at)));
    }
    if let Some(seconds) = std::env::var(CLOCK).ok().and_then(|n| n.parse::<i64>().ok()) {
        let off = Duration::from_secs(seconds.unsigned_abs());
        let moment = if seconds < 0 { UNIX_EPOCH.checked_sub(off) } else { UNIX_EPOCH.checked_add(off) };
        assert!(clock::stand_in(moment.unwrap()));
    }
    let words = std::iter::once("trimside").chain(words.split('\n')).map(OsString::from);
    let code = std::panic::catch_unwind(|| itself::run(words, Some(fatal)));
    std::process::exit(code.map_or(101, i32::from));
}

/// The shipped program takes no orders from its surroundings.
#[test]
fn the_program_itself_reads_no_orders_for_faults() {
    let bytes = std::fs::read(env!("CARGO_BIN_EXE_trimside")).unwrap();
    let text = |word: &str| bytes.utf8_chunks().any(|chunk| chunk.valid().contains(word));
    assert!(text("TRIMSIDE_"), "its own switches are there to be found");
    for word in ["_KILL_AT", "_PANIC_AT", "_TEST_CLOCK", "TRIMSIDE_TEST"] {
        assert!(!text(word), "{word}");
    }
}
