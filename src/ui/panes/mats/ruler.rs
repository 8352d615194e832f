//! The ruler, drawn large: whole units numbered, longer ticks for the larger parts, the measure in hand marked through. It
//! slides so that the mark is in view.
//!
//! ```text
//! ─────────────────────────────────────────
//! │ ╷ │ ╷ │ ╷ ┃ ╷ │ ╷ │ ╷ │ ╷ │ ╷ │ ╷ │ ╷ │
//! │       │   ┃   │       │       │       │
//! │           ┃           │               │
//! 5           ^                           6
//! ```

use super::drawing::over_a_line;
use crate::app::model::Model;
use crate::app::panes::mats::ruler::reach;
use crate::app::panes::mats::words;
use crate::domain::length::{Length, Unit};
use crate::domain::ruler::{AskFor, Ruler};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Rows of ticks: one for each length that a tick can have.
const TICK_ROWS: u16 = 5;
/// Rows that edge, numbers and words take beside the ticks.
const OTHER_ROWS: u16 = 4;

/// Draws ruler and words; returns where the tick pointed at stands.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    if area.height < 3 || area.width < 20 {
        return None;
    }
    let unit = model.screen.unit;
    let ruler = model.mats.ruler.ruler(unit);
    let at = model.mats.pointed(&model.book, unit);
    let rows = TICK_ROWS.min(area.height.saturating_sub(OTHER_ROWS)).max(1);
    let tape = Tape::around(at, ruler, area.width);
    tape.ticks(rows, area, on);
    let x = tape.column(at);
    for y in 0..=rows {
        if x < area.width {
            on.buf.set_string(
                area.x + x,
                area.y + y,
                on.look.glyphs.heavy[5],
                over_a_line(on.look.theme.cut),
            );
        }
    }
    // The number of a whole unit is what is read there: it stays, in the color of the mark.
    let tick = at.times(ruler.tick());
    let number = (ruler.at_tick(tick) == at && depth(tick, ruler).1).then(|| at.show(unit));
    let sign = number.unwrap_or_else(|| "^".to_owned());
    on.put(
        area,
        x.saturating_sub((text::width(&sign) / 2) as u16),
        rows + 1,
        &[run(sign, on.look.theme.cut)],
    );
    words(model, Rect { y: area.y + rows + 2, height: area.height.saturating_sub(rows + 2), ..area }, on);
    (x < area.width).then(|| Position::new(area.x + x, area.y + rows + 1))
}

/// The part of the ruler in view.
struct Tape {
    ruler: Ruler,
    /// The first tick shown, counted from the ruler's start.
    first: i64,
    /// Columns from tick to tick.
    step: u16,
    width: u16,
}

impl Tape {
    /// With a length in the middle, or as near to it as the ruler's ends let it be.
    fn around(at: Length, ruler: Ruler, width: u16) -> Self {
        // An inch takes 32 columns whatever its parts, a millimetre two: large enough to count.
        let step = match ruler.unit() {
            Unit::Inch => (32 / ruler.parts()).max(1) as u16,
            Unit::Mm => (2 / ruler.parts()).max(1) as u16,
        };
        let shown = i64::from(width / step);
        let last = reach(ruler.unit()).times(ruler.tick()).max(at.times(ruler.tick()) + 1);
        let middle = at.times(ruler.tick()) - shown / 2;
        Self { ruler, first: middle.min(last - shown + 1).max(0), step, width }
    }

    /// The column of a length, between ticks too.
    fn column(&self, at: Length) -> u16 {
        let from_first = at - self.ruler.at_tick(self.first);
        let ticks = from_first.units() as f64 / self.ruler.tick().units() as f64;
        (ticks * f64::from(self.step)).round().max(0.0) as u16
    }

    fn ticks(&self, rows: u16, area: Rect, on: &mut Surface) {
        let edge = on.look.glyphs.rule.repeat(usize::from(self.width));
        on.put(area, 0, 0, &[run(edge, on.look.theme.line)]);
        let shown = i64::from(self.width / self.step);
        let last = reach(self.ruler.unit()).times(self.ruler.tick());
        for n in self.first..=(self.first + shown).min(last.max(self.first)) {
            let x = (n - self.first) as u16 * self.step;
            if x >= self.width {
                break;
            }
            let (depth, is_numbered) = depth(n, self.ruler);
            let style = if is_numbered { on.look.theme.text } else { on.look.theme.line };
            // Where there are fewer rows, the longest ticks stop at the last.
            for y in 1..=depth.min(rows) {
                on.buf.set_string(area.x + x, area.y + y, on.look.glyphs.joins[5], style);
            }
            if is_numbered {
                let number = self.ruler.at_tick(n).show(self.ruler.unit());
                let back = (text::width(&number) / 2) as u16;
                on.put(area, x.saturating_sub(back), rows + 1, &[run(number, on.look.theme.text)]);
            }
        }
    }
}

/// How long a tick is, and whether a number stands under it.
fn depth(n: i64, ruler: Ruler) -> (u16, bool) {
    let parts = ruler.parts();
    match ruler.unit() {
        Unit::Mm => {
            let tenth = parts * 10;
            match n {
                n if n % tenth == 0 => (5, true),
                n if n % (parts * 5) == 0 => (3, false),
                n if n % parts == 0 => (2, false),
                _ => (1, false),
            }
        }
        Unit::Inch => match n {
            n if n % parts == 0 => (5, true),
            n if n * 2 % parts == 0 => (4, false),
            n if n * 4 % parts == 0 => (3, false),
            n if n * 8 % parts == 0 => (2, false),
            _ => (1, false),
        },
    }
}

/// What the tick reads, or the question of practice.
fn words(model: &Model, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let mut row = 0;
    let asks_tick = model
        .mats
        .ruler
        .practice
        .as_ref()
        .is_some_and(|p| p.question.ask == AskFor::WhichTick && p.said.is_none());
    for (label, words) in words::on_ruler(&model.mats, &model.ctx()) {
        let style = match label {
            "question" => theme.title,
            "note" => theme.warn,
            "right" => theme.good,
            "say" => theme.dim,
            _ if asks_tick => theme.dim,
            _ => theme.text,
        };
        row = on.told(area, row, &model.keymap.told(&words), style);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn len(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap()
    }

    #[test]
    fn the_mark_is_in_view_and_under_its_tick() {
        for (at, width) in [("0.01", 40), ("5 3/8", 60), ("11 15/16", 58), ("3", 150)] {
            for ruler in [Ruler::EIGHTHS, Ruler::SIXTEENTHS, Ruler::THIRTY_SECONDS] {
                let tape = Tape::around(len(at), ruler, width);
                let column = tape.column(len(at));
                assert!(column < width, "{at} {width}");
                let on = ruler.at_tick(tape.first + i64::from(column / tape.step));
                assert!((on - len(at)).abs() <= ruler.tick(), "{at} {width}");
            }
        }
    }

    #[test]
    fn larger_parts_have_longer_ticks() {
        let of = |n| depth(n, Ruler::SIXTEENTHS);
        assert_eq!(
            (of(16), of(8), of(4), of(2), of(1)),
            ((5, true), (4, false), (3, false), (2, false), (1, false))
        );
        assert_eq!((depth(10, Ruler::MILLIMETRES), depth(5, Ruler::MILLIMETRES)), ((5, true), (3, false)));
    }
}
