//! Classes: the list above, the look at one below; or one class figure by figure, with its kit.
//!
//! ```text
//! name        Hedgerow notes        kit of a seat
//! day         2026-12-12            1 bramble note, base   5 1/2 x 8 1/2  chalk, letter
//! ---------------------------------------------------------------------
//! item              needed booked free short       material  $12.40
//! ```

use super::shared::{marked, rule, things_of};
use crate::app::action::List;
use crate::app::model::Model;
use crate::app::panes::stock::classes::{FIELDS, field_text};
use crate::app::panes::stock::facts;
use crate::app::state::stock::marks::Mark;
use crate::domain::project::{Progress, Project};
use crate::domain::stock::outlook::Outlook;
use crate::ui::chips::{self, Of};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const LIST: [Column; 7] = [
    Column::text("class", 24, 0),
    Column::text("day", 10, 0),
    Column::number("seats", 5, 1),
    Column::number("samples", 7, 3),
    Column::number("booked", 6, 1),
    Column::number("offcuts", 7, 2),
    Column::text("state", 9, 0),
];

const NEEDS: [Column; 7] = [
    Column::text("item", 23, 0),
    Column::number("need", 4, 0),
    Column::number("used", 4, 3),
    Column::number("still", 5, 2),
    Column::number("booked", 6, 1),
    Column::number("free", 4, 4),
    Column::text("", 8, 0),
];

const KIT: [Column; 4] = [
    Column::number("", 3, 0),
    Column::text("kit of a seat", 20, 0),
    Column::text("size", 16, 1),
    Column::text("of", 18, 2),
];

/// Columns that the costs take, words and figures.
const COSTS: u16 = 29;
/// Rows that the figures of a class take, their heading among them.
const FORM: u16 = FIELDS.len() as u16 + 1;

/// Draws the list or the form.
pub fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let classes = &model.stock.classes;
    // Figures stay close to their words on a wide screen too.
    let area = Rect { width: area.width.min(120), ..area };
    let upper = match model.stock.open_class() {
        Some(_) => FORM,
        None => (classes.ids.len() as u16 + 1).min((area.height / 3).max(4)),
    };
    let above = Rect { height: upper.min(area.height), ..area };
    let below = Rect { y: above.bottom() + 1, height: area.height.saturating_sub(upper + 1), ..area };
    let outlook = classes.outlook.as_ref().map(|(_, o)| o);
    let at = match model.stock.open_class().and_then(|id| model.book.projects().get(id)) {
        Some(project) => form(model, project, outlook, above, on),
        None => list(model, above, on),
    };
    if let Some(outlook) = outlook.filter(|_| below.height > 2) {
        rule(Rect { y: above.bottom(), height: 1, ..area }, on);
        against_the_shelf(model, outlook, below, on);
    }
    at.map(|y| Position::new(area.x, y))
}

fn list(model: &Model, area: Rect, on: &mut Surface) -> Option<u16> {
    let classes = &model.stock.classes;
    let picked = model.stock.cursor.row(classes.ids.len());
    let rows: Vec<Row> = classes
        .ids
        .iter()
        .filter_map(|id| Some((id, model.book.projects().get(*id)?)))
        .map(|(id, p)| {
            let (booked, offcuts) = classes.booked.get(id).copied().unwrap_or_default();
            let count = |n: u32| if n == 0 { "-".to_owned() } else { n.to_string() };
            let cells = vec![
                p.name.clone(),
                p.date.map_or_else(|| "-".to_owned(), |d| d.to_string()),
                count(p.seats),
                count(p.samples),
                booked.to_string(),
                count(u32::try_from(offcuts).unwrap_or(u32::MAX)),
                p.progress.word().to_owned(),
            ];
            let style = if p.progress == Progress::Open { on.look.theme.text } else { on.look.theme.dim };
            Row { cells, style }
        })
        .collect();
    let marked = marked(model, classes.ids.iter().map(|id| Mark::Class(*id)));
    let table = Table { columns: &LIST, rows: &rows, picked, marked: &marked };
    things_of(&table, 0, area, &mut on.hits);
    table.draw(area, on)
}

/// The figures at the left, what goes to a seat at the right.
fn form(
    model: &Model,
    project: &Project,
    outlook: Option<&Outlook>,
    area: Rect,
    on: &mut Surface,
) -> Option<u16> {
    let theme = &on.look.theme;
    let left = Rect { width: 48.min(area.width * 3 / 5 + 2), ..area };
    let right = Rect { x: left.right() + 2, width: area.width.saturating_sub(left.width + 2), ..area };
    let head = format!("{}, {}", project.name, project.progress.word());
    on.put(left, 0, 0, &[run(head, theme.title)]);
    let picked = model.stock.field.row(FIELDS.len());
    let currency = &model.book.settings().currency;
    let place = |n: usize| Rect { y: left.y + 1 + n as u16, height: 1, ..left };
    on.hits.list(left, List::Stock, (0..FIELDS.len()).map(|n| (n, place(n))));
    for (n, word) in FIELDS.iter().enumerate() {
        let y = n as u16 + 1;
        let is_picked = picked == Some(n);
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let style = if is_picked { theme.picked } else { theme.text };
        let words = text::left(word, 24, "");
        let runs =
            [run(sign, theme.mark), run(words, theme.dim), run(field_text(project, n, currency), style)];
        on.put(left, 0, y, &runs);
    }
    if let Some(outlook) = outlook {
        kit(model, project, outlook, right, on);
    }
    picked.map(|n| area.y + 1 + n as u16)
}

fn kit(model: &Model, project: &Project, outlook: &Outlook, area: Rect, on: &mut Surface) {
    if outlook.kit.is_empty() {
        on.paragraph(
            area,
            0,
            &format!("Nothing goes to a {} yet: give the cards papers in Mats.", project.kit_of()),
            on.look.theme.dim,
        );
        return;
    }
    let rows: Vec<Row> = outlook
        .kit
        .iter()
        .map(|line| {
            let size = line.size.map(|s| s.as_made(model.screen.unit)).unwrap_or_default();
            let cells = vec![line.a_seat.to_string(), line.title(&model.book), size, line.paper(&model.book)];
            Row { cells, style: on.look.theme.text }
        })
        .collect();
    // Figures stand close to their words: the room left over goes to the words, not to the first column.
    let mut columns = KIT;
    columns[1].title = if project.seats > 0 { "kit of a seat" } else { "kit of a set" };
    let need = |n: usize| KIT[..n].iter().map(|c| c.width + 1).sum::<u16>() + 1;
    let shown = (2..=KIT.len()).rev().find(|n| need(*n) <= area.width).unwrap_or(2);
    let others = need(shown) - columns[1].width;
    columns[1].width = area.width.saturating_sub(others).max(1);
    Table { columns: &columns[..shown], rows: &rows, picked: None, marked: &[] }.draw(area, on);
    let more = rows.len().saturating_sub(usize::from(area.height.saturating_sub(1)));
    if more > 0 {
        let words = format!("{} more, y copies all", more + 1);
        let last = area.height.saturating_sub(1);
        let clear = " ".repeat(usize::from(area.width));
        on.put(area, 0, last, &[run(clear, on.look.theme.text)]);
        on.put(area, 4, last, &[run(words, on.look.theme.dim)]);
    }
}

/// Needs and shortage at the left, cost at the right.
fn against_the_shelf(model: &Model, outlook: &Outlook, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let book = &model.book;
    let Some(project) = model.stock.picked_class().and_then(|id| book.projects().get(id)) else { return };
    let mut y = 0;
    if project.progress == Progress::Open {
        let style = match outlook.shortage_line(book) {
            Some(_) => theme.bad,
            None if outlook.needs.is_empty() => theme.dim,
            None if outlook.is_booked() => theme.good,
            None => theme.text,
        };
        let top = Rect { height: 2, ..area };
        y = on.paragraph(top, 0, &model.keymap.say(&facts::standing(book, outlook)), style);
    }
    let stages = facts::stage_words(project, outlook);
    y += on.paragraph(Rect { y: area.y + y, height: 2, ..area }, 0, &stages, theme.dim);
    let room = Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area };
    let left = Rect { width: (room.width * 3 / 5).min(90).min(room.width.saturating_sub(COSTS + 2)), ..room };
    let right = Rect { x: left.right() + 2, width: room.width.saturating_sub(left.width + 2), ..room };
    let rows: Vec<Row> = outlook
        .needs
        .iter()
        .map(|n| {
            let short = if n.missing > 0 { format!("SHORT {}", n.missing) } else { String::new() };
            let counts = [n.needed, n.used, n.still(), n.booked].map(|n| n.to_string());
            let mut cells = vec![chips::named(book, &book.items().name_of(n.item))];
            cells.extend(counts);
            cells.extend([n.free.to_string(), short]);
            Row { cells, style: if n.missing > 0 { theme.bad } else { theme.text } }
        })
        .chain(outlook.offcuts.iter().map(|o| {
            let counts = [o.needed, o.used, o.needed.saturating_sub(o.used), o.booked];
            let mut cells = vec![chips::named(book, &book.offcut_title(o.offcut))];
            cells.extend(counts.map(|n| n.to_string()));
            cells.extend([book.free_offcuts(o.offcut).to_string(), String::new()]);
            Row { cells, style: theme.text }
        }))
        .collect();
    // Without a shortage its column is room for the others; in a narrow window names give way, figures never.
    let is_short = outlook.needs.iter().any(|n| n.missing > 0);
    let mut columns = NEEDS;
    if left.width < 36 {
        columns[0].width = 12 + chips::ROOM;
    }
    let shown = if is_short { &columns[..] } else { &columns[..NEEDS.len() - 1] };
    let table = Table { columns: shown, rows: &rows, picked: None, marked: &[] };
    table.draw(left, on);
    let offcut = |n: usize| book.offcuts().get(outlook.offcuts.get(n)?.offcut).map(|o| o.item);
    let papers = outlook.needs.iter().map(|n| Some(n.item)).chain((0..outlook.offcuts.len()).map(offcut));
    let papers: Vec<_> = papers.collect();
    chips::draw(model, &table, left, |n| papers.get(n).copied().flatten().map(Of::Item), on);
    let mut y = 0;
    for (word, value) in facts::cost_words(&model.book, outlook) {
        let runs = [run(text::left(&word, 17, ""), theme.dim), run(value, theme.text)];
        on.put(right, 0, y, &runs);
        y += 1;
    }
    for note in &outlook.notes {
        y = on.paragraph(right, y, note, theme.warn);
    }
}
