//! The colours of the areas freed from blur: every pixel is taken as a mixture of the areas around it, and the
//! colours are what explains all pixels best. Knows pixels and areas, not swatches.

use super::picture::{Picture, blurred, quantile, quick_lab};
use crate::domain::colour::space::{Lab, Linear};

/// One area of one colour.
#[derive(Clone, Debug, PartialEq)]
pub struct ColourArea {
    /// Its light.
    pub light: [f64; 3],
    /// The share of the paper it covers.
    pub share: f64,
    /// How pure its purest pixels are, 0..1.
    pub purity: f64,
}

/// Widths of blur that are tried, pixels.
const BLURS: [f64; 7] = [0.6, 0.9, 1.3, 1.8, 2.4, 3.1, 4.0];
/// An area whose purest pixels are less than this is a seam between others, not a colour.
const PURE: f64 = 0.4;
/// An area is needed where doing without it costs its pixels this share of its distance to the next colour (squared).
const NEEDED: f64 = 0.015;
/// The same for a colour that lies between two others.
const SEAM_NEEDED: f64 = 0.08;
/// A colour this near a mixture of two others lies between them, units of Lab.
const SEAM_REACH: f64 = 7.0;
/// ... and this many times the mean square that the fit leaves unexplained on them anyway.
const ABOVE_NOISE: f64 = 2.0;

/// What the unmixing works on.
pub struct Scene<'a> {
    /// The evened, softened picture.
    pub picture: &'a Picture,
    /// Its pixels in Lab.
    pub labs: &'a [Lab],
    /// Which pixels are paper; the rest is the frame.
    pub paper: &'a [bool],
}

/// The areas of the given colours, largest first; seams and specks of noise are dropped.
pub fn areas(scene: &Scene<'_>, peaks: &[Lab]) -> Vec<ColourArea> {
    if peaks.is_empty() {
        return Vec::new();
    }
    let mut peaks = peaks.to_vec();
    let mut fit = Fit::best(scene, &labels(scene, &peaks), peaks.len(), &BLURS);
    // The weakest is asked first: what is dropped may free the next one.
    let mut settled = 0;
    while settled < peaks.len() && peaks.len() > 1 {
        let areas = fit.areas(scene);
        let mut order: Vec<usize> = (0..peaks.len()).collect();
        order.sort_by(|i, j| areas[*i].purity.total_cmp(&areas[*j].purity));
        let asked = order[settled];
        let mut fewer = peaks.clone();
        fewer.remove(asked);
        // A seam taken for a colour makes the blur look smaller than it is.
        let wider: Vec<f64> = BLURS.into_iter().filter(|sigma| *sigma >= fit.sigma).take(2).collect();
        let without = Fit::best(scene, &labels(scene, &fewer), fewer.len(), &wider);
        if areas[asked].purity < PURE || !needed(&fit, &without, asked) {
            (peaks, fit, settled) = (fewer, without, 0);
        } else {
            settled += 1;
        }
    }
    let mut areas = fit.areas(scene);
    for (area, share) in areas.iter_mut().zip(fit.shares(scene)) {
        area.share = share;
    }
    areas.sort_by(|x, y| y.share.total_cmp(&x.share));
    areas
}

/// True where the paper is explained much worse without an area, for the number of its pixels.
fn needed(with: &Fit, without: &Fit, area: usize) -> bool {
    let mut own: Vec<f64> = with
        .labels
        .iter()
        .zip(&with.misses)
        .filter(|(l, _)| **l == area + 1)
        .map(|(_, miss)| *miss)
        .collect();
    if own.is_empty() {
        return false;
    }
    let lost = without.cost - with.cost;
    let gain = lost / own.len() as f64;
    let noise = quantile(&mut own, 0.3);
    let colour = lab_of(with.colours[area + 1]);
    let next = (1..with.colours.len())
        .filter(|other| *other != area + 1)
        .map(|other| far(colour, lab_of(with.colours[other])))
        .fold(f64::INFINITY, f64::min);
    let needed = if seam(with, area) { SEAM_NEEDED } else { NEEDED };
    gain > (needed * next).max(ABOVE_NOISE * noise)
}

/// True where an area's colour lies between those of two others, the frame being one: it may be their seam.
fn seam(fit: &Fit, area: usize) -> bool {
    let own = lab_of(fit.colours[area + 1]);
    let others: Vec<[f64; 3]> =
        fit.colours.iter().enumerate().filter(|(i, _)| *i != area + 1).map(|(_, colour)| *colour).collect();
    others.iter().enumerate().any(|(i, one)| {
        others.iter().skip(i + 1).any(|two| {
            (1..16).any(|step| {
                let share = f64::from(step) / 16.0;
                let mixed = [0, 1, 2].map(|c| one[c] + (two[c] - one[c]) * share);
                far(own, lab_of(mixed)) < SEAM_REACH * SEAM_REACH
            })
        })
    })
}

/// The square of the plain distance in Lab.
fn far(one: Lab, two: Lab) -> f64 {
    (one.l - two.l).powi(2) + (one.a - two.a).powi(2) + (one.b - two.b).powi(2)
}

fn lab_of(light: [f64; 3]) -> Lab {
    Linear::from_array(light.map(|v| v.max(0.0))).lab()
}

/// 0 for the frame, else one more than the place of the nearest peak.
fn labels(scene: &Scene<'_>, peaks: &[Lab]) -> Vec<usize> {
    let nearest = |lab: &Lab| {
        (0..peaks.len())
            .min_by(|i, j| far(*lab, peaks[*i]).total_cmp(&far(*lab, peaks[*j])))
            .map_or(0, |i| i + 1)
    };
    scene.labs.iter().zip(scene.paper).map(|(lab, paper)| if *paper { nearest(lab) } else { 0 }).collect()
}

/// Colours of frame and areas that explain the picture best at one blur.
struct Fit {
    /// Width of the blur in pixels.
    sigma: f64,
    labels: Vec<usize>,
    /// How much of each area each pixel holds; the frame is the first.
    parts: Vec<Vec<f64>>,
    colours: Vec<[f64; 3]>,
    /// How far each paper pixel is from what the fit says it should be, squared, in Lab; 0 on the frame.
    misses: Vec<f64>,
    /// Their sum.
    cost: f64,
}

impl Fit {
    /// The best of several blurs.
    fn best(scene: &Scene<'_>, labels: &[usize], n: usize, blurs: &[f64]) -> Self {
        let mut best: Option<Self> = None;
        for sigma in blurs {
            let fit = Self::new(scene, labels.to_vec(), n, *sigma);
            if best.as_ref().is_none_or(|best| fit.cost < best.cost) {
                best = Some(fit);
            }
        }
        best.unwrap_or_else(|| Self::new(scene, labels.to_vec(), n, 1.0))
    }

    fn new(scene: &Scene<'_>, labels: Vec<usize>, n: usize, sigma: f64) -> Self {
        let parts: Vec<Vec<f64>> = (0..=n)
            .map(|area| {
                let mask: Vec<f64> = labels.iter().map(|l| f64::from(u8::from(*l == area))).collect();
                blurred(&mask, scene.picture.width, scene.picture.height, sigma)
            })
            .collect();
        let colours = solve(scene, &parts);
        let misses: Vec<f64> =
            (0..labels.len())
                .map(|i| {
                    if scene.paper[i] {
                        far(scene.labs[i], quick_lab(mixed(&parts, &colours, i)))
                    } else {
                        0.0
                    }
                })
                .collect();
        let cost = misses.iter().sum();
        Self { sigma, labels, parts, colours, misses, cost }
    }

    fn areas(&self, scene: &Scene<'_>) -> Vec<ColourArea> {
        let total = scene.paper.iter().filter(|paper| **paper).count().max(1) as f64;
        (1..self.parts.len())
            .map(|area| {
                let own = self.labels.iter().zip(&self.parts[area]).filter(|(l, _)| **l == area);
                let mut part: Vec<f64> = own.map(|(_, p)| *p).collect();
                let share = part.len() as f64 / total;
                let purity = quantile(&mut part, 0.95);
                ColourArea { light: self.colours[area], share, purity }
            })
            .collect()
    }
}

impl Fit {
    /// The share of the paper of each area. Along seams a pixel goes to the side that makes up more than half of its
    /// light; by look alone the lighter side would always get it.
    fn shares(&self, scene: &Scene<'_>) -> Vec<f64> {
        let mut counts = vec![0_usize; self.colours.len()];
        for i in (0..self.labels.len()).filter(|i| scene.paper[*i]) {
            counts[self.side(scene, i)] += 1;
        }
        let total = counts.iter().skip(1).sum::<usize>().max(1) as f64;
        counts.iter().skip(1).map(|count| *count as f64 / total).collect()
    }

    /// Of the areas met within two pixels, the one nearest in light.
    fn side(&self, scene: &Scene<'_>, i: usize) -> usize {
        let picture = scene.picture;
        let (x, y) = (i % picture.width, i / picture.width);
        let light = picture.light[i];
        let off = |label: usize| -> f64 {
            light.iter().zip(self.colours[label]).map(|(a, b)| (a - b).powi(2)).sum()
        };
        let mut best = (off(self.labels[i]), self.labels[i]);
        for y in y.saturating_sub(2)..=(y + 2).min(picture.height - 1) {
            for x in x.saturating_sub(2)..=(x + 2).min(picture.width - 1) {
                let label = self.labels[picture.at(x, y)];
                if label != best.1 && off(label) < best.0 {
                    best = (off(label), label);
                }
            }
        }
        best.1
    }
}

/// What a pixel should be by the shares of the areas it holds.
fn mixed(parts: &[Vec<f64>], colours: &[[f64; 3]], i: usize) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for (part, colour) in parts.iter().zip(colours) {
        for (sum, value) in sum.iter_mut().zip(colour) {
            *sum += part[i] * value;
        }
    }
    sum
}

/// Weighted least squares for the colours; pure pixels count most.
fn solve(scene: &Scene<'_>, parts: &[Vec<f64>]) -> Vec<[f64; 3]> {
    let n = parts.len();
    let mut normal = vec![vec![0.0; n + 3]; n];
    let mut here = vec![0.0; n];
    for (i, light) in scene.picture.light.iter().enumerate() {
        for (value, part) in here.iter_mut().zip(parts) {
            *value = part[i];
        }
        let purest = here.iter().copied().fold(0.0, f64::max);
        let weight = purest.powi(30);
        for r in (0..n).filter(|r| here[*r] > 1e-4) {
            for c in (0..n).filter(|c| here[*c] > 1e-4) {
                normal[r][c] += weight * here[r] * here[c];
            }
            for (channel, value) in light.iter().enumerate() {
                normal[r][n + channel] += weight * here[r] * value;
            }
        }
    }
    for (r, row) in normal.iter_mut().enumerate() {
        row[r] += 1e-6;
    }
    eliminate(normal)
}

/// Solves for three right-hand sides at once; the matrix is symmetric and positive, so no pivot is sought.
fn eliminate(mut rows: Vec<Vec<f64>>) -> Vec<[f64; 3]> {
    let n = rows.len();
    for step in 0..n {
        let (done, rest) = rows.split_at_mut(step + 1);
        let lead = &done[step];
        for row in rest {
            let factor = row[step] / lead[step];
            for (value, from) in row.iter_mut().zip(lead).skip(step) {
                *value -= factor * from;
            }
        }
    }
    let mut answer = vec![[0.0; 3]; n];
    for step in (0..n).rev() {
        for channel in 0..3 {
            let known: f64 = (step + 1..n).map(|c| rows[step][c] * answer[c][channel]).sum();
            answer[step][channel] = (rows[step][n + channel] - known) / rows[step][step];
        }
    }
    answer
}

/// The Lab of an area's light.
pub fn lab(area: &ColourArea) -> Lab {
    Linear::from_array(area.light.map(|v| v.max(0.0))).lab()
}
