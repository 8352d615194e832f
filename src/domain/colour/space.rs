//! Colour spaces and the ways between them: screen values, light, XYZ, Lab, OKLab.
//!
//! White is D65 wherever nothing else is said; [`adapt`](super::adapt) changes it. The matrices are computed from
//! the chromaticities of the standard, not copied at four decimals, so grey is exactly grey. Knows nothing of
//! swatches, names or screens.
//!
//! Sources: IEC 61966-2-1:1999 and ITU-R BT.709 (sRGB curve and primaries), CIE 15 (Lab), B. Ottosson, "A
//! perceptual color space for image processing", 2020 (OKLab).

use super::matrix::Matrix3;
use std::fmt;

/// A screen colour, three bytes of sRGB.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Rgb8 {
    /// Red.
    pub r: u8,
    /// Green.
    pub g: u8,
    /// Blue.
    pub b: u8,
}

/// Amounts of light in the sRGB primaries, 0..1 inside the screen's range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linear {
    /// Red light.
    pub r: f64,
    /// Green light.
    pub g: f64,
    /// Blue light.
    pub b: f64,
}

/// CIE 1931 tristimulus values; white has Y = 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Xyz {
    /// X.
    pub x: f64,
    /// Y, the relative luminance.
    pub y: f64,
    /// Z.
    pub z: f64,
}

/// CIELAB: L 0..100, a and b roughly -130..130. Under D65 unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// Lightness.
    pub l: f64,
    /// Green to red.
    pub a: f64,
    /// Blue to yellow.
    pub b: f64,
}

/// OKLab: L 0..1, a and b roughly -0.4..0.4.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oklab {
    /// Lightness.
    pub l: f64,
    /// Green to red.
    pub a: f64,
    /// Blue to yellow.
    pub b: f64,
}

/// OKLab by lightness, chroma and hue in degrees 0..360.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oklch {
    /// Lightness 0..1.
    pub l: f64,
    /// Chroma, 0 for grey.
    pub c: f64,
    /// Hue in degrees.
    pub h: f64,
}

/// White of sRGB and of every Lab here: D65 by its four-decimal chromaticity (0.3127, 0.3290), Y = 1.
pub const D65: Xyz = Xyz::from_xy(0.3127, 0.3290);
/// White of most measuring instruments for paper: CIE D50, 2 degree observer (CIE 15, table of illuminants).
pub const D50: Xyz = Xyz::from_xy(0.345_67, 0.358_50);

/// Light in the sRGB primaries to XYZ.
pub const LINEAR_TO_XYZ: Matrix3 = primaries_to_xyz([(0.64, 0.33), (0.30, 0.60), (0.15, 0.06)], D65);
/// XYZ to light in the sRGB primaries.
pub const XYZ_TO_LINEAR: Matrix3 = LINEAR_TO_XYZ.inverse();

/// Light to cone-like responses (Ottosson 2020, form for linear sRGB).
const OK_CONES: Matrix3 = Matrix3([
    [0.412_221_470_8, 0.536_332_536_3, 0.051_445_992_9],
    [0.211_903_498_2, 0.680_699_545_1, 0.107_396_956_6],
    [0.088_302_461_9, 0.281_718_837_6, 0.629_978_700_5],
]);
/// Cube roots of the responses to L, a, b (Ottosson 2020).
const OK_AXES: Matrix3 = Matrix3([
    [0.210_454_255_3, 0.793_617_785_0, -0.004_072_046_8],
    [1.977_998_495_1, -2.428_592_205_0, 0.450_593_709_9],
    [0.025_904_037_1, 0.782_771_766_2, -0.808_675_766_0],
]);
const OK_CONES_BACK: Matrix3 = OK_CONES.inverse();
const OK_AXES_BACK: Matrix3 = OK_AXES.inverse();

/// Lab's straight part ends here (CIE 15, in exact fractions).
const EPSILON: f64 = 216.0 / 24_389.0;
const KAPPA: f64 = 24_389.0 / 27.0;

/// The matrix from amounts of three primaries (given by chromaticity) to XYZ, so that equal amounts give `white`.
pub const fn primaries_to_xyz(xy: [(f64, f64); 3], white: Xyz) -> Matrix3 {
    let [r, g, b] =
        [Xyz::from_xy(xy[0].0, xy[0].1), Xyz::from_xy(xy[1].0, xy[1].1), Xyz::from_xy(xy[2].0, xy[2].1)];
    let columns = Matrix3([[r.x, g.x, b.x], [r.y, g.y, b.y], [r.z, g.z, b.z]]);
    let amounts = columns.inverse().apply(white.array());
    columns.times(&Matrix3::diagonal(amounts))
}

impl Rgb8 {
    /// From three bytes.
    pub const fn new(r: u8, g: u8, b: u8) -> Self {
        Self { r, g, b }
    }

    /// What several become to the eye that cannot tell them apart: the mean of their light; black where there are none.
    pub fn mean(all: &[Self]) -> Self {
        let count = all.len().max(1) as f64;
        let sum = all.iter().map(|one| one.linear().array()).fold([0.0; 3], |sum, one| {
            let [r, g, b] = sum;
            [r + one[0], g + one[1], b + one[2]]
        });
        Linear::from_array(sum.map(|light| light / count)).rgb8()
    }

    /// The amounts of light.
    pub fn linear(self) -> Linear {
        let light = |v: u8| decode(f64::from(v) / 255.0);
        Linear { r: light(self.r), g: light(self.g), b: light(self.b) }
    }

    /// In Lab (D65).
    pub fn lab(self) -> Lab {
        self.linear().xyz().lab()
    }

    /// In OKLCH.
    pub fn oklch(self) -> Oklch {
        self.linear().oklab().oklch()
    }
}

impl fmt::Display for Rgb8 {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }
}

/// One channel of sRGB, 0..1, to light (IEC 61966-2-1).
pub fn decode(v: f64) -> f64 {
    if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

/// Light to one channel of sRGB (IEC 61966-2-1).
pub fn encode(light: f64) -> f64 {
    if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 }
}

impl Linear {
    /// From an array of red, green, blue.
    pub const fn from_array(v: [f64; 3]) -> Self {
        Self { r: v[0], g: v[1], b: v[2] }
    }

    /// As an array of red, green, blue.
    pub const fn array(self) -> [f64; 3] {
        [self.r, self.g, self.b]
    }

    /// In XYZ (D65).
    pub fn xyz(self) -> Xyz {
        Xyz::from_array(LINEAR_TO_XYZ.apply(self.array()))
    }

    /// In OKLab.
    pub fn oklab(self) -> Oklab {
        let [l, a, b] = OK_AXES.apply(OK_CONES.apply(self.array()).map(f64::cbrt));
        Oklab { l, a, b }
    }

    /// In Lab (D65).
    pub fn lab(self) -> Lab {
        self.xyz().lab()
    }

    /// True where a screen can show it, within half a step of a byte.
    pub fn on_screen(self) -> bool {
        self.array().iter().all(|v| (-0.000_15..=1.004).contains(v))
    }

    /// The nearest screen value channel by channel; what lies outside is cut off.
    pub fn rgb8(self) -> Rgb8 {
        let [r, g, b] = self.array().map(|v| (encode(v.clamp(0.0, 1.0)) * 255.0).round() as u8);
        Rgb8 { r, g, b }
    }
}

impl Xyz {
    /// From an array.
    pub const fn from_array(v: [f64; 3]) -> Self {
        Self { x: v[0], y: v[1], z: v[2] }
    }

    /// A light of luminance 1 by its chromaticity.
    pub const fn from_xy(x: f64, y: f64) -> Self {
        Self { x: x / y, y: 1.0, z: (1.0 - x - y) / y }
    }

    /// As an array.
    pub const fn array(self) -> [f64; 3] {
        [self.x, self.y, self.z]
    }

    /// In light of the sRGB primaries; may lie outside 0..1.
    pub fn linear(self) -> Linear {
        Linear::from_array(XYZ_TO_LINEAR.apply(self.array()))
    }

    /// In Lab under D65.
    pub fn lab(self) -> Lab {
        self.lab_under(D65)
    }

    /// In Lab under the given white (CIE 15).
    pub fn lab_under(self, white: Self) -> Lab {
        let [x, y, z] = [self.x / white.x, self.y / white.y, self.z / white.z].map(lab_root);
        Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
    }
}

fn lab_root(t: f64) -> f64 {
    if t > EPSILON { t.cbrt() } else { (KAPPA * t + 16.0) / 116.0 }
}

fn lab_unroot(f: f64) -> f64 {
    let cube = f * f * f;
    if cube > EPSILON { cube } else { (116.0 * f - 16.0) / KAPPA }
}

impl Lab {
    /// From lightness and the two axes.
    pub const fn new(l: f64, a: f64, b: f64) -> Self {
        Self { l, a, b }
    }

    /// Chroma, the distance from grey.
    pub fn chroma(self) -> f64 {
        self.a.hypot(self.b)
    }

    /// Hue in degrees 0..360; 0 for grey.
    pub fn hue(self) -> f64 {
        degrees(self.a, self.b)
    }

    /// In XYZ under D65.
    pub fn xyz(self) -> Xyz {
        self.xyz_under(D65)
    }

    /// In XYZ, this Lab being under the given white.
    pub fn xyz_under(self, white: Xyz) -> Xyz {
        let y = (self.l + 16.0) / 116.0;
        let x = y + self.a / 500.0;
        let z = y - self.b / 200.0;
        Xyz { x: lab_unroot(x) * white.x, y: lab_unroot(y) * white.y, z: lab_unroot(z) * white.z }
    }

    /// In light of the sRGB primaries; may lie outside 0..1.
    pub fn linear(self) -> Linear {
        self.xyz().linear()
    }

    /// The nearest screen value, cut off where the screen ends.
    pub fn rgb8(self) -> Rgb8 {
        self.linear().rgb8()
    }

    /// In OKLCH.
    pub fn oklch(self) -> Oklch {
        self.linear().oklab().oklch()
    }
}

impl Oklab {
    /// By lightness, chroma and hue.
    pub fn oklch(self) -> Oklch {
        Oklch { l: self.l, c: self.a.hypot(self.b), h: degrees(self.a, self.b) }
    }

    /// In light of the sRGB primaries; may lie outside 0..1.
    pub fn linear(self) -> Linear {
        let roots = OK_AXES_BACK.apply([self.l, self.a, self.b]);
        Linear::from_array(OK_CONES_BACK.apply(roots.map(|v| v * v * v)))
    }
}

impl Oklch {
    /// By the two axes.
    pub fn oklab(self) -> Oklab {
        let (sin, cos) = self.h.to_radians().sin_cos();
        Oklab { l: self.l, a: self.c * cos, b: self.c * sin }
    }
}

/// The angle of a point in degrees 0..360.
pub fn degrees(x: f64, y: f64) -> f64 {
    let angle = y.atan2(x).to_degrees();
    if angle < 0.0 { angle + 360.0 } else { angle }
}

/// The shorter way from one hue to another, in degrees -180..180.
pub fn hue_turn(from: f64, to: f64) -> f64 {
    (to - from + 180.0).rem_euclid(360.0) - 180.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_grey_and_black_have_no_chroma() {
        for v in [0, 1, 17, 128, 254, 255] {
            let lab = Rgb8::new(v, v, v).lab();
            assert!(lab.chroma() < 1e-11, "{v}: {lab:?}");
            // The published nine decimals of the OKLab rows leave a few parts in 10^8.
            assert!(Rgb8::new(v, v, v).oklch().c < 1e-7);
        }
        assert!((Rgb8::new(255, 255, 255).lab().l - 100.0).abs() < 1e-12);
    }

    #[test]
    fn every_channel_value_survives_the_way_there_and_back() {
        for v in 0..=255 {
            let rgb = Rgb8::new(v, 255 - v, v / 2);
            assert_eq!(rgb.lab().rgb8(), rgb);
            assert_eq!(rgb.linear().oklab().linear().rgb8(), rgb);
            assert_eq!(rgb.oklch().oklab().linear().rgb8(), rgb);
        }
    }

    #[test]
    fn the_shorter_way_round_the_hues() {
        assert_eq!(hue_turn(350.0, 10.0), 20.0);
        assert_eq!(hue_turn(10.0, 350.0), -20.0);
        assert_eq!(hue_turn(90.0, 90.0), 0.0);
    }

    #[test]
    fn a_strong_lab_green_lies_outside_the_screen() {
        assert!(!Lab::new(60.0, -90.0, 40.0).linear().on_screen());
        assert!(Rgb8::new(255, 0, 255).linear().on_screen());
    }
}
