//! A photo's colours: share, and the three nearest swatches, or "not in your library"; how far to trust them; and the three
//! of the picked colour beside the photo's own patch, to compare with real chips.

use super::card;
use super::chip::{BLOCK, chip, chip_of, seam};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::palette::words::TRUST;
use crate::app::state::palette::PalettePane;
use crate::app::state::photo::{PhotoRow, PhotoView};
use crate::ui::look::ColourDepth;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// Rows of one colour: itself and its three matches.
const ROWS: u16 = 2;
/// Cells of a patch in the comparison.
const PATCH: usize = 8;

/// Draws the view; returns where the cursor belongs.
pub(super) fn draw(model: &Model, view: &PhotoView, area: Rect, on: &mut Surface) -> Option<Position> {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let name = view.path.rsplit('/').next().unwrap_or(&view.path);
    on.put(
        area,
        0,
        0,
        &[run(if view.is_scene { "Picture " } else { "Photo " }, theme.title), run(name, theme.title)],
    );
    if view.waiting.is_some() {
        on.put(area, 0, 2, &[run("Being read; Esc leaves it.", theme.dim)]);
        return None;
    }
    let mut y = on.paragraph(area, 1, &view.source, theme.dim);
    for note in &view.notes {
        y = on.paragraph(area, y, note, theme.warn);
    }
    if view.rows.is_empty() {
        on.paragraph(area, y, "No colour was found in it.", theme.text);
        return None;
    }
    if !view.is_scene {
        y = on.paragraph(area, y, TRUST, theme.text);
    }
    y += 1;
    let picked = view.cursor.row(view.rows.len())?;
    let beside = view.rows.get(picked).map_or(0, |row| row.matches.len() as u16 + 1);
    // The comparison stands at the foot where at least two colours have room above it.
    let paints = matches!(on.look.depth, ColourDepth::True | ColourDepth::TwoFiftySix);
    let beside = if view.is_scene { view.trios.len() as u16 + 2 } else { beside };
    let foot = if (paints || view.is_scene) && area.height >= y + 2 * ROWS + beside { beside } else { 0 };
    if foot > 0
        && let Some(row) = view.rows.get(picked)
    {
        let shown = view.rows.len().min(usize::from((area.height - foot - y) / ROWS)) as u16;
        let top = area.y + y + shown * ROWS;
        if view.is_scene {
            scene_trios(model, view, Rect { y: top, height: area.bottom().saturating_sub(top), ..area }, on);
        } else {
            side_by_side(pane, row, Rect { y: top, height: foot, ..area }, on);
        }
    }
    let room = usize::from(area.height.saturating_sub(y + foot) / ROWS);
    let first = first_shown(picked, view.rows.len(), room);
    let mut at = None;
    on.hits
        .add(Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area }, Spot::In(List::Colours));
    for (n, row) in view.rows.iter().enumerate().skip(first).take(room) {
        if n == picked {
            at = Some(Position::new(area.x, area.y + y));
        }
        let place = Rect { y: area.y + y, height: ROWS, ..area };
        colour(pane, row, n == picked, place, on);
        on.hits.add(place, Spot::Row(List::Colours, n));
        y += ROWS;
    }
    at.filter(|at| at.x < on.buf.area.right() && at.y < on.buf.area.bottom())
}

fn colour(pane: &PalettePane, row: &PhotoRow, is_picked: bool, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let sign = if is_picked { on.look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.key)];
    chip_of(pane, (row.hex, row.lab), BLOCK * 2, &mut runs, on.look);
    if let Some(swatch) = row.swatch().and_then(|id| pane.colour(id)) {
        chip(pane, swatch, BLOCK * 2, &mut runs, on.look);
    }
    runs.push(run(format!("{:>3.0} % ", row.share * 100.0), theme.dim));
    let name = row.swatch().map_or("not in your library", |id| pane.name(id));
    runs.push(run(text::harmless(name), if is_picked { theme.picked } else { theme.text }));
    if pane.coordinates {
        runs.push(run(format!("  {}", row.hex), theme.dim));
    }
    on.put(area, 0, 0, &runs);
    let mut near: Vec<Run> = vec![run("   ", theme.dim)];
    for (n, (id, d)) in row.matches.iter().enumerate() {
        let style = if row.choice == Some(n) { theme.text } else { theme.dim };
        near.push(run(if n == 0 { "" } else { ", " }, theme.dim));
        near.push(run(format!("{} {d:.1}", pane.name(*id)), style));
    }
    on.put(area, 0, 1, &near);
}

/// The three nearest swatches, each touching the photo's own patch: a seam that is not seen is a good match.
fn side_by_side(pane: &PalettePane, row: &PhotoRow, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    on.put(area, 0, 0, &[run("Hold a real chip to the photo's patch:", theme.dim)]);
    for (line, (n, (id, _))) in (1..).zip(row.matches.iter().enumerate()) {
        let Some(swatch) = pane.colour(*id) else { continue };
        let sign = if row.choice == Some(n) { on.look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, theme.key)];
        seam(pane, [(row.hex, row.lab), (swatch.hex, swatch.lab)], PATCH, &mut runs, on.look);
        let style = if row.choice == Some(n) { theme.text } else { theme.dim };
        runs.push(run(format!(" {}", text::harmless(&swatch.name)), style));
        on.put(area, 0, line, &runs);
    }
}

/// The trios that the papers of a picture of anything make, under an empty line, and the picked one on the card in hand.
fn scene_trios(model: &Model, view: &PhotoView, area: Rect, on: &mut Surface) {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let head = if view.trios.is_empty() {
        "Fewer than three colors make no trio."
    } else {
        "Trios (J, K): s keeps, a puts on card"
    };
    on.put(area, 0, 1, &[run(head, theme.title)]);
    let picked = view.trio.row(view.trios.len());
    let mut y = 2;
    for (n, three) in view.trios.iter().enumerate() {
        let is_picked = picked == Some(n);
        let mut runs = vec![run(if is_picked { on.look.glyphs.pick } else { " " }, theme.key)];
        for swatch in three.iter().filter_map(|id| pane.colour(*id)) {
            chip(pane, swatch, BLOCK * 2, &mut runs, on.look);
        }
        let style = if is_picked { theme.picked } else { theme.text };
        runs.push(run(three.map(|id| pane.name(id).to_owned()).join(", "), style));
        on.put(area, 0, y, &runs);
        y += 1;
    }
    if let Some(three) = view.picked_trio() {
        card::draw(model, three, area, y + 1, on);
    }
}
