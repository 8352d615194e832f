//! What the shapes of all fields share: why a value does not fit, dates as text, what is left out.

use jiff::civil::Date;
use serde::{Deserialize, Deserializer, Serializer};

/// Why a stored value cannot be turned into what it stands for.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Misfit(pub String);

/// Dates as text.
#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that the derive calls
pub(super) mod day {
    use super::{Date, Deserializer, Serializer};

    pub fn serialize<S: Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(date)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Date, D::Error> {
        from.deserialize_str(Text)
    }

    /// Reads the text where it stands: dates are many.
    struct Text;

    impl serde::de::Visitor<'_> for Text {
        type Value = Date;

        fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
            f.write_str("a date such as 2026-03-02")
        }

        fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Date, E> {
            text.parse().map_err(|_| E::custom(format!("\"{text}\" is not a date such as 2026-03-02")))
        }
    }
}

/// Dates that may be missing.
#[allow(clippy::trivially_copy_pass_by_ref, clippy::ref_option)] // the shape that the derive calls
pub(super) mod maybe_day {
    use super::{Date, Deserialize, Deserializer, Serializer, day};

    #[derive(serde::Serialize, serde::Deserialize)]
    #[serde(transparent)]
    struct Wrap(#[serde(with = "day")] Date);

    pub fn serialize<S: Serializer>(date: &Option<Date>, to: S) -> Result<S::Ok, S::Error> {
        serde::Serialize::serialize(&date.map(Wrap), to)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Date>, D::Error> {
        Ok(Option::<Wrap>::deserialize(from)?.map(|Wrap(date)| date))
    }
}

/// True where a field holds nothing, so that it is left out.
pub(super) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}
