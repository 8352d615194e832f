//! Text on its way to a person: names made harmless, heads and marked rows painted, colours beside their codes, long
//! lines wrapped to the terminal. Plain where a file or a program takes it. Knows no answer.
//!
//! Two controls may begin a line of an answer, and only of one that will be painted: [`HEAD`] and [`MARKED`]. Names
//! cannot bring them in, since cells are made harmless before they become lines.

use super::{AnswerLook, Colours};
use crate::domain::harmless::harmless;
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

/// Begins a line of column heads.
pub const HEAD: char = '\u{1}';
/// Begins a row that asks for attention: low, late, short. Its words say so too.
pub const MARKED: char = '\u{2}';
/// Lines are not wrapped narrower than this.
const NARROWEST: usize = 20;

/// The whole text as the person's terminal or file gets it.
pub fn shown(text: &str, look: AnswerLook) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let (line, end) = line.strip_suffix('\n').map_or((line, ""), |line| (line, "\n"));
        let (start, rest) = match (look.colours, line.chars().next()) {
            (Colours::None, _) => ("", line),
            (_, Some(HEAD)) => ("\u{1b}[1m", line.trim_start_matches(HEAD)),
            (_, Some(MARKED)) => ("\u{1b}[33m", line.trim_start_matches(MARKED)),
            _ => ("", line),
        };
        let rest = harmless(rest);
        let lines = match look.columns {
            Some(columns) => {
                // Each patch takes three columns of its own.
                let patches = if look.colours == Colours::Any { 3 * rest.matches('#').count() } else { 0 };
                wrapped(&rest, columns.saturating_sub(patches).max(NARROWEST))
            }
            None => vec![rest],
        };
        let painted = lines.iter().map(|line| {
            if start.is_empty() { patched(line, look.colours) } else { format!("{start}{line}\u{1b}[0m") }
        });
        out.push_str(&painted.collect::<Vec<_>>().join("\n"));
        out.push_str(end);
    }
    out
}

/// A line broken between words; what follows is set in two columns more than the line itself.
fn wrapped(line: &str, columns: usize) -> Vec<String> {
    if line.width() <= columns {
        return vec![line.to_owned()];
    }
    let indent = line.chars().take_while(|c| *c == ' ').count();
    let hang = " ".repeat((indent + 2).min(columns / 2));
    let mut lines = Vec::new();
    let mut now = String::new();
    // Blanks before a word belong to it, so that what was aligned stays so on its line.
    for word in line.split_inclusive(' ') {
        if !now.trim().is_empty() && now.width() + word.trim_end().width() > columns {
            lines.push(now.trim_end().to_owned());
            now.clone_from(&hang);
        }
        now.push_str(word);
    }
    lines.push(now.trim_end().to_owned());
    lines
}

/// The line with a patch of its color before each code such as `#4f7942`.
fn patched(line: &str, colours: Colours) -> String {
    if colours != Colours::Any {
        return line.to_owned();
    }
    let mut parts = line.split('#');
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let code: String = part.chars().take_while(char::is_ascii_hexdigit).collect();
        if let Some([_, r, g, b]) =
            u32::from_str_radix(&code, 16).ok().filter(|_| code.len() == 6).map(u32::to_be_bytes)
        {
            let _ = write!(out, "\u{1b}[48;2;{r};{g};{b}m  \u{1b}[0m ");
        }
        out.push('#');
        out.push_str(part);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAIN: AnswerLook = AnswerLook { pretty: false, colours: Colours::None, columns: None };

    #[test]
    fn a_pipe_gets_what_was_written_and_nothing_hostile() {
        let text = "name  #4f7942\n  \u{1b}[31mred\u{1}\nlast";
        assert_eq!(shown(text, PLAIN), "name  #4f7942\n  ·[31mred·\nlast");
        let long = "word ".repeat(60);
        assert_eq!(shown(&long, PLAIN), long);
    }

    #[test]
    fn heads_and_marked_rows_are_painted_to_their_end_alone() {
        let look = AnswerLook { colours: Colours::Sixteen, ..PLAIN };
        let text = format!("{HEAD}name  held\n{MARKED}fern  1\nmoss  9 #4f7942\nits {HEAD} name\n");
        let said = "\u{1b}[1mname  held\u{1b}[0m\n\u{1b}[33mfern  1\u{1b}[0m\nmoss  9 #4f7942\nits · name\n";
        assert_eq!(shown(&text, look), said);
    }

    #[test]
    fn a_code_of_a_colour_gets_a_patch_where_all_colours_are_there() {
        let look = AnswerLook { colours: Colours::Any, ..PLAIN };
        assert_eq!(
            shown("a #4f7942 #12 #1234567", look),
            "a \u{1b}[48;2;79;121;66m  \u{1b}[0m #4f7942 #12 #1234567"
        );
        assert_eq!(shown("#é #+12345 #", look), "#é #+12345 #");
    }

    #[test]
    fn long_lines_break_between_words_and_hang() {
        let look = AnswerLook { columns: Some(24), ..PLAIN };
        assert_eq!(
            shown("  1. fence 2 in: the top edge of it\n", look),
            "  1. fence 2 in: the top\n    edge of it\n"
        );
        assert_eq!(shown(&"x".repeat(60), look), "x".repeat(60));
        for line in shown("紙 紙紙紙 紙紙紙紙紙 紙紙紙紙 紙紙紙 紙 and more of it", look).lines()
        {
            assert!(line.width() <= 24, "{line}");
        }
    }
}
