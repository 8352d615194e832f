//! The run at the right of a wide window: every step with its setting, what is done, what is in hand, what comes; below it the
//! whole sheet with the cuts of the step in hand heavy.
//!
//! ```text
//! step     fence     panels        strokes
//! 1 x letter
//!   1 done 2 in      8 1/2 x 11          1
//! > 2      2 in      8 1/2 x 9           3
//! +-------+-------+
//! ```

use crate::app::model::Model;
use crate::app::state::bench::{BenchRun, RunSpot};
use crate::domain::cutting::trimmer_profile::SetBy;
use crate::domain::length::Unit;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::widgets::diagram::Diagram;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;
use std::ops::Range;

/// Columns that it takes.
pub(super) const WIDE: u16 = 46;
/// Fewest columns that the panel keeps beside it.
pub(super) const PANEL: u16 = 36;
/// From this width on it stands beside the panel.
pub(super) const FROM: u16 = 116;

/// The columns; what is set bears its own word.
fn columns(set_by: SetBy) -> [Column; 4] {
    [
        Column::text("step", 7, 0),
        Column::number(set_by.noun(), 10, 0),
        Column::text("cuts up", 18, 0),
        Column::number("strokes", 7, 0),
    ]
}

/// Rows that the sheet needs below the steps, its heading among them.
const SHEET: u16 = 12;

/// Draws the steps and the sheet in hand.
pub(super) fn draw(model: &Model, bench: &BenchRun, spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let (rows, picked) = rows(bench, model.screen.unit, on);
    let most = area.height.saturating_sub(SHEET + 1).max(area.height / 2);
    let height = (rows.len() as u16 + 1).min(most);
    let columns = columns(spot.step.profile.set_by);
    let table =
        Table { columns: &columns, rows: &rows, total: rows.len(), picked: Some(picked), marked: &[] };
    table.draw(Rect { height, ..area }, on);
    let used = (height + 1).min(area.height);
    let below = Rect { y: area.y + used, height: area.height - used, ..area };
    if below.height >= SHEET {
        sheet(model, bench, spot, below, on);
    }
}

/// A row a step, a heading a sheet where there are several; and which row is in hand.
fn rows(bench: &BenchRun, unit: Unit, on: &Surface) -> (Vec<Row>, usize) {
    let theme = &on.look.theme;
    let (mut rows, mut picked, mut before) = (Vec::new(), 0, 0);
    for (sheet, done) in bench.progress() {
        if bench.sheets.len() > 1 {
            let words = format!("{} {} {}", sheet.copies, on.look.glyphs.times, sheet.paper_name);
            rows.push(Row { cells: vec![words], style: theme.dim });
        }
        for (n, step) in sheet.steps.iter().enumerate() {
            if before + n == bench.done {
                picked = rows.len();
            }
            let is_done = n < done;
            let cells = vec![
                format!("{}{}", n + 1, if is_done { " done" } else { "" }),
                step.profile.setting(step.fence).show_with_unit(unit),
                format!("{} of {}", step.panels, step.from.about(unit)),
                step.strokes.to_string(),
            ];
            rows.push(Row { cells, style: if is_done { theme.dim } else { theme.text } });
        }
        before += sheet.steps.len();
    }
    (rows, picked)
}

/// The sheet in hand with all that is cut from it.
fn sheet(model: &Model, bench: &BenchRun, spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let of = spot.sheet;
    on.put(area, 1, 0, &[run("the whole sheet, this step's cuts heavy", on.look.theme.dim)]);
    let room = Rect { x: area.x + 1, y: area.y + 1, width: area.width - 1, height: area.height - 1 };
    let steps: Vec<Range<usize>> = of.steps.iter().map(|step| step.cuts.clone()).collect();
    let nameless = vec![String::new(); of.layout.pieces.len()];
    Diagram {
        sheet: of.size,
        layout: &of.layout,
        steps: &steps,
        in_hand: Some(spot.at),
        names: Some(&nameless),
        paper: of.paper.map(|id| Painted::among(model, id, &bench.papers, on.look)),
    }
    .draw(room, on);
}
