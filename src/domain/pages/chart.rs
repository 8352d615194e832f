//! The yield chart: how many of each size come from a sheet, which way, and where mixing ways gives more.
//!
//! Where pieces may turn the chart is symmetric, so half of it is drawn: the shorter side down, the longer across, and the
//! free corner holds the words and the sizes that the person uses. A cell has its count and under it a mark: which way is
//! better, or what mixing gains, the count then in bold. Two sheets can share a leaf, one on each side; the pocket form has
//! four of them on one page, to be cut in quarters.
//!
//! A chart takes one page unless more are asked for: sizes between whole steps go first, the smallest first.

mod cells;
mod counted;
mod pocket;

pub use counted::{Chart, shown, sign};
pub use pocket::pocket;

use super::frame::{Setup, Sheaf};
use super::page::{Area, Group, MM, Page, Stroke, Um};
use super::scale::{ASIDE, BODY, COUNT, EDGE, FIGURE, GAP, SMALL, STRONG};
use crate::domain::cutting::chart::ChartRange;
use crate::domain::length::{Length, Unit};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;
use cells::{ChartLetters, Grid, UNDER, thinned_to};

/// A chart that is asked for and not counted yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The sheet.
    pub sheet: Sheet,
    /// Its sizes.
    pub range: ChartRange,
    /// Sizes and sheet of the other side of the leaf, where there is one.
    pub back: Option<(ChartRange, Sheet)>,
    /// Pieces may lie turned.
    pub may_turn: bool,
    /// Sizes that the person uses, to be marked.
    pub used: Vec<Size>,
    /// Every size, on as many pages as that takes.
    pub all: bool,
    /// The pocket form with these further sheets, instead of the wall chart.
    pub pocket: Option<(Pocket, Vec<Sheet>)>,
}

impl Asked {
    /// The usual chart of a sheet.
    pub fn of(sheet: Sheet, range: ChartRange) -> Self {
        Self { sheet, range, back: None, may_turn: true, used: Vec::new(), all: false, pocket: None }
    }

    /// Counts it and lays it out.
    pub fn pages(&self, setup: &Setup) -> Vec<Page> {
        let count = |sheet: &Sheet, range: &ChartRange| {
            Chart::of(sheet, range, self.may_turn).with_used(sheet, &self.used)
        };
        if let Some((form, others)) = &self.pocket {
            let range = |sheet: &Sheet| Pocket::range(sheet, setup.unit);
            let charts: Vec<Chart> =
                std::iter::once(&self.sheet).chain(others).map(|s| count(s, &range(s))).collect();
            return pocket(setup, &charts, *form == Pocket::Used);
        }
        let front = count(&self.sheet, &self.range);
        let back = self.back.as_ref().map(|(range, sheet)| count(sheet, range));
        pages(setup, &front, back.as_ref(), self.all)
    }
}

/// What a pocket chart shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Pocket {
    /// Every half inch, or every centimetre.
    Steps,
    /// The sizes that the person uses.
    Used,
}

impl Pocket {
    /// Half-inch steps (centimetres) up to half the longer side of a sheet.
    pub fn range(sheet: &Sheet, unit: Unit) -> ChartRange {
        let step = match unit {
            Unit::Inch => Length::sixteenths(8),
            Unit::Mm => Length::mm(10),
        };
        let from = match unit {
            Unit::Inch => step,
            Unit::Mm => step * 2,
        };
        ChartRange { from, to: sheet.actual().long().half().max(from), step }
    }

    /// Sheets for the other quarters of the page: letter, A4 and 12 x 12 in, but not the one that is there.
    pub fn others(sheet: &Sheet) -> Vec<Sheet> {
        let formats = crate::domain::sheet::Formats::built_in();
        let all =
            ["letter", "a4", "12x12"].into_iter().filter_map(|name| formats.find(name).map(Sheet::from));
        all.filter(|s| s.actual().upright() != sheet.actual().upright()).collect()
    }
}

/// Two pages on one leaf may lie this far apart.
pub const MISREGISTRATION: Um = MM;
/// From the leaf's cut lines to what is printed, on both sides.
const INSIDE: Um = 3 * MM;

/// The pages of one chart, or of two that share leaves: fronts and backs in turn. `all` asks for every size, on as many
/// pages as that takes.
pub fn pages(setup: &Setup, front: &Chart, back: Option<&Chart>, all: bool) -> Vec<Page> {
    let Some(back) = back else { return side(setup, front, Leaf::Single, all) };
    let (fronts, backs) = (side(setup, front, Leaf::Front, all), side(setup, back, Leaf::Back, all));
    let leaves = fronts.len().max(backs.len());
    let empty = |title: &str| {
        let mut sheaf = Sheaf::new(setup, title, "This side is left blank.").cut_apart();
        sheaf.page();
        sheaf.finish().remove(0)
    };
    let (mut fronts, mut backs) = (fronts.into_iter(), backs.into_iter());
    (0..leaves)
        .flat_map(|_| {
            let one = fronts.next().unwrap_or_else(|| empty("Yield chart, front"));
            let two = backs.next().unwrap_or_else(|| empty("Yield chart, back"));
            [one, two]
        })
        .collect()
}

/// Which side of a leaf a page is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Leaf {
    Single,
    Front,
    Back,
}

/// The letters of a wall chart.
const WALL: ChartLetters = ChartLetters { count: COUNT, best: FIGURE, sign: COUNT, head: FIGURE, pad: 700 };
fn side(setup: &Setup, chart: &Chart, leaf: Leaf, all: bool) -> Vec<Page> {
    let unit = setup.unit;
    let title = format!("Yield of {} ({})", chart.name, chart.size.show_with_unit(unit));
    let subtitle = match leaf {
        Leaf::Single => "Most pieces from one sheet by edge-to-edge cuts, and which way they lie",
        Leaf::Front => {
            "Front. Print both sides, turned over the long edge like a page of a book; 1 mm between the sides is allowed for"
        }
        Leaf::Back => "Back. Cut on the front's lines",
    };
    let sheaf = Sheaf::new(setup, title, subtitle);
    // A leaf with two sides has its holes on either: it is cut out and kept in a protector.
    let mut sheaf = if leaf == Leaf::Single { sheaf } else { sheaf.cut_apart() };
    let body = sheaf.body();
    let room = body.inset(if leaf == Leaf::Single { 0 } else { INSIDE + MISREGISTRATION });
    let room = if chart.may_turn { room } else { Area { height: room.height - UNDER, ..room } };
    let every: Vec<usize> = (0..chart.values.len()).collect();
    let (shown, left_out) =
        if all { (every, Vec::new()) } else { thinned_to(chart, &every, room, unit, WALL) };
    for block in blocks(chart, &shown, room, unit) {
        sheaf.fresh();
        let grid = Grid { chart, rows: &block.0, columns: &block.1, look: WALL, unit };
        let free = grid.draw(sheaf.page(), room);
        explain(sheaf.page(), chart, free, unit, &left_out);
        if leaf == Leaf::Front {
            cut_lines(sheaf.page(), body);
        }
    }
    sheaf.finish()
}

/// Rows and columns of each page: as many values as fit, in both directions.
fn blocks(chart: &Chart, shown: &[usize], room: Area, unit: Unit) -> Vec<(Vec<usize>, Vec<usize>)> {
    let most = |of: &[usize]| {
        let fits = |n: &usize| {
            let part = &of[..*n];
            Grid { chart, rows: part, columns: part, look: WALL, unit }.fits(room)
        };
        (1..=of.len()).rev().find(fits).unwrap_or(1)
    };
    let step = most(shown);
    let parts: Vec<&[usize]> = shown.chunks(step).collect();
    let mut all = Vec::new();
    for (n, rows) in parts.iter().enumerate() {
        for (m, columns) in parts.iter().enumerate() {
            // Below the diagonal of a symmetric chart there is nothing that is not above it.
            if !chart.may_turn || m >= n {
                all.push((rows.to_vec(), columns.to_vec()));
            }
        }
    }
    all
}

/// The words in the free corner, and the sizes that the person uses with their counts.
fn explain(page: &mut Page, chart: &Chart, free: Area, unit: Unit, left_out: &[Length]) {
    let (wide, high) = (chart.size.width.show_with_unit(unit), chart.size.height.show_with_unit(unit));
    let mut lines = Vec::new();
    if chart.may_turn {
        lines.push(format!("Shorter side down, longer side across ({}).", unit.sign()));
        lines.push(format!("▲ longer side along the sheet's {high}"));
        lines.push(format!("▶ longer side along its {wide}"));
    } else {
        lines.push(format!(
            "Width down, height across ({}), on a sheet {wide} wide and {high} high.",
            unit.sign()
        ));
        lines.push("Pieces stay upright.".to_owned());
    }
    if chart.may_turn {
        lines.push("= either way".to_owned());
        lines.push("Bold, +n: some each way, n more".to_owned());
    }
    if !chart.used.is_empty() {
        lines.push("Framed: a size you use".to_owned());
    }
    if chart.cells.iter().any(|c| c.best == 0) {
        lines.push("– does not fit".to_owned());
    }
    if !left_out.is_empty() {
        let sizes: Vec<String> = left_out.iter().map(|l| l.show(unit)).collect();
        lines.push(format!("Left out for one page: {}", sizes.join(", ")));
    }
    let mut y = free.y;
    for line in lines {
        for line in BODY.wrapped(&line, free.width, 3) {
            if y + BODY.leading() > free.bottom() {
                return;
            }
            page.words(BODY.at(free.x, y + BODY.size, &line));
            y += BODY.leading();
        }
    }
    let list = Area { y: y + GAP, height: free.bottom() - y - GAP, ..free };
    used_sizes(page, chart, list, unit);
}

/// `3 7/8 x 5 1/8   4 +1`, as many as there is room for.
fn used_sizes(page: &mut Page, chart: &Chart, area: Area, unit: Unit) {
    let heading = STRONG.leading() + MM;
    if chart.used.is_empty() || area.height < heading + FIGURE.leading() {
        return;
    }
    page.words(STRONG.at(area.x, area.y + STRONG.size, "Your sizes"));
    let widest = chart.used.iter().map(|c| COUNT.width(&shown(c.size, unit))).max().unwrap_or(0);
    let wide = widest + 3 * MM + FIGURE.width("999") + MM + COUNT.width("+99");
    let columns = (area.width / (wide + 6 * MM)).max(1);
    let rows = ((area.height - heading) / FIGURE.leading()).max(0);
    let fit = (columns * rows) as usize;
    for (n, cell) in chart.used.iter().take(fit).enumerate() {
        let (column, row) = (n as Um / rows, n as Um % rows);
        let x = area.x + column * (wide + 6 * MM);
        let y = area.y + heading + row * FIGURE.leading() + FIGURE.size;
        page.words(COUNT.at(x, y, &COUNT.fitted(&shown(cell.size, unit), area.width)));
        let end = x + widest + 3 * MM + FIGURE.width("999");
        page.words(FIGURE.end(end, y, &cell.best.to_string()));
        page.words(COUNT.at(end + MM, y, &sign(cell)));
    }
    let more = chart.used.len().saturating_sub(fit);
    if more > 0 && columns > 0 {
        let words = format!("and {more} more");
        let x = area.x + STRONG.width("Your sizes") + 3 * MM;
        page.words(ASIDE.at(x, area.y + STRONG.size, &SMALL.fitted(&words, area.right() - x)));
    }
}

/// The leaf's own cut lines: corner marks round the body.
fn cut_lines(page: &mut Page, body: Area) {
    let long = 4 * MM;
    for (x, toward) in [(body.x, 1), (body.right(), -1)] {
        for (y, down) in [(body.y, 1), (body.bottom(), -1)] {
            page.line(Group::Cut, (x, y), (x + toward * long, y), Stroke::CUT);
            page.line(Group::Cut, (x, y), (x, y + down * long), Stroke::CUT);
        }
    }
    debug_assert!(body.x >= EDGE);
}

#[cfg(test)]
mod tests;
