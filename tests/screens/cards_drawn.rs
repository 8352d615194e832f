//! Cards as they are drawn: rims as wide at top and bottom as at the sides, wider for a wider reveal, no line where colors tell
//! the papers apart; a trio on a card says that it is tried on.

use super::harness::Bench;
use ratatui::buffer::Buffer;
use ratatui::style::Color;
use trimside::domain::screen::ThemeChoice;
use trimside::ui::look::ColourDepth;

const OAT: Color = Color::Rgb(0xdc, 0xcf, 0xb4);
const MOSS: Color = Color::Rgb(0x6b, 0x7a, 0x3a);

/// The colors of a cell's upper and lower half.
fn halves(buf: &Buffer, x: u16, y: u16) -> [Color; 2] {
    let cell = &buf[(x, y)];
    if cell.symbol() == "▀" { [cell.fg, cell.bg] } else { [cell.bg, cell.bg] }
}

/// How many of them come one after another from where the base begins: base, then mat 1.
fn rim(colors: impl Iterator<Item = Color>) -> (usize, usize) {
    let colors: Vec<Color> = colors.skip_while(|color| *color != OAT).collect();
    let base = colors.iter().take_while(|color| **color == OAT).count();
    let mat = colors.iter().skip(base).take_while(|color| **color == MOSS).count();
    (base, mat)
}

#[test]
fn a_rim_is_as_wide_at_the_top_as_at_the_sides_and_wider_where_its_reveal_is() {
    // Mat 2 in hand: its bars lie on itself.
    for (width, height, wanted) in [(160, 50, (2, 1)), (200, 60, (2, 1)), (120, 36, (1, 1))] {
        let bench = Bench::opened().theme(ThemeChoice::Dark, ColourDepth::True).keys("2 j");
        let (buf, _) = bench.draw(width, height);
        // The middle row of the large drawing meets nothing else in these colors.
        let across = |y: u16| (width / 3..width).map(|x| halves(&buf, x, y)[0]).collect::<Vec<_>>();
        let row = (8..20).find(|y| across(*y).contains(&OAT)).unwrap() + 4;
        let left = (width / 3..width).find(|x| halves(&buf, *x, row)[0] == OAT).unwrap();
        assert_eq!(
            rim(across(row).into_iter()),
            wanted,
            "{width}: at the left\n{}",
            bench.text(width, height)
        );
        let down = |x: u16| (3..height).flat_map(|y| halves(&buf, x, y)).collect::<Vec<_>>();
        assert_eq!(
            rim(down(left + 14).into_iter()),
            wanted,
            "{width}: at the top\n{}",
            bench.text(width, height)
        );
        let mut up = down(left + 14);
        up.reverse();
        let foot = rim(up.into_iter().skip_while(|color| *color != OAT));
        assert_eq!(foot, wanted, "{width}: at the foot\n{}", bench.text(width, height));
    }
}

/// The small cards beside it: mat 2 of the bramble note is higher than wide, as it is cut.
#[test]
fn a_small_card_keeps_its_proportions() {
    let bench = Bench::opened().theme(ThemeChoice::Dark, ColourDepth::True).keys("2 j");
    let (buf, _) = bench.draw(160, 50);
    let text = bench.text(160, 50);
    let y = text.lines().position(|line| line.contains("17 to make")).unwrap() as u16 + 2;
    let plum = Color::Rgb(0x55, 0x2a, 0x5a);
    let cells: Vec<(u16, u16)> = (y..y + 8)
        .flat_map(|y| (130..160).map(move |x| (x, y)))
        .flat_map(|(x, y)| {
            let [upper, lower] = halves(&buf, x, y);
            [(x, 2 * y, upper), (x, 2 * y + 1, lower)]
        })
        .filter_map(|(x, y, color)| (color == plum).then_some((x, y)))
        .collect();
    let span = |all: Vec<u16>| all.iter().max().unwrap() - all.iter().min().unwrap() + 1;
    let wide = span(cells.iter().map(|(x, _)| *x).collect());
    let high = span(cells.iter().map(|(_, y)| *y).collect());
    assert!(high > wide, "3 7/8 x 5 1/8 in: {wide} x {high}\n{text}");
}

#[test]
fn lines_stand_only_where_colors_tell_nothing() {
    let lines = |depth| {
        let bench = Bench::opened().theme(ThemeChoice::Dark, depth).keys("2 j");
        let (buf, _) = bench.draw(160, 50);
        let signs = ["┌", "┐", "└", "┘"];
        (0..50)
            .flat_map(|y| (0..160).map(move |x| (x, y)))
            .filter(|at| signs.contains(&buf[*at].symbol()))
            .count()
    };
    assert_eq!(lines(ColourDepth::True), 0);
    assert!(lines(ColourDepth::None) > 0);
    // Chalk on a light screen is seen by its edge alone.
    let light = Bench::opened().theme(ThemeChoice::Light, ColourDepth::True).keys("3").text(160, 50);
    assert!(light.contains('┌') && light.contains('┘'), "{light}");
}

#[test]
fn a_trio_on_a_card_is_tried_and_each_order_has_names_of_its_own() {
    let text = Bench::opened().keys("3").text(160, 50);
    assert!(text.contains("Tried on bramble note") && !text.contains("  On bramble note"), "{text}");
    assert!(text.contains("fern floor, mustard jar: your note: for the class"), "{text}");
    let title = text.lines().position(|line| line.contains("These papers in other places")).unwrap();
    let rows: Vec<&str> = text.lines().skip(title + 1).take(2).collect();
    let from = text.lines().nth(title).unwrap().find("These papers in").unwrap();
    let names = |row: &str| -> Vec<String> {
        let words = row.get(from..).unwrap_or_default().split("  ").map(str::trim);
        words.filter(|name| !name.is_empty()).map(str::to_owned).collect()
    };
    let pairs: Vec<(String, String)> = names(rows[0]).into_iter().zip(names(rows[1])).collect();
    let mut told = pairs.clone();
    told.sort();
    told.dedup();
    assert!(pairs.len() > 2 && told.len() == pairs.len(), "{pairs:?}\n{text}");
    // The order that is tried is drawn large beside them.
    let tried = ("fern floor".to_owned(), "mustard jar".to_owned());
    assert!(!told.contains(&tried), "{pairs:?}\n{text}");
}

#[test]
fn without_color_a_swatch_says_what_is_held_and_what_it_looks_like() {
    for (width, height) in [(120, 36), (160, 50), (200, 60)] {
        let bench = Bench::opened().theme(ThemeChoice::Auto, ColourDepth::None).keys("3");
        let text = bench.text(width, height);
        for words in ["131 free, cream", "no sheets", "6, leaving"] {
            assert!(text.contains(words), "{words}: {text}");
        }
    }
}

/// A light paper, a dark one and two between them have three hatches where their colors cannot be shown.
#[test]
fn offcuts_of_two_papers_differ_without_color() {
    let bench = Bench::opened().theme(ThemeChoice::Auto, ColourDepth::None).keys("4 ]");
    let text = bench.text(160, 50);
    let drawing: String =
        text.lines().skip(12).map(|line| line.chars().take(78).collect::<String>() + "\n").collect();
    let hatches = ["░", "▒", "·", "▓"].into_iter().filter(|hatch| drawing.contains(hatch)).count();
    // Fern floor and brick dust are as dark as each other, as in every list; puddle dots has its letter.
    assert!(hatches >= 3, "{drawing}");
}

#[test]
fn what_is_made_beside_a_card_tells_scores_from_the_edge_of_the_paper() {
    let text = Bench::opened().keys("2 z m").text(160, 50);
    assert!(text.contains("── edge  ╌╌, dots: score"), "{text}");
    let band = text.lines().position(|line| line.contains("belly band")).unwrap();
    let rows: Vec<&str> = text.lines().skip(band).take(6).collect();
    assert!(rows.iter().any(|row| row.contains('╎')), "a score across the band: {rows:?}");
}

/// The box of a question is as high as its answers.
#[test]
fn a_question_has_no_empty_rows() {
    let text = Bench::opened().keys("2 v v v").text(120, 36);
    let lines: Vec<&str> = text.lines().collect();
    let top = lines.iter().position(|line| line.contains("Where do you mail")).unwrap();
    let foot = lines.iter().skip(top).position(|line| line.contains('└')).unwrap();
    assert!(foot <= 9, "five answers: {foot} rows\n{text}");
}

#[test]
fn the_key_to_the_next_card_is_named_where_there_is_one() {
    for keys in ["2", "2 v", "2 z m"] {
        let text = Bench::opened().keys(keys).text(80, 24);
        assert!(text.lines().nth(23).unwrap_or_default().contains("] next card"), "{keys}: {text}");
    }
    let text = Bench::demo().keys("2").text(160, 50);
    let is_alone = Bench::demo().model.book.active_project().is_none_or(|project| project.cards.len() < 2);
    assert_eq!(text.lines().nth(49).unwrap_or_default().contains("next card"), !is_alone, "{text}");
}

/// Beside what a project needs, what is left once it has that: not what there is for it.
#[test]
fn the_papers_of_a_project_say_what_is_left_after_it() {
    let text = Bench::opened().keys("2").text(160, 50);
    let heading = text.lines().find(|line| line.contains("The project takes")).unwrap();
    assert!(heading.contains("left after") && !heading.contains("free"), "{heading}");
}
