//! All layouts of a plan small and to one scale, each in its paper with how often it is cut; the one in hand is marked.

use super::{painted, paper_of};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::length::Length;
use crate::domain::planning::ProjectJob;
use crate::domain::size::Size;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::diagram::{Diagram, across, alike, largest, to_scale};
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;
use std::ops::Range;

/// Fewest and most columns and rows of a small layout, its words in the row above.
const LEAST: (u16, u16) = (9, 5);
const MOST: (u16, u16) = (34, 17);

/// Where the small layouts stand.
struct Places {
    across: u16,
    width: u16,
    height: u16,
}

/// The largest cells that hold all layouts; where not even the least do, as many of those as fit.
fn places(count: u16, area: Rect) -> Option<Places> {
    if area.width < LEAST.0 || area.height < LEAST.1 || count == 0 {
        return None;
    }
    let sizes = (LEAST.0..=MOST.0).rev().map(|width| (width, (width / 2 + 1).clamp(LEAST.1, MOST.1)));
    let fits = |(width, height): &(u16, u16)| (area.width / width) * (area.height / height) >= count;
    let (width, height) = sizes.into_iter().find(fits).unwrap_or(LEAST);
    let across = (area.width / width).max(1);
    // Rows that nobody else has: a sheet that stands upright fills its columns only with more of them.
    let height = (area.height / count.div_ceil(across)).clamp(height, MOST.1.max(height));
    Some(Places { across, width, height })
}

/// Draws the layouts of a plan.
pub(super) fn draw(model: &Model, job: &ProjectJob, plan: &Plan, area: Rect, on: &mut Surface) {
    let sheets: Vec<&PlannedSheet> = plan.sheets.iter().collect();
    let picked = model.yields.plan.cursor.row(sheets.len()).unwrap_or(0);
    // The number of a layout in the list stands over it.
    let times = on.look.glyphs.times;
    let label = |n: usize, planned: &PlannedSheet, _| format!("{}. {} {times}", n + 1, planned.copies);
    for (n, cell) in sheets_in(model, (job, &sheets, &label), picked..picked + 1, area, on) {
        on.hits.add(cell, Spot::Row(List::Layouts, n));
    }
}

/// The words over a layout, by its place among those that are drawn and the columns they have.
pub(in crate::ui::panes) type Label<'a> = &'a dyn Fn(usize, &PlannedSheet, usize) -> String;

/// Draws layouts of a job, some of them marked, from those on where they do not all fit; returns where each stands.
pub(in crate::ui::panes) fn sheets_in(
    model: &Model,
    (job, sheets, label): (&ProjectJob, &[&PlannedSheet], Label<'_>),
    marked: Range<usize>,
    area: Rect,
    on: &mut Surface,
) -> Vec<(usize, Rect)> {
    let Some(places) = places(sheets.len() as u16, area) else { return Vec::new() };
    let room = usize::from(places.across * (area.height / places.height));
    let at = marked.start;
    let first = if sheets.len() > room { at.saturating_sub(room.saturating_sub(1)) } else { 0 };
    let largest = largest(sheets.iter().filter_map(|p| job.job.sheets.get(p.sheet)).map(|s| s.size));
    let below = |cell: Rect| Rect { y: cell.y + 1, height: cell.height - 1, ..cell };
    let one_cell = Rect { width: places.width - 1, height: places.height, ..area };
    let drawn = cells_by_size(job, sheets, (largest, below(one_cell)));
    let mut cells = Vec::new();
    for (n, planned) in sheets.iter().enumerate().skip(first).take(room) {
        let at = (n - first) as u16;
        let (x, y) = (at % places.across * places.width, at / places.across * places.height);
        let cell = Rect { x: area.x + x, y: area.y + y, width: places.width - 1, height: places.height };
        let (sign, style) = if marked.contains(&n) {
            (on.look.glyphs.pick, on.look.theme.title)
        } else {
            (" ", on.look.theme.dim)
        };
        let words = label(n, planned, usize::from(cell.width.saturating_sub(1)));
        on.put(cell, 0, 0, &[run(sign, on.look.theme.mark), run(words, style)]);
        cells.push((n, cell));
        let Some(sheet) = job.job.sheets.get(planned.sheet) else { continue };
        let below = below(cell);
        let paper = paper_of(&model.book, job, planned).map(|id| painted(model, job, id, on.look));
        let paper = paper.map(|paper| match across(largest, below) {
            Some(across) => paper.to_scale(across).afar(),
            None => paper.afar(),
        });
        let Some((_, scaled, alike)) = drawn.iter().find(|(size, ..)| *size == sheet.size) else { continue };
        let at = |drawn: &Rect| Rect { x: below.x, y: below.y, ..*drawn };
        let nameless = vec![String::new(); planned.layout.pieces.len()];
        let (layout, names) = (&planned.layout, Some(nameless.as_slice()));
        let diagram = Diagram { sheet: sheet.size, layout, steps: &[], in_hand: None, names, paper };
        match alike {
            Some(alike) => diagram.draw_in(at(alike), on),
            None => diagram.draw(at(scaled), on),
        }
    }
    let left = sheets.len().saturating_sub(room);
    if left > 0 {
        let words = format!("{} more", text::count(left as u64, "layout", "layouts"));
        on.put(area, 0, area.height.saturating_sub(1), &[run(words, on.look.theme.dim)]);
    }
    cells
}

/// The cells of each size of sheet to the one scale, and those in which all sheets of it are drawn as the one size that they are,
/// where that is possible. What the largest takes for that sets the scale of all others.
fn cells_by_size(
    job: &ProjectJob,
    sheets: &[&PlannedSheet],
    (largest, room): (Size, Rect),
) -> Vec<(Size, Rect, Option<Rect>)> {
    let size_of = |planned: &PlannedSheet| job.job.sheets.get(planned.sheet).map(|sheet| sheet.size);
    let mut sizes: Vec<Size> = sheets.iter().filter_map(|planned| size_of(planned)).collect();
    sizes.sort_unstable_by_key(|size| std::cmp::Reverse((size.area(), size.width)));
    sizes.dedup();
    let mut all: Vec<(Size, Rect, Option<Rect>)> = Vec::new();
    for size in sizes {
        let of_size = sheets.iter().filter(|planned| size_of(planned) == Some(size));
        let layouts: Vec<&Layout> = of_size.map(|planned| &planned.layout).collect();
        let first = all.first().map(|(first, scaled, alike)| (*first, alike.unwrap_or(*scaled)));
        let share = |cells: u16, own: Length, whole: Length| {
            let cells = own.units() as f64 / whole.units().max(1) as f64 * f64::from(cells - 1);
            cells.round() as u16 + 1
        };
        // A side has its share of the cells of the largest sheet's, and one more at the most, but no more than that has.
        let (scaled, room) = match first {
            None => (to_scale(size, largest, room), room),
            Some((first, drawn)) => {
                let width = share(drawn.width, size.width, first.width).clamp(4, room.width);
                let height = share(drawn.height, size.height, first.height).clamp(3, room.height);
                let more = |cells: u16, most: u16| (cells + 1).min(most.max(cells));
                let (wide, high) = (more(width, drawn.width), more(height, drawn.height));
                (Rect { width, height, ..room }, Rect { width: wide, height: high, ..room })
            }
        };
        all.push((size, scaled, alike(size, &layouts, (scaled, room), first.is_some())));
    }
    all
}
