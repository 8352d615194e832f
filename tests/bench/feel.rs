//! How the bench feels, measured on the program itself in a pseudo terminal of 200 x 60: start to the first frame, key
//! to frame, memory, the binary's size; key to the saved mark, beside a plain write and sync of the same bytes to the
//! same disk in the same round. `cargo bench --bench feel`, or `-- saves` for the last alone; a quiet machine, please.
//!
//! The large book is the one of the stock bench: 10,000 items, 1,000 projects, 100,000 log lines. A frame counts as there when the end of a
//! synchronized update (2026) has come.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::pedantic)]

mod large;
mod saves;

use pty_process::blocking::{Command, Pty, open};
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use std::io::{Read, Write};
use std::path::Path;
use std::time::{Duration, Instant};

const ROWS: u16 = 60;
const COLUMNS: u16 = 200;
const FRAME_ENDS: &[u8] = b"\x1b[?2026l";
/// Keys pressed in each pane.
const KEYS: usize = 400;

struct Bench {
    line: Pty,
    child: std::process::Child,
    _slave: pty_process::blocking::Pts,
    /// What the program has written since somebody looked.
    raw: Vec<u8>,
}

impl Bench {
    /// Starts the program and waits for its first frame; returns how long that took.
    fn start(home: &Path, arguments: &[&str]) -> (Self, Duration) {
        let (line, slave) = open().expect("a pseudo terminal");
        line.resize(pty_process::Size::new(ROWS, COLUMNS)).expect("a size");
        let command = Command::new(env!("CARGO_BIN_EXE_trimside")).args(arguments).env("HOME", home);
        let command = command.env("TERM", "xterm-256color").env("COLORTERM", "truecolor").current_dir(home);
        let mut command = command;
        let began = Instant::now();
        let child = command.spawn_borrowed(&slave).expect("the program starts");
        let mut bench = Self { line, child, _slave: slave, raw: Vec::new() };
        assert!(bench.frame(Duration::from_secs(60)), "no first frame");
        let took = began.elapsed();
        bench.quiet();
        (bench, took)
    }

    /// Reads until a frame has ended; false where none came in time.
    fn frame(&mut self, limit: Duration) -> bool {
        let end = Instant::now() + limit;
        let mut seen = Vec::new();
        while self.wait(end) {
            let mut bytes = [0; 65_536];
            let count = self.line.read(&mut bytes).unwrap_or(0);
            seen.extend_from_slice(&bytes[..count]);
            self.raw.extend_from_slice(&bytes[..count]);
            if seen.windows(FRAME_ENDS.len()).any(|w| w == FRAME_ENDS) {
                return true;
            }
        }
        false
    }

    fn wait(&self, end: Instant) -> bool {
        let left = end.saturating_duration_since(Instant::now());
        let left = Timespec { tv_sec: left.as_secs() as i64, tv_nsec: i64::from(left.subsec_nanos()) };
        let mut watched = [PollFd::new(&self.line, PollFlags::IN)];
        poll(&mut watched, Some(&left)).is_ok_and(|n| n > 0)
    }

    fn quiet(&mut self) {
        while self.frame(Duration::from_millis(150)) {}
    }

    fn send(&mut self, keys: &str) {
        self.line.write_all(keys.as_bytes()).expect("keys are taken");
    }

    /// Key to frame for many keys, each after the frame of the one before; sorted.
    fn keys(&mut self, pair: [&str; 2]) -> Vec<Duration> {
        let mut all = Vec::new();
        for n in 0..KEYS {
            let began = Instant::now();
            // There and back, so that every key changes something, in a short list too.
            self.send(pair[n % 2]);
            if self.frame(Duration::from_millis(500)) {
                all.push(began.elapsed());
            }
        }
        all.sort();
        all
    }

    /// Resident memory in MB, now and at most (proc(5), `status`).
    fn memory(&self) -> (f64, f64) {
        let text = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).unwrap_or_default();
        let of = |name: &str| {
            let row = text.lines().find(|l| l.starts_with(name)).unwrap_or_default();
            row.split_whitespace().nth(1).and_then(|n| n.parse::<f64>().ok()).unwrap_or(0.0) / 1024.0
        };
        (of("VmRSS:"), of("VmHWM:"))
    }

    /// Processor time used so far, in clock ticks.
    fn ticks(&self) -> u64 {
        let stat = std::fs::read_to_string(format!("/proc/{}/stat", self.child.id())).unwrap_or_default();
        let after = stat.rsplit(')').next().unwrap_or_default();
        after.split_whitespace().skip(11).take(2).filter_map(|f| f.parse::<u64>().ok()).sum()
    }

    fn leave(mut self) {
        self.send("\x03");
        let _ = self.child.wait();
    }
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1_000.0
}

fn median(mut all: Vec<Duration>) -> Duration {
    all.sort();
    all[all.len() / 2]
}

fn measure(name: &str, home: &Path, arguments: &[&str]) {
    let starts = (0..7).map(|_| {
        let (bench, took) = Bench::start(home, arguments);
        bench.leave();
        took
    });
    println!("{name}: start to first frame {:.1} ms (median of 7)", ms(median(starts.collect())));
    let (mut bench, _) = Bench::start(home, arguments);
    for (pane, digit, pair) in [
        ("Help", "?", ["j", "k"]),
        ("Help, the craft", "\t", ["j", "k"]),
        ("Help, searched", "/card\rn", ["n", "N"]),
        ("Finder", "\x1b\x1b:", ["c", "\x7f"]),
        ("Yield", "\x1b1", ["j", "k"]),
        ("Mats", "2", ["j", "k"]),
        ("Palette", "3", ["l", "h"]),
        ("Stock", "4", ["j", "k"]),
    ] {
        bench.send(digit);
        bench.quiet();
        let all = bench.keys(pair);
        if all.len() < 20 {
            println!("  {pane}: nothing to move through ({} frames)", all.len());
            continue;
        }
        let at = |share: f64| ms(all[((all.len() - 1) as f64 * share) as usize]);
        println!("  {pane}: key to frame p50 {:.2} ms, p99 {:.2} ms, {} keys", at(0.5), at(0.99), all.len());
    }
    let before = bench.ticks();
    bench.frame(Duration::from_secs(3));
    let idle = bench.ticks() - before;
    let (now, most) = bench.memory();
    println!("  memory {now:.1} MB, at most {most:.1} MB; idle for 3 s: {idle} ticks of the processor");
    bench.leave();
}

fn main() {
    // `cargo test --benches` only asks whether it builds.
    if std::env::args().any(|a| a == "--test") {
        return;
    }
    let home = tempfile::tempdir().expect("a folder");
    saves::measure(home.path());
    if std::env::args().any(|a| a == "saves") {
        return;
    }
    drop(large::fill(&home.path().join("large"), 10_000, 1_000, 100_000));
    let size = std::fs::metadata(env!("CARGO_BIN_EXE_trimside")).map_or(0, |m| m.len());
    println!("binary {:.2} MB, terminal {COLUMNS} x {ROWS}", size as f64 / 1e6);
    measure("demo", home.path(), &["--demo"]);
    measure("large book", home.path(), &["--data", "large"]);
}
