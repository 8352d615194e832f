//! What comes and goes of one line of the shelf, day by day, with what is left.

use super::shared::flush;
use crate::app::model::Model;
use crate::domain::days;
use crate::domain::shelf_answers::ahead::{Why, ahead};
use crate::domain::stock::{ItemId, OffcutId};
use crate::ui::surface::Surface;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;

const COLUMNS: [Column; 6] = [
    Column::text("days ahead", 10, 0),
    Column::text("when", 10, 2),
    Column::number("+/-", 4, 0),
    Column::number("left", 4, 0),
    Column::text("", 10, 1),
    Column::text("", 23, 0).takes_the_rest(),
];

/// Draws the table; returns its rows.
pub(super) fn draw(
    model: &Model,
    (item, offcut): (ItemId, Option<OffcutId>),
    area: Rect,
    on: &mut Surface,
) -> u16 {
    let book = &model.book;
    let theme = &on.look.theme;
    let there = offcut.map_or_else(|| book.on_hand(item), |id| book.offcut_count(id));
    let now = ["now", "", "", &there.to_string(), "on hand", ""].map(str::to_owned).to_vec();
    let mut rows = vec![Row { cells: now, style: theme.text }];
    rows.extend(ahead(book, item, offcut, &model.stock.wanted).into_iter().map(|c| {
        let cells = vec![
            c.on.map_or_else(|| "no day".to_owned(), |d| d.to_string()),
            c.on.map_or_else(String::new, |d| days::far(d, model.today)),
            format!("{:+}", c.change),
            c.left.to_string(),
            c.why.word().to_owned(),
            c.who,
        ];
        let style = if c.left < 0 {
            theme.bad
        } else if c.why == Why::Comes {
            theme.good
        } else {
            theme.text
        };
        Row { cells, style }
    }));
    if area.height < 3 {
        return 0;
    }
    Table::plain(&COLUMNS, &rows).draw_whole(flush(area), on).height
}
