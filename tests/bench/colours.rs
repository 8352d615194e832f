//! What colour questions cost: trios over libraries of growing size, a large photo, nearest over many swatches.
//!
//! `cargo bench --bench colours` prints the ratios first, to one plain colour difference (Euclid in Lab) over the same
//! swatches or pixels in the same run, then the times of divan.
#![allow(missing_docs)]

use divan::black_box;
use std::time::{Duration, Instant};
use trimside::domain::colour::nearest;
use trimside::domain::colour::photo::white::WhiteHint;
use trimside::domain::colour::photo::{Weighing, identify, identify_by};
use trimside::domain::colour::scheme::Scheme;
use trimside::domain::colour::space::{Lab, Rgb8};
use trimside::domain::colour::swatch::Swatch;
use trimside::domain::colour::trios::{TrioQuestion, trios};
use trimside::exchange::read::image;

/// Sizes of libraries that trios are asked over.
const LIBRARIES: [usize; 3] = [50, 200, 500];
/// A library that is gone through with the arrow keys.
const ARROWS: usize = 200;
/// A large one.
const LARGEST: usize = 500;
/// Swatches that the nearest are looked for in.
const MANY: usize = 5_000;
/// A photo of 12 megapixels.
const PHOTO: (u32, u32) = (4_000, 3_000);

/// Colours spread over the solid by a small generator of our own, the same on every run.
fn library(n: usize) -> Vec<Swatch> {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut byte = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 56) as u8
    };
    (0..n)
        .map(|i| Swatch::from_screen(format!("swatch {i}"), "", Rgb8::new(byte(), byte(), byte())))
        .collect()
}

/// The plain arithmetic that everything is held against: the least distance in Lab.
fn plain(query: Lab, swatches: &[Swatch]) -> f64 {
    swatches
        .iter()
        .map(|s| (s.lab.l - query.l).powi(2) + (s.lab.a - query.a).powi(2) + (s.lab.b - query.b).powi(2))
        .fold(f64::INFINITY, f64::min)
        .sqrt()
}

/// A photo of stripes on white card as a PNG file.
fn photo() -> Vec<u8> {
    use ::image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};
    let (width, height) = PHOTO;
    let colours = [[0x55, 0x2a, 0x5a], [0xdc, 0xb9, 0x5e], [0x2f, 0x7f, 0x7b], [0xd8, 0x52, 0x7f]];
    let mut pixels = Vec::with_capacity((width * height * 3) as usize);
    for y in 0..height {
        for x in 0..width {
            let on_paper = (400..width - 400).contains(&x) && (300..height - 300).contains(&y);
            let light = if on_paper { colours[(x / 300) as usize % 4] } else { [0xf2_u8, 0xf1, 0xf0] };
            // A little grain, so that the file is no smaller than a real one.
            let grain = ((x * 7 + y * 13) % 5) as u8;
            pixels.extend(light.map(|v| v.saturating_sub(grain)));
        }
    }
    let mut bytes = Vec::new();
    let written = PngEncoder::new(&mut bytes).write_image(&pixels, width, height, ExtendedColorType::Rgb8);
    if written.is_err() {
        bytes.clear();
    }
    bytes
}

/// The shortest of some runs: the one least disturbed.
fn shortest(runs: u32, mut work: impl FnMut()) -> Duration {
    (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .min()
        .unwrap_or_default()
}

fn line(what: &str, time: Duration, plain: Duration) {
    let ratio = time.as_secs_f64() / plain.as_secs_f64().max(1e-9);
    println!("| {what} | {:.2} ms | {ratio:.0} |", time.as_secs_f64() * 1e3);
}

fn print_ratios() {
    println!("| what | time | ratio |\n|---|---|---|");
    let query = Lab::new(52.0, 18.0, -24.0);
    for n in LIBRARIES {
        let swatches = library(n);
        let base = shortest(50, || {
            black_box(plain(black_box(query), &swatches));
        });
        let time = shortest(10, || {
            black_box(trios(&TrioQuestion::about(&swatches, &[n / 2])));
        });
        line(&format!("trios over {n} swatches"), time, base);
    }
    every_arrow_key();
    worst_arrow_keys();
    every_kind_of_list();
    let swatches = library(MANY);
    let base = shortest(50, || {
        black_box(plain(black_box(query), &swatches));
    });
    let time = shortest(20, || {
        black_box(nearest(black_box(query), &swatches, 5));
    });
    line(&format!("nearest five of {MANY} swatches"), time, base);
    let (bytes, swatches) = (photo(), library(60));
    let every_pixel: Vec<Swatch> = library(1_000);
    let thousand = shortest(50, || {
        black_box(plain(black_box(query), &every_pixel));
    });
    let base = thousand * (PHOTO.0 * PHOTO.1 / 1_000);
    let Ok(read) = image::read(&bytes) else { return };
    for (what, by) in [("two dials", Weighing::PLAIN), ("the third dial too", Weighing::SHIPPED)] {
        let time = shortest(5, || {
            black_box(identify_by(black_box(&read.picture), &swatches, WhiteHint::Find, by));
        });
        line(
            &format!("photo of 12 megapixels, once decoded, read against 60 swatches with {what}"),
            time,
            base,
        );
    }
    let time = shortest(3, || {
        if let Ok(read) = image::read(black_box(&bytes)) {
            black_box(identify(&read.picture, &swatches, WhiteHint::Find));
        }
    });
    line("the same, decoded and read", time, base);
}

/// The slowest answer when the pick goes through a whole library, an arrow key at a time.
fn every_arrow_key() {
    let swatches = library(ARROWS);
    let base = shortest(50, || {
        black_box(plain(black_box(Lab::new(52.0, 18.0, -24.0)), &swatches));
    });
    let held: Vec<bool> = (0..ARROWS).map(|n| n % 3 == 0).collect();
    for (what, varied, on_hand) in
        [("", false, false), (", varied", true, false), (", on hand first", false, true)]
    {
        let answer = |n: usize| {
            let bases = [n];
            let usable = on_hand.then_some(&held[..]);
            black_box(trios(&TrioQuestion { varied, usable, ..TrioQuestion::about(&swatches, &bases) }));
        };
        let slowest = (0..ARROWS).map(|n| shortest(3, || answer(n))).max().unwrap_or_default();
        line(&format!("slowest of {ARROWS} arrow keys over {ARROWS} swatches{what}"), slowest, base);
    }
}

/// Libraries that no list gets done with soon: all neutral, of one hue, of one colour to the eye, of colours that people
/// seldom choose together.
fn awkward(n: usize) -> [(&'static str, Vec<Swatch>); 4] {
    let of = |colour: fn(usize, usize) -> [usize; 3]| {
        let swatch = |i: usize| {
            let [r, g, b] = colour(i, n).map(|v| v.min(255) as u8);
            Swatch::from_screen(format!("swatch {i}"), "", Rgb8::new(r, g, b))
        };
        (0..n).map(swatch).collect()
    };
    [
        ("neutrals", of(|i, n| [20 + i * 230 / n, 20 + i * 230 / n, 22 + i * 225 / n])),
        ("greens", of(|i, n| [30 + i % 20 * 4, 90 + i * 150 / n, 30 + i % 14 * 5])),
        ("one colour", of(|i, _| [120 + i % 3, 90 + i / 3 % 3, 80 + i / 9 % 3])),
        ("loud ones", of(|i, n| [255 * (i % 2), 255 - i * 250 / n, 255 * (i / 2 % 2)])),
    ]
}

/// The slowest arrow key of all ways to ask, over awkward libraries.
fn worst_arrow_keys() {
    let held: Vec<bool> = (0..ARROWS).map(|n| n % 3 == 0).collect();
    for (what, swatches) in awkward(ARROWS) {
        let base = shortest(50, || {
            black_box(plain(black_box(Lab::new(52.0, 18.0, -24.0)), &swatches));
        });
        let mut worst: [Duration; 3] = [Duration::ZERO; 3];
        for n in (0..ARROWS).step_by(7) {
            let bases = [n];
            let usual = TrioQuestion::about(&swatches, &bases);
            let all = [
                usual,
                TrioQuestion { varied: true, ..usual },
                TrioQuestion {
                    varied: true,
                    scheme: Some(Scheme::Triad),
                    usable: Some(&held),
                    leaving: Some(&held),
                    ..usual
                },
            ];
            for (worst, ask) in worst.iter_mut().zip(all) {
                *worst = shortest(3, || {
                    black_box(trios(&ask));
                })
                .max(*worst);
            }
        }
        for (how, time) in
            ["", ", varied", ", all of it at once with a scheme not to be had"].iter().zip(worst)
        {
            line(&format!("slowest arrow key over {ARROWS} {what}{how}"), time, base);
        }
    }
}

/// The ways to ask for a list that pass over trios, over the largest library; of the schemes the slowest.
fn every_kind_of_list() {
    let swatches = library(LARGEST);
    let base = shortest(50, || {
        black_box(plain(black_box(Lab::new(52.0, 18.0, -24.0)), &swatches));
    });
    let held: Vec<bool> = (0..LARGEST).map(|n| n % 3 == 0).collect();
    let bases = [LARGEST / 2];
    let usual = TrioQuestion::about(&swatches, &bases);
    let time = |ask: TrioQuestion<'_>| {
        shortest(10, || {
            black_box(trios(&ask));
        })
    };
    line(&format!("the same over {LARGEST}, varied"), time(TrioQuestion { varied: true, ..usual }), base);
    line(
        &format!("the same over {LARGEST}, on hand first"),
        time(TrioQuestion { usable: Some(&held), ..usual }),
        base,
    );
    let slowest =
        Scheme::ALL.into_iter().map(|scheme| time(TrioQuestion { scheme: Some(scheme), ..usual })).max();
    line(&format!("the same over {LARGEST}, slowest scheme"), slowest.unwrap_or_default(), base);
    let all = TrioQuestion { varied: true, usable: Some(&held), leaving: Some(&held), ..usual };
    line(&format!("the same over {LARGEST}, varied, on hand and leaving first"), time(all), base);
}

#[divan::bench(args = LIBRARIES)]
fn trios_over(bencher: divan::Bencher<'_, '_>, n: usize) {
    let swatches = library(n);
    bencher.bench_local(|| trios(&TrioQuestion::about(black_box(&swatches), &[n / 2])));
}

#[divan::bench]
fn nearest_of_many(bencher: divan::Bencher<'_, '_>) {
    let swatches = library(MANY);
    bencher.bench_local(|| nearest(black_box(Lab::new(52.0, 18.0, -24.0)), &swatches, 5));
}

#[divan::bench(sample_count = 3)]
fn photo_of_12_megapixels(bencher: divan::Bencher<'_, '_>) {
    let (bytes, swatches) = (photo(), library(60));
    bencher.bench_local(|| {
        image::read(black_box(&bytes)).map(|read| identify(&read.picture, &swatches, WhiteHint::Find)).is_ok()
    });
}

fn main() {
    print_ratios();
    divan::main();
}
