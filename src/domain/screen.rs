//! How a person likes the screen: theme, signs, unit, mouse, paper. Kept apart from the book; what a theme looks like is
//! the drawing side's business.

use crate::domain::cards::country::Country;
use crate::domain::length::Unit;
use crate::domain::pages::frame::PrintPaper;

/// Which theme; the drawing side owns what each looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum ThemeChoice {
    /// The terminal's own colours and ground.
    #[default]
    Terminal,
    /// Light or dark, by the ground that the terminal tells.
    Auto,
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
    /// Sharpest contrast.
    Contrast,
    /// No colour.
    Mono,
    /// The person's own theme file.
    Own,
}

impl ThemeChoice {
    /// All, in the order of the list.
    pub const ALL: [Self; 7] =
        [Self::Terminal, Self::Auto, Self::Light, Self::Dark, Self::Contrast, Self::Mono, Self::Own];

    /// The name in the settings file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Terminal => "terminal",
            Self::Auto => "auto",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Contrast => "contrast",
            Self::Mono => "mono",
            Self::Own => "own",
        }
    }

    /// What it is, in a few words.
    pub const fn line(self) -> &'static str {
        match self {
            Self::Terminal => "the terminal's own colors and ground",
            Self::Auto => "light or dark, as the terminal tells",
            Self::Light => "dark letters on a warm light ground",
            Self::Dark => "light letters on dark slate",
            Self::Contrast => "white on black, the sharpest",
            Self::Mono => "no color: bold, reverse and marks",
            Self::Own => "the colors of your own theme file",
        }
    }

    /// From its name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.name() == name)
    }
}

/// What each colour of a theme file is for, by its name there.
pub const ROLES: [&str; 12] = [
    "ground",
    "text",
    "dim",
    "key",
    "good",
    "warn",
    "bad",
    "line",
    "turned",
    "cut",
    "pick_ground",
    "pick_text",
];

/// The person's own theme: a theme to begin with, and colours (red, green, blue) in the order of [`ROLES`] over it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct OwnTheme {
    /// What is not named is as in this one.
    pub base: ThemeChoice,
    /// Colours that are named.
    pub colours: [Option<[u8; 3]>; ROLES.len()],
}

/// What is in view when the workbench opens, once there is work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Start {
    /// The page of the day.
    #[default]
    Today,
    /// The pane that was in view last.
    Pane,
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screen {
    /// Theme.
    pub theme: ThemeChoice,
    /// Signs.
    pub signs: Signs,
    /// Unit of bare numbers and of what is shown first.
    pub unit: Unit,
    /// True where the mouse is listened to.
    pub mouse: bool,
    /// The person was told how to select text while the mouse is listened to.
    pub shift_told: bool,
    /// What it opens with.
    pub start: Start,
    /// The paper in the printer.
    pub paper: PrintPaper,
    /// Where the person posts; nothing until they were asked.
    pub country: Option<Country>,
    /// Whether the terminal's ground is light; nothing where it did not tell.
    pub ground: Option<bool>,
    /// The person's own theme, where there is one.
    pub own: Option<OwnTheme>,
}

impl Default for Screen {
    /// As it comes: the terminal's own colours, inches, letter; the mouse is listened to.
    fn default() -> Self {
        Self {
            theme: ThemeChoice::default(),
            signs: Signs::default(),
            unit: Unit::default(),
            mouse: true,
            shift_told: false,
            start: Start::default(),
            paper: PrintPaper::default(),
            country: None,
            ground: None,
            own: None,
        }
    }
}
