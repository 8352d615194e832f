//! In which order swatches lie on the table. Knows their colours and names, not what is on hand.
//!
//! The default order is a plain sort by a key of each swatch alone, so that adding one never moves the others
//! against each other: neutrals first, then the hue families of [`Family`], lightness going up in one family and
//! down in the next, so that neighbours across a family border are alike in lightness.

use super::difference::ciede2000;
use super::space::Oklch;
use super::swatch::Swatch;
use std::cmp::Ordering;

/// Below this OKLCH chroma a colour is laid with the neutrals (our own choice: by eye, greys and creams).
pub const NEUTRAL_CHROMA: f64 = 0.025;

/// A stretch of the hue circle with a plain name (our own borders, on OKLCH hue).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Family {
    /// White, grey, black and what is close to them.
    Neutral,
    /// Hue 355 to 15.
    Pink,
    /// Hue 15 to 40.
    Red,
    /// Hue 40 to 68.
    Orange,
    /// Hue 68 to 112.
    Yellow,
    /// Hue 112 to 135.
    YellowGreen,
    /// Hue 135 to 165.
    Green,
    /// Hue 165 to 210.
    Teal,
    /// Hue 210 to 250.
    Sky,
    /// Hue 250 to 280.
    Blue,
    /// Hue 280 to 320.
    Violet,
    /// Hue 320 to 355.
    Magenta,
}

impl Family {
    /// Every family in table order.
    pub const ALL: [Self; 12] = [
        Self::Neutral,
        Self::Pink,
        Self::Red,
        Self::Orange,
        Self::Yellow,
        Self::YellowGreen,
        Self::Green,
        Self::Teal,
        Self::Sky,
        Self::Blue,
        Self::Violet,
        Self::Magenta,
    ];

    /// Where a hue of the list ends; pink is what is left, around 0.
    const ENDS: [(f64, Self); 11] = [
        (15.0, Self::Pink),
        (40.0, Self::Red),
        (68.0, Self::Orange),
        (112.0, Self::Yellow),
        (135.0, Self::YellowGreen),
        (165.0, Self::Green),
        (210.0, Self::Teal),
        (250.0, Self::Sky),
        (280.0, Self::Blue),
        (320.0, Self::Violet),
        (355.0, Self::Magenta),
    ];

    /// The family of a colour.
    pub fn of(colour: Oklch) -> Self {
        if colour.c < NEUTRAL_CHROMA {
            return Self::Neutral;
        }
        Self::ENDS.iter().find(|(end, _)| colour.h < *end).map_or(Self::Pink, |(_, family)| *family)
    }

    /// Its plain name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Neutral => "neutral",
            Self::Pink => "pink",
            Self::Red => "red",
            Self::Orange => "orange",
            Self::Yellow => "yellow",
            Self::YellowGreen => "yellow green",
            Self::Green => "green",
            Self::Teal => "teal",
            Self::Sky => "sky blue",
            Self::Blue => "blue",
            Self::Violet => "violet",
            Self::Magenta => "magenta",
        }
    }

    /// Every second family runs from dark to light.
    const fn upward(self) -> bool {
        self as usize % 2 == 1
    }
}

/// A way to lay swatches out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum SwatchOrder {
    /// Neutrals, then hue families with lightness going up and down in turn.
    #[default]
    Families,
    /// Each next to the one most like it.
    Smooth,
    /// By name.
    Name,
    /// By the maker's or the person's own grouping, then by name.
    Group,
}

impl SwatchOrder {
    /// Places in the list, in this order.
    pub fn arrange(self, swatches: &[Swatch]) -> Vec<usize> {
        match self {
            Self::Families => perceptual(swatches),
            Self::Smooth => smooth(swatches),
            Self::Name => sorted(swatches, by_name),
            Self::Group => sorted(swatches, |x, y| {
                x.family.to_lowercase().cmp(&y.family.to_lowercase()).then_with(|| by_name(x, y))
            }),
        }
    }
}

fn sorted(swatches: &[Swatch], compare: impl Fn(&Swatch, &Swatch) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..swatches.len()).collect();
    places.sort_by(|i, j| compare(&swatches[*i], &swatches[*j]));
    places
}

fn by_name(x: &Swatch, y: &Swatch) -> Ordering {
    x.name.to_lowercase().cmp(&y.name.to_lowercase()).then_with(|| x.id.cmp(&y.id))
}

/// Neutrals first, light to dark, then the hue families with a lightness snake. Stable on insert.
pub fn perceptual(swatches: &[Swatch]) -> Vec<usize> {
    let keys: Vec<(Family, Oklch)> = swatches
        .iter()
        .map(|swatch| {
            let colour = swatch.lab.oklch();
            (Family::of(colour), colour)
        })
        .collect();
    let mut places: Vec<usize> = (0..swatches.len()).collect();
    places.sort_by(|i, j| {
        let ((family, x), (other, y)) = (keys[*i], keys[*j]);
        let lightness = if family.upward() { x.l.total_cmp(&y.l) } else { y.l.total_cmp(&x.l) };
        family
            .cmp(&other)
            .then(lightness)
            .then(x.c.total_cmp(&y.c))
            .then(x.h.total_cmp(&y.h))
            .then_with(|| by_name(&swatches[*i], &swatches[*j]))
    });
    places
}

/// Each swatch beside the one most like it: nearest neighbour from the first of [`perceptual`], then 2-opt until no
/// reversal of a stretch shortens the sum of CIEDE2000 steps. Good, not proved shortest.
pub fn smooth(swatches: &[Swatch]) -> Vec<usize> {
    let n = swatches.len();
    let distance = |i: usize, j: usize| ciede2000(swatches[i].lab, swatches[j].lab);
    let table: Vec<Vec<f64>> = (0..n).map(|i| (0..n).map(|j| distance(i, j)).collect()).collect();
    let Some(first) = perceptual(swatches).first().copied() else {
        return Vec::new();
    };
    let mut path = greedy_path(&table, first);
    while improve(&table, &mut path) {}
    path
}

/// The sum of steps along an arrangement, in CIEDE2000.
pub fn path_length(swatches: &[Swatch], path: &[usize]) -> f64 {
    path.windows(2).map(|w| ciede2000(swatches[w[0]].lab, swatches[w[1]].lab)).sum()
}

fn greedy_path(table: &[Vec<f64>], first: usize) -> Vec<usize> {
    let mut left: Vec<usize> = (0..table.len()).filter(|i| *i != first).collect();
    let mut path = vec![first];
    let mut here = first;
    while let Some((at, _)) =
        left.iter().enumerate().min_by(|(_, x), (_, y)| table[here][**x].total_cmp(&table[here][**y]))
    {
        here = left.remove(at);
        path.push(here);
    }
    path
}

/// One sweep of 2-opt on an open path whose first place stays; true where something got shorter.
fn improve(table: &[Vec<f64>], path: &mut [usize]) -> bool {
    let n = path.len();
    let mut better = false;
    for i in 1..n {
        for j in i + 1..n {
            let before =
                table[path[i - 1]][path[i]] + if j + 1 < n { table[path[j]][path[j + 1]] } else { 0.0 };
            let after =
                table[path[i - 1]][path[j]] + if j + 1 < n { table[path[i]][path[j + 1]] } else { 0.0 };
            // The margin keeps rounding from turning two equal paths into each other for ever.
            if after < before - 1e-9 {
                path[i..=j].reverse();
                better = true;
            }
        }
    }
    better
}

#[cfg(test)]
mod tests {
    use super::super::space::Rgb8;
    use super::*;

    fn swatch(r: u8, g: u8, b: u8) -> Swatch {
        Swatch::from_screen(format!("{r}-{g}-{b}"), "", Rgb8::new(r, g, b))
    }

    #[test]
    fn neutrals_lead_from_white_to_black() {
        let list = [swatch(200, 30, 30), swatch(20, 20, 20), swatch(250, 250, 248), swatch(128, 128, 128)];
        assert_eq!(perceptual(&list), [2, 3, 1, 0]);
    }

    #[test]
    fn screen_primaries_fall_into_their_families() {
        let family = |r, g, b| Family::of(Rgb8::new(r, g, b).oklch());
        assert_eq!(family(255, 0, 0), Family::Red);
        assert_eq!(family(255, 140, 0), Family::Orange);
        assert_eq!(family(255, 255, 0), Family::Yellow);
        assert_eq!(family(0, 255, 0), Family::Green);
        assert_eq!(family(0, 128, 128), Family::Teal);
        assert_eq!(family(0, 0, 255), Family::Blue);
        assert_eq!(family(255, 0, 255), Family::Magenta);
        assert_eq!(family(255, 192, 203), Family::Pink);
        assert_eq!(family(119, 119, 119), Family::Neutral);
    }

    #[test]
    fn every_family_is_in_table_order() {
        for pair in Family::ALL.windows(2) {
            assert!(pair[0] < pair[1]);
        }
    }

    #[test]
    fn smooth_keeps_every_swatch_and_is_no_longer_than_the_greedy_path() {
        let list: Vec<Swatch> = (0..40_u8)
            .map(|i| swatch(i.wrapping_mul(53), i.wrapping_mul(101), i.wrapping_mul(197)))
            .collect();
        let path = smooth(&list);
        let mut seen = path.clone();
        seen.sort_unstable();
        assert_eq!(seen, (0..40).collect::<Vec<_>>());
        let table: Vec<Vec<f64>> =
            list.iter().map(|x| list.iter().map(|y| ciede2000(x.lab, y.lab)).collect()).collect();
        assert!(path_length(&list, &path) <= path_length(&list, &greedy_path(&table, path[0])));
        assert!(smooth(&[]).is_empty());
        assert_eq!(smooth(&list[..1]), [0]);
    }

    #[test]
    fn by_name_ignores_capitals_and_by_group_sorts_groups_first() {
        let mut list = vec![swatch(1, 2, 3), swatch(4, 5, 6), swatch(7, 8, 9)];
        for (swatch, (name, family)) in list.iter_mut().zip([("moss", "b"), ("Apple", "b"), ("zinc", "a")]) {
            (swatch.name, swatch.family) = (name.into(), family.into());
        }
        assert_eq!(SwatchOrder::Name.arrange(&list), [1, 0, 2]);
        assert_eq!(SwatchOrder::Group.arrange(&list), [2, 1, 0]);
    }
}
