//! The steps that can be taken back: newest first, the day and what was done.

use super::frame::{boxed, hidden, inside, middle};
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::undo::list::{DoneRow, step_rows, steps, what, what_and_where};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

const WIDTH: u16 = 110;
/// Columns before what was done.
const DAY: u16 = 13;
/// Rows of the frame, and of what is to redo.
const AROUND: u16 = 3;

/// What the step in hand is in whole, at the foot, where its row has no room for it.
fn foot(model: &Model, cursor: Cursor, area: Rect) -> Vec<String> {
    let all = steps(model);
    let Some(step) = cursor.row(all.len()).and_then(|n| all.get(n)) else { return Vec::new() };
    let room = usize::from(area.width.saturating_sub(DAY));
    if text::width(&text::harmless(&what_and_where(model, step))) <= room {
        return Vec::new();
    }
    text::wrap(&text::harmless(&what(model, step)), usize::from(area.width))
}

/// The rows that have room in the box, and how many steps have none.
struct Shown {
    rows: Vec<DoneRow>,
    hidden: usize,
}

fn shown(model: &Model, cursor: Cursor, area: Rect) -> Shown {
    let all = steps(model);
    let rows = step_rows(&all);
    let foot = foot(model, cursor, area).len();
    let room = usize::from(area.height).saturating_sub(1 + foot);
    let in_hand = cursor.row(all.len()).map(DoneRow::Step);
    let at = rows.iter().position(|row| Some(*row) == in_hand).unwrap_or(0);
    let first = first_shown(at, rows.len(), room);
    let rows: Vec<DoneRow> = rows.into_iter().skip(first).take(room).collect();
    let hidden = all.len() - rows.iter().filter(|row| matches!(row, DoneRow::Step(_))).count();
    Shown { rows, hidden }
}

/// Rows of the box: as many as the list has, where there is room.
fn height(model: &Model, body: Rect) -> u16 {
    let rows = step_rows(&steps(model)).len();
    u16::try_from(rows).unwrap_or(u16::MAX).saturating_add(AROUND).min(body.height)
}

/// The step shown at a place on the screen.
pub fn rows(model: &Model, cursor: Cursor, body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, WIDTH, height(model, body)));
    let rows = (area.y..).zip(shown(model, cursor, area).rows);
    let step = |(y, row)| match row {
        DoneRow::Step(n) => Some((n, Rect { y, height: 1, ..area })),
        DoneRow::Whose(_) => None,
    };
    rows.filter_map(step).collect()
}

/// Draws the list; returns where the cursor belongs.
pub fn draw_history(model: &Model, cursor: Cursor, body: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let all = steps(model);
    let title = format!("What was done: {}, newest first", text::count(all.len() as u64, "step", "steps"));
    let area = boxed(body, WIDTH, height(model, body), &title, on);
    let foot = foot(model, cursor, area);
    let picked = cursor.row(all.len());
    let Shown { rows, hidden: more } = shown(model, cursor, area);
    let mut at = Position::new(area.x, area.y);
    for (y, row) in (0..).zip(rows) {
        let n = match row {
            DoneRow::Step(n) => n,
            DoneRow::Whose(words) => {
                on.put(area, 1, y, &[run(words, theme.dim)]);
                continue;
            }
        };
        let Some(step) = all.get(n) else { continue };
        let is_picked = picked == Some(n);
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let style = if is_picked { theme.picked } else { theme.text };
        let day = step.date.map_or_else(|| " ".repeat(10), |d| d.to_string());
        let label = text::left(
            &text::harmless(&what_and_where(model, step)),
            usize::from(area.width.saturating_sub(DAY)),
            on.look.glyphs.ellipsis,
        );
        let line = [run(sign, theme.mark), run(day, style), run("  ", style), run(label, style)];
        on.put(area, 0, y, &line);
        if is_picked {
            at = Position::new(area.x, area.y + y);
        }
    }
    for (y, line) in (area.height.saturating_sub(1 + foot.len() as u16)..).zip(foot) {
        on.put(area, 0, y, &[run(line, theme.dim)]);
    }
    let undone = model.timeline.undone.len();
    let words = match undone {
        0 => "nothing to redo".to_owned(),
        n => format!("{} to redo", text::count(n as u64, "step", "steps")),
    };
    let last = Rect { y: area.bottom().saturating_sub(1), height: 1, ..area };
    on.put(last, 0, 0, &[run(words, theme.dim)]);
    hidden(more, last, on);
    at
}
