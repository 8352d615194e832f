//! The command line at random: commands put together from a grammar of options, with words and files bent, and kept books
//! bent under a checksum that fits. Whatever is asked, there is an answer or one sentence, and no fault.
//!
//! Seeded: a failure names its round and its words. A few rounds in every run, many in a long one.

use crate::fuzz::mutate::Mutator;
use crate::laws::wishes::Dice;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use trimside::cli::AnswerLook;
use trimside::cli::args::Args;
use trimside::persist::frame_sum;
use trimside::persist::{Store, demo, parcel};

/// Commands; a word of capitals is a slot, `~` before an option leaves it out half of the time.
const GRAMMAR: [&str; 24] = [
    "yield SIZE --sheet SHEET ~--count COUNT ~--no-turn ~--json ~--unit UNIT",
    "yield SIZE --sheet SHEET ~--max-cut LENGTH ~--largest-offcut --json",
    "chart --sheet SHEET --from LENGTH ~--to LENGTH --step LENGTH ~--csv",
    "plan --pieces FILE --sheets FILE --work 1 ~--json ~--strict ~--leftovers-first",
    "plan --project NAME --work 1 ~--json",
    "mats SIZE --reveal LENGTH ~--fold WORD ~--envelope SIZE ~--json",
    "mats FILE ~--reveal LENGTH ~--json",
    "mats --import FILE",
    "palette nearest COLOUR ~--swatches FILE ~--json",
    "palette trios NAME ~--swatches FILE ~--varied ~--json",
    "palette photo FILE ~--json",
    "palette order ~--swatches FILE",
    "stock list NAME ~--json ~--csv",
    "stock use NAME COUNT ~--job NAME ~--json",
    "stock receive NAME COUNT ~--price WORD ~--lot NAME",
    "stock adjust NAME COUNT",
    "stock log NAME ~--csv",
    "stock reorder ~--json",
    "stock import FILE ~--dry-run",
    "stock count FILE ~--dry-run",
    "print swatches --preview ~--swatches FILE",
    "print labels --preview ~--label-file FILE ~--labels WORD ~--start-label COUNT",
    "restore FILE",
    "WORD NAME ~--json",
];

const SIZES: [&str; 9] =
    ["2x3", "0x0", "1/64x1", "105x148mm", "4-1/4x5-1/2", "-2x3", "99999999x1", "2", "1e9x1e9"];
const SHEETS: [&str; 6] = ["letter", "a4", "12x12", "0x5", "100x100000", "nosuch"];
const LENGTHS: [&str; 10] = ["1/8", "2", "0", "-1", "5.25", "3,5", "9999999999999", "1/0", "133 mm", ""];
const COUNTS: [&str; 9] = ["1", "0", "-3", "+2", "1000000", "4294967295", "99999999999999999999", "x", ""];
const COLOURS: [&str; 6] = ["#4f7942", "#12", "rgb(1,2,3)", "lab(50 0 0)", "fern", "nan"];
const NAMES: [&str; 8] =
    ["fern floor, letter", "chalk", "", "\u{1b}[31m", "caf\u{e9}", "..", "\u{200b}", "two\nlines"];
const WORDS: [&str; 8] = ["side", "gate", "mill", "--", "-", "yield", "$3.80", "\u{202e}x"];

fn word(slot: &str, dice: &mut Dice, files: &[String]) -> String {
    let pick = |from: &[&str], dice: &mut Dice| from[dice.roll(from.len())].to_owned();
    match slot {
        "SIZE" => pick(&SIZES, dice),
        "SHEET" => pick(&SHEETS, dice),
        "LENGTH" => pick(&LENGTHS, dice),
        "COUNT" => pick(&COUNTS, dice),
        "COLOUR" => pick(&COLOURS, dice),
        "NAME" => pick(&NAMES, dice),
        "WORD" => pick(&WORDS, dice),
        "UNIT" => pick(&["in", "mm", "ft"], dice),
        "FILE" => files[dice.roll(files.len())].clone(),
        other => other.to_owned(),
    }
}

/// One command line of the grammar.
fn line(dice: &mut Dice, files: &[String]) -> Vec<String> {
    let mut words = vec!["trimside".to_owned()];
    let mut leaves_out = false;
    for part in GRAMMAR[dice.roll(GRAMMAR.len())].split(' ') {
        let is_option = part.starts_with("--") || part.starts_with("~--");
        leaves_out = if is_option { part.starts_with('~') && dice.roll(2) == 0 } else { leaves_out };
        if !leaves_out {
            words.push(word(part.trim_start_matches('~'), dice, files));
        }
    }
    if dice.roll(12) == 0 {
        words.swap_remove(1 + dice.roll(words.len() - 1));
    }
    words
}

/// Files of the corpus of every reader, bent.
fn bent(dir: &Path, round: u64) -> Vec<String> {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus");
    let kinds = ["card", "formats", "image", "job-csv", "settings", "stock-csv", "swatches-csv"];
    let mut files = Vec::new();
    for (n, kind) in kinds.iter().enumerate() {
        let mut seeds: Vec<_> =
            std::fs::read_dir(corpus.join(kind)).unwrap().map(|e| e.unwrap().path()).collect();
        seeds.sort();
        let bytes: Vec<Vec<u8>> = seeds.iter().map(|p| std::fs::read(p).unwrap()).collect();
        let ending = seeds[0].extension().unwrap().to_string_lossy().into_owned();
        let path = dir.join(format!("{kind}.{ending}"));
        std::fs::write(&path, Mutator::new(round * 16 + n as u64).bend(&bytes)).unwrap();
        files.push(path.display().to_string());
    }
    files.push(dir.join("nowhere.csv").display().to_string());
    files.push(dir.display().to_string());
    files
}

#[test]
fn whatever_is_asked_there_is_an_answer_or_a_sentence() {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("data");
    demo::fill(&mut Store::open(&data).unwrap()).unwrap();
    for round in 0..crate::effort::cases(80, 20_000) {
        let mut dice = Dice::new(round.wrapping_add(0x9a11));
        let files = bent(dir.path(), round);
        let mut words = line(&mut dice, &files);
        words.extend(["--data".to_owned(), data.display().to_string()]);
        let done = catch_unwind(AssertUnwindSafe(|| {
            let mut args = Args::read(&words).map_err(|refusal| refusal.text)?;
            let Some(command) = args.command.take() else { return Ok((Vec::new(), Vec::new())) };
            let (mut out, mut note) = (Vec::new(), Vec::new());
            args.answer(&command, AnswerLook::default(), &mut out, &mut note)
                .map_err(|e| format!("{e:#}"))?;
            Ok((out, note))
        }));
        match done {
            Ok(Ok((out, note))) => {
                for text in [out, note] {
                    assert!(String::from_utf8(text).is_ok(), "round {round}: {words:?}");
                }
            }
            Ok(Err(why)) => {
                let why: String = why;
                assert!(!why.trim().is_empty(), "round {round}: {words:?}");
                for term in ["recursion_limit", "serde_stacker", "panicked", "unwrap()"] {
                    assert!(!why.contains(term), "round {round}: {words:?}: {why}");
                }
            }
            Err(_) => panic!("round {round}: {words:?}"),
        }
    }
    // What was asked has left a book that holds together.
    Store::open(&data).unwrap().book().check().unwrap();
}

/// A kept book whose text was bent, under a first line that fits it.
pub(super) fn sealed(head: &str, body: &[u8]) -> Vec<u8> {
    let (before, rest) = head.split_once(", check ").unwrap();
    let (_, mark) = rest.split_once(", mark ").unwrap();
    let (schema, step) =
        before.strip_prefix("// trimside book, schema ").unwrap().split_once(", step ").unwrap();
    let sum = frame_sum(&[format!("{schema} {step} {mark}\n").as_bytes(), body]);
    [format!("{before}, check {sum:016x}, mark {mark}\n").as_bytes(), body, b"\n"].concat()
}

#[test]
fn a_bent_book_under_a_checksum_that_fits_is_shown_or_refused() {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("data");
    demo::fill(&mut Store::open(&data).unwrap()).unwrap();
    let kept = dir.path().join("kept.ron");
    parcel::keep(&Store::open(&data).unwrap(), &kept, false).unwrap();
    let bytes = std::fs::read(&kept).unwrap();
    let end = bytes.iter().position(|b| *b == b'\n').unwrap();
    let head = std::str::from_utf8(&bytes[..end]).unwrap().to_owned();
    let body = bytes[end + 1..bytes.len() - 1].to_vec();
    // The seal is the real one.
    assert_eq!(sealed(&head, &body), bytes);
    let (file, mut read) = (dir.path().join("bent.ron"), 0);
    for round in 0..crate::effort::cases(25, 20_000) {
        let bent = Mutator::new(round).bend(std::slice::from_ref(&body));
        std::fs::write(&file, sealed(&head, &bent)).unwrap();
        let done = catch_unwind(|| parcel::look(&file).map(|found| found.holds().words()));
        match done {
            Ok(Ok(words)) => read += usize::from(!words.is_empty()),
            Ok(Err(why)) => {
                let why = why.to_string();
                assert!(
                    !why.contains("recursion_limit") && !why.contains("serde_stacker"),
                    "round {round}: {why}"
                );
            }
            Err(_) => panic!("round {round}: the book is in {}", file.display()),
        }
    }
    println!("{read} bent books could be read");
}
