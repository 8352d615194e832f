//! What stands on every printed page: heading, check bar, the maker's line, page numbers; and how content flows on.
//!
//! Everything keeps [`CLEAR`](super::scale::CLEAR) from the edges, the least that home printers hold, and the filed side
//! keeps free of holes. The check bar shows 3 in above its line and 80 mm below it, so that a page that was "fitted" by the
//! printer is caught before paper is cut by it.

use super::page::{Area, Fill, Group, INCH, MM, Mark, Modules, Page, Point, Stroke, Um, WHITE};
use super::scale::{ASIDE, EDGE, GAP, GUTTER, HEADING, HOLES, SMALL, TITLE};
use super::text::{self, Style};
use crate::domain::length::Unit;
use std::collections::BTreeSet;

/// Side of one square of a two-dimensional code: large enough for a hand-held camera.
pub const MODULE: Um = 500;

/// The paper that pages are printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum PrintPaper {
    /// 8 1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm (ISO 216).
    A4,
}

impl PrintPaper {
    /// Its name in files and sentences.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "A4",
        }
    }

    /// Width and height, standing.
    pub const fn size(self) -> (Um, Um) {
        match self {
            Self::Letter => (17 * INCH / 2, 11 * INCH),
            Self::A4 => (210 * MM, 297 * MM),
        }
    }
}

/// What a person chooses for every page.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Setup {
    /// The paper in the printer.
    pub paper: PrintPaper,
    /// The unit that sizes are shown in.
    pub unit: Unit,
    /// True where swatches are left uncoloured and told apart by hatches.
    pub colourless: bool,
    /// The maker's own line at the foot; may be empty.
    pub footer: String,
    /// The maker's own code, drawn at the foot of every page.
    pub code: Option<Modules>,
    /// The postal rules of the person's country, by their id; empty for none.
    pub home: String,
    /// Characters that the print font lacks and the pages take from a font of this machine.
    pub borrowed: BTreeSet<char>,
}

/// Pages being filled from the top down, column by column.
#[derive(Debug)]
pub struct Sheaf<'a> {
    /// What the person chose.
    pub setup: &'a Setup,
    title: String,
    subtitle: String,
    foot_note: Vec<String>,
    form: Form,
    pages: Vec<Page>,
    columns: Columns,
    y: Um,
}

/// How a page lies, and whether its side is kept free for holes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// Upright, holes on the left.
    Filed,
    /// On its long side, holes at the top.
    Lying,
    /// Upright, cut apart: no holes.
    CutApart,
}

/// Columns that content flows through, from the first to the last of a page.
#[derive(Clone, Copy, Debug)]
struct Columns {
    count: Um,
    now: Um,
    top: Um,
}

impl Columns {
    const ONE: Self = Self { count: 1, now: 0, top: 0 };
}

/// The heading's height, its rule and the space under it among it.
const HEAD: Um = 15 * MM;
/// From the left side to what stands beside the check bar.
const BESIDE_BAR: Um = 92 * MM;
/// Most rows of a note at the foot.
const MOST_NOTE: usize = 4;
/// The least height of the foot.
const FOOT: Um = 14 * MM;

impl<'a> Sheaf<'a> {
    /// No page yet; each will bear this heading and the line under it.
    pub fn new(setup: &'a Setup, title: impl Into<String>, subtitle: impl Into<String>) -> Self {
        Self {
            setup,
            title: title.into(),
            subtitle: subtitle.into(),
            foot_note: Vec::new(),
            form: Form::Filed,
            pages: Vec::new(),
            columns: Columns::ONE,
            y: 0,
        }
    }

    /// Pages lie on their long side.
    #[must_use]
    pub fn lying(self) -> Self {
        Self { form: Form::Lying, ..self }
    }

    /// Pages are cut apart: no side is kept free for holes.
    #[must_use]
    pub fn cut_apart(self) -> Self {
        Self { form: Form::CutApart, ..self }
    }

    /// Another heading and line under it for the pages that follow.
    pub fn set_title(&mut self, title: impl Into<String>, subtitle: impl Into<String>) {
        (self.title, self.subtitle) = (title.into(), subtitle.into());
    }

    /// A note of a few rows at the foot of every page; to be set before the first page is begun.
    pub fn set_foot_note(&mut self, note: &str) {
        let room = self.page_size().0 - self.origin().0 - BESIDE_BAR - EDGE;
        self.foot_note = ASIDE.wrapped(note, room, MOST_NOTE);
    }

    /// The size of a page.
    pub fn page_size(&self) -> (Um, Um) {
        let (short, long) = self.setup.paper.size();
        if self.form == Form::Lying { (long, short) } else { (short, long) }
    }

    /// From the left side and from the top to where anything may lie.
    const fn origin(&self) -> (Um, Um) {
        match self.form {
            Form::Filed => (HOLES, EDGE),
            Form::Lying => (EDGE, HOLES),
            Form::CutApart => (EDGE, EDGE),
        }
    }

    /// The part of every page that content goes into, all columns together.
    pub fn body(&self) -> Area {
        let (width, height) = self.page_size();
        let (left, top) = self.origin();
        let foot = foot_height(self.setup, self.foot_note.len()) + 3 * MM;
        Area::new(left, top + HEAD, width - left - EDGE, height - top - HEAD - foot - EDGE)
    }

    /// The column that content goes into; the body where there is but one.
    pub fn column(&self) -> Area {
        let body = self.body();
        let Columns { count, now, .. } = self.columns;
        let width = (body.width - (count - 1) * GUTTER) / count;
        Area { x: body.x + now * (width + GUTTER), width, ..body }
    }

    /// From here on content flows through so many columns of equal width; what stands above stays.
    pub fn split(&mut self, count: Um) {
        self.page();
        // Below the lowest of the columns that end here.
        let lowest = if self.columns.now > 0 { self.body().bottom() } else { self.y };
        self.columns = Columns { count: count.max(1), now: 0, top: lowest };
        self.y = lowest;
    }

    /// The page that content goes to, started where there is none.
    pub fn page(&mut self) -> &mut Page {
        if self.pages.is_empty() {
            self.fresh();
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// Starts a page with its heading.
    pub fn fresh(&mut self) {
        let (width, height) = self.page_size();
        let (left, top) = self.origin();
        let mut page = Page::new(self.title.clone(), width, height);
        let room = width - left - EDGE;
        let title = TITLE.fitted(&self.title, room);
        page.words(TITLE.at(left, top + 5 * MM, &title));
        page.words(ASIDE.at(left, top + 10 * MM, &ASIDE.fitted(&self.subtitle, room)));
        let rule = top + 12 * MM;
        page.line(Group::Outline, (left, rule), (width - EDGE, rule), Stroke::RULE);
        self.pages.push(page);
        self.y = self.body().y;
        self.columns = Columns { now: 0, top: self.y, ..self.columns };
    }

    /// Goes on at the top of the next column, or of a fresh page after the last one.
    pub fn next_column(&mut self) {
        if self.pages.is_empty() || self.columns.now + 1 >= self.columns.count {
            return self.fresh();
        }
        self.columns.now += 1;
        self.y = self.columns.top;
    }

    /// Takes a strip of this height from the column, or from the next one where it does not fit, and gives its top.
    pub fn take(&mut self, height: Um) -> Um {
        if self.pages.is_empty() {
            self.fresh();
        }
        // What is higher than a whole page goes where it is: no other place is higher.
        while self.y + height > self.body().bottom() && self.y > self.body().y {
            self.next_column();
        }
        let top = self.y;
        self.y += height;
        top
    }

    /// The height that is left in this column.
    pub fn left(&mut self) -> Um {
        self.page();
        self.body().bottom() - self.y
    }

    /// How many pages there are.
    pub fn count(&self) -> usize {
        self.pages.len()
    }

    /// Takes all down to this place, if it is below what is taken.
    pub fn reach(&mut self, y: Um) {
        self.y = self.y.max(y);
    }

    /// Goes on in the next column where less than this height is left.
    pub fn keep(&mut self, height: Um) {
        if self.left() < height {
            self.next_column();
        }
    }

    /// Takes the strip that one line of words needs and writes it.
    pub fn write(&mut self, style: Style, text: &str) {
        let top = self.take(style.leading());
        let column = self.column();
        let line = style.fitted(text, column.width);
        self.page().words(style.at(column.x, top + style.size, &line));
    }

    /// Writes a text in as many lines as it needs.
    pub fn write_wrapped(&mut self, style: Style, text: &str) {
        for line in style.wrapped(text, self.column().width, usize::MAX) {
            self.write(style, &line);
        }
    }

    /// A heading inside the page, kept together with at least this height of what follows.
    pub fn heading(&mut self, text: &str, with: Um) {
        self.gap(GAP);
        self.keep(HEADING.leading() + MM + with);
        self.write(HEADING, text);
        self.gap(MM);
    }

    /// Leaves a strip empty, but not at the top of a column.
    pub fn gap(&mut self, height: Um) {
        if !self.pages.is_empty() && self.y > self.columns.top.max(self.body().y) {
            self.y += height;
        }
    }

    /// The pages with everything that needs their number or their content known.
    pub fn finish(mut self) -> Vec<Page> {
        self.page();
        let (left, _) = self.origin();
        let count = self.pages.len();
        for (n, page) in self.pages.iter_mut().enumerate() {
            let number = format!("{}, page {} of {count}", page.title.clone(), n + 1);
            foot(page, self.setup, left, &number, &self.foot_note);
        }
        self.pages
    }
}

fn foot_height(setup: &Setup, note: usize) -> Um {
    let code = setup.code.as_ref().map_or(0, code_side);
    // The bar's height holds three lines: page number, colours, letters that are lacking.
    let more = i64::from(!setup.footer.is_empty()) + note as Um;
    code.max(FOOT + more * SMALL.leading())
}

fn code_side(modules: &Modules) -> Um {
    // ISO/IEC 18004 asks for four light squares all round.
    MODULE * i64::from(modules.side + 8)
}

fn foot(page: &mut Page, setup: &Setup, left: Um, number: &str, note: &[String]) {
    let bottom = page.height - EDGE;
    let mut right = page.width - EDGE;
    if let Some(modules) = &setup.code {
        let side = code_side(modules);
        let at = Point { x: right - side + 4 * MODULE, y: bottom - side + 4 * MODULE };
        page.fill(Area::new(right - side, bottom - side, side, side), Fill::Colour(WHITE));
        page.add(Group::Code, Mark::Code { at, module: MODULE, modules: modules.clone() });
        right -= side + 2 * MM;
    }
    check_bar(page, left, bottom);
    let left = left + BESIDE_BAR;
    let mut lines = vec![(ASIDE, number.to_owned())];
    if has_colour(page) {
        lines.push((ASIDE, "Colors are sRGB values; screen, print and paper differ.".to_owned()));
    }
    let lacking = lacking(page, &setup.borrowed);
    if !lacking.is_empty() {
        lines.push((ASIDE, format!("No letters here, so boxed: {}", lacking.join(", "))));
    }
    if !setup.footer.is_empty() {
        lines.push((SMALL, setup.footer.clone()));
    }
    // The lines are written from the lowest up.
    lines.extend(note.iter().rev().map(|line| (ASIDE, line.clone())));
    for (n, (style, line)) in lines.iter().enumerate() {
        let y = bottom - 1200 - SMALL.leading() * n as Um;
        page.words(style.end(right, y, &style.fitted(line, right - left)));
    }
}

/// The bar that shows whether a page was printed at its true size: ticks every inch above, every 10 mm below.
pub fn check_bar(page: &mut Page, x: Um, bottom: Um) {
    let y = bottom - 4 * MM;
    page.line(Group::Tick, (x, y), (x + 80 * MM, y), Stroke::THIN);
    for n in 0..=3 {
        let long = if n % 3 == 0 { 3000 } else { 2000 };
        page.line(Group::Tick, (x + n * INCH, y), (x + n * INCH, y - long), Stroke::THIN);
    }
    for n in 0..=8 {
        let long = if n % 8 == 0 { 3000 } else { 1500 };
        page.line(Group::Tick, (x + n * 10 * MM, y), (x + n * 10 * MM, y + long), Stroke::THIN);
    }
    page.words(SMALL.at(x + 3 * INCH + 800, y - 800, "3 in"));
    page.words(SMALL.end(x + 79 * MM, y + 3900, "80 mm"));
    page.words(SMALL.at(x, y - 5 * MM, "Print at 100 %, not fitted to the page; then measure this bar."));
}

/// A lower bar for narrow margins: 3 in with ticks upward, and words beside it.
pub fn small_bar(page: &mut Page, x: Um, y: Um) {
    page.line(Group::Tick, (x, y), (x + 3 * INCH, y), Stroke::THIN);
    for n in 0..=3 {
        page.line(Group::Tick, (x + n * INCH, y), (x + n * INCH, y - 2000), Stroke::THIN);
    }
    page.words(SMALL.at(x + 3 * INCH + MM, y - 300, "3 in when printed at 100 %"));
}

/// True where a page shows a colour that is neither grey, black nor white.
fn has_colour(page: &Page) -> bool {
    page.items.iter().any(|(_, mark)| match mark {
        Mark::Rect { fill: Some(Fill::Colour(c)), .. } | Mark::Path { fill: Some(c), .. } => {
            c.r != c.g || c.g != c.b
        }
        _ => false,
    })
}

/// The characters that have no letters anywhere, by their code points.
fn lacking(page: &Page, borrowed: &BTreeSet<char>) -> Vec<String> {
    let all: BTreeSet<char> = page.texts().flat_map(text::missing).collect();
    all.difference(borrowed).map(|c| format!("U+{:04X}", u32::from(*c))).collect()
}

#[cfg(test)]
mod tests {
    use super::super::scale::{BODY, CLEAR};
    use super::*;
    use crate::domain::colour::space::Rgb8;

    fn setup(paper: PrintPaper) -> Setup {
        Setup { paper, footer: "Fern & Ink, winter class".into(), ..Setup::default() }
    }

    #[test]
    fn every_page_keeps_clear_of_the_edges_whatever_is_on_it() {
        for paper in [PrintPaper::Letter, PrintPaper::A4] {
            let code = Modules { side: 33, dark: vec![true; 33 * 33] };
            let setup = Setup { code: Some(code), footer: "long ".repeat(60), ..setup(paper) };
            let mut sheaf = Sheaf::new(&setup, "T".repeat(300), "s".repeat(300));
            (0..200).for_each(|n| sheaf.write(BODY, &format!("line {n} {}", "w".repeat(300))));
            let pages = sheaf.finish();
            assert!(pages.len() > 3);
            for page in pages {
                let clear = page.area().inset(CLEAR);
                assert!(clear.holds(&page.bounds().unwrap()), "{:?} in {clear:?}", page.bounds());
            }
        }
    }

    #[test]
    fn content_stays_above_the_foot() {
        let setup = setup(PrintPaper::A4);
        let mut sheaf = Sheaf::new(&setup, "a", "b");
        let body = sheaf.body();
        (0..500).for_each(|_| assert!(sheaf.take(7 * MM) + 7 * MM <= body.bottom()));
        assert!(body.bottom() + 3 * MM <= 297 * MM - EDGE - foot_height(&setup, 0));
    }

    #[test]
    fn a_strip_that_is_taller_than_a_page_gets_one_page_not_two() {
        let setup = setup(PrintPaper::Letter);
        let mut sheaf = Sheaf::new(&setup, "a", "b");
        sheaf.take(2000 * MM);
        sheaf.take(5 * MM);
        assert_eq!(sheaf.finish().len(), 2);
    }

    #[test]
    fn content_flows_through_the_columns_before_the_next_page() {
        let setup = setup(PrintPaper::Letter);
        let mut sheaf = Sheaf::new(&setup, "a", "b");
        sheaf.write(BODY, "above both");
        let top = sheaf.body().bottom() - sheaf.left();
        sheaf.split(2);
        let (left, half) = (sheaf.column(), sheaf.body().width / 2);
        assert!(left.width <= half - GUTTER / 2);
        assert_eq!((sheaf.take(100 * MM), sheaf.column().x), (top, left.x));
        // 100 mm more fit below; the third goes to the top of the right column, the fifth to the next page.
        assert_eq!((sheaf.take(100 * MM), sheaf.column().x), (top + 100 * MM, left.x));
        assert_eq!((sheaf.take(100 * MM), sheaf.column().x), (top, left.right() + GUTTER));
        sheaf.take(100 * MM);
        assert_eq!((sheaf.take(100 * MM), sheaf.column().x), (sheaf.body().y, left.x));
        assert_eq!(sheaf.finish().len(), 2);
    }

    #[test]
    fn pages_are_numbered_and_say_what_they_lack() {
        let setup = setup(PrintPaper::Letter);
        let mut sheaf = Sheaf::new(&setup, "Chart", "");
        sheaf.write(BODY, "snow 雪");
        sheaf.page().fill(Area::new(50_000, 50_000, 10, 10), Fill::Colour(Rgb8::new(1, 2, 3)));
        sheaf.fresh();
        let pages = sheaf.finish();
        let words = |n: usize| pages[n].texts().map(|w| w.text.clone()).collect::<Vec<_>>().join("|");
        assert!(words(0).contains("Chart, page 1 of 2") && words(1).contains("page 2 of 2"));
        assert!(words(0).contains("boxed: U+96EA") && !words(1).contains("boxed"));
        assert!(words(0).contains("sRGB") && !words(1).contains("sRGB"));
        assert!(words(1).contains("Fern & Ink, winter class") && words(1).contains("Print at 100 %"));
    }
}
