//! Months drawn as they hang on a wall, with the days marked on which something is due: `*` held, `+` cut, packed, ordered or
//! expected, `<` today. The list beside them says what.

use crate::app::model::Model;
use crate::domain::stock::calendar::{CalendarRow, Due};
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use jiff::civil::Date;
use ratatui::layout::Rect;

/// Columns of a month, the gap after it among them.
const WIDE: u16 = 23;
/// Rows of a month: its name, the weekdays, six weeks.
pub(super) const HIGH: u16 = 9;

pub(super) const NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// As many months side by side as there is room for, up to the last in which something is due.
pub(super) fn draw(model: &Model, due: &[CalendarRow], area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let months = (area.width + 2) / WIDE;
    let last = due.last().map_or(model.today, |r| r.on);
    let mut first = Date::new(model.today.year(), model.today.month(), 1).unwrap_or(model.today);
    for n in 0..months {
        if first > last || area.height < HIGH {
            return;
        }
        let place = Rect { x: area.x + n * WIDE, width: WIDE - 2, ..area };
        let name = NAMES.get(first.month() as usize - 1).copied().unwrap_or_default();
        on.put(place, 0, 0, &[run(format!("{name} {}", first.year()), theme.title)]);
        on.put(place, 0, 1, &[run("Mo Tu We Th Fr Sa Su", theme.dim)]);
        let before = i64::from(first.weekday().to_monday_zero_offset());
        for day in 1..=first.days_in_month() {
            let at = before + i64::from(day) - 1;
            let Ok(date) = Date::new(first.year(), first.month(), day) else { continue };
            let of_day = || due.iter().filter(|r| r.on == date);
            let (sign, style) = if of_day().any(|r| r.due == Due::Held) {
                ("*", theme.mark)
            } else if of_day().next().is_some() {
                ("+", theme.warn)
            } else if date == model.today {
                ("<", theme.title)
            } else {
                (" ", theme.text)
            };
            let (x, y) = ((at % 7) as u16 * 3, 2 + (at / 7) as u16);
            on.put(place, x, y, &[run(format!("{day:>2}{sign}"), style)]);
        }
        first = first.saturating_add(jiff::Span::new().months(1));
    }
}
