//! The 500 jobs of Berkey & Wang (1987) and Martello & Vigo (1998), read where the reference files lie beside the
//! project. Published totals: Gardeyn & Wauters (2022), tables 1 and 2.

use super::clock::{self, Clock};
use std::path::PathBuf;
use std::time::Duration;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::planner::Engine;
use trimside::domain::cutting::question::{Preference, Trimmer};
use trimside::domain::length::Length;
use trimside::domain::size::{Grain, Size};

const TURNING: [u32; 10] = [972, 124, 675, 119, 862, 109, 756, 759, 2119, 491];
const FIXED: [u32; 10] = [997, 124, 697, 121, 893, 110, 825, 833, 2130, 503];

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/cutting/bin_packing_500")
}

/// The first whole numbers of a line.
fn numbers(line: Option<&str>) -> Vec<i64> {
    line.unwrap_or_default().split_whitespace().map_while(|word| word.parse().ok()).collect()
}

/// All jobs of a class file: class, number of pieces, number of the job, then the sheet, then the pieces.
fn read(text: &str, turning: bool) -> Vec<Job> {
    let mut lines = text.lines().filter(|line| !line.trim().is_empty());
    let mut jobs = Vec::new();
    while let (Some(_class), Some(count)) = (lines.next(), lines.next()) {
        let count = numbers(Some(count)).first().copied().unwrap_or(0);
        lines.next();
        let size = |line: Vec<i64>| match line.as_slice() {
            [h, w, ..] => Size::new(Length::from_units(*w), Length::from_units(*h)),
            _ => Size::default(),
        };
        let sheet = size(numbers(lines.next()));
        let pieces = (0..count).map(|at| piece(at, size(numbers(lines.next())), turning)).collect();
        jobs.push(job(pieces, sheet));
    }
    jobs
}

fn piece(at: i64, finished: Size, may_turn: bool) -> JobPiece {
    JobPiece {
        name: at.to_string(),
        finished,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count: 1,
        may_turn,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    }
}

fn job(pieces: Vec<JobPiece>, size: Size) -> Job {
    let sheet = JobSheet {
        name: "sheet".to_owned(),
        paper: None,
        size,
        grain: Grain::Unknown,
        available: None,
        cost: Cost::ONE,
    };
    let trimmer = Trimmer::default();
    Job { pieces, sheets: vec![sheet], trimmer, preference: Preference::default(), keep: Job::KEEP }
}

/// `asked` are classes (`8`) or single jobs (`8.17`), none for all; `--each` prints every job that is not proved, with when its
/// sheets fell.
pub fn run(turning: bool, seconds: f64, asked: &[&str], clock: Clock) {
    let published = if turning { TURNING } else { FIXED };
    let mut total = 0;
    let mut wins: Vec<(Engine, u32)> = Vec::new();
    println!("class  sheets  published  bound  proved  time s");
    let each = asked.contains(&"--each");
    let asked: Vec<&str> = asked.iter().copied().filter(|word| *word != "--each").collect();
    let is_asked = |class: usize| {
        asked.is_empty() || asked.iter().any(|a| a.split('.').next() == Some(&class.to_string()))
    };
    let is_job = |class: usize, job: usize| {
        asked.is_empty()
            || asked.contains(&class.to_string().as_str())
            || asked.contains(&format!("{class}.{job}").as_str())
    };
    for (class, known) in (1..=10).zip(published).filter(|row| is_asked(row.0)) {
        let path = folder().join(format!("Class_{class:02}.2bp"));
        let Ok(text) = std::fs::read_to_string(&path) else {
            println!("no file {}: nothing is measured", path.display());
            return;
        };
        let (mut sheets, mut bound, mut proved, mut time) = (0, 0, 0, Duration::ZERO);
        let jobs = (1..).zip(read(&text, turning)).filter(|(at, _)| is_job(class, *at));
        for (at, job) in jobs {
            let pieces = job.pieces.len();
            let taken = clock::plan(job, Duration::from_secs_f64(seconds), clock);
            assert!(taken.plan.unplaced.is_empty(), "a piece is missing");
            sheets += taken.plan.totals.sheets;
            bound += taken.plan.totals.lower_bound.parts() / Cost::ONE.parts();
            proved += u32::from(taken.plan.totals.proved);
            time += taken.whole;
            count(&mut wins, &taken.engines);
            if each && !taken.plan.totals.proved {
                let course: Vec<String> =
                    taken.course.iter().map(|(at, n)| format!("{n} at {:.2}", at.as_secs_f64())).collect();
                let least = taken.plan.totals.lower_bound.parts() / Cost::ONE.parts();
                println!(
                    "{class}.{at} ({pieces}): {} of {least}; {}",
                    taken.plan.totals.sheets,
                    course.join(", ")
                );
            }
        }
        total += sheets;
        println!("{class:>5}  {sheets:>6}  {known:>9}  {bound:>5}  {proved:>6}  {:>6.1}", time.as_secs_f64());
    }
    println!("total  {total:>6} (published for all ten classes: {})", published.iter().sum::<u32>());
    println!("plans that came from each engine: {wins:?}");
}

/// Adds the engines of one plan.
pub fn count(wins: &mut Vec<(Engine, u32)>, engines: &[Engine]) {
    for &engine in engines {
        match wins.iter_mut().find(|win| win.0 == engine) {
            Some(win) => win.1 += 1,
            None => wins.push((engine, 1)),
        }
    }
}
