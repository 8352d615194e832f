//! How often a list of trios holds people's own choices, beside chance.
//!
//! A library is fifty colours from ten palettes that people rated highest. Each colour in turn is the base; a trio of the
//! list counts where all three of its colours come from one palette. By chance 6 of the 1,176 trios of a base do. Palettes:
//! `../shared/reference/colour/palettes_liked.csv` (npm package nice-color-palettes 4.0.0), which never enters the project.
//! Each fifth of the palettes (row number modulo 5) is judged by a model fitted to the other four (`folds.ron`).

use std::path::Path;
use trimside::domain::colour::liking::{Fitted, Liking};
use trimside::domain::colour::parse;
use trimside::domain::colour::space::Oklch;
use trimside::domain::colour::swatch::Swatch;
use trimside::domain::colour::trio_words::sector;
use trimside::domain::colour::trios::{TrioQuestion, trios};

/// Parts that the palettes are judged in.
pub const PARTS: usize = 5;
/// Trios of a list that are looked at.
pub const FIRST: usize = 9;
const CHANCE: f64 = 6.0 / 1176.0;

/// Five colours that a person put together.
pub type Palette = [Swatch; 5];

/// What came of one base.
pub struct Seen {
    pub base: Oklch,
    pub shown: usize,
    pub hits: usize,
    /// Hue families over the whole list.
    pub families: usize,
}

/// The palettes of the file, or none where it is not beside the checkout.
pub fn palettes(root: &Path) -> Option<Vec<Palette>> {
    let text = std::fs::read_to_string(root.join("../shared/reference/colour/palettes_liked.csv")).ok()?;
    let colour = |hex: &str| Swatch::from_screen(hex, "", parse::colour(hex).unwrap().hex);
    let rows = text.lines().filter(|l| l.starts_with('#') && l.matches(',').count() == 4);
    let rows = rows.map(|l| l.split(',').map(|hex| hex.trim().to_owned()).collect::<Vec<_>>());
    let whole = rows.filter(|row| row.iter().all(|hex| hex.len() == 7));
    Some(whole.map(|row| std::array::from_fn(|n| colour(&row[n]))).collect())
}

/// The models that have not seen the palettes of one part.
pub fn folds() -> Vec<Liking> {
    let fitted: Vec<Fitted> = ron::from_str(include_str!("folds.ron")).unwrap();
    fitted.iter().map(|f| Liking::new(f).unwrap()).collect()
}

/// Libraries of ten palettes of a part, the same on every run.
fn libraries(palettes: &[Palette], part: usize, count: usize) -> Vec<Vec<Swatch>> {
    let own: Vec<&Palette> = palettes.iter().skip(part).step_by(PARTS).collect();
    let mut state = 0x5851_f42d_u64 + part as u64;
    let mut below = |n: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % n
    };
    let mut library = || {
        let mut left = own.clone();
        (0..10).flat_map(|_| left.swap_remove(below(left.len())).clone()).collect()
    };
    (0..count).map(|_| library()).collect()
}

/// Judges lists that `list` makes for a library and a base.
pub fn judge(
    palettes: &[Palette],
    count: usize,
    list: impl Fn(usize, &[Swatch], usize) -> Vec<[usize; 3]>,
) -> Vec<Seen> {
    let mut all = Vec::new();
    for part in 0..PARTS {
        for library in libraries(palettes, part, count) {
            for base in 0..library.len() {
                let three = list(part, &library, base);
                let hits = three.iter().filter(|t| t.iter().all(|i| i / 5 == base / 5)).count();
                let colours = three.iter().flatten().map(|i| sector(library[*i].lab.oklch()));
                let mut families: Vec<u8> = colours.collect();
                families.sort_unstable();
                families.dedup();
                let base = library[base].lab.oklch();
                all.push(Seen { base, shown: three.len(), hits, families: families.len() });
            }
        }
    }
    all
}

/// The lists that people are shown, by models that have not seen the part.
pub fn shown(models: &[Liking], varied: bool) -> impl Fn(usize, &[Swatch], usize) -> Vec<[usize; 3]> {
    move |part, library, base| {
        let bases = [base];
        let ask = TrioQuestion {
            liking: &models[part],
            varied,
            most: FIRST,
            ..TrioQuestion::about(library, &bases)
        };
        trios(&ask).into_iter().map(|t| t.swatches).collect()
    }
}

/// How many times as often as chance.
pub fn ratio<'a>(seen: impl IntoIterator<Item = &'a Seen>) -> f64 {
    let (hits, shown) = seen.into_iter().fold((0, 0), |(h, s), x| (h + x.hits, s + x.shown));
    hits as f64 / (shown as f64).max(1.0) / CHANCE
}

/// Hue families that a list shows, on the average over bases.
pub fn families(seen: &[Seen]) -> f64 {
    seen.iter().map(|s| s.families as f64).sum::<f64>() / seen.len() as f64
}
