//! Pages to PDF 1.7 (ISO 32000-1). Draws what the page value says and decides nothing.
//!
//! The same pages give the same bytes: no date, and the file's id is a sum over its content. Readers are asked not to
//! scale. Words are real text in an embedded subset of the print font, so they can be selected and found.

use super::font::Subset;
use super::letters::{self, Letters};
use crate::domain::colour::space::Rgb8;
use crate::domain::pages::font::{self, NAME};
use crate::domain::pages::page::{
    Anchor, Area, Fill, INCH, LetterWeight, Mark, Modules, Page, Point, Stroke, Um, Words,
};
use crate::domain::pages::text;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, TextRenderingMode, UnicodeCmap};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::collections::BTreeSet;

/// How hard streams are squeezed: 6 of 10, where more gains next to nothing on pages of lines.
const SQUEEZE: u8 = 6;
/// The language of the words on every page.
const LANGUAGE: &str = "en";
/// Line round borrowed letters that stand for bold ones, in ems.
const EMBOLDENED: f32 = 0.03;
const WEIGHTS: [LetterWeight; 2] = [LetterWeight::Regular, LetterWeight::Bold];

/// Writes a document of these pages, without letters of other fonts.
pub fn pdf(pages: &[Page]) -> Vec<u8> {
    pdf_with(pages, &Letters::default())
}

/// Writes a document of these pages. Characters that the print font lacks are drawn as other fonts have them, or as boxes
/// with their code point; either way they are text that is found by a search.
pub fn pdf_with(pages: &[Page], letters: &Letters) -> Vec<u8> {
    let mut next = 1;
    let mut fresh = || {
        let id = Ref::new(next);
        next += 1;
        id
    };
    let (catalog, tree, info, outline) = (fresh(), fresh(), fresh(), fresh());
    let fonts: Vec<(Subset, Ref)> = subsets(pages).into_iter().map(|s| (s, fresh())).collect();
    let leaves: Vec<(Ref, Ref)> = pages.iter().map(|_| (fresh(), fresh())).collect();
    let marks: Vec<Ref> = pages.iter().map(|_| fresh()).collect();
    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree).lang(TextStr(LANGUAGE)).outlines(outline);
    root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None")).pair(Name(b"DisplayDocTitle"), true);
    root.finish();
    pdf.pages(tree).kids(leaves.iter().map(|(page, _)| *page)).count(pages.len() as i32);
    for (page, (leaf, stream)) in pages.iter().zip(&leaves) {
        let mut dict = pdf.page(*leaf);
        dict.parent(tree).contents(*stream);
        dict.media_box(Rect::new(0.0, 0.0, pt(page.width), pt(page.height)));
        let mut resources = dict.resources();
        let mut names = resources.fonts();
        for (subset, id) in &fonts {
            names.pair(name_of(subset.weight), *id);
        }
        names.finish();
        resources.finish();
        dict.finish();
        let content = squeezed(&content(page, &fonts, letters));
        pdf.stream(*stream, &content).filter(Filter::FlateDecode);
    }
    bookmarks(&mut pdf, pages, outline, &marks, &leaves);
    for (subset, id) in &fonts {
        embed(&mut pdf, subset, *id, &mut fresh);
    }
    let title = pages.first().map_or("", |page| page.title.as_str());
    pdf.document_info(info).title(TextStr(title)).producer(TextStr("trimside"));
    let id = sum(pdf.as_bytes()).to_be_bytes().to_vec();
    pdf.set_file_id((id.clone(), id));
    pdf.finish()
}

/// One bookmark a page, by its title; pages of one title are numbered.
fn bookmarks(pdf: &mut Pdf, pages: &[Page], outline: Ref, marks: &[Ref], leaves: &[(Ref, Ref)]) {
    let mut root = pdf.outline(outline);
    if let (Some(first), Some(last)) = (marks.first(), marks.last()) {
        root.first(*first).last(*last).count(i32::try_from(marks.len()).unwrap_or(i32::MAX));
    }
    root.finish();
    for (n, (page, mark)) in pages.iter().zip(marks).enumerate() {
        let alone = pages.iter().filter(|p| p.title == page.title).count() == 1;
        let title = if alone { page.title.clone() } else { format!("{}, page {}", page.title, n + 1) };
        let mut item = pdf.outline_item(*mark);
        item.title(TextStr(&title)).parent(outline);
        if let Some(before) = n.checked_sub(1).and_then(|n| marks.get(n)) {
            item.prev(*before);
        }
        if let Some(next) = marks.get(n + 1) {
            item.next(*next);
        }
        if let Some((leaf, _)) = leaves.get(n) {
            item.dest().page(*leaf).fit();
        }
        item.finish();
    }
}

fn pt(um: Um) -> f32 {
    (um as f64 * 72.0 / INCH as f64) as f32
}

fn squeezed(bytes: &[u8]) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, SQUEEZE)
}

/// FNV-1a, 64 bits: tells two files apart, which is all that a file id is for.
fn sum(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, b| (hash ^ u64::from(*b)).wrapping_mul(0x0100_0000_01b3))
}

/// The characters that the pages use, by weight; a weight that is not used is not there.
fn subsets(pages: &[Page]) -> Vec<Subset> {
    let used = |weight: LetterWeight| -> BTreeSet<char> {
        let words = pages.iter().flat_map(Page::texts).filter(|w| w.weight == weight);
        words.flat_map(|w| w.text.chars()).collect()
    };
    let subsets = WEIGHTS.into_iter().map(|weight| (weight, used(weight)));
    subsets
        .filter(|(_, chars)| !chars.is_empty())
        .map(|(weight, chars)| Subset::new(weight, &chars))
        .collect()
}

fn name_of(weight: LetterWeight) -> Name<'static> {
    match weight {
        LetterWeight::Regular => Name(b"R"),
        LetterWeight::Bold => Name(b"B"),
    }
}

/// Writes a subset of the font as a composite font whose codes are the numbers of its outlines.
fn embed(pdf: &mut Pdf, subset: &Subset, id: Ref, fresh: &mut impl FnMut() -> Ref) {
    let (cid, descriptor, file, map) = (fresh(), fresh(), fresh(), fresh());
    let bytes = subset.file();
    let face = subset.face();
    let bold = subset.weight == LetterWeight::Bold;
    let name = format!("{}+{NAME}-{}", tag(&bytes), if bold { "Bold" } else { "Regular" });
    let name = Name(name.as_bytes());
    let system = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
    pdf.type0_font(id)
        .base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(map);
    let mut font = pdf.cid_font(cid);
    font.subtype(CidFontType::Type2).base_font(name).system_info(system).font_descriptor(descriptor);
    font.default_width(0.0).cid_to_gid_map_predefined(Name(b"Identity"));
    font.widths().consecutive(0, subset.widths());
    font.finish();
    let thousandths = |units: i16| f32::from(units) * 1000.0 / f32::from(face.em);
    let [left, bottom, right, top] = face.bounds.map(thousandths);
    pdf.font_descriptor(descriptor)
        .name(name)
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(left, bottom, right, top))
        .italic_angle(0.0)
        .ascent(thousandths(face.ascent))
        .descent(thousandths(face.descent))
        .cap_height(thousandths(face.capitals))
        .stem_v(f32::from(face.stem))
        .font_file2(file);
    let squeezed_file = squeezed(&bytes);
    let mut stream = pdf.stream(file, &squeezed_file);
    stream.filter(Filter::FlateDecode).pair(Name(b"Length1"), bytes.len() as i32);
    stream.finish();
    let mut cmap = UnicodeCmap::<u16>::new(Name(b"Trimside-Characters"), system);
    subset.pairs().for_each(|(c, number)| cmap.pair(number, c));
    let cmap = squeezed(cmap.finish().as_slice());
    pdf.cmap(map, &cmap).filter(Filter::FlateDecode);
}

/// Six capitals that tell subsets of one font apart.
fn tag(bytes: &[u8]) -> String {
    let mut rest = sum(bytes);
    let mut letter = || {
        let letter = char::from(b'A' + (rest % 26) as u8);
        rest /= 26;
        letter
    };
    (0..6).map(|_| letter()).collect()
}

/// What draws one page.
struct Pen<'a> {
    out: Content,
    height: Um,
    fonts: &'a [(Subset, Ref)],
    letters: &'a Letters,
}

fn content(page: &Page, fonts: &[(Subset, Ref)], letters: &Letters) -> Vec<u8> {
    let mut pen = Pen { out: Content::new(), height: page.height, fonts, letters };
    page.painted().for_each(|(_, mark)| pen.draw(mark));
    pen.out.finish().as_slice().to_vec()
}

impl Pen<'_> {
    fn draw(&mut self, mark: &Mark) {
        match mark {
            Mark::Rect { area, fill, stroke } => self.rect(*area, *fill, *stroke),
            Mark::Path { points, closed, fill, stroke } => self.path(points, *closed, *fill, *stroke),
            Mark::Circle { middle, radius, stroke } => self.circle(*middle, *radius, *stroke),
            Mark::Words(words) => self.words(words),
            Mark::Code { at, module, modules } => self.code(*at, *module, modules),
        }
    }

    fn y(&self, y: Um) -> f32 {
        pt(self.height - y)
    }

    fn ink(&mut self, ink: Rgb8) {
        let [r, g, b] = parts(ink);
        self.out.set_fill_rgb(r, g, b);
    }

    fn stroke(&mut self, stroke: Stroke) {
        let [r, g, b] = parts(stroke.ink);
        self.out.set_stroke_rgb(r, g, b).set_line_width(pt(stroke.width));
        self.out.set_dash_pattern(stroke.dash.pattern().iter().map(|um| pt(*um)), 0.0);
    }

    fn box_path(&mut self, area: Area) {
        let (x, y) = (pt(area.x), self.y(area.bottom()));
        self.out.rect(x, y, pt(area.width), pt(area.height));
    }

    fn rect(&mut self, area: Area, fill: Option<Fill>, stroke: Option<Stroke>) {
        match fill {
            Some(Fill::Colour(ink)) => {
                self.ink(ink);
                self.box_path(area);
                self.out.fill_nonzero();
            }
            Some(Fill::Hatch(hatch)) => {
                self.stroke(Stroke::HATCH);
                for (from, to) in hatch.lines(area) {
                    self.out.move_to(pt(from.x), pt(self.height - from.y));
                    self.out.line_to(pt(to.x), pt(self.height - to.y));
                }
                self.out.stroke();
            }
            None => {}
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
            self.box_path(area);
            self.out.stroke();
        }
    }

    fn path(&mut self, points: &[Point], closed: bool, fill: Option<Rgb8>, stroke: Option<Stroke>) {
        for paint in
            [fill.map(|ink| (Some(ink), None)), stroke.map(|s| (None, Some(s)))].into_iter().flatten()
        {
            if let (Some(ink), _) = paint {
                self.ink(ink);
            }
            if let (_, Some(stroke)) = paint {
                self.stroke(stroke);
            }
            for (n, p) in points.iter().enumerate() {
                let (x, y) = (pt(p.x), self.y(p.y));
                if n == 0 {
                    self.out.move_to(x, y)
                } else {
                    self.out.line_to(x, y)
                };
            }
            if closed {
                self.out.close_path();
            }
            if paint.0.is_some() {
                self.out.fill_nonzero()
            } else {
                self.out.stroke()
            };
        }
    }

    /// Four cubic curves, off a true circle by less than 0.03 % of its radius.
    fn circle(&mut self, middle: Point, radius: Um, stroke: Stroke) {
        const HANDLE: f32 = 0.552_284_8;
        self.stroke(stroke);
        let (x, y, r) = (pt(middle.x), self.y(middle.y), pt(radius));
        let h = r * HANDLE;
        self.out.move_to(x + r, y);
        self.out.cubic_to(x + r, y + h, x + h, y + r, x, y + r);
        self.out.cubic_to(x - h, y + r, x - r, y + h, x - r, y);
        self.out.cubic_to(x - r, y - h, x - h, y - r, x, y - r);
        self.out.cubic_to(x + h, y - r, x + r, y - h, x + r, y);
        self.out.close_path().stroke();
    }

    fn words(&mut self, words: &Words) {
        let Some((subset, _)) = self.fonts.iter().find(|(s, _)| s.weight == words.weight) else { return };
        let back = match words.anchor {
            Anchor::Start => 0,
            Anchor::Middle => text::width_of(words) / 2,
            Anchor::End => text::width_of(words),
        };
        let matrix = if words.upward {
            [0.0, 1.0, -1.0, 0.0, pt(words.at.x), self.y(words.at.y + back)]
        } else {
            [1.0, 0.0, 0.0, 1.0, pt(words.at.x - back), self.y(words.at.y)]
        };
        self.ink(words.ink);
        let parts = letters::parts(&words.text, subset.face());
        let borrowed: Vec<Option<Vec<letters::OutlineStroke>>> = parts
            .iter()
            .map(|(range, lacks)| {
                let part = lacks.then(|| words.text.get(range.clone()))??;
                self.letters.outlines(part, in_ems(part, words))
            })
            .collect();
        self.out.begin_text();
        self.out.set_font(name_of(words.weight), pt(words.size)).set_text_matrix(matrix);
        for ((range, _), borrowed) in parts.iter().zip(&borrowed) {
            let part = words.text.get(range.clone()).unwrap_or_default();
            let codes: Vec<u8> = part.chars().flat_map(|c| subset.number(c).to_be_bytes()).collect();
            // What is drawn from another font stays text under its outlines.
            if borrowed.is_some() {
                self.out.set_text_rendering_mode(TextRenderingMode::Invisible).show(Str(&codes));
                self.out.set_text_rendering_mode(TextRenderingMode::Fill);
            } else {
                self.out.show(Str(&codes));
            }
        }
        self.out.end_text();
        let mut before = 0.0;
        for ((range, _), borrowed) in parts.iter().zip(&borrowed) {
            if let Some(outlines) = borrowed {
                self.outlines(outlines, before, matrix, words);
            }
            before += in_ems(words.text.get(range.clone()).unwrap_or_default(), words);
        }
    }

    /// Fills outlines that begin so many ems into some words.
    fn outlines(
        &mut self,
        outlines: &[letters::OutlineStroke],
        before: f32,
        matrix: [f32; 6],
        words: &Words,
    ) {
        use letters::OutlineStroke::{Close, Curve, Line, Move};
        let size = pt(words.size);
        self.out.save_state().transform(matrix).transform([size, 0.0, 0.0, size, before * size, 0.0]);
        for stroke in outlines {
            match *stroke {
                Move(x, y) => self.out.move_to(x, y),
                Line(x, y) => self.out.line_to(x, y),
                Curve(x1, y1, x2, y2, x, y) => self.out.cubic_to(x1, y1, x2, y2, x, y),
                Close => self.out.close_path(),
            };
        }
        if words.weight == LetterWeight::Bold {
            let [r, g, b] = parts(words.ink);
            self.out.set_stroke_rgb(r, g, b).set_line_width(EMBOLDENED);
            self.out.fill_nonzero_and_stroke();
        } else {
            self.out.fill_nonzero();
        }
        self.out.restore_state();
    }

    /// One rectangle for each run of dark squares in a row.
    fn code(&mut self, at: Point, module: Um, modules: &Modules) {
        self.ink(crate::domain::pages::page::BLACK);
        for area in super::runs(at, module, modules) {
            self.box_path(area);
        }
        self.out.fill_nonzero();
    }
}

/// How wide a part of some words is, in ems.
fn in_ems(part: &str, words: &Words) -> f32 {
    let face = font::face(words.weight);
    face.width(part, i64::from(face.em)) as f32 / f32::from(face.em)
}

fn parts(ink: Rgb8) -> [f32; 3] {
    [ink.r, ink.g, ink.b].map(|v| f32::from(v) / 255.0)
}
