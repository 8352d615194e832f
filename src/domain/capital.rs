//! Words that begin a sentence.

/// The same words with a capital at the beginning.
pub fn capitalized(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_first_letter_changes() {
        assert_eq!(capitalized("uses 14; iris too"), "Uses 14; iris too");
        assert_eq!(capitalized("école"), "École");
        assert_eq!(capitalized("3 sheets"), "3 sheets");
        assert_eq!(capitalized(""), "");
    }
}
