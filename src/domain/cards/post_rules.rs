//! The postal rule sets as they stand in `assets/post.ron`: limits and classes. Knows no piece of post.

use super::table;
use crate::domain::length::Length;
use crate::domain::near::folded;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::Weight;
use serde::{Deserialize, Deserializer, de::Error};
use std::sync::LazyLock;

/// What a piece of post counts as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// A letter.
    Letter,
    /// A letter that machines do not take.
    #[serde(rename = "nonmachinable")]
    NonmachinableLetter,
    /// A large envelope.
    Flat,
    /// A card without an envelope.
    Postcard,
    /// Beyond the letter classes.
    Parcel,
    /// Below the smallest size.
    TooSmall,
    /// Below the least thickness.
    TooThin,
    /// Over the greatest weight.
    TooHeavy,
    /// So near a limit that the counter decides.
    Borderline,
    /// Not told by the edition read.
    Unknown,
}

impl Verdict {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::Letter,
        Self::NonmachinableLetter,
        Self::Flat,
        Self::Postcard,
        Self::Parcel,
        Self::TooSmall,
        Self::TooThin,
        Self::TooHeavy,
        Self::Borderline,
        Self::Unknown,
    ];

    /// Reads the word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|v| v.word() == word.trim())
    }

    /// The word in answers.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::NonmachinableLetter => "nonmachinable letter",
            Self::Flat => "flat",
            Self::Postcard => "postcard",
            Self::Parcel => "parcel",
            Self::TooSmall => "too small",
            Self::TooThin => "too thin",
            Self::TooHeavy => "too heavy",
            Self::Borderline => "borderline",
            Self::Unknown => "unknown",
        }
    }
}

/// One operator's rules in one edition.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Rules {
    /// `us-dmm101`, `us-imm`, `ca`, `uk`, `de`, `upu`.
    pub id: String,
    /// Whose letters they are for, in a word or two.
    pub short: String,
    /// Other words that mean it.
    #[serde(default)]
    pub words: Vec<String>,
    /// The operator and what was read.
    pub name: String,
    /// Edition or date.
    pub edition: String,
    /// Clauses or pages.
    pub source: String,
    /// Smallest size, short by long.
    #[serde(deserialize_with = "sides")]
    pub least: Size,
    /// Least thickness.
    #[serde(default, deserialize_with = "thickness_or_none")]
    pub least_thickness: Option<Thickness>,
    /// Least weight.
    #[serde(default, deserialize_with = "weight_or_none")]
    pub least_weight: Option<Weight>,
    /// A greater least thickness for larger pieces, else machines do not take them.
    #[serde(default)]
    pub thin_if_large: Option<ThinIfLarge>,
    /// True where the length is the side that the address runs along.
    #[serde(default)]
    pub address_counts: bool,
    /// Why a folded card without an envelope leaves the first class.
    #[serde(default)]
    pub folded_without_envelope: Option<String>,
    /// What to do about a square piece.
    #[serde(default)]
    pub square: Option<String>,
    /// What is said of a piece outside the only class that the edition tells of: there the verdict is unknown.
    #[serde(default)]
    pub undecided: Option<String>,
    /// What lies beyond the classes.
    pub beyond: Verdict,
    /// How far under a least size the counter may still take it.
    #[serde(default = "half_a_millimetre", deserialize_with = "length")]
    pub tolerance: Length,
    /// How far over a greatest size it may, where the operator says so.
    #[serde(default, deserialize_with = "length")]
    pub over_tolerance: Length,
    /// In the order they are tried.
    pub classes: Vec<Class>,
}

/// A greater least thickness for larger pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub struct ThinIfLarge {
    /// Short side over this, or
    #[serde(deserialize_with = "length")]
    pub over_short: Length,
    /// long side over this:
    #[serde(deserialize_with = "length")]
    pub over_long: Length,
    /// at least this thick.
    #[serde(deserialize_with = "thickness")]
    pub least: Thickness,
}

/// One class of an operator.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Class {
    /// What it counts as.
    pub verdict: Verdict,
    /// The operator's word for it.
    pub name: String,
    /// True for a class of unfolded cards without an envelope.
    #[serde(default)]
    pub one_leaf: bool,
    /// Smallest size, where it is more than the operator's.
    #[serde(default, deserialize_with = "sides_or_none")]
    pub least: Option<Size>,
    /// Greatest size, short by long.
    #[serde(deserialize_with = "sides")]
    pub most: Size,
    /// Greatest thickness.
    #[serde(deserialize_with = "thickness")]
    pub most_thickness: Thickness,
    /// Greatest weight.
    #[serde(deserialize_with = "weight")]
    pub most_weight: Weight,
    /// Weights below the greatest where the price changes.
    #[serde(default, deserialize_with = "weights")]
    pub steps: Vec<Weight>,
    /// Long side over short side, in hundredths.
    #[serde(default)]
    pub ratio: Option<Ratio>,
    /// What else it asks for.
    #[serde(default)]
    pub note: Option<String>,
}

/// Limits of the long side over the short side, in hundredths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub struct Ratio {
    /// At least.
    pub least: i64,
    /// At most.
    #[serde(default)]
    pub most: Option<i64>,
    /// What a piece outside is.
    pub outside: Outside,
}

/// What a piece outside a ratio is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Outside {
    /// A letter that machines do not take.
    Nonmachinable,
    /// A piece of the next class.
    Next,
}

const fn half_a_millimetre() -> Length {
    Length::tenths_mm(5)
}

fn length<'de, D: Deserializer<'de>>(d: D) -> Result<Length, D::Error> {
    let text = String::deserialize(d)?;
    Length::parse(&text, crate::domain::length::Unit::Inch).map_err(D::Error::custom)
}

fn sides<'de, D: Deserializer<'de>>(d: D) -> Result<Size, D::Error> {
    let (short, long) = <(String, String)>::deserialize(d)?;
    Ok(Size::new(table::length(&short), table::length(&long)))
}

fn sides_or_none<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Size>, D::Error> {
    let both = Option::<(String, String)>::deserialize(d)?;
    Ok(both.map(|(short, long)| Size::new(table::length(&short), table::length(&long))))
}

fn read_thickness<E: Error>(text: &str) -> Result<Thickness, E> {
    Thickness::parse(text, crate::domain::length::Unit::Inch).map_err(E::custom)
}

fn thickness<'de, D: Deserializer<'de>>(d: D) -> Result<Thickness, D::Error> {
    read_thickness(&String::deserialize(d)?)
}

fn thickness_or_none<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Thickness>, D::Error> {
    Option::<String>::deserialize(d)?.map(|t| read_thickness(&t)).transpose()
}

fn read_weight<E: Error>(text: &str) -> Result<Weight, E> {
    Weight::parse(text).map_err(E::custom)
}

fn weight<'de, D: Deserializer<'de>>(d: D) -> Result<Weight, D::Error> {
    read_weight(&String::deserialize(d)?)
}

fn weight_or_none<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Weight>, D::Error> {
    Option::<String>::deserialize(d)?.map(|t| read_weight(&t)).transpose()
}

fn weights<'de, D: Deserializer<'de>>(d: D) -> Result<Vec<Weight>, D::Error> {
    Vec::<String>::deserialize(d)?.iter().map(|t| read_weight(t)).collect()
}

static TABLE: LazyLock<Vec<Rules>> = LazyLock::new(|| table::rows(include_str!("../../../assets/post.ron")));

/// All rule sets, in the order shown.
pub fn all() -> &'static [Rules] {
    &TABLE
}

/// The rule set that a person means: by its id, its short name or another word for the country, whatever the case.
///
/// # Errors
/// A sentence with the countries that there are.
pub fn find(text: &str) -> Result<&'static Rules, String> {
    let wanted = folded(text.trim().trim_start_matches("the "));
    let is_it = |rules: &&Rules| {
        let names = [&rules.id, &rules.short].into_iter().chain(&rules.words);
        names.into_iter().any(|name| folded(name) == wanted)
    };
    all().iter().find(is_it).ok_or_else(|| {
        let known: Vec<&str> = all().iter().map(|r| r.short.as_str()).collect();
        format!("no mailing rules for \"{}\" here: write one of {}", text.trim(), known.join(", "))
    })
}

impl Rules {
    /// What a piece is under these rules, as the person says it: the word of a verdict, or the operator's name of a class.
    ///
    /// # Errors
    /// A sentence with the words that there are.
    pub fn verdict(&self, text: &str) -> Result<Verdict, String> {
        let wanted = folded(text);
        let by_word = Verdict::ALL.into_iter().find(|v| folded(v.word()) == wanted);
        let by_class = || self.classes.iter().find(|c| folded(&c.name) == wanted).map(|c| c.verdict);
        let begins = || {
            let class =
                self.classes.iter().find(|c| !wanted.is_empty() && folded(&c.name).starts_with(&wanted));
            class.map(|c| c.verdict)
        };
        by_word.or_else(by_class).or_else(begins).ok_or_else(|| {
            let mut known: Vec<&str> = self.classes.iter().map(|c| c.name.as_str()).collect();
            known.extend(
                Verdict::ALL
                    .map(Verdict::word)
                    .into_iter()
                    .filter(|w| !known.contains(w))
                    .collect::<Vec<_>>(),
            );
            format!("\"{}\" is not a kind of letter there: use one of {}", text.trim(), known.join(", "))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_and_kinds_of_letters_are_found_by_the_words_of_the_person() {
        for (text, id) in [
            ("us-dmm101", "us-dmm101"),
            ("US", "us-dmm101"),
            ("the United  States", "us-dmm101"),
            ("abroad", "us-imm"),
            ("US to abroad", "us-imm"),
            ("canada", "ca"),
            ("united kingdom", "uk"),
            ("Germany", "de"),
            ("between countries", "upu"),
        ] {
            assert_eq!(find(text).unwrap().id, id, "{text}");
        }
        let why = find("France").unwrap_err();
        assert!(why.contains("\"France\"") && why.contains("Canada, UK, Germany"), "{why}");
        let kind = |rules: &str, text: &str| find(rules).unwrap().verdict(text).map(Verdict::word);
        assert_eq!(kind("uk", "Large letter"), Ok("flat"));
        assert_eq!(kind("us", "large envelope"), Ok("flat"));
        assert_eq!(kind("ca", "standard"), Ok("letter"));
        assert_eq!(kind("de", "grossbrief"), Ok("flat"));
        assert_eq!(kind("us", "nonmachinable letter"), Ok("nonmachinable letter"));
        assert!(kind("uk", "carrier pigeon").unwrap_err().contains("large letter"));
        // No word means two sets.
        let mut all_words: Vec<String> = all()
            .iter()
            .flat_map(|r| [&r.id, &r.short].into_iter().chain(&r.words))
            .map(|w| folded(w))
            .collect();
        all_words.sort();
        let before = all_words.len();
        all_words.dedup();
        // Only of the UK the id and the short name are one word.
        assert_eq!(before - all_words.len(), 1, "{all_words:?}");
    }

    #[test]
    fn the_table_is_read() {
        let ids: Vec<&str> = all().iter().map(|r| r.id.as_str()).collect();
        assert_eq!(ids, ["us-dmm101", "us-imm", "ca", "uk", "de", "upu"]);
        for rules in all() {
            assert!(rules.least.width.is_positive() && !rules.classes.is_empty(), "{}", rules.id);
            for class in &rules.classes {
                assert!(
                    rules.least.fits_in(class.most) && class.steps.iter().all(|s| *s < class.most_weight)
                );
            }
        }
    }
}
