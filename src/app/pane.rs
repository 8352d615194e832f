//! The four panes, by name and never by number.

use super::commands::CommandId;

/// A pane of the workbench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Pane {
    /// How many pieces a sheet gives, and the cuts.
    #[default]
    Yield,
    /// The size of every layer of a card.
    Mats,
    /// Colours and what goes with them.
    Palette,
    /// What is held, low and used.
    Stock,
}

impl Pane {
    /// All, from left to right.
    pub const ALL: [Self; 4] = [Self::Yield, Self::Mats, Self::Palette, Self::Stock];

    /// The command that goes there; its title is the pane's name.
    pub const fn command(self) -> CommandId {
        match self {
            Self::Yield => CommandId::PaneYield,
            Self::Mats => CommandId::PaneMats,
            Self::Palette => CommandId::PanePalette,
            Self::Stock => CommandId::PaneStock,
        }
    }

    /// The pane so many to the right, going round.
    #[must_use]
    pub fn step(self, by: isize) -> Self {
        let n = Self::ALL.len();
        let at = Self::ALL.iter().position(|p| *p == self).unwrap_or(0);
        let to = (at as isize + by).rem_euclid(n as isize);
        Self::ALL[to as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn goes_round_both_ways() {
        assert_eq!(Pane::Stock.step(1), Pane::Yield);
        assert_eq!(Pane::Yield.step(-1), Pane::Stock);
    }
}
