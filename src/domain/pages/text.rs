//! Words on a page: how wide they are, how they are shortened or broken into lines, which have no letters here.
//!
//! Widths come from the print font, so what fits here fits in the file. Knows no page.

use super::font::{self, Face};
use super::measure::{Anchor, Area, BLACK, LetterWeight, Point, Um, Words};
use crate::domain::colour::space::Rgb8;
use std::collections::BTreeSet;

/// How words look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Height of the em.
    pub size: Um,
    /// Bold or not.
    pub weight: LetterWeight,
    /// Colour.
    pub ink: Rgb8,
}

impl Style {
    /// Black ordinary letters of this size.
    pub const fn plain(size: Um) -> Self {
        Self { size, weight: LetterWeight::Regular, ink: BLACK }
    }

    /// Black bold letters of this size.
    pub const fn bold(size: Um) -> Self {
        Self { size, weight: LetterWeight::Bold, ink: BLACK }
    }

    /// The same in bold.
    #[must_use]
    pub const fn strong(self) -> Self {
        Self { weight: LetterWeight::Bold, ..self }
    }

    /// The same in another colour.
    #[must_use]
    pub const fn in_ink(self, ink: Rgb8) -> Self {
        Self { ink, ..self }
    }

    fn face(self) -> &'static Face {
        font::face(self.weight)
    }

    /// How wide a line is.
    pub fn width(self, text: &str) -> Um {
        self.face().width(&tidy(text), self.size)
    }

    /// From one line to the next.
    pub const fn leading(self) -> Um {
        self.size * 5 / 4
    }

    /// From the top of capitals down to the line that they stand on.
    pub fn capitals(self) -> Um {
        i64::from(self.face().capitals) * self.size / i64::from(self.face().em)
    }

    /// Words that begin at a place.
    pub fn at(self, x: Um, y: Um, text: &str) -> Words {
        self.anchored(Anchor::Start, x, y, text)
    }

    /// Words whose middle lies at a place.
    pub fn middle(self, x: Um, y: Um, text: &str) -> Words {
        self.anchored(Anchor::Middle, x, y, text)
    }

    /// Words that end at a place.
    pub fn end(self, x: Um, y: Um, text: &str) -> Words {
        self.anchored(Anchor::End, x, y, text)
    }

    /// Words anchored at a place.
    pub fn anchored(self, anchor: Anchor, x: Um, y: Um, text: &str) -> Words {
        let Self { size, weight, ink } = self;
        Words { at: Point { x, y }, size, anchor, weight, ink, upward: false, text: tidy(text) }
    }

    /// The text, or its beginning with an ellipsis where it is wider than `room`. Nothing where not even that fits.
    pub fn fitted(self, text: &str, room: Um) -> String {
        let text = tidy(text);
        if self.width(&text) <= room {
            return text;
        }
        let mut kept = String::new();
        for c in text.chars() {
            let longer = format!("{kept}{c}…");
            if self.width(&longer) > room {
                break;
            }
            kept.push(c);
        }
        let kept = kept.trim_end();
        let short = format!("{kept}…");
        if self.width(&short) <= room { short } else { String::new() }
    }

    /// The text in lines no wider than `room`, broken between words, and inside a word that is wider. The last of
    /// `most` lines ends in an ellipsis where something is left out.
    pub fn wrapped(self, text: &str, room: Um, most: usize) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for paragraph in text.lines() {
            lines.extend(self.broken(&tidy(paragraph), room));
        }
        if lines.len() > most {
            let rest = lines.split_off(most.saturating_sub(1));
            if most > 0 {
                lines.push(self.fitted(&format!("{} …", rest.join(" ")), room));
            }
        }
        lines
    }

    fn broken(self, paragraph: &str, room: Um) -> Vec<String> {
        let mut lines = Vec::new();
        let mut line = String::new();
        for word in paragraph.split(' ') {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if self.width(&longer) <= room {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            line = self.chopped(word, room, &mut lines);
        }
        lines.push(line);
        lines
    }

    /// Puts full lines of a word that is too wide into `lines` and gives back its last part.
    fn chopped(self, word: &str, room: Um, lines: &mut Vec<String>) -> String {
        let mut line = String::new();
        for c in word.chars() {
            line.push(c);
            if self.width(&line) > room && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, c.to_string()));
            }
        }
        line
    }
}

/// A text as one line without control characters: each becomes a space. Characters that are never seen are left out.
pub fn tidy(text: &str) -> String {
    let seen = text.chars().filter(|c| !is_unseen(*c));
    seen.map(|c| if c.is_control() || c == '\u{feff}' { ' ' } else { c }).collect()
}

/// Marks of direction and of variants of a sign, and blanks without width (default ignorable in Unicode 16).
const fn is_unseen(c: char) -> bool {
    matches!(c, '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}')
        || matches!(c, '\u{fe00}'..='\u{fe0f}' | '\u{e0100}'..='\u{e01ef}')
}

/// The characters of some words that the print font has no letters for.
pub fn missing(words: &Words) -> BTreeSet<char> {
    let face = font::face(words.weight);
    words.text.chars().filter(|c| face.lacks(*c)).collect()
}

/// How wide some words are.
pub fn width_of(words: &Words) -> Um {
    font::face(words.weight).width(&words.text, words.size)
}

/// The box that some words lie in, from the highest to the lowest letter of the font.
pub fn bounds(words: &Words) -> Area {
    let face = font::face(words.weight);
    let em = i64::from(face.em);
    let (up, down) = (i64::from(face.ascent) * words.size / em, i64::from(-face.descent) * words.size / em);
    let length = width_of(words);
    let before = match words.anchor {
        Anchor::Start => 0,
        Anchor::Middle => length / 2,
        Anchor::End => length,
    };
    let Point { x, y } = words.at;
    if words.upward {
        Area::new(x - up, y + before - length, up + down, length)
    } else {
        Area::new(x - before, y - up, length, up + down)
    }
}

#[cfg(test)]
mod tests {
    use super::super::measure::{MM, points};
    use super::*;

    const STYLE: Style = Style::plain(points(100));

    #[test]
    fn what_fits_stays_and_what_does_not_ends_in_an_ellipsis() {
        let room = STYLE.width("Fern green");
        assert_eq!(STYLE.fitted("Fern green", room), "Fern green");
        let short = STYLE.fitted("Fern green, very dark", room);
        assert!(short.starts_with("Fern") && short.ends_with('…'), "{short}");
        assert!(STYLE.width(&short) <= room);
        assert_eq!(STYLE.fitted("Fern", 10), "");
        assert_eq!(STYLE.fitted("a\tb\nc\u{7}", 100 * MM), "a b c ");
    }

    #[test]
    fn lines_break_between_words_and_inside_a_long_one() {
        let room = STYLE.width("one two");
        assert_eq!(STYLE.wrapped("one two three", room, 9), ["one two", "three"]);
        assert_eq!(STYLE.wrapped("a\nb", room, 9), ["a", "b"]);
        let long = "x".repeat(200);
        let lines = STYLE.wrapped(&long, room, 99);
        assert!(lines.len() > 5 && lines.iter().all(|l| STYLE.width(l) <= room));
        assert_eq!(lines.concat(), long);
        let cut = STYLE.wrapped("one two three four five", room, 2);
        assert_eq!(cut.len(), 2);
        assert!(cut[1].ends_with('…') && STYLE.width(&cut[1]) <= room, "{cut:?}");
    }

    #[test]
    fn a_room_of_nothing_still_ends() {
        assert_eq!(STYLE.wrapped("ab", 0, 9), ["a", "b"]);
        assert_eq!(STYLE.wrapped("", 0, 9), Vec::<String>::new());
        assert!(STYLE.wrapped("ab cd", 0, 0).is_empty());
    }

    #[test]
    fn characters_without_letters_are_named() {
        let words = STYLE.at(0, 0, "snow 雪 and 雪");
        assert_eq!(missing(&words).into_iter().collect::<String>(), "雪");
        assert!(missing(&STYLE.at(0, 0, "½ × é")).is_empty());
    }

    #[test]
    fn upward_words_run_up_from_their_place() {
        let mut words = STYLE.at(50 * MM, 80 * MM, "up");
        let level = bounds(&words);
        words.upward = true;
        let turned = bounds(&words);
        assert_eq!((level.width, level.height), (turned.height, turned.width));
        assert_eq!(turned.bottom(), 80 * MM);
        words.anchor = Anchor::End;
        assert_eq!(bounds(&words).y, 80 * MM);
    }
}
