//! Mats: the card and its layers as a list, nested to scale beside it; the list alone where the room is narrow.
//!
//! ```text
//! Layered note, 2 of 3                     +-------------------+
//! Front  4 1/4 x 5 1/2 in                  | +---------------+ |
//!   layer      cut to          reveal      | | +-----------+ | |
//! > mat 1      4 x 5 1/4       1/8         | | |           | | |
//!   mat 2      3 7/8 x 5 1/8   1/16        | | +-----------+ | |
//! ```

use crate::app::model::Model;
use crate::app::panes::mats::card_facts;
use crate::domain::cards::layer::LayerSize;
use crate::domain::length::{Length, Unit};
use crate::domain::project::ProjectCard;
use crate::domain::size::Size;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::scaled;
use crate::ui::widgets::lines::{paragraph, put, run};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

/// Columns of the list.
const COLUMNS: [Column; 5] = [
    Column::text("layer", 8, 0),
    Column::number("cut to", 16, 0),
    Column::number("mm", 15, 1),
    Column::number("reveal", 7, 0),
    Column::text("paper", 14, 2),
];

/// Draws the pane.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    let list_width = if area.width >= 110 { 66 } else { area.width.saturating_sub(30).clamp(40, 52) };
    let list = Rect { width: list_width.min(area.width), ..area };
    let drawing =
        Rect { x: area.x + list.width + 2, width: area.width.saturating_sub(list.width + 2), ..area };
    let card = model.mats.card(&model.book);
    let unit = model.screen.unit;
    heading(model, card, list, buf, look);
    match model.mats.sizes(&model.book, unit) {
        Ok(sizes) => {
            nested(card.face, &sizes, model.mats.picked_layer(&model.book), drawing, buf, look);
            layers(model, card, &sizes, list, buf, look)
        }
        Err(why) => {
            paragraph(buf, list, 4, &why, look.theme.warn, look);
            None
        }
    }
}

fn heading(model: &Model, card: &ProjectCard, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let unit = model.screen.unit;
    let of = match model.book.active_project() {
        Some(p) if !p.cards.is_empty() => {
            format!("  {} of {}", model.mats.card.min(p.cards.len() - 1) + 1, p.cards.len())
        }
        _ => "  belongs to no project".to_owned(),
    };
    put(buf, area, 0, 0, &[run(&card.name, theme.title), run(of, theme.dim)], look);
    let front = format!("{}  ({})", card.face.show_with_unit(unit), card.face.about(unit.other()));
    let fold = format!("  {} fold", card.fold);
    put(buf, area, 0, 1, &[run("Front  ", theme.dim), run(front, theme.text), run(fold, theme.dim)], look);
}

fn layers(
    model: &Model,
    card: &ProjectCard,
    sizes: &[LayerSize],
    area: Rect,
    buf: &mut Buffer,
    look: &Look,
) -> Option<Position> {
    let unit = model.screen.unit;
    if sizes.is_empty() {
        paragraph(
            buf,
            area,
            3,
            "No layers yet. Press a and type a reveal, such as 1/8.",
            look.theme.text,
            look,
        );
        return None;
    }
    let rows: Vec<Row> = sizes
        .iter()
        .enumerate()
        .map(|(n, s)| {
            let paper = card.papers.get(n).copied().flatten().map(|id| model.book.items().name_of(id));
            Row {
                cells: vec![
                    format!("mat {}", n + 1),
                    s.cut.size.show(unit),
                    s.cut.size.about(unit.other()),
                    s.reveal.show(unit),
                    paper.unwrap_or_else(|| "-".to_owned()),
                ],
                style: look.theme.text,
            }
        })
        .collect();
    let mut columns = COLUMNS.to_vec();
    if unit == Unit::Mm {
        columns[2].title = "in";
    }
    let room =
        Rect { y: area.y + 3, height: area.height.saturating_sub(3).min(rows.len() as u16 + 1), ..area };
    let picked = model.mats.picked_layer(&model.book);
    let at = Table { columns: &columns, rows: &rows, picked }.draw(room, buf, look);
    let below =
        Rect { y: room.bottom() + 1, height: area.bottom().saturating_sub(room.bottom() + 1), ..area };
    let size = picked.and_then(|n| sizes.get(n));
    let y = size.map_or(0, |s| details(s, unit, below, buf, look) + 1);
    if let Ok(worked) = model.mats.worked(&model.book, unit) {
        follows(&card_facts(&worked, size, unit), below, y, buf, look);
    }
    at.map(|y| Position::new(area.x, y))
}

/// What follows from the card, a label and its words each, as far as there is room.
fn follows(facts: &[(&str, String)], area: Rect, y: u16, buf: &mut Buffer, look: &Look) {
    let mut row = y;
    for (label, words) in facts {
        if row >= area.height {
            return;
        }
        let style = if *label == "note" { look.theme.warn } else { look.theme.text };
        put(buf, area, 0, row, &[run(text::left(label, 9, ""), look.theme.dim)], look);
        let beside = Rect { x: area.x + 9, width: area.width.saturating_sub(9), ..area };
        row = paragraph(buf, beside, row, words, style, look);
    }
}

/// The picked layer in words; returns the row after it.
fn details(s: &LayerSize, unit: Unit, area: Rect, buf: &mut Buffer, look: &Look) -> u16 {
    let theme = &look.theme;
    let both = s.reveal.both_ways(unit);
    let place = format!("{} from the left, {} from the top of the front", s.x.about(unit), s.y.about(unit));
    let mut y = paragraph(buf, area, 0, &both, theme.text, look);
    y = paragraph(buf, area, y, &place, theme.dim, look);
    let note = if s.cut.is_exact() {
        format!("Falls on the {} mark: nothing is rounded.", s.cut.mark.about(unit))
    } else {
        let shown = |l: Length| l.abs().about(unit);
        format!(
            "Exact size {}; cut down to the {} mark, {} less wide and {} less high.",
            s.exact.show_with_unit(unit),
            s.cut.mark.about(unit),
            shown(s.cut.error_width),
            shown(s.cut.error_height)
        )
    };
    paragraph(buf, area, y, &note, if s.cut.is_exact() { theme.dim } else { theme.warn }, look)
}

/// The front and its layers to scale, the picked one with heavy lines.
fn nested(face: Size, sizes: &[LayerSize], picked: Option<usize>, area: Rect, buf: &mut Buffer, look: &Look) {
    let Some((columns, rows)) = scaled(face, area) else { return };
    let x = |l: Length| share(l, face.width, columns);
    let y = |l: Length| share(l, face.height, rows);
    let mut canvas = Canvas::new(columns + 1, rows + 1);
    canvas.frame(0, 0, columns, rows);
    let mut label = None;
    for (n, s) in sizes.iter().enumerate() {
        let (x0, y0) = (x(s.x), y(s.y));
        let (x1, y1) = (x(s.x + s.exact.width), y(s.y + s.exact.height));
        let heavy = picked == Some(n);
        canvas.across(y0, x0, x1, heavy);
        canvas.across(y1, x0, x1, heavy);
        canvas.down(x0, y0, y1, heavy);
        canvas.down(x1, y0, y1, heavy);
        if heavy {
            label = Some((n, x0, y0, x1));
        }
    }
    canvas.draw(area, buf, &look.glyphs, look.theme.line, look.theme.cut);
    if let Some((n, x0, y0, x1)) = label {
        let words = format!(" mat {} ", n + 1);
        if usize::from(x1 - x0) > text::width(&words) + 1 {
            put(buf, area, x0 + 2, y0, &[run(words, look.theme.cut)], look);
        }
    }
}

fn share(at: Length, whole: Length, cells: u16) -> u16 {
    let share = at.units() as f64 / whole.units().max(1) as f64;
    (share * f64::from(cells)).round().clamp(0.0, f64::from(cells)) as u16
}
