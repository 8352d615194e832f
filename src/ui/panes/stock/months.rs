//! Months drawn as they hang on a wall, with the days marked on which something is due: `*` a class or a batch, `+` cut, packed,
//! ordered or expected. Today stands out as a picked row does, whatever is due on it. A line below them says so; the list beside
//! them says what is due.

use crate::app::model::Model;
use crate::domain::days;
use crate::domain::stock::calendar::{CalendarRow, Due};
use crate::ui::surface::Surface;
use crate::ui::theme::Theme;
use crate::ui::widgets::lines::run;
use jiff::civil::Date;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Columns of a day: its number, its mark and what keeps it from the next.
const DAY: u16 = 4;
/// Columns of a month, the gap after it among them.
const WIDE: u16 = 7 * DAY - 1 + GAP;
/// Columns between two months.
const GAP: u16 = 3;
/// Most months that are shown.
const MOST: usize = 6;
/// Rows of a month: its name, the weekdays, six weeks, and one for the key or for what keeps it from the next.
pub(super) const HIGH: u16 = 9;
/// A class or a batch on its day.
const DUE: &str = "*";
/// Something to be done before it, or awaited.
const BEFORE: &str = "+";
/// What the marks say.
const MARKS: [(&str, &str); 2] = [(DUE, "class or due day"), (BEFORE, "to do before, or expected")];

/// A mark looks in the key as it does beside a day.
fn style_of(sign: &str, theme: &Theme) -> Style {
    match sign {
        DUE => theme.mark,
        BEFORE => theme.warn,
        _ => theme.text,
    }
}

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

/// How many months stand beside one another.
const fn across(width: u16) -> u16 {
    let fit = (width + GAP) / WIDE;
    if fit == 0 { 1 } else { fit }
}

/// The months from today's up to the last in which something is due.
fn shown(model: &Model, due: &[CalendarRow]) -> Vec<Date> {
    let last = due.last().map_or(model.today, |row| row.on);
    let first = Date::new(model.today.year(), model.today.month(), 1).unwrap_or(model.today);
    let months = (0..).map(|n| first.saturating_add(jiff::Span::new().months(n)));
    months.take_while(|month| *month <= last).take(MOST).collect()
}

/// Rows that they take with their key: all of them where so many rows are there, else as many as are.
pub(super) fn high(model: &Model, due: &[CalendarRow], width: u16, most: u16) -> u16 {
    let rows = (shown(model, due).len() as u16).div_ceil(across(width)).min(most / HIGH).max(1);
    rows * HIGH
}

/// As many months as there is room for, side by side and below one another, and what their marks say.
pub(super) fn draw(model: &Model, due: &[CalendarRow], area: Rect, on: &mut Surface) {
    let across = across(area.width);
    let mut marks = Vec::new();
    let mut below = 0;
    for (n, first) in (0..).zip(shown(model, due)) {
        let (x, y) = (n % across * WIDE, n / across * HIGH);
        if y + HIGH > area.height || x + WIDE - GAP > area.width {
            break;
        }
        let width = WIDE - GAP;
        month(
            model,
            (due, first),
            Rect { x: area.x + x, y: area.y + y, width, height: HIGH },
            &mut marks,
            on,
        );
        below = y + HIGH - 1;
    }
    let mut key = Vec::new();
    let theme = &on.look.theme;
    for (sign, words) in MARKS.into_iter().filter(|(sign, _)| marks.contains(sign)) {
        key.extend([run(sign, style_of(sign, theme)), run(format!(" {words}   "), theme.dim)]);
    }
    key.extend([run(model.today.day().to_string(), theme.picked), run(" today", theme.dim)]);
    if below > 0 {
        on.put(area, 0, below, &key);
    }
}

/// One month; the marks that it has are added.
fn month(
    model: &Model,
    (due, first): (&[CalendarRow], Date),
    place: Rect,
    marks: &mut Vec<&'static str>,
    on: &mut Surface,
) {
    let (theme, unit) = (&on.look.theme, model.screen.unit);
    let name = NAMES.get(first.month() as usize - 1).copied().unwrap_or_default();
    on.put(place, 0, 0, &[run(format!("{name} {}", first.year()), theme.title)]);
    for (n, name) in (0..).zip(days::of_week(unit)) {
        on.put(place, n * DAY, 1, &[run(name.get(..2).unwrap_or(name), theme.dim)]);
    }
    let before = days::into_week(first, unit);
    for day in 1..=first.days_in_month() {
        let at = before + i64::from(day) - 1;
        let Ok(date) = Date::new(first.year(), first.month(), day) else { continue };
        let of_day = || due.iter().filter(|row| row.on == date);
        let sign = if of_day().any(|row| row.due == Due::Held) {
            DUE
        } else if of_day().next().is_some() {
            BEFORE
        } else {
            " "
        };
        let style = style_of(sign, theme);
        let of_number = if date == model.today { theme.picked } else { style };
        marks.push(sign);
        let (x, y) = ((at % 7) as u16 * DAY, 2 + (at / 7) as u16);
        on.put(place, x, y, &[run(format!("{day:>2}"), of_number), run(sign, style)]);
    }
}
