//! What is set apart without color: boxes from the page under them, keys of which one is enough from keys that are pressed in turn.

use super::harness::Bench;
use ratatui::style::Modifier;
use trimside::app::commands::CommandId;
use trimside::domain::screen::ThemeChoice;
use trimside::ui::look::ColourDepth;

/// Rows of a screen as signs, so that columns can be counted.
fn rows(bench: &Bench, size: (u16, u16)) -> Vec<Vec<char>> {
    bench.text(size.0, size.1).lines().map(|line| line.chars().collect()).collect()
}

/// The corners of the box on a screen: the column and row of the first, and those of the last.
fn corners(rows: &[Vec<char>], signs: [char; 2]) -> Option<((usize, usize), (usize, usize))> {
    let find = |sign: char| {
        let mut at =
            rows.iter().enumerate().filter_map(|(y, row)| Some((row.iter().position(|c| *c == sign)?, y)));
        at.next()
    };
    Some((find(signs[0])?, find(signs[1])?))
}

/// A blank margin lies round every box where the page goes on beside it, and its frame is heavy where faint words look like any
/// others.
#[test]
fn a_box_is_set_apart_without_color_too() {
    for (theme, signs) in [(ThemeChoice::Mono, ['┏', '┛']), (ThemeChoice::Terminal, ['┌', '┘'])] {
        for keys in ["4 n", "4 ?", "4 F4"] {
            let bench = Bench::opened().theme(theme, ColourDepth::True).keys(keys);
            assert!(!bench.model.overlays.is_empty(), "{keys}");
            let rows = rows(&bench, (160, 50));
            let ((left, top), (right, foot)) =
                corners(&rows, signs).unwrap_or_else(|| panic!("{theme:?} {keys}\n{}", bench.text(160, 50)));
            assert!(right > left + 20 && foot > top, "{theme:?} {keys}");
            let sign = |x: usize, y: usize| rows[y].get(x).copied().unwrap_or(' ');
            for y in top..=foot {
                for x in [left - 1, left - 2, right + 1, right + 2] {
                    assert_eq!(sign(x, y), ' ', "{theme:?} {keys}: {x},{y}\n{}", bench.text(160, 50));
                }
            }
            // The page lies between the rows of the header and the last two.
            for y in [top - 1, foot + 1].into_iter().filter(|y| (2..48).contains(y)) {
                assert!((left..=right).all(|x| sign(x, y) == ' '), "{theme:?} {keys}: row {y}");
            }
        }
    }
}

/// Help says `p or Enter` of two ways to press a command, `z e` of two keys in turn; each key is drawn as one, what stands between
/// them is not.
#[test]
fn ways_to_press_a_command_differ_from_keys_in_turn() {
    let bench = Bench::demo().keys("1 ?");
    let (buf, _) = bench.draw(120, 36);
    let row_of = |words: &str| {
        let row = |y: u16| (0..120).map(|x| buf[(x, y)].symbol()).collect::<String>();
        let y = (0..36).find(|y| row(*y).contains(words));
        let y = y.unwrap_or_else(|| panic!("{words}\n{}", bench.text(120, 36)));
        let x = row(y).split_once(words).unwrap().0.chars().count() as u16;
        (x, y)
    };
    let is_key = |(x, y): (u16, u16), n: u16| buf[(x + n, y)].modifier.contains(Modifier::UNDERLINED);
    let at = row_of("p or Enter ");
    assert!(is_key(at, 0) && is_key(at, 5), "both are keys");
    assert!((1..5).all(|n| !is_key(at, n)), "what stands between them is none");
    let at = row_of("z e  ");
    assert!(is_key(at, 0) && !is_key(at, 1) && is_key(at, 2));
    assert_eq!(bench.model.keymap.shown_text(CommandId::PreviousPane), "Shift-Tab");
}

/// Tables that are only looked at are named by a heading as strong as the titles beside them.
#[test]
fn tables_that_are_looked_at_are_named_by_a_title() {
    let bench = Bench::opened().keys("4 [ [ j Enter");
    let (buf, _) = bench.draw(160, 50);
    for words in ["item", "kit of a seat", "what is due", "money"] {
        let row = |y: u16| (0..160).map(|x| buf[(x, y)].symbol()).collect::<String>();
        let y = (4..50).find(|y| row(*y).contains(words)).unwrap_or_else(|| panic!("{words}"));
        let x = row(y).split_once(words).unwrap().0.chars().count() as u16;
        let looks = buf[(x, y)].modifier;
        assert!(
            looks.contains(Modifier::BOLD) && !looks.contains(Modifier::DIM),
            "{words}\n{}",
            bench.text(160, 50)
        );
    }
    let column = |words: &str| {
        let shown = bench.text(160, 50);
        let line = shown.lines().skip(4).find(|line| line.contains(words)).unwrap();
        line.split_once(words).unwrap().0.chars().count()
    };
    assert_eq!(column("item "), column("how it is cut"), "their words stand flush");
    assert_eq!(column("kit of a seat"), column("how it is cut"));
    let shelf = Bench::opened().keys("4");
    let (buf, _) = shelf.draw(160, 50);
    assert!(
        !buf[(2, 4)].modifier.contains(Modifier::BOLD),
        "a list that has the cursor has its tab for a title"
    );
}
