//! What is wrong with a text in the project's own notation, in words for the person who wrote it: no library's advice to
//! programmers.

/// The words for an error of the reader.
pub fn words(error: &ron::Error) -> String {
    match error {
        ron::Error::ExceededRecursionLimit => "brackets stand in brackets too many times".to_owned(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deep_brackets_are_told_without_advice_to_programmers() {
        let deep = ron::from_str::<ron::Value>(&"[".repeat(3_000)).unwrap_err();
        assert!(deep.code.to_string().contains("recursion"), "{}", deep.code);
        assert_eq!(words(&deep.code), "brackets stand in brackets too many times");
        let other = ron::from_str::<u8>("x").unwrap_err();
        assert_eq!(words(&other.code), other.code.to_string());
    }
}
