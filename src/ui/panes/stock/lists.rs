//! Lists of the pane that come and go: a count day, what a list from outside would do.

use super::shared::{rows_of, rule};
use crate::app::effect::ListUse;
use crate::app::keymap::Keymap;
use crate::app::model::Model;
use crate::app::state::stock::count::CountDay;
use crate::app::state::stock::preview::{Preview, Sign};
use crate::ui::chips::{self, Of};
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const COUNT: [Column; 5] = [
    Column::text("item", 27, 0),
    Column::text("place", 14, 1).grows_to(24),
    Column::number("book", 6, 0),
    Column::number("counted", 7, 0),
    Column::number("differs", 7, 0),
];

/// Draws a count day.
pub fn count(model: &Model, count: &CountDay, area: Rect, on: &mut Surface) -> Option<Position> {
    let book = &model.book;
    let (len, done) = (count.items.len(), count.done().len());
    let differ = count.differing(book);
    let area = Rect { width: area.width.min(super::LIST), ..area };
    let head = format!("Count day: {done} of {len} counted, {differ} differ");
    on.put(area, 0, 0, &[run(head, on.look.theme.title)]);
    let room = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let picked = count.cursor.row(len)?;
    let seen = usize::from(room.height);
    let first = picked.saturating_sub(seen);
    let rows: Vec<Row> = (first..len)
        .take(seen * 2 + 1)
        .filter_map(|n| Some((n, *count.items.get(n)?)))
        .map(|(n, id)| {
            let counted = count.counted.get(n).copied().flatten();
            let difference = count.difference(book, n);
            let cells = vec![
                chips::named(book, &book.items().name_of(id)),
                book.items().get(id).map(|i| i.place.clone()).unwrap_or_default(),
                book.on_hand(id).to_string(),
                counted.map_or_else(|| "-".to_owned(), |n| n.to_string()),
                difference
                    .map_or_else(String::new, |d| if d == 0 { "=".to_owned() } else { format!("{d:+}") }),
            ];
            let style = match difference {
                Some(0) => on.look.theme.good,
                Some(_) => on.look.theme.warn,
                None => on.look.theme.text,
            };
            Row { cells, style }
        })
        .collect();
    let table = Table { columns: &COUNT, rows: &rows, total: len, picked: Some(picked - first), marked: &[] };
    rows_of(&table, first, room, &mut on.hits);
    let at = table.draw(room, on);
    chips::draw_chips(model, &table, room, |n| count.items.get(first + n).copied().map(Of::Item), on);
    at.map(|y| Position::new(area.x, y))
}

const PREVIEW: [Column; 3] =
    [Column::text("what", 48, 0), Column::number("line", 5, 1), Column::text("", 8, 0)];

/// Draws what a list would do.
pub fn preview(preview: &Preview, keys: &Keymap, area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let area = Rect { width: area.width.min(super::LIST), ..area };
    let head = match preview.what {
        ListUse::Import => format!("List to take in: {}", preview.path),
        ListUse::Refresh => {
            let seller = if preview.seller.is_empty() { "no seller given" } else { &preview.seller };
            format!("The new year's list of {seller}: {}", preview.path)
        }
    };
    on.put(area, 0, 0, &[run(head, theme.title)]);
    let style = if preview.lines.iter().any(|l| l.sign == Sign::Refused) { theme.bad } else { theme.text };
    let top = Rect { height: 3, ..area };
    let y = on.told(top, 1, &keys.told(&preview.summary), style);
    let room = Rect { y: area.y + y + 1, height: area.height.saturating_sub(y + 1), ..area };
    if preview.lines.is_empty() {
        on.told(room, 0, &keys.told("It holds nothing new. <preview-leave> goes back."), theme.text);
        return None;
    }
    let rows: Vec<Row> = preview
        .lines
        .iter()
        .map(|line| {
            let style = match line.sign {
                Sign::Refused => theme.bad,
                Sign::Leaving => theme.warn,
                Sign::New => theme.good,
                Sign::Changed | Sign::Exchange => theme.text,
                Sign::Means(_) => theme.dim,
            };
            let text = if matches!(line.sign, Sign::Means(_)) {
                format!("  {}", line.text)
            } else {
                line.text.clone()
            };
            let number = line.line.map_or_else(String::new, |n| n.to_string());
            Row { cells: vec![text, number, line.sign.word().to_owned()], style }
        })
        .collect();
    let picked = preview.cursor.row(rows.len());
    // The line in hand stands below in full: reasons are longer than a row.
    let lines = 3.min(room.height / 3);
    let below = Rect { y: room.bottom() - lines, height: lines, ..room };
    let room = Rect { height: room.height - lines, ..room };
    if let Some(line) = picked.and_then(|n| preview.lines.get(n)) {
        rule(below, on);
        on.paragraph(below, 1, &line.text, theme.text);
    }
    let table = Table { columns: &PREVIEW, rows: &rows, total: rows.len(), picked, marked: &[] };
    rows_of(&table, 0, room, &mut on.hits);
    let at = table.draw(room, on);
    at.map(|y| Position::new(area.x, y))
}
