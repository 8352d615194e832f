//! The picked swatch in full, what it is held against, what is nearest to a typed colour, and the trios.

use super::chip::{BLOCK, chip};
use super::{card, paper};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::palette::words;
use crate::app::state::palette::{Focus, Listed, PalettePane};
use crate::domain::colour::difference::reading;
use crate::domain::colour::swatch::Swatch;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// From this height on everything known of a colour is shown, under it only what is held.
const TALL: u16 = 27;
/// Rows of a reason that makes room for the card.
const SHORT_REASON: u16 = 2;
/// Rows left to what is held and to inks on a low screen.
const HELD_ROWS: u16 = 3;

/// Draws the right side; returns where the cursor of the trios stands.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let pane = &model.palette;
    let picked = pane.picked().and_then(|id| Some((id, pane.colour(id)?)));
    let mut y = 0;
    if let Some((id, swatch)) = picked {
        y = head(pane, swatch, area, on);
        if pane.paper().is_none() {
            y = facts(&words::details(&model.book, id, swatch), area, y, on);
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
    trios(model, area, y, on)
}

fn head(pane: &PalettePane, swatch: &Swatch, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let mut runs = Vec::new();
    chip(pane, swatch, 8, &mut runs, on.look);
    runs.push(run(&swatch.name, theme.title));
    on.put(area, 0, 0, &runs);
    if !pane.coordinates {
        return 1;
    }
    on.put(area, 0, 1, &[run(words::lab_words(swatch), theme.dim)]);
    2
}

/// All that is known on a tall screen; on a low one the name of its kind, what is held, and the best ink.
fn facts(all: &[words::Line], area: Rect, y: u16, on: &mut Surface) -> u16 {
    let tall = area.height >= TALL;
    let mut row = y;
    for (label, text) in all {
        if !tall && label == "inks on it" {
            on.put(area, 0, row, &[run(format!("Inks on it: {text}"), on.look.theme.dim)]);
            row += 1;
            continue;
        }
        if !tall && !matches!(label.as_str(), "about" | "held") {
            continue;
        }
        let line = match label.as_str() {
            "about" => text.clone(),
            _ => format!("{}: {text}", capital(label)),
        };
        let room = if tall { area.height } else { (row + HELD_ROWS).min(area.height) };
        let style = if label == "held" { on.look.theme.text } else { on.look.theme.dim };
        row = on.paragraph(Rect { height: room, ..area }, row, &line, style);
    }
    row
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default()
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
        runs.push(run(format!("{d:>5.1} "), theme.text));
        runs.push(run(&s.name, theme.text));
        runs.push(run(format!("  {}", reading(*d)), theme.dim));
        on.put(area, 0, row, &runs);
        if row < area.height {
            on.hits.add(Rect { y: area.y + row, height: 1, ..area }, Spot::Swatch(*id));
        }
        row += 1;
    }
    row + 1
}

/// Draws the trios; returns where the cursor of the list stands.
fn trios(model: &Model, area: Rect, y: u16, on: &mut Surface) -> Option<Position> {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let base = pane.base_words(&model.book);
    let sign = if pane.focus == Focus::Trios { on.look.glyphs.pick } else { " " };
    on.put(area, 0, y, &[run(sign, theme.key), run("Goes with ", theme.title), run(base, theme.title)]);
    let y = on.paragraph(area, y + 1, &pane.trio_words(), theme.dim);
    if pane.trios.is_empty() {
        let words = match pane.trios_asked {
            Some(_) => "Being worked out.",
            None => "No trio of this kind: c changes the scheme, F the colours that may join.",
        };
        on.paragraph(area, y, words, theme.dim);
        return None;
    }
    let picked = pane.trio.row(pane.trios.len());
    let reason =
        picked.and_then(|n| pane.trios.get(n)).map(|t| words::trio_reason(&model.book, pane, t).join("; "));
    let lines = text::wrap(&reason.unwrap_or_default(), usize::from(area.width)).len() as u16;
    // The list comes before the reason: never more than a third of what is left.
    let lines = lines.min(4).min(area.height.saturating_sub(y) / 3);
    let room = area.height.saturating_sub(y + lines);
    let first = first_shown(picked.unwrap_or(0), pane.trios.len(), usize::from(room));
    let (mut row, mut at) = (y, None);
    on.hits.add(Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area }, Spot::In(List::Trios));
    for (n, trio) in pane.trios.iter().enumerate().skip(first).take(usize::from(room)) {
        let place = Rect { y: area.y + row, height: 1, ..area };
        trio_row(model, trio, picked == Some(n), place, on);
        on.hits.add(place, Spot::Row(List::Trios, n));
        if picked == Some(n) {
            at = Some(Position::new(place.x, place.y));
        }
        row += 1;
    }
    if let Some(trio) = picked.and_then(|n| pane.trios.get(n)) {
        let words = words::trio_reason(&model.book, pane, trio).join("; ");
        let foot = row + reason_rows(&words, row, area, card::least_rows(model));
        row = on.paragraph(Rect { height: foot.min(area.height), ..area }, row, &words, theme.dim);
        card::draw(model, trio.swatches, area, row + 1, on);
    }
    at
}

/// Rows of the reason: all that it needs, but no more than its beginning where that makes room for the card below it.
fn reason_rows(words: &str, row: u16, area: Rect, card: u16) -> u16 {
    let needed = text::wrap(words, usize::from(area.width)).len() as u16;
    let left = area.height.saturating_sub(row);
    let has_card = |rows: u16| left > rows + card;
    if needed > SHORT_REASON && !has_card(needed) && has_card(SHORT_REASON) { SHORT_REASON } else { needed }
}

fn trio_row(model: &Model, trio: &Listed, is_picked: bool, area: Rect, on: &mut Surface) {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let sign = if is_picked { on.look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.key)];
    let members: Vec<&Swatch> = trio.swatches.iter().filter_map(|id| pane.colour(*id)).collect();
    let cells = if area.width >= 60 { 4 } else { 2 };
    for s in &members {
        chip(pane, s, cells, &mut runs, on.look);
    }
    // The base is named above the list; a kept trio may hold it anywhere.
    let base = pane.picked();
    let names: Vec<&str> = trio
        .swatches
        .iter()
        .zip(&members)
        .filter(|(id, _)| Some(**id) != base || pane.base != crate::domain::library::base::Base::Picked)
        .map(|(_, s)| s.name.as_str())
        .collect();
    // The list in focus carries the bar; the other one only its mark.
    let style = if is_picked && pane.focus == Focus::Trios { theme.picked } else { theme.text };
    let is_favourite =
        |t: &Listed| t.kept.and_then(|id| model.book.trios().get(id)).is_some_and(|k| k.favourite);
    // Names begin in one column, with the mark before them or without.
    let unmarked = if pane.trios.iter().any(is_favourite) { "  " } else { "" };
    runs.push(run(if is_favourite(trio) { "* " } else { unmarked }, theme.key));
    runs.push(run(names.join(", "), style));
    runs.push(run(format!("  {}", words::trio_remark(&model.book, trio)), theme.dim));
    on.put(area, 0, 0, &runs);
}
