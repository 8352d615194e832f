//! What people put together. Source: `palettes_liked.csv`, palettes of a public sharing site that people rated highest, as
//! carried by the npm package nice-color-palettes 4.0.0; each part is judged by a model that has not seen it.

#[path = "../../bench/liked/judge.rs"]
mod judge;

use crate::skipped::{Needs, skip};
use judge::{families, folds, judge, palettes, ratio, shown};
use std::path::Path;
use trimside::domain::colour::space::Rgb8;
use trimside::domain::colour::swatch::Swatch;
use trimside::domain::colour::trios::{TrioQuestion, trios};

#[test]
fn trios_match_peoples_own_choices_far_more_often_than_chance() {
    let Some(palettes) = palettes(Path::new(env!("CARGO_MANIFEST_DIR"))) else {
        skip(Needs::Reference, "colour, palettes");
        return;
    };
    let count = std::env::var("TRIMSIDE_LIKED_LIBRARIES").ok().and_then(|n| n.parse().ok()).unwrap_or(2);
    let models = folds();
    let plain = judge(&palettes, count, shown(&models, false));
    assert!(plain.iter().all(|s| s.shown == judge::FIRST), "no list is empty or short");
    assert!(ratio(&plain) >= 6.0, "{:.2} times chance", ratio(&plain));
    for light in [false, true] {
        let part = ratio(plain.iter().filter(|s| (s.base.l > 0.6) == light));
        assert!(part >= 3.0, "light bases {light}: {part:.2} times chance");
    }
    let varied = judge(&palettes, count, shown(&models, true));
    assert!(varied.iter().all(|s| s.shown > 0));
    assert!(ratio(&varied) >= 5.0, "varied: {:.2} times chance", ratio(&varied));
    let wider = families(&varied) / families(&plain);
    assert!(wider >= 1.5, "varied: {wider:.2} times the hue families");
    eprintln!(
        "{:.2} times chance, varied {:.2} with {wider:.2} times the hue families",
        ratio(&plain),
        ratio(&varied)
    );
}

/// Worked examples on a shelf of our own, with the reasons as people read them.
#[test]
fn first_trios_of_a_small_shelf_and_their_reasons() {
    let shelf: Vec<Swatch> = [
        ("plum", 0x55_2a5a),
        ("moss", 0x5f_7345),
        ("cream", 0xf3_ead8),
        ("brick", 0xb0_4a2f),
        ("teal", 0x2f_7f7b),
        ("mustard", 0xd9_a53a),
        ("slate", 0x4a_5560),
        ("blush", 0xe8_b4a8),
    ]
    .into_iter()
    .map(|(name, v)| {
        Swatch::from_screen(name, "", Rgb8::new((v >> 16) as u8, (v >> 8 & 255) as u8, (v & 255) as u8))
    })
    .collect();
    let told: Vec<String> = (0..shelf.len())
        .map(|base| {
            let first = &trios(&TrioQuestion::about(&shelf, &[base]))[0];
            let names = first.swatches.map(|i| shelf[i].name.as_str()).join(" + ");
            let said = first.said(|i| shelf[i].name.clone());
            format!("{names}: {}; {}\n    {}", said.why, said.reason, said.figures)
        })
        .collect();
    insta::assert_snapshot!("first_trios_of_a_small_shelf", told.join("\n"));
}
