//! ICC profiles of pictures: which light a channel value stands for. Knows bytes of profiles, not of pictures.
//!
//! Read are RGB profiles of the matrix and curve kind and grey ones (ICC.1:2022, 8.3 and 8.4; `curv` 10.6, `para`
//! 10.18, `XYZ` 10.31), which is what cameras, phones and scanners put in. Anything else gives nothing, and the
//! picture is then read as sRGB.

use crate::domain::colour::adapt::adaptation;
use crate::domain::colour::matrix::Matrix3;
use crate::domain::colour::space::{D65, XYZ_TO_LINEAR, Xyz, decode};

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
        let space = bytes.get(16..20)?;
        if bytes.get(20..24)? != b"XYZ " {
            return None;
        }
        match space {
            b"RGB " => Self::rgb(bytes),
            b"GRAY" => {
                let curve = curve(tag(bytes, *b"kTRC")?)?;
                Some(Self { curves: [curve.clone(), curve.clone(), curve], matrix: Matrix3::IDENTITY })
            }
            _ => None,
        }
    }

    fn rgb(bytes: &[u8]) -> Option<Self> {
        let primary = |name| xyz(tag(bytes, name)?);
        let (r, g, b) = (primary(*b"rXYZ")?, primary(*b"gXYZ")?, primary(*b"bXYZ")?);
        let columns = Matrix3([[r[0], g[0], b[0]], [r[1], g[1], b[1]], [r[2], g[2], b[2]]]);
        if columns.determinant().abs() < 1e-6 {
            return None;
        }
        let curve = |name| curve(tag(bytes, name)?);
        let curves = [curve(*b"rTRC")?, curve(*b"gTRC")?, curve(*b"bTRC")?];
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

fn number(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    Some(u32::from_be_bytes(four.try_into().ok()?))
}

/// A number with sixteen bits behind the point.
fn fixed(bytes: &[u8], at: usize) -> Option<f64> {
    number(bytes, at).map(|bits| f64::from(bits.cast_signed()) / 65_536.0)
}

/// The bytes of a tag.
fn tag(bytes: &[u8], name: [u8; 4]) -> Option<&[u8]> {
    let count = number(bytes, 128)?.min(200) as usize;
    let row = (0..count).map(|i| 132 + 12 * i).find(|row| bytes.get(*row..row + 4) == Some(&name[..]))?;
    let (from, length) = (number(bytes, row + 4)? as usize, number(bytes, row + 8)? as usize);
    bytes.get(from..from.checked_add(length)?)
}

fn xyz(tag: &[u8]) -> Option<[f64; 3]> {
    (tag.get(..4)? == b"XYZ ").then_some(())?;
    Some([fixed(tag, 8)?, fixed(tag, 12)?, fixed(tag, 16)?])
}

fn curve(tag: &[u8]) -> Option<Vec<f64>> {
    match tag.get(..4)? {
        b"curv" => listed_curve(tag),
        b"para" => formula_curve(tag),
        _ => None,
    }
}

/// `curv`: none for a straight line, one for a power, more for a list.
fn listed_curve(tag: &[u8]) -> Option<Vec<f64>> {
    let count = number(tag, 8)? as usize;
    let entries = tag.get(12..12 + count.min(65_536).checked_mul(2)?)?;
    let entry = |pair: &[u8]| f64::from(u16::from_be_bytes([pair[0], pair[1]]));
    match count {
        0 => Some(layout(|v| v)),
        1 => {
            let power = entry(entries) / 256.0;
            Some(layout(|v| v.powf(power)))
        }
        _ => {
            let values: Vec<f64> = entries.chunks_exact(2).map(|pair| entry(pair) / 65_535.0).collect();
            Some(layout(|v| between(&values, v)))
        }
    }
}

/// `para`: the five formulas of the standard.
fn formula_curve(tag: &[u8]) -> Option<Vec<f64>> {
    let kind = u16::from_be_bytes(tag.get(8..10)?.try_into().ok()?);
    let count = [1, 3, 4, 5, 7].get(usize::from(kind)).copied()?;
    let p: Vec<f64> = (0..count).map(|i| fixed(tag, 12 + 4 * i)).collect::<Option<_>>()?;
    let at = |i: usize| p.get(i).copied().unwrap_or(0.0);
    let (g, a, b, c) = (at(0), at(1), at(2), at(3));
    let power = |v: f64| (a * v + b).max(0.0).powf(g);
    let curve = layout(|v| match kind {
        0 => v.powf(g),
        1 => {
            if a * v + b >= 0.0 {
                power(v)
            } else {
                0.0
            }
        }
        2 => {
            if a * v + b >= 0.0 {
                power(v) + c
            } else {
                c
            }
        }
        3 => {
            if v >= at(4) {
                power(v)
            } else {
                c * v
            }
        }
        _ => {
            if v >= at(4) {
                power(v) + at(5)
            } else {
                c * v + at(6)
            }
        }
    });
    curve.iter().all(|v| v.is_finite()).then_some(curve)
}

#[cfg(test)]
mod tests;
