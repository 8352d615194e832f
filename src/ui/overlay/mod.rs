//! Layers over a pane: help, prompt, picker, question. Each says at the bottom which keys it takes.

mod finder;
mod form;
mod frame;
mod help;
mod history;
mod picker;
mod printing;
mod prompt;
mod sheet;
mod under;
mod ways;
mod welcome;

use super::hits::Hits;
use super::layout::Parts;
use super::look::Look;
use super::text;
use super::widgets::lines::{Run, run};
use crate::app::action::Spot;
use crate::app::keys::Key;
use crate::app::model::Model;
use crate::app::overlay::{Confirm, Overlay, Purpose};
use crate::app::state::palette::PaletteText;
use crate::app::state::print::PrintLine;
use crate::app::state::stock::texts::StockText;
use crate::ui::surface::Surface;
use frame::{boxed, inside, middle};
use ratatui::layout::{Position, Rect};
use ways::OR;

/// Columns and rows of a question.
const QUESTION: (u16, u16) = (60, 6);

/// Draws one layer; returns where the cursor belongs.
pub fn draw_overlay(model: &Model, layer: &Overlay, parts: Parts, on: &mut Surface) -> Option<Position> {
    match layer {
        Overlay::Help(h) => Some(help::draw_help(model, h, parts.body, on)),
        Overlay::Prompt(p) => Some(prompt::draw_prompt(p, parts, on)),
        Overlay::Picker(p) if p.is_told => Some(finder::draw_finder(model, p, parts.body, on)),
        Overlay::Form(filling) => Some(form::draw_filling(model, filling, parts.body, on)),
        Overlay::Picker(p) => Some(picker::draw_picker(model, p, parts.body, on)),
        Overlay::Print(desk) => Some(printing::draw_printing(model, desk, parts.body, on)),
        Overlay::History(cursor) => Some(history::draw_history(model, *cursor, parts.body, on)),
        Overlay::Welcome(w) => Some(welcome::draw_welcome(w, &model.keymap, parts.body, on)),
        Overlay::Tour => {
            welcome::tour(model, parts.body, on);
            None
        }
        Overlay::Confirm(c) => {
            let area = boxed(parts.body, QUESTION.0, question_rows(c), "Sure?", on);
            let y = on.paragraph(area, 0, &c.question, on.look.theme.text);
            on.put(
                area,
                0,
                y + 1,
                &[
                    run("y", on.look.theme.key),
                    run(" yes    ", on.look.theme.text),
                    run("n", on.look.theme.key),
                    run(" no (", on.look.theme.text),
                    run("Enter", on.look.theme.key),
                    run(" and ", on.look.theme.text),
                    run("Esc", on.look.theme.key),
                    run(" too)", on.look.theme.text),
                ],
            );
            Some(Position::new(area.x, area.y + y + 1))
        }
    }
}

/// The keys of a layer, for the bottom line.
pub fn keys(layer: &Overlay) -> &'static str {
    match layer {
        Overlay::Help(h) if h.is_typing => "type to narrow   Enter done   Esc all keys",
        // Matches are gone through where something is searched for.
        Overlay::Help(h) if h.found.is_some() => {
            "j or k scroll  n or N match  / search  Tab craft  Esc close"
        }
        Overlay::Help(_) => "j or k scroll  PgDn page  / search  Tab craft  Esc close",
        Overlay::Prompt(p)
            if matches!(
                p.purpose,
                Purpose::Stock(StockText::Filter) | Purpose::Palette(PaletteText::Filter)
            ) =>
        {
            "Enter keep it   Esc show all   Ctrl-U clear"
        }
        Overlay::Prompt(_) => "Enter take it   Esc leave as it was   Ctrl-U clear",
        Overlay::Form(f) if f.what.has_more() => FORM_HINT,
        Overlay::Form(_) => "Enter next  Tab completes  arrows move  Ctrl-S keep  Esc leave",
        Overlay::Picker(_) => "type to find  arrows move  PgDn page  Enter take  Esc close",
        Overlay::Print(d) => d.typing.map_or(PRINT_HINT, PrintLine::hint),
        Overlay::History(_) => "j or k move  Enter take back this and all above  Esc close",
        Overlay::Welcome(_) => "arrows choose   Enter take it   Esc skip the rest",
        Overlay::Tour => "Enter next  Backspace back  Esc leave  others: the pane's",
        Overlay::Confirm(_) => "y yes   n no",
    }
}

const FORM_HINT: &str = "Enter next  Tab completes  Ctrl-S keep  Ctrl-N keep, one more  Esc leave";
const PRINT_HINT: &str = "Enter write  P print  arrows turn  v text  Esc close";

/// The same as it is drawn: keys in the look of keys.
pub fn key_runs(layer: &Overlay, look: &Look) -> Vec<Run> {
    let (mut runs, theme) = (Vec::new(), &look.theme);
    for (n, part) in keys(layer).split("  ").filter(|part| !part.trim().is_empty()).enumerate() {
        let indent = part.len() - part.trim_start().len();
        runs.push(run(" ".repeat(indent + if n > 0 { 2 } else { 0 }), theme.dim));
        let mut still_keys = true;
        for (n, word) in part.split_whitespace().enumerate() {
            let (gap, is_or) = (if n > 0 { " " } else { "" }, word == OR.trim());
            still_keys &= Key::parse(word).is_ok() || word == ARROWS || is_or;
            let style = if still_keys && !is_or { theme.key } else { theme.text };
            runs.extend([run(gap, theme.dim), run(word, style)]);
        }
    }
    runs
}

/// The word for four keys.
const ARROWS: &str = "arrows";

/// Where the bottom line offers one key for one thing: that key, its first column and its width. `j or k` is two.
pub fn key_spots(layer: &Overlay) -> Vec<(Key, u16, u16)> {
    let mut x = 0;
    let mut spots = Vec::new();
    for part in keys(layer).split("  ") {
        let indent = part.len() - part.trim_start().len();
        let mut words = part.split_whitespace();
        let key = words.next().and_then(|word| Key::parse(word).ok());
        let is_alone = words.next().is_some_and(|word| Key::parse(word).is_err() && word != OR.trim());
        if let Some(key) = key.filter(|_| is_alone) {
            spots.push((key, (x + indent) as u16, part.trim().len() as u16));
        }
        x += part.len() + 2;
    }
    spots
}

/// What takes a click in a layer: its rows, or the answers to a question.
pub fn hits(model: &Model, layer: &Overlay, body: Rect, hits: &mut Hits) {
    let rows = match layer {
        Overlay::Picker(p) if p.is_told => finder::rows(p, body),
        Overlay::Picker(p) => picker::rows(p, body),
        Overlay::Print(desk) => printing::rows(desk, body),
        Overlay::History(cursor) => history::rows(model, *cursor, body),
        Overlay::Welcome(w) => welcome::rows(w, body),
        Overlay::Confirm(c) => answers(c, body),
        // What lies under the tour's sentence is not clicked through it.
        Overlay::Tour => vec![(0, welcome::tour_area(body))],
        Overlay::Form(filling) => return form::hits(model, filling, body, hits),
        Overlay::Help(_) | Overlay::Prompt(_) => Vec::new(),
    };
    for (row, area) in rows {
        hits.add(area, Spot::Over(row));
    }
}

/// Where "yes" and "no" stand.
/// A long question takes more rows.
fn question_rows(confirm: &Confirm) -> u16 {
    let lines = text::wrap(&confirm.question, usize::from(QUESTION.0 - 4)).len() as u16;
    QUESTION.1.max(lines.saturating_add(4))
}

fn answers(confirm: &Confirm, body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, QUESTION.0, question_rows(confirm)));
    let y = text::wrap(&confirm.question, usize::from(area.width)).len() as u16 + 1;
    let row = Rect { y: area.y + y, height: 1, ..area };
    vec![(0, Rect { width: 5, ..row }), (1, Rect { x: row.x + 9, width: 24, ..row })]
}
