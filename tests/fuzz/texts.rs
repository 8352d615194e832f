//! Texts that people type or hand in: sizes, colours, words, settings, lists, cards.

use super::{bend, corpus};
use trimside::app::keymap::Keymap;
use trimside::app::memory;
use trimside::app::model::Model;
use trimside::cli::args::Args;
use trimside::domain::colour::parse;
use trimside::domain::cutting::question::Trimmer;
use trimside::domain::length::{Length, Unit};
use trimside::domain::screen::Screen;
use trimside::domain::sheet::{Formats, parse_sheet};
use trimside::domain::size::Size;
use trimside::domain::stock::import::BadLine;
use trimside::domain::{money::Money, reckon};
use trimside::exchange::read;
use trimside::persist::{choices, demo};

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

#[track_caller]
fn is_a_sentence(words: &str) {
    assert!(!words.is_empty() && words.len() < 3_000_000, "{} bytes of refusal", words.len());
}

fn lengths(bytes: &[u8]) {
    let text = text(bytes);
    for unit in [Unit::Inch, Unit::Mm] {
        match Length::parse(&text, unit) {
            // What is shown reads as the same length again.
            Ok(length) => {
                let other = if unit == Unit::Inch { Unit::Mm } else { Unit::Inch };
                assert_eq!(Length::parse(&length.exact_with_unit(unit), other), Ok(length), "{text:?}");
            }
            Err(why) => is_a_sentence(&why.to_string()),
        }
        let _ = Length::parse_number(&text);
        let _ = Length::parse_noting_error(&text, unit);
        let _ = reckon::length(&text, unit);
        let _ = reckon::size(&text, unit);
        if let Ok(size) = Size::parse(&text, unit) {
            assert!(size.width > Length::ZERO && size.height > Length::ZERO, "{text:?}");
            let _ = (size.area(), size.show_with_unit(unit), size.about(unit));
        }
        let _ = parse_sheet(&text, unit, &Formats::built_in());
    }
    let _ = parse::colour(&text);
    let _ = parse::hex(&text);
    let _ = Money::parse(&text, "$");
}

#[test]
fn sizes_colours_and_prices() {
    bend("length", &corpus("length"), 80, lengths);
}

fn settings(bytes: &[u8]) {
    let (choices, problems) = choices::read(&text(bytes));
    problems.iter().for_each(|p| is_a_sentence(p));
    let _ = choices.over(Screen::default());
    let (keymap, problems) = Keymap::with_own_keys(&choices.keys);
    problems.iter().for_each(|(_, p)| is_a_sentence(p));
    // Nobody is locked out, whatever the file says: a key, or several in a row, that can be typed.
    let quit = keymap.texts(trimside::app::commands::CommandId::Quit);
    assert!(!quit.is_empty() && !quit.iter().any(|keys| keys.chars().any(char::is_control)), "{quit:?}");
}

#[test]
fn settings_and_keys() {
    bend("settings", &corpus("settings"), 150, settings);
}

fn formats(bytes: &[u8]) {
    match Formats::with_user(&text(bytes)) {
        Ok(formats) => assert!(formats.find("letter").is_some()),
        Err(why) => is_a_sentence(&why.to_string()),
    }
}

#[test]
fn own_formats() {
    bend("formats", &corpus("formats"), 400, formats);
}

fn memories(bytes: &[u8]) {
    thread_local! {
        static START: Model = {
            let (book, history) = demo::book().unwrap();
            Model::new(book, history, crate::laws::wishes::DAY, Screen::default())
        };
    }
    let text = text(bytes);
    let _ = memory::screen(&text);
    let mut model = START.with(Clone::clone);
    memory::restore(&mut model, &text);
    assert!(!trimside::app::facts::facts(&model).is_empty());
    let _ = memory::to_text(&model);
}

#[test]
fn the_memory_of_the_bench() {
    let bench = {
        let bench = crate::screens::harness::Bench::demo().keys("b Enter Enter");
        memory::to_text(&bench.model).into_bytes()
    };
    assert!(text(&bench).contains("bench:Some("), "{}", text(&bench));
    let mut seeds = corpus("memory");
    seeds.push(bench);
    bend("memory", &seeds, 60, memories);
}

fn stock_lists(bytes: &[u8]) {
    match read::stock::stock(bytes, Unit::Inch, "$") {
        Ok(_) => {}
        Err(bad) => {
            assert!(!bad.is_empty());
            for BadLine { line, why } in bad {
                assert!(line >= 1);
                is_a_sentence(&why);
            }
        }
    }
}

#[test]
fn stock_lists_as_csv() {
    bend("stock-csv", &corpus("stock-csv"), 800, stock_lists);
}

fn swatch_lists(bytes: &[u8]) {
    match read::swatches::swatches(bytes) {
        Ok(all) => assert!(all.iter().all(|s| !s.label().is_empty())),
        Err(why) => is_a_sentence(&why.to_string()),
    }
}

#[test]
fn swatch_lists_as_csv() {
    bend("swatches-csv", &corpus("swatches-csv"), 800, swatch_lists);
}

/// The first half are the pieces, the second the sheets.
fn jobs(bytes: &[u8]) {
    let at = bytes.iter().rposition(|b| *b == b'@').unwrap_or(bytes.len() / 2);
    let (pieces, sheets) = bytes.split_at(at);
    let sheets = sheets.strip_prefix(b"@").unwrap_or(sheets);
    match read::csv_jobs::job(pieces, sheets, Unit::Inch, Trimmer::default()) {
        Ok(job) => assert!(!job.pieces.is_empty() && !job.sheets.is_empty()),
        Err(why) => is_a_sentence(&why.to_string()),
    }
}

#[test]
fn job_files() {
    let files = corpus("job-csv");
    let seeds = [[&files[0][..], b"@", &files[1]].concat(), [&files[1][..], b"@", &files[0]].concat()];
    bend("job-csv", &seeds, 800, jobs);
}

fn cards(bytes: &[u8]) {
    if let Err(why) = read::card::card(&text(bytes), Unit::Inch) {
        is_a_sentence(&why);
    }
}

#[test]
fn card_files() {
    bend("card", &corpus("card"), 500, cards);
}

fn words(bytes: &[u8]) {
    for line in text(bytes).lines() {
        if let Err(refusal) = Args::read(line.split('|')) {
            is_a_sentence(&refusal.text);
        }
    }
}

#[test]
fn words_of_the_command_line() {
    bend("words", &corpus("words"), 20, words);
}
