//! The picked swatch in full, what it is held against, and what is nearest to a typed colour; the trios stand below.

use super::chip::{BLOCK, chip};
use super::trios::TALL;
use super::{paper, trios};
use crate::app::action::Spot;
use crate::app::model::Model;
use crate::app::panes::palette::words;
use crate::app::state::palette::PalettePane;
use crate::domain::capital::capitalized;
use crate::domain::colour::difference::reading;
use crate::domain::colour::swatch::Swatch;
use crate::domain::stock::SwatchId;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// From this width on the card with the trio stands at the side.
const PARTED: u16 = 96;
/// Rows of what is held on a low screen.
const HELD_ROWS: usize = 2;

/// Draws the right side; returns where the cursor of the trios stands.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let pane = &model.palette;
    let (area, beside) = parted(area);
    let picked = pane.picked().and_then(|id| Some((id, pane.colour(id)?)));
    let mut y = 0;
    if let Some((id, swatch)) = picked {
        y = head(pane, swatch, area, on);
        if pane.paper().is_none() {
            y = if area.height >= TALL {
                facts(&words::details(&model.book, id, swatch), area, y, on)
            } else {
                few_facts(model, (id, swatch), area, y, on)
            };
        }
        y += 1;
        if let Some(words) = pane.vision_words() {
            y = on.paragraph(area, y, &words, on.look.theme.warn);
        }
        y = pinned(pane, swatch, area, y, on);
    }
    if let Some(id) = pane.paper() {
        paper::draw(model, id, area, y, on);
        return None;
    }
    y = nearest(pane, area, y, on);
    trios::draw(model, (area, beside), y, on)
}

/// In a wide window the card has a side of its own, beside what is said.
fn parted(area: Rect) -> (Rect, Option<Rect>) {
    if area.width < PARTED {
        return (area, None);
    }
    let width = area.width * 11 / 20;
    let beside = Rect { x: area.x + width + 2, width: area.width - width - 2, ..area };
    (Rect { width, ..area }, Some(beside))
}

fn head(pane: &PalettePane, swatch: &Swatch, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let mut runs = Vec::new();
    chip(pane, swatch, 8, &mut runs, on.look);
    runs.push(run(&swatch.name, theme.title));
    on.put(area, 0, 0, &runs);
    if !pane.figures {
        return 1;
    }
    on.paragraph(area, 1, &words::lab_words(swatch), theme.dim)
}

/// All that is known.
fn facts(all: &[words::FactLine], area: Rect, y: u16, on: &mut Surface) -> u16 {
    let mut row = y;
    for (label, text) in all {
        let line = match label.as_str() {
            "about" => text.clone(),
            _ => format!("{}: {text}", capitalized(label)),
        };
        let style = if label == "held" { on.look.theme.text } else { on.look.theme.dim };
        row = on.paragraph(area, row, &line, style);
    }
    row
}

/// The name of its kind, what is held and the best ink: what a low screen has room for, each said whole.
fn few_facts(model: &Model, (id, swatch): (SwatchId, &Swatch), area: Rect, y: u16, on: &mut Surface) -> u16 {
    let mut row = on.paragraph(area, y, &words::about(swatch), on.look.theme.dim);
    let held = words::held_briefly(&model.book, id, |words| {
        text::wrap(words, usize::from(area.width)).len() <= HELD_ROWS
    });
    row = on.paragraph(area, row, &held, on.look.theme.text);
    if let Some(ink) = words::best_ink(&model.book, swatch) {
        row = on.paragraph(area, row, &format!("Best ink: {ink}"), on.look.theme.dim);
    }
    row
}

fn pinned(pane: &PalettePane, swatch: &Swatch, area: Rect, y: u16, on: &mut Surface) -> u16 {
    let Some(other) = pane.pinned.and_then(|id| pane.colour(id)) else { return y };
    let Some(words) = words::pinned_words(pane, swatch) else { return y };
    let mut runs = vec![run("Pinned ", on.look.theme.dim)];
    chip(pane, other, 8, &mut runs, on.look);
    chip(pane, swatch, 8, &mut runs, on.look);
    on.put(area, 0, y, &runs);
    on.paragraph(area, y + 1, &words, on.look.theme.text) + 1
}

fn nearest(pane: &PalettePane, area: Rect, y: u16, on: &mut Surface) -> u16 {
    let Some(asked) = pane.asked() else { return y };
    let theme = &on.look.theme;
    on.put(area, 0, y, &[run("Nearest to ", theme.title), run(&asked.text, theme.title)]);
    let mut row = y + 1;
    for (id, d) in &asked.matches {
        let Some(s) = pane.colour(*id) else { continue };
        let mut runs = Vec::new();
        chip(pane, s, BLOCK, &mut runs, on.look);
        runs.push(run(&s.name, theme.text));
        runs.push(run(format!("  {}{}", reading(*d), words::distance(pane, *d)), theme.dim));
        on.put(area, 0, row, &runs);
        if row < area.height {
            on.hits.add(Rect { y: area.y + row, height: 1, ..area }, Spot::Swatch(*id));
        }
        row += 1;
    }
    row + 1
}
