//! Frames for a console that carries control sequences out and counts them as signs all the same, as Wine's does: for it a
//! row is full long before it is, and it would go to the next one in the middle of a sequence. Knows no console.
//!
//! What goes out is cut into pieces that fit a row by its count. Each begins with a return to the left end, where the
//! count begins anew, and with the way to its place.

use std::fmt::Write;
use unicode_width::UnicodeWidthChar;

/// Text and sequences in pieces, each to be written by itself. A sequence that fits no row is left out: a copy to the
/// clipboard may be such a one.
pub fn pieces(text: &str, columns: usize) -> Vec<String> {
    let mut cutter = Cutter {
        room: columns.saturating_sub(1 + SAVE.len()),
        place: None,
        piece: String::new(),
        all: Vec::new(),
    };
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = if first == ESCAPE { sequence(rest) } else { first.len_utf8() };
        let (token, after) = rest.split_at(length);
        cutter.take(token, first);
        rest = after;
    }
    cutter.end();
    cutter.all
}

const ESCAPE: char = '\u{1b}';
/// A sequence that shows nothing: the place is kept in mind. Where a piece ends in blanks, such a console has the rest of
/// the row cleared.
const SAVE: &str = "\u{1b}7";

/// Bytes of the sequence that the text begins with.
fn sequence(text: &str) -> usize {
    let mut signs = text.char_indices().skip(1);
    let end = match signs.next() {
        Some((_, '[')) => signs.find(|(_, c)| ('@'..='~').contains(c)),
        Some((_, ']')) => signs.find(|(_, c)| matches!(c, '\u{7}' | '\\')),
        other => other,
    };
    end.map_or(text.len(), |(at, c)| at + c.len_utf8())
}

/// Row and column of a sequence that goes to a place.
fn place_of(token: &str) -> Option<(usize, usize)> {
    let (row, column) = token.strip_prefix("\u{1b}[")?.strip_suffix('H')?.split_once(';')?;
    Some((row.parse().ok()?, column.parse().ok()?))
}

struct Cutter {
    /// What a piece may count.
    room: usize,
    /// Where the next sign goes, once it is known.
    place: Option<(usize, usize)>,
    piece: String,
    all: Vec<String>,
}

impl Cutter {
    fn take(&mut self, token: &str, first: char) {
        if self.piece.is_empty() || counted(&self.piece) + counted(token) > self.room {
            self.begin();
        }
        if counted(&self.piece) + counted(token) > self.room {
            return;
        }
        self.piece.push_str(token);
        if first == ESCAPE {
            self.place = place_of(token).or(self.place);
        } else if first == '\n' {
            self.place = None;
            self.end();
        } else if let Some((_, column)) = &mut self.place {
            *column += first.width().unwrap_or(0);
        }
    }

    fn begin(&mut self) {
        self.end();
        self.piece.push('\r');
        if let Some((row, column)) = self.place {
            // Writing to a text cannot fail.
            let _ = write!(self.piece, "\u{1b}[{row};{column}H");
        }
    }

    fn end(&mut self) {
        let mut piece = std::mem::take(&mut self.piece);
        if piece.ends_with(' ') {
            piece.push_str(SAVE);
        }
        if !piece.is_empty() {
            self.all.push(piece);
        }
    }
}

/// What the console counts, at most: a cell for every unit, two for what it takes for wide.
fn counted(text: &str) -> usize {
    text.chars()
        .filter(|c| !matches!(c, '\r' | '\n'))
        .map(|c| c.len_utf16().max(c.width().unwrap_or(1)))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(bytes: &str) -> vt100::Parser {
        let mut screen = vt100::Parser::new(6, 30, 0);
        screen.process(bytes.as_bytes());
        screen
    }

    #[test]
    fn a_frame_in_pieces_is_the_same_frame_and_no_piece_fills_a_row() {
        let mut frame = "\u{1b}[?2026h\u{1b}[0m\u{1b}[2J".to_owned();
        for row in 1..=6 {
            let colour = row * 30;
            let _ =
                write!(frame, "\u{1b}[{row};1H\u{1b}[0;38;2;{colour};9;9;48;5;{row}mrow {row} ½ ──┌┐ 紙 é");
            let _ = write!(frame, "\u{1b}[0;1m and on\u{1b}[{row};28H\u{1b}[0;7mend");
        }
        frame.push_str("\u{1b}[0m\u{1b}[3;4H\u{1b}[?25h\u{1b}[?2026l");
        for columns in [40, 41, 60, 80, 200] {
            let pieces = pieces(&frame, columns);
            assert!(
                pieces.iter().all(|piece| piece.starts_with('\r') && counted(piece) < columns),
                "{columns}"
            );
            assert!(pieces.iter().all(|piece| !piece.ends_with(' ')), "{columns}");
            let (whole, cut) = (shown(&frame), shown(&pieces.concat()));
            assert_eq!(cut.screen().state_formatted(), whole.screen().state_formatted(), "{columns}");
        }
        assert!(pieces(&frame, 40).len() > pieces(&frame, 200).len());
    }

    #[test]
    fn a_sequence_that_fits_no_row_is_left_out_and_lines_go_on() {
        let copy = format!("\u{1b}]52;c;{}\u{7}", "A".repeat(100));
        assert_eq!(pieces(&format!("a{copy}b "), 20), ["\ra", "\rb \u{1b}7"]);
        assert_eq!(pieces("\u{1b}]0;title\u{1b}\\one\ntwo", 40), ["\r\u{1b}]0;title\u{1b}\\one\n", "\rtwo"]);
        assert!(pieces("", 20).is_empty());
        // Cut off in the middle: handed on as it is.
        assert_eq!(pieces("x\u{1b}[3", 20), ["\rx\u{1b}[3"]);
    }
}
