//! The chart of every size on one sheet: rows are widths, columns heights; the cell under the cursor is explained.

use super::{beside, laid};
use crate::app::action::{List, ShownChart, Spot};
use crate::app::model::Model;
use crate::app::panes::yields::words;
use crate::domain::cutting::chart::Cell;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::ui::look::Look;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

/// Columns of the screen that a cell takes.
const CELL: u16 = 6;
/// The same where all heights have room for one more blank: mixed numbers side by side read better apart.
const ROOMY: u16 = CELL + 1;
/// Columns of the screen that a row's width takes.
const HEAD: u16 = 8;
/// Between the chart and the layout beside it; columns of a screen that has both side by side in any case.
const GAP: u16 = 3;
const WIDE: u16 = 176;
/// Columns from which the line of signs says what an offcut is drawn as, too.
const WITH_OFFCUTS: u16 = 100;

/// Draws the chart; returns where the cursor belongs.
pub fn draw_chart(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let (pane, theme, unit) = (&model.yields, &on.look.theme, model.screen.unit);
    let sheet = &pane.sheet.sheet;
    let title = format!("{}, {}", sheet.name, sheet.actual().show_with_unit(unit));
    on.put(
        area,
        0,
        0,
        &[
            run("Pieces from ", theme.dim),
            run(title, theme.title),
            run(if area.width < 70 { "  width down" } else { "   down: width, across: height" }, theme.dim),
        ],
    );
    let Some(chart) = pane.chart.as_deref().filter(|c| c.ask == pane.chart_ask()) else {
        on.put(area, 0, 2, &[run("working it out", theme.dim)]);
        return None;
    };
    let (grid, layout) = rooms(chart, unit, area);
    laid::draw(model, layout, on);
    if layout.x > grid.x && model.yields.beside.asked.is_some() {
        let rows = chart.ask.range.values().len() as u16 + 2;
        let used = rows.min(grid.height);
        beside::draw_beside(model, Rect { y: grid.y + used, height: grid.height - used, ..grid }, on);
    }
    let at = cells(chart, pane.cell, unit, grid, on);
    if let Some(cell) = chart.cell(pane.cell.0, pane.cell.1) {
        let bottom = Rect { y: area.bottom().saturating_sub(2), height: 2, ..area };
        // The layout says it itself, where it stands here.
        if layout.height < laid::FEW.1 || layout.width < laid::FEW.0 {
            on.paragraph(bottom, 0, &words::cell_words(cell, unit), theme.title);
        }
        let legend = if area.width < 76 {
            "u upright  t turned  + both mixed  = either  . none"
        } else {
            "u upright  t turned  + more by mixing both  = either way  . does not fit"
        };
        let mut signs = vec![run(legend, theme.dim)];
        let has_layout = layout.height >= laid::FEW.1 && layout.width >= laid::FEW.0;
        if area.width >= WITH_OFFCUTS && has_layout {
            signs.push(run(format!("  {}", on.look.glyphs.waste.repeat(2)), theme.offcut));
            signs.push(run(" offcut  on a line: its step", theme.dim));
        }
        on.put(bottom, 0, 1, &signs);
    }
    at
}

/// Where the chart stands, and the layout of the size in hand: beside it where columns are left for that, else below it.
fn rooms(chart: &ShownChart, unit: Unit, area: Rect) -> (Rect, Rect) {
    let all = chart.ask.range.values();
    let values = all.len() as u16;
    let room = Rect { y: area.y + 2, height: area.height.saturating_sub(5), ..area };
    // All heights have their columns before the layout has more than its least.
    let wide = (HEAD + values.saturating_mul(cell_width(&all, unit, 0))).min(room.width);
    let high = (values + 1).min(room.height);
    if room.width - wide > laid::FEW.0 + GAP || room.width >= WIDE {
        // A large chart scrolls in three fifths of a wide screen.
        let width = wide.min(room.width * 3 / 5).max(wide.min(room.width - laid::FEW.0 - GAP));
        let x = room.x + width + GAP;
        return (Rect { width, ..room }, Rect { x, width: room.right().saturating_sub(x), ..room });
    }
    let below = Rect { y: room.y + high + 1, height: room.height.saturating_sub(high + 1), ..room };
    (Rect { height: high, ..room }, below)
}

/// Columns of a cell: with a blank more where all heights have room for it, or where one of them is a mixed number that would
/// run into the one before.
fn cell_width(heights: &[Length], unit: Unit, width: u16) -> u16 {
    let all = usize::from(HEAD) + heights.len() * usize::from(ROOMY);
    let is_mixed =
        |h: &Length| h.about(unit).contains(' ') && text::width(&h.about(unit)) + 1 >= usize::from(CELL);
    if all <= usize::from(width) || heights.iter().any(is_mixed) { ROOMY } else { CELL }
}

fn cells(
    chart: &ShownChart,
    at: (usize, usize),
    unit: Unit,
    area: Rect,
    on: &mut Surface,
) -> Option<Position> {
    let theme = &on.look.theme;
    let values = chart.ask.range.values();
    let each = cell_width(&values, unit, area.width);
    let columns = usize::from(area.width.saturating_sub(HEAD) / each).max(1);
    let rows = usize::from(area.height.saturating_sub(1)).max(1);
    let (row, column) = at;
    let (top, left) = (first_shown(row, values.len(), rows), first_shown(column, values.len(), columns));
    let hidden = |shown: usize| values.len().saturating_sub(shown);
    if hidden(columns) + hidden(rows) > 0 && area.y > 0 {
        let words = [
            hidden_words("width", (top, hidden(rows)), ["above", "below"]),
            hidden_words("height", (left, hidden(columns)), ["at the left", "at the right"]),
        ];
        let words = words.into_iter().flatten().collect::<Vec<_>>().join("; ");
        let above = Rect { y: area.y - 1, height: 1, ..area };
        on.put(above, 0, 0, &[run(words, theme.dim)]);
    }
    let corner = text::right(if unit == Unit::Mm { "mm" } else { "in" }, usize::from(HEAD) - 1, "");
    on.put(area, 0, 0, &[run(corner, theme.dim)]);
    for (n, height) in values.iter().skip(left).take(columns).enumerate() {
        let style = if left + n == column { theme.title } else { theme.dim };
        let head = text::right(&height.about(unit), usize::from(each) - 1, on.look.glyphs.ellipsis);
        on.put(area, HEAD + n as u16 * each, 0, &[run(head, style)]);
    }
    let mut cursor = None;
    on.hits.add(area, Spot::In(List::Cells));
    for (m, width) in values.iter().skip(top).take(rows).enumerate() {
        let y = 1 + m as u16;
        let style = if top + m == row { theme.title } else { theme.dim };
        let head = text::right(&width.about(unit), usize::from(HEAD) - 1, on.look.glyphs.ellipsis);
        on.put(area, 0, y, &[run(head, style)]);
        for n in 0..columns.min(values.len() - left) {
            let Some(cell) = chart.cell(top + m, left + n) else { continue };
            let x = HEAD + n as u16 * each;
            let is_here = (top + m, left + n) == at;
            let style = if is_here { theme.picked } else { cell_style(cell, on.look) };
            on.put(area, x, y, &[run(text::right(&mark(cell), usize::from(each) - 1, ""), style)]);
            let place = Rect { x: area.x + x, y: area.y + y, width: each, height: 1 };
            on.hits.add(place, Spot::Cell(top + m, left + n));
            if is_here {
                cursor = Some(Position::new(area.x + x, area.y + y));
            }
        }
    }
    cursor
}

/// How many sizes are hidden, and on which side: so many of them before those that are shown.
fn hidden_words(word: &str, (before, hidden): (usize, usize), sides: [&str; 2]) -> Option<String> {
    let after = hidden.saturating_sub(before);
    let [first, last] = sides;
    let words = match (before, after) {
        (0, 0) => return None,
        (0, n) => format!("{} hidden {last}", count_of(n as u64, word)),
        (n, 0) => format!("{} hidden {first}", count_of(n as u64, word)),
        (n, m) => format!("{} hidden {first}, {m} {last}", count_of(n as u64, word)),
    };
    Some(words)
}

/// The count and which way: a sign beside every colour.
fn mark(c: &Cell) -> String {
    let one_way = c.upright.max(c.turned);
    match c.best {
        0 => ".".to_owned(),
        best if best > one_way => format!("{best}+"),
        best if c.upright == c.turned => format!("{best}="),
        best if c.upright > c.turned => format!("{best}u"),
        best => format!("{best}t"),
    }
}

fn cell_style(c: &Cell, look: &Look) -> Style {
    let one_way = c.upright.max(c.turned);
    match c.best {
        0 => look.theme.dim,
        best if best > one_way => look.theme.good,
        _ if c.turned > c.upright => look.theme.turned,
        _ => look.theme.text,
    }
}
