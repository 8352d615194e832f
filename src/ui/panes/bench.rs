//! The bench view: the fence setting in large figures, the panel as it lies against the fence, what comes off.
//!
//! ```text
//! 2 x 3 in from letter, 3 sheets                              step 2 of 5
//!
//!   ##  ###   1                       fence
//!  # #  #    ---                      ||...........:
//!    #   ##   4                       ||   keep    :  rest
//! fence                               ||...........:
//! ```

mod stop;

use crate::app::action::Spot;
use crate::app::commands::CommandId;
use crate::app::model::Model;
use crate::app::panes::bench::mixed_lots;
use crate::app::state::bench::{BenchRun, RunSpot};
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::step::CutPart;
use crate::domain::cutting::words::{STACK_CAUTION, kind_word};
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::size::Size;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::scaled;
use crate::ui::widgets::digits::{Figure, ROWS};
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Cautions at the trimmer, at the start and at every pause. Common practice; the maker's instructions come first.
const CAUTION: &str = "Fingers behind the guard; latch the arm and guard the blade when you stop. \
    Your trimmer's own instructions come first.";

/// Draws the run.
pub fn draw(model: &Model, bench: &BenchRun, area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let all = bench.len();
    let place = format!("{} of {} done", bench.done.min(all), count_of(all as u64, "step"));
    on.put(area, 0, 0, &[run(&bench.title, theme.title)]);
    let at = area.width.saturating_sub(text::width(&place) as u16);
    on.put(area, at, 0, &[run(place, theme.dim)]);
    let progress = bar(bench.done as i64, all as i64, None, usize::from(area.width), &on.look.glyphs);
    on.put(area, 0, 1, &[run(progress, theme.dim)]);
    let room = Rect { y: area.y + 3, height: area.height.saturating_sub(3), ..area };
    match bench.spot() {
        Some(spot) => {
            on.put(area, 0, 2, &[run(from_words(spot), theme.dim)]);
            step(model, bench, spot, room, on);
        }
        None => done(model, bench, room, on),
    }
    let at = area.y + 3 + words_top(room);
    Some(Position::new(area.x, at.min(area.bottom().saturating_sub(1))))
}

fn done(model: &Model, bench: &BenchRun, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let mut y = on.paragraph(area, 0, "All cut.", theme.good) + 1;
    let words = if bench.is_logged() {
        "The sheets are logged. <bench-leave> goes back."
    } else if !bench.is_from_stock() {
        "These sheets are not lines in stock, so there is nothing to log. <bench-leave> goes back."
    } else {
        "Press <bench-next> to log the sheets as used, or <bench-back> to step back."
    };
    y = on.paragraph(area, y, &model.keymap.say(words), theme.text) + 1;
    for mixed in mixed_lots(&model.yields, &model.book, bench.sheet_total()) {
        y = on.paragraph(area, y, &format!("{mixed}."), theme.warn) + 1;
    }
    y = on.paragraph(area, y, CAUTION, theme.dim) + 1;
    leftovers(bench, model.screen.unit, area, y, on);
}

/// What to write on the offcuts that are worth keeping; how many more there are where the screen ends first.
fn leftovers(bench: &BenchRun, unit: Unit, area: Rect, y: u16, on: &mut Surface) {
    let kept = bench.kept();
    if kept.is_empty() {
        return;
    }
    let mut row = on.paragraph(area, y, "Offcuts to keep:", on.look.theme.title);
    for (n, offcut) in kept.iter().enumerate() {
        let words = offcut.words(unit);
        let rows = text::wrap(&words, usize::from(area.width)).len() as u16;
        let is_last = n + 1 == kept.len();
        if row + rows + u16::from(!is_last) > area.height {
            let more = format!(
                "and {}: the plan's leftovers name them all",
                count_of((kept.len() - n) as u64, "more size")
            );
            on.paragraph(area, row, &more, on.look.theme.dim);
            return;
        }
        row = on.paragraph(area, row, &words, on.look.theme.text);
    }
}

fn step(model: &Model, bench: &BenchRun, spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let (step, theme, unit) = (spot.step, &on.look.theme, model.screen.unit);
    let figure = Figure::of_length(step.fence, unit);
    let left = Rect { width: figure.width().max(27).min(area.width / 2 + 6), ..area };
    figure.draw(left, on.buf, &on.look.glyphs, theme.title);
    on.put(left, 0, ROWS, &[run(format!("fence, {}", step.fence.show_both(unit)), theme.text)]);
    counter(bench, spot, left, on);
    let x = left.width + 3;
    let rows = panel_rows(area);
    let right =
        Rect { x: area.x + x, width: area.width.saturating_sub(x), height: area.height.min(rows), ..area };
    match &step.stop {
        Some(at) => stop::draw(step, at, unit, right, on),
        None => panel(spot, right, on),
    }
    let top = words_top(area);
    let below = Rect { y: area.y + top, height: area.height.saturating_sub(top), ..area };
    let mut y = on.paragraph(below, 0, &step.cut_words(unit), theme.title);
    for line in bench.goes(spot, unit) {
        y = on.paragraph(below, y, &line, theme.text);
    }
    for line in step.mind_words(unit) {
        y = on.paragraph(below, y, &line, theme.warn);
    }
    if step.at_once > 1 {
        y = on.paragraph(below, y, STACK_CAUTION, theme.warn);
    }
    for mixed in mixed_lots(&model.yields, &model.book, bench.sheet_total()) {
        y = on.paragraph(below, y, &format!("{mixed}."), theme.warn);
    }
    if y < below.height {
        on.paragraph(below, y, CAUTION, theme.dim);
    }
}

/// Rows for the panel: those of the figure, more on a tall screen.
fn panel_rows(area: Rect) -> u16 {
    area.height.saturating_sub(14).clamp(ROWS + 2, 26)
}

/// Row where the words begin: close under the panel on a small screen.
fn words_top(area: Rect) -> u16 {
    let rows = panel_rows(area);
    if rows > ROWS + 2 { rows + 1 } else { rows }
}

/// Whose sheets these are, and which step of theirs.
fn from_words(spot: RunSpot<'_>) -> String {
    let sheets = text::count(u64::from(spot.sheet.copies), "sheet", "sheets");
    let (at, steps) = (spot.at + 1, spot.sheet.steps.len());
    format!("{}, {sheets} cut like this, step {at} of {steps}.", spot.sheet.name)
}

/// How many strokes of the step are counted, under the figure; a click counts one more.
fn counter(bench: &BenchRun, spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let words = format!("stroke {} of {}", bench.strokes(), spot.step.strokes);
    let width = text::width(&words) as u16;
    on.put(area, 0, ROWS + 1, &[run(words, on.look.theme.title)]);
    let spot = Rect { x: area.x, y: area.y + ROWS + 1, width, height: 1 }.intersection(area);
    on.hits.add(spot, Spot::Hint(CommandId::BenchStroke));
}

/// The panel as it lies now: its edge against the fence at the left, the blade where it comes down.
fn panel(spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let (step, theme) = (spot.step, &on.look.theme);
    // Turned so that the edge on the fence is the left one: the cut's length runs down.
    let across = match step.edge {
        Edge::Left | Edge::Right => step.from.width,
        Edge::Top | Edge::Bottom => step.from.height,
    };
    let lying = Size::new(across, step.along);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let Some((columns, rows)) = scaled(lying, room) else { return };
    on.put(area, 0, 0, &[run(format!("fence, {} edge", step.edge.word()), theme.dim)]);
    let at =
        |l: Length| (l.units() as f64 / across.units().max(1) as f64 * f64::from(columns)).round() as u16;
    let mut canvas = Canvas::new(columns + 1, rows + 1);
    canvas.frame(0, 0, columns, rows);
    canvas.down(0, 0, rows, true);
    for n in 1..=i64::from(step.each) {
        canvas.down(at(step.fence * n), 0, rows, n == 1);
    }
    canvas.draw(room, on.buf, &on.look.glyphs, theme.line, theme.cut);
    let middle = rows / 2;
    let label = |kind: CutPart, wide: u16| {
        let word = kind_word(kind);
        if text::width(word) < usize::from(wide) { word } else { "" }
    };
    let blade = at(step.fence);
    on.put(room, 2, middle, &[run(label(step.part.0, blade.saturating_sub(2)), theme.good)]);
    let last = at(step.fence * i64::from(step.each));
    on.put(room, last + 2, middle, &[run(label(step.rest.0, columns.saturating_sub(last + 2)), theme.dim)]);
}
