//! The postal rule sets as they stand in `assets/post.ron`: limits and classes. Knows no piece of post.

use super::table;
use crate::domain::length::Length;
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

#[cfg(test)]
mod tests {
    use super::*;

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
