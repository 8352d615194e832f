//! The outline of the paper on its card. Knows places only.

use super::picture::Picture;
use super::white::flood;

/// A part of the picture smaller than this share is a speck.
const SPECK: f64 = 0.002;

/// Pixels that hold and hang together in parts larger than specks.
pub fn large_parts(picture: &Picture, holds: impl Fn(usize) -> bool) -> Vec<usize> {
    let least = (picture.light.len() as f64 * SPECK).ceil() as usize;
    let mut met = vec![false; picture.light.len()];
    let mut parts = Vec::new();
    for i in 0..picture.light.len() {
        if met[i] || !holds(i) {
            continue;
        }
        let part = flood(picture, &[i], &holds);
        for j in &part {
            met[*j] = true;
        }
        if part.len() >= least {
            parts.extend(part);
        }
    }
    parts.sort_unstable();
    parts
}

/// All pixels inside the smallest outward-bent outline round the given ones (sorted). Without any, all pixels.
pub fn fill(picture: &Picture, pixels: &[usize]) -> Vec<bool> {
    let width = picture.width;
    let points: Vec<(f64, f64)> = pixels.iter().map(|i| ((i % width) as f64, (i / width) as f64)).collect();
    if points.is_empty() {
        return vec![true; picture.light.len()];
    }
    // Pixels come row by row: one chain bends to the left, the other to the right.
    let left = chain(&points, 1.0);
    let right = chain(&points, -1.0);
    (0..picture.light.len())
        .map(|i| {
            let (x, y) = ((i % width) as f64, (i / width) as f64);
            match (along(&left, y), along(&right, y)) {
                (Some(a), Some(b)) => a.min(b) <= x && x <= a.max(b),
                _ => false,
            }
        })
        .collect()
}

/// One side of the outline, from the first row to the last.
fn chain(points: &[(f64, f64)], side: f64) -> Vec<(f64, f64)> {
    let mut chain: Vec<(f64, f64)> = Vec::new();
    for point in points {
        while let [.., before, last] = chain[..] {
            let bend =
                (last.0 - before.0) * (point.1 - before.1) - (last.1 - before.1) * (point.0 - before.0);
            if bend * side < 0.0 {
                break;
            }
            chain.pop();
        }
        chain.push(*point);
    }
    chain
}

/// Where a chain crosses a row.
fn along(chain: &[(f64, f64)], y: f64) -> Option<f64> {
    let (first, last) = (chain.first()?, chain.last()?);
    if y < first.1 || y > last.1 {
        return None;
    }
    let next = chain.iter().position(|point| point.1 >= y)?;
    let (two, one) = (chain[next], chain[next.saturating_sub(1)]);
    if two.1 <= one.1 {
        return Some(two.0);
    }
    Some(one.0 + (two.0 - one.0) * (y - one.1) / (two.1 - one.1))
}
