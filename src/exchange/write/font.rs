//! The part of the print font that one file needs, as a TrueType file (ISO/IEC 14496-22) to be embedded.
//!
//! Outlines are numbered in the order of their characters, so the same words always give the same bytes. A character that
//! the font lacks gets an outline of its own, a box with its code point: it is seen, and still found by a search.

use super::coded_box;
use crate::domain::pages::font::{self, Face, Glyph};
use crate::domain::pages::page::LetterWeight;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// The characters of one weight and the numbers of their outlines in the file.
#[derive(Debug)]
pub struct Subset {
    /// Which weight.
    pub weight: LetterWeight,
    numbers: BTreeMap<char, u16>,
}

impl Subset {
    /// A subset for these characters; number 0 is the box.
    pub fn new(weight: LetterWeight, characters: &BTreeSet<char>) -> Self {
        Self { weight, numbers: characters.iter().copied().zip(1..).collect() }
    }

    /// The face the outlines come from.
    pub fn face(&self) -> &'static Face {
        font::face(self.weight)
    }

    /// The number of a character's outline.
    pub fn number(&self, c: char) -> u16 {
        self.numbers.get(&c).copied().unwrap_or(0)
    }

    /// Characters with their numbers, in the order of both.
    pub fn pairs(&self) -> impl Iterator<Item = (char, u16)> {
        self.numbers.iter().map(|(c, n)| (*c, *n))
    }

    /// The outlines in the order of the file.
    fn glyphs(&self) -> Vec<Shape> {
        let face = self.face();
        let of = |glyph: Glyph| Shape {
            advance: face.advance(glyph),
            bearing: face.bearing(glyph),
            outline: Cow::Borrowed(face.outline(glyph)),
        };
        let character = |c: &char| match face.glyph(*c) {
            Some(glyph) => of(glyph),
            None if font::is_joiner(*c) => Shape { advance: 0, bearing: 0, outline: Cow::Borrowed(&[]) },
            None => {
                let outline = coded_box::outline(face, *c);
                Shape { advance: face.room(*c), bearing: left_of(&outline), outline: Cow::Owned(outline) }
            }
        };
        std::iter::once(of(0)).chain(self.numbers.keys().map(character)).collect()
    }

    /// How far each outline moves the line on, in thousandths of an em, from number 0 on.
    pub fn widths(&self) -> Vec<f32> {
        let em = f32::from(self.face().em);
        self.glyphs().into_iter().map(|g| f32::from(g.advance) * 1000.0 / em).collect()
    }

    /// The TrueType file.
    pub fn file(&self) -> Vec<u8> {
        let face = self.face();
        let glyphs = self.glyphs();
        let (mut outlines, mut places) = (Vec::new(), Vec::new());
        for glyph in &glyphs {
            places.extend(to_u32(outlines.len()).to_be_bytes());
            outlines.extend(glyph.outline.iter());
            outlines.resize(outlines.len().next_multiple_of(4), 0);
        }
        places.extend(to_u32(outlines.len()).to_be_bytes());
        let metrics: Vec<u8> =
            glyphs.iter().flat_map(|g| [g.advance.to_be_bytes(), g.bearing.to_be_bytes()].concat()).collect();
        // In the order of their tags, as the format asks.
        let tables = [
            (b"glyf", outlines),
            (b"head", head(face)),
            (b"hhea", hhea(face, &glyphs)),
            (b"hmtx", metrics),
            (b"loca", places),
            (b"maxp", maxp(&glyphs)),
        ];
        assemble(&tables)
    }
}

/// An outline as it is written.
struct Shape {
    /// How far it moves the line on, in font units.
    advance: u16,
    /// Its left side, in font units.
    bearing: i16,
    outline: Cow<'static, [u8]>,
}

/// The left side of an outline, as its own head tells it.
fn left_of(outline: &[u8]) -> i16 {
    outline.get(2..4).map_or(0, |b| i16::from_be_bytes([b[0], b[1]]))
}

fn to_u32(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

fn shorts(values: &[i32]) -> Vec<u8> {
    values.iter().flat_map(|v| (*v as u16).to_be_bytes()).collect()
}

fn head(face: &Face) -> Vec<u8> {
    let [left, bottom, right, top] = face.bounds.map(i32::from);
    let mut table = Vec::new();
    table.extend(0x0001_0000_u32.to_be_bytes());
    table.extend(0x0001_0000_u32.to_be_bytes());
    table.extend(0_u32.to_be_bytes()); // the sum over the whole file; readers of embedded fonts pass it over
    table.extend(0x5F0F_3CF5_u32.to_be_bytes());
    table.extend(shorts(&[3, i32::from(face.em)]));
    table.extend([0; 16]); // made and changed: no date
    table.extend(shorts(&[left, bottom, right, top, 0, 8, 2, 1, 0]));
    table
}

fn hhea(face: &Face, glyphs: &[Shape]) -> Vec<u8> {
    let widest = glyphs.iter().map(|g| i32::from(g.advance)).max().unwrap_or(0);
    let (ascent, descent) = (i32::from(face.ascent), i32::from(face.descent));
    let mut table = 0x0001_0000_u32.to_be_bytes().to_vec();
    table.extend(shorts(&[ascent, descent, 0, widest, 0, 0, widest, 1, 0, 0, 0, 0, 0, 0, 0]));
    table.extend(shorts(&[glyphs.len() as i32]));
    table
}

fn maxp(glyphs: &[Shape]) -> Vec<u8> {
    let mut most = (0, 0);
    for glyph in glyphs {
        let outline = &glyph.outline;
        let short = |at: usize| outline.get(at..at + 2).map_or(0, |b| i32::from(b[0]) << 8 | i32::from(b[1]));
        let contours = short(0);
        let points = if contours > 0 { short(8 + 2 * contours as usize) + 1 } else { 0 };
        most = (most.0.max(points), most.1.max(contours));
    }
    let mut table = 0x0001_0000_u32.to_be_bytes().to_vec();
    table.extend(shorts(&[glyphs.len() as i32, most.0, most.1, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0]));
    table
}

/// Puts tables together behind their directory.
fn assemble(tables: &[(&[u8; 4], Vec<u8>)]) -> Vec<u8> {
    let count = tables.len() as u16;
    let power = count.ilog2();
    let range = 16 * 2_u16.pow(power);
    let mut file = 0x0001_0000_u32.to_be_bytes().to_vec();
    for n in [count, range, power as u16, 16 * count - range] {
        file.extend(n.to_be_bytes());
    }
    let mut at = 12 + 16 * tables.len();
    for (tag, table) in tables {
        file.extend(*tag);
        file.extend(sum(table).to_be_bytes());
        file.extend(to_u32(at).to_be_bytes());
        file.extend(to_u32(table.len()).to_be_bytes());
        at += table.len().next_multiple_of(4);
    }
    for (_, table) in tables {
        file.extend(table);
        file.resize(file.len().next_multiple_of(4), 0);
    }
    file
}

/// The sum of a table's words of four bytes, as the format defines it.
fn sum(table: &[u8]) -> u32 {
    table.chunks(4).fold(0, |total: u32, chunk| {
        let mut word = [0; 4];
        word[..chunk.len()].copy_from_slice(chunk);
        total.wrapping_add(u32::from_be_bytes(word))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn subset(text: &str) -> Subset {
        Subset::new(LetterWeight::Regular, &text.chars().collect())
    }

    #[test]
    fn outlines_are_numbered_by_character_and_the_missing_get_a_box_of_their_own() {
        let subset = subset("ba雪");
        assert_eq!((subset.number('a'), subset.number('b'), subset.number('雪')), (1, 2, 3));
        assert_eq!(subset.number('z'), 0);
        let widths = subset.widths();
        assert_eq!((widths.len(), widths[3]), (4, 1000.0));
        // 1260 units of 2048 for A in the uncut font.
        assert!((self::subset("A").widths()[1] - 615.234).abs() < 0.01);
    }

    #[test]
    fn the_file_has_its_tables_in_order_and_whole() {
        let file = subset("Hello, ⅛ in").file();
        let short = |at: usize| usize::from(file[at]) << 8 | usize::from(file[at + 1]);
        let long = |at: usize| short(at) << 16 | short(at + 2);
        assert_eq!(short(4), 6);
        let mut tags = Vec::new();
        for n in 0..6 {
            let entry = 12 + 16 * n;
            tags.push(String::from_utf8(file[entry..entry + 4].to_vec()).unwrap());
            let (from, length) = (long(entry + 8), long(entry + 12));
            assert_eq!(long(entry + 4), sum(&file[from..from + length]) as usize);
        }
        assert_eq!(tags, ["glyf", "head", "hhea", "hmtx", "loca", "maxp"]);
        assert!(file.len() < 6000, "{} bytes for eleven characters", file.len());
    }
}
