//! Measures the planner against published jobs, against growing work, and counts which engine won.
//!
//! `cargo bench --bench planner -- jobs`              the craft jobs, as given and shifted by sixteenths
//! `cargo bench --bench planner -- published R 0.5`   500 published jobs, turning allowed (R) or not (O), seconds each;
//!                                                    then perhaps the classes wanted
//! `cargo bench --bench planner -- craft 40`          settings, moves, strokes and exact fits after 40 rounds of work
//! `cargo bench --bench planner -- growth`            10 to 10,000 pieces: time, memory, distance from the area bound
//!
//! Time is counted as the two lanes of the planner would take abreast: each lane runs on its own and its processor
//! time is taken, the longer of the two counts. So a busy machine does not change what is measured; `--wall` runs them
//! on two threads against the clock of the wall instead.
#![allow(missing_docs)]

mod clock;
mod craft;
mod growth;
mod jobs;
mod published;

use clock::Clock;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    let clock = if words.iter().any(|word| word == "--wall") { Clock::Wall } else { Clock::Processor };
    let words: Vec<&str> = words.iter().map(String::as_str).filter(|word| *word != "--wall").collect();
    match words.as_slice() {
        [] | ["jobs"] => jobs::run(clock),
        ["craft", work] => match work.parse() {
            Ok(work) => craft::run(work),
            Err(_) => println!("\"{work}\" is no number of rounds"),
        },
        ["growth"] => growth::run(clock),
        ["published", turning @ ("R" | "O"), seconds, classes @ ..] => match seconds.parse() {
            Ok(seconds) => published::run(*turning == "R", seconds, classes, clock),
            Err(_) => println!("\"{seconds}\" is no number of seconds"),
        },
        _ => println!(
            "say jobs, craft ROUNDS, growth, or published R|O SECONDS (and --wall for two threads by the clock)"
        ),
    }
}
