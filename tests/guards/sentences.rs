//! Sentences that a person acts on: each is true, and this fails where it is not.

use trimside::app::state::yields::{StepRow, step_rows};
use trimside::domain::craft::topics;
use trimside::domain::cutting::one_size::{SheetYield, answer};
use trimside::domain::cutting::question::{Question, Trimmer};
use trimside::domain::cutting::words::short_words;
use trimside::domain::length::{Length, Unit};
use trimside::domain::sheet::Sheet;
use trimside::domain::size::Size;

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

fn topic(title: &str) -> &'static str {
    &topics().iter().find(|t| t.title == title).unwrap_or_else(|| panic!("no topic {title}")).text
}

/// A mill's guidance on creasing: the channel is the rule's thickness and about twice the paper's. Twice the paper's alone is
/// narrower than the rule that has to go in.
#[test]
fn the_channel_of_a_score_holds_the_rule_and_the_paper_on_both_sides() {
    let scoring = topic("Scoring");
    let channel = "the channel is as wide as the scoring rule's own thickness plus about twice the paper's";
    assert!(scoring.contains(channel), "{scoring}");
}

/// One sheet a stroke, everywhere that it is said, and as the cuts are worked out where nobody says otherwise.
#[test]
fn one_sheet_is_cut_at_a_time_until_the_person_says_otherwise() {
    assert_eq!(Trimmer::default().sheets_per_stroke, 1);
    assert!(topic("Stroke").contains("Cut one sheet at a time unless your trimmer's maker says more"));
    let readme = include_str!("../../README.md").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(readme.contains("how many sheets a stroke takes: one until you say otherwise"));
    let told =
        topics().iter().map(|t| t.text.as_str()).chain([readme.as_str()]).collect::<Vec<_>>().join(" ");
    for other in ["to three sheets", "two or three sheets", "1 to 3 sheets", "a few sheets at a time"] {
        assert!(!told.contains(other), "{other}");
    }
}

fn measured(piece: &str, sheet: &str, measured: Option<&str>) -> SheetYield {
    let mut sheet = Sheet::new("sheet".to_owned(), size(sheet));
    sheet.measured = measured.map(size);
    answer(&Question::new(size(piece), sheet))
}

/// 12 in holds three of 4 in to the edge, nine in all. At 11 15/16 only two of each row are left; one mark off each piece (3 15/16,
/// three of them 11 13/16) brings all nine back.
#[test]
fn a_sheet_that_measures_short_offers_both_ways_out() {
    let said = |piece, sheet, own| short_words(&measured(piece, sheet, own), Unit::Inch);
    assert_eq!(
        said("4x4", "12x12", Some("11-15/16x12")).unwrap(),
        "the sheet measures short: 6 instead of 9. Cut 3 15/16 x 4 in and get 9, or keep the size and cut 6 all one way, as shown"
    );
    assert_eq!(measured("3-15/16x4", "12x12", Some("11-15/16x12")).best, 9);
    // 8 1/2 x 11 of letter itself: no other cut is left.
    assert_eq!(
        said("8-1/2x11", "8-1/2x11", Some("8-7/16x11")).unwrap(),
        "the sheet measures short: 0 instead of 1. Cut 8 7/16 x 11 in and get 1, or take another sheet"
    );
    // 6 in instead of 8 1/2: no piece up to 1/4 in narrower lies twice across.
    assert_eq!(
        said("4-1/4x5-1/2", "8-1/2x11", Some("6x11")).unwrap(),
        "the sheet measures short: 2 instead of 4, and no piece up to 1/4 in smaller brings them back: keep the size and cut 2 all one way, as shown"
    );
    // Nothing lost, and nothing measured.
    assert_eq!(said("2x3", "8-1/2x11", Some("8-7/16x11")), None);
    assert_eq!(said("4x4", "12x12", None), None);
}

/// 14 of 6 sq in on 93.5 sq in are 89.8 %; four of 4 1/4 x 5 1/2 all of it; two of 5 x 7 are 74.9 %.
#[test]
fn the_share_of_a_sheet_is_that_of_its_pieces() {
    for (piece, best, percent) in [("2x3", 14, 90), ("4-1/4x5-1/2", 4, 100), ("5x7", 2, 75), ("8x10", 1, 86)]
    {
        let answer = measured(piece, "8-1/2x11", None);
        assert_eq!((answer.best, answer.used_percent(answer.best)), (best, percent), "{piece}");
        assert_eq!(answer.used_percent(0), 0);
    }
    let short = measured("4-1/4x5-1/2", "8-1/2x11", Some("8-1/2x10"));
    // Of the sheet that lies there: two upright and one turned below them, 3 of 23.375 sq in on 85.
    assert_eq!((short.best, short.used_percent(short.best)), (3, 83));
}

/// The thinnest strip of the person's own trimmer decides what is told as narrow, at it as well as under it.
#[test]
fn narrow_is_told_at_the_thinnest_strip_of_the_trimmer() {
    let trimmer = Trimmer { smallest_strip: Length::inches(2), ..Trimmer::default() };
    for (trimmer, piece, told) in [
        (Trimmer::default(), "1x5", true),
        (Trimmer::default(), "1-1/16x5", false),
        (trimmer, "2x5", true),
        (trimmer, "2-1/16x5", false),
    ] {
        let question =
            Question { trimmer, ..Question::new(size(piece), Sheet::new("s".to_owned(), size("8-1/2x11"))) };
        assert_eq!(trimmer.is_narrow(question.piece.short()), told, "{piece}");
    }
}

/// The pieces of the short lines are those of the layout, whether the last of a panel falls beyond the blade or not.
#[test]
fn the_short_lines_of_the_steps_name_every_piece() {
    for (piece, sheet) in
        [("2x3", "12x12"), ("2x3", "8-1/2x11"), ("2x3", "4x6"), ("4-1/4x5-1/2", "8-1/2x11"), ("5x7", "12x12")]
    {
        let answer = measured(piece, sheet, None);
        let rows = step_rows(&answer, Unit::Inch);
        let said = |row: &StepRow| {
            let words: Vec<&str> = row.short.split_whitespace().collect();
            let counts = words.windows(2).filter(|w| w[1].starts_with("piece"));
            counts.map(|w| w[0].parse::<u32>().unwrap()).sum::<u32>()
        };
        let all: u32 = rows.iter().map(said).sum();
        let lines: Vec<&str> = rows.iter().map(|row| row.short.as_str()).collect();
        assert_eq!(all, answer.best, "{piece} on {sheet}: {lines:?}");
    }
}
