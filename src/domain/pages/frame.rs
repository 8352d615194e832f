//! What stands on every printed page: heading, check bar, the maker's line, page numbers; and how content flows on.
//!
//! Everything keeps [`CLEAR`] from the edges, the least that home printers hold. The check bar shows 3 in above its line
//! and 80 mm below it, so that a page that was "fitted" by the printer is caught before paper is cut by it.

use super::page::{Area, Fill, GREY, Group, INCH, MM, Mark, Modules, Page, Point, Stroke, Um, WHITE, points};
use super::text::{self, Style};
use crate::domain::length::Unit;
use std::collections::BTreeSet;

/// What a page keeps clear of every edge.
pub const CLEAR: Um = 6 * MM;
/// Where content begins: a little inside, so that line widths and accents stay clear too.
pub const MARGIN: Um = 8 * MM;
/// Side of one square of a two-dimensional code: large enough for a hand-held camera.
pub const MODULE: Um = 500;

/// The heading.
pub const TITLE: Style = Style::bold(points(140));
/// A heading inside a page.
pub const HEADING: Style = Style::bold(points(105));
/// Ordinary words.
pub const BODY: Style = Style::plain(points(95));
/// Small words.
pub const SMALL: Style = Style::plain(points(75));
/// Small words that may be passed over.
pub const ASIDE: Style = Style::plain(points(75)).in_ink(GREY);

/// The paper that pages are printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Paper {
    /// 8 1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm (ISO 216).
    A4,
}

impl Paper {
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
    pub paper: Paper,
    /// The unit that sizes are shown in.
    pub unit: Unit,
    /// True where swatches are left uncoloured and told apart by hatches.
    pub colourless: bool,
    /// The maker's own line at the foot; may be empty.
    pub footer: String,
    /// The maker's own code, drawn at the foot of every page.
    pub code: Option<Modules>,
}

/// Pages being filled from the top down.
#[derive(Debug)]
pub struct Sheaf<'a> {
    /// What the person chose.
    pub setup: &'a Setup,
    title: String,
    subtitle: String,
    lying: bool,
    pages: Vec<Page>,
    y: Um,
}

impl<'a> Sheaf<'a> {
    /// No page yet; each will bear this heading and the line under it.
    pub fn new(setup: &'a Setup, title: impl Into<String>, subtitle: impl Into<String>) -> Self {
        Self { setup, title: title.into(), subtitle: subtitle.into(), lying: false, pages: Vec::new(), y: 0 }
    }

    /// Pages lie on their long side.
    #[must_use]
    pub fn lying(self) -> Self {
        Self { lying: true, ..self }
    }

    /// Another line under the heading of the pages that follow.
    pub fn set_subtitle(&mut self, subtitle: impl Into<String>) {
        self.subtitle = subtitle.into();
    }

    /// The size of a page.
    pub fn page_size(&self) -> (Um, Um) {
        let (short, long) = self.setup.paper.size();
        if self.lying { (long, short) } else { (short, long) }
    }

    /// The part of every page that content goes into.
    pub fn body(&self) -> Area {
        let (width, height) = self.page_size();
        let (head, foot) = (14 * MM, foot_height(self.setup) + 3 * MM);
        Area::new(MARGIN, MARGIN + head, width - 2 * MARGIN, height - 2 * MARGIN - head - foot)
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
        let mut page = Page::new(self.title.clone(), width, height);
        let room = width - 2 * MARGIN;
        let title = TITLE.fitted(&self.title, room);
        page.words(TITLE.at(MARGIN, MARGIN + 4 * MM, &title));
        page.words(ASIDE.at(MARGIN, MARGIN + 9 * MM, &ASIDE.fitted(&self.subtitle, room)));
        page.line(
            Group::Outline,
            (MARGIN, MARGIN + 11 * MM),
            (width - MARGIN, MARGIN + 11 * MM),
            Stroke::RULE,
        );
        self.pages.push(page);
        self.y = self.body().y;
    }

    /// Takes a strip of this height from the page, or from a fresh one where it does not fit, and gives its top.
    pub fn take(&mut self, height: Um) -> Um {
        if self.pages.is_empty() || (self.y + height > self.body().bottom() && self.y > self.body().y) {
            self.fresh();
        }
        let top = self.y;
        self.y += height;
        top
    }

    /// The height that is left on this page.
    pub fn left(&mut self) -> Um {
        self.page();
        self.body().bottom() - self.y
    }

    /// Takes the strip that one line of words needs and writes it.
    pub fn write(&mut self, style: Style, text: &str) {
        let body = self.body();
        let top = self.take(style.leading());
        let line = style.fitted(text, body.width);
        self.page().words(style.at(body.x, top + style.size, &line));
    }

    /// Writes a text in as many lines as it needs.
    pub fn write_wrapped(&mut self, style: Style, text: &str) {
        for line in style.wrapped(text, self.body().width, usize::MAX) {
            self.write(style, &line);
        }
    }

    /// Leaves a strip empty, but not at the top of a page.
    pub fn gap(&mut self, height: Um) {
        if !self.pages.is_empty() && self.y > self.body().y {
            self.y += height;
        }
    }

    /// The pages with everything that needs their number or their content known.
    pub fn finish(mut self) -> Vec<Page> {
        self.page();
        let count = self.pages.len();
        for (n, page) in self.pages.iter_mut().enumerate() {
            foot(page, self.setup, &format!("{}, page {} of {count}", page.title.clone(), n + 1));
        }
        self.pages
    }
}

fn foot_height(setup: &Setup) -> Um {
    let code = setup.code.as_ref().map_or(0, code_side);
    code.max(14 * MM)
}

fn code_side(modules: &Modules) -> Um {
    // ISO/IEC 18004 asks for four light squares all round.
    MODULE * i64::from(modules.side + 8)
}

fn foot(page: &mut Page, setup: &Setup, number: &str) {
    let bottom = page.height - MARGIN;
    let mut right = page.width - MARGIN;
    if let Some(modules) = &setup.code {
        let side = code_side(modules);
        let at = Point { x: right - side + 4 * MODULE, y: bottom - side + 4 * MODULE };
        page.fill(Area::new(right - side, bottom - side, side, side), Fill::Colour(WHITE));
        page.add(Group::Code, Mark::Code { at, module: MODULE, modules: modules.clone() });
        right -= side + 2 * MM;
    }
    check_bar(page, MARGIN, bottom);
    let left = MARGIN + 88 * MM;
    let mut lines = vec![(ASIDE, number.to_owned())];
    if has_colour(page) {
        lines.push((ASIDE, "Colours are sRGB values; screen, print and paper differ.".to_owned()));
    }
    let lacking = lacking(page);
    if !lacking.is_empty() {
        lines.push((ASIDE, format!("No letters here, so boxed: {}", lacking.join(", "))));
    }
    if !setup.footer.is_empty() {
        lines.push((SMALL, setup.footer.clone()));
    }
    for (n, (style, line)) in lines.iter().enumerate() {
        let y = bottom - 1200 - 3500 * n as Um;
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
    page.words(SMALL.end(x + 79 * MM, y + 3600, "80 mm"));
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

/// The characters that the print font lacks, by their code points.
fn lacking(page: &Page) -> Vec<String> {
    let all: BTreeSet<char> = page.texts().flat_map(text::missing).collect();
    all.into_iter().map(|c| format!("U+{:04X}", u32::from(c))).collect()
}

/// A grey line round a patch.
pub const GREY_LINE: Stroke = Stroke::RULE;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::colour::space::Rgb8;

    fn setup(paper: Paper) -> Setup {
        Setup { paper, footer: "Fern & Ink, winter class".into(), ..Setup::default() }
    }

    #[test]
    fn every_page_keeps_clear_of_the_edges_whatever_is_on_it() {
        for paper in [Paper::Letter, Paper::A4] {
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
        let setup = setup(Paper::A4);
        let mut sheaf = Sheaf::new(&setup, "a", "b");
        let body = sheaf.body();
        (0..500).for_each(|_| assert!(sheaf.take(7 * MM) + 7 * MM <= body.bottom()));
        assert!(body.bottom() + 3 * MM <= 297 * MM - MARGIN - foot_height(&setup));
    }

    #[test]
    fn a_strip_that_is_taller_than_a_page_gets_one_page_not_two() {
        let setup = setup(Paper::Letter);
        let mut sheaf = Sheaf::new(&setup, "a", "b");
        sheaf.take(2000 * MM);
        sheaf.take(5 * MM);
        assert_eq!(sheaf.finish().len(), 2);
    }

    #[test]
    fn pages_are_numbered_and_say_what_they_lack() {
        let setup = setup(Paper::Letter);
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
