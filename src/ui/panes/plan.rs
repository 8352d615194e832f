//! The plan view: what the project takes and whether less is possible, the layouts with their copies, the one picked to
//! scale, what could not be planned.
//!
//! ```text
//! spring class: 9 sheets, proved: no plan can use fewer   used 91 %
//! > 4 x fern, letter      6 pieces      +-----------+
//!   2 x oat, 12x12       12 pieces      |           |
//! not planned: 3 x "tag" (2 x 4 in)     +-----------+
//! ```

use crate::app::action::List;
use crate::app::model::Model;
use crate::app::panes::plan::PlanPane;
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::steps::{CutList, cut_list};
use crate::domain::planning::ProjectJob;
use crate::ui::hits::Hits;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::diagram::Diagram;
use crate::ui::widgets::lines::{paragraph, put, run};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::widgets::Widget;

const COLUMNS: [Column; 4] = [
    Column::text("sheet", 18, 0),
    Column::number("cut", 5, 0),
    Column::number("pieces", 6, 0),
    Column::number("steps", 5, 1),
];

/// Draws the view.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer, look: &Look, hits: &mut Hits) -> Option<Position> {
    let (pane, theme) = (&model.plan, &look.theme);
    let Some((_, job)) = &pane.job else { return None };
    put(buf, area, 0, 0, &[run("Plan  ", theme.dim), run(&job.name, theme.title)], look);
    let Some(plan) = &pane.plan else {
        put(buf, area, 0, 2, &[run("working out a first plan", theme.dim)], look);
        return None;
    };
    let width = (area.width / 2).clamp(40, 60).min(area.width);
    let left = Rect { width, ..area };
    let right = Rect {
        x: area.x + width + 2,
        y: area.y + 1,
        width: area.width.saturating_sub(width + 2),
        height: area.height.saturating_sub(1),
    };
    let y = totals(pane, plan, left, buf, look);
    let notes: Vec<String> = plan
        .unplaced
        .iter()
        .map(|u| u.sentence(&job.job, model.screen.unit))
        .chain(job.notes.iter().cloned())
        .collect();
    let note_rows: usize = notes.iter().map(|n| text::wrap(n, usize::from(left.width)).len()).sum();
    let note_rows = (note_rows as u16).min(left.height / 3);
    let list = Rect { y: left.y + y + 1, height: left.height.saturating_sub(y + 1 + note_rows), ..left };
    let lists: Vec<CutList> = plan.sheets.iter().filter_map(|s| steps(job, s)).collect();
    let rows = plan.sheets.iter().zip(&lists).map(|(s, list)| row(job, s, list, look)).collect::<Vec<_>>();
    let picked = pane.cursor.row(rows.len());
    let table = Table { columns: &COLUMNS, rows: &rows, picked };
    let at = table.draw(list, buf, look);
    hits.list(list, List::Layouts, table.shown(list));
    let below = Rect { y: list.bottom(), height: note_rows, ..left };
    let mut row = 0;
    for note in notes {
        row = paragraph(buf, below, row, &note, theme.warn, look);
    }
    if let (Some(sheet), Some(list)) = (pane.picked(), picked.and_then(|n| lists.get(n))) {
        layout(job, sheet, list, right, buf, look);
    }
    at.map(|y| Position::new(area.x, y))
}

fn steps(job: &ProjectJob, planned: &PlannedSheet) -> Option<CutList> {
    let sheet = job.job.sheets.get(planned.sheet)?;
    Some(cut_list(sheet.size, &planned.tree, &job.job.trimmer, planned.copies))
}

/// What the plan takes, and how surely it is the least; returns the row after it.
fn totals(pane: &PlanPane, plan: &Plan, area: Rect, buf: &mut Buffer, look: &Look) -> u16 {
    let (t, theme) = (&plan.totals, &look.theme);
    let sheets = text::count(i128::from(t.sheets), "sheet", "sheets");
    let proof = if t.proved {
        format!("Proved: no plan can cost less ({}).", t.bound.reason())
    } else {
        format!("No plan can cost less than {}; this one costs {}.", t.lower_bound, t.cost)
    };
    put(
        buf,
        area,
        0,
        1,
        &[
            run(sheets, theme.good),
            run(format!(", {:.0} % of the paper used", t.used_share * 100.0), theme.text),
        ],
        look,
    );
    let y = paragraph(buf, area, 2, &proof, if t.proved { theme.text } else { theme.dim }, look);
    let words = match (pane.waiting, &pane.progress) {
        (Some(_), Some((p, _))) => {
            format!("Still looking for a better one, round {}. Esc keeps this.", p.work)
        }
        (Some(_), None) => "Still looking for a better one. Esc keeps this.".to_owned(),
        _ => format!(
            "{} at {}, {}",
            text::count(i128::from(t.cuts), "cut", "cuts"),
            text::count(i128::from(t.settings), "fence setting", "fence settings"),
            text::count(i128::from(t.layouts), "layout", "layouts")
        ),
    };
    paragraph(buf, area, y, &words, theme.dim, look)
}

fn row(job: &ProjectJob, planned: &PlannedSheet, list: &CutList, look: &Look) -> Row {
    let name = job.job.sheets.get(planned.sheet).map(|s| s.name.clone()).unwrap_or_default();
    let pieces = planned.layout.pieces.len() as u64 * u64::from(planned.copies);
    let cells = vec![
        name,
        format!("{} {}", planned.copies, look.glyphs.times),
        pieces.to_string(),
        list.steps.len().to_string(),
    ];
    Row { cells, style: look.theme.text }
}

fn layout(
    job: &ProjectJob,
    planned: &PlannedSheet,
    list: &CutList,
    area: Rect,
    buf: &mut Buffer,
    look: &Look,
) {
    let Some(sheet) = job.job.sheets.get(planned.sheet) else { return };
    // Which pieces the numbers on the drawing are.
    let mut kinds: Vec<(usize, usize)> = Vec::new();
    for p in &list.layout.pieces {
        match kinds.iter_mut().find(|(piece, _)| *piece == p.piece) {
            Some((_, n)) => *n += 1,
            None => kinds.push((p.piece, 1)),
        }
    }
    let legend_rows = (kinds.len() as u16).min(area.height / 3);
    let room = Rect { height: area.height.saturating_sub(legend_rows), ..area };
    let groups: Vec<_> = list.steps.iter().map(|s| s.cuts.clone()).collect();
    let names: Vec<String> =
        list.layout.pieces.iter().map(|p| letter(kinds.iter().position(|k| k.0 == p.piece))).collect();
    Diagram {
        sheet: sheet.size,
        layout: &list.layout,
        steps: &groups,
        in_hand: None,
        names: Some(&names),
        look,
    }
    .render(room, buf);
    for (n, (piece, count)) in kinds.iter().take(usize::from(legend_rows)).enumerate() {
        let Some(p) = job.job.pieces.get(*piece) else { continue };
        let words = format!("{}  {count} {} {}, {}", letter(Some(n)), look.glyphs.times, p.name, p.finished);
        put(buf, area, 0, room.height + n as u16, &[run(words, look.theme.dim)], look);
    }
}

/// A, B, ... for the kinds of piece on one sheet.
fn letter(n: Option<usize>) -> String {
    let at = n.unwrap_or(0);
    let first = char::from(b'A' + (at % 26) as u8);
    if at < 26 { first.to_string() } else { format!("{first}{}", at / 26) }
}
