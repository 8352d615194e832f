//! How many of a line of the shelf lay there from its first count on, and will by what is booked, wanted and on order: time runs
//! across, what is left stands up. The low mark runs through it.

use crate::app::model::Model;
use crate::domain::shelf_answers::level::levels;
use crate::domain::stock::ItemId;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use jiff::civil::Date;
use ratatui::layout::Rect;

/// Columns of the counts before the picture.
const COUNTS: u16 = 5;
/// Fewest and most rows of the picture; its heading, its days and its key take three more.
const ROWS: (u16, u16) = (4, 16);
/// Fewest columns.
const LEAST: u16 = 30;

/// Draws it where there is room; returns its rows.
pub(super) fn draw(model: &Model, item: ItemId, area: Rect, on: &mut Surface) -> u16 {
    let all = levels(&model.book, item, model.today, &model.stock.wanted);
    let (Some(first), Some(last)) = (all.first(), all.last()) else { return 0 };
    let days = i64::from((last.on - first.on).get_days());
    if days < 2 || area.width < LEAST || area.height < ROWS.0 + 3 {
        return 0;
    }
    let rows = (area.height - 3).min(ROWS.1);
    let mark = model.book.items().get(item).map_or(0, |i| i64::from(i.mark()));
    let most = all.iter().map(|l| l.left).max().unwrap_or(0).max(mark).max(1);
    let theme = on.look.theme;
    on.put(area, 0, 0, &[run("on hand over time", theme.title)]);
    let picture = Rect { x: area.x + COUNTS, y: area.y + 1, width: area.width - COUNTS, height: rows };
    let columns = i64::from(picture.width);
    let day_at = |x: i64| first.on.saturating_add(jiff::Span::new().days(days * x / (columns - 1).max(1)));
    let row_of =
        |n: i64| rows - 1 - ((n * i64::from(rows) - 1).max(0) / most).min(i64::from(rows) - 1) as u16;
    for x in 0..columns {
        let on_day = day_at(x);
        let left = all.iter().take_while(|l| l.on <= on_day).last().map_or(0, |l| l.left);
        column(picture, x as u16, (left.max(0), most, on_day > model.today), on);
    }
    if mark > 0 {
        let y = row_of(mark);
        for x in 0..picture.width {
            on.put(picture, x, y, &[run(on.look.glyphs.rule, theme.warn)]);
        }
    }
    let counts = [(0, most), (row_of(mark), mark), (rows - 1, 0)];
    for (n, (y, count)) in counts.into_iter().enumerate() {
        // The mark's own row before those of the ends; no row bears two.
        let is_free = n == 1 && mark > 0 || counts[1].1 == 0 || counts[1].0 != y;
        if is_free && (n != 1 || mark > 0) {
            let words = text::right(&count.to_string(), usize::from(COUNTS - 1), on.look.glyphs.ellipsis);
            on.put(area, 0, 1 + y, &[run(words, theme.dim)]);
        }
    }
    foot(model, (first.on, last.on), (picture, mark), on);
    rows + 3
}

/// One column of the picture: what is left on its day, in steps of an eighth of a row; days to come in the sign of what is
/// spoken for.
fn column(picture: Rect, x: u16, (left, most, is_ahead): (i64, i64, bool), on: &mut Surface) {
    let steps = on.look.glyphs.steps;
    let eighths = left * i64::from(picture.height) * 8 / most;
    let style = on.look.theme.dim;
    for y in 0..picture.height {
        let own = (eighths - i64::from(picture.height - 1 - y) * 8).clamp(0, 8);
        let sign = match own {
            0 => continue,
            _ if is_ahead => on.look.glyphs.waste,
            n => steps[n as usize - 1],
        };
        on.put(picture, x, y, &[run(sign, style)]);
    }
}

/// The days under the picture, and what its signs say.
fn foot(model: &Model, (first, last): (Date, Date), (picture, mark): (Rect, i64), on: &mut Surface) {
    let theme = on.look.theme;
    let below = Rect { y: picture.bottom(), height: 2, ..picture };
    let whole = i64::from((last - first).get_days()).max(1);
    let x_of = |day: Date| {
        let share = i64::from((day - first).get_days()) * i64::from(picture.width - 1) / whole;
        share.clamp(0, i64::from(picture.width - 1)) as u16
    };
    let end = last.to_string();
    let end_at = below.width.saturating_sub(text::width(&end) as u16);
    on.put(below, 0, 0, &[run(first.to_string(), theme.dim)]);
    on.put(below, end_at, 0, &[run(end, theme.dim)]);
    let at = x_of(model.today);
    let today = "today";
    // Where the days of the ends stand it would run into them.
    if at > 11 && at + today.len() as u16 + 1 < end_at {
        on.put(below, at, 0, &[run(today, theme.text)]);
    }
    let mut key = Vec::new();
    if last > model.today {
        key.extend([run(on.look.glyphs.waste.repeat(2), theme.dim), run(" days ahead   ", theme.dim)]);
    }
    if mark > 0 {
        key.extend([
            run(on.look.glyphs.rule.repeat(2), theme.warn),
            run(format!(" low mark {mark}"), theme.dim),
        ]);
    }
    on.put(below, 0, 1, &key);
}
