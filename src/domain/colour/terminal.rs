//! Colours for a screen that has only 256 of them: the best of the fixed ones, 16 to 255.
//!
//! The first sixteen are the person's own theme and cannot be relied on. The 6 x 6 x 6 cube has the levels 0, 95,
//! 135, 175, 215, 255; the 24 greys are 8, 18, ... 238 (common practice of terminals since the 256-colour xterm).
//! Knows colours, not whether the terminal has them.

use super::difference::ciede2000;
use super::space::{Lab, Rgb8};
use std::sync::LazyLock;

/// A fixed colour and how far it is from the one wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearby {
    /// 16..=255.
    pub index: u8,
    /// What that index shows.
    pub hex: Rgb8,
    /// CIEDE2000 to the colour wanted.
    pub delta_e: f64,
}

impl Nearby {
    /// True where an eye can tell it from the colour wanted, so that it must be marked.
    pub fn approximate(&self) -> bool {
        self.delta_e >= 1.0
    }
}

static FIXED: LazyLock<Vec<(u8, Rgb8, Lab)>> = LazyLock::new(|| {
    (16..=255)
        .map(|index| {
            let hex = indexed(index);
            (index, hex, hex.lab())
        })
        .collect()
});

/// What a fixed index shows; an index under 16 counts as 16.
pub fn indexed(index: u8) -> Rgb8 {
    let place = index.saturating_sub(16);
    if place >= 216 {
        let grey = 8 + 10 * (place - 216);
        return Rgb8::new(grey, grey, grey);
    }
    let level = |n: u8| if n == 0 { 0 } else { 55 + 40 * n };
    Rgb8::new(level(place / 36), level(place / 6 % 6), level(place % 6))
}

/// The fixed colour nearest to a Lab colour; of equals the lowest index.
pub fn nearest_fixed(lab: Lab) -> Nearby {
    let mut best = Nearby { index: 16, hex: indexed(16), delta_e: f64::INFINITY };
    for (index, hex, fixed) in FIXED.iter() {
        let delta_e = ciede2000(lab, *fixed);
        if delta_e < best.delta_e {
            best = Nearby { index: *index, hex: *hex, delta_e };
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_corners_of_the_cube_and_the_ends_of_the_greys() {
        assert_eq!(indexed(16), Rgb8::new(0, 0, 0));
        assert_eq!(indexed(196), Rgb8::new(255, 0, 0));
        assert_eq!(indexed(231), Rgb8::new(255, 255, 255));
        assert_eq!(indexed(232), Rgb8::new(8, 8, 8));
        assert_eq!(indexed(255), Rgb8::new(238, 238, 238));
        assert_eq!(indexed(3), indexed(16));
    }

    #[test]
    fn every_fixed_colour_finds_itself() {
        for index in 16..=255 {
            let near = nearest_fixed(indexed(index).lab());
            assert_eq!(near.index, index);
            assert!(!near.approximate());
        }
    }
}
