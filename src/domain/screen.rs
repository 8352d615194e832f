//! How a person likes the screen: theme, signs, unit, mouse, keys. Kept apart from the book; what a theme looks like is
//! the drawing side's business.

use crate::domain::length::Unit;

/// Which theme; the drawing side owns what each looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum ThemeChoice {
    /// The terminal's own colours and ground.
    #[default]
    Terminal,
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
    /// Sharpest contrast.
    Contrast,
    /// No colour.
    Mono,
}

impl ThemeChoice {
    /// All, in the order in which the key goes through them.
    pub const ALL: [Self; 5] = [Self::Terminal, Self::Light, Self::Dark, Self::Contrast, Self::Mono];

    /// The name in the settings file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Terminal => "terminal",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Contrast => "contrast",
            Self::Mono => "mono",
        }
    }

    /// From its name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.name() == name)
    }

    /// The next one round.
    #[must_use]
    pub fn next(self) -> Self {
        let at = Self::ALL.iter().position(|t| *t == self).unwrap_or(0);
        Self::ALL[(at + 1) % Self::ALL.len()]
    }
}

/// Which signs draw lines and bars.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Signs {
    /// Box drawing.
    #[default]
    Unicode,
    /// Plain ASCII.
    Ascii,
}

/// The person's choices for the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Screen {
    /// Theme.
    pub theme: ThemeChoice,
    /// Signs.
    pub signs: Signs,
    /// Unit of bare numbers and of what is shown first.
    pub unit: Unit,
    /// True where the mouse is listened to.
    pub mouse: bool,
}
