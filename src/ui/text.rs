//! All text on the screen is measured here, by display columns. Names typed by people are made harmless here too.

pub use crate::domain::harmless::harmless;
use crate::domain::harmless::is_plain;
use crate::domain::plural::counted;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Display columns of a text.
pub fn width(text: &str) -> usize {
    // Nearly all that is drawn: a byte is a letter, a letter is a column.
    if is_plain(text) {
        return text.len();
    }
    columns_of_letters(text).unwrap_or_else(|| text.graphemes(true).map(grapheme_width).sum())
}

/// The columns of a text whose letters all stand alone in a column of their own; `None` where one may not.
fn columns_of_letters(text: &str) -> Option<usize> {
    let mut columns = 0;
    for letter in text.chars() {
        if !is_one_column(letter) {
            return None;
        }
        columns += 1;
    }
    Some(columns)
}

/// True for letters of Latin script, dashes, lines and blocks, which join with nothing beside them.
const fn is_one_column(letter: char) -> bool {
    matches!(letter, ' '..='~' | '\u{A0}'..='\u{AC}' | '\u{AE}'..='\u{17F}' | '\u{2010}'..='\u{2027}' | '\u{2500}'..='\u{259F}')
}

fn grapheme_width(g: &str) -> usize {
    g.width().min(2)
}

/// Cuts a text to `columns`, ending in `ellipsis` where something was cut off.
pub fn fit(text: &str, columns: usize, ellipsis: &str) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let mark = width(ellipsis);
    let room = columns.saturating_sub(mark);
    let (mut out, mut used) = (String::new(), 0);
    for g in text.graphemes(true) {
        let w = grapheme_width(g);
        if used + w > room {
            break;
        }
        out.push_str(g);
        used += w;
    }
    if columns >= mark {
        out.push_str(ellipsis);
    }
    out
}

/// Fits a text and fills it up with spaces on the right.
pub fn left(text: &str, columns: usize, ellipsis: &str) -> String {
    let text = fit(text, columns, ellipsis);
    let gap = columns.saturating_sub(width(&text));
    text + &" ".repeat(gap)
}

/// Fits a text and fills it up with spaces on the left.
pub fn right(text: &str, columns: usize, ellipsis: &str) -> String {
    let text = fit(text, columns, ellipsis);
    " ".repeat(columns.saturating_sub(width(&text))) + &text
}

/// Fits a text in the middle.
pub fn centre(text: &str, columns: usize, ellipsis: &str) -> String {
    let text = fit(text, columns, ellipsis);
    let gap = columns.saturating_sub(width(&text));
    " ".repeat(gap / 2) + &text + &" ".repeat(gap - gap / 2)
}

/// The words of a text. A measure is one of them (`3 15/16 x 5 in`), since half of one reads as another, and a number with what it
/// counts (`16 exact fits` keeps `16 exact`), unless a line has no room for it.
fn unbroken(text: &str, columns: usize) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(last) if is_one(last, word) && width(last) + 1 + width(word) <= columns => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// True where a word belongs to the words before it.
fn is_one(before: &str, word: &str) -> bool {
    is_one_measure(before, word) || is_counted(before, word)
}

/// True where a word is what the number before it counts, or its percent sign.
fn is_counted(before: &str, word: &str) -> bool {
    let number = before.trim_start_matches(['(', '~', '$', '+', '-']);
    let is_number = !number.is_empty() && number.chars().all(|c| c.is_ascii_digit());
    is_number && (word.starts_with('%') || word.starts_with(char::is_lowercase))
}

/// True where a word goes on with the measure that the words before it end in.
fn is_one_measure(before: &str, word: &str) -> bool {
    let last = before.rsplit(' ').next().unwrap_or_default().trim_start_matches(['(', '~']);
    let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
    let is_figure = |text: &str| {
        text.starts_with(|c: char| c.is_ascii_digit())
            && text.chars().all(|c| c.is_ascii_digit() || c == '/' || c == '.')
    };
    match bare {
        "x" | "in" | "mm" => is_figure(last),
        _ if last == "x" => is_figure(bare),
        _ => {
            bare.contains('/')
                && is_figure(bare)
                && last.chars().all(|c| c.is_ascii_digit())
                && !last.is_empty()
        }
    }
}

/// Breaks a sentence into lines of at most `columns`, between words.
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut used = 0;
    for word in unbroken(text, columns) {
        let word = fit(&word, columns.max(1), "…");
        let wide = width(&word);
        if breaks(used, wide, columns) {
            lines.push(String::new());
            used = 0;
        }
        if let Some(line) = lines.last_mut() {
            if used > 0 {
                line.push(' ');
            }
            line.push_str(&word);
        }
        used += wide + usize::from(used > 0);
    }
    lines
}

/// How many lines [`wrap`] makes, without making them.
pub fn rows(text: &str, columns: usize) -> usize {
    let (mut rows, mut used) = (1, 0);
    for word in unbroken(text, columns) {
        let wide = width(&word).min(columns.max(1));
        if breaks(used, wide, columns) {
            (rows, used) = (rows + 1, 0);
        }
        used += wide + usize::from(used > 0);
    }
    rows
}

/// Whether a word begins a new line, after so many columns of the line before it.
const fn breaks(used: usize, word: usize, columns: usize) -> bool {
    used > 0 && used + 1 + word > columns
}

/// How many rows have no room, behind the heading of a list; nothing where all have.
pub fn hidden(rows: usize) -> String {
    if rows == 0 { String::new() } else { format!("  {rows} hidden") }
}

/// `1 sheet`, `2 sheets`.
pub fn count(n: impl Into<u64>, one: &str, many: &str) -> String {
    counted(n.into(), one, many)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At every width a number stands with what it counts, wherever both fit on a line.
    #[test]
    fn a_number_keeps_what_it_counts() {
        let text = "At the trimmer: 15 fence moves, 10 settings, 155 strokes, 16 exact fits; 76 % used, 2 offcuts to keep (3 cuts each).";
        for columns in 12..100 {
            let lines = wrap(text, columns);
            assert_eq!(lines.join(" "), text, "{columns}");
            assert_eq!(lines.len(), rows(text, columns), "{columns}");
            for line in &lines[..lines.len() - 1] {
                let last = line.rsplit(' ').next().unwrap_or_default().trim_start_matches('(');
                assert!(last.parse::<u32>().is_err(), "{columns}: {line}");
            }
        }
    }

    #[test]
    fn wide_and_combining_text_keeps_its_columns() {
        for text in ["fern", "紙の色", "e\u{301}te\u{301}", "a👩‍🌾b", ""] {
            for columns in 0..12 {
                assert_eq!(width(&left(text, columns, "…")), columns, "{text} {columns}");
                assert_eq!(width(&right(text, columns, "…")), columns, "{text} {columns}");
                assert_eq!(width(&centre(text, columns, "…")), columns, "{text} {columns}");
            }
        }
        assert_eq!(fit("cardstock", 5, "…"), "card…");
    }

    /// Beside each other and with a mark or a joiner between them they are as wide as cluster by cluster.
    #[test]
    fn letters_of_one_column_are_measured_as_clusters_are() {
        let slowly = |text: &str| text.graphemes(true).map(grapheme_width).sum::<usize>();
        let all: Vec<char> = ('\0'..='\u{2600}').filter(|c| is_one_column(*c)).collect();
        assert!(all.len() > 500);
        for c in &all {
            for text in [format!("a{c}{c}b"), format!("{c}\u{301}{c}"), format!("{c}\u{200D}{c}\u{FE0F}")] {
                assert_eq!(width(&text), slowly(&text), "{text:?}");
            }
        }
        let whole: String = all.iter().collect();
        assert_eq!((width(&whole), slowly(&whole)), (all.len(), all.len()));
    }

    #[test]
    fn measures_stay_on_one_line() {
        let text = "Cut 3 15/16 x 5 in before the base, then 1 1/2 in.";
        assert_eq!(wrap(text, 16), ["Cut", "3 15/16 x 5 in", "before the base,", "then 1 1/2 in."]);
        for columns in 1..40 {
            assert_eq!(rows(text, columns), wrap(text, columns).len(), "{columns}");
        }
        assert_eq!(wrap("10 1/2 x 11", 6), ["10 1/2", "x 11"], "no line has room for all of it");
    }

    #[test]
    fn sentences_wrap_between_words() {
        assert_eq!(wrap("set the fence to 3", 8), ["set the", "fence to", "3"]);
    }

    #[test]
    fn lines_are_counted_as_they_are_made() {
        let texts =
            ["", "set the fence to 3", "a 紙の色を切る紙の色を切る b", "  two   gaps ", "averyverylongword"];
        for text in texts {
            for columns in 0..20 {
                let lines = wrap(text, columns);
                assert_eq!(rows(text, columns), lines.len(), "{text} {columns}");
                assert!(columns == 0 || lines.iter().all(|l| width(l) <= columns), "{text} {columns}");
            }
        }
    }
}
