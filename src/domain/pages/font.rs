//! The letters that pages are printed in: which characters there are, how wide they are, their outlines.
//!
//! The font is a cut of an open one (see `assets/font`), in the TrueType format (ISO/IEC 14496-22): tables `head`,
//! `hhea`, `maxp`, `hmtx`, `cmap` (format 4), `loca` (short) and `glyf`, with no composite outlines. Reading is bounded
//! everywhere: a table that is too short reads as zeros, it never panics.

use super::measure::{LetterWeight, Um};
use std::collections::BTreeMap;
use std::sync::LazyLock;
use unicode_width::UnicodeWidthChar;

static REGULAR: LazyLock<Face> =
    LazyLock::new(|| Face::read(include_bytes!("../../../assets/font/sans-regular.ttf"), 80));
static BOLD: LazyLock<Face> =
    LazyLock::new(|| Face::read(include_bytes!("../../../assets/font/sans-bold.ttf"), 140));

/// The name the font bears in files.
pub const NAME: &str = "TrimsideSans";

/// The number of an outline; 0 is the box that stands for what has none.
pub type Glyph = u16;

/// One weight of the font.
#[derive(Debug)]
pub struct Face {
    /// Font units in an em.
    pub em: u16,
    /// From the letters' line up to the highest, in font units.
    pub ascent: i16,
    /// From the letters' line down to the lowest, below zero, in font units.
    pub descent: i16,
    /// Height of capitals, in font units.
    pub capitals: i16,
    /// The box round all outlines: left, bottom, right, top.
    pub bounds: [i16; 4],
    /// Width of a stem in thousandths of an em, for files that want it.
    pub stem: i16,
    map: BTreeMap<u32, Glyph>,
    advances: Vec<u16>,
    /// Left side bearings, as long as `advances`.
    bearings: Vec<i16>,
    outlines: Vec<&'static [u8]>,
}

/// The face of a weight.
pub fn face(weight: LetterWeight) -> &'static Face {
    match weight {
        LetterWeight::Regular => &REGULAR,
        LetterWeight::Bold => &BOLD,
    }
}

/// Bytes of a table, read without a bound being passed.
#[derive(Clone, Copy, Default)]
struct Bytes(&'static [u8]);

impl Bytes {
    fn u16(self, at: usize) -> u16 {
        let byte = |i: usize| self.0.get(i).copied().unwrap_or(0);
        u16::from_be_bytes([byte(at), byte(at + 1)])
    }

    fn i16(self, at: usize) -> i16 {
        self.u16(at).cast_signed()
    }

    fn u32(self, at: usize) -> usize {
        usize::from(self.u16(at)) << 16 | usize::from(self.u16(at + 2))
    }

    fn part(self, from: usize, to: usize) -> Self {
        Self(self.0.get(from..to).unwrap_or(&[]))
    }
}

impl Face {
    fn read(file: &'static [u8], stem: i16) -> Self {
        let file = Bytes(file);
        let table = |tag: &[u8; 4]| {
            let entries = (0..usize::from(file.u16(4))).map(|n| 12 + 16 * n);
            let found = entries.into_iter().find(|at| file.part(*at, *at + 4).0 == tag);
            found.map_or_else(Bytes::default, |at| {
                let from = file.u32(at + 8);
                file.part(from, from + file.u32(at + 12))
            })
        };
        let (head, hhea, metrics) = (table(b"head"), table(b"hhea"), table(b"hmtx"));
        let count = usize::from(table(b"maxp").u16(4));
        let long = usize::from(hhea.u16(34)).clamp(1, count.max(1));
        let (places, shapes) = (table(b"loca"), table(b"glyf"));
        let place = |n: usize| 2 * usize::from(places.u16(2 * n));
        let outlines: Vec<&'static [u8]> =
            (0..count).map(|n| shapes.part(place(n), place(n + 1)).0).collect();
        let map = characters(table(b"cmap"));
        let high = |c: char| map.get(&u32::from(c)).and_then(|g| outlines.get(usize::from(*g)));
        let capitals = high('H').map_or(0, |outline| Bytes(outline).i16(8));
        Self {
            em: head.u16(18).max(1),
            ascent: hhea.i16(4),
            descent: hhea.i16(6),
            capitals,
            bounds: [36, 38, 40, 42].map(|at| head.i16(at)),
            stem,
            advances: (0..count).map(|n| metrics.u16(4 * n.min(long - 1))).collect(),
            bearings: (0..count)
                .map(|n| metrics.i16(if n < long { 4 * n + 2 } else { 4 * long + 2 * (n - long) }))
                .collect(),
            map,
            outlines,
        }
    }

    /// The outline of a character, where the font has one.
    pub fn glyph(&self, c: char) -> Option<Glyph> {
        self.map.get(&u32::from(c)).copied()
    }

    /// The outline of a character, or the box.
    pub fn glyph_or_box(&self, c: char) -> Glyph {
        self.glyph(c).unwrap_or(0)
    }

    /// How far a character moves the line on, in font units: one that the font lacks takes the room of a box, an em for
    /// wide scripts, three fifths of one for all others, whatever font its letters are borrowed from in the end. So lines and
    /// pages break alike on every machine.
    pub fn room(&self, c: char) -> u16 {
        match self.glyph(c) {
            Some(glyph) => self.advance(glyph),
            None if is_joiner(c) => 0,
            None if c.width() == Some(2) => self.em,
            None => (u32::from(self.em) * 3 / 5) as u16,
        }
    }

    /// True for a character that ought to be seen and has no letters here.
    pub fn lacks(&self, c: char) -> bool {
        self.glyph(c).is_none() && !is_joiner(c)
    }

    /// How far an outline moves the line on, in font units.
    pub fn advance(&self, glyph: Glyph) -> u16 {
        self.advances.get(usize::from(glyph)).copied().unwrap_or(0)
    }

    /// Left side bearing of an outline, in font units.
    pub fn bearing(&self, glyph: Glyph) -> i16 {
        self.bearings.get(usize::from(glyph)).copied().unwrap_or(0)
    }

    /// The bytes of an outline as they lie in the `glyf` table; nothing for a space.
    pub fn outline(&self, glyph: Glyph) -> &'static [u8] {
        self.outlines.get(usize::from(glyph)).copied().unwrap_or(&[])
    }

    /// How wide a line of words is at a size, in micrometres.
    pub fn width(&self, text: &str, size: Um) -> Um {
        let units: i64 = text.chars().map(|c| i64::from(self.room(c))).sum();
        (units * size + i64::from(self.em) / 2) / i64::from(self.em)
    }
}

/// True for the marks that join or part the letters beside them (Unicode 16, chapter 23.2): nothing is drawn for them.
pub const fn is_joiner(c: char) -> bool {
    matches!(c, '\u{200c}' | '\u{200d}')
}

/// The characters of a `cmap` table with a format 4 subtable.
fn characters(cmap: Bytes) -> BTreeMap<u32, Glyph> {
    let start = cmap.u32(8);
    let sub = cmap.part(start, cmap.0.len());
    let twice = usize::from(sub.u16(6));
    let mut map = BTreeMap::new();
    for segment in 0..twice / 2 {
        let (end, first) = (sub.u16(14 + 2 * segment), sub.u16(16 + twice + 2 * segment));
        let delta = sub.u16(16 + 2 * twice + 2 * segment);
        let at = 16 + 3 * twice + 2 * segment;
        let offset = usize::from(sub.u16(at));
        for code in first..=end {
            let glyph = if offset == 0 {
                code.wrapping_add(delta)
            } else {
                match sub.u16(at + offset + 2 * usize::from(code - first)) {
                    0 => 0,
                    glyph => glyph.wrapping_add(delta),
                }
            };
            if glyph != 0 && code != u16::MAX {
                map.insert(u32::from(code), glyph);
            }
        }
    }
    map
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_weights_have_the_letters_of_the_trade_and_of_names() {
        for weight in [LetterWeight::Regular, LetterWeight::Bold] {
            let face = face(weight);
            assert_eq!(face.em, 2048);
            for c in "Az09½⅛⅞″×°éñßŁžŐΩЖ€₹☐✂→".chars() {
                let glyph = face.glyph(c).unwrap_or_else(|| panic!("{weight:?} lacks {c}"));
                assert!(face.advance(glyph) > 0, "{c} has no width");
                assert!(!face.outline(glyph).is_empty(), "{c} has no outline");
            }
            assert_eq!(face.glyph('א'), None);
            assert_eq!(face.glyph('\u{10ffff}'), None);
            assert!(face.outline(face.glyph_or_box(' ')).is_empty());
        }
    }

    #[test]
    fn no_outline_is_a_composite_and_each_is_whole() {
        for weight in [LetterWeight::Regular, LetterWeight::Bold] {
            let face = face(weight);
            assert!(face.outlines.len() > 700);
            for outline in &face.outlines {
                assert!(outline.is_empty() || Bytes(outline).i16(0) >= 0, "a composite outline");
                assert_eq!(outline.len() % 2, 0);
            }
        }
    }

    #[test]
    fn widths_are_those_of_the_whole_font() {
        // Read from the uncut font's own table with an independent font library: H 1386, A 1260, space 585 of 2048.
        let face = face(LetterWeight::Regular);
        assert_eq!(face.advance(face.glyph_or_box('H')), 1386);
        assert_eq!(face.advance(face.glyph_or_box('A')), 1260);
        assert_eq!(face.width("H H", 2048), 1386 * 2 + 585);
        assert_eq!(face.width("", 2048), 0);
    }

    #[test]
    fn a_short_table_reads_as_zeros() {
        let face = Face::read(b"\0\x01\0\0", 80);
        assert_eq!((face.em, face.advance(3), face.glyph('a')), (1, 0, None));
        assert!(face.outline(9).is_empty());
    }
}
