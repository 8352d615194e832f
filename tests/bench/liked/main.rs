//! How often trios hold people's own choices, by lightness and hue of the base, and what an answer costs.
//!
//! `cargo bench --bench liked [-- LIBRARIES]`; where the palettes are not beside the checkout, it says so and is done.
#![allow(missing_docs, clippy::unwrap_used)]

mod judge;

use judge::{Palette, Seen, families, folds, judge, palettes, ratio, shown};
use std::path::Path;
use trimside::domain::colour::harmony::HarmonyModel;
use trimside::domain::colour::order::Family;
use trimside::domain::colour::swatch::Swatch;
use trimside::domain::colour::trios::{TrioQuestion, trios};

/// Makes a list for a part, a library of it and a base.
type Lists<'a> = dyn Fn(usize, &[Swatch], usize) -> Vec<[usize; 3]> + 'a;

fn main() {
    let count = std::env::args().skip(1).find_map(|a| a.parse().ok()).unwrap_or(20);
    let Some(palettes) = palettes(Path::new(env!("CARGO_MANIFEST_DIR"))) else {
        println!("skipped: no ../shared/reference/colour beside the checkout");
        return;
    };
    let models = folds();
    println!(
        "{} palettes, {count} libraries for each of five parts, none seen by its model.\n",
        palettes.len()
    );
    println!("| list | times chance | no list at all | hue families a list |\n|---|---|---|---|");
    let of = |what: &str, list: &Lists<'_>| row(what, &palettes, count, list);
    of("by the published harmony model alone", &by_harmony);
    let plain = of("the model's order", &shown(&models, false));
    of("varied", &shown(&models, true));
    // What a gate by the second opinion would cost: its own border of uneasy pairs was -0.2.
    of("the model's order, without what the published model finds uneasy", &|part, library, base| {
        let bases = [base];
        let ask = TrioQuestion {
            liking: &models[part],
            most: library.len().pow(2),
            ..TrioQuestion::about(library, &bases)
        };
        let easy = trios(&ask).into_iter().filter(|trio| trio.weakest >= -0.2);
        easy.take(judge::FIRST).map(|trio| trio.swatches).collect()
    });
    println!("\n| base | bases | times chance |\n|---|---|---|");
    for (name, low, high) in
        [("dark", 0.0, 0.4), ("lower middle", 0.4, 0.6), ("upper middle", 0.6, 0.8), ("light", 0.8, 1.1)]
    {
        part(
            &format!("{name} (L {low} to {high:.1})"),
            plain.iter().filter(|s| (low..high).contains(&s.base.l)),
        );
    }
    for family in Family::ALL {
        part(family.name(), plain.iter().filter(|s| Family::of(s.base) == family));
    }
}

fn row(what: &str, palettes: &[Palette], count: usize, list: &Lists<'_>) -> Vec<Seen> {
    let seen = judge(palettes, count, list);
    let empty = seen.iter().filter(|s| s.shown == 0).count();
    println!("| {what} | {:.2} | {empty} of {} | {:.1} |", ratio(&seen), seen.len(), families(&seen));
    seen
}

fn part<'a>(what: &str, seen: impl Iterator<Item = &'a Seen>) {
    let seen: Vec<&Seen> = seen.collect();
    println!("| {what} | {} | {:.1} |", seen.len(), ratio(seen.iter().copied()));
}

/// The first nine by the weakest pair of the published model, without any gate.
fn by_harmony(_: usize, library: &[Swatch], base: usize) -> Vec<[usize; 3]> {
    let tones: Vec<_> = library.iter().map(|s| HarmonyModel::OU_LUO.tone(s.lab)).collect();
    let score = |i: usize, j: usize| HarmonyModel::OU_LUO.pair(&tones[i], &tones[j]).score;
    let mut all = Vec::new();
    for i in (0..library.len()).filter(|i| *i != base) {
        for j in (i + 1..library.len()).filter(|j| *j != base) {
            all.push((score(base, i).min(score(base, j)).min(score(i, j)), [base, i, j]));
        }
    }
    all.sort_by(|x, y| y.0.total_cmp(&x.0));
    all.into_iter().take(judge::FIRST).map(|(_, three)| three).collect()
}
