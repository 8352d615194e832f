//! ICC profiles of pictures: which light a channel value stands for. Knows bytes of profiles, not of pictures.
//!
//! Read are RGB profiles of the matrix and curve kind and grey ones (ICC.1:2022, 8.3 and 8.4; `curv` 10.6, `para`
//! 10.18, `XYZ` 10.31), which is what cameras, phones and scanners put in. Anything else gives nothing, and the
//! picture is then read as sRGB. The bytes are taken apart by a crate that the readers of pictures bring along.

use crate::domain::colour::adapt::adaptation;
use crate::domain::colour::matrix::Matrix3;
use crate::domain::colour::space::{D65, XYZ_TO_LINEAR, Xyz, decode};
use moxcms::{ColorProfile, DataColorSpace, ToneReprCurve};

/// White of the space profiles are written in (ICC.1:2022, 7.2.16).
const PROFILE_WHITE: Xyz = Xyz { x: 0.9642, y: 1.0, z: 0.8249 };
/// Steps a curve is laid out in; 16-bit values are read between them.
const STEPS: usize = 1024;

/// From channel values to linear light of the sRGB primaries.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Light for channel values 0..=1 in [`STEPS`] steps, one curve a channel.
    curves: [Vec<f64>; 3],
    matrix: Matrix3,
}

impl Default for Profile {
    fn default() -> Self {
        Self::srgb()
    }
}

impl Profile {
    /// Plain sRGB.
    pub fn srgb() -> Self {
        let curve = layout(decode);
        Self { curves: [curve.clone(), curve.clone(), curve], matrix: Matrix3::IDENTITY }
    }

    /// From the bytes of a profile; None where it is broken or of another kind.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let of = ColorProfile::new_from_slice(bytes).ok()?;
        match (of.pcs, of.color_space) {
            (DataColorSpace::Xyz, DataColorSpace::Rgb) => Self::rgb(&of),
            (DataColorSpace::Xyz, DataColorSpace::Gray) => {
                let curve = curve(of.gray_trc.as_ref())?;
                Some(Self { curves: [curve.clone(), curve.clone(), curve], matrix: Matrix3::IDENTITY })
            }
            _ => None,
        }
    }

    fn rgb(of: &ColorProfile) -> Option<Self> {
        let (r, g, b) = (of.red_colorant, of.green_colorant, of.blue_colorant);
        let columns = Matrix3([[r.x, g.x, b.x], [r.y, g.y, b.y], [r.z, g.z, b.z]]);
        if columns.determinant().abs() < 1e-6 {
            return None;
        }
        let curves =
            [curve(of.red_trc.as_ref())?, curve(of.green_trc.as_ref())?, curve(of.blue_trc.as_ref())?];
        let matrix = XYZ_TO_LINEAR.times(&adaptation(PROFILE_WHITE, D65)).times(&columns);
        Some(Self { curves, matrix })
    }

    /// The light of three channel values 0..=1.
    pub fn light(&self, channels: [f64; 3]) -> [f64; 3] {
        let mut light = [0.0; 3];
        for ((light, value), curve) in light.iter_mut().zip(channels).zip(&self.curves) {
            *light = between(curve, value);
        }
        self.matrix.apply(light)
    }
}

fn layout(curve: impl Fn(f64) -> f64) -> Vec<f64> {
    (0..=STEPS).map(|i| curve(i as f64 / STEPS as f64)).collect()
}

/// Reads a list of evenly spaced values at 0..=1, going straight from one to the next.
fn between(values: &[f64], at: f64) -> f64 {
    let last = values.len().saturating_sub(1);
    let place = at.clamp(0.0, 1.0) * last as f64;
    let low = (place.floor() as usize).min(last.saturating_sub(1));
    let (Some(one), Some(two)) = (values.get(low), values.get((low + 1).min(last))) else { return 0.0 };
    one + (two - one) * (place - low as f64)
}

/// A curve of the standard, laid out; `None` where it leads nowhere.
fn curve(of: Option<&ToneReprCurve>) -> Option<Vec<f64>> {
    let power = of?.make_linear_evaluator().ok()?;
    let curve = layout(|v| f64::from(power.evaluate_value(v as f32)));
    curve.iter().all(|v| v.is_finite()).then_some(curve)
}

#[cfg(test)]
mod tests;
