//! The further answers of Yield that are a table: the piece on every paper held, what a scrap gives.

use crate::app::action::List;
use crate::app::model::Model;
use crate::app::panes::beside::paper_cells;
use crate::app::state::further::{FurtherAsk, FurtherFound};
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperChoice};
use crate::domain::stock::ItemId;
use crate::ui::chips::{self, Of};
use crate::ui::panes::gives;
use crate::ui::surface::Surface;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const PAPERS: [Column; 8] = [
    Column::text("paper", 23, 0),
    Column::text("size", 16, 1).or_short(gives::BOTH),
    Column::number("a sheet", 7, 0),
    Column::number("waste", 6, 0),
    Column::number("each", 7, 0),
    Column::number("free", 5, 0),
    Column::number("sheets", 6, 0),
    Column::text("", 10, 2),
];
/// The same where no number of pieces is wanted: then there is no number of sheets for them.
const BY_SHEET: [Column; 7] = {
    let [paper, size, a_sheet, waste, each, free, _, state] = PAPERS;
    [paper, size, a_sheet, waste, each, free, state]
};

/// A list as a table: its columns and rows, and whose colour each row has.
struct Listed {
    columns: &'static [Column],
    rows: Vec<Row>,
    papers: Vec<Option<ItemId>>,
}

/// The rows that the table takes with its heading; `None` where the answer in view is none.
pub(super) fn rows(model: &Model) -> Option<u16> {
    let (_, found) = model.yields.further.both()?;
    let is_listed = matches!(found, FurtherFound::Papers(_) | FurtherFound::Scrap(_));
    is_listed.then(|| model.yields.further.rows() as u16 + 1)
}

/// Draws the table, where the answer in view is one; returns where the cursor belongs.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let further = &model.yields.further;
    let listed = match further.both()? {
        (FurtherAsk::Papers(ask), FurtherFound::Papers(choice)) => of_papers(model, ask, choice, on),
        (FurtherAsk::Scrap(ask), FurtherFound::Scrap(found)) => Listed {
            columns: gives::columns(area.width),
            rows: gives::rows(ask, found, (model.screen.unit, area.width), on.look.theme.text),
            papers: Vec::new(),
        },
        _ => return None,
    };
    let Listed { columns, rows, papers } = listed;
    let table = Table { columns, rows: &rows, total: rows.len(), picked: further.picked(), marked: &[] };
    on.hits.list(area, List::Further, table.shown(area));
    let y = table.draw(area, on)?;
    chips::draw_chips(model, &table, area, |n| papers.get(n).copied().flatten().map(Of::Item), on);
    Some(Position::new(area.x, y))
}

fn of_papers(model: &Model, ask: &PaperAsk, choice: &PaperChoice, on: &Surface) -> Listed {
    let theme = &on.look.theme;
    let rows = choice.rows.iter().map(|row| {
        let mut cells = paper_cells(row, ask, model.screen.unit);
        if let Some(name) = cells.first_mut() {
            *name = chips::named(&model.book, name);
        }
        Row { cells, style: if row.is_enough { theme.text } else { theme.warn } }
    });
    Listed {
        columns: if ask.count.is_some() { &PAPERS } else { &BY_SHEET },
        rows: rows.collect(),
        papers: choice.rows.iter().map(|row| Some(row.paper.item)).collect(),
    }
}
