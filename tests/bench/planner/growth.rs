//! How time and memory grow with the number of pieces. Sizes are thrown by seeded dice, from 1 in to 8 in by
//! sixteenths, on 12x12; all sizes differ until there are a thousand.

use super::clock::{self, Clock};
use std::time::Duration;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::question::{Preference, Trimmer};
use trimside::domain::length::Length;
use trimside::domain::size::{Grain, Size};

/// A linear congruential generator (Knuth, The Art of Computer Programming, volume 2, 3.3.4, the MMIX line).
fn throw(state: &mut u64, from: i64, to: i64) -> i64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    from + i64::try_from((*state >> 33) % u64::try_from(to - from + 1).unwrap_or(1)).unwrap_or(0)
}

fn job(sizes: u32, copies: u32) -> Job {
    let mut state = 20_261;
    let pieces = (0..sizes)
        .map(|at| JobPiece {
            name: at.to_string(),
            finished: Size::new(
                Length::sixteenths(throw(&mut state, 16, 128)),
                Length::sixteenths(throw(&mut state, 16, 128)),
            ),
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            count: copies,
            may_turn: true,
            grain: Grain::Unknown,
            paper: None,
            sheet: None,
        })
        .collect();
    let sheet = JobSheet {
        name: "12x12".to_owned(),
        paper: None,
        size: Size::new(Length::inches(12), Length::inches(12)),
        grain: Grain::Unknown,
        available: None,
        cost: Cost::ONE,
    };
    let trimmer = Trimmer::default();
    Job { pieces, sheets: vec![sheet], trimmer, preference: Preference::default(), keep: Job::KEEP }
}

/// The most memory this process has held so far, in megabytes (proc(5), `VmHWM`).
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|word| word.parse::<u64>().ok()).unwrap_or(0) / 1024
}

pub fn run(clock: Clock) {
    println!("pieces  sizes  limit s  first plan ms  time s  sheets  area bound  above  peak MB");
    for (sizes, copies, limit) in [(10, 1, 2), (100, 1, 2), (1_000, 1, 2), (1_000, 10, 2), (1_000, 10, 8)] {
        let job = job(sizes, copies);
        let area: i128 = job.pieces.iter().map(|p| p.finished.area() * i128::from(p.count)).sum();
        let sheet = job.sheets[0].size.area();
        let bound = (area + sheet - 1) / sheet;
        let taken = clock::plan(job, Duration::from_secs(limit), clock);
        assert!(taken.plan.unplaced.is_empty(), "a piece is missing");
        let sheets = taken.plan.totals.sheets;
        println!(
            "{:>6}  {sizes:>5}  {limit:>7}  {:>13.1}  {:>6.2}  {sheets:>6}  {bound:>10}  {:>4.1}%  {:>7}",
            sizes * copies,
            taken.first.as_secs_f64() * 1e3,
            taken.whole.as_secs_f64(),
            (f64::from(sheets) / bound as f64 - 1.0) * 100.0,
            peak(),
        );
    }
}
