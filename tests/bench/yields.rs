//! What an exact answer costs beside the arithmetic that people do in their heads.
//!
//! `cargo bench --bench yields` prints the times of divan and, first, the ratios and absolute times that the notes for
//! developers speak of.
#![allow(missing_docs)]

use divan::black_box;
use std::time::{Duration, Instant};
use trimside::domain::cutting::chart::{ChartRange, cells};
use trimside::domain::cutting::grid;
use trimside::domain::cutting::one_size::{SheetYield, answer};
use trimside::domain::cutting::question::{Limits, Preference, Question};
use trimside::domain::length::Length;
use trimside::domain::sheet::{Formats, Sheet};
use trimside::domain::size::Size;

/// Sizes in sixteenths, from one with few reachable positions to one with nearly all.
const SIZES: [(i64, i64); 6] = [(33, 53), (40, 56), (29, 43), (17, 81), (17, 19), (12, 17)];

fn sheet(name: &str) -> Sheet {
    Formats::built_in().find(name).map_or_else(|| Sheet::new(name, Size::default()), Sheet::from)
}

fn question((w, h): (i64, i64)) -> Question {
    Question::new(Size::new(Length::sixteenths(w), Length::sixteenths(h)), sheet("12x12"))
}

/// All one way, both ways round: what a person reckons.
fn arithmetic(q: &Question) -> i64 {
    let room = q.sheet.usable().size;
    grid::count(room, q.piece).max(grid::count(room, q.piece.turned()))
}

/// The shortest of some runs: the one least disturbed.
fn shortest(runs: u32, mut work: impl FnMut()) -> Duration {
    (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .min()
        .unwrap_or_default()
}

fn ratio(slow: Duration, fast: Duration) -> f64 {
    slow.as_secs_f64() / fast.as_secs_f64().max(1e-9)
}

fn print_ratios() {
    println!("one exact answer at 1/16 in on 12x12 (layout, slack and steps included)");
    for size in SIZES {
        let q = question(size);
        let one_way = shortest(20, || {
            for _ in 0..1000 {
                black_box(arithmetic(black_box(&q)));
            }
        }) / 1000;
        let exact = shortest(20, || {
            black_box(answer(black_box(&q)));
        });
        let mut offcut = q.clone();
        offcut.preference = Preference::LargestOffcut;
        let offcut_first = shortest(5, || {
            black_box(answer(black_box(&offcut)));
        });
        println!(
            "  {:>14}: {:>8.3} ms, {:>9.0} times all one way; largest offcut first {:>8.3} ms",
            q.piece.to_string(),
            exact.as_secs_f64() * 1e3,
            ratio(exact, one_way),
            offcut_first.as_secs_f64() * 1e3
        );
    }
    println!("whole quarter-inch chart");
    for name in ["letter", "12x12", "a4", "tabloid", "12x18"] {
        let sheet = sheet(name);
        let range = ChartRange::for_sheet(&sheet);
        let values = range.values();
        let room = sheet.usable().size;
        let one_way = shortest(20, || {
            for &w in &values {
                for &h in &values {
                    let piece = Size::new(w, h);
                    black_box(grid::count(room, piece).max(grid::count(room, piece.turned())));
                }
            }
        });
        let exact = shortest(10, || {
            black_box(cells(&sheet, &range, true, Limits::NONE));
        });
        println!(
            "  {name:>14}: {:>8.3} ms for {} cells, {:>9.0} times all one way",
            exact.as_secs_f64() * 1e3,
            values.len().pow(2),
            ratio(exact, one_way)
        );
    }
}

#[divan::bench(args = SIZES)]
fn exact_answer(size: (i64, i64)) -> SheetYield {
    answer(&question(size))
}

#[divan::bench(args = ["letter", "12x12", "a4"])]
fn whole_chart(bencher: divan::Bencher<'_, '_>, name: &str) {
    let sheet = sheet(name);
    let range = ChartRange::for_sheet(&sheet);
    bencher.bench(|| cells(&sheet, &range, true, Limits::NONE));
}

#[divan::bench(args = [(40, 56), (33, 53), (29, 43)])]
fn with_stop_cuts(bencher: divan::Bencher<'_, '_>, size: (i64, i64)) {
    let mut q = question(size);
    q.trimmer.stop_cuts = true;
    bencher.bench(|| answer(&q));
}

fn main() {
    // The test runner passes --test: then one run of each is enough and the ratios are not measured.
    if !std::env::args().any(|a| a == "--test") {
        print_ratios();
    }
    divan::main();
}
