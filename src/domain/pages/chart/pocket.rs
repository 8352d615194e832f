//! The pocket form: up to four charts on one page, each a quarter of it, to be cut apart and carried along.
//!
//! Half-inch steps (centimetres), or the sizes that the person uses as a list.

use super::cells::{ChartLetters, Grid, UNDER, thinned_to};
use super::counted::{Chart, shown, sign};
use crate::domain::length::Unit;
use crate::domain::pages::frame::Setup;
use crate::domain::pages::page::{Area, GREY, Group, MM, Page, Stroke, Um};
use crate::domain::pages::scale::{ASIDE, CLEAR, SMALL, SMALL_STRONG, STRONG};

/// The letters of a pocket chart: 9 pt.
const POCKET: ChartLetters =
    ChartLetters { count: SMALL, best: SMALL_STRONG, sign: SMALL, head: SMALL_STRONG, pad: 600 };
/// From a quarter's cut lines to what is printed.
const INSIDE: Um = 4 * MM;

/// The page: the charts in the order given, quarter by quarter. With `used` each is a list of the sizes in use.
pub fn pocket(setup: &Setup, charts: &[Chart], used: bool) -> Vec<Page> {
    let (width, height) = setup.paper.size();
    let quarters: Vec<&[Chart]> = if charts.is_empty() { vec![&[]] } else { charts.chunks(4).collect() };
    let one = |charts: &[Chart]| {
        let names: Vec<&str> = charts.iter().map(|c| c.name.as_str()).collect();
        let mut page = Page::new(format!("Pocket charts: {}", names.join(", ")), width, height);
        let (half, middle) = (width / 2, height / 2);
        let cut = Stroke { ink: GREY, ..Stroke::CUT };
        page.line(Group::Cut, (half, CLEAR + MM), (half, height - CLEAR - MM), cut);
        page.line(Group::Cut, (CLEAR + MM, middle), (width - CLEAR - MM, middle), cut);
        for (n, chart) in (0..).zip(charts) {
            let (left, top) = (n % 2 == 0, n < 2);
            let x = if left { CLEAR + MM } else { half + INSIDE };
            let y = if top { CLEAR + MM } else { middle + INSIDE };
            let right = if left { half - INSIDE } else { width - CLEAR - MM };
            let bottom = if top { middle - INSIDE } else { height - CLEAR - MM };
            quarter(&mut page, chart, Area::new(x, y, right - x, bottom - y), setup.unit, used);
        }
        // A quarter that is left over has the sizes in use, from the first sheet.
        if let (3, false, Some(first)) = (charts.len(), used, charts.first().filter(|c| !c.used.is_empty())) {
            let area = Area::new(
                half + INSIDE,
                middle + INSIDE,
                half - INSIDE - CLEAR - MM,
                middle - INSIDE - CLEAR - MM,
            );
            quarter(&mut page, first, area, setup.unit, true);
        }
        page
    };
    quarters.into_iter().map(one).collect()
}

fn quarter(page: &mut Page, chart: &Chart, area: Area, unit: Unit, used: bool) {
    let what = if used { ", your sizes" } else { "" };
    let title = format!("{}, {}{what}", chart.name, chart.size.as_made(unit));
    page.words(STRONG.at(area.x, area.y + STRONG.size, &STRONG.fitted(&title, area.width)));
    let room = area.below(STRONG.leading() + MM);
    if used { list(page, chart, room, unit) } else { cells(page, chart, room, unit) }
}

fn cells(page: &mut Page, chart: &Chart, room: Area, unit: Unit) {
    // A chart of upright pieces alone has its words under it.
    let under = if chart.may_turn { 0 } else { UNDER };
    let room = Area { height: room.height - under, ..room };
    let every: Vec<usize> = (0..chart.values.len()).collect();
    let (kept, _) = thinned_to(chart, &every, room, unit, POCKET);
    let free = Grid { chart, rows: &kept, columns: &kept, look: POCKET, unit }.draw(page, room);
    let (wide, high) = (chart.size.width.about(unit), chart.size.height.about(unit));
    let lines = if chart.may_turn {
        vec![
            format!("▲ long side along {high}"),
            format!("▶ long side along {wide}"),
            "= either way".to_owned(),
            "bold +n: mixed".to_owned(),
        ]
    } else {
        vec!["width down, height across; pieces stay upright".to_owned()]
    };
    let lines: Vec<String> = lines.iter().flat_map(|l| SMALL.wrapped(l, free.width, 2)).collect();
    let fit = (free.height / SMALL.leading()).max(0) as usize;
    for (n, line) in (0..).zip(lines.iter().take(fit)) {
        page.words(SMALL.at(free.x, free.y + n * SMALL.leading() + SMALL.size, line));
    }
}

/// Sizes in use with their counts, in two columns.
fn list(page: &mut Page, chart: &Chart, room: Area, unit: Unit) {
    if chart.used.is_empty() {
        let words =
            "No size of yours fits this sheet: give a project cards or pieces, or take half-inch steps.";
        for (n, line) in (0..).zip(SMALL.wrapped(words, room.width, 4)) {
            page.words(SMALL.at(room.x, room.y + n * SMALL.leading() + SMALL.size, &line));
        }
        return;
    }
    let wide = room.width / 2;
    let rows = (room.height / SMALL.leading()).max(1);
    for (n, cell) in (0..2 * rows).zip(&chart.used) {
        let x = room.x + n / rows * wide;
        let y = room.y + n % rows * SMALL.leading() + SMALL.size;
        page.words(SMALL.at(x, y, &SMALL.fitted(&shown(cell.size, unit), wide - 18 * MM)));
        page.words(SMALL_STRONG.end(x + wide - 10 * MM, y, &cell.best.to_string()));
        page.words(SMALL.at(x + wide - 9 * MM, y, &sign(cell)));
    }
    let more = chart.used.len().saturating_sub(2 * rows as usize);
    if more > 0 {
        let words = format!("and {more} more");
        page.words(ASIDE.end(room.right(), room.y - 2 * MM, &words));
    }
}
