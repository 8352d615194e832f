//! Laws that hold for every input, and answers checked by programs written apart from the solver.

mod cards;
mod day_views;
mod demo_plans;
mod further;
mod handed;
mod lengths;
mod one_job;
mod one_size_plans;
mod paper_here;
pub mod plan_checker;
pub mod plans;
pub mod replay;
mod rounding;
mod spoiled;
pub mod stock;
mod stop_plans;
pub mod stop_words;
pub mod stops;
mod trimmer_words;
pub mod wishes;
mod yields;

use crate::effort::cases;
use proptest::test_runner::{Config, FileFailurePersistence};

/// How a law is tried: on so many cases, a quarter of them in every run and ten times as many in a long one, or on as many
/// as `TRIMSIDE_CASES` says. What failed once is kept beside the law, in a file that ends in `proptest-regressions`, and
/// tried first ever after.
pub fn law(usual: u32) -> Config {
    law_of(u64::from(usual / 4), u64::from(usual) * 10)
}

/// A law whose cases in every run and in a long one are not of the usual proportion.
pub fn law_of(quick: u64, long: u64) -> Config {
    let counted = cases(quick, long);
    let named = std::env::var("TRIMSIDE_CASES").ok().and_then(|n| n.parse().ok());
    let cases = named.unwrap_or_else(|| u32::try_from(counted).unwrap_or(u32::MAX));
    let kept = FileFailurePersistence::WithSource("proptest-regressions");
    Config { cases, failure_persistence: Some(Box::new(kept)), ..Config::default() }
}
