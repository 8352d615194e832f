//! Which swatches come closest to a colour. Knows Lab and swatches, not where either came from.

use super::difference::ciede2000_weighing;
use super::space::Lab;
use super::swatch::Swatch;

/// One swatch at its distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Match {
    /// Place in the list that was searched.
    pub index: usize,
    /// CIEDE2000 to the query.
    pub delta_e: f64,
}

/// The `n` nearest swatches, closest first; equal distances keep the order of the list.
pub fn nearest(query: Lab, swatches: &[Swatch], n: usize) -> Vec<Match> {
    nearest_weighing(query, swatches, n, 1.0)
}

/// The same with the difference's factor kL for lightness.
pub fn nearest_weighing(query: Lab, swatches: &[Swatch], n: usize, k_l: f64) -> Vec<Match> {
    let mut all: Vec<Match> = swatches
        .iter()
        .enumerate()
        .map(|(index, swatch)| Match { index, delta_e: ciede2000_weighing(query, swatch.lab, k_l) })
        .collect();
    let closer = |x: &Match, y: &Match| x.delta_e.total_cmp(&y.delta_e).then(x.index.cmp(&y.index));
    if n > 0 && n < all.len() {
        all.select_nth_unstable_by(n - 1, closer);
    }
    all.truncate(n);
    all.sort_unstable_by(closer);
    all
}

#[cfg(test)]
mod tests {
    use super::super::space::Rgb8;
    use super::*;

    #[test]
    fn closest_first_and_never_more_than_there_are() {
        let swatches: Vec<Swatch> =
            [200_u8, 120, 40].iter().map(|v| Swatch::from_screen("", "", Rgb8::new(*v, *v, *v))).collect();
        let found = nearest(Rgb8::new(110, 110, 110).lab(), &swatches, 9);
        let order: Vec<usize> = found.iter().map(|m| m.index).collect();
        assert_eq!(order, [1, 2, 0]);
        assert_eq!(nearest(Rgb8::new(0, 0, 0).lab(), &swatches, 1)[0].index, 2);
        assert!(nearest(Rgb8::new(0, 0, 0).lab(), &swatches, 0).is_empty());
        assert!(nearest(Rgb8::new(0, 0, 0).lab(), &[], 3).is_empty());
    }
}
