//! Numbers with the thing that they count, in words.

/// `1 sheet`, `4 sheets`: a count with its word, which takes a plain s.
pub fn count_of(n: u64, word: &str) -> String {
    if n == 1 { format!("1 {word}") } else { format!("{n} {word}s") }
}
