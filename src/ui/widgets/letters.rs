//! A name in letters three rows high, for what is read after the large figure: capitals, figures and a few signs. What has
//! another sign in it is for plain writing.

use crate::ui::glyphs::Glyphs;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Rows that a name takes.
pub const ROWS: u16 = 3;
/// Columns of one letter with the gap behind it.
const WIDE: u16 = 6;

/// Six rows of five dots, drawn two rows to a cell.
#[rustfmt::skip]
const LETTERS: [(char, [u8; 6]); 43] = [
    ('A', [0b01110, 0b10001, 0b10001, 0b11111, 0b10001, 0b10001]),
    ('B', [0b11110, 0b10001, 0b11110, 0b10001, 0b10001, 0b11110]),
    ('C', [0b01111, 0b10000, 0b10000, 0b10000, 0b10000, 0b01111]),
    ('D', [0b11110, 0b10001, 0b10001, 0b10001, 0b10001, 0b11110]),
    ('E', [0b11111, 0b10000, 0b11110, 0b10000, 0b10000, 0b11111]),
    ('F', [0b11111, 0b10000, 0b11110, 0b10000, 0b10000, 0b10000]),
    ('G', [0b01111, 0b10000, 0b10000, 0b10011, 0b10001, 0b01111]),
    ('H', [0b10001, 0b10001, 0b11111, 0b10001, 0b10001, 0b10001]),
    ('I', [0b01110, 0b00100, 0b00100, 0b00100, 0b00100, 0b01110]),
    ('J', [0b00111, 0b00001, 0b00001, 0b00001, 0b10001, 0b01110]),
    ('K', [0b10001, 0b10010, 0b11100, 0b10010, 0b10001, 0b10001]),
    ('L', [0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b11111]),
    ('M', [0b10001, 0b11011, 0b10101, 0b10101, 0b10001, 0b10001]),
    ('N', [0b10001, 0b11001, 0b10101, 0b10011, 0b10001, 0b10001]),
    ('O', [0b01110, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('P', [0b11110, 0b10001, 0b10001, 0b11110, 0b10000, 0b10000]),
    ('Q', [0b01110, 0b10001, 0b10001, 0b10101, 0b10010, 0b01101]),
    ('R', [0b11110, 0b10001, 0b10001, 0b11110, 0b10010, 0b10001]),
    ('S', [0b01111, 0b10000, 0b01110, 0b00001, 0b00001, 0b11110]),
    ('T', [0b11111, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100]),
    ('U', [0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('V', [0b10001, 0b10001, 0b10001, 0b01010, 0b01010, 0b00100]),
    ('W', [0b10001, 0b10001, 0b10101, 0b10101, 0b11011, 0b10001]),
    ('X', [0b10001, 0b01010, 0b00100, 0b00100, 0b01010, 0b10001]),
    ('Y', [0b10001, 0b01010, 0b00100, 0b00100, 0b00100, 0b00100]),
    ('Z', [0b11111, 0b00010, 0b00100, 0b01000, 0b10000, 0b11111]),
    ('0', [0b01110, 0b10011, 0b10101, 0b10101, 0b11001, 0b01110]),
    ('1', [0b00100, 0b01100, 0b00100, 0b00100, 0b00100, 0b01110]),
    ('2', [0b11110, 0b00001, 0b00110, 0b01000, 0b10000, 0b11111]),
    ('3', [0b11110, 0b00001, 0b01110, 0b00001, 0b00001, 0b11110]),
    ('4', [0b00110, 0b01010, 0b10010, 0b11111, 0b00010, 0b00010]),
    ('5', [0b11111, 0b10000, 0b11110, 0b00001, 0b00001, 0b11110]),
    ('6', [0b01110, 0b10000, 0b11110, 0b10001, 0b10001, 0b01110]),
    ('7', [0b11111, 0b00001, 0b00010, 0b00100, 0b00100, 0b00100]),
    ('8', [0b01110, 0b10001, 0b01110, 0b10001, 0b10001, 0b01110]),
    ('9', [0b01110, 0b10001, 0b10001, 0b01111, 0b00001, 0b01110]),
    ('-', [0b00000, 0b00000, 0b01110, 0b00000, 0b00000, 0b00000]),
    (',', [0b00000, 0b00000, 0b00000, 0b00000, 0b00100, 0b01000]),
    ('.', [0b00000, 0b00000, 0b00000, 0b00000, 0b00000, 0b00100]),
    ('/', [0b00001, 0b00010, 0b00100, 0b00100, 0b01000, 0b10000]),
    ('\'', [0b00100, 0b00100, 0b00000, 0b00000, 0b00000, 0b00000]),
    ('&', [0b01100, 0b10010, 0b01100, 0b10101, 0b10010, 0b01101]),
    (' ', [0b00000, 0b00000, 0b00000, 0b00000, 0b00000, 0b00000]),
];

/// Columns that a name takes; `None` where it cannot be written so.
pub fn width(name: &str, glyphs: &Glyphs) -> Option<u16> {
    glyphs.halves?;
    let all: Option<Vec<_>> = name.chars().map(dots).collect();
    Some(u16::try_from(all?.len()).ok()?.saturating_mul(WIDE))
}

/// Writes a name at the top left of an area; what does not fit is cut off.
pub fn draw_letters(name: &str, area: Rect, buf: &mut Buffer, glyphs: &Glyphs, style: Style) {
    let Some([upper, lower, both]) = glyphs.halves else { return };
    for (x, rows) in (0..).step_by(usize::from(WIDE)).zip(name.chars().filter_map(dots)) {
        for (y, two) in (0..).zip(rows.chunks(2)) {
            for dot in 0..5_u16 {
                let bit = 0b10000 >> dot;
                let sign = match (two[0] & bit != 0, two[1] & bit != 0) {
                    (true, true) => both,
                    (true, false) => upper,
                    (false, true) => lower,
                    (false, false) => continue,
                };
                if x + dot < area.width && y < area.height {
                    buf.set_string(area.x + x + dot, area.y + y, sign, style);
                }
            }
        }
    }
}

fn dots(letter: char) -> Option<[u8; 6]> {
    let capital = letter.to_uppercase().next()?;
    LETTERS.iter().find(|(c, _)| *c == capital).map(|(_, rows)| *rows)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ui::glyphs::{ASCII, UNICODE};

    #[test]
    fn no_two_letters_look_alike_and_other_signs_are_left_to_plain_writing() {
        for (n, a) in LETTERS.iter().enumerate() {
            assert!(LETTERS.iter().skip(n + 1).all(|b| a.1 != b.1), "{}", a.0);
        }
        assert_eq!(width("fern floor", &UNICODE), Some(60));
        assert_eq!(width("fougère", &UNICODE), None);
        assert_eq!(width("fern", &ASCII), None);
    }
}
