//! How a part of a card comes to its shape: cut straight at the trimmer, or cut larger there and brought to its shape after.
//! The paper to allow around it is the usual one (common practice) and may be typed otherwise.

use crate::domain::length::Length;
use crate::domain::near::folded;

/// How a part is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum MadeBy {
    /// Cut at the trimmer, and done.
    #[default]
    Straight,
    /// Cut with a die, from a piece that is larger all round.
    DieCut,
    /// Torn along its edges.
    Torn,
    /// Embossed dry, which draws the paper in, then trimmed.
    Embossed,
    /// Printed or stamped past its edges, then trimmed.
    PrintedToEdge,
}

impl MadeBy {
    /// All, in the order in which they are offered.
    pub const ALL: [Self; 5] =
        [Self::Straight, Self::DieCut, Self::Torn, Self::Embossed, Self::PrintedToEdge];

    /// The words shown, typed and stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Straight => "straight cut",
            Self::DieCut => "die-cut",
            Self::Torn => "torn",
            Self::Embossed => "embossed",
            Self::PrintedToEdge => "printed to the edge",
        }
    }

    /// Reads the words, whatever the case and the hyphen.
    ///
    /// # Errors
    /// A sentence with the words that would do.
    pub fn from_word(text: &str) -> Result<Self, String> {
        let plain = |text: &str| folded(text).replace('-', " ");
        let found = Self::ALL.into_iter().find(|way| plain(way.word()) == plain(text.trim()));
        found.ok_or_else(|| {
            format!(
                "\"{}\" is not a way to make a part: write one of {}",
                text.trim(),
                Self::ALL.map(Self::word).join(", ")
            )
        })
    }

    /// The paper to allow around it on every side: 1/4 in for a die and for tearing, 1/8 in for embossing and for a print
    /// that bleeds (common practice).
    pub const fn usual_allowance(self) -> Length {
        match self {
            Self::Straight => Length::ZERO,
            Self::DieCut | Self::Torn => Length::sixteenths(4),
            Self::Embossed | Self::PrintedToEdge => Length::sixteenths(2),
        }
    }

    /// What is done with the piece after the trimmer, as a command; `None` where nothing is.
    pub const fn task(self) -> Option<&'static str> {
        match self {
            Self::Straight => None,
            Self::DieCut => Some("Die-cut"),
            Self::Torn => Some("Tear"),
            Self::Embossed => Some("Emboss, then trim"),
            Self::PrintedToEdge => Some("Print, let dry, then trim"),
        }
    }

    /// What is laid out for it; `None` where a ruler and the trimmer do.
    pub const fn tool(self) -> Option<&'static str> {
        match self {
            Self::Straight | Self::Torn => None,
            Self::DieCut => Some("die"),
            Self::Embossed => Some("embossing folder"),
            Self::PrintedToEdge => Some("stamp and ink, or printer"),
        }
    }

    /// What the grain does to it (common practice); `None` where it does nothing.
    pub const fn grain_words(self) -> Option<&'static str> {
        match self {
            Self::Torn => Some("paper tears straight along the grain and ragged across it"),
            Self::Embossed => Some("fine lines may crack across the grain of thick stock"),
            Self::Straight | Self::DieCut | Self::PrintedToEdge => None,
        }
    }

    /// How it is made and the paper around it, where either says something: `die-cut, 1/4 in around`.
    pub fn words(self, allowance: Length, unit: crate::domain::length::Unit) -> Option<String> {
        let around = allowance.is_positive().then(|| format!("{} around", allowance.show_with_unit(unit)));
        match (self, around) {
            (Self::Straight, around) => around,
            (way, None) => Some(way.word().to_owned()),
            (way, Some(around)) => Some(format!("{}, {around}", way.word())),
        }
    }

    /// A part's name with the way it is made, as plan, bench, kit, labels and pages call it: `mat 1, die-cut`; the name alone
    /// where it is cut straight.
    pub fn named(self, part: &str) -> String {
        match self {
            Self::Straight => part.to_owned(),
            way => format!("{part}, {}", way.word()),
        }
    }

    /// Makes a part this way from now on: the paper around it becomes the usual of the new way, unless a person's own
    /// stands there.
    pub fn put(self, made_by: &mut Self, allowance: &mut Length) {
        let is_own = allowance.is_positive() && *allowance != made_by.usual_allowance();
        if !is_own || self == Self::Straight {
            *allowance = self.usual_allowance();
        }
        *made_by = self;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    #[test]
    fn its_words_are_read_back() {
        for way in MadeBy::ALL {
            assert_eq!(MadeBy::from_word(way.word()), Ok(way));
            assert_eq!(MadeBy::from_word(&way.word().to_uppercase().replace('-', " ")), Ok(way));
        }
        assert!(MadeBy::from_word("sewn").unwrap_err().contains("straight cut, die-cut, torn"));
    }

    /// By hand: a mat that becomes die-cut has 1/4 around; with 1/2 of a person's own it stays; straight again it has none.
    #[test]
    fn a_persons_own_allowance_stays() {
        let (none, own) = (Length::ZERO, Length::sixteenths(8));
        let after = |way: MadeBy, mut was: MadeBy, mut allowance: Length| {
            way.put(&mut was, &mut allowance);
            assert_eq!(was, way);
            allowance
        };
        assert_eq!(after(MadeBy::DieCut, MadeBy::Straight, none), Length::sixteenths(4));
        assert_eq!(after(MadeBy::DieCut, MadeBy::Straight, own), own);
        assert_eq!(after(MadeBy::Embossed, MadeBy::DieCut, Length::sixteenths(4)), Length::sixteenths(2));
        assert_eq!(after(MadeBy::Straight, MadeBy::DieCut, own), none);
        assert_eq!(MadeBy::DieCut.words(own, Unit::Inch).as_deref(), Some("die-cut, 1/2 in around"));
        assert_eq!(MadeBy::Straight.words(none, Unit::Inch), None);
    }
}
