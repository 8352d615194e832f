//! A clock far out of order: a sentence, never a panic, and no copy of the book is lost to it.

use crate::cli::{Said, said};
use crate::faulty;
use std::path::Path;
use trimside::persist::demo;
use trimside::persist::kept::{COPIES, copies};
use trimside::persist::{Store, disk::RealDisk};

const DAY: i64 = 86_400;
/// 2026-03-02.
const TODAY: i64 = 20_514 * DAY;
/// Seconds from 1970 to the year 10,000 by the proleptic Gregorian calendar.
const YEAR_10000: i64 = 253_402_300_800;

fn run(data: &Path, words: &[&str], seconds: i64) -> Said {
    let data = ["--data", data.to_str().unwrap()];
    let words: Vec<&str> = words.iter().copied().chain(data).collect();
    let mut command = faulty::clocked(&words, seconds);
    let mut output = command.env("TZ", "UTC").stdin(std::process::Stdio::null()).output().unwrap();
    output.stdout = faulty::own_words(&output.stdout).to_vec();
    said(&output)
}

#[test]
fn a_clock_outside_of_all_days_is_a_sentence_and_reading_goes_on() {
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    for (seconds, words) in [
        (-1, "before the year 1970"),
        (YEAR_10000, "past the year 9999"),
        // One system's clock does not go further.
        (if cfg!(windows) { 2 * YEAR_10000 } else { i64::MAX / 8 }, "past the year 9999"),
    ] {
        for command in
            [&["stock", "use", "fern floor, letter", "1"][..], &["restore", "2026-03-02"], &["--plain"]]
        {
            let done = run(dir.path(), command, seconds);
            assert_eq!(
                (done.code, done.out.as_str(), done.note.lines().count()),
                (1, "", 1),
                "{command:?} {seconds}: {}",
                done.note
            );
            assert!(done.note.contains(words), "{command:?} {seconds}: {}", done.note);
        }
        assert_eq!(run(dir.path(), &["stock", "list"], seconds).code, 0);
        assert_eq!(run(dir.path(), &["yield", "2x3", "--sheet", "letter"], seconds).code, 0);
    }
    assert_eq!(Store::open(dir.path()).unwrap().book().log().len(), demo::book().unwrap().0.log().len());
}

#[test]
fn the_last_days_that_can_be_written_are_days_like_others() {
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    for seconds in [0, YEAR_10000 - 2 * DAY] {
        for command in [
            &["stock", "use", "fern floor, letter", "1"][..],
            &["stock", "reorder"],
            &["stock", "class", "list"],
            &["print", "reorder", "--preview"],
            &["--plain"],
        ] {
            let done = run(dir.path(), command, seconds);
            assert_eq!(done.code, 0, "{command:?} {seconds}: {}", done.note);
        }
    }
}

#[test]
fn a_wrong_clock_costs_no_copy_that_was_just_made() {
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    let copied = |seconds| {
        let done = run(dir.path(), &["stock", "receive", "fern floor, letter", "1"], seconds);
        assert_eq!(done.code, 0, "{}", done.note);
        copies(&RealDisk, dir.path()).unwrap().into_iter().map(|c| c.name).collect::<Vec<_>>()
    };
    for n in 0..COPIES as i64 + 2 {
        copied(TODAY + n * DAY);
    }
    // The battery of the clock has run down: it begins at 1970 again.
    for n in 0..3 {
        let names = copied(n * DAY);
        assert_eq!(names.len(), COPIES);
        assert_eq!(names.last().unwrap(), &format!("1970-01-0{}", n + 1), "{names:?}");
    }
    // It is set right, and what is oldest goes first.
    let names = copied(TODAY + 40 * DAY);
    assert_eq!(names.last().unwrap(), "2026-04-11");
    assert!(
        names.contains(&"1970-01-01".to_owned()) && names.contains(&"2026-03-13".to_owned()),
        "{names:?}"
    );
}
