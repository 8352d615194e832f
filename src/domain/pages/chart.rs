//! The yield chart: how many of each size come from a sheet, which way, and where mixing ways gives more.
//!
//! Every cell can be read without colour: a mark for the better direction, `+n` and a hatch where a mixed layout beats
//! both. Two formats can share a leaf, one on each side.

use super::frame::{ASIDE, MARGIN, SMALL, Setup, Sheaf};
use super::hatch::Hatch;
use super::page::{Area, Fill, Group, MM, PALE, Page, Stroke, Um, WHITE, points};
use super::text::Style;
use crate::domain::cutting::chart::{Cell, ChartRange, cells};
use crate::domain::cutting::question::Limits;
use crate::domain::length::{Length, Unit};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// A chart of one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What the sheet is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// Sizes along both sides.
    pub values: Vec<Length>,
    /// Row by row: the width is the same along a row.
    pub cells: Vec<Cell>,
}

impl Chart {
    /// Counts every size of a range from a sheet, on a trimmer without limits.
    pub fn of(sheet: &Sheet, range: &ChartRange, may_turn: bool) -> Self {
        Self {
            name: sheet.name.clone(),
            size: sheet.actual(),
            values: range.values(),
            cells: cells(sheet, range, may_turn, Limits::NONE),
        }
    }
}

/// Two pages on one leaf may lie this far apart.
pub const MISREGISTRATION: Um = MM;
/// From the leaf's cut lines to what is printed, on both sides.
const INSIDE: Um = 3 * MM;
const CELL: (Um, Um) = (7600, 5600);
const HEAD: (Um, Um) = (13 * MM, 6 * MM);
const LEGEND: Um = 19 * MM;
const COUNT: Style = Style::bold(points(85));
const SIGN: Style = Style::plain(points(55));

/// The better direction of a cell, as a sign that needs no colour.
pub fn sign(cell: &Cell) -> String {
    let one_way = cell.upright.max(cell.turned);
    if cell.best > one_way {
        format!("+{}", cell.best - one_way)
    } else if cell.best == 0 {
        String::new()
    } else if cell.upright == cell.turned {
        "=".to_owned()
    } else if cell.upright > cell.turned {
        "▲".to_owned()
    } else {
        "▶".to_owned()
    }
}

/// The pages of one chart, or of two that share leaves: fronts and backs in turn.
pub fn pages(setup: &Setup, front: &Chart, back: Option<&Chart>) -> Vec<Page> {
    let Some(back) = back else { return side(setup, front, Leaf::Single) };
    let (fronts, backs) = (side(setup, front, Leaf::Front), side(setup, back, Leaf::Back));
    let leaves = fronts.len().max(backs.len());
    let empty = |title: &str| {
        let mut sheaf = Sheaf::new(setup, title, "This side stays empty.");
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

fn side(setup: &Setup, chart: &Chart, leaf: Leaf) -> Vec<Page> {
    let unit = setup.unit;
    let title = format!("Yield of {} ({})", chart.name, chart.size.show_with_unit(unit));
    let subtitle = match leaf {
        Leaf::Single => "Most pieces from one sheet by edge-to-edge cuts, and which way they lie",
        Leaf::Front => {
            "Front. Print both sides, turned over the long edge like a page of a book; 1 mm between the sides is allowed for"
        }
        Leaf::Back => "Back. Cut on the front's lines",
    };
    let mut sheaf = Sheaf::new(setup, title, subtitle);
    let body = sheaf.body();
    let room = body.inset(if leaf == Leaf::Single { 0 } else { INSIDE + MISREGISTRATION });
    let columns = ((room.width - HEAD.0) / CELL.0).max(1) as usize;
    let rows = ((room.height - HEAD.1 - LEGEND) / CELL.1).max(1) as usize;
    let n = chart.values.len();
    for top in (0..n).step_by(rows) {
        for left in (0..n).step_by(columns) {
            sheaf.fresh();
            let block = Block { rows: (top, n.min(top + rows)), columns: (left, n.min(left + columns)) };
            let grid = grid(sheaf.page(), chart, &block, room, unit);
            let legend = grid.bottom() + 5 * MM;
            explain(sheaf.page(), chart, room.x, legend, room.width, unit);
            if leaf == Leaf::Front {
                cut_lines(sheaf.page(), body);
            }
        }
    }
    sheaf.finish()
}

struct Block {
    rows: (usize, usize),
    columns: (usize, usize),
}

/// Draws a block of cells, centred so that a back lies behind its front, and gives its area.
fn grid(page: &mut Page, chart: &Chart, block: &Block, room: Area, unit: Unit) -> Area {
    let (columns, rows) = ((block.columns.1 - block.columns.0) as Um, (block.rows.1 - block.rows.0) as Um);
    let cell_width = ((room.width - HEAD.0) / columns.max(1)).clamp(CELL.0, 14 * MM);
    let width = HEAD.0 + columns * cell_width;
    let left = room.x + (room.width - width) / 2;
    let cell_height = ((room.height - HEAD.1 - LEGEND) / rows.max(1)).clamp(CELL.1, 9 * MM);
    let area = Area::new(left, room.y, width, HEAD.1 + rows * cell_height);
    page.words(ASIDE.at(left, area.y + HEAD.1 - 1500, &format!("w ↓  h →, {}", unit.sign())));
    for (n, column) in (block.columns.0..block.columns.1).enumerate() {
        let x = left + HEAD.0 + n as Um * cell_width;
        head(page, Area::new(x, area.y, cell_width, HEAD.1), chart.values[column], unit);
    }
    for (m, row) in (block.rows.0..block.rows.1).enumerate() {
        let y = area.y + HEAD.1 + m as Um * cell_height;
        head(page, Area::new(left, y, HEAD.0, cell_height), chart.values[row], unit);
        for (n, column) in (block.columns.0..block.columns.1).enumerate() {
            let x = left + HEAD.0 + n as Um * cell_width;
            let cell = &chart.cells[row * chart.values.len() + column];
            put(page, Area::new(x, y, cell_width, cell_height), cell);
        }
    }
    page.frame(Group::Outline, area, Stroke::THIN);
    area
}

fn head(page: &mut Page, area: Area, value: Length, unit: Unit) {
    page.fill(area, Fill::Colour(PALE));
    let style = Style::bold(points(70));
    let text = style.fitted(&value.show(unit), area.width - 600);
    page.words(style.middle(area.x + area.width / 2, area.y + area.height / 2 + style.size / 3, &text));
}

fn put(page: &mut Page, area: Area, cell: &Cell) {
    page.frame(Group::Outline, area, Stroke { ink: super::page::GREY, ..Stroke::THIN });
    let sign = sign(cell);
    let count = if cell.best == 0 { "–".to_owned() } else { cell.best.to_string() };
    let base = area.y + area.height / 2 + COUNT.size / 3;
    let wide = COUNT.width(&count) + 500 + SIGN.width(&sign);
    let left = area.x + (area.width - wide) / 2;
    if sign.starts_with('+') {
        page.fill(area, Fill::Hatch(Hatch::Rising));
        // The words' ground stays inside its cell, however wide they are.
        let ground = (left - 300).max(area.x + 200);
        let end = (left + wide + 300).min(area.right() - 200);
        page.fill(
            Area::new(ground, base - COUNT.size, end - ground, COUNT.size * 5 / 4),
            Fill::Colour(WHITE),
        );
    }
    page.words(COUNT.at(left, base, &count));
    page.words(SIGN.at(left + COUNT.width(&count) + 500, base - 600, &sign));
}

fn explain(page: &mut Page, chart: &Chart, x: Um, y: Um, room: Um, unit: Unit) {
    let (wide, high) = (chart.size.width.show_with_unit(unit), chart.size.height.show_with_unit(unit));
    let lines = [
        format!("Read the piece's width w in its row and its height h in its column; the sheet is {wide} wide and {high} high."),
        "▲ upright gives more: w lies along the sheet's width.   ▶ turned gives more: h lies along it.   = both give the same.".to_owned(),
        "+n, hatched: a mixed layout, some upright and some turned, gives n more than either way alone.   – does not fit.".to_owned(),
    ];
    for (n, line) in lines.iter().enumerate() {
        page.words(SMALL.at(x, y + n as Um * SMALL.leading(), &SMALL.fitted(line, room)));
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
    debug_assert!(body.x >= MARGIN);
}

#[cfg(test)]
mod tests {
    use super::super::frame::{CLEAR, Paper};
    use super::super::page::Mark;
    use super::*;
    use crate::domain::sheet::Formats;

    fn sheet(name: &str) -> Sheet {
        Formats::built_in().find(name).map(Sheet::from).unwrap()
    }

    fn chart(name: &str) -> Chart {
        let sheet = sheet(name);
        Chart::of(&sheet, &ChartRange::for_sheet(&sheet), true)
    }

    #[test]
    fn the_sign_names_the_better_direction() {
        let cell = |upright, turned, best| Cell { size: Size::default(), upright, turned, best };
        assert_eq!(sign(&cell(4, 3, 5)), "+1");
        assert_eq!(sign(&cell(4, 3, 4)), "▲");
        assert_eq!(sign(&cell(3, 4, 4)), "▶");
        assert_eq!(sign(&cell(4, 4, 4)), "=");
        assert_eq!(sign(&cell(0, 0, 0)), "");
    }

    #[test]
    fn the_usual_chart_of_letter_is_one_page() {
        for paper in [Paper::Letter, Paper::A4] {
            let setup = Setup { paper, ..Setup::default() };
            let pages = pages(&setup, &chart("letter"), None);
            assert_eq!(pages.len(), 1, "{paper:?}");
            assert!(pages[0].area().inset(CLEAR).holds(&pages[0].bounds().unwrap()));
        }
    }

    #[test]
    fn a_large_chart_goes_on_over_pages_and_loses_no_cell() {
        let sheet = sheet("12x12");
        let range = ChartRange::checked(Length::inches(1), Length::inches(8), Length::sixteenths(2)).unwrap();
        let chart = Chart::of(&sheet, &range, true);
        let pages = pages(&Setup::default(), &chart, None);
        assert!(pages.len() > 4);
        let counts: usize = pages.iter().flat_map(Page::texts).filter(|w| w.size == COUNT.size).count();
        assert_eq!(counts, chart.cells.len());
    }

    #[test]
    fn what_is_on_a_back_lies_inside_the_cut_lines_of_its_front() {
        let pages = pages(&Setup::default(), &chart("letter"), Some(&chart("12x12")));
        assert_eq!(pages.len() % 2, 0);
        let cuts = pages[0].of(Group::Cut).map(Mark::bounds).reduce(|a, b| a.with(&b)).unwrap();
        let width = pages[0].width;
        for page in &pages {
            let ground = page.of(Group::Outline).filter(|m| matches!(m, Mark::Rect { .. }));
            for area in ground.map(Mark::bounds) {
                let seen_through = Area::new(width - area.right(), area.y, area.width, area.height);
                for area in [area, seen_through] {
                    assert!(cuts.inset(MISREGISTRATION).holds(&area), "{area:?} outside {cuts:?}");
                }
            }
        }
    }
}
