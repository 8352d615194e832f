//! Where a person posts their cards: whose rules are shown first. Knows no piece of post.

/// A country, by the rule set that is usual there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Country {
    /// The United States.
    UnitedStates,
    /// Canada.
    Canada,
    /// The United Kingdom.
    UnitedKingdom,
    /// Germany.
    Germany,
    /// Any other: the rules of the universal union.
    Elsewhere,
}

impl Country {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::UnitedStates, Self::Canada, Self::UnitedKingdom, Self::Germany, Self::Elsewhere];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::UnitedStates => "the United States",
            Self::Canada => "Canada",
            Self::UnitedKingdom => "the United Kingdom",
            Self::Germany => "Germany",
            Self::Elsewhere => "another country",
        }
    }

    /// The short word in settings.
    pub const fn code(self) -> &'static str {
        match self {
            Self::UnitedStates => "us",
            Self::Canada => "ca",
            Self::UnitedKingdom => "uk",
            Self::Germany => "de",
            Self::Elsewhere => "other",
        }
    }

    /// From that word.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|c| c.code() == code)
    }

    /// The rule set that counts for a card posted and delivered there.
    pub const fn rules(self) -> &'static str {
        match self {
            Self::UnitedStates => "us-dmm101",
            Self::Canada => "ca",
            Self::UnitedKingdom => "uk",
            Self::Germany => "de",
            Self::Elsewhere => "upu",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::post;

    #[test]
    fn every_country_has_its_rules_and_its_word() {
        for country in Country::ALL {
            assert!(post::all().iter().any(|r| r.id == country.rules()), "{}", country.name());
            assert_eq!(Country::from_code(country.code()), Some(country));
        }
        assert_eq!(Country::from_code("fr"), None);
    }
}
