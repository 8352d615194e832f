//! Letters borrowed from other fonts, as outlines: for names in scripts that the print font lacks. A run of letters is
//! shaped as its script asks (joined, reordered, from right to left) by `rustybuzz`; here it is made to fit the room that
//! the page has kept for it.

use crate::domain::pages::font::{Face as PrintFace, is_joiner};
use rustybuzz::ttf_parser::{self, GlyphId, OutlineBuilder};
use rustybuzz::{Face, UnicodeBuffer, shape};
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

/// Fonts with the characters that are taken from each.
#[derive(Clone, Debug, Default)]
pub struct Letters {
    /// What they were gathered for.
    wanted: BTreeSet<char>,
    fonts: Vec<Font>,
}

#[derive(Clone, Debug)]
struct Font {
    file: Arc<[u8]>,
    index: u32,
    characters: BTreeSet<char>,
}

/// A piece of an outline, in ems, up from the line that letters stand on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutlineStroke {
    /// Goes on without drawing.
    Move(f32, f32),
    /// A straight line.
    Line(f32, f32),
    /// A cubic curve: two handles and its end.
    Curve(f32, f32, f32, f32, f32, f32),
    /// Back to where the last move led.
    Close,
}

impl Letters {
    /// What fonts have of some characters. `each` hands over font files with a number in the file, until it answers (true) that
    /// nothing is wanting.
    pub fn gather(wanted: &BTreeSet<char>, each: impl FnOnce(&mut dyn FnMut(&[u8], u32) -> bool)) -> Self {
        let mut letters = Self { wanted: wanted.clone(), fonts: Vec::new() };
        let mut left = wanted.clone();
        each(&mut |file, index| {
            let characters = drawn(file, index, wanted);
            if left.iter().any(|c| characters.contains(c)) {
                left.retain(|c| !characters.contains(c));
                letters.fonts.push(Font { file: file.into(), index, characters });
            }
            left.is_empty()
        });
        letters
    }

    /// The same for pages that ask for letters while they are made: keeps what the fonts have, and says what that is. What was
    /// asked last is not looked up again, since pages are made anew at each change of a choice.
    pub fn lend(
        &mut self,
        wanted: &BTreeSet<char>,
        each: impl FnOnce(&mut dyn FnMut(&[u8], u32) -> bool),
    ) -> BTreeSet<char> {
        if self.wanted != *wanted {
            *self = Self::gather(wanted, each);
        }
        self.characters()
    }

    /// All characters that are there.
    pub fn characters(&self) -> BTreeSet<char> {
        self.fonts.iter().flat_map(|font| font.characters.iter().copied()).collect()
    }

    /// The outlines of a run, within a room in ems: in the middle of it, or pressed together where they are wider.
    /// Nothing where no font has all of its characters.
    pub fn outlines(&self, run: &str, room: f32) -> Option<Vec<OutlineStroke>> {
        let has =
            |font: &&Font| run.chars().all(|c| c == ' ' || font.characters.contains(&c) || is_joiner(c));
        let font = self.fonts.iter().find(has)?;
        let face = Face::from_slice(&font.file, font.index)?;
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(run);
        buffer.guess_segment_properties();
        let shaped = shape(&face, &[], buffer);
        let em = face.units_per_em() as f32;
        let natural = shaped.glyph_positions().iter().map(|p| p.x_advance).sum::<i32>() as f32 / em;
        let press = if natural > room { room / natural } else { 1.0 };
        let mut pen = Pen {
            x: (room - natural * press) / 2.0,
            y: 0.0,
            across: press / em,
            up: 1.0 / em,
            path: Vec::new(),
        };
        for (glyph, at) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
            let (x, y) = (pen.x, pen.y);
            (pen.x, pen.y) = (x + at.x_offset as f32 * pen.across, y + at.y_offset as f32 * pen.up);
            face.outline_glyph(GlyphId(u16::try_from(glyph.glyph_id).unwrap_or(0)), &mut pen);
            (pen.x, pen.y) = (x + at.x_advance as f32 * pen.across, y + at.y_advance as f32 * pen.up);
        }
        Some(pen.path)
    }
}

/// Which of some characters a font draws.
fn drawn(file: &[u8], index: u32, wanted: &BTreeSet<char>) -> BTreeSet<char> {
    let Ok(face) = ttf_parser::Face::parse(file, index) else { return BTreeSet::new() };
    let is_drawn =
        |c: &char| face.glyph_index(*c).is_some_and(|g| face.outline_glyph(g, &mut Unseen).is_some());
    wanted.iter().copied().filter(is_drawn).collect()
}

/// The parts of a line: which bytes, and whether the print font lacks them. Blanks between two lacking words belong to
/// them, so that their order is the script's.
pub fn parts(text: &str, face: &PrintFace) -> Vec<(Range<usize>, bool)> {
    let mut parts: Vec<(Range<usize>, bool)> = Vec::new();
    for (at, c) in text.char_indices() {
        let end = at + c.len_utf8();
        let lacks = face.lacks(c) || is_joiner(c);
        match parts.last_mut() {
            Some((range, is_lacking)) if *is_lacking == lacks => range.end = end,
            _ => parts.push((at..end, lacks)),
        }
    }
    let mut joined: Vec<(Range<usize>, bool)> = Vec::new();
    for (n, (range, lacks)) in parts.iter().cloned().enumerate() {
        let is_blank = !lacks && text.get(range.clone()).is_some_and(|s| s.trim().is_empty());
        let is_between = is_blank && n > 0 && n + 1 < parts.len();
        match joined.last_mut() {
            Some((last, true)) if lacks || is_between => last.end = range.end,
            _ => joined.push((range, lacks)),
        }
    }
    joined
}

/// Takes an outline, moved and scaled.
struct Pen {
    x: f32,
    y: f32,
    across: f32,
    up: f32,
    path: Vec<OutlineStroke>,
}

impl Pen {
    fn at(&self, x: f32, y: f32) -> (f32, f32) {
        (self.x + x * self.across, self.y + y * self.up)
    }

    /// Where the last piece ended.
    fn last(&self) -> (f32, f32) {
        match self.path.last() {
            Some(
                OutlineStroke::Move(x, y)
                | OutlineStroke::Line(x, y)
                | OutlineStroke::Curve(_, _, _, _, x, y),
            ) => (*x, *y),
            _ => (self.x, self.y),
        }
    }
}

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.path.push(OutlineStroke::Move(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.path.push(OutlineStroke::Line(x, y));
    }

    /// A quadratic curve as a cubic one: its handles lie two thirds of the way to the one handle.
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let ((x0, y0), (x1, y1), (x, y)) = (self.last(), self.at(x1, y1), self.at(x, y));
        let third = |end: f32, handle: f32| end + (handle - end) * 2.0 / 3.0;
        self.path.push(OutlineStroke::Curve(third(x0, x1), third(y0, y1), third(x, x1), third(y, y1), x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let ((x1, y1), (x2, y2), (x, y)) = (self.at(x1, y1), self.at(x2, y2), self.at(x, y));
        self.path.push(OutlineStroke::Curve(x1, y1, x2, y2, x, y));
    }

    fn close(&mut self) {
        self.path.push(OutlineStroke::Close);
    }
}

/// Asks only whether there is an outline.
struct Unseen;

impl OutlineBuilder for Unseen {
    fn move_to(&mut self, _: f32, _: f32) {}
    fn line_to(&mut self, _: f32, _: f32) {}
    fn quad_to(&mut self, _: f32, _: f32, _: f32, _: f32) {}
    fn curve_to(&mut self, _: f32, _: f32, _: f32, _: f32, _: f32, _: f32) {}
    fn close(&mut self) {}
}
