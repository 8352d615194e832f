//! The step view: the setting in figures as large as the window allows, the paper to pick up, the panel as it lies on the
//! trimmer, what falls where, what comes next.
//!
//! ```text
//! 2 x 3 in from letter, 3 sheets      step 2 of 5 done, about 4 minutes left
//! ------------------------------------------------------------------------
//! ## FERN FLOOR   4 panels: pile A, laid aside in step 1
//!
//!   ##  ###   1                       fence
//!  # #  #    ---                      ||...........:
//!    #   ##   4                       ||   keep    :  rest
//! fence                               ||...........:
//! stroke 1 of 4
//! ```

mod after;
mod ahead;
mod panel;
mod paper;
mod stop;

use crate::app::action::Spot;
use crate::app::commands::CommandId;
use crate::app::model::Model;
use crate::app::panes::bench::after::{goes_on, waits_for};
use crate::app::panes::bench::mixed_lots;
use crate::app::state::bench::{BenchRun, RunSpot};
use crate::domain::cutting::step::CutStep;
use crate::domain::cutting::words::STACK_CAUTION;
use crate::domain::length::Unit;
use crate::domain::plural::count_of;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::digits::{Digits, ROWS};
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Rows that the words under the figure want.
const WORDS: u16 = 11;
/// A figure is at least so high where there is room for it, though little is left for the panel beside it.
const TALL: u16 = 16;

/// Draws the stage after the cuts that is in hand, else the run.
pub fn draw_bench(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    match model.yields.after.filter(|_| !waits_for(&model.yields)) {
        Some(at) => after::draw_after_cuts(model, at, area, on),
        None => model.yields.run.as_ref().map(|bench| cuts(model, bench, area, on)),
    }
}

/// Draws the run.
fn cuts(model: &Model, bench: &BenchRun, area: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let all = bench.len();
    let place = place_words(model, bench, area.width);
    on.put(area, 0, 0, &[run(&bench.title, theme.title)]);
    let at = area.width.saturating_sub(text::width(&place) as u16);
    on.put(area, at, 0, &[run(place, theme.dim)]);
    let progress = bar(bench.done as i64, all as i64, None, usize::from(area.width), &on.look.glyphs);
    on.put(area, 0, 1, &[run(progress, theme.dim)]);
    // The cursor stands before the words, not on them.
    let margin = area.x.saturating_sub(1);
    let Some(spot) = bench.spot() else {
        let room = Rect { y: area.y + 3, height: area.height.saturating_sub(3), ..area };
        done(model, bench, room, on);
        return Position::new(margin, (area.y + 3).min(area.bottom().saturating_sub(1)));
    };
    let below = Rect { y: area.y + 2, height: area.height.saturating_sub(2), ..area };
    let used = paper::draw_paper_here(model, bench, spot, below, on);
    let room = Rect { y: below.y + used, height: below.height.saturating_sub(used), ..area };
    let at = room.y + step(model, bench, spot, room, on);
    Position::new(margin, at.min(area.bottom().saturating_sub(1)))
}

/// How far the run is, and how long the rest takes at the person's own pace where there is room to say it.
fn place_words(model: &Model, bench: &BenchRun, width: u16) -> String {
    let all = bench.len();
    let place = format!("{} of {} done", bench.done.min(all), count_of(all as u64, "step"));
    match model.yields.pace.words(bench.strokes_left()) {
        Some(left)
            if text::width(&bench.title) + text::width(&place) + text::width(&left) + 4
                <= usize::from(width) =>
        {
            format!("{place}, {left}")
        }
        _ => place,
    }
}

fn done(model: &Model, bench: &BenchRun, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let mut y = on.paragraph(area, 0, "All cut.", theme.good) + 1;
    let words = if bench.is_logged() {
        match goes_on(&model.yields, &model.ctx()) {
            Some(_) => "The sheets are logged. <bench-next> goes on after the cuts, <bench-leave> goes back.",
            None => "The sheets are logged. <bench-leave> goes back.",
        }
    } else if !bench.is_from_stock() {
        "These sheets are not lines in stock, so there is nothing to log. <bench-leave> goes back."
    } else {
        "Press <bench-next> to log the sheets as used, or <bench-back> to step back."
    };
    y = on.told(area, y, &model.keymap.told(words), theme.text) + 1;
    for mixed in mixed_lots(&model.yields, &model.book, bench.sheet_total()) {
        y = on.paragraph(area, y, &format!("{mixed}."), theme.warn) + 1;
    }
    y = on.paragraph(area, y, &model.yields.trimmer.profile.blade.caution(), theme.dim) + 1;
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

/// Draws the step in hand; returns the row of its words.
fn step(model: &Model, bench: &BenchRun, spot: RunSpot<'_>, area: Rect, on: &mut Surface) -> u16 {
    let (step, theme, unit) = (spot.step, &on.look.theme, model.screen.unit);
    let figure = Digits::of_length(step.profile.setting(step.fence), unit);
    let high = figure_rows(&figure, area);
    let widest = if high > ROWS { area.width * 4 / 5 } else { area.width / 2 + 6 };
    let set = set_words(step, unit);
    let least = (text::width(&set) as u16 + 1).clamp(27, 44);
    let left = Rect { width: figure.width_at(high).max(least).min(widest), ..area };
    figure.draw_at(high, &mut on.ink(left, theme.title));
    on.put(left, 0, high, &[run(set, theme.text)]);
    counter(bench, spot, high + 1, left, on);
    let x = left.width + 3;
    let rows = panel_rows(high, area);
    let whole =
        Rect { x: area.x + x, width: area.width.saturating_sub(x), height: area.height.min(rows), ..area };
    let (right, beside) = parted(whole, area.width);
    // The run beside it has the whole height, the words below the panel keep to their side.
    let mut free = area;
    if let Some(room) = beside {
        ahead::draw(model, bench, spot, Rect { height: area.height, ..room }, on);
        free.width = room.x.saturating_sub(area.x + 2);
    }
    match &step.stop {
        Some(at) => stop::draw_stop_cut(step, at, unit, right, on),
        None => panel::draw_panel(spot, right, on),
    }
    let top = if rows > high + 2 { rows + 1 } else { rows };
    let below = Rect { y: area.y + top, height: area.height.saturating_sub(top), ..free };
    words(model, bench, spot, below, on);
    top
}

/// The room of the panel, and that of the run beside it where the window is wide and the figure leaves so much.
fn parted(room: Rect, window: u16) -> (Rect, Option<Rect>) {
    let panel = room.width.saturating_sub(ahead::WIDE + 2);
    if window < ahead::FROM || panel < ahead::PANEL {
        return (room, None);
    }
    let beside = Rect { x: room.right() - ahead::WIDE, width: ahead::WIDE, ..room };
    (Rect { width: panel, ..room }, Some(beside))
}

/// What the step says, the most needed first.
fn words(model: &Model, bench: &BenchRun, spot: RunSpot<'_>, area: Rect, on: &mut Surface) {
    let (step, theme, unit) = (spot.step, &on.look.theme, model.screen.unit);
    let mut y = 0;
    if let Some(words) = bench.proof_words() {
        y = on.paragraph(area, y, words, theme.good);
    }
    y = on.paragraph(area, y, &step.cut_words(unit), theme.title);
    for line in bench.goes(spot, unit) {
        y = on.paragraph(area, y, &line, theme.text);
    }
    for line in step.mind_words(unit) {
        y = on.paragraph(area, y, &line, theme.warn);
    }
    if step.at_once > 1 {
        y = on.paragraph(area, y, STACK_CAUTION, theme.warn);
    }
    for mixed in mixed_lots(&model.yields, &model.book, bench.sheet_total()) {
        y = on.paragraph(area, y, &format!("{mixed}."), theme.warn);
    }
    if let Some(next) = bench.next_words(unit).filter(|_| y < area.height) {
        y = on.paragraph(area, y, &next, theme.dim);
    }
    if y < area.height {
        y = on.paragraph(area, y, &model.yields.trimmer.profile.blade.caution(), theme.dim);
    }
    if let Some(offer) = bench.offer_words().filter(|_| y < area.height) {
        on.told(area, y, &model.keymap.told(offer), theme.text);
    }
}

/// Rows of the figure: seven on a small screen; else as many as leave the words their room and the panel two fifths of the
/// width, or as many as it takes to be tall with a fifth.
fn figure_rows(figure: &Digits, area: Rect) -> u16 {
    let most = area.height.saturating_sub(WORDS + 3);
    let beside = figure.rows_within(most, area.width * 3 / 5);
    beside.max(figure.rows_within(most.min(TALL), area.width * 4 / 5))
}

/// What the large figure is: `fence, 2 in = 50.8 mm`; with the error of the test strip `ruler, 3 1/4 in (comes out 1/32 in
/// over)`.
fn set_words(step: &CutStep, unit: Unit) -> String {
    let (noun, set) = (step.profile.set_by.noun(), step.profile.setting(step.fence));
    match step.profile.error_words(step.fence, unit) {
        Some(error) => format!("{noun}, {} ({error})", set.show_with_unit(unit)),
        None => format!("{noun}, {}", set.show_both(unit)),
    }
}

/// Rows for the panel: those of the figure, more on a tall screen.
fn panel_rows(figure: u16, area: Rect) -> u16 {
    area.height.saturating_sub(14).clamp(figure + 2, (figure + 2).max(26))
}

/// How many strokes of the step are counted, under the figure; a click counts one more.
fn counter(bench: &BenchRun, spot: RunSpot<'_>, y: u16, area: Rect, on: &mut Surface) {
    let words = format!("{} of {} done", bench.strokes(), count_of(u64::from(spot.step.strokes), "stroke"));
    let width = text::width(&words) as u16;
    on.put(area, 0, y, &[run(words, on.look.theme.title)]);
    let spot = Rect { x: area.x, y: area.y + y, width, height: 1 }.intersection(area);
    on.hits.add(spot, Spot::Hint(CommandId::BenchStroke));
}
