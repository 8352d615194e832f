//! Reading the tables that are compiled in. Knows RON, not what a row means.

use crate::domain::length::{Length, Unit};
use serde::de::DeserializeOwned;

/// Whose sizes a row belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum System {
    /// The American trade's.
    Us,
    /// International paper sizes.
    Iso,
}

impl System {
    /// The word in names: `US A2`, `ISO A2`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Us => "US",
            Self::Iso => "ISO",
        }
    }
}

/// The rows of a compiled-in table. A test reads each table, so an unreadable one never leaves the bench.
pub(crate) fn rows<T: DeserializeOwned>(text: &str) -> Vec<T> {
    ron::from_str(text).unwrap_or_default()
}

/// A length in a table: its own unit, or inches.
pub(crate) fn length(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap_or_default()
}

/// A name without what people leave out or add: case, spaces, hyphens, brackets.
pub(crate) fn key(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric() || "#/.".contains(*c)).flat_map(char::to_lowercase).collect()
}

/// Splits `us-a2`, `A2 (ISO)` or `a2` into the system, where one is named, and the rest as a [`key`].
pub(crate) fn split_system(name: &str) -> (Option<System>, String) {
    let key = key(name);
    for (word, system) in [("us", System::Us), ("iso", System::Iso)] {
        let rest = key.strip_prefix(word).or_else(|| key.strip_suffix(word));
        if let Some(rest) = rest.filter(|r| !r.is_empty()) {
            return (Some(system), rest.to_owned());
        }
    }
    (None, key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_found_however_it_is_spelt() {
        for text in ["us-a2", "US A2", "A2 (US)", "usa2", "a2_us"] {
            assert_eq!(split_system(text), (Some(System::Us), "a2".to_owned()), "{text}");
        }
        assert_eq!(split_system("A6"), (None, "a6".to_owned()));
        assert_eq!(split_system("iso-c6"), (Some(System::Iso), "c6".to_owned()));
        assert_eq!(split_system("us"), (None, "us".to_owned()));
    }
}
