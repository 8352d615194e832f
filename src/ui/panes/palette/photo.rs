//! A photo's colours: share, value, and the three nearest swatches, or "not in your library".

use super::chip::{BLOCK, chip, chip_of};
use crate::app::action::{List, Spot};
use crate::app::state::palette::PalettePane;
use crate::app::state::photo::{PhotoRow, PhotoView};
use crate::ui::hits::Hits;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, paragraph, put, run};
use crate::ui::widgets::table::first_shown;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

/// Rows of one colour: itself and its three matches.
const ROWS: u16 = 2;

/// Draws the view; returns where the cursor belongs.
pub(super) fn draw(
    pane: &PalettePane,
    view: &PhotoView,
    area: Rect,
    buf: &mut Buffer,
    look: &Look,
    hits: &mut Hits,
) -> Option<Position> {
    let theme = &look.theme;
    let name = view.path.rsplit('/').next().unwrap_or(&view.path);
    put(buf, area, 0, 0, &[run("Photo ", theme.title), run(name, theme.title)], look);
    if view.waiting.is_some() {
        put(buf, area, 0, 2, &[run("Being read; Esc leaves it.", theme.dim)], look);
        return None;
    }
    let mut y = paragraph(buf, area, 1, &view.source, theme.dim, look);
    for note in &view.notes {
        y = paragraph(buf, area, y, note, theme.warn, look);
    }
    if view.rows.is_empty() {
        paragraph(buf, area, y, "No colour was found in it.", theme.text, look);
        return None;
    }
    y += 1;
    let picked = view.cursor.row(view.rows.len())?;
    let room = usize::from(area.height.saturating_sub(y) / ROWS);
    let first = first_shown(picked, view.rows.len(), room);
    let mut at = None;
    hits.add(Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area }, Spot::In(List::Colours));
    for (n, row) in view.rows.iter().enumerate().skip(first).take(room) {
        if n == picked {
            at = Some(Position::new(area.x, area.y + y));
        }
        let place = Rect { y: area.y + y, height: ROWS, ..area };
        colour(pane, row, n == picked, place, buf, look);
        hits.add(place, Spot::Row(List::Colours, n));
        y += ROWS;
    }
    at.filter(|at| at.x < buf.area.right() && at.y < buf.area.bottom())
}

fn colour(pane: &PalettePane, row: &PhotoRow, is_picked: bool, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let sign = if is_picked { look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.key)];
    chip_of(pane, (row.hex, row.lab), BLOCK * 2, &mut runs, look);
    if let Some(swatch) = row.swatch().and_then(|id| pane.colour(id)) {
        chip(pane, swatch, BLOCK * 2, &mut runs, look);
    }
    runs.push(run(format!("{:>3.0} % ", row.share * 100.0), theme.dim));
    let name = row.swatch().map_or("not in your library", |id| pane.name(id));
    runs.push(run(text::harmless(name), if is_picked { theme.picked } else { theme.text }));
    runs.push(run(format!("  {}", row.hex), theme.dim));
    put(buf, area, 0, 0, &runs, look);
    let mut near: Vec<Run> = vec![run("   ", theme.dim)];
    for (n, (id, d)) in row.matches.iter().enumerate() {
        let style = if row.choice == Some(n) { theme.text } else { theme.dim };
        near.push(run(if n == 0 { "" } else { ", " }, theme.dim));
        near.push(run(format!("{} {d:.1}", pane.name(*id)), style));
    }
    put(buf, area, 0, 1, &near, look);
}
