//! Which colours a paper shows: the peaks of its pixels' colours. Knows an evened picture and which pixels are
//! paper; not white, not swatches.

use super::picture::{Picture, quick_lab};
use crate::domain::colour::difference::ciede2000;
use crate::domain::colour::space::Lab;
use std::collections::BTreeMap;

/// Side of a cell the colours are counted in, units of Lab.
const CELL: f64 = 2.0;
/// Width of the bell that looks for a peak, units of Lab.
const BELL: f64 = 3.0;
/// What lies this near a peak belongs to it, CIEDE2000.
const REACH: f64 = 6.0;
/// Peaks are looked for until they hold less than this share of the still pixels.
const LEAST: f64 = 0.004;
/// No more peaks than this are looked for.
const MOST: usize = 16;

struct Cell {
    weight: f64,
    sum: [f64; 3],
}

struct Point {
    weight: f64,
    lab: Lab,
}

/// Lab of every pixel of a softened picture.
pub fn labs(soft: &Picture) -> Vec<Lab> {
    soft.light.iter().map(|light| quick_lab(*light)).collect()
}

/// The peaks of the colours of the paper's pixels, strongest first. Pixels where colour changes fast count little,
/// so that the mixed colours along edges make no peaks.
pub fn peaks(soft: &Picture, labs: &[Lab], paper: &[bool]) -> Vec<Lab> {
    let mut points = points(soft, labs, paper);
    let total: f64 = points.iter().map(|point| point.weight).sum();
    let mut found = Vec::new();
    while found.len() < MOST {
        let Some(peak) = strongest(&points) else { break };
        let near = |point: &Point| ciede2000(point.lab, peak) < REACH;
        let weight: f64 = points.iter().filter(|point| near(point)).map(|point| point.weight).sum();
        if weight < LEAST * total || weight <= 0.0 {
            break;
        }
        found.push(peak);
        points.retain(|point| !near(point));
    }
    found
}

/// Pixels gathered into cells of colour.
fn points(soft: &Picture, labs: &[Lab], paper: &[bool]) -> Vec<Point> {
    let mut cells: BTreeMap<[i32; 3], Cell> = BTreeMap::new();
    for (i, lab) in labs.iter().enumerate().filter(|(i, _)| paper[*i]) {
        let change = change(soft, labs, i);
        let weight = 1.0 / (1.0 + (change / 3.0).powi(2));
        let key = [lab.l, lab.a, lab.b].map(|v| (v / CELL).round() as i32);
        let cell = cells.entry(key).or_insert(Cell { weight: 0.0, sum: [0.0; 3] });
        cell.weight += weight;
        for (sum, value) in cell.sum.iter_mut().zip([lab.l, lab.a, lab.b]) {
            *sum += weight * value;
        }
    }
    cells
        .into_values()
        .map(|cell| {
            let [l, a, b] = cell.sum.map(|v| v / cell.weight);
            Point { weight: cell.weight, lab: Lab { l, a, b } }
        })
        .collect()
}

/// How fast colour changes at a pixel: the larger of the differences across it.
fn change(soft: &Picture, labs: &[Lab], i: usize) -> f64 {
    let (x, y) = (i % soft.width, i / soft.width);
    let across = |from: usize, to: usize| apart(labs[from], labs[to]);
    let left_right = across(soft.at(x.saturating_sub(2), y), soft.at((x + 2).min(soft.width - 1), y));
    let up_down = across(soft.at(x, y.saturating_sub(2)), soft.at(x, (y + 2).min(soft.height - 1)));
    left_right.max(up_down)
}

fn apart(one: Lab, two: Lab) -> f64 {
    ((one.l - two.l).powi(2) + (one.a - two.a).powi(2) + (one.b - two.b).powi(2)).sqrt()
}

/// The peak above the densest cell, found by climbing.
fn strongest(points: &[Point]) -> Option<Lab> {
    let density =
        |lab: Lab| -> f64 { points.iter().map(|point| point.weight * bell(apart(point.lab, lab))).sum() };
    // Only the heavier cells can be the densest: a light one next to them is denser by its neighbour's weight.
    let heaviest = points.iter().map(|point| point.weight).fold(0.0, f64::max);
    let starts = points.iter().filter(|point| point.weight > 0.2 * heaviest);
    let mut peak = starts.map(|p| (density(p.lab), p.lab)).max_by(|x, y| x.0.total_cmp(&y.0))?.1;
    for _ in 0..12 {
        let mut sum = [0.0; 4];
        for point in points {
            let weight = point.weight * bell(apart(point.lab, peak));
            for (sum, value) in sum.iter_mut().zip([1.0, point.lab.l, point.lab.a, point.lab.b]) {
                *sum += weight * value;
            }
        }
        let [weight, l, a, b] = sum;
        peak = Lab { l: l / weight, a: a / weight, b: b / weight };
    }
    Some(peak)
}

fn bell(distance: f64) -> f64 {
    (-(distance / BELL).powi(2) / 2.0).exp()
}
