//! How much a run tries: the laws are the same in every run, only the number of cases differs.
//!
//! A plain `cargo test` tries few cases, so that it answers in minutes. With `TRIMSIDE_LONG=N` in the environment the
//! counts are those of a long run, N times over (`.ci/long` sets it, and N is 1 where it is no number).

/// The number of cases of a law: few in every run, many in a long one.
pub fn cases(quick: u64, long: u64) -> u64 {
    match factor() {
        0 => quick,
        times => long.saturating_mul(times),
    }
}

/// All of a list in a long run, else every so-manieth of it. `one_in` shares no factor with the loops that the list is
/// made of, so that every value of each of them still comes up.
pub fn thinned<T>(all: impl IntoIterator<Item = T>, one_in: usize) -> impl Iterator<Item = T> {
    all.into_iter().step_by(if is_long() { 1 } else { one_in })
}

/// True in a long run.
pub fn is_long() -> bool {
    factor() > 0
}

fn factor() -> u64 {
    let Some(word) = std::env::var_os("TRIMSIDE_LONG") else { return 0 };
    word.to_str().and_then(|w| w.parse().ok()).filter(|n| *n > 0).unwrap_or(1)
}
