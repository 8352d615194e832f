//! The reveal: how much of the layer below shows on each side of a layer, and what that takes off its size.

use crate::domain::length::{Length, LengthError, Unit};

/// How much of the layer below shows on each side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Reveal {
    /// On the left.
    pub left: Length,
    /// At the top.
    pub top: Length,
    /// On the right.
    pub right: Length,
    /// At the bottom.
    pub bottom: Length,
}

impl Reveal {
    /// The same all round.
    pub const fn all(reveal: Length) -> Self {
        Self::sides(reveal, reveal, reveal, reveal)
    }

    /// One for each side.
    pub const fn sides(left: Length, top: Length, right: Length, bottom: Length) -> Self {
        Self { left, top, right, bottom }
    }

    /// What left and right take off together: the total that a mat is narrower.
    pub fn width(&self) -> Length {
        self.left + self.right
    }

    /// What top and bottom take off together.
    pub fn height(&self) -> Length {
        self.top + self.bottom
    }

    /// The reveal, where it is the same all round.
    pub fn uniform(&self) -> Option<Length> {
        (*self == Self::all(self.left)).then_some(self.left)
    }

    /// `1/8 in`, or `left 1/8, top 1/4, right 1/8, bottom 1/2 in`.
    pub fn show(&self, unit: Unit) -> String {
        match self.uniform() {
            Some(reveal) => reveal.show_with_unit(unit),
            None => format!(
                "left {}, top {}, right {}, bottom {} {}",
                self.left.show(unit),
                self.top.show(unit),
                self.right.show(unit),
                self.bottom.show(unit),
                unit.sign()
            ),
        }
    }

    /// Both ways of saying it: `1/8 in border each side, 1/4 in smaller`.
    pub fn both_ways(&self, unit: Unit) -> String {
        let smaller = if self.width() == self.height() {
            format!("{} smaller", self.width().show_with_unit(unit))
        } else {
            format!(
                "{} narrower, {} shorter",
                self.width().show_with_unit(unit),
                self.height().show_with_unit(unit)
            )
        };
        match self.uniform() {
            Some(reveal) => format!("{} border each side, {smaller}", reveal.show_with_unit(unit)),
            None => format!("border {}; {smaller}", self.show(unit)),
        }
    }

    /// Reads `1/8`, or four lengths `left:top:right:bottom` where `0` is allowed: `1/8:1/8:1/8:1/2`.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, RevealError> {
        let parts: Vec<&str> = text.split(':').collect();
        let side = |t: &str| match t.trim() {
            "0" => Ok(Length::ZERO),
            other => Length::parse(other, unit).map_err(RevealError::Length),
        };
        match parts.as_slice() {
            [one] => Length::parse(one, unit).map(Self::all).map_err(RevealError::Length),
            [l, t, r, b] => Ok(Self::sides(side(l)?, side(t)?, side(r)?, side(b)?)),
            _ => Err(RevealError::Sides(text.trim().chars().take(60).collect())),
        }
    }
}

/// Why a reveal could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RevealError {
    /// One of its lengths.
    #[error("{0}")]
    Length(LengthError),
    /// Neither one length nor four.
    #[error(
        "\"{0}\" is not a reveal: write one length such as 1/8, or left:top:right:bottom such as 1/8:1/8:1/8:1/2"
    )]
    Sides(String),
}
