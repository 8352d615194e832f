//! What a large photo does to a quick answer: a Yield question through the workers of the bench while a photo of 12
//! megapixels is read beside it, and while it is quiet; and the same through one worker for both, as a measure of what
//! the second one is worth. `cargo bench --bench workers`.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::pedantic)]

use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};
use trimside::app::action::{Action, Solved};
use trimside::app::effect::Ask;
use trimside::app::state::photo::PhotoAsk;
use trimside::domain::colour::photo::white::WhiteHint;
use trimside::domain::cutting::question::Question;
use trimside::domain::length::{Length, Unit};
use trimside::domain::sheet::{Formats, parse_sheet};
use trimside::domain::size::Size;
use trimside::engine::desk::WorkerDesk;
use trimside::runtime::solve::{Desks, solve};

/// Questions in each series.
const QUESTIONS: u64 = 1_500;
/// Questions where each waits for a whole photo.
const WAITING: u64 = 5;
/// A person types no faster than this.
const PAUSE: Duration = Duration::from_millis(3);
const PHOTO: (u32, u32) = (4_000, 3_000);

/// Puts a question under a number.
type Put = Box<dyn Fn(u64, Ask)>;

/// Two papers on white card, with the grain that a camera leaves.
fn photo(file: &Path) {
    let (width, height) = PHOTO;
    let paper = |x: u32, y: u32| match (x / 500, y / 500) {
        (1..=3, 1..=4) => [79, 121, 66],
        (4..=6, 1..=4) => [170, 70, 60],
        _ => [238, 236, 230],
    };
    let grain =
        |x: u32, y: u32| (x.wrapping_mul(0x9e37_79b9) ^ y.wrapping_mul(0x85eb_ca6b)).count_ones() as i32 - 16;
    let pixel = |x: u32, y: u32| paper(x, y).map(|v: i32| (v + grain(x, y)).clamp(0, 255) as u8);
    let pixels: Vec<u8> = (0..height).flat_map(|y| (0..width).flat_map(move |x| pixel(x, y))).collect();
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes).write_image(&pixels, width, height, ExtendedColorType::Rgb8).unwrap();
    std::fs::write(file, bytes).unwrap();
}

fn yields(n: u64) -> Ask {
    let sheet = parse_sheet("12x12", Unit::Inch, &Formats::built_in()).unwrap();
    let side = |k: u64| Length::sixteenths(24 + (k % 61) as i64);
    Ask::Yield(Box::new(Question::new(Size::new(side(n * 7), side(n * 13)), sheet)))
}

/// Time from question to answer of each, sorted; a photo is read all the while where there is one. The photos read.
fn series(
    put: &Put,
    answers: &Receiver<Action>,
    picture: Option<&Path>,
    questions: u64,
) -> (Vec<Duration>, u32) {
    let mut times = Vec::new();
    let mut photos = 0;
    let look = || {
        if let Some(file) = picture {
            let path = file.display().to_string();
            let white = WhiteHint::default();
            let (swatches, ids, held) = (Vec::new(), Vec::new(), Vec::new());
            let ask = PhotoAsk {
                number: 0,
                path,
                white,
                is_scene: false,
                held,
                habits: None,
                dismissed: Vec::new(),
                swatches,
                ids,
            };
            put(0, Ask::Photo(Box::new(ask)));
        }
    };
    look();
    for n in 1..=questions {
        let began = Instant::now();
        put(n, yields(n));
        loop {
            match answers.recv_timeout(Duration::from_secs(120)).expect("an answer") {
                Action::Solved(0, _) => {
                    photos += 1;
                    look();
                }
                Action::Solved(number, Solved::Yield(_)) if number == n => break,
                _ => {}
            }
        }
        times.push(began.elapsed());
        std::thread::sleep(PAUSE);
    }
    times.sort();
    (times, photos)
}

fn at(times: &[Duration], share: f64) -> f64 {
    times[((times.len() - 1) as f64 * share) as usize].as_secs_f64() * 1e3
}

fn main() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("photo.png");
    photo(&file);
    let (post, answers) = channel();
    let desks = Desks::open(move |action| post.send(action).unwrap_or_default()).unwrap();
    let put: Put = Box::new(move |number, ask| assert!(desks.ask(number, ask)));
    series(&put, &answers, None, QUESTIONS);
    let (quiet, _) = series(&put, &answers, None, QUESTIONS);
    let (busy, photos) = series(&put, &answers, Some(&file), QUESTIONS);
    println!("Yield answers, {QUESTIONS} a series, milliseconds");
    println!("| what | p50 | p99 | p99 above quiet | times quiet | photos read |\n|---|---|---|---|---|---|");
    let line = |what: &str, times: &[Duration], photos: u32| {
        let (base, p99) = (at(&quiet, 0.99), at(times, 0.99));
        println!(
            "| {what} | {:.2} | {p99:.2} | {:+.2} | {:.2} | {photos} |",
            at(times, 0.5),
            p99 - base,
            p99 / base
        );
    };
    line("quiet", &quiet, 0);
    line("a photo read beside it", &busy, photos);
    let (post, answers) = channel();
    let one = WorkerDesk::open(
        |ask, _: &_| solve(ask),
        move |number, answer: Result<Solved, String>| {
            let _ = post.send(Action::Solved(number, answer.unwrap_or_else(Solved::Failed)));
        },
    );
    let one = one.unwrap();
    let kind = |ask: &Ask| u8::from(matches!(ask, Ask::Photo(_)));
    let put: Put = Box::new(move |number, ask| assert!(one.ask(number, kind(&ask), ask)));
    let (times, photos) = series(&put, &answers, Some(&file), WAITING);
    line("one worker for both", &times, photos);
}
