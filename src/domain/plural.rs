//! Numbers with the thing that they count, in words.

/// `1 sheet`, `4 sheets`: a count with its word, which takes a plain s.
pub fn count_of(n: u64, word: &str) -> String {
    counted(n, word, &format!("{word}s"))
}

/// `1 swatch`, `2 swatches`: a count with the word for one and the word for more.
pub fn counted(n: u64, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}
