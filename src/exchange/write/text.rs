//! Tables as plain text: columns aligned, numbers to the right, names made harmless. For people who read a pipe.

use crate::domain::harmless::harmless;
use unicode_width::UnicodeWidthStr;

/// A column: its heading, and whether it holds numbers.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// What stands above it.
    pub heading: &'static str,
    /// Numbers stand to the right.
    pub is_number: bool,
}

/// A column of words.
pub const fn words(heading: &'static str) -> Column {
    Column { heading, is_number: false }
}

/// A column of numbers.
pub const fn number(heading: &'static str) -> Column {
    Column { heading, is_number: true }
}

/// The table, a line a row under one of headings. Empty text for no rows.
pub fn table(columns: &[Column], rows: &[Vec<String>]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let heading: Vec<String> = columns.iter().map(|c| c.heading.to_owned()).collect();
    let shown: Vec<Vec<String>> = rows.iter().map(|r| r.iter().map(|c| harmless(c)).collect()).collect();
    let lines: Vec<&Vec<String>> = std::iter::once(&heading).chain(&shown).collect();
    let width = |n: usize| lines.iter().filter_map(|l| l.get(n)).map(|c| c.width()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns.len()).map(width).collect();
    let mut out = String::new();
    for line in lines {
        let cells = line.iter().zip(columns).zip(&widths).map(|((cell, column), width)| {
            let gap = " ".repeat(width.saturating_sub(cell.width()));
            if column.is_number { format!("{gap}{cell}") } else { format!("{cell}{gap}") }
        });
        out.push_str(cells.collect::<Vec<_>>().join("  ").trim_end());
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up() {
        let rows = vec![vec!["fern".to_owned(), "4".to_owned()], vec!["紙\n".to_owned(), "120".to_owned()]];
        assert_eq!(table(&[words("name"), number("held")], &rows), "name  held\nfern     4\n紙·    120\n");
        assert_eq!(table(&[words("name")], &[]), "");
    }
}
