//! Nothing that counts is cut off while there is room: every view of the demo in windows of three widths. No figure, sum or
//! warning may end in an ellipsis; of names and sentences only those that are listed here do.

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
    ("trios", "3 t"),
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
const CUT: &[(&str, &str)] = &[
    // Sentences of the list, whole beside it for the row in hand.
    ("finder", ""),
    // Names of offcuts, which are their sizes too: a column of its own, or the list of offcuts, tells those.
    ("answer", " in, "),
    ("bookings", ", letter off"),
    ("bookings", "fern floor, letter…"),
    ("classes", ", letter off"),
    ("class", ", letter off"),
    // Names of designs with their project.
    ("offcuts", "(Window and"),
    // Why a line is on the list, whole below it for the row in hand.
    ("reorder", "1 short for Hedgerow notes, class on 2026-12-12, 10 to re"),
];

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
