//! Where a hue lies on a colour wheel: the painter's (red, yellow, blue) or the one of equal-looking steps.
//!
//! The painter's wheel is the outer edge of the cube of pigments in N. Gossett and B. Chen, "Paint Inspired Color
//! Mixing and Compositing for Visualization", InfoVis 2004: red, orange, yellow, green, blue, purple sixty degrees
//! apart, straight lines between them in screen values. A swatch is laid on it by its OKLCH hue. Knows hues, not
//! schemes.

use super::space::{Linear, Oklch, Rgb8, decode, hue_turn};
use std::sync::LazyLock;

/// A way to lay hues on a circle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Wheel {
    /// Red opposite green, yellow opposite purple, blue opposite orange.
    #[default]
    Painters,
    /// OKLCH hue as it is.
    Oklch,
}

impl Wheel {
    /// Both, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::Painters, Self::Oklch];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Painters => "painter's wheel",
            Self::Oklch => "OKLCH wheel",
        }
    }

    /// Where a colour lies, in degrees 0..360. A grey lies anywhere; ask its chroma first.
    pub fn angle(self, colour: Oklch) -> f64 {
        match self {
            Self::Painters => painters_angle(colour.h),
            Self::Oklch => colour.h,
        }
    }
}

/// Corners of the painter's wheel in sRGB 0..1, from red at 0 by 60 degrees (Gossett and Chen 2004, table of the
/// pigment cube).
const CORNERS: [[f64; 3]; 6] = [
    [1.0, 0.0, 0.0],
    [1.0, 0.5, 0.0],
    [1.0, 1.0, 0.0],
    [0.0, 0.66, 0.2],
    [0.163, 0.373, 0.6],
    [0.5, 0.0, 0.5],
];

/// The full colour at an angle of the painter's wheel, sRGB 0..1.
fn painters_srgb(angle: f64) -> [f64; 3] {
    let place = angle.rem_euclid(360.0) / 60.0;
    let from = (place.floor() as usize).min(5);
    let share = place - from as f64;
    let (one, two) = (CORNERS[from], CORNERS[(from + 1) % 6]);
    [0, 1, 2].map(|i| one[i] + (two[i] - one[i]) * share)
}

/// The full colour at an angle of the painter's wheel.
pub fn painters_colour(angle: f64) -> Rgb8 {
    let [r, g, b] = painters_srgb(angle).map(|v| (v * 255.0).round() as u8);
    Rgb8::new(r, g, b)
}

/// OKLCH hue at every degree of the painter's wheel, from 0 to 360, growing without a jump.
static HUES: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let mut hues: Vec<f64> = Vec::with_capacity(361);
    for degree in 0..=360_u16 {
        let light = Linear::from_array(painters_srgb(f64::from(degree)).map(decode));
        let hue = light.oklab().oklch().h;
        let grown = hues.last().map_or(hue, |last| last + hue_turn(*last, hue));
        hues.push(grown);
    }
    hues
});

/// OKLCH hue of an angle of the painter's wheel, degrees 0..360.
pub fn painters_hue(angle: f64) -> f64 {
    let angle = angle.rem_euclid(360.0);
    let from = (angle.floor() as usize).min(359);
    let (one, two) = (HUES[from], HUES[from + 1]);
    (one + (two - one) * (angle - from as f64)).rem_euclid(360.0)
}

/// Angle of the painter's wheel for an OKLCH hue, degrees 0..360.
pub fn painters_angle(hue: f64) -> f64 {
    let first = HUES[0];
    let wanted = first + (hue - first).rem_euclid(360.0);
    let above = HUES.partition_point(|h| *h <= wanted).clamp(1, 360);
    let (one, two) = (HUES[above - 1], HUES[above]);
    (above as f64 - 1.0 + (wanted - one) / (two - one)).rem_euclid(360.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hues_only_grow_round_the_wheel() {
        assert_eq!(HUES.len(), 361);
        assert!(HUES.windows(2).all(|pair| pair[1] > pair[0]));
        assert!((HUES[360] - HUES[0] - 360.0).abs() < 1e-9);
    }

    #[test]
    fn there_and_back_on_the_wheel() {
        for degree in 0..720 {
            let angle = f64::from(degree) / 2.0;
            let back = painters_angle(painters_hue(angle));
            assert!(hue_turn(angle, back).abs() < 1e-9, "{angle} {back}");
        }
    }

    #[test]
    fn painters_opposites() {
        let angle = |r, g, b| Wheel::Painters.angle(Rgb8::new(r, g, b).oklch());
        assert!(hue_turn(angle(255, 0, 0), 0.0).abs() < 1e-6);
        assert!(hue_turn(angle(255, 255, 0), 120.0).abs() < 1e-6);
        assert!(hue_turn(angle(128, 0, 128) - 180.0, angle(255, 255, 0)).abs() < 0.5);
    }
}
