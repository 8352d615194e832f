//! A size in figures large enough to read across a table. Whole numbers stand seven rows high; a fraction is small and
//! stacked, with its own bar, so that 5 1/4, 51/4 and 5 3/4 cannot be taken for each other.

use crate::domain::length::{Length, Unit};
use crate::ui::glyphs::Glyphs;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Rows that a figure takes.
pub const ROWS: u16 = 7;
/// Columns of the screen for one dot of a large figure: a cell is about half as wide as high.
const DOT: u16 = 2;

/// Large figures: seven rows of five dots each, the highest bit at the left.
const LARGE: [(char, [u8; 7]); 11] = [
    ('0', [0b01110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('1', [0b00100, 0b01100, 0b00100, 0b00100, 0b00100, 0b00100, 0b01110]),
    ('2', [0b01110, 0b10001, 0b00001, 0b00110, 0b01000, 0b10000, 0b11111]),
    ('3', [0b11110, 0b00001, 0b00001, 0b01110, 0b00001, 0b00001, 0b11110]),
    ('4', [0b00010, 0b00110, 0b01010, 0b10010, 0b11111, 0b00010, 0b00010]),
    ('5', [0b11111, 0b10000, 0b11110, 0b00001, 0b00001, 0b10001, 0b01110]),
    ('6', [0b00110, 0b01000, 0b10000, 0b11110, 0b10001, 0b10001, 0b01110]),
    ('7', [0b11111, 0b00001, 0b00010, 0b00100, 0b01000, 0b01000, 0b01000]),
    ('8', [0b01110, 0b10001, 0b10001, 0b01110, 0b10001, 0b10001, 0b01110]),
    ('9', [0b01110, 0b10001, 0b10001, 0b01111, 0b00001, 0b00010, 0b01100]),
    ('.', [0b00000, 0b00000, 0b00000, 0b00000, 0b00000, 0b01100, 0b01100]),
];

/// Small figures: six rows of four dots each, drawn two rows to a cell.
const SMALL: [[u8; 6]; 10] = [
    [0b0110, 0b1001, 0b1001, 0b1001, 0b1001, 0b0110],
    [0b0010, 0b0110, 0b0010, 0b0010, 0b0010, 0b0111],
    [0b1110, 0b0001, 0b0010, 0b0100, 0b1000, 0b1111],
    [0b1110, 0b0001, 0b0110, 0b0001, 0b0001, 0b1110],
    [0b0010, 0b0110, 0b1010, 0b1111, 0b0010, 0b0010],
    [0b1111, 0b1000, 0b1110, 0b0001, 0b0001, 0b1110],
    [0b0110, 0b1000, 0b1110, 0b1001, 0b1001, 0b0110],
    [0b1111, 0b0001, 0b0010, 0b0010, 0b0100, 0b0100],
    [0b0110, 0b1001, 0b0110, 0b1001, 0b1001, 0b0110],
    [0b0110, 0b1001, 0b1001, 0b0111, 0b0001, 0b0110],
];

/// What figures are drawn with: where, in which signs and style.
#[derive(Debug)]
pub struct DigitPen<'a> {
    /// The area that they stay in.
    pub area: Rect,
    /// The cells of the screen.
    pub buf: &'a mut Buffer,
    /// The signs that the terminal has.
    pub glyphs: &'a Glyphs,
    /// How they look.
    pub style: Style,
}

impl DigitPen<'_> {
    /// A sign so many columns and rows inside the area; nothing outside it.
    fn put(&mut self, x: u16, y: u16, sign: &str) {
        if x < self.area.width && y < self.area.height {
            self.buf.set_string(self.area.x + x, self.area.y + y, sign, self.style);
        }
    }
}

/// What is written large: the whole part (or a decimal), and the fraction apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Digits {
    /// Large figures and the decimal point.
    pub whole: String,
    /// Numerator and denominator.
    pub fraction: Option<(String, String)>,
}

impl Digits {
    /// A length in a unit: inches as a mixed number to the nearest 64th, millimetres as everywhere.
    pub fn of_length(length: Length, unit: Unit) -> Self {
        let text = length.about(unit);
        let text = text.trim_start_matches('~');
        let (whole, fraction) = match text.split_once(' ') {
            Some((whole, fraction)) => (whole, Some(fraction)),
            None if text.contains('/') => ("", Some(text)),
            None => (text, None),
        };
        let fraction = fraction.and_then(|f| f.split_once('/')).map(|(n, d)| (n.to_owned(), d.to_owned()));
        Self { whole: whole.to_owned(), fraction }
    }

    /// A count.
    pub fn of_count(n: u64) -> Self {
        Self { whole: n.to_string(), fraction: None }
    }

    /// Columns that it takes at so many rows, seven or more.
    pub fn width_at(&self, rows: u16) -> u16 {
        if rows <= ROWS {
            return self.width();
        }
        let large = self.whole.chars().map(|c| scaled(large_width(c), rows)).sum::<u16>();
        let small = self.fraction.as_ref().map_or(0, |(n, d)| {
            let wide = |text: &str| text.chars().count() as u16 * scaled(SMALL_WIDE, rows);
            wide(n).max(wide(d)) + 2
        });
        large + small
    }

    /// The most rows, up to a limit, at which it is no wider than so many columns; seven where nothing larger fits.
    pub fn rows_within(&self, rows: u16, columns: u16) -> u16 {
        (ROWS..=rows).rev().find(|&rows| self.width_at(rows) <= columns).unwrap_or(ROWS)
    }

    /// Draws it at so many rows at the top left of an area; what does not fit is cut off.
    pub fn draw_at(&self, rows: u16, ink: &mut DigitPen<'_>) {
        if rows <= ROWS {
            return self.draw(ink);
        }
        let mut x = 0;
        for c in self.whole.chars() {
            if let Some((_, dots)) = LARGE.iter().find(|(name, _)| *name == c) {
                let spot = Rect::new(x, 0, scaled(5 * DOT, rows), rows);
                blow_up((dots, 5), spot, ink);
            }
            x += scaled(large_width(c), rows);
        }
        if let Some((n, d)) = &self.fraction {
            let one = scaled(SMALL_WIDE, rows);
            let wide = |text: &str| text.chars().count() as u16 * one;
            let (width, high) = (wide(n).max(wide(d)), rows * 3 / ROWS);
            for (text, y) in [(n, 0), (d, rows - high)] {
                let mut at = x + (width - wide(text)) / 2;
                for dots in text.chars().filter_map(|c| SMALL.get(c.to_digit(10)? as usize)) {
                    let spot = Rect::new(at, y, scaled(4, rows), high);
                    blow_up((dots, 4), spot, ink);
                    at += one;
                }
            }
            let (bar, thick) = (high + (rows - 2 * high) / 2, (rows / 14).max(1));
            let sign = if thick == 1 { ink.glyphs.heavy[10] } else { ink.glyphs.ink };
            for y in bar..(bar + thick).min(rows - high) {
                for dx in 0..width.saturating_sub(1) {
                    ink.put(x + dx, y, sign);
                }
            }
        }
    }

    /// Columns that it takes.
    pub fn width(&self) -> u16 {
        let large = self.whole.chars().map(large_width).sum::<u16>();
        let small = self.fraction.as_ref().map_or(0, |(n, d)| small_width(n).max(small_width(d)) + 1);
        large + small
    }

    /// Draws it at the top left of an area; what does not fit is cut off.
    pub fn draw(&self, ink: &mut DigitPen<'_>) {
        let mut x = 0;
        for c in self.whole.chars() {
            large(c, x, ink);
            x += large_width(c);
        }
        if let Some((n, d)) = &self.fraction {
            let width = small_width(n).max(small_width(d));
            small(n, x + (width - small_width(n)) / 2, 0, ink);
            for dx in 0..width.saturating_sub(1) {
                ink.put(x + dx, 3, ink.glyphs.heavy[10]);
            }
            small(d, x + (width - small_width(d)) / 2, 4, ink);
        }
    }
}

/// Columns of one small figure with the gap behind it.
const SMALL_WIDE: u16 = 5;

/// Columns at seven rows, at another height.
fn scaled(columns: u16, rows: u16) -> u16 {
    (u32::from(columns) * u32::from(rows)).div_ceil(u32::from(ROWS)) as u16
}

/// Draws rows of dots as large as a spot of the area is: where the signs have halves, in steps of half a row.
fn blow_up((dots, across): (&[u8], u16), spot: Rect, ink: &mut DigitPen<'_>) {
    let is_ink = |x: u16, half: u16| {
        let row = usize::from(half) * dots.len() / usize::from(spot.height * 2);
        let dot = x * across / spot.width;
        dots.get(row).is_some_and(|row| row & (1 << (across - 1 - dot)) != 0)
    };
    for y in 0..spot.height {
        for x in 0..spot.width {
            let both = (is_ink(x, 2 * y), is_ink(x, 2 * y + 1));
            let sign = match (both, ink.glyphs.halves) {
                ((false, false), _) | ((true, false), None) => continue,
                ((true, true), _) | ((false, true), None) => ink.glyphs.ink,
                ((true, false), Some([upper, ..])) => upper,
                ((false, true), Some([_, lower, _])) => lower,
            };
            ink.put(spot.x + x, spot.y + y, sign);
        }
    }
}

fn large_width(c: char) -> u16 {
    if c == '.' { 3 * DOT } else { 6 * DOT }
}

fn small_width(text: &str) -> u16 {
    text.chars().count() as u16 * SMALL_WIDE
}

fn large(c: char, x: u16, ink: &mut DigitPen<'_>) {
    let Some((_, rows)) = LARGE.iter().find(|(name, _)| *name == c) else { return };
    for (y, row) in rows.iter().enumerate() {
        for dot in 0..5_u16 {
            if row & (0b10000 >> dot) != 0 {
                for half in 0..DOT {
                    ink.put(x + dot * DOT + half, y as u16, ink.glyphs.ink);
                }
            }
        }
    }
}

/// Two dots of a small figure share a cell; without half blocks plain figures stand in the middle row instead.
fn small(text: &str, x: u16, y: u16, ink: &mut DigitPen<'_>) {
    for (n, c) in text.chars().enumerate() {
        let Some(rows) = c.to_digit(10).and_then(|d| SMALL.get(d as usize)) else { continue };
        let left = x + n as u16 * 5;
        let Some([upper, lower, both]) = ink.glyphs.halves else {
            ink.put(left + 1, y + 1, &c.to_string());
            continue;
        };
        for (pair, two) in rows.chunks(2).enumerate() {
            for dot in 0..4_u16 {
                let bit = 0b1000 >> dot;
                let sign = match (two[0] & bit != 0, two[1] & bit != 0) {
                    (true, true) => both,
                    (true, false) => upper,
                    (false, true) => lower,
                    (false, false) => continue,
                };
                ink.put(left + dot, y + pair as u16, sign);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_and_fraction_part_company() {
        let f = |t: &str| Digits::of_length(Length::parse(t, Unit::Inch).unwrap(), Unit::Inch);
        assert_eq!(f("5 1/4"), Digits { whole: "5".into(), fraction: Some(("1".into(), "4".into())) });
        assert_eq!(f("3/8"), Digits { whole: String::new(), fraction: Some(("3".into(), "8".into())) });
        assert_eq!(f("11"), Digits { whole: "11".into(), fraction: None });
        let mm = Digits::of_length(Length::tenths_mm(1334), Unit::Mm);
        assert_eq!(mm, Digits { whole: "133.4".into(), fraction: None });
    }

    /// At any height a figure fills its rows, keeps to its columns, and each of the ten is another picture.
    #[test]
    fn a_larger_figure_is_the_same_figure() {
        use crate::ui::glyphs::{ASCII, UNICODE};
        for glyphs in [UNICODE, ASCII] {
            for rows in [7, 11, 14, 16, 21, 28] {
                let drawn = |whole: &str, fraction: Option<(&str, &str)>| {
                    let fraction = fraction.map(|(n, d)| (n.to_owned(), d.to_owned()));
                    let figure = Digits { whole: whole.to_owned(), fraction };
                    let area = Rect::new(0, 0, 200, 30);
                    let mut buf = Buffer::empty(area);
                    let mut ink = DigitPen { area, buf: &mut buf, glyphs: &glyphs, style: Style::new() };
                    figure.draw_at(rows, &mut ink);
                    let ink = |x: u16, y: u16| buf[(x, y)].symbol() != " ";
                    let is_used = |y: u16| (0..area.width).any(|x| ink(x, y));
                    assert!(is_used(0) && is_used(rows - 1), "{whole} at {rows} rows");
                    assert!((rows..area.height).all(|y| !is_used(y)), "{whole} at {rows} rows");
                    let over = (figure.width_at(rows)..area.width).any(|x| (0..rows).any(|y| ink(x, y)));
                    assert!(!over, "{whole} at {rows} rows is wider than it says");
                    buf
                };
                let all: Vec<Buffer> = (0..10).map(|n: u32| drawn(&n.to_string(), None)).collect();
                for (n, a) in all.iter().enumerate() {
                    assert!(all.iter().skip(n + 1).all(|b| a != b), "{n} at {rows} rows");
                }
                if rows > ROWS || glyphs == UNICODE {
                    drawn("11", Some(("15", "16")));
                }
            }
        }
        let wide = Digits { whole: "133.4".into(), fraction: None };
        assert!(wide.rows_within(30, 130) >= 16);
        assert_eq!(wide.rows_within(30, 10), ROWS);
    }

    #[test]
    fn no_two_figures_look_alike() {
        for (n, a) in LARGE.iter().enumerate() {
            assert!(LARGE.iter().skip(n + 1).all(|b| a.1 != b.1));
        }
        for (n, a) in SMALL.iter().enumerate() {
            assert!(SMALL.iter().skip(n + 1).all(|b| a != b));
        }
    }
}
