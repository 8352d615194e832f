//! Papers painted cell by cell, and what is drawn over them. A cell is two dots high where the signs have half blocks; the
//! pattern's own tile says which ink each dot has. Where colours cannot be shown a paper is a hatch, and a letter says which
//! pattern it bears. Lines and words that lie over a paper keep its ground.

use super::colours::{Paint, paint};
use super::ground::{self, solid};
use super::look::{ColourDepth, Look};
use super::surface::Surface;
use crate::app::model::Model;
use crate::domain::colour::space::Rgb8;
use crate::domain::colour::vision::Eyes;
use crate::domain::pages::measure::Um;
use crate::domain::paper_look::PaperLook;
use crate::domain::pattern::PatternKind;
use crate::domain::pattern::tile::Tile;
use crate::domain::stock::ItemId;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

/// Hatches of plain papers, from the first mat inward, where colours cannot be shown.
const HATCHES: [&str; 6] = ["░", "╱", "·", "▒", "╲", "▓"];
/// The same where only ASCII is drawn.
const ASCII_HATCHES: [&str; 6] = [":", "/", ".", "+", "\\", "#"];

/// Hatches that stand for how dark a paper is, the darkest first: below L* 40, 65, 85, and the rest. The last leaves a narrow
/// rim to its line.
const SHADES: [usize; 4] = [5, 3, 0, LIGHTEST];
const LIGHTEST: usize = 2;
/// Those of three papers, the lightest first.
const OF_THREE: [usize; 3] = [LIGHTEST, 0, 5];

/// Hatches of papers that things are written on, the calmest first; that of offcuts is none of them.
const CALM: [usize; 5] = [2, 1, 4, 0, 5];

/// Fewest columns and rows in which a pattern is drawn.
const LEAST_PATTERN: (u16, u16) = (14, 7);
/// From so much to a column on, in micrometres, a mark that lies between two columns looks unlike one that does not.
const COARSE: Um = 1_000;

/// How a paper is painted here.
#[derive(Clone, Debug)]
pub struct Painted {
    inks: Vec<Color>,
    is_near: bool,
    /// How many inks it has, whether they can be shown or not.
    count: usize,
    look: PaperLook,
    hatch: Option<usize>,
    /// What a column stands for in the whole drawing, where that is more than this area.
    scale: Option<Um>,
    /// Its pattern is too small to be made out.
    is_afar: bool,
}

impl Painted {
    /// A paper as these eyes see it; `hatch` tells plain papers apart where their colours cannot be shown, none is blank.
    pub fn new(look: PaperLook, hatch: Option<usize>, eyes: Option<&Eyes>, screen: &Look) -> Self {
        let see = |ink: Rgb8| eyes.map_or(ink, |eyes| eyes.hex(ink));
        let seen: Vec<Rgb8> = look.pattern.inks(&look.inks).into_iter().map(see).collect();
        let paints: Vec<Paint> = seen.iter().map(|ink| paint(*ink, ink.lab(), screen.depth)).collect();
        let inks = paints.iter().filter_map(|paint| match paint {
            Paint::Exact(colour) | Paint::Near(colour) => Some(*colour),
            Paint::None => None,
        });
        let is_near = matches!(paints.first(), Some(Paint::Near(_)));
        Self { inks: inks.collect(), is_near, count: seen.len(), look, hatch, scale: None, is_afar: false }
    }

    /// The same in one of several drawings to one scale: its pattern goes by what a column stands for in all of them, whatever
    /// columns each was rounded to.
    #[must_use]
    pub fn to_scale(self, across: Um) -> Self {
        Self { scale: Some(across.max(1)), ..self }
    }

    /// The same seen from afar: where colors can be shown it has one, which says what it is without a letter.
    #[must_use]
    pub fn afar(self) -> Self {
        Self { is_afar: !self.inks.is_empty(), ..self }
    }

    /// A line of the shelf, as the eyes in force see it; by itself its hatch says how dark it is.
    pub fn item(model: &Model, id: ItemId, screen: &Look) -> Self {
        let look = PaperLook::of_item(&model.book, id);
        let steps =
            look.inks.first().map(|ink| usize::from(ink.lab().l < 65.0) + usize::from(ink.lab().l < 40.0));
        let hatch = steps.and_then(|n| CALM.get(n)).copied();
        Self::new(look, hatch, model.palette.eyes().as_ref(), screen)
    }

    /// The same where papers of one job are drawn: their hatches tell them apart.
    pub fn among(model: &Model, id: ItemId, papers: &[ItemId], screen: &Look) -> Self {
        let mut all = papers.to_vec();
        all.sort_unstable();
        all.dedup();
        let Some(place) = all.iter().position(|paper| *paper == id) else {
            return Self::item(model, id, screen);
        };
        let hatch = CALM.get(place % CALM.len()).copied();
        Self::new(PaperLook::of_item(&model.book, id), hatch, model.palette.eyes().as_ref(), screen)
    }

    /// The same with the sign of its chip, which says how dark it is: beside a list of papers one code serves both.
    pub fn as_in_lists(model: &Model, id: ItemId, screen: &Look) -> Self {
        let look = PaperLook::of_item(&model.book, id);
        let hatch = shade_of(&look, screen);
        Self::new(look, hatch, model.palette.eyes().as_ref(), screen)
    }

    /// True where nothing is known of its colour.
    pub fn is_unknown(&self) -> bool {
        self.look.inks.is_empty()
    }

    /// A patch of the paper by itself: its area filled, with an edge where it would be lost on the screen.
    pub fn patch(&self, area: Rect, across: Um, on: &mut Surface) {
        self.fill(area, across, on);
        if let Some(ground) = self.ground() {
            ground::edge(area, ground, on.buf, on.look);
        }
    }

    /// Fills an area of the screen; `across` is what one column stands for. The pattern begins at the area's own corner and leaves
    /// a rim of its ground, so that no mark runs into what lies beside it; where too little of it would show for a person to
    /// make out, the paper has one colour, or its letter where colours cannot be shown.
    pub fn fill(&self, area: Rect, across: Um, on: &mut Surface) {
        let finest = self.scale.unwrap_or(across).max(1);
        if self.is_flat(area, across) {
            self.flat(area, on);
            return;
        }
        let tile = self.tile(finest);
        let beyond = Um::from(finest >= COARSE);
        let shown = area.intersection(on.buf.area);
        let is_rim =
            |x: u16, y: u16| x == area.x || y == area.y || x + 1 == area.right() || y + 1 == area.bottom();
        for y in shown.top()..shown.bottom() {
            for x in shown.left()..shown.right() {
                if is_rim(x, y) && !self.look.pattern.is_plain() {
                    self.cell((x, y), (0, 0, 0), on);
                    continue;
                }
                let (column, row) = (Um::from(x - area.x), Um::from(y - area.y));
                // Middles of the cell's two dots, for a cell is as high as two columns are wide; a little beyond where
                // edges of marks lie just there.
                let at = |part: Um| {
                    tile.ink_at(
                        column * finest + finest / 2 + beyond,
                        row * 2 * finest + finest * part / 2 + beyond,
                    )
                };
                self.cell((x, y), (at(1), at(3), at(2)), on);
            }
        }
        if let Some(letter) = self.told().filter(|_| has_letter_room(area)) {
            on.buf.set_string(area.x + 1, area.y + 1, format!(" {letter} "), on.look.theme.text);
            self.is_lettered_on(on);
        }
    }

    /// One repeat as it is drawn where a column stands for so much.
    fn tile(&self, finest: Um) -> Tile {
        Tile::of(self.look.pattern.kind, self.count, self.repeat(finest))
    }

    /// How far marks lie apart as drawn. Where a column stands for much it is an even number of them, so that all marks of a kind
    /// have the same cells.
    fn repeat(&self, finest: Um) -> Um {
        let pattern = self.look.pattern;
        let repeat = pattern.drawn_repeat(pattern.repeat.micrometres(), finest);
        if finest < COARSE {
            return repeat;
        }
        let pairs = (repeat + finest) / (2 * finest);
        2 * finest * pairs.max(1)
    }

    /// True where an area shows too little of the pattern for a person to make it out: less than one repeat.
    fn is_flat(&self, area: Rect, across: Um) -> bool {
        if self.look.pattern.is_plain() || self.is_afar {
            return self.is_afar;
        }
        let finest = self.scale.unwrap_or(across).max(1);
        let repeat = self.repeat(finest);
        // The rim shows none of it.
        let shown = |cells: u16| Um::from(cells.saturating_sub(2)) * finest;
        area.width < LEAST_PATTERN.0
            || area.height < LEAST_PATTERN.1
            || shown(area.width) < repeat
            || 2 * shown(area.height) < repeat
    }

    /// One colour, that of its ground, as its chip shows it; where that cannot be shown the pattern's letter.
    fn flat(&self, area: Rect, on: &mut Surface) {
        let shown = area.intersection(on.buf.area);
        for at in shown.positions() {
            let Some(cell) = on.buf.cell_mut(at) else { continue };
            cell.reset();
            cell.set_style(on.look.theme.text);
            if let Some(colour) = self.ground() {
                solid(cell, colour, on.look);
            }
        }
        if let Some(letter) = self.told().filter(|_| has_letter_room(area)) {
            ground::over(on.buf, (area.x + 1, area.y + 1), &letter.to_string(), on.look.theme.text);
            self.is_lettered_on(on);
        }
    }

    fn cell(&self, (x, y): (u16, u16), (upper, lower, middle): (usize, usize, usize), on: &mut Surface) {
        let look = on.look;
        let Some(ground) = self.inks.first().copied() else {
            let sign = match (self.look.pattern.is_plain(), self.hatch, middle) {
                (true, Some(n), _) => hatch(n, look),
                (false, _, ink) if ink > 0 => hatch(ink - 1, look),
                _ => " ",
            };
            on.buf.set_string(x, y, sign, look.theme.offcut);
            return;
        };
        let ink = |n: usize| self.inks.get(n).copied().unwrap_or(ground);
        let Some(cell) = on.buf.cell_mut((x, y)) else { return };
        cell.reset();
        match look.glyphs.halves {
            Some([half, ..]) if upper != lower => {
                cell.set_symbol(half).set_style(Style::new().fg(ink(upper)).bg(ink(lower)));
            }
            _ => solid(cell, ink(if upper == lower { upper } else { middle }), look),
        }
    }

    /// The hatch that tells it from its neighbours where no more than a rim of one cell shows; none where its colour or its
    /// pattern does, or where it is so light that its line alone says so.
    pub fn rim(&self) -> Option<usize> {
        let is_hatched = self.inks.is_empty() && self.look.pattern.is_plain();
        self.hatch.filter(|n| is_hatched && *n != LIGHTEST)
    }

    /// Remembers the letter that tells its pattern here, where colours cannot be shown: what it stands for is told below.
    pub fn is_lettered_on(&self, on: &mut Surface) {
        if self.told().is_some() {
            on.lettered(self.look.pattern.kind);
        }
    }

    /// The letter of its pattern, where colours cannot be shown.
    pub fn told(&self) -> Option<char> {
        self.look.pattern.kind.letter().filter(|_| self.inks.is_empty())
    }

    /// Two columns that say how it is drawn where colours cannot be shown.
    pub fn key(&self, look: &Look) -> Option<String> {
        let hatched = self.hatch.filter(|_| self.inks.is_empty()).map(|n| hatch(n, look).repeat(2));
        self.told().map(|letter| format!("{letter} ")).or(hatched)
    }

    /// `~` beside a paper whose ground is only near to what is shown.
    pub const fn sign(&self) -> &'static str {
        if self.is_near { "~" } else { " " }
    }

    /// The colour of the ground, where it can be shown.
    pub fn ground(&self) -> Option<Color> {
        self.inks.first().copied()
    }

    /// Two columns that stand for the paper in a list: where colours cannot be shown the letter of its pattern, else a hatch as
    /// dark as it is, and an edge; nothing where its colour is not known.
    pub fn chip(&self, look: &Look) -> [(String, Style); 2] {
        let Some(paper) = self.ground() else {
            let Some(ink) = self.look.inks.first() else {
                return [" ", " "].map(|blank| (blank.to_owned(), look.theme.text));
            };
            let letter = self.look.pattern.kind.letter().map(|c| c.to_string());
            let sign = letter.unwrap_or_else(|| hatch(shade(*ink, look), look).to_owned());
            let [edge, _] = ground::edges(look);
            // Upright in a picked row too: in reverse a light paper would look dark.
            let upright = |style: Style| style.remove_modifier(Modifier::REVERSED);
            return [(sign, upright(look.theme.text)), (edge.to_owned(), upright(look.theme.dim))];
        };
        if self.look.pattern.kind == PatternKind::Plain && self.inks.len() == 1 {
            let (block, style) = ground::block(2, paper, look);
            let mut signs = block.chars();
            return [signs.next(), signs.next()].map(|sign| (sign.unwrap_or(' ').to_string(), style));
        }
        let ink = |n: usize| self.inks.get(n).copied().unwrap_or(paper);
        let sign = chip_sign(&self.look, look);
        let last = if self.inks.len() > 2 { ink(2) } else { ink(1) };
        // In a picked row that is shown in reverse too.
        let upright = Style::new().remove_modifier(Modifier::REVERSED);
        [ink(1), last].map(|ink| (sign.to_owned(), upright.bg(paper).fg(ink)))
    }
}

/// True where a letter stands inside an area's border.
const fn has_letter_room(area: Rect) -> bool {
    area.width > 3 && area.height > 2
}

/// The hatch of a paper that says how dark it is, as its chip does; none where its colour is not known.
pub fn shade_of(paper: &PaperLook, look: &Look) -> Option<usize> {
    paper.inks.first().map(|ink| shade(*ink, look))
}

/// The hatch of a colour, by how dark it is: light signs on a dark ground make the densest the lightest.
fn shade(ink: Rgb8, look: &Look) -> usize {
    let step = [40.0, 65.0, 85.0].iter().filter(|from| ink.lab().l >= **from).count();
    let step = if look.is_dark { SHADES.len() - 1 - step } else { step };
    SHADES.get(step).copied().unwrap_or(LIGHTEST)
}

/// The hatch of one of three colours, by how many of them are lighter.
pub fn of_three(lighter: usize, look: &Look) -> Option<usize> {
    let last = OF_THREE.len() - 1;
    OF_THREE.get(if look.is_dark { last.checked_sub(lighter)? } else { lighter }).copied()
}

/// The sign of a pattern within one cell.
fn chip_sign(paper: &PaperLook, look: &Look) -> &'static str {
    use PatternKind::{Check, Dots, Floral, Grid, Plain, Stripes};
    let [plain, ascii] = match paper.pattern.kind {
        Plain => [" ", " "],
        Stripes => ["▐", "|"],
        Dots => ["•", "o"],
        Grid => ["┼", "+"],
        Check => ["▚", "x"],
        Floral => ["*", "*"],
    };
    if look.glyphs.halves.is_some() { plain } else { ascii }
}

/// The hatch of the n-th paper of a drawing.
pub fn hatch(n: usize, look: &Look) -> &'static str {
    let all = if look.glyphs.halves.is_some() { HATCHES } else { ASCII_HATCHES };
    all[n % all.len()]
}

/// True where swatches can be painted at all.
pub fn paints(look: &Look) -> bool {
    look.depth > ColourDepth::Sixteen
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;
    use crate::domain::pattern::Pattern;
    use crate::domain::screen::Screen;

    fn chip(ink: Option<Rgb8>, kind: PatternKind, depth: ColourDepth) -> String {
        let screen = Look::new(&Screen::default(), depth);
        let repeat = if kind == PatternKind::Plain { Length::ZERO } else { Length::sixteenths(8) };
        let look = PaperLook {
            name: String::new(),
            inks: ink.into_iter().collect(),
            pattern: Pattern { kind, repeat },
        };
        Painted::new(look, None, None, &screen).chip(&screen).map(|(sign, _)| sign).concat()
    }

    /// A chip keeps its colours where it lies in a row that is shown in reverse.
    #[test]
    fn a_chip_in_a_picked_row_keeps_its_colours() {
        use ratatui::buffer::Buffer;
        let screen = Look::new(&Screen::default(), ColourDepth::True);
        let (ground, ink) = (Rgb8::new(85, 42, 90), Rgb8::new(250, 250, 250));
        for kind in [PatternKind::Plain, PatternKind::Dots, PatternKind::Stripes] {
            for inks in [vec![ground, ink], vec![ink, ground]] {
                let pattern = Pattern { kind, repeat: Length::sixteenths(8) };
                let look = PaperLook { name: String::new(), inks: inks.clone(), pattern };
                let mut cells = Buffer::empty(Rect::new(0, 0, 2, 1));
                cells.set_style(cells.area, Style::new().add_modifier(Modifier::REVERSED));
                for (x, (sign, style)) in (0..).zip(Painted::new(look, None, None, &screen).chip(&screen)) {
                    cells.set_string(x, 0, sign, style);
                    let cell = &cells[(x, 0)];
                    let shown = if cell.modifier.contains(Modifier::REVERSED) { cell.fg } else { cell.bg };
                    assert_eq!(shown, Color::Rgb(inks[0].r, inks[0].g, inks[0].b), "{kind:?}");
                }
            }
        }
    }

    /// Where colours cannot be shown no paper whose colour is known is blank: dark and light papers differ, a pattern has its
    /// letter, and each chip ends in an edge.
    #[test]
    fn a_chip_without_colour_is_a_hatch_or_a_letter_with_an_edge() {
        let grey = |n| Some(Rgb8::new(n, n, n));
        for depth in [ColourDepth::None, ColourDepth::Sixteen] {
            let chips = [20, 110, 170, 250].map(|n| chip(grey(n), PatternKind::Plain, depth));
            assert_eq!(chips, ["▓▏", "▒▏", "░▏", "·▏"]);
            let letter = PatternKind::Dots.letter().unwrap();
            assert_eq!(chip(grey(20), PatternKind::Dots, depth), format!("{letter}▏"));
            assert_eq!(chip(None, PatternKind::Plain, depth), "  ");
        }
    }

    /// On a ground that is known to be dark a light paper has the densest hatch, and in a picked row it is as light as in others.
    #[test]
    fn a_light_paper_looks_light_without_colour() {
        let signs = |ground| {
            let screen = Look::new(&Screen { ground, ..Screen::default() }, ColourDepth::None);
            [20, 110, 170, 250].map(|n| {
                let look = PaperLook { inks: vec![Rgb8::new(n, n, n)], ..PaperLook::default() };
                let chip = Painted::new(look, None, None, &screen).chip(&screen);
                assert!(chip.iter().all(|(_, style)| style.sub_modifier.contains(Modifier::REVERSED)));
                chip[0].0.clone()
            })
        };
        assert_eq!(signs(Some(false)), ["·", "░", "▒", "▓"]);
        assert_eq!(signs(Some(true)), ["▓", "▒", "░", "·"]);
        assert_eq!(signs(None), signs(Some(true)));
    }

    /// A floral paper with white marks, as drawn into an area where a column stands for an eighth of an inch.
    fn floral(area: Rect, depth: ColourDepth) -> (ratatui::buffer::Buffer, Look) {
        let screen = Look::new(&Screen::default(), depth);
        let inks = vec![Rgb8::new(85, 42, 90), Rgb8::new(250, 250, 250)];
        let pattern = Pattern { kind: PatternKind::Floral, repeat: Length::sixteenths(12) };
        let mut cells = ratatui::buffer::Buffer::empty(area);
        let paper = Painted::new(PaperLook { name: String::new(), inks, pattern }, None, None, &screen);
        paper.fill(area, 3175, &mut Surface::new(&mut cells, &screen));
        (cells, screen)
    }

    /// However many columns a repeat has, each of its two sprigs looks like every other of its ink.
    #[test]
    fn marks_of_a_kind_have_the_same_cells_in_small_drawings() {
        let screen = Look::new(&Screen::default(), ColourDepth::True);
        let area = Rect::new(0, 0, 60, 30);
        for across in [1_600, 1_750, 1_900, 2_050, 2_200] {
            let inks = vec![Rgb8::new(85, 42, 90), Rgb8::new(250, 250, 250)];
            let pattern = Pattern { kind: PatternKind::Floral, repeat: Length::sixteenths(16) };
            let paper = Painted::new(PaperLook { name: String::new(), inks, pattern }, None, None, &screen);
            let mut cells = ratatui::buffer::Buffer::empty(area);
            paper.fill(area, across, &mut Surface::new(&mut cells, &screen));
            let columns = (paper.repeat(across) / across) as u16;
            assert_eq!(columns % 2, 0, "{across}");
            let looks = |x: u16, y: u16| {
                let cell = &cells[(x, y)];
                (cell.symbol().to_owned(), cell.fg, cell.bg)
            };
            let inner = Rect::new(1, 1, 58 - columns, 28 - columns / 2);
            let is_alike = |at: ratatui::layout::Position| {
                looks(at.x, at.y) == looks(at.x + columns, at.y)
                    && looks(at.x, at.y) == looks(at.x, at.y + columns / 2)
            };
            assert!(inner.positions().all(is_alike), "{across}");
        }
    }

    /// Marks of a pattern never reach the edge of a paper, where they would run into what lies beside it.
    #[test]
    fn a_pattern_leaves_a_rim_of_its_ground() {
        let area = Rect::new(0, 0, 40, 20);
        let (cells, _) = floral(area, ColourDepth::True);
        let ground = Color::Rgb(85, 42, 90);
        let inner = Rect::new(1, 1, 38, 18);
        let is_ground = |at| cells[at].bg == ground && (cells[at].fg == ground || cells[at].symbol() == " ");
        assert!(area.positions().filter(|at| !inner.contains(*at)).all(is_ground));
        assert!(!inner.positions().all(is_ground), "there is a pattern");
    }

    /// Too small for its pattern a paper has the colour of its ground, as its chip has; without colours its letter.
    #[test]
    fn a_small_patterned_paper_has_the_colour_of_its_chip_or_its_letter() {
        for (width, height) in [(8, 5), (12, 6), (40, 3)] {
            let area = Rect::new(0, 0, width, height);
            let (cells, _) = floral(area, ColourDepth::True);
            let whole = cells[(0, 0)].bg;
            assert!(area.positions().all(|at| cells[at].bg == whole), "{width} x {height}");
            assert_eq!(whole, Color::Rgb(85, 42, 90));
            assert_ne!(cells[(1, 1)].symbol(), "F", "its color is shown");
            let (cells, _) = floral(area, ColourDepth::None);
            assert_eq!(cells[(1, 1)].symbol(), "F");
        }
    }
}
