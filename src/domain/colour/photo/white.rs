//! Where a photo shows white, how that white came out, and how evenly it was lit.
//!
//! A patterned paper is best photographed on white card: the card's edge round the picture tells the colour of the
//! light and how it falls off. Knows light and places, not swatches.

use super::picture::{Picture, median, quantile};
use crate::domain::colour::legibility::luminance;
use crate::domain::colour::space::Linear;

/// Where the white was taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhiteSource {
    /// A white frame round the picture.
    Frame,
    /// A place the person pointed at.
    PointedAt,
    /// The lightest colourless area.
    BrightArea,
    /// None found; the picture is taken as it is.
    NotFound,
}

impl WhiteSource {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Frame => "white frame",
            Self::PointedAt => "pointed at",
            Self::BrightArea => "lightest area",
            Self::NotFound => "not found",
        }
    }
}

/// How light falls off over the picture: 1 in the middle, a smooth bowl or slope elsewhere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall([f64; 4]);

impl Fall {
    /// Evenly lit.
    pub const EVEN: Self = Self([0.0; 4]);

    /// Brightness at a place, against the middle.
    pub fn at(&self, (x, y): (f64, f64)) -> f64 {
        let [a, b, c, d] = self.0;
        (1.0 + a * x + b * y + c * x * x + d * y * y).max(0.1)
    }
}

/// The white of a photo.
#[derive(Clone, Debug, PartialEq)]
pub struct White {
    /// The light it sent to the camera, in the middle of the picture.
    pub light: [f64; 3],
    /// Where it was taken from.
    pub source: WhiteSource,
    /// How light falls off.
    pub fall: Fall,
}

/// Width of the edge that is looked at for a frame, as a share of the shorter side.
const EDGE: f64 = 0.04;
/// Light this strong may have been cut off by the camera.
const FULL: f64 = 0.97;

/// What a person says of the white.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum WhiteHint {
    /// Nothing: it is to be found.
    #[default]
    Find,
    /// White is at this place, in shares of width and height from the top left.
    At(f64, f64),
    /// The picture is true as it is.
    AsIs,
}

impl White {
    /// The white of a picture taken as it is.
    pub const AS_IS: Self = Self { light: [1.0; 3], source: WhiteSource::NotFound, fall: Fall::EVEN };
}

/// Finds the white of a photo, or reads it where the person says it is.
pub fn find(picture: &Picture, hint: WhiteHint) -> White {
    match hint {
        WhiteHint::At(x, y) => pointed_at(picture, (x, y)),
        WhiteHint::AsIs => White::AS_IS,
        WhiteHint::Find => {
            let soft = picture.softened(1);
            frame(&soft).or_else(|| bright_area(&soft)).unwrap_or(White::AS_IS)
        }
    }
}

/// True for the colours that lamps and daylight give to white: yellowish to bluish, not green, pink or red.
fn could_be_light(light: [f64; 3]) -> bool {
    let lab = Linear::from_array(light).lab();
    lab.chroma() <= 12.0 || (lab.chroma() <= 60.0 && lab.a.abs() <= 0.5 * lab.b.abs() + 8.0)
}

fn pointed_at(picture: &Picture, (x, y): (f64, f64)) -> White {
    let column = (x.clamp(0.0, 1.0) * (picture.width - 1) as f64).round() as usize;
    let row = (y.clamp(0.0, 1.0) * (picture.height - 1) as f64).round() as usize;
    let reach = (picture.width.min(picture.height) / 80).max(1);
    let mut channels: [Vec<f64>; 3] = Default::default();
    for y in row.saturating_sub(reach)..=(row + reach).min(picture.height - 1) {
        for x in column.saturating_sub(reach)..=(column + reach).min(picture.width - 1) {
            for (channel, value) in channels.iter_mut().zip(picture.light[picture.at(x, y)]) {
                channel.push(value);
            }
        }
    }
    White { light: channels.map(|mut c| median(&mut c)), source: WhiteSource::PointedAt, fall: Fall::EVEN }
}

fn bright(light: [f64; 3]) -> f64 {
    luminance(Linear::from_array(light))
}

/// A frame is there where the edge of the picture is one evenly lit colour and little inside is lighter.
fn frame(soft: &Picture) -> Option<White> {
    let edge = ((soft.width.min(soft.height) as f64 * EDGE).round() as usize).max(2);
    let inner_x = edge..soft.width.saturating_sub(edge);
    let inner_y = edge..soft.height.saturating_sub(edge);
    let on_edge = |i: &usize| !(inner_x.contains(&(i % soft.width)) && inner_y.contains(&(i / soft.width)));
    let ring: Vec<usize> = (0..soft.light.len()).filter(on_edge).collect();
    let channel = clearest(soft, &ring);
    let (even, kept) = fit(soft, channel, &ring)?;
    if kept.len() * 4 < ring.len() * 3 {
        return None;
    }
    let colour = tint(soft, &even, &kept);
    let region = flood(soft, &kept, |i| alike(soft, &even, &colour, i));
    let (even, kept) = fit(soft, channel, &region)?;
    let light = tint(soft, &even, &kept);
    let level = bright(light);
    let lighter = (0..soft.light.len())
        .filter(|i| bright(soft.light[*i]) > 1.15 * level * even.fall.at(soft.place(*i)))
        .count();
    if lighter * 50 > soft.light.len() || level < 0.08 || !could_be_light(light) {
        return None;
    }
    Some(White { light, source: WhiteSource::Frame, fall: even.fall })
}

/// The channel that tells best how light falls off: the strongest of those the camera did not cut off.
fn clearest(soft: &Picture, pixels: &[usize]) -> usize {
    let cut_off = |channel: usize| pixels.iter().filter(|i| soft.light[**i][channel] > FULL).count();
    let level = |channel: usize| {
        let mut values: Vec<f64> = pixels.iter().map(|i| soft.light[*i][channel]).collect();
        median(&mut values)
    };
    let clear: Vec<usize> = (0..3).filter(|c| cut_off(*c) * 50 < pixels.len()).collect();
    let best = clear.iter().copied().max_by(|x, y| level(*x).total_cmp(&level(*y)));
    best.or_else(|| (0..3).min_by_key(|c| cut_off(*c))).unwrap_or(1)
}

/// Strength of one channel over the picture: a level in the middle and how it falls off.
#[derive(Clone, Copy)]
struct Even {
    level: f64,
    fall: Fall,
}

/// Fits a channel over the given pixels, leaving out what does not follow; gives the pixels kept too.
fn fit(soft: &Picture, channel: usize, pixels: &[usize]) -> Option<(Even, Vec<usize>)> {
    let mut values: Vec<f64> = pixels.iter().map(|i| soft.light[*i][channel]).collect();
    let mut even = Even { level: median(&mut values).max(1e-4), fall: Fall::EVEN };
    let mut kept = pixels.to_vec();
    let mut tolerance = 0.30;
    for _ in 0..6 {
        let follows = |i: &&usize| {
            let expected = even.level * even.fall.at(soft.place(**i));
            (soft.light[**i][channel] / expected - 1.0).abs() < tolerance
        };
        kept = pixels.iter().filter(follows).copied().collect();
        even = solve(soft, channel, &kept)?;
        tolerance = (tolerance * 0.7_f64).max(0.06);
    }
    Some((even, kept))
}

/// Least squares of a channel on 1, x, y, x^2, y^2.
fn solve(soft: &Picture, channel: usize, pixels: &[usize]) -> Option<Even> {
    let mut normal = [[0.0; 6]; 5];
    for i in pixels {
        let (x, y) = soft.place(*i);
        let row = [1.0, x, y, x * x, y * y];
        let value = soft.light[*i][channel];
        for (r, line) in normal.iter_mut().enumerate() {
            for (c, cell) in line.iter_mut().take(5).enumerate() {
                *cell += row[r] * row[c];
            }
            line[5] += row[r] * value;
        }
    }
    // A touch of stiffness keeps the bowl flat where the pixels do not tell.
    let stiff = pixels.len() as f64 * 1e-5;
    for (r, line) in normal.iter_mut().enumerate().skip(3) {
        line[r] += stiff;
    }
    let [level, a, b, c, d] = eliminate(normal)?;
    (level > 0.0).then(|| Even { level, fall: Fall([a / level, b / level, c / level, d / level]) })
}

/// Solves five equations by elimination with the largest pivot; None where they do not determine an answer.
fn eliminate(mut rows: [[f64; 6]; 5]) -> Option<[f64; 5]> {
    for step in 0..5 {
        let pivot = (step..5).max_by(|i, j| rows[*i][step].abs().total_cmp(&rows[*j][step].abs()))?;
        rows.swap(step, pivot);
        if rows[step][step].abs() < 1e-12 {
            return None;
        }
        let lead = rows[step];
        for row in rows.iter_mut().skip(step + 1) {
            let factor = row[step] / lead[step];
            for (value, from) in row.iter_mut().zip(lead).skip(step) {
                *value -= factor * from;
            }
        }
    }
    let mut answer = [0.0; 5];
    for step in (0..5).rev() {
        let known: f64 = (step + 1..5).map(|c| rows[step][c] * answer[c]).sum();
        answer[step] = (rows[step][5] - known) / rows[step][step];
    }
    Some(answer)
}

/// True where a pixel has the frame's colour at the brightness that is to be expected there.
fn alike(soft: &Picture, even: &Even, tint: &[f64; 3], i: usize) -> bool {
    let fall = even.fall.at(soft.place(i));
    soft.light[i].iter().zip(tint).all(|(v, t)| (v / (t * fall).min(1.0) - 1.0).abs() < 0.12)
}

/// The frame's light in the middle of the picture. A channel that was cut off where the light is strong is read where
/// it is weak.
fn tint(soft: &Picture, even: &Even, pixels: &[usize]) -> [f64; 3] {
    let fall = |i: &usize| even.fall.at(soft.place(*i));
    let mut falls: Vec<f64> = pixels.iter().map(fall).collect();
    let weak = quantile(&mut falls, 0.1);
    [0, 1, 2].map(|channel| {
        let middle = |keep: &dyn Fn(f64) -> bool| {
            let kept = pixels.iter().filter(|i| keep(fall(i)));
            let mut values: Vec<f64> = kept.map(|i| soft.light[*i][channel] / fall(i)).collect();
            median(&mut values)
        };
        let first = middle(&|fall| fall <= weak);
        middle(&|fall| fall <= weak || first * fall < FULL - 0.03)
    })
}

/// All pixels reached from the seeds over pixels that are alike.
pub(super) fn flood(picture: &Picture, seeds: &[usize], alike: impl Fn(usize) -> bool) -> Vec<usize> {
    let (width, height) = (picture.width, picture.height);
    let mut seen = vec![false; picture.light.len()];
    let mut open: Vec<usize> = Vec::new();
    let mut region = Vec::new();
    for seed in seeds {
        if !seen[*seed] && alike(*seed) {
            seen[*seed] = true;
            open.push(*seed);
        }
    }
    while let Some(i) = open.pop() {
        region.push(i);
        let (x, y) = (i % width, i / width);
        let beside = [
            (x > 0).then(|| i - 1),
            (x + 1 < width).then(|| i + 1),
            (y > 0).then(|| i - width),
            (y + 1 < height).then(|| i + width),
        ];
        for next in beside.into_iter().flatten() {
            if !seen[next] && alike(next) {
                seen[next] = true;
                open.push(next);
            }
        }
    }
    region.sort_unstable();
    region
}

/// The lightest area, where it is large and close to colourless as photographed.
fn bright_area(soft: &Picture) -> Option<White> {
    let mut values: Vec<f64> = soft.light.iter().map(|light| bright(*light)).collect();
    let top = quantile(&mut values, 0.98);
    let pixels: Vec<usize> = (0..soft.light.len())
        .filter(|i| (0.85 * top..=1.1 * top).contains(&bright(soft.light[*i])))
        .filter(|i| {
            let lab = Linear::from_array(soft.light[*i]).lab();
            lab.l > 70.0 && lab.chroma() < 12.0
        })
        .collect();
    if pixels.len() * 50 < soft.light.len() {
        return None;
    }
    let light = [0, 1, 2].map(|channel| {
        let mut values: Vec<f64> = pixels.iter().map(|i| soft.light[*i][channel]).collect();
        median(&mut values)
    });
    Some(White { light, source: WhiteSource::BrightArea, fall: Fall::EVEN })
}
