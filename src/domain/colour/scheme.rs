//! Which of the trade's schemes three colours make. Knows their hues and chroma, not which swatches they are.
//!
//! The spans are our own reading of the trade's words (common practice): a triad means a third of the wheel apart,
//! give or take what a shelf of papers offers.

use super::order::NEUTRAL_CHROMA;
use super::space::Oklch;
use super::wheel::Wheel;

/// A scheme of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Scheme {
    /// One hue, light to dark.
    Monochromatic,
    /// Neighbours on the wheel, with or without a neutral.
    Analogous,
    /// Two opposites and a shade of one of them, or two opposites and a neutral.
    Complementary,
    /// One colour and the two neighbours of its opposite.
    SplitComplementary,
    /// A third of the wheel apart.
    Triad,
    /// Neutrals and one hue.
    NeutralAccent,
    /// Hues apart that make none of the others.
    Contrast,
}

/// Hues this close count as one hue, degrees of the wheel.
const SAME: f64 = 20.0;
/// Neighbours span at most this much.
const NEIGHBOURS: f64 = 90.0;
/// Opposites may miss 180 by this much.
const OPPOSITE_SLACK: f64 = 20.0;
/// The two neighbours of an opposite lie 60 apart, this much more or less.
const SPLIT_SLACK: f64 = 20.0;
/// A triad's gaps may miss 120 by this much.
const TRIAD_SLACK: f64 = 20.0;

impl Scheme {
    /// Every scheme in the order it is named.
    pub const ALL: [Self; 7] = [
        Self::Monochromatic,
        Self::Analogous,
        Self::Complementary,
        Self::SplitComplementary,
        Self::Triad,
        Self::NeutralAccent,
        Self::Contrast,
    ];

    /// What the trade calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Monochromatic => "monochromatic",
            Self::Analogous => "analogous",
            Self::Complementary => "complementary",
            Self::SplitComplementary => "split complementary",
            Self::Triad => "triad",
            Self::NeutralAccent => "neutral + accent",
            Self::Contrast => "contrast",
        }
    }

    /// The scheme of three colours in any order. A neutral stands beside any hues and changes nothing between them.
    pub fn of(colours: [SchemePlace; 3]) -> Self {
        let mut angles = [0.0; 3];
        let mut coloured = 0;
        for angle in colours.iter().filter_map(|place| place.angle) {
            angles[coloured] = angle;
            coloured += 1;
        }
        match coloured {
            0 => Self::Monochromatic,
            1 => Self::NeutralAccent,
            2 => Self::of_two(angles[0], angles[1]),
            _ => Self::of_three(angles),
        }
    }

    fn of_two(one: f64, two: f64) -> Self {
        let apart = (one - two).rem_euclid(360.0);
        let apart = apart.min(360.0 - apart);
        if apart <= SAME {
            Self::NeutralAccent
        } else if apart >= 180.0 - OPPOSITE_SLACK {
            Self::Complementary
        } else if apart <= NEIGHBOURS {
            Self::Analogous
        } else {
            Self::Contrast
        }
    }

    fn of_three(mut angles: [f64; 3]) -> Self {
        angles.sort_by(f64::total_cmp);
        let [a, b, c] = angles;
        let mut gaps = [b - a, c - b, 360.0 + a - c];
        gaps.sort_by(f64::total_cmp);
        let [least, middle, most] = gaps;
        let near = |gap: f64, wanted: f64, slack: f64| (gap - wanted).abs() <= slack;
        if least + middle <= SAME {
            Self::Monochromatic
        } else if least + middle <= NEIGHBOURS {
            Self::Analogous
        } else if near(least, 120.0, TRIAD_SLACK) && near(most, 120.0, TRIAD_SLACK) {
            Self::Triad
        } else if near(least, 60.0, SPLIT_SLACK)
            && near(middle, 150.0, SPLIT_SLACK)
            && near(most, 150.0, SPLIT_SLACK)
        {
            Self::SplitComplementary
        } else if least <= SAME && middle >= 180.0 - OPPOSITE_SLACK {
            Self::Complementary
        } else {
            Self::Contrast
        }
    }
}

/// Where a colour lies for a scheme: an angle of the wheel, or none for a neutral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SchemePlace {
    angle: Option<f64>,
}

impl SchemePlace {
    /// Lays a colour on a wheel.
    pub fn on(wheel: Wheel, colour: Oklch) -> Self {
        Self { angle: (colour.c >= NEUTRAL_CHROMA).then(|| wheel.angle(colour)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scheme(angles: [f64; 3]) -> Scheme {
        // A negative angle stands for a neutral.
        Scheme::of(angles.map(|angle| SchemePlace { angle: (angle >= 0.0).then_some(angle) }))
    }

    #[test]
    fn the_trades_schemes() {
        assert_eq!(scheme([350.0, 0.0, 5.0]), Scheme::Monochromatic);
        assert_eq!(scheme([340.0, 10.0, 40.0]), Scheme::Analogous);
        assert_eq!(scheme([10.0, 190.0, 200.0]), Scheme::Complementary);
        assert_eq!(scheme([10.0, 190.0, -1.0]), Scheme::Complementary);
        assert_eq!(scheme([10.0, 160.0, 220.0]), Scheme::SplitComplementary);
        assert_eq!(scheme([10.0, 130.0, 250.0]), Scheme::Triad);
        assert_eq!(scheme([-1.0, -1.0, 250.0]), Scheme::NeutralAccent);
        assert_eq!(scheme([-1.0, 240.0, 250.0]), Scheme::NeutralAccent);
        assert_eq!(scheme([-1.0, -1.0, -1.0]), Scheme::Monochromatic);
        assert_eq!(scheme([0.0, 90.0, 130.0]), Scheme::Contrast);
        assert_eq!(scheme([0.0, 90.0, -1.0]), Scheme::Analogous, "neighbors with a neutral");
        assert_eq!(scheme([0.0, 120.0, -1.0]), Scheme::Contrast);
    }

    #[test]
    fn neither_order_nor_a_turn_of_the_wheel_changes_the_scheme() {
        for a in (0..360).step_by(30) {
            for b in (0..360).step_by(10) {
                let [x, y, z] = [5.0, f64::from(a), f64::from(b)];
                let want = scheme([x, y, z]);
                assert_eq!(want, scheme([z, x, y]));
                assert_eq!(want, scheme([y, x, z]));
                let turned = [x, y, z].map(|v| (v + 77.0_f64).rem_euclid(360.0));
                assert_eq!(want, scheme(turned), "{x} {y} {z}");
            }
        }
    }
}
