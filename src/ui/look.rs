//! How the screen is drawn in this terminal: theme, signs, colour depth. Travels as one reference; there are no statics.

use super::glyphs::{ASCII, Glyphs, UNICODE};
use super::theme::{self, Theme};
use crate::domain::screen::{Screen, Signs, ThemeChoice};
use ratatui::style::Style;
use std::borrow::Cow;

/// What is left over where a shade would look like a paper.
const WASTE_WITHOUT_COLOUR: &str = "x";

/// How many colours the terminal announces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ColourDepth {
    /// None: names and numbers only.
    None,
    /// The sixteen of the terminal's palette.
    Sixteen,
    /// The fixed 256.
    TwoFiftySix,
    /// 24 bit.
    True,
}

/// Everything a view needs to know besides the model.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Roles.
    pub theme: Theme,
    /// Signs.
    pub glyphs: Glyphs,
    /// What swatches can be painted with.
    pub depth: ColourDepth,
    /// The terminal said that its ground is dark: there the densest hatch is the lightest.
    pub is_dark: bool,
}

impl Look {
    /// From the person's choice and what the terminal can do.
    pub fn new(screen: &Screen, depth: ColourDepth) -> Self {
        let chosen = match (screen.theme, screen.ground, &screen.own) {
            (ThemeChoice::Auto, Some(true), _) => theme::LIGHT,
            (ThemeChoice::Auto, Some(false), _) => theme::DARK,
            (ThemeChoice::Own, _, Some(own)) => theme::own(own),
            (choice, ..) => theme::by_name(choice.name()),
        };
        let theme = match (depth, chosen) {
            (ColourDepth::None, _) => theme::MONO,
            // A painted ground needs exact colours; with sixteen the terminal's own are the only safe ones.
            (ColourDepth::Sixteen, t) if t != theme::MONO => theme::TERMINAL,
            (_, t) => t,
        };
        let mut glyphs = if screen.signs == Signs::Ascii { ASCII } else { UNICODE };
        if depth == ColourDepth::None && screen.signs != Signs::Ascii {
            // Shades are papers there.
            glyphs.waste = WASTE_WITHOUT_COLOUR;
        }
        Self { theme, glyphs, depth, is_dark: screen.ground == Some(false) }
    }

    /// The words of a warning, or of what is low, with their sign before them where no color tells the two apart: terminals
    /// without color often have no slanted letters either.
    pub fn marked<'a>(&self, words: &'a str, style: Style) -> Cow<'a, str> {
        let sign = match style {
            style if style == self.theme.warn => self.glyphs.warning,
            style if style == self.theme.low => self.glyphs.low,
            _ => return Cow::Borrowed(words),
        };
        self.signed(sign, words)
    }

    /// The same in a list whose words need no name of what is wrong: the worst of them have the sign too.
    pub fn pressing<'a>(&self, words: &'a str, style: Style) -> Cow<'a, str> {
        if style == self.theme.bad {
            self.signed(self.glyphs.warning, words)
        } else {
            self.marked(words, style)
        }
    }

    fn signed<'a>(&self, sign: &str, words: &'a str) -> Cow<'a, str> {
        if self.theme.name != theme::MONO.name || words.is_empty() {
            return Cow::Borrowed(words);
        }
        Cow::Owned(format!("{sign} {words}"))
    }
}
