//! What is wrong with a text in the project's own notation, in words for the person who wrote it: no library's advice to
//! programmers.

use ron::Error;

/// The words for an error of the reader.
pub fn words(error: &Error) -> String {
    let plain = match error {
        Error::ExceededRecursionLimit => "brackets are nested too deep",
        Error::Eof => "the text ends before it is whole: a bracket or a quote is still open",
        Error::ExpectedArray => "a list in square brackets belongs here",
        Error::ExpectedArrayEnd => "a closing ] or a comma is missing",
        Error::ExpectedBoolean => "true or false belongs here",
        Error::ExpectedComma => "a comma is missing",
        Error::ExpectedFloat
        | Error::ExpectedInteger
        | Error::FloatUnderscore
        | Error::UnderscoreAtBeginning => "a number belongs here",
        Error::InvalidIntegerDigit { .. } => "this is not a number",
        Error::IntegerOutOfBounds => "the number is out of range",
        Error::ExpectedMap => "a table in curly brackets belongs here",
        Error::ExpectedMapColon => "a colon is missing",
        Error::ExpectedMapEnd => "a closing } or a comma is missing",
        Error::ExpectedStructLike
        | Error::ExpectedNamedStructLike(_)
        | Error::ExpectedDifferentStructName { .. }
        | Error::ExpectedStructName(_)
        | Error::ExpectedOption => "an opening ( is missing",
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => "a closing ) or a comma is missing",
        Error::ExpectedString | Error::ExpectedChar | Error::ExpectedByteString => {
            "a text in quotes belongs here"
        }
        Error::ExpectedStringEnd => "a closing quote is missing",
        Error::ExpectedIdentifier | Error::InvalidIdentifier(_) | Error::SuggestRawIdentifier(_) => {
            "a word belongs here, such as the name of a field"
        }
        Error::UnclosedBlockComment | Error::UnclosedLineComment => "a comment is not closed",
        Error::TrailingCharacters => "there is something after the last bracket: take it out",
        other => return with_what_was_met(other),
    };
    plain.to_owned()
}

/// Errors that name what stands there.
fn with_what_was_met(error: &Error) -> String {
    let one_of = |all: &[&str]| {
        if all.is_empty() { String::new() } else { format!("; there are: {}", all.join(", ")) }
    };
    match error {
        Error::NoSuchStructField { expected, found, .. } => {
            format!("there is no field named {found} here{}", one_of(expected))
        }
        Error::MissingStructField { field, .. } => format!("the field {field} is missing"),
        Error::DuplicateStructField { field, .. } => format!("the field {field} is here twice"),
        Error::NoSuchEnumVariant { expected, found, .. } => {
            format!("{found} is not a word that belongs here{}", one_of(expected))
        }
        Error::UnexpectedChar(sign) => format!("{sign:?} does not belong here"),
        Error::InvalidValueForType { expected, found } => {
            format!("{found} stands where {} belongs", plain_sort(expected))
        }
        Error::ExpectedDifferentLength { expected, .. } => {
            format!("there are too many or too few values here: {}", plain_sort(expected))
        }
        other => other.to_string(),
    }
}

/// The reader's name for a sort of value, in plain words.
fn plain_sort(expected: &str) -> &str {
    let first = expected.split(' ').next().unwrap_or_default();
    match (expected, first) {
        ("a string" | "a character" | "char", _) => "a text in quotes",
        ("a boolean", _) => "true or false",
        ("a sequence", _) | (_, "tuple") => "a list",
        ("a map", _) => "a table in curly brackets",
        (_, "struct" | "variant") => "a part in round brackets",
        (_, "enum") => "one of the words that belong here",
        (
            _,
            "i8" | "i16" | "i32" | "i64" | "i128" | "u8" | "u16" | "u32" | "u64" | "u128" | "f32" | "f64",
        ) => "a number",
        _ => expected,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deep_brackets_are_told_without_advice_to_programmers() {
        let deep = ron::from_str::<ron::Value>(&"[".repeat(3_000)).unwrap_err();
        assert!(deep.code.to_string().contains("recursion"), "{}", deep.code);
        assert_eq!(words(&deep.code), "brackets are nested too deep");
    }

    /// A part as a card has some.
    #[derive(Debug, serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Part {
        #[serde(rename = "name")]
        _name: String,
        #[serde(rename = "count", default)]
        _count: u8,
    }

    #[test]
    fn no_word_of_a_programmer_is_said() {
        for (text, said) in [
            ("x", "("),
            ("[]", "("),
            ("(name: \"a\"", "a comma is missing"),
            ("(name: \"a", "a closing quote is missing"),
            ("(name: a)", "a text in quotes"),
            ("(name: 5)", "a text in quotes"),
            ("(name: [\"a\"])", "a text in quotes"),
            ("()", "the field name is missing"),
            ("(name: \"a\", name: \"b\")", "the field name is here twice"),
            ("(nme: \"a\")", "there is no field named nme here; there are: name, count"),
            ("(name: \"a\", count: 900)", "number"),
            ("(name: \"a\", count: x)", "number"),
            ("(name: \"a\")) ", "there is something after the last bracket: take it out"),
            ("(name: \"a\", count: 3.5)", ""),
            ("(name: \"\\q\")", ""),
            ("(:)", ""),
            ("/* (", ""),
            ("", ""),
        ] {
            let wrong = ron::from_str::<Part>(text).unwrap_err();
            let words = words(&wrong.code);
            assert!(words.contains(said), "{text}: {words}: {:?}", wrong.code);
            for of_the_reader in
                ["xpected", "truct", "enum ", "variant", "identifier", "RON", "ron::", "char "]
            {
                assert!(!words.contains(of_the_reader), "{text}: {words}");
            }
        }
    }
}
