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

use super::hits::Hits;
use super::look::Look;
use super::overlay;
use super::panes;
use super::text;
use super::widgets::bar::bar;
use super::widgets::digits::{self, Figure};
use super::widgets::lines::{put, run};
use crate::app::action::Spot;
use crate::app::commands::{CommandId, command};
use crate::app::figures::{Value, figures as key_figures};
use crate::app::keymap::written;
use crate::app::model::Model;
use crate::app::overlay::Overlay;
use crate::app::pane::Pane;
use crate::app::resolve;
use crate::app::status::{Saving, Tone};
use crate::app::working;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::widgets::{Clear, Widget};

/// The smallest screen that the workbench is drawn on.
pub const SMALLEST: (u16, u16) = (60, 18);

/// Rows of a body that leave room for large figures beside the pane.
const ROOM_FOR_FIGURES: u16 = 40;

/// The parts of the screen.
#[derive(Clone, Copy, Debug)]
pub struct Parts {
    /// Name, panes, project, saving mark.
    pub header: Rect,
    /// The pane.
    pub body: Rect,
    /// What happened last.
    pub status: Rect,
    /// Keys.
    pub hints: Rect,
}

/// Divides the screen.
pub fn parts(screen: Rect) -> Parts {
    let row = |y: u16, height: u16| Rect::new(screen.x, screen.y + y, screen.width, height);
    Parts {
        header: row(0, 2.min(screen.height)),
        body: row(2, screen.height.saturating_sub(4)),
        status: row(screen.height.saturating_sub(2), 1),
        hints: row(screen.height.saturating_sub(1), 1),
    }
}

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
    if screen.width < SMALLEST.0 || screen.height < SMALLEST.1 {
        too_small(screen, buf, look);
        return None;
    }
    let parts = parts(screen);
    header(model, parts.header, buf, look);
    let mut body = inset(parts.body);
    if !model.bench_open {
        body.height -= figures(model, body, buf, look);
    }
    let bench = model.bench.as_ref().filter(|_| model.bench_open);
    let mut cursor = match (bench, model.pane) {
        (Some(run), _) => panes::bench::draw(model, run, body, buf, look),
        (None, Pane::Yield) if model.plan.open => panes::plan::draw(model, body, buf, look, hits),
        (None, Pane::Yield) => panes::yields::draw(model, body, buf, look, hits),
        (None, Pane::Mats) => panes::mats::draw(model, body, buf, look, hits),
        (None, Pane::Palette) => panes::palette::draw(model, body, buf, look, hits),
        (None, Pane::Stock) => panes::stock::draw(model, body, buf, look, hits),
    };
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

/// The pane's key figures in large digits over the last rows of a high window; returns the rows they take.
fn figures(model: &Model, body: Rect, buf: &mut Buffer, look: &Look) -> u16 {
    let all = key_figures(model);
    if all.is_empty() || body.height < ROOM_FOR_FIGURES {
        return 0;
    }
    let height = digits::ROWS + 2;
    let area = Rect { y: body.bottom() - height, height, ..body };
    let mut x = 0;
    for figure in all {
        let value = match figure.value {
            Value::Count(n) => Figure::of_count(n),
            Value::Length(length) => Figure::of_length(length, model.screen.unit),
        };
        let words = text::width(&figure.words) as u16;
        let width = value.width().max(words);
        if x + width > area.width {
            break;
        }
        put(buf, area, x, 1, &[run(figure.words, look.theme.dim)], look);
        let room = Rect { x: area.x + x, y: area.y + 2, width, height: digits::ROWS };
        value.draw(room, buf, &look.glyphs, look.theme.title);
        x += width + 6;
    }
    height
}

fn inset(area: Rect) -> Rect {
    Rect::new(area.x + 1, area.y, area.width.saturating_sub(2), area.height)
}

fn too_small(screen: Rect, buf: &mut Buffer, look: &Look) {
    let words = format!(
        "trimside needs {} x {} cells, this window has {} x {}: make it larger, or press q to leave",
        SMALLEST.0, SMALLEST.1, screen.width, screen.height
    );
    super::widgets::lines::paragraph(buf, screen, 0, &words, look.theme.text, look);
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
        Saving::Saved => ("saved".to_owned(), theme.dim),
        Saving::Pending(_) => ("saving".to_owned(), theme.warn),
        Saving::Failed(_) => ("NOT SAVED".to_owned(), theme.bad),
    };
    let project = model.book.active_project().map(|p| text::harmless(&p.name)).unwrap_or_default();
    let joint = if project.is_empty() { String::new() } else { format!(" {} ", look.glyphs.dot) };
    let room = usize::from(area.right().saturating_sub(end + 2));
    let name_room = room.saturating_sub(text::width(&mark) + text::width(&joint));
    let project = text::fit(&project, name_room, look.glyphs.ellipsis);
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
        let words = format!("Kept here and tried again: {why}");
        put(buf, area, 1, 0, &[run(words, theme.bad)], look);
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
    put(buf, area, 1, 0, &[run(&status.text, style)], look);
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
