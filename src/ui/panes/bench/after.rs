//! A stage after the cuts: how many are done in large figures, what is done with each one, its cautions.

use crate::app::action::Spot;
use crate::app::commands::CommandId;
use crate::app::model::Model;
use crate::app::state::after::AfterCuts;
use crate::domain::after_cuts::{self, StageSheet};
use crate::domain::plural::count_of;
use crate::domain::project::Stage;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::digits::{Digits, ROWS};
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Draws the stage.
pub fn draw_after_cuts(model: &Model, at: AfterCuts, area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let project = model.book.projects().get(at.project)?;
    let sheet = after_cuts::sheet(&model.book, at.project, at.stage, model.screen.unit)?;
    let all = after_cuts::stages(project);
    let place = stages_words(&all, at.stage);
    on.put(area, 0, 0, &[run(&project.name, theme.title)]);
    let x = area.width.saturating_sub(text::width(&place) as u16);
    on.put(area, x, 0, &[run(place, theme.dim)]);
    let progress =
        bar(i64::from(sheet.done), i64::from(sheet.of), None, usize::from(area.width), &on.look.glyphs);
    on.put(area, 0, 1, &[run(progress, theme.dim)]);
    let room = Rect { y: area.y + 3, height: area.height.saturating_sub(3), ..area };
    let used = figure(&sheet, room, on);
    let below = Rect { y: room.y + used, height: room.height.saturating_sub(used), ..room };
    words(&sheet, below, on);
    Some(Position::new(area.x.saturating_sub(1), below.y.min(area.bottom().saturating_sub(1))))
}

/// `prepared, packed, then assembled`: all stages, the one in hand in capitals.
fn stages_words(all: &[Stage], now: Stage) -> String {
    let words = all.iter().map(|s| if *s == now { s.word().to_uppercase() } else { s.word().to_owned() });
    words.collect::<Vec<_>>().join("  ")
}

/// The count in large figures, and what it counts; returns the rows it takes.
fn figure(sheet: &StageSheet, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let figure = Digits::of_count(u64::from(sheet.done));
    // What is done and its cautions are told whole before the count is large.
    let wanted = rows_of(&sheet.lines, area.width) + rows_of(&sheet.cautions, area.width) + 2;
    let left = area.height.saturating_sub(wanted);
    let rows = if left < ROWS { 0 } else { figure.rows_within(left, area.width / 2) };
    if rows > 0 {
        figure.draw_at(rows, &mut on.ink(area, theme.title));
    }
    let words = count_words(sheet);
    let width = text::width(&words) as u16;
    on.put(area, 0, rows, &[run(words, theme.title)]);
    let spot = Rect { x: area.x, y: area.y + rows, width, height: 1 }.intersection(area);
    on.hits.add(spot, Spot::Hint(CommandId::BenchStroke));
    rows + 2
}

/// Rows that lines take.
fn rows_of(lines: &[String], width: u16) -> u16 {
    lines.iter().map(|line| text::wrap(line, usize::from(width)).len() as u16).sum()
}

/// `3 of 15 sets prepared`.
fn count_words(sheet: &StageSheet) -> String {
    let of = count_of(u64::from(sheet.of), sheet.stage.unit());
    format!("{} of {of} {}", sheet.done, sheet.stage.word())
}

/// What is done with each, then the cautions. Lines that have no room are counted.
fn words(sheet: &StageSheet, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    // Where not all of it has room, the cautions keep theirs.
    let kept = rows_of(&sheet.cautions, area.width).min(area.height.saturating_sub(2));
    let below = Rect { y: area.bottom() - kept, height: kept, ..area };
    let area = Rect { height: area.height - kept, ..area };
    let mut y = 0;
    for (n, line) in sheet.lines.iter().enumerate() {
        let rows = text::wrap(line, usize::from(area.width)).len() as u16;
        let is_last = n + 1 == sheet.lines.len();
        if y + rows + u16::from(!is_last) > area.height {
            let left = sheet.lines.len() - n;
            on.paragraph(area, y, &format!("and {left} more: a larger window shows them"), theme.dim);
            y = area.height;
            break;
        }
        y = on.paragraph(area, y, line, theme.text);
    }
    // They stand right behind what is done.
    let cautions = Rect { y: area.y + y, height: below.height, ..below };
    let mut y = 0;
    for caution in sheet.cautions.iter().filter(|_| cautions.height > 0) {
        if y < cautions.height {
            y = on.paragraph(cautions, y, caution, theme.warn);
        }
    }
}
