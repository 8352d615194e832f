//! The cut plan on pages: read from arm's length with a knife in the hand.
//!
//! At the top the run as a whole: sums, every setting of the fence in order, papers to fetch, leftovers to label. Then
//! layout after layout, as many to a page as fit: the drawing, beside it the steps with the setting in the largest
//! figures, a box to tick and the words; then what the letters are. A layout is not parted where a page can hold it.

use super::{PlanPages, PlanSheet, PlanStep};
use crate::domain::cards::cautions::{self, Activity, DEFER};
use crate::domain::cutting::plan_words;
use crate::domain::pages::drawing::{self, Drawn, Scale};
use crate::domain::pages::frame::{Setup, Sheaf};
use crate::domain::pages::page::{Area, Fill, Group, MM, Page, Stroke, Um, WHITE};
use crate::domain::pages::scale::{
    BODY, BOX, COUNT, FIGURE, GUTTER, SETTING, SMALL, SMALL_STRONG, STRONG, WORKS,
};
use crate::domain::pages::text::Style;
use crate::domain::plural::count_of;

/// The pages.
pub fn pages(setup: &Setup, plan: &PlanPages) -> Vec<Page> {
    // The caution stands under every heading: the page hangs where the work is done.
    let care = plan.blade.caution();
    let mut sheaf = Sheaf::new(setup, format!("Cut plan: {}", plan.title), care);
    for line in &plan.sums {
        sheaf.write_wrapped(BODY, line);
    }
    if plan.sheets.is_empty() {
        sheaf.write(BODY, "Nothing is cut.");
        return sheaf.finish();
    }
    let cautions = [Activity::Cutting, Activity::Measuring].into_iter().filter_map(cautions::when);
    let mut words: Vec<&str> = cautions.map(|caution| caution.text.as_str()).collect();
    let defer = format!("In every case {DEFER}.");
    words.push(&defer);
    sheaf.write_wrapped(SMALL, &words.join(" "));
    settings(&mut sheaf, plan);
    lists(&mut sheaf, plan);
    let room = room_of(plan.sheets.len());
    for (n, sheet) in plan.sheets.iter().enumerate() {
        write(&mut sheaf, plan, n, sheet, room);
    }
    sheaf.finish()
}

/// Width and height that a drawing may take, by how many there are.
const fn room_of(layouts: usize) -> (Um, Um) {
    match layouts {
        1 => (92 * MM, 125 * MM),
        2 => (70 * MM, 85 * MM),
        3 => (56 * MM, 60 * MM),
        _ => (51 * MM, 40 * MM),
    }
}

/// Every setting of the run in order, in figures, with the layout that it begins in.
fn settings(sheaf: &mut Sheaf<'_>, plan: &PlanPages) {
    let all = plan.settings();
    let unit = plan.unit;
    sheaf.heading(&format!("Settings in order ({})", unit.sign()), 12 * MM);
    let body = sheaf.body();
    let shown: Vec<(String, String)> =
        all.iter().map(|(fence, layout)| (fence.show(unit), format!("layout {layout}"))).collect();
    let wide = shown.iter().map(|(f, l)| FIGURE.width(f).max(SMALL.width(l))).max().unwrap_or(0) + 3 * MM;
    let across = (body.width / wide).max(1) as usize;
    let high = FIGURE.leading() + SMALL.leading() + MM / 2;
    for row in shown.chunks(across) {
        let top = sheaf.take(high);
        let page = sheaf.page();
        for (n, (fence, layout)) in (0..).zip(row) {
            let x = body.x + n * wide;
            page.words(FIGURE.at(x, top + FIGURE.size, fence));
            page.words(SMALL.at(x, top + FIGURE.leading() + SMALL.size, layout));
        }
    }
}

/// What to fetch and what to keep: side by side where both are short, else one after the other.
fn lists(sheaf: &mut Sheaf<'_>, plan: &PlanPages) {
    let both = [("Fetch", &plan.fetch), ("Keep, and write this on each", &plan.keep)];
    let both: Vec<_> = both.into_iter().filter(|(_, lines)| !lines.is_empty()).collect();
    let count = both.len().max(1) as Um;
    let width = (sheaf.body().width - (count - 1) * GUTTER) / count;
    let wrapped: Vec<Vec<Vec<String>>> = both
        .iter()
        .map(|(_, lines)| lines.iter().map(|l| BODY.wrapped(l, width - BOX - 2 * MM, 3)).collect())
        .collect();
    let height = |list: &Vec<Vec<String>>| list.iter().map(|l| row_height(l)).sum::<Um>();
    let tallest = wrapped.iter().map(height).max().unwrap_or(0);
    let heading = STRONG.leading() + MM;
    if tallest + heading > sheaf.body().height {
        for ((title, lines), _) in both.iter().zip(&wrapped) {
            sheaf.heading(title, 10 * MM);
            for line in *lines {
                let lines = BODY.wrapped(line, sheaf.body().width - BOX - 2 * MM, 3);
                let (top, x) = (sheaf.take(row_height(&lines)), sheaf.body().x);
                ticked(sheaf.page(), x, top, &lines);
            }
        }
        return;
    }
    sheaf.gap(3 * MM);
    let (body, top) = (sheaf.body(), sheaf.take(tallest + heading));
    let page = sheaf.page();
    for (n, ((title, _), list)) in (0..).zip(both.iter().zip(&wrapped)) {
        let x = body.x + n * (width + GUTTER);
        page.words(STRONG.at(x, top + STRONG.size, title));
        let mut y = top + heading;
        for lines in list {
            ticked(page, x, y, lines);
            y += row_height(lines);
        }
    }
}

fn row_height(lines: &[String]) -> Um {
    (lines.len() as Um * BODY.leading()).max(BOX) + MM / 2
}

/// Lines with a box to tick before them.
fn ticked(page: &mut Page, x: Um, y: Um, lines: &[String]) {
    tick(page, x, y + BODY.size - BOX + 300);
    for (n, line) in (0..).zip(lines) {
        page.words(BODY.at(x + BOX + 2 * MM, y + n * BODY.leading() + BODY.size, line));
    }
}

fn tick(page: &mut Page, x: Um, y: Um) {
    page.frame(Group::Outline, Area::new(x, y, BOX, BOX), WORKS);
}

/// One layout: heading, drawing, steps, what the letters are.
fn write(sheaf: &mut Sheaf<'_>, plan: &PlanPages, n: usize, sheet: &PlanSheet, room: (Um, Um)) {
    sheaf.gap(3 * MM);
    let mut block = Block::of(sheaf, plan, sheet, room);
    // A drawing that is a little too high for the rest of the page is made smaller rather than moved on.
    let smaller = Block::of(sheaf, plan, sheet, (room.0, room.1 * 7 / 8));
    let left_here = sheaf.left();
    if block.whole() > left_here && smaller.whole() <= left_here {
        block = smaller;
    }
    let (body, head) = (sheaf.body(), Block::HEAD);
    // A layout that a page can hold is not parted; a longer one keeps its first step beside its drawing.
    let whole = block.whole();
    sheaf.keep(if whole <= body.height { whole } else { head + block.at_the_left().max(30 * MM) });
    let top = sheaf.take(head);
    let colourless = sheaf.setup.colourless;
    let place = Area::new(body.x, top, body.width, head);
    heading(sheaf.page(), plan, (n, sheet), place, (block.scale, colourless));
    let (top, page) = (top + head, sheaf.count());
    let ranges: Vec<_> = sheet.steps.iter().map(|s| s.cuts.clone()).collect();
    let names = names(plan, sheet);
    let look = sheet.paper.as_ref().map(|paper| &paper.look).filter(|_| !sheaf.setup.colourless);
    let drawn = Drawn { sheet: sheet.size, layout: &sheet.layout, names: &names, steps: &ranges, look };
    drawing::layout(sheaf.page(), body.x + MM / 2, top, block.scale, &drawn);
    let mut y = top + block.area.height + 2 * MM;
    for row in &block.under {
        row.write(sheaf.page(), body.x, y);
        y += row.height();
    }
    for row in &block.beside {
        if sheaf.left() < row.height() {
            sheaf.keep(row.height() + SMALL.leading());
            sheaf.write(SMALL, &format!("layout {}, continued", n + 1));
        }
        let y = sheaf.take(row.height());
        row.write(sheaf.page(), block.left, y);
    }
    if sheaf.count() == page {
        sheaf.reach(top + block.at_the_left() + MM);
    }
}

/// A layout as it will stand on the page: the drawing at the left, the steps beside it, what the letters are under either.
struct Block {
    scale: Scale,
    area: Area,
    left: Um,
    beside: Vec<Row>,
    under: Vec<Row>,
}

/// Widths of the drawing that are tried where the steps are higher than it.
const WIDER: [Um; 3] = [51 * MM, 62 * MM, 75 * MM];

impl Block {
    /// Height of the heading.
    const HEAD: Um = FIGURE.leading() + SMALL.leading() + MM;

    /// The lowest way to lay it, or one with a larger drawing: where it is hardly higher, and where the layout takes most of
    /// a page in any case.
    fn of(sheaf: &Sheaf<'_>, plan: &PlanPages, sheet: &PlanSheet, room: (Um, Um)) -> Self {
        let usual = Self::usual(sheaf, plan, sheet, room);
        let page = sheaf.body().height;
        let wider = WIDER.iter().map(|wide| Self::high(sheaf, plan, sheet, (*wide, room.1)));
        wider.filter(|block| block.under.iter().all(Row::is_whole)).fold(usual, |best, other| {
            let (high, low) = (best.whole(), other.whole());
            let is_larger = other.area.height * 100 > best.area.height * 115;
            let is_alone = high * 100 > page * 70 && low <= page - 4 * MM && low * 100 <= high * 120;
            let is_better = low < high || (is_larger && (is_alone || low * 100 <= high * 106));
            if is_better { other } else { best }
        })
    }

    /// Letters under the steps.
    fn usual(sheaf: &Sheaf<'_>, plan: &PlanPages, sheet: &PlanSheet, room: (Um, Um)) -> Self {
        let body = sheaf.body();
        let scale = Scale::to_fit(sheet.size, room.0, room.1);
        let area = scale.area(0, 0, sheet.size);
        let left = body.x + area.width.max(30 * MM) + GUTTER + MM;
        let mut beside = steps(plan, sheet, body.right() - left);
        beside.extend(legend(plan, sheet, body.right() - left));
        Self { scale, area, left, beside, under: Vec::new() }
    }

    /// Letters under the drawing, which is as high as the steps allow.
    fn high(sheaf: &Sheaf<'_>, plan: &PlanPages, sheet: &PlanSheet, room: (Um, Um)) -> Self {
        let body = sheaf.body();
        let left = body.x + room.0 + GUTTER + MM;
        let beside = steps(plan, sheet, body.right() - left);
        let under = legend(plan, sheet, room.0);
        let high = height(&beside).min(body.height - Self::HEAD) - height(&under) - 3 * MM;
        let scale = Scale::to_fit(sheet.size, room.0, high.max(room.1));
        Self { scale, area: scale.area(0, 0, sheet.size), left, beside, under }
    }

    fn at_the_left(&self) -> Um {
        self.area.height + height(&self.under) + if self.under.is_empty() { 0 } else { 2 * MM }
    }

    fn whole(&self) -> Um {
        Self::HEAD + self.at_the_left().max(height(&self.beside)) + MM
    }
}

fn height(rows: &[Row]) -> Um {
    rows.iter().map(Row::height).sum()
}

/// Width of the patch of a paper in the heading of its layout, at true size.
const PATCH: Um = 16 * MM;

/// `3  [patch] Ch  8 x chalk, letter   16 pieces`, under it size and scale. The patch is the paper at true size, or its hatch where
/// no colours are printed; the two letters are those of the paper in this plan.
fn heading(
    page: &mut Page,
    plan: &PlanPages,
    (n, sheet): (usize, &PlanSheet),
    area: Area,
    (scale, colourless): (Scale, bool),
) {
    page.line(Group::Outline, (area.x, area.y), (area.right(), area.y), WORKS);
    let y = area.y + MM / 2 + FIGURE.size;
    let total = sheet.layout.pieces.len() as u64 * u64::from(sheet.copies);
    let pieces = count_of(total, "piece");
    page.words(COUNT.end(area.right(), y, &pieces));
    let number = format!("{}", n + 1);
    page.words(COUNT.at(area.x, y, &number));
    let mut x = area.x + COUNT.width(&number) + 4 * MM;
    let mut under = area.x;
    if let Some(paper) = &sheet.paper {
        let place = Area::new(x, area.y + MM, PATCH, area.height - 2 * MM);
        if colourless {
            page.fill(place, Fill::Hatch(paper.hatch));
        } else {
            drawing::paper(page, place, &paper.look, (Scale::TRUE, None), WHITE);
        }
        page.frame(Group::Outline, place, Stroke::THIN);
        x = place.right() + 2 * MM;
        under = x;
        page.words(FIGURE.at(x, y, &paper.mark));
        x += FIGURE.width(&paper.mark) + 3 * MM;
    }
    let name = format!("{} x {}", sheet.copies, sheet.name);
    let room = area.right() - x - COUNT.width(&pieces) - 3 * MM;
    page.words(FIGURE.at(x, y, &FIGURE.fitted(&name, room)));
    let line = format!("layout {}, {}, {}", n + 1, sheet.size.as_made(plan.unit), scale.words());
    page.words(SMALL.at(under, y + SMALL.leading(), &SMALL.fitted(&line, area.right() - under)));
}

/// What stands on each piece: a letter for its kind, or its number where all are of one size, with `t` where it is turned,
/// as on the screen.
fn names(plan: &PlanPages, sheet: &PlanSheet) -> Vec<String> {
    let kinds = plan_words::kinds(&sheet.layout);
    let one = |(n, piece): (usize, &crate::domain::cutting::geometry::Placed)| {
        let turned = if piece.turned { "t" } else { "" };
        if is_of_one_size(plan) {
            return format!("{}{turned}", n + 1);
        }
        let place = kinds.iter().position(|(kind, _)| *kind == piece.piece).unwrap_or(0);
        format!("{}{turned}", plan_words::kind_letter(place))
    };
    sheet.layout.pieces.iter().enumerate().map(one).collect()
}

/// True where pieces are told apart by number alone.
fn is_of_one_size(plan: &PlanPages) -> bool {
    matches!(plan.pieces.as_slice(), [only] if only.name.is_empty())
}

/// A row beside or under a drawing.
enum Row {
    /// A step: its number, the setting, its words.
    Step { number: usize, fence: String, wide: Um, lines: Vec<(Style, String)> },
    /// What a letter is: how many and how large, the name behind that where it has room there, else below it.
    Legend { letter: String, figure: String, name: String, below: Vec<String> },
}

/// From the left to the setting of a step, past box and number; and the least room for settings, `4 1/4`, so that the
/// words of most layouts stand in one line.
const SET: (Um, Um) = (BOX + 5 * MM, 24 * MM);

fn steps(plan: &PlanPages, sheet: &PlanSheet, room: Um) -> Vec<Row> {
    let figures = sheet.steps.iter().map(|s| SETTING.width(&s.fence.show(plan.unit))).max().unwrap_or(0);
    let wide = figures.max(SET.1) + 3 * MM;
    let words = (room - SET.0 - wide).max(30 * MM);
    let step = |(n, step): (usize, &PlanStep)| {
        let parts = [(SMALL_STRONG, &step.cut), (SMALL, &step.off), (SMALL_STRONG, &step.mind)];
        let lines = parts.into_iter().flat_map(|(style, text)| {
            style.wrapped(text, words, usize::MAX).into_iter().map(move |line| (style, line))
        });
        Row::Step { number: n + 1, fence: step.fence.show(plan.unit), wide, lines: lines.collect() }
    };
    sheet.steps.iter().enumerate().map(step).collect()
}

fn legend(plan: &PlanPages, sheet: &PlanSheet, room: Um) -> Vec<Row> {
    let mut rows = Vec::new();
    for (n, (piece, count)) in plan_words::kinds(&sheet.layout).into_iter().enumerate() {
        let Some(piece) = plan.pieces.get(piece) else { continue };
        let letter = if is_of_one_size(plan) { String::new() } else { plan_words::kind_letter(n) };
        let figure = format!("{count} x  {}", piece.size.as_made(plan.unit));
        let used = COUNT.width(&figure) + FIGURE.width("AA") + 6 * MM;
        let (mut name, mut below) = (piece.name.clone(), Vec::new());
        if BODY.width(&name) > room - used {
            let wide = room - FIGURE.width("AA") - MM;
            below = BODY.wrapped(&std::mem::take(&mut name), wide, usize::MAX);
        }
        rows.push(Row::Legend { letter, figure, name, below });
    }
    rows
}

impl Row {
    /// False where a name has no room behind its figure.
    const fn is_whole(&self) -> bool {
        !matches!(self, Self::Legend { below, .. } if !below.is_empty())
    }

    fn height(&self) -> Um {
        match self {
            Self::Step { lines, .. } => SETTING.size.max(lines.len() as Um * SMALL.leading()) + MM,
            Self::Legend { below, .. } => COUNT.leading() + below.len() as Um * BODY.leading(),
        }
    }

    fn write(&self, page: &mut Page, x: Um, y: Um) {
        match self {
            Self::Step { number, fence, wide, lines } => {
                tick(page, x, y + SETTING.capitals() - BOX + MM);
                page.words(COUNT.middle(x + BOX + 2500, y + SETTING.capitals() + MM, &number.to_string()));
                let set = x + SET.0;
                page.words(SETTING.at(set, y + SETTING.capitals() + MM, fence));
                let words = set + wide;
                for (n, (style, line)) in (0..).zip(lines) {
                    page.words(style.at(words, y + n * style.leading() + style.size, line));
                }
            }
            Self::Legend { letter, figure, name, below } => {
                let base = y + COUNT.size;
                page.words(FIGURE.at(x, base, letter));
                let at = x + if letter.is_empty() { 0 } else { FIGURE.width("AA") + MM };
                page.words(COUNT.at(at, base, figure));
                page.words(BODY.at(at + COUNT.width(figure) + 3 * MM, base, name));
                for (n, line) in (1..).zip(below) {
                    page.words(BODY.at(at, base + n * BODY.leading(), line));
                }
            }
        }
    }
}
