//! The steps that can be taken back: newest first, the day and what was done.

use super::frame::{boxed, hidden, inside, middle};
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::undo::list::{steps, what};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

const WIDTH: u16 = 110;
/// Columns before what was done.
const DAY: u16 = 13;

/// What the step in hand is in whole, at the foot, where its row has no room for it.
fn foot(model: &Model, cursor: Cursor, area: Rect) -> Vec<String> {
    let all = steps(model);
    let Some(step) = cursor.row(all.len()).and_then(|n| all.get(n)) else { return Vec::new() };
    let words = text::harmless(&what(model, step));
    if text::width(&words) <= usize::from(area.width.saturating_sub(DAY)) {
        return Vec::new();
    }
    text::wrap(&words, usize::from(area.width))
}

/// The step shown at a place on the screen.
pub fn rows(model: &Model, cursor: Cursor, body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, WIDTH, body.height));
    let foot = foot(model, cursor, area).len();
    let (count, room) = (steps(model).len(), usize::from(area.height).saturating_sub(1 + foot));
    let first = first_shown(cursor.row(count).unwrap_or(0), count, room);
    let rows = first..count.min(first + room);
    rows.map(|n| (n, Rect { y: area.y + (n - first) as u16, height: 1, ..area })).collect()
}

/// Draws the list; returns where the cursor belongs.
pub fn draw_history(model: &Model, cursor: Cursor, body: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let area = boxed(body, WIDTH, body.height, "What was done, newest first", on);
    let all = steps(model);
    let foot = foot(model, cursor, area);
    let room = usize::from(area.height).saturating_sub(1 + foot.len());
    let picked = cursor.row(all.len());
    let first = first_shown(picked.unwrap_or(0), all.len(), room);
    let mut at = Position::new(area.x, area.y);
    for (n, step) in all.iter().enumerate().skip(first).take(room) {
        let y = (n - first) as u16;
        let is_picked = picked == Some(n);
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let style = if is_picked { theme.picked } else { theme.text };
        let day = step.date.map_or_else(|| " ".repeat(10), |d| d.to_string());
        let label = text::left(
            &text::harmless(&what(model, step)),
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
    hidden(all.len().saturating_sub(room), last, on);
    at
}
