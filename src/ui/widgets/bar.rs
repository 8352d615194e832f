//! A count against a whole, as a bar with a mark. The number always stands beside it: a bar alone says nothing.

use crate::ui::glyphs::Glyphs;

/// A bar of `cells` cells: `count` of `whole`, with `|` at the mark where one is given.
pub fn bar(count: i64, whole: i64, mark: Option<i64>, cells: usize, glyphs: &Glyphs) -> String {
    let share = |n: i64| {
        let n = n.clamp(0, whole.max(1)) as f64 / whole.max(1) as f64;
        (n * cells as f64).round() as usize
    };
    let place = mark.filter(|m| *m > 0).map(|m| (m, share(m).min(cells.saturating_sub(1))));
    // What is below its mark leaves a cell before it, however little is wanting.
    let full = match place {
        Some((m, at)) if count < m => share(count).min(at.saturating_sub(1)),
        _ => share(count),
    };
    let mark = place.map(|(_, at)| at);
    (0..cells)
        .map(|n| match (mark == Some(n), n < full) {
            (true, _) => "|",
            (false, true) => glyphs.bar,
            (false, false) => glyphs.bar_rest,
        })
        .collect()
}

/// So many times the mark fill a bar: the mark stands in one column in every row, a third of the way.
const MARKS: i64 = 3;

/// A bar of what is held against its low mark: what is free first, then what is booked. The mark stands in one column
/// whatever it comes to, so that a glance down a list finds what is short of it; what goes beyond the bar ends in `+`. Where there
/// is no mark there is nothing to set it against, and no bar.
pub fn mark_bar(free: i64, held: i64, mark: i64, cells: usize, glyphs: &Glyphs) -> String {
    if mark <= 0 {
        return " ".repeat(cells);
    }
    let whole = mark.saturating_mul(MARKS);
    let mut bar = held_bar((free, held), whole, mark, cells, glyphs);
    if held > whole && bar.pop().is_some() {
        bar.push('+');
    }
    bar
}

/// A bar of what is held: what is free first, then what is booked, `|` at the mark.
fn held_bar((free, held): (i64, i64), whole: i64, mark: i64, cells: usize, glyphs: &Glyphs) -> String {
    let one = |n: i64| bar(n, whole, Some(mark), cells, glyphs);
    let (free, held) = (one(free), one(held));
    let pairs = free.chars().zip(held.chars());
    pairs.map(|(f, h)| if f == h { f.to_string() } else { glyphs.booked.to_owned() }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ui::glyphs::ASCII;

    #[test]
    fn shows_share_and_mark() {
        assert_eq!(bar(5, 10, None, 10, &ASCII), "#####.....");
        assert_eq!(bar(5, 10, Some(8), 10, &ASCII), "#####...|.");
        assert_eq!(bar(-3, 0, None, 4, &ASCII), "....");
        assert_eq!(bar(99, 10, None, 4, &ASCII), "####");
        assert_eq!(held_bar((3, 6), 10, 8, 10, &ASCII), "###===..|.");
        assert_eq!(held_bar((-2, 4), 10, 0, 10, &ASCII), "====......");
    }

    #[test]
    fn the_mark_stands_in_one_column() {
        // A third of 12 cells is 4: of marks 10 and 200 alike, the fifth cell.
        assert_eq!(mark_bar(5, 5, 10, 12, &ASCII), "##..|.......");
        assert_eq!(mark_bar(400, 400, 200, 12, &ASCII), "####|###....");
        assert_eq!(mark_bar(10, 20, 10, 12, &ASCII), "####|===....");
        assert_eq!(mark_bar(37, 37, 40, 12, &ASCII), "###.|.......", "low by a little is low");
        assert_eq!(mark_bar(99, 99, 10, 12, &ASCII), "####|######+");
        assert_eq!(mark_bar(7, 7, 0, 12, &ASCII), "            ");
        assert_eq!(mark_bar(0, 0, 5, 12, &ASCII), "....|.......");
    }
}
