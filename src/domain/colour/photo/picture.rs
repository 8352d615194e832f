//! A picture in linear light, and the few things done to all of its pixels.

use crate::domain::colour::space::{D65, LINEAR_TO_XYZ, Lab};

/// The longest side a picture is worked on with; larger ones are made smaller first, which also quietens them.
pub const LONGEST: usize = 640;

/// Pixels in linear light of the sRGB primaries, row by row from the top left.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Red, green, blue of each pixel, 0..1.
    pub light: Vec<[f64; 3]>,
}

impl Picture {
    /// A picture of `width * height` pixels; None where the count does not fit or is nought.
    pub fn new(width: usize, height: usize, light: Vec<[f64; 3]>) -> Option<Self> {
        (width > 0 && height > 0 && width.checked_mul(height) == Some(light.len())).then_some(Self {
            width,
            height,
            light,
        })
    }

    /// The place of a pixel.
    pub fn at(&self, x: usize, y: usize) -> usize {
        y * self.width + x
    }

    /// Where a pixel lies, -0.5..0.5 each way, the middle of the picture being 0.
    pub fn place(&self, index: usize) -> (f64, f64) {
        let (x, y) = (index % self.width, index / self.width);
        ((x as f64 + 0.5) / self.width as f64 - 0.5, (y as f64 + 0.5) / self.height as f64 - 0.5)
    }

    /// The mean over each pixel and its neighbours within `reach`.
    #[must_use]
    pub fn softened(&self, reach: usize) -> Self {
        let rows = box_pass(&self.light, self.width, self.height, reach, false);
        let light = box_pass(&rows, self.width, self.height, reach, true);
        Self { width: self.width, height: self.height, light }
    }
}

/// A running mean along rows, or along columns.
fn box_pass(light: &[[f64; 3]], width: usize, height: usize, reach: usize, down: bool) -> Vec<[f64; 3]> {
    let (lines, length, line_step, step) =
        if down { (width, height, 1, width) } else { (height, width, width, 1) };
    let mut out = vec![[0.0; 3]; light.len()];
    for line in 0..lines {
        let start = line * line_step;
        for i in 0..length {
            let (from, to) = (i.saturating_sub(reach), (i + reach).min(length - 1));
            let mut sum = [0.0; 3];
            for j in from..=to {
                let pixel = light[start + j * step];
                sum = [sum[0] + pixel[0], sum[1] + pixel[1], sum[2] + pixel[2]];
            }
            let n = (to - from + 1) as f64;
            out[start + i * step] = sum.map(|v| v / n);
        }
    }
    out
}

/// Lab (D65) of a light, three times as fast as the exact way and as good as equal (2e-8).
pub fn quick_lab(light: [f64; 3]) -> Lab {
    let xyz = LINEAR_TO_XYZ.apply(light.map(|v| v.max(0.0)));
    let [x, y, z] = [xyz[0] / D65.x, xyz[1] / D65.y, xyz[2] / D65.z]
        .map(|t| if t > 216.0 / 24_389.0 { cube_root(t) } else { (24_389.0 / 27.0 * t + 16.0) / 116.0 });
    Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
}

/// Cube root of a positive number: a first guess from the exponent, then two of Halley's steps.
fn cube_root(x: f64) -> f64 {
    let mut y = f64::from_bits(x.to_bits() / 3 + 0x2A9F_7893_0000_0000);
    for _ in 0..2 {
        let cube = y * y * y;
        y *= (cube + 2.0 * x) / (2.0 * cube + x);
    }
    y
}

/// A plane of numbers blurred by a bell of the given width in pixels; edges repeat.
pub fn blurred(plane: &[f64], width: usize, height: usize, sigma: f64) -> Vec<f64> {
    if sigma <= 0.0 {
        return plane.to_vec();
    }
    let reach = (3.0 * sigma).ceil() as usize;
    let bell: Vec<f64> = (0..=reach).map(|i| (-(i as f64).powi(2) / (2.0 * sigma * sigma)).exp()).collect();
    let total = bell[0] + 2.0 * bell.iter().skip(1).sum::<f64>();
    let bell: Vec<f64> = bell.iter().map(|v| v / total).collect();
    down_rows(&along_rows(plane, width, &bell), width, height, &bell)
}

/// Blurs each row; the ends repeat. Whole rows are added at a time, which compilers turn into wide steps.
fn along_rows(plane: &[f64], width: usize, bell: &[f64]) -> Vec<f64> {
    let reach = bell.len() - 1;
    let mut out = Vec::with_capacity(plane.len());
    let mut padded = vec![0.0; width + 2 * reach];
    for row in plane.chunks_exact(width) {
        let (first, last) = (row[0], row[width - 1]);
        padded[..reach].fill(first);
        padded[reach..reach + width].copy_from_slice(row);
        padded[reach + width..].fill(last);
        let start = out.len();
        out.extend(row.iter().map(|v| v * bell[0]));
        for (j, weight) in bell.iter().enumerate().skip(1) {
            let (left, right) = (&padded[reach - j..], &padded[reach + j..]);
            for ((sum, a), b) in out[start..].iter_mut().zip(left).zip(right) {
                *sum += weight * (a + b);
            }
        }
    }
    out
}

/// Blurs each column, row by row.
fn down_rows(plane: &[f64], width: usize, height: usize, bell: &[f64]) -> Vec<f64> {
    let row = |y: usize| &plane[y * width..(y + 1) * width];
    let mut out: Vec<f64> = plane.iter().map(|v| v * bell[0]).collect();
    for (y, sums) in out.chunks_exact_mut(width).enumerate() {
        for (j, weight) in bell.iter().enumerate().skip(1) {
            let (above, below) = (row(y.saturating_sub(j)), row((y + j).min(height - 1)));
            for ((sum, a), b) in sums.iter_mut().zip(above).zip(below) {
                *sum += weight * (a + b);
            }
        }
    }
    out
}

/// The middle value of a list, which is put in order; 0 for an empty one.
pub fn median(values: &mut [f64]) -> f64 {
    quantile(values, 0.5)
}

/// The value below which the given share of a list lies; the list is put in part in order. 0 for an empty one.
pub fn quantile(values: &mut [f64], share: f64) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let at = ((values.len() - 1) as f64 * share).round() as usize;
    *values.select_nth_unstable_by(at, f64::total_cmp).1
}
