//! Nothing that counts is cut off while there is room: every view of the demo in windows of three widths. No figure, sum or
//! warning may end in an ellipsis; of names and sentences only those that are listed here do. On the smallest usual screen
//! names alone are cut. Every list tells how many of its rows are hidden.

use super::harness::Bench;
use ratatui::style::Modifier;
use trimside::app::action::Action;

/// Windows with room.
const SIZES: [(u16, u16); 3] = [(120, 36), (160, 50), (200, 60)];

/// Name and keys of each view, from the page of the day.
pub const VIEWS: &[(&str, &str)] = &[
    ("today", ""),
    ("answer", "1 p '4-1/8x5-3/8' Enter c '40' Enter s 'fern' Enter"),
    ("chart", "1 v"),
    ("plan", "1 V"),
    ("bench", "1 b y"),
    ("scrap", "1 z g Ctrl-u '4x6' Enter"),
    ("papers", "1 z p"),
    ("mats", "2"),
    ("drawing", "2 v"),
    ("made", "2 z m"),
    ("post", "2 v v v"),
    ("ruler", "2 R"),
    ("palette", "3"),
    ("trios", "3 ;"),
    ("order", "3 o"),
    ("shelf", "4"),
    ("line", "4 Enter"),
    ("history", "4 ;"),
    ("offcuts", "4 ]"),
    ("log", "4 ] ]"),
    ("reorder", "4 ] ] ]"),
    ("classes", "4 [ [ j"),
    ("class", "4 [ [ j Enter"),
    ("bookings", "4 ["),
    ("steps", "F4"),
    ("help", "?"),
    ("finder", ":"),
];

/// What may be cut, by view: names and sentences that are told whole elsewhere in the same view.
const CUT: &[(&str, &str)] = &[];

fn at(keys: &str, width: u16) -> Bench {
    let mut bench = Bench::opened();
    bench.act(Action::Room(width));
    bench.keys(keys)
}

#[test]
fn nothing_that_counts_is_cut_off_while_there_is_room() {
    let (mut cut, mut known) = (Vec::new(), [false; CUT.len()]);
    for (name, keys) in VIEWS {
        for (width, height) in SIZES {
            let text = at(keys, width).text(width, height);
            for line in text.lines().filter(|line| line.contains('…')) {
                match CUT.iter().position(|(view, words)| view == name && line.contains(words)) {
                    Some(n) => known[n] = true,
                    None => cut.push(format!("{name} {width}x{height}: {line}")),
                }
            }
        }
    }
    assert!(cut.is_empty(), "{} lines are cut off:\n{}", cut.len(), cut.join("\n"));
    let whole: Vec<_> = CUT.iter().zip(known).filter(|(_, known)| !known).map(|(cut, _)| cut).collect();
    assert!(whole.is_empty(), "these are not cut off any more: {whole:?}");
}

/// What is cut in a window of 80 x 24, by view: names of papers, offcuts and projects, and sentences that stand whole below.
const CUT_NARROW: &[(&str, &str)] = &[
    // Offcuts, in columns of names.
    ("log", "parcel from"),
    // Sentences of a list, whole below it for the row in hand.
    ("finder", ""),
];

/// The words that end in an ellipsis: each run up to it that two blanks or a frame set apart.
fn cut_words(line: &str) -> Vec<&str> {
    let parts = line.split(['│', '▌']).flat_map(|part| part.split("  "));
    parts.map(str::trim).filter(|part| part.contains('…')).collect()
}

/// True where words hold money, a warning, or a number with what it counts: what nobody may have to guess.
fn counts(words: &str) -> bool {
    let of = |sign: &str| words.contains(sign);
    let is_number = |word: &str| word.parse::<u32>().is_ok();
    let says = ["short", "free", "sheets", "sheet", "pieces", "cut", "held", "booked", "to"];
    let pairs = words.split(' ').zip(words.split(' ').skip(1));
    of("$")
        || of("SHORT")
        || of("LATE")
        || of("LOW")
        || pairs.clone().any(|(n, what)| is_number(n) && says.contains(&what))
}

#[test]
fn on_a_small_screen_names_alone_are_cut() {
    let (mut cut, mut known) = (Vec::new(), [false; CUT_NARROW.len()]);
    for (name, keys) in VIEWS {
        let text = at(keys, 80).text(80, 24);
        for words in text.lines().flat_map(cut_words) {
            // The sentences of the finder hold numbers too: the row in hand is told whole below them.
            assert!(*name == "finder" || !counts(words), "{name}: {words}");
            match CUT_NARROW.iter().position(|(view, of)| name.starts_with(view) && words.contains(of)) {
                Some(n) => known[n] = true,
                None => cut.push(format!("{name}: {words}")),
            }
        }
    }
    assert!(cut.is_empty(), "{} are cut off:\n{}", cut.len(), cut.join("\n"));
    let whole: Vec<_> =
        CUT_NARROW.iter().zip(known).filter(|(_, known)| !known).map(|(cut, _)| cut).collect();
    assert!(whole.is_empty(), "these are not cut off any more: {whole:?}");
    assert!(counts("1 short for Hedgerow note…") && counts("SHORT 1…") && !counts("chalk, letter offc…"));
}

/// Views and layers with a list that has no room on a small screen, and the keys to its end.
const LONG: &[(&str, &str)] = &[
    ("trios", "3 ;"),
    ("swatches", "3"),
    ("shelf", "4"),
    ("log", "4 ] ]"),
    ("sheets to choose", "1 s"),
    ("pages to print", "3 Ctrl-p"),
    ("what was done", "F4"),
    ("finder", ":"),
    ("a new line", "4 n"),
    ("papers for a piece", "1 z p"),
    ("what a scrap gives", "1 z g Ctrl-u '4x6' Enter"),
    ("day", ""),
    ("plan", "1 V"),
    ("class", "4 [ [ j Enter"),
];

#[test]
fn a_list_without_room_tells_how_much_of_it_is_hidden() {
    for (name, keys) in LONG {
        let text = at(keys, 60).text(60, 18);
        let told = ["hidden", " more"].iter().any(|words| text.contains(words));
        assert!(told, "{name} at 60x18:\n{text}");
    }
}

/// The underlined runs of a row.
fn underlined(row: &[(String, bool)]) -> Vec<String> {
    let runs = row.chunk_by(|(_, one), (_, other)| one == other);
    runs.filter(|run| run[0].1).map(|run| run.iter().map(|(sign, _)| sign.as_str()).collect()).collect()
}

#[test]
fn a_line_under_something_stands_under_words() {
    for (name, keys) in VIEWS {
        for (width, height) in [(80, 24), (160, 50)] {
            let (buf, _) = at(keys, width).draw(width, height);
            for y in 0..height {
                let cell = |x: u16| {
                    let cell = &buf[(x, y)];
                    (cell.symbol().to_owned(), cell.modifier.contains(Modifier::UNDERLINED))
                };
                let row: Vec<_> = (0..width).map(cell).collect();
                for run in underlined(&row) {
                    assert_eq!(run.trim(), run, "{name} {width}x{height}, row {y}: a line under nothing");
                }
            }
        }
    }
}
