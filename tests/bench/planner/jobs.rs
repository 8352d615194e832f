//! Craft jobs: several sizes, many copies, several papers. As given, and with every size a few sixteenths larger or
//! smaller, since a plan that only suits round numbers is worth little.

use super::clock::{self, Clock};
use super::published::count;
use std::path::{Path, PathBuf};
use std::time::Duration;
use trimside::domain::cutting::job::Job;
use trimside::domain::cutting::question::Trimmer;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::exchange::read::csv_jobs;

/// The jobs whose settings, moves and strokes are watched.
const EIGHT: [&str; 8] = [
    "a2-set-5x100-letter",
    "mats-4x24-12x12",
    "class-20-12x12-grain",
    "small-mixed-letter",
    "a4-a5set-50",
    "offcuts-first-then-letter",
    "random-10-sizes-max200-sq",
    "random-15-sizes-max10-sq",
];
const SHIFTS: [i64; 4] = [0, 1, -1, 3];
/// The default of the command and of the workbench.
const LIMIT: Duration = Duration::from_secs(2);

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/cutting/jobs")
}

fn read(folder: &Path) -> Option<Job> {
    let bytes = |name: &str| std::fs::read(folder.join(name)).ok();
    csv_jobs::job(&bytes("pieces.csv")?, &bytes("sheets.csv")?, Unit::Inch, Trimmer::default()).ok()
}

/// Every piece larger by so many sixteenths on both sides.
fn shifted(mut job: Job, by: i64) -> Job {
    let more = Length::sixteenths(by);
    for piece in &mut job.pieces {
        piece.finished = Size::new(piece.finished.width + more, piece.finished.height + more);
    }
    job
}

/// Each of the eight jobs with its shifts; none where the reference jobs do not lie beside the project.
pub fn all() -> Vec<(String, Job)> {
    let jobs = EIGHT.iter().filter_map(|name| Some((*name, read(&folder().join(name))?)));
    jobs.flat_map(|(name, job)| SHIFTS.map(|by| (format!("{name} {by:+}"), shifted(job.clone(), by))))
        .collect()
}

pub fn run(clock: Clock) {
    let mut wins = Vec::new();
    println!(
        "job, shift in sixteenths: cost, best known, lower bound (its name), first plan, last gain, whole time"
    );
    let Ok(values) = std::fs::read_to_string(folder().join("values.csv")) else {
        println!("the reference jobs do not lie beside the project: nothing is measured");
        return;
    };
    for row in values.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let [name, _, _, _, known, ..] = cells.as_slice() else { continue };
        for by in SHIFTS {
            let Some(job) = read(&folder().join(name)) else {
                println!("{name}: not readable");
                continue;
            };
            let taken = clock::plan(shifted(job, by), LIMIT, clock);
            count(&mut wins, &taken.engines);
            let totals = taken.plan.totals;
            let ms = |time: Duration| time.as_secs_f64() * 1e3;
            println!(
                "{name:<26} {by:>+2}: {:>4} {:>4} {:>4} {:<7} {:>6.1} ms {:>7.0} ms {:>7.0} ms{}{}",
                totals.cost.to_string(),
                if by == 0 { known } else { "" },
                totals.lower_bound.to_string(),
                totals.bound.word(),
                ms(taken.first),
                ms(taken.last_gain),
                ms(taken.whole),
                if totals.proved { " proved" } else { "" },
                if taken.plan.unplaced.is_empty() { "" } else { " pieces left out" },
            );
        }
    }
    println!("parts whose plan came from each engine: {wins:?}");
}
