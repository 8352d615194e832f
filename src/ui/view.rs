//! The whole screen, from the model. Changes nothing; returns where the hardware cursor belongs.
//!
//! ```text
//! trimside  1 Yield  2 Mats  3 Palette  4 Stock          spring class · saved     header
//! ---------------------------------------------------------------------------
//! pane                                                                            body
//!
//! what happened last                                                              status
//! p piece  s sheet  n count  t turn  c chart                  : find  ? help      hints
//! ```
//!
//! Under 60 x 18 one sentence says what is needed. Overlays lie over the body, the top one last.

pub use super::layout::{Parts, parts};

use super::hits::Hits;
use super::look::Look;
use super::overlay;
use super::panes;
use super::text;
use super::widgets::bar::bar;
use super::widgets::digits::{self, Figure};
use super::widgets::lines::{paragraph, put, run};
use crate::app::action::Spot;
use crate::app::commands::{CommandId, command};
use crate::app::figures::{Value, figures as key_figures};
use crate::app::keymap::written;
use crate::app::model::Model;
use crate::app::overlay::Overlay;
use crate::app::pane::Pane;
use crate::app::resolve;
use crate::app::state::views::YieldView;
use crate::app::status::{Saving, Tone};
use crate::app::working;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use ratatui::widgets::{Clear, Widget};

/// The smallest screen that the workbench is drawn on.
pub const SMALLEST: (u16, u16) = (60, 18);

/// True where the workbench is drawn, and keys do what they show.
pub fn is_large_enough(screen: Rect) -> bool {
    screen.width >= SMALLEST.0 && screen.height >= SMALLEST.1
}

/// Rows of a body from which on the pane gives rows to its large figures.
const ROOM_FOR_FIGURES: u16 = 40;
/// Rows that a sentence of the status line takes at most.
const MOST_SAID: u16 = 4;
/// Rows that large figures take, with their words.
const FIGURE_ROWS: u16 = digits::ROWS + 2;

/// What drawing tells.
#[derive(Clone, Debug, Default)]
pub struct Drawn {
    /// Where the hardware cursor belongs, on the thing in focus.
    pub cursor: Option<Position>,
    /// What takes a click, and where.
    pub hits: Hits,
}

/// Draws everything.
pub fn draw(model: &Model, screen: Rect, buf: &mut Buffer, look: &Look) -> Drawn {
    let mut hits = Hits::default();
    let cursor = draw_into(model, screen, buf, look, &mut hits);
    Drawn { cursor, hits }
}

fn draw_into(
    model: &Model,
    screen: Rect,
    buf: &mut Buffer,
    look: &Look,
    hits: &mut Hits,
) -> Option<Position> {
    if screen.width == 0 || screen.height == 0 {
        return None;
    }
    buf.set_style(screen, look.theme.text);
    if !is_large_enough(screen) {
        too_small(model, screen, buf, look);
        return None;
    }
    let parts = parts(screen);
    header(model, parts.header, buf, look);
    let body = inset(parts.body);
    let mut cursor = pane(model, body, buf, look, hits);
    if !model.is_at_bench() && !figures(model, body, buf, look) && body.height >= ROOM_FOR_FIGURES {
        // No room is left over, but the window is high: the pane is drawn once more in fewer rows.
        let less = Rect { height: body.height - FIGURE_ROWS, ..body };
        Clear.render(body, buf);
        buf.set_style(body, look.theme.text);
        hits.clear();
        cursor = pane(model, less, buf, look, hits);
        figures(model, body, buf, look);
    }
    status(model, parts.status, buf, look);
    following(model, parts.body, buf, look);
    hints(model, parts.hints, buf, look);
    for (pane, x, width) in pane_names(parts.header) {
        hits.add(Rect { x, width, height: 1, ..parts.header }, Spot::Pane(pane));
    }
    for (id, x, width) in hint_spots(model, parts.hints) {
        hits.add(Rect { x, width, ..parts.hints }, Spot::Hint(id));
    }
    for layer in &model.overlays {
        // The tour's sentence takes no keys of its own field: the cursor stays where the pane has it.
        cursor = overlay::draw(model, layer, parts, buf, look).or(cursor);
        if !matches!(layer, Overlay::Tour) {
            hits.clear();
        }
        overlay::hits(model, layer, parts.body, hits);
    }
    cursor
}

fn pane(model: &Model, body: Rect, buf: &mut Buffer, look: &Look, hits: &mut Hits) -> Option<Position> {
    match (&model.yields.run, model.pane) {
        (Some(run), Pane::Yield) if model.is_at_bench() => panes::bench::draw(model, run, body, buf, look),
        (_, Pane::Yield) if model.yields.view == YieldView::Plan => {
            panes::plan::draw(model, body, buf, look, hits)
        }
        (_, Pane::Yield) => panes::yields::draw(model, body, buf, look, hits),
        (_, Pane::Mats) => panes::mats::draw(model, body, buf, look, hits),
        (_, Pane::Palette) => panes::palette::draw(model, body, buf, look, hits),
        (_, Pane::Stock) => panes::stock::draw(model, body, buf, look, hits),
    }
}

/// The pane's key figures in large digits, where it has left rows free at the left; the lowest such place. False where
/// there is none, true also where there is nothing to show.
fn figures(model: &Model, body: Rect, buf: &mut Buffer, look: &Look) -> bool {
    let all: Vec<(String, Figure)> = key_figures(model)
        .into_iter()
        .map(|f| {
            let figure = match f.value {
                Value::Count(n) => Figure::of_count(n),
                Value::Length(length) => Figure::of_length(length, model.screen.unit),
            };
            (f.words, figure)
        })
        .collect();
    let wide = |(words, figure): &(String, Figure)| figure.width().max(text::width(words) as u16) + 4;
    for shown in (1..=all.len()).rev() {
        let width = all[..shown].iter().map(wide).sum::<u16>();
        let Some(y) = free(body, width, buf) else { continue };
        let mut x = 0;
        for pair in &all[..shown] {
            let room = Rect { x: body.x + x, y, width: wide(pair), height: FIGURE_ROWS };
            put(buf, room, 0, 1, &[run(&pair.0, look.theme.dim)], look);
            let digits = Rect { y: y + 2, height: digits::ROWS, ..room };
            pair.1.draw(digits, buf, &look.glyphs, look.theme.title);
            x += room.width;
        }
        return true;
    }
    all.is_empty()
}

/// The lowest row from which on nothing is drawn at the left, for as many columns and rows as figures take.
fn free(body: Rect, width: u16, buf: &Buffer) -> Option<u16> {
    let width = width.min(body.width);
    let is_blank = |y: u16| {
        (body.x..body.x + width)
            .all(|x| buf.cell((x, y)).is_some_and(|c| c.symbol() == " " && c.bg == buf[(0, 0)].bg))
    };
    let last = body.bottom().checked_sub(FIGURE_ROWS)?;
    // A row stays free under them, where they do not stand at the very bottom.
    let rows = |y: u16| y..(y + FIGURE_ROWS + 1).min(body.bottom());
    (body.y..=last).rev().find(|y| rows(*y).all(is_blank))
}

fn inset(area: Rect) -> Rect {
    Rect::new(area.x + 1, area.y, area.width.saturating_sub(2), area.height)
}

/// One sentence in place of everything; while the person waits to leave, what there is to say of that too.
fn too_small(model: &Model, screen: Rect, buf: &mut Buffer, look: &Look) {
    let mut words = format!(
        "trimside needs {} x {} cells, this window has {} x {}: make it larger, or press q to leave",
        SMALLEST.0, SMALLEST.1, screen.width, screen.height
    );
    if let Some(status) = model.status.as_ref().filter(|_| model.is_leaving) {
        words = format!("{} {words}", text::harmless(&status.text));
    }
    paragraph(buf, screen, 0, &words, look.theme.text, look);
}

/// Where each pane's name stands in the header: first column and width.
pub fn pane_names(header: Rect) -> Vec<(Pane, u16, u16)> {
    let mut x = header.x + 11;
    Pane::ALL
        .into_iter()
        .map(|pane| {
            let width = text::width(command(pane.command()).title) as u16 + 4;
            let at = x;
            x += width + 1;
            (pane, at, width)
        })
        .collect()
}

fn header(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    put(buf, area, 1, 0, &[run("trimside", theme.title)], look);
    for (n, (pane, x, width)) in pane_names(area).into_iter().enumerate() {
        let is_here = model.pane == pane;
        let style = if is_here { theme.picked } else { theme.dim };
        let name = format!(" {} {} ", n + 1, command(pane.command()).title);
        put(buf, Rect { x, width, ..area }, 0, 0, &[run(name, style)], look);
    }
    let end = pane_names(area).last().map_or(0, |(_, x, w)| x + w);
    let (mark, mark_style) = match &model.saving {
        Saving::Saved if model.is_demo => ("demo".to_owned(), theme.dim),
        Saving::Saved => match model.unwritten() {
            Some(words) => (words, theme.warn),
            None => ("saved".to_owned(), theme.dim),
        },
        Saving::Pending(_) => ("saving".to_owned(), theme.warn),
        Saving::Failed(_) => ("NOT SAVED".to_owned(), theme.bad),
    };
    let project = model.book.active_project().map(|p| text::harmless(&p.name)).unwrap_or_default();
    let joint = format!(" {} ", look.glyphs.dot);
    let room = usize::from(area.right().saturating_sub(end + 2));
    let name_room = room.saturating_sub(text::width(&mark) + text::width(&joint));
    let project = text::fit(&project, name_room, look.glyphs.ellipsis);
    // Two letters of a name say nothing.
    let is_named = text::width(&project) > 3;
    let (project, joint) = if is_named { (project, joint) } else { Default::default() };
    let right = text::width(&project) + text::width(&joint) + text::width(&mark);
    let x = usize::from(area.width).saturating_sub(right + 1) as u16;
    put(buf, area, x, 0, &[run(project, theme.text), run(joint, theme.dim), run(mark, mark_style)], look);
    let rule = look.glyphs.rule.repeat(usize::from(area.width));
    put(buf, area, 0, 1, &[run(rule, theme.line)], look);
}

fn status(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let status = model.status.as_ref();
    if let Saving::Failed(why) = &model.saving
        && status.is_none_or(|s| s.tone != Tone::Refused)
    {
        said(&format!("Kept here and tried again: {why}"), theme.bad, area, buf, look);
        return;
    }
    if let Some(work) = working::now(model).filter(|_| status.is_none_or(|s| s.tone != Tone::Refused)) {
        let done = bar(i64::from(work.done), i64::from(work.of), None, 24, &look.glyphs);
        let room = usize::from(area.width).saturating_sub(28);
        let words = format!("  {}", text::fit(&work.words, room, look.glyphs.ellipsis));
        put(buf, area, 1, 0, &[run(done, theme.good), run(words, theme.text)], look);
        return;
    }
    let Some(status) = status else { return };
    let style = match status.tone {
        Tone::Note => theme.text,
        Tone::Done => theme.good,
        Tone::Refused => theme.warn,
    };
    said(&status.text, style, area, buf, look);
}

/// A sentence in the status line; a longer one takes rows of the pane above it, since half a reason helps nobody.
fn said(words: &str, style: Style, area: Rect, buf: &mut Buffer, look: &Look) {
    let lines = text::wrap(&text::harmless(words), usize::from(area.width.saturating_sub(2))).len() as u16;
    let more = lines.saturating_sub(1).min(MOST_SAID - 1);
    let room = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    if more == 0 {
        put(buf, room, 0, 0, &[run(words, style)], look);
        return;
    }
    let over = Rect { y: area.y.saturating_sub(more + 1), height: more + 2, ..area };
    Clear.render(over, buf);
    buf.set_style(over, look.theme.text);
    put(buf, over, 0, 0, &[run(look.glyphs.rule.repeat(usize::from(over.width)), look.theme.line)], look);
    paragraph(buf, Rect { y: over.y + 1, height: more + 1, ..room }, 0, words, style, look);
}

/// While a sequence of keys is begun: what can follow, over the last rows of the pane.
fn following(model: &Model, body: Rect, buf: &mut Buffer, look: &Look) {
    if model.pending.is_empty() {
        return;
    }
    let theme = &look.theme;
    let next = model.keymap.following(&resolve::contexts(model), &model.pending);
    let across = if body.width >= 100 { 4 } else { 3 };
    let rows = next.len().div_ceil(across) as u16;
    let height = (rows + 1).min(body.height);
    let area = Rect::new(body.x, body.bottom() - height, body.width, height);
    Clear.render(area, buf);
    buf.set_style(area, theme.text);
    put(buf, area, 0, 0, &[run(look.glyphs.rule.repeat(usize::from(area.width)), theme.line)], look);
    let title = format!(" {} and then ", written(&model.pending));
    put(buf, area, 2, 0, &[run(title, theme.title)], look);
    let width = area.width / across as u16;
    for (n, (key, id)) in next.iter().enumerate() {
        let (x, y) = ((n % across) as u16 * width + 1, 1 + (n / across) as u16);
        let cell = Rect { width: (x + width - 1).min(area.width), ..area };
        let (key, words) = (key.to_string(), format!(" {}", command(*id).title));
        put(buf, cell, x, y, &[run(key, theme.key), run(words, theme.text)], look);
    }
}

/// Where each hint stands: the command, its first column and its width.
pub fn hint_spots(model: &Model, area: Rect) -> Vec<(CommandId, u16, u16)> {
    places(model, area).into_iter().map(|(h, x, width)| (h.id, x, width)).collect()
}

/// The panes' own keys at the left as far as they fit, finder, help and quit always at the right.
fn places(model: &Model, area: Rect) -> Vec<(resolve::Hint, u16, u16)> {
    let hints = if model.overlays.is_empty() { resolve::hints(model) } else { Vec::new() };
    let (always, own): (Vec<_>, Vec<_>) = hints.into_iter().partition(|h| command(h.id).hint >= 8);
    let width = |h: &resolve::Hint| text::width(&h.key) + 1 + text::width(h.title) + 2;
    let right: usize = always.iter().map(width).sum();
    let mut all = Vec::new();
    let mut x = 1;
    for h in own {
        let end = x + width(&h);
        if end + right + 1 > usize::from(area.width) {
            break;
        }
        all.push((h, x as u16, (end - x) as u16));
        x = end;
    }
    let mut x = usize::from(area.width).saturating_sub(right);
    for h in always {
        let end = x + width(&h);
        all.push((h, x as u16, (end - x) as u16));
        x = end;
    }
    all
}

/// Keys at the bottom.
fn hints(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    for (h, x, _) in &places(model, area) {
        hint(h, area, *x, buf, look);
    }
    if let Some(top) = model.top() {
        put(buf, area, 1, 0, &[run(overlay::keys(top), theme.dim)], look);
    }
}

fn hint(h: &resolve::Hint, area: Rect, x: u16, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let (key, words) = if h.is_live { (theme.key, theme.text) } else { (theme.dim, theme.dim) };
    put(buf, area, x, 0, &[run(&h.key, key), run(" ", words), run(h.title, words)], look);
}
