//! What the camera did to contrast, saturation and middle tones, judged by the library itself.
//!
//! Cameras make pictures a little harder and more colourful than the paper, and phones brighten the middle tones. How
//! much is not known, but one setting holds for the whole picture. So the dials are turned back until the colours,
//! together, come closest to swatches of the library; a colour that is in no library pulls no further than the cut. The
//! less a setting is likely, the more it must explain. Knows light and swatches, not pixels.

use super::{Weighing, to_card};
use crate::domain::colour::difference::ciede2000_weighing;
use crate::domain::colour::legibility::luminance;
use crate::domain::colour::nearest::nearest_weighing;
use crate::domain::colour::space::{Lab, Linear, decode, encode};
use crate::domain::colour::swatch::Swatch;

/// How the camera's dials stood: all 0 for a faithful picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dials {
    /// Hardness of the tone curve.
    pub contrast: f64,
    /// Gain of chroma over 1.
    pub saturation: f64,
    /// How far the middle tones were brightened: the power of the curve over 1.
    pub lift: f64,
}

/// A colour as photographed, in the middle of the picture, and how much it counts.
#[derive(Clone, Copy, Debug)]
pub struct SeenColour {
    /// Its light.
    pub light: [f64; 3],
    /// Weight, 0..1.
    pub weight: f64,
}

/// What errors remain after the dials are right (CIEDE2000, our own estimate).
const REST: f64 = 1.2;
/// Usual spread of the contrast dial.
const CONTRAST: f64 = 0.09;
/// Usual spread of the saturation dial.
const SATURATION: f64 = 0.08;
/// Usual spread of the brightening.
const LIFT: f64 = 0.10;
/// Step of both dials.
const STEP: f64 = 0.02;
/// How many swatches a colour may be drawn to.
const IN_QUESTION: usize = 24;
/// A colour pulls no harder than at this distance.
const PULL: f64 = 5.0;

impl Dials {
    /// A faithful picture.
    pub const FAITHFUL: Self = Self { contrast: 0.0, saturation: 0.0, lift: 0.0 };

    /// The colour as it would be with the dials turned back, white being white card.
    pub fn undo(self, light: [f64; 3], white: [f64; 3]) -> Lab {
        let power = 1.0 + self.lift;
        let plain =
            |light: [f64; 3]| light.map(|v| decode(self.soften(encode(v.clamp(0.0, 1.0)).powf(power))));
        let [r, g, b] = to_card(plain(white)).apply(plain(light));
        let grey = luminance(Linear { r, g, b });
        let gain = 1.0 + self.saturation;
        Linear::from_array([r, g, b].map(|v| (grey + (v - grey) / gain).max(0.0))).lab()
    }

    /// Undoes an S-shaped tone curve, v^g / (v^g + (1 - v)^g): black, middle and white stay where they are.
    fn soften(self, curved: f64) -> f64 {
        let back = 1.0 / (1.0 + self.contrast);
        let (light, dark) = (curved.powf(back), (1.0 - curved).powf(back));
        light / (light + dark)
    }

    fn unlikely(self) -> f64 {
        (self.contrast / CONTRAST).powi(2)
            + (self.saturation / SATURATION).powi(2)
            + (self.lift / LIFT).powi(2)
    }
}

/// The dials that bring the colours closest to the library.
pub fn dials(seen: &[SeenColour], white: [f64; 3], library: &[Swatch], by: Weighing) -> Dials {
    // Turning the dials moves a colour a little, so only swatches near the faithful value can come into question.
    let near: Vec<Vec<Lab>> = seen
        .iter()
        .map(|seen| {
            let found =
                nearest_weighing(Dials::FAITHFUL.undo(seen.light, white), library, IN_QUESTION, by.light);
            found.iter().map(|hit| library[hit.index].lab).collect()
        })
        .collect();
    let steps = if by.lift { -6..=12 } else { -2..=12 };
    let lifts: &[f64] = if by.lift { &[-0.1, 0.0, 0.1, 0.2, 0.3] } else { &[0.0] };
    let pairs =
        steps.clone().flat_map(|contrast| steps.clone().map(move |saturation| (contrast, saturation)));
    let all = pairs.flat_map(|(c, s)| lifts.iter().map(move |lift| (c, s, *lift)));
    let dials = all.map(|(contrast, saturation, lift)| Dials {
        contrast: f64::from(contrast) * STEP,
        saturation: f64::from(saturation) * STEP,
        lift,
    });
    let priced = dials.map(|dials| (cost(dials, seen, white, &near, by), dials));
    priced.min_by(|x, y| x.0.total_cmp(&y.0)).map_or(Dials::FAITHFUL, |(_, dials)| dials)
}

fn cost(dials: Dials, seen: &[SeenColour], white: [f64; 3], near: &[Vec<Lab>], by: Weighing) -> f64 {
    let miss = |(seen, near): (&SeenColour, &Vec<Lab>)| {
        let lab = dials.undo(seen.light, white);
        let least = near.iter().map(|swatch| ciede2000_weighing(lab, *swatch, by.light)).fold(PULL, f64::min);
        seen.weight * (least / REST).powi(2)
    };
    seen.iter().zip(near).map(miss).sum::<f64>() + dials.unlikely()
}
