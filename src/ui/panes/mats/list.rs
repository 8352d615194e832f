//! The rows of the card, and what is said of the one in hand.

use super::key::papers;
use crate::app::action::List;
use crate::app::model::Model;
use crate::app::panes::mats::words::{self, LabelWords};
use crate::domain::length::Unit;
use crate::ui::chips;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

/// Columns of the list.
const COLUMNS: [Column; 6] = [
    Column::text("part", 12, 0),
    Column::number("cut to, in", 17, 0),
    Column::number("mm", 18, 2),
    Column::number("reveal", 7, 0),
    Column::text("paper", 21, 1).grows_to(39),
    Column::text("", 8, 3),
];

/// The column of papers.
const PAPER: usize = 4;
/// Columns before the words of a fact.
const LABEL: u16 = 10;

/// What is shown of the card: where the ruler takes the place of the list, the ruler alone.
fn shown(model: &Model, width: u16) -> String {
    let view = model.mats.view.title();
    match (model.mats.ruler.open, width >= super::BESIDE) {
        (false, _) => view.to_owned(),
        (true, true) => format!("{view} and ruler"),
        (true, false) => "ruler".to_owned(),
    }
}

/// The card's name and front; returns the rows taken.
pub(super) fn heading(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let unit = model.screen.unit;
    let card = model.mats.card(&model.book);
    let of = match model.book.active_project() {
        Some(p) if !p.cards.is_empty() => {
            format!("  {} of {}", model.mats.card.min(p.cards.len() - 1) + 1, p.cards.len())
        }
        _ => "  belongs to no project".to_owned(),
    };
    let dot = on.look.glyphs.dot;
    let spares = if card.spares > 0 { format!(" + {} spare", card.spares) } else { String::new() };
    let view = shown(model, area.width);
    let batch = format!("  {dot} {} a set{spares}  {dot} {view}", card.count);
    on.put(area, 0, 0, &[run(&card.name, theme.title), run(of, theme.dim), run(batch, theme.dim)]);
    let front = format!("{}  ({})", card.face.show_with_unit(unit), card.face.about(unit.other()));
    let held = match card.face.width.cmp(&card.face.height) {
        std::cmp::Ordering::Less => "portrait",
        std::cmp::Ordering::Equal => "square",
        std::cmp::Ordering::Greater => "landscape",
    };
    let fold = format!("  {held}, {} fold", card.fold.kind.word());
    on.put(area, 0, 1, &[run("Front  ", theme.dim), run(front, theme.text), run(fold, theme.dim)]);
    3
}

/// Rows and facts; returns the room that is left below them too.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> (Option<Position>, Rect) {
    let (at, below) = rows(model, area, on);
    let used = facts(model, &words::view(&model.mats, &model.ctx()), below, on);
    let left = Rect { y: below.y + used, height: below.height.saturating_sub(used), ..below };
    (at, left)
}

/// Rows, and what is said of the one in hand; returns the rows used too.
pub(super) fn rows_only(model: &Model, area: Rect, on: &mut Surface) -> (Option<Position>, u16) {
    let (at, below) = rows(model, area, on);
    let used = facts(model, &words::in_hand(&model.mats, &model.ctx()), below, on);
    (at, below.y - area.y + used)
}

/// What is said of the row in hand, alone; returns the rows used.
pub(super) fn in_hand_only(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    facts(model, &words::in_hand(&model.mats, &model.ctx()), area, on)
}

/// The view's facts, without the rows of the list; returns the rows used too.
pub(super) fn facts_only(model: &Model, area: Rect, on: &mut Surface) -> (Position, u16) {
    let used = facts(model, &words::view(&model.mats, &model.ctx()), area, on);
    // In the margin: words begin in the first column.
    (Position::new(area.x.saturating_sub(1), area.y), used)
}

fn rows(model: &Model, area: Rect, on: &mut Surface) -> (Option<Position>, Rect) {
    let rows: Vec<Row> = words::rows(&model.mats, &model.ctx())
        .into_iter()
        .map(|r| Row {
            cells: vec![r.name, r.size, r.other, r.reveal, chips::named(&model.book, &r.paper), r.marks],
            style: on.look.theme.text,
        })
        .collect();
    let mut columns = COLUMNS.to_vec();
    if model.screen.unit == Unit::Mm {
        columns[1].title = "cut to, mm";
        columns[2].title = "in";
    }
    let is_bare = rows.len() == 1;
    // Half of the room at most, so that the facts are never pushed out by a long list.
    let most = (area.height / 2).max(4);
    let room = Rect { height: (rows.len() as u16 + 1).min(most).min(area.height), ..area };
    let picked = model.mats.layer.row(rows.len());
    let table = Table { columns: &columns, rows: &rows, total: rows.len(), picked, marked: &[] };
    let at = table.draw(room, on);
    let papers = papers(model);
    chips::draw_in(model, &table, (room, PAPER), |n| papers.get(n).copied().flatten(), on);
    on.hits.list(room, List::Parts, table.shown(room));
    let mut y = room.bottom() + 1;
    if is_bare {
        let told = model.keymap.told("No layers yet. Press <add-layer> and type a reveal, such as 1/8.");
        let line = Rect { y, height: area.bottom().saturating_sub(y), ..area };
        y += on.told(line, 0, &told, on.look.theme.text) + 1;
    }
    let below = Rect { y, height: area.bottom().saturating_sub(y), ..area };
    (at.map(|y| Position::new(area.x, y)), below)
}

/// Labels and words, as far as there is room; what is left out is said. Returns the rows used.
fn facts(model: &Model, facts: &[LabelWords], area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let beside = Rect { x: area.x + LABEL, width: area.width.saturating_sub(LABEL), ..area };
    let mut row = 0;
    let rows_of = |words: &str| {
        let told = model.keymap.told(words).words;
        text::rows(&told, usize::from(beside.width)) as u16
    };
    let spare = area.height.saturating_sub(facts.iter().map(|(_, words)| rows_of(words)).sum());
    for (n, (label, words)) in facts.iter().enumerate() {
        let style = match *label {
            "SHORT" => theme.bad,
            "note" => theme.warn,
            "right" => theme.good,
            _ => theme.text,
        };
        let told = model.keymap.told(words);
        let lines = text::wrap(&on.look.marked(&told.words, style), usize::from(beside.width)).len() as u16;
        let is_last = n + 1 == facts.len();
        if row + lines > area.height.saturating_sub(u16::from(!is_last)) {
            let short = format!("{} more in a taller window", facts.len() - n);
            let whole = model.keymap.told(&format!("{short}; <mats-view> goes on to other views"));
            let has_room = text::width(&whole.words) <= usize::from(area.width);
            let left = if has_room { whole } else { model.keymap.told(&short) };
            on.told(area, row.min(area.height.saturating_sub(1)), &left, theme.dim);
            return area.height;
        }
        on.put(area, 0, row, &[run(text::left(label, usize::from(LABEL) - 1, ""), theme.dim)]);
        row = on.told(beside, row, &told, style);
        // What has no label of its own would read as more of the warning.
        let is_apart = *label == "SHORT" && facts.get(n + 1).is_some_and(|(next, _)| next.is_empty());
        row += u16::from(is_apart && spare > 0);
    }
    row
}
