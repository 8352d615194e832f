//! The words of the craft, for the manual in the help screen: short topics, each with its source.

use crate::domain::near::one_spelling;
use serde::Deserialize;
use std::sync::LazyLock;

static TOPICS: LazyLock<Vec<Topic>> =
    LazyLock::new(|| ron::from_str(include_str!("../../assets/craft.ron")).unwrap_or_default());

/// A topic.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Topic {
    /// What it is about.
    pub title: String,
    /// Two or three sentences.
    pub text: String,
    /// Where it is from: a standard, a published rule, or "common practice".
    pub source: String,
}

impl Topic {
    /// True where every word of the filter is in the topic; an empty filter matches.
    pub fn matches(&self, filter: &str) -> bool {
        let words = format!("{} {} {}", self.title, self.text, self.source);
        let words = one_spelling(&words);
        one_spelling(filter).split_whitespace().all(|part| words.contains(part))
    }
}

/// All topics, in the order in which a beginner meets them.
pub fn topics() -> &'static [Topic] {
    &TOPICS
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_topic_is_two_or_three_sentences_with_a_source() {
        assert!(topics().len() >= 20, "{}", topics().len());
        let mut titles = BTreeSet::new();
        for t in topics() {
            assert!(titles.insert(&t.title), "{} twice", t.title);
            let sentences = t.text.split_inclusive(['.', '!', '?']).filter(|s| s.trim().len() > 8).count();
            assert!((2..=4).contains(&sentences), "{}: {sentences} sentences", t.title);
            assert!(!t.source.is_empty(), "{} has no source", t.title);
        }
    }

    #[test]
    fn what_a_beginner_asks_is_there() {
        for asked in [
            "reveal",
            "grain",
            "fold cracks",
            "which way",
            "slack",
            "fence",
            "stroke",
            "blade",
            "guillotine",
            "adhesive",
            "heat",
            "exact fit",
            "offcut",
            "dye lot",
            "weight",
            "post",
        ] {
            assert!(topics().iter().any(|t| t.matches(asked)), "nothing about {asked}");
        }
        assert!(!topics().iter().any(|t| t.matches("zzz")));
    }
}
