//! From a colour to what this terminal can paint: exact, the nearest of the fixed 240, or not at all.

use super::ground;
use super::look::{ColourDepth, Look};
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::terminal::nearest_fixed;
use ratatui::style::{Color, Style};

/// How a colour can be painted here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paint {
    /// As it is.
    Exact(Color),
    /// The nearest there is, plainly another shade: say so beside it.
    Near(Color),
    /// Not at all: name and numbers only.
    None,
}

/// What a screen value becomes at a colour depth.
pub fn paint(hex: Rgb8, lab: Lab, depth: ColourDepth) -> Paint {
    match depth {
        ColourDepth::True => Paint::Exact(Color::Rgb(hex.r, hex.g, hex.b)),
        ColourDepth::TwoFiftySix => {
            let near = nearest_fixed(lab);
            let colour = Color::Indexed(near.index);
            if near.approximate() { Paint::Near(colour) } else { Paint::Exact(colour) }
        }
        ColourDepth::Sixteen | ColourDepth::None => Paint::None,
    }
}

impl Paint {
    /// Cells filled with the colour; an edge where it is that of the screen.
    pub fn block(self, cells: usize, look: &Look) -> (String, Style) {
        match self {
            Self::Exact(c) | Self::Near(c) => ground::block(cells, c, look),
            Self::None => (String::new(), Style::new()),
        }
    }

    /// `~` beside a colour that is only near.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Near(_) => "~",
            Self::Exact(_) | Self::None => " ",
        }
    }
}
