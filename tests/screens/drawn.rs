//! Drawings of cut sheets as a person reads them: equal pieces look equal, no line bears the number of another, and what is no cut
//! does not look like one.

use super::harness::Bench;
use trimside::app::action::Action;

const SIZES: [(u16, u16); 4] = [(80, 24), (120, 36), (160, 50), (200, 60)];

fn at(keys: &str, (width, height): (u16, u16)) -> Vec<Vec<char>> {
    let mut bench = Bench::opened();
    bench.act(Action::Room(width));
    let text = bench.keys(keys).text(width, height);
    text.lines().map(|line| line.chars().collect()).collect()
}

fn told(rows: &[Vec<char>]) -> String {
    rows.iter().map(|row| row.iter().collect::<String>() + "\n").collect()
}

/// The upper left corner of the first drawing from a column on.
fn corner(rows: &[Vec<char>], from: usize) -> (usize, usize) {
    let find = |row: &Vec<char>| (from..row.len()).find(|x| row[*x] == '┌');
    let (y, x) = rows.iter().enumerate().find_map(|(y, row)| Some((y, find(row)?))).expect("a drawing");
    (x, y)
}

/// The rows in which lines across meet the left edge of a drawing.
fn lines_across(rows: &[Vec<char>], (x, y): (usize, usize)) -> Vec<usize> {
    let edge = |y: &usize| rows.get(*y).and_then(|row| row.get(x)).copied().unwrap_or(' ');
    let last = (y..rows.len()).find(|y| edge(y) == '└').unwrap_or(y);
    (y..=last).filter(|y| edge(y) != '│').collect()
}

/// Four pieces of 4 1/8 x 5 3/8 in with a strip of 1/4 in below them.
#[test]
fn equal_pieces_of_the_answer_are_equally_high() {
    for size in SIZES {
        let rows = at("1 p '4-1/8x5-3/8' Enter c '40' Enter s 'fern' Enter", size);
        let lines = lines_across(&rows, corner(&rows, 0));
        assert_eq!(lines.len(), 4, "{size:?} {lines:?}\n{}", told(&rows));
        assert_eq!(lines[1] - lines[0], lines[2] - lines[1], "{size:?} {lines:?}\n{}", told(&rows));
    }
}

/// 24 pieces of 2 x 3 in on 12 x 12 in: nothing is left over to give the rounding to.
#[test]
fn equal_pieces_of_a_paper_without_waste_are_equally_high_and_wide() {
    for size in &SIZES[1..] {
        let rows = at("1 z p", *size);
        let (x, y) = corner(&rows, 0);
        let lines = lines_across(&rows, (x, y));
        assert_eq!(lines.len(), 5, "{lines:?}\n{}", told(&rows));
        assert!(lines.windows(3).all(|l| l[1] - l[0] == l[2] - l[1]), "{size:?} {lines:?}\n{}", told(&rows));
        let columns: Vec<usize> = (x..rows[y + 1].len()).filter(|x| rows[y + 1][*x] == '│').collect();
        assert_eq!(columns.len(), 7, "{columns:?}\n{}", told(&rows));
        assert!(columns.windows(3).all(|c| c[1] - c[0] == c[2] - c[1]), "{size:?} {columns:?}");
    }
}

/// Strips of 3/4 in, three across: alike, inside the frame, each with its own number or none.
#[test]
fn the_picked_layout_of_a_plan_is_drawn_true_on_the_smallest_screen() {
    let rows = at("1 V", SIZES[0]);
    let (x, y) = corner(&rows, 40);
    let right = (x..80).find(|x| rows[y][*x] == '┐').unwrap();
    let lines: Vec<usize> = (x..=right).filter(|x| rows[y + 1][*x] == '│').collect();
    assert!(lines.len() >= 4, "{lines:?}\n{}", told(&rows));
    assert!(lines[..4].windows(3).all(|c| c[1] - c[0] == c[2] - c[1]), "{lines:?}\n{}", told(&rows));
    let last = (y..rows.len()).find(|y| rows[*y].get(x) == Some(&'└')).unwrap();
    for row in &rows[y..=last] {
        let shade = row.iter().rposition(|sign| *sign == '▒').filter(|at| *at > x && *at < right + 2);
        // A strip without an inside takes the sheet's own edge.
        assert!(shade.is_none_or(|at| at <= right), "left over beyond the sheet\n{}", told(&rows));
        let inside: String = row[x..=right].iter().collect();
        assert!(!inside.contains("22"), "two numbers run together: {inside}\n{}", told(&rows));
    }
}

#[test]
fn layouts_of_one_paper_are_told_apart_by_their_number() {
    let text = told(&at("1 V", SIZES[2]));
    for words in ["2. oat husk, letter", "4. oat husk, letter", " 2. 8 ×", " 4. 8 ×"] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    // Letters say which pattern it is where no color does.
    assert!(!text.contains("│F█") && !text.contains("│D█"), "{text}");
}

/// What steps below the last whole one ask for is told in few words while there are rows, and what is to be minded with it.
#[test]
fn steps_without_room_are_told_in_few_words() {
    let text = told(&at("1 V", SIZES[0]));
    assert!(text.contains("2 fence 3/4: 30 pieces 3/4 x 3 1/2 in. Narrow"), "{text}");
    assert!(text.contains("steel rule"), "{text}");
}

#[test]
fn the_bench_says_how_the_sheet_is_turned_and_tells_the_fence_from_a_cut() {
    for size in SIZES {
        let rows = at("1 b y", size);
        let text = told(&rows);
        assert!(text.contains("fence, top edge; turned a quarter left"), "{size:?}\n{text}");
        let at = text.lines().position(|line| line.contains("turned a quarter left")).unwrap();
        let x = text.lines().nth(at).unwrap().split_once("fence, top").unwrap().0.chars().count();
        for (n, row) in rows.iter().skip(at + 1).take(5).enumerate() {
            assert_eq!(row[x], '▌', "{size:?} row {n}\n{text}");
            assert!(row[x + 1..].contains(&'┃') || n == 0, "{size:?} row {n}\n{text}");
        }
        assert!(text.contains("lay aside as pile B (step 2)."), "{size:?}\n{text}");
        // Each of both parts bears its letter in the same words.
        assert_eq!(text.contains(" pile A  "), text.contains(" pile B  "), "{size:?}\n{text}");
    }
}

/// The first cut of the sheet, heavy, bears its own number alone; those of the second stand on their own lines.
#[test]
fn no_line_bears_the_number_of_another_cut() {
    for size in &SIZES[1..] {
        let rows = at("1 b y", *size);
        let heavy =
            rows.iter().find(|row| row.contains(&'1') && row.iter().filter(|c| **c == '━').count() > 8);
        let heavy: String = heavy.unwrap_or_else(|| panic!("{}", told(&rows))).iter().collect();
        let (_, line) = heavy.split_once('1').unwrap();
        let line: String = line.chars().take_while(|c| *c != ' ').collect();
        assert!(!line.contains('2') && !line.contains('┻'), "{size:?}: {line}\n{}", told(&rows));
    }
}

#[test]
fn the_chart_says_on_which_side_sizes_are_hidden_and_a_larger_window_hides_no_more() {
    let hidden = |size| told(&at("1 v", size)).lines().find(|l| l.contains(" hidden")).map(str::to_owned);
    let small = hidden(SIZES[0]).unwrap();
    assert!(small.contains("widths hidden below"), "{small}");
    assert!(small.contains("heights hidden at the left") && small.contains("at the right"), "{small}");
    assert_eq!((hidden(SIZES[2]), hidden(SIZES[3])), (None, None));
}

#[test]
fn without_color_letters_of_patterns_are_explained_and_what_is_left_over_looks_like_no_paper() {
    use trimside::domain::screen::ThemeChoice;
    use trimside::ui::look::ColourDepth;
    let at = |keys: &str| {
        let mut bench = Bench::opened().theme(ThemeChoice::Auto, ColourDepth::None);
        bench.act(Action::Room(120));
        bench.keys(keys).text(120, 36)
    };
    let papers = at("1 z p");
    for words in ["D dots", "F floral", "S stripes"] {
        assert!(papers.contains(words), "{words}\n{papers}");
    }
    let plan = at("1 V");
    assert!(plan.contains("xxxxx"), "{plan}");
    // With color nothing has to be said.
    let colored = Bench::opened().keys("1 z p").text(120, 36);
    assert!(!colored.contains("F floral"), "{colored}");
}
