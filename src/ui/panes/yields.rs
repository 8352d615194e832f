//! Yield: what was asked, the three counts with the winner marked, the sheet to scale, the cuts as steps; or the chart.
//!
//! ```text
//! Sheet  letter 8 1/2 x 11 in             +--1--2---+-------+
//! Piece  2 x 3 in                         | 1  | 2  |   3   |
//! upright 12   turned 10   > best 14      +----+----+-------+
//! 2 more than all one way                 | 4  | 5  |   6   |
//! slack ...                               +----+----+-------+
//! cuts: setting, along, strokes             |.................|
//! ```

mod beside;
mod chart;
mod drawn_key;
mod further;
mod laid;
mod listed;

use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::trimmer::words as profile_words;
use crate::app::panes::yields::words;
use crate::app::state::views::YieldView;
use crate::app::state::yields::{StepRow, shown_layout, step_rows};
use crate::domain::capital::capitalized;
use crate::domain::cutting::one_size::SheetYield;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::words as cut_words;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::diagram::Diagram;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// Fewest and most rows at the bottom for the step in hand in full, across the whole width.
const IN_FULL: (u16, u16) = (1, 5);

/// Draws the pane.
pub fn draw_yields(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    if model.yields.view == YieldView::Chart {
        return chart::draw_chart(model, area, on);
    }
    if model.yields.view == YieldView::Further {
        return further::draw_further(model, area, on);
    }
    let rows = model.yields.current_answer().map(|a| step_rows(a, model.screen.unit)).unwrap_or_default();
    let in_full_rows = in_full_rows(&rows, area);
    let above = Rect { height: area.height.saturating_sub(in_full_rows + 1), ..area };
    let below = Rect { y: above.bottom(), height: in_full_rows + 1, ..area };
    let (above, extra) = with_beside(model, above);
    beside::draw_beside(model, extra, on);
    let width = left_width(above);
    let left = Rect { width, ..above };
    let right = Rect { x: above.x + width + 2, width: above.width.saturating_sub(width + 2), ..above };
    let after = asked(model, left, on);
    let Some(answer) = model.yields.current_answer() else {
        on.put(left, 0, after + 1, &[run("working it out", on.look.theme.dim)]);
        return None;
    };
    let after = counts(model, answer, left, after + 1, on);
    sheet(model, answer, &rows, right, on);
    let steps = Rect { y: left.y + after + 1, height: left.height.saturating_sub(after + 1), ..left };
    let at = list(model, answer, &rows, steps, on);
    // Where nothing of what stands beside it has room, the last row says where it is.
    if extra.height == 0 && usize::from(steps.height) > rows.len() + 1 {
        beside::in_a_line(model, Rect { y: steps.bottom() - 1, height: 1, ..steps }, on);
    }
    // The large figures stand above the step in hand, and want a free row there.
    let kept = if on.figures.height > 0 { on.figures.height + 1 } else { 0 };
    let is_whole = in_words(model, &rows, Rect { height: steps.height.saturating_sub(kept), ..steps }, on);
    // A step that stands above in full is not said twice.
    if !is_whole {
        in_full(model, &rows, below, on);
    }
    // Where the window is too low for the list, the step in hand is what is in focus.
    at.or((!rows.is_empty()).then(|| Position::new(below.x, below.y + 1)))
}

/// Columns from which what stands beside the answer has some of its own, and from which it stands at the right of it.
const BESIDE: u16 = 116;
const AT_THE_RIGHT: u16 = 150;

/// The room of the answer, and of what stands beside it; none of that where it is not asked for.
fn with_beside(model: &Model, area: Rect) -> (Rect, Rect) {
    let none = Rect { height: 0, ..area };
    if area.width < BESIDE || model.yields.beside.asked.is_none() {
        return (area, none);
    }
    if area.width >= AT_THE_RIGHT {
        let width = area.width * 21 / 50;
        let x = area.right() - width;
        return (Rect { width: area.width - width - 2, ..area }, Rect { x, width, ..area });
    }
    let height = area.height * 2 / 5;
    let rest = Rect { height: area.height - height - 1, ..area };
    (rest, Rect { y: rest.bottom() + 1, height, ..area })
}

/// Room for the longest step, so that nothing jumps from step to step.
fn in_full_rows(rows: &[StepRow], area: Rect) -> u16 {
    let lines = |row: &StepRow| text::wrap(&row.full, usize::from(area.width)).len() as u16;
    rows.iter().map(lines).max().unwrap_or(0).clamp(IN_FULL.0, IN_FULL.1)
}

/// Fewest rows that are free below the list before every step is told in full there.
const FREE: u16 = 6;

/// Every step in full below the list, where a high window leaves the room; true where all of them are there.
fn in_words(model: &Model, rows: &[StepRow], area: Rect, on: &mut Surface) -> bool {
    let top = rows.len() as u16 + 2;
    if rows.is_empty() || area.height < top + FREE {
        return false;
    }
    let room = Rect { y: area.y + top, height: area.height - top, ..area };
    let mut y = 0;
    for (n, row) in rows.iter().enumerate() {
        let words = format!("{} {}", n + 1, row.full);
        let lines = text::wrap(&words, usize::from(room.width)).len() as u16;
        if y + lines > room.height {
            return false;
        }
        let is_picked = model.yields.step.row(rows.len()) == Some(n);
        let style = match (is_picked, row.is_warned) {
            (true, true) => on.look.theme.warn,
            (true, false) => on.look.theme.text,
            (false, _) => on.look.theme.dim,
        };
        y = on.paragraph(room, y, &words, style) + 1;
    }
    let words = format!("Trimmer: {}.", profile_words(&model.yields.trimmer, model.screen.unit));
    if y + text::wrap(&words, usize::from(room.width)).len() as u16 <= room.height {
        on.paragraph(room, y, &words, on.look.theme.dim);
    }
    true
}

/// The step in hand, every number of it.
fn in_full(model: &Model, rows: &[StepRow], area: Rect, on: &mut Surface) {
    let Some(row) = model.yields.step.row(rows.len()).and_then(|n| rows.get(n)) else { return };
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, on.look.theme.line)]);
    let style = if row.is_warned { on.look.theme.warn } else { on.look.theme.text };
    on.paragraph(area, 1, &row.full, style);
}

/// The numbers and steps keep a readable width; the drawing takes the rest.
fn left_width(area: Rect) -> u16 {
    (area.width / 2).clamp(42, 64).min(area.width)
}

/// What was asked; returns the row after it.
fn asked(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let (pane, unit, theme) = (&model.yields, model.screen.unit, &on.look.theme);
    let sheet = &pane.sheet.sheet;
    let label = |words: &str| run(text::left(words, 7, ""), theme.dim);
    let size = format!("  {}", sheet.actual().show_with_unit(unit));
    on.put(area, 0, 0, &[label("Sheet"), run(&sheet.name, theme.title), run(size, theme.text)]);
    let mut y = 1;
    let joint = format!(" {} ", on.look.glyphs.dot);
    let facts = words::sheet_notes(pane, &model.book, unit);
    if !facts.is_empty() {
        on.put(area, 0, y, &[label(""), run(facts.join(&joint), theme.dim)]);
        y += 1;
    }
    let (wishes, trimmer) = (words::asked_for(pane), trimmer(model));
    let (piece, other) = (pane.piece.show_with_unit(unit), pane.piece.about(unit.other()));
    // In the other unit beside it, where it is whole there; else in the next row.
    let is_whole = 7 + text::width(&piece) + 2 + text::width(&other) <= usize::from(area.width);
    let beside = if is_whole { format!("  {other}") } else { String::new() };
    on.put(area, 0, y, &[label("Piece"), run(piece, theme.title), run(beside, theme.dim)]);
    if !is_whole {
        y += 1;
        on.put(area, 0, y, &[label(""), run(other, theme.dim)]);
    }
    let all = [wishes.as_slice(), trimmer.as_slice()].concat().join(&joint);
    if trimmer.is_empty() || text::width(&all) + 7 <= usize::from(area.width) {
        on.put(area, 0, y + 1, &[label(""), run(all, theme.dim)]);
        return y + 2;
    }
    on.put(area, 0, y + 1, &[label(""), run(wishes.join(&joint), theme.dim)]);
    on.put(area, 0, y + 2, &[label(""), run(trimmer.join(&joint), theme.dim)]);
    y + 3
}

/// What is said of the trimmer, where it is not the usual one.
fn trimmer(model: &Model) -> Vec<String> {
    let (trimmer, usual, unit) = (&model.yields.trimmer, Trimmer::default(), model.screen.unit);
    let mut all = Vec::new();
    all.extend(trimmer.longest_cut.map(|l| format!("cuts to {}", l.about(unit))));
    if trimmer.profile.set_by != usual.profile.set_by {
        all.push(trimmer.profile.set_by.name().replace('-', " "));
    }
    all.extend(trimmer.largest_setting.map(|l| format!("set to {}", l.about(unit))));
    if trimmer.finest_mark != usual.finest_mark {
        all.push(format!("marks {}", trimmer.finest_mark.about(unit)));
    }
    if trimmer.sheets_per_stroke > 1 {
        all.push(format!("{} sheets a stroke", trimmer.sheets_per_stroke));
    }
    all
}

/// The three counts, gain, slack, sheets; returns the row after them.
fn counts(model: &Model, a: &SheetYield, area: Rect, y: u16, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let best = on.look.glyphs.best;
    on.put(
        area,
        0,
        y,
        &[
            run(format!("{best} {} a sheet", a.best), theme.good),
            run(format!("   upright {}", a.upright), theme.text),
            run(format!("   {}", words::turned_words(a.turned, model.yields.may_turn)), theme.text),
        ],
    );
    let words = format!("{}.", words::best_words(&model.yields, a));
    let mut row = on.paragraph(area, y + 1, &capitalized(&words), theme.text);
    let exact = a.best > 0 && !(a.slack.width.is_positive() && a.slack.height.is_positive());
    let slack = format!("Slack: {}.", words::slack_words(&model.yields, model.screen.unit));
    row = on.paragraph(area, row, &slack, if exact { theme.warn } else { theme.dim });
    if let Some(stop) = &a.stop {
        let words = format!("Stop cuts: {}.", words::stop_words(stop));
        row = on.paragraph(area, row, &words, theme.text);
    }
    if let Some(words) = words::sheets_words(&model.yields) {
        row = on.paragraph(area, row, &format!("{words}."), theme.title);
    }
    if let Some(words) = cut_words::short_words(a, model.screen.unit) {
        row = on.paragraph(area, row, &format!("{}.", capitalized(&words)), theme.warn);
    }
    row
}

fn sheet(model: &Model, a: &SheetYield, rows: &[StepRow], area: Rect, on: &mut Surface) {
    let room = Rect { height: area.height.saturating_sub(1), ..area };
    let in_hand = model.yields.step.row(rows.len());
    let steps: Vec<_> = rows.iter().map(|r| r.cuts.clone()).collect();
    let layout = shown_layout(a);
    let paper = model.yields.sheet.paper.map(|id| Painted::item(model, id, on.look));
    let diagram = Diagram { sheet: a.sheet, layout, steps: &steps, in_hand, names: None, paper };
    diagram.draw(room, on);
    drawn_key::key_below(&diagram, (room, area), on);
}

/// The steps, one a line.
fn list(model: &Model, a: &SheetYield, rows: &[StepRow], area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let Some(picked) = model.yields.step.row(rows.len()) else {
        let words = if a.best == 0 {
            "Nothing to cut. Press <piece> for another size or <sheet> for another sheet."
        } else {
            "No cut is needed: the sheet is the piece."
        };
        on.told(area, 0, &model.keymap.told(words), theme.text);
        return None;
    };
    let room = usize::from(area.height.saturating_sub(1));
    if room == 0 {
        return None;
    }
    let heading = words::cuts_words(a, model.yields.trimmer.profile.set_by);
    let hidden = rows.len().saturating_sub(room);
    on.put(area, 0, 0, &[run(heading, theme.title), run(text::hidden(hidden), theme.dim)]);
    let first = first_shown(picked, rows.len(), room);
    on.hits.add(area, Spot::In(List::Steps));
    for (n, row) in rows.iter().enumerate().skip(first).take(room) {
        let y = 1 + (n - first) as u16;
        let (sign, style) = if n == picked { (on.look.glyphs.pick, theme.picked) } else { (" ", theme.text) };
        let words = format!("{:>2} {}", n + 1, row.short);
        let words = text::left(&words, usize::from(area.width.saturating_sub(1)), on.look.glyphs.ellipsis);
        on.put(area, 0, y, &[run(sign, theme.mark), run(words, style)]);
        on.hits.add(Rect { y: area.y + y, height: 1, ..area }, Spot::Row(List::Steps, n));
    }
    Some(Position::new(area.x, area.y + 1 + (picked - first) as u16))
}
