//! Laws that hold for every input, and answers checked by programs written apart from the solver.

mod cards;
mod handed;
mod lengths;
pub mod plan_checker;
pub mod plans;
pub mod replay;
mod spoiled;
pub mod stock;
mod stop_plans;
pub mod stop_words;
pub mod stops;
pub mod wishes;
mod yields;

use proptest::test_runner::{Config, FileFailurePersistence};

/// How a law is tried: on few cases in every run, on as many as `TRIMSIDE_CASES` says in a long one. What failed once is
/// kept beside the law, in a file that ends in `proptest-regressions`, and tried first ever after.
pub fn law(few: u32) -> Config {
    let cases = std::env::var("TRIMSIDE_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(few);
    let kept = FileFailurePersistence::WithSource("proptest-regressions");
    Config { cases, failure_persistence: Some(Box::new(kept)), ..Config::default() }
}
