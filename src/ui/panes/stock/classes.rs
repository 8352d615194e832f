//! Classes: the list above with what each year brought, the look at one below; or one class by itself (`class_page.rs`).
//!
//! ```text
//! class              day        seats samples set aside offcuts state   came takings  result
//! Hedgerow notes     2026-12-12    12       2     20       - open
//! 2026: 3 classes, 24 came, $512.00 taken, $80.12 left
//! ---------------------------------------------------------------------
//! item              need cut booked short   cost       material  $12.40
//! ```

use super::class_look::{DayPart, Look};
use super::class_page;
use super::shared::{below, marked, rule, things_of};
use crate::app::model::Model;
use crate::app::state::stock::marks::RowMark;
use crate::domain::project::{Progress, Project};
use crate::domain::stock::ProjectId;
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const LIST: [Column; 10] = [
    Column::text("class", 24, 0),
    Column::text("day", 10, 0),
    Column::number("seats", 5, 1),
    Column::number("samples", 7, 3),
    Column::number("set aside", 9, 1),
    Column::number("offcuts", 7, 2),
    Column::text("state", 9, 0).grows_to(14),
    Column::number("came", 4, 4),
    Column::number("kits left", 9, 5),
    Column::text("for", 36, 6),
];

/// Columns that the costs take, words and figures.
const COSTS: u16 = 29;
/// Screens at least this wide have kit and days beside the table.
const BROAD: u16 = 108;

/// Draws the list or the page.
pub fn draw_classes(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let classes = &model.stock.classes;
    let outlook = classes.outlook.as_ref().map(|(_, o)| o);
    let open = model.stock.open_class().and_then(|id| model.book.projects().get(id));
    if let (Some(project), Some(outlook)) = (open, outlook) {
        let at = class_page::draw(Look { model, project, outlook }, area, on);
        return at.map(|y| Position::new(area.x, y));
    }
    let upper = (classes.ids.len() as u16 + 1).min((area.height / 3).max(4));
    let above = Rect { height: upper.min(area.height), ..area };
    let at = list(model, above, on);
    let y = upper + years(model, below(area, upper), on);
    let picked = model.stock.picked_class().and_then(|id| model.book.projects().get(id));
    let room = below(area, y + 1);
    if let (Some(project), Some(outlook)) = (picked, outlook)
        && room.height > 2
    {
        rule(Rect { y: room.y - 1, height: 1, ..area }, on);
        look(Look { model, project, outlook }, room, on);
    }
    at.map(|y| Position::new(area.x, y))
}

/// What each year brought and what kits are left, where a class was taught.
fn years(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let Some(years) = &model.stock.classes.years else { return 0 };
    let rows = (years.len() as u16).min(area.height / 4);
    for (y, (word, words)) in (0..rows).zip(years) {
        let runs = [run(format!("{word}: "), on.look.theme.dim), run(words.as_str(), on.look.theme.text)];
        on.put(area, 1, y, &runs);
    }
    rows
}

fn list(model: &Model, area: Rect, on: &mut Surface) -> Option<u16> {
    let classes = &model.stock.classes;
    let picked = model.stock.cursor.row(classes.ids.len());
    let row = |id: &ProjectId, p: &Project| {
        let (booked, offcuts) = classes.booked.get(id).copied().unwrap_or_default();
        let count = |n: u64| if n == 0 { "-".to_owned() } else { n.to_string() };
        let amiss = classes.state_of(*id);
        let style = match (p.progress, amiss) {
            (Progress::Open, Some(_)) => on.look.theme.bad,
            (Progress::Open, None) => on.look.theme.text,
            _ => on.look.theme.dim,
        };
        let cells = vec![
            p.name.clone(),
            p.date.map_or_else(|| "-".to_owned(), |d| d.to_string()),
            count(p.seats.into()),
            count(p.samples.into()),
            booked.to_string(),
            count(offcuts),
            on.look.marked(amiss.unwrap_or_else(|| p.progress.word()), style).into_owned(),
            p.afterwards.came.map_or_else(|| "-".to_owned(), |n| n.to_string()),
            count(p.kits_left()),
            p.made_for(),
        ];
        Row { cells, style }
    };
    let rows: Vec<Row> =
        classes.ids.iter().filter_map(|id| Some(row(id, model.book.projects().get(*id)?))).collect();
    let marked = marked(model, classes.ids.iter().map(|id| RowMark::Class(*id)));
    let table = Table { columns: &LIST, rows: &rows, total: rows.len(), picked, marked: &marked };
    things_of(&table, 0, area, &mut on.hits);
    table.draw(area, on)
}

/// The look at the class in hand: its table with the costs beside it; with room for them, kit and days too.
fn look(look: Look<'_>, area: Rect, on: &mut Surface) {
    let y = look.standing(Rect { height: 4.min(area.height), ..area }, on);
    let area = below(area, y);
    let costs = if area.width >= BROAD { area.width / 3 } else { COSTS };
    // What has no room below the table is named in the last row.
    let table = Rect { height: area.height.saturating_sub(u16::from(area.width < BROAD)), ..area };
    let left = Rect { width: table.width.saturating_sub(costs + 2), ..table };
    let right = Rect { x: left.right() + 2, width: costs, ..table };
    let mut y = look.needs(left, on) + 1;
    let money = look.money(right, on);
    let money = money + look.notes(below(right, money), on);
    if area.width >= BROAD {
        let kit = look.kit(below(left, y), on);
        let under = below(left, y + kit + 1);
        // Where no card has room under the kit, its days stand there too.
        let (here, there): (&[DayPart], &[DayPart]) =
            if look.designs(under, on) { (&DayPart::ALL, &[]) } else { DayPart::ALL.split_at(2) };
        look.dates(here, below(right, money + 1), on);
        look.dates(there, under, on);
        return;
    }
    y = y.max(money + 1).min(area.height - 1);
    look.kit_and_dates(true, &DayPart::ALL, below(area, y), on);
}
