//! The five colours that a picture of anything is made of: a garden, a fabric, a plate of fruit. The picture is taken as it
//! is: no white is looked for and no light is turned back, since it is the look that counts.
//!
//! Pixels are gathered in small cells of OKLab; cells are parted into groups around five middles (k-means, begun with the
//! fullest cell and then by distance, so that the same picture gives the same colours). Counts weigh by their square root:
//! a small flower counts beside a large lawn. Knows pixels, not swatches.

use super::photo::picture::Picture;
use super::space::{Lab, Linear, Oklab, Rgb8};
use std::collections::BTreeMap;

/// How many colours a picture is told in, at most.
pub const COLOURS: usize = 5;
/// Side of a cell in OKLab.
const CELL: f64 = 0.02;
/// Rounds of parting; far more than it takes.
const ROUNDS: usize = 40;
/// Colours nearer than this in OKLab are told as one.
const ONE: f64 = 0.045;

/// One of the colours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leading {
    /// Its value.
    pub lab: Lab,
    /// Its screen value.
    pub hex: Rgb8,
    /// The share of the picture that is nearest to it, 0..1.
    pub share: f64,
}

/// Pixels of about one colour.
#[derive(Clone, Copy)]
struct Cell {
    colour: [f64; 3],
    count: f64,
    weight: f64,
}

/// The colours of a picture, largest share first; fewer than five where it holds fewer.
pub fn leading(picture: &Picture) -> Vec<Leading> {
    let cells = cells(picture);
    let mut middles = begun(&cells);
    for _ in 0..ROUNDS {
        let moved = parted(&cells, &middles);
        if moved == middles {
            break;
        }
        middles = moved;
    }
    let all: f64 = cells.iter().map(|c| c.count).sum();
    let mut counts = vec![0.0; middles.len()];
    for cell in &cells {
        if let Some(count) = counts.get_mut(nearest(&middles, cell.colour)) {
            *count += cell.count;
        }
    }
    let told = |(middle, count): (&[f64; 3], f64)| {
        let [l, a, b] = *middle;
        let lab = Oklab { l, a, b }.linear().lab();
        Leading { lab, hex: lab.rgb8(), share: count / all }
    };
    let mut leading: Vec<Leading> = middles.iter().zip(counts).map(told).collect();
    leading.sort_by(|x, y| y.share.total_cmp(&x.share));
    leading
}

fn cells(picture: &Picture) -> Vec<Cell> {
    let mut sums: BTreeMap<[i32; 3], ([f64; 3], f64)> = BTreeMap::new();
    for light in &picture.light {
        let Oklab { l, a, b } = Linear::from_array(light.map(|v| v.clamp(0.0, 1.0))).oklab();
        let key = [l, a, b].map(|v| (v / CELL).round() as i32);
        let (sum, count) = sums.entry(key).or_insert(([0.0; 3], 0.0));
        *sum = [sum[0] + l, sum[1] + a, sum[2] + b];
        *count += 1.0;
    }
    let cell =
        |(sum, count): ([f64; 3], f64)| Cell { colour: sum.map(|v| v / count), count, weight: count.sqrt() };
    sums.into_values().map(cell).collect()
}

/// The fullest cell, then again and again the one with the most weight times square distance from those taken.
fn begun(cells: &[Cell]) -> Vec<[f64; 3]> {
    let mut middles: Vec<[f64; 3]> = Vec::new();
    while middles.len() < COLOURS {
        let gain = |cell: &&Cell| {
            let away = middles.iter().map(|m| square(*m, cell.colour)).fold(f64::INFINITY, f64::min);
            if away.is_finite() { cell.weight * away } else { cell.weight }
        };
        let far = |cell: &&Cell| middles.iter().all(|m| square(*m, cell.colour) >= ONE * ONE);
        match cells.iter().filter(far).max_by(|x, y| gain(x).total_cmp(&gain(y))) {
            Some(cell) => middles.push(cell.colour),
            None => break,
        }
    }
    middles
}

/// The weighted middle of each group.
fn parted(cells: &[Cell], middles: &[[f64; 3]]) -> Vec<[f64; 3]> {
    let mut sums = vec![([0.0; 3], 0.0); middles.len()];
    for cell in cells {
        if let Some((sum, weight)) = sums.get_mut(nearest(middles, cell.colour)) {
            for (s, v) in sum.iter_mut().zip(cell.colour) {
                *s += v * cell.weight;
            }
            *weight += cell.weight;
        }
    }
    let middle = |((sum, weight), was): (([f64; 3], f64), &[f64; 3])| {
        if weight > 0.0 { sum.map(|v| v / weight) } else { *was }
    };
    sums.into_iter().zip(middles).map(middle).collect()
}

fn nearest(middles: &[[f64; 3]], colour: [f64; 3]) -> usize {
    let away = |n: usize| middles.get(n).map_or(f64::INFINITY, |m| square(*m, colour));
    (0..middles.len()).min_by(|x, y| away(*x).total_cmp(&away(*y))).unwrap_or(0)
}

fn square(one: [f64; 3], two: [f64; 3]) -> f64 {
    one.iter().zip(two).map(|(x, y)| (x - y).powi(2)).sum()
}

#[cfg(test)]
mod tests {
    use super::super::difference::ciede2000;
    use super::*;

    fn patches(parts: &[(Rgb8, usize)]) -> Picture {
        let light: Vec<[f64; 3]> = parts.iter().flat_map(|(hex, n)| vec![hex.linear().array(); *n]).collect();
        Picture::new(light.len(), 1, light).unwrap()
    }

    #[test]
    fn five_plain_colours_come_back_with_their_shares_the_small_one_too() {
        let parts = [
            (Rgb8::new(60, 110, 50), 5200),
            (Rgb8::new(200, 220, 240), 2600),
            (Rgb8::new(120, 80, 50), 1400),
            (Rgb8::new(240, 225, 90), 600),
            (Rgb8::new(190, 30, 60), 200),
        ];
        let found = leading(&patches(&parts));
        assert_eq!(found.len(), 5);
        for (found, (hex, count)) in found.iter().zip(parts) {
            assert!(ciede2000(found.lab, hex.lab()) < 1.0, "{} for {hex}", found.hex);
            assert!((found.share - count as f64 / 10_000.0).abs() < 1e-9);
        }
    }

    #[test]
    fn shades_are_gathered_and_few_colours_stay_few() {
        let shades: Vec<(Rgb8, usize)> = (0..40_u8)
            .flat_map(|n| [(Rgb8::new(40 + n, 90 + n, 40), 10), (Rgb8::new(200, 60 + n / 4, 60), 10)])
            .collect();
        let found = leading(&patches(&shades));
        assert!(
            (2..=5).contains(&found.len()) && (found.iter().map(|c| c.share).sum::<f64>() - 1.0).abs() < 1e-9
        );
        assert_eq!(leading(&patches(&[(Rgb8::new(9, 9, 9), 30)])).len(), 1);
        assert_eq!(leading(&patches(&[(Rgb8::new(9, 9, 9), 3), (Rgb8::new(250, 250, 250), 1)])).len(), 2);
    }
}
