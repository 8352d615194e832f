//! All text on the screen is measured here, by display columns. Names typed by people are made harmless here too.

pub use crate::domain::harmless::harmless;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Display columns of a text.
pub fn width(text: &str) -> usize {
    // Nearly all that is drawn: a byte is a letter, a letter is a column.
    if text.bytes().all(|b| (b' '..=b'~').contains(&b)) {
        return text.len();
    }
    text.graphemes(true).map(grapheme_width).sum()
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

/// Breaks a sentence into lines of at most `columns`, between words.
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let used = lines.last().map_or(0, |l| width(l));
        if used > 0 && used + 1 + width(word) > columns {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(&fit(word, columns.max(1), "…"));
        }
    }
    lines
}

/// `1 sheet`, `2 sheets`.
pub fn count(n: impl Into<i128>, one: &str, many: &str) -> String {
    let n = n.into();
    format!("{n} {}", if n == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

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

    #[test]
    fn sentences_wrap_between_words() {
        assert_eq!(wrap("set the fence to 3", 8), ["set the", "fence to", "3"]);
    }
}
