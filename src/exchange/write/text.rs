//! Tables as plain text: columns aligned, numbers to the right, names made harmless. For people who read a pipe.

use crate::domain::harmless::harmless;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// A column: its heading, and whether it holds numbers.
#[derive(Clone, Copy, Debug)]
pub struct TextColumn {
    /// What stands above it.
    pub heading: &'static str,
    /// Numbers stand to the right.
    pub is_number: bool,
    /// It goes where a terminal is too narrow for all columns.
    pub is_minor: bool,
}

impl TextColumn {
    /// The same column, left out first where there is no room.
    #[must_use]
    pub const fn minor(self) -> Self {
        Self { is_minor: true, ..self }
    }
}

/// A column of words.
pub const fn words(heading: &'static str) -> TextColumn {
    TextColumn { heading, is_number: false, is_minor: false }
}

/// A column of numbers.
pub const fn number(heading: &'static str) -> TextColumn {
    TextColumn { heading, is_number: true, is_minor: false }
}

/// A column of words is not cut narrower than this.
const NARROWEST: usize = 12;
/// Blanks between two columns.
const GAP: usize = 2;

/// The table: the line of headings, then a line a row. No line for no rows. Where it is wider than `most` columns of a
/// terminal, its widest columns of words are cut short and end in `…`, numbers never are; where that does not do, minor
/// columns are left out, the last one first.
pub fn lines(columns: &[TextColumn], rows: &[Vec<String>], most: Option<usize>) -> Vec<String> {
    if rows.is_empty() {
        return Vec::new();
    }
    let heading: Vec<String> = columns.iter().map(|c| c.heading.to_owned()).collect();
    let shown: Vec<Vec<String>> = rows.iter().map(|r| r.iter().map(|c| harmless(c)).collect()).collect();
    let lines: Vec<&Vec<String>> = std::iter::once(&heading).chain(&shown).collect();
    let width = |n: usize| lines.iter().filter_map(|l| l.get(n)).map(|c| c.width()).max().unwrap_or(0);
    let mut widths: Vec<usize> = (0..columns.len()).map(width).collect();
    let mut left_out = vec![false; columns.len()];
    if let Some(most) = most {
        left_out = leave_out(columns, &widths, most);
        narrow(columns, &mut widths, &left_out, most);
    }
    let one = |line: &Vec<String>| {
        let all = line.iter().zip(columns).zip(&widths).zip(&left_out);
        let cells = all.filter(|(_, is_out)| !**is_out).map(|(((cell, column), width), _)| {
            let cell = cut(cell, *width);
            let gap = " ".repeat(width.saturating_sub(cell.width()));
            if column.is_number { format!("{gap}{cell}") } else { format!("{cell}{gap}") }
        });
        cells.collect::<Vec<_>>().join(&" ".repeat(GAP)).trim_end().to_owned()
    };
    lines.into_iter().map(one).collect()
}

/// Which columns are left out, so that the rest fits once its words are cut short.
fn leave_out(columns: &[TextColumn], widths: &[usize], most: usize) -> Vec<bool> {
    let least = |n: usize| if columns[n].is_number { widths[n] } else { widths[n].min(NARROWEST) };
    let mut out = vec![false; columns.len()];
    for n in (0..columns.len()).rev().filter(|n| columns[*n].is_minor) {
        let kept = (0..columns.len()).filter(|n| !out[*n]);
        if kept.map(|n| least(n) + GAP).sum::<usize>() <= most + GAP {
            break;
        }
        out[n] = true;
    }
    out
}

/// Takes a column of the terminal at a time from the widest words until the table fits, or nothing more can go.
fn narrow(columns: &[TextColumn], widths: &mut [usize], left_out: &[bool], most: usize) {
    loop {
        let kept = widths.iter().zip(left_out).filter(|(_, is_out)| !**is_out);
        if kept.map(|(width, _)| width + GAP).sum::<usize>() <= most + GAP {
            return;
        }
        let words =
            (0..columns.len()).filter(|n| !columns[*n].is_number && !left_out[*n] && widths[*n] > NARROWEST);
        let Some(widest) = words.max_by_key(|n| widths[*n]) else { return };
        widths[widest] -= 1;
    }
}

/// The text in so many columns; what is cut short ends in `…`.
fn cut(text: &str, columns: usize) -> String {
    if text.width() <= columns {
        return text.to_owned();
    }
    let mut out = String::new();
    for part in text.graphemes(true) {
        if out.width() + part.width() >= columns {
            break;
        }
        out.push_str(part);
    }
    out + "…"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up() {
        let rows = vec![vec!["fern".to_owned(), "4".to_owned()], vec!["紙\n".to_owned(), "120".to_owned()]];
        let columns = [words("name"), number("held")];
        assert_eq!(lines(&columns, &rows, None), ["name  held", "fern     4", "紙·    120"]);
        assert!(lines(&columns, &[], None).is_empty());
    }

    #[test]
    fn words_give_way_where_the_terminal_is_narrow_and_numbers_stay() {
        let row =
            |name: &str, held: &str, state: &str| vec![name.to_owned(), held.to_owned(), state.to_owned()];
        let rows =
            [row("fern floor, letter, hammered", "12", "current"), row("紙紙紙紙紙紙紙紙", "100000", "gone")];
        let columns = [words("name"), number("held"), words("state")];
        let fit = lines(&columns, &rows, Some(32));
        assert_eq!(fit[1], "fern floor, le…      12  current");
        assert!(
            fit.iter().all(|l| l.width() <= 32) && fit[2].contains("紙…") && fit[2].contains("100000"),
            "{fit:?}"
        );
        // Narrower than that nothing gives way any more.
        assert_eq!(lines(&columns, &rows, Some(5))[1], "fern floor,…      12  current");
        // A minor column is left out where all cannot stand, and stays where they can.
        let columns = [words("name"), number("held").minor(), words("state")];
        assert_eq!(lines(&columns, &rows, Some(24))[1], "fern floor, le…  current");
        assert_eq!(lines(&columns, &rows, Some(32))[1], fit[1]);
        assert_eq!(lines(&columns, &rows, Some(200)), lines(&columns, &rows, None));
    }
}
