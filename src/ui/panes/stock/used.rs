//! How much of a line went in each of the last months, a bar each.

use super::months::NAMES;
use crate::app::model::Model;
use crate::app::panes::stock::in_hand::MONTHS;
use crate::domain::shelf_answers::next_low;
use crate::domain::stock::ItemId;
use crate::ui::surface::Surface;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Columns of a month's name and count.
const WORDS: u16 = 20;
/// The longest bar.
const LONGEST: u16 = 48;

/// The same where it stands apart from what is told of the line: with its name.
pub(super) fn draw_named(model: &Model, item: ItemId, area: Rect, on: &mut Surface) -> u16 {
    let title = format!("used a month: {}", model.book.items().name_of(item));
    titled(model, (item, &title), area, on)
}

/// Draws the months, the present one last, as many of the last as there is room for; returns its rows.
pub(super) fn draw(model: &Model, item: ItemId, area: Rect, on: &mut Surface) -> u16 {
    titled(model, (item, "used a month"), area, on)
}

/// Rows that the months take with their title, where all of them have room.
pub(super) fn rows(model: &Model, item: ItemId) -> u16 {
    next_low::months(&model.book, item, model.today, MONTHS).len() as u16 + 1
}

fn titled(model: &Model, (item, title): (ItemId, &str), area: Rect, on: &mut Surface) -> u16 {
    let all = next_low::months(&model.book, item, model.today, MONTHS);
    let most = all.iter().map(|(_, used)| *used).max().unwrap_or(0);
    if most == 0 || area.height < 4 || area.width < WORDS + 4 {
        return 0;
    }
    let theme = &on.look.theme;
    on.put(area, 0, 0, &[run(title, theme.title)]);
    let rows = all.len().min(usize::from(area.height - 1));
    let cells = (area.width - WORDS).min(LONGEST);
    for (y, (month, used)) in (1..).zip(all.iter().skip(all.len() - rows)) {
        let name = NAMES.get(month.month() as usize - 1).copied().unwrap_or_default();
        let words = format!("{name} {}", month.year());
        let shown = (*used as f64 / most as f64 * f64::from(cells)).ceil() as usize;
        let line = bar(1, 1, None, shown, &on.look.glyphs);
        on.put(area, 0, y, &[run(words, theme.text)]);
        on.put(area, WORDS - 4, y, &[run(format!("{used:>3} "), theme.text), run(line, theme.good)]);
    }
    rows as u16 + 1
}
