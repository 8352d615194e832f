//! The whole screen, from the model. Changes nothing; returns where the hardware cursor belongs.
//!
//! ```text
//! 0 Today   1 Yield  2 Mats  3 Palette  4 Stock          spring class · saved     header
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
use super::surface::Surface;
use super::text;
use super::theme;
use super::today;
use super::widgets::bar::bar;
use super::widgets::digits::{self, Digits};
use super::widgets::lines::run;
use crate::app::action::Spot;
use crate::app::commands::{CommandId, command};
use crate::app::figures::{FigureValue, figures as key_figures};
use crate::app::keymap::{Told, written};
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
pub struct DrawnScreen {
    /// Where the hardware cursor belongs, on the thing in focus.
    pub cursor: Option<Position>,
    /// What takes a click, and where.
    pub hits: Hits,
}

/// Draws everything.
pub fn draw_screen(model: &Model, screen: Rect, buf: &mut Buffer, look: &Look) -> DrawnScreen {
    let mut on = Surface::new(buf, look);
    let cursor = whole(model, screen, &mut on);
    DrawnScreen { cursor, hits: on.hits }
}

fn whole(model: &Model, screen: Rect, on: &mut Surface) -> Option<Position> {
    if screen.width == 0 || screen.height == 0 {
        return None;
    }
    on.buf.set_style(screen, on.look.theme.text);
    if !is_large_enough(screen) {
        too_small(model, screen, on);
        return None;
    }
    let parts = parts(screen);
    header(model, parts.header, on);
    let mut cursor = body(model, inset(parts.body), on);
    status(model, parts.status, on);
    following(model, parts.body, on);
    hints(model, parts.hints, on);
    for (pane, x, width) in pane_names(parts.header) {
        on.hits.add(Rect { x, width, height: 1, ..parts.header }, Spot::Pane(pane));
    }
    for (id, x, width) in hint_spots(model, parts.hints) {
        on.hits.add(Rect { x, width, ..parts.hints }, Spot::Hint(id));
    }
    for layer in &model.overlays {
        // Letters under a box are not what is read.
        if !matches!(layer, Overlay::Tour) {
            on.letters.clear();
        }
        // The tour's sentence takes no keys of its own field: the cursor stays where the pane has it.
        cursor = overlay::draw_overlay(model, layer, parts, on).or(cursor);
        if !matches!(layer, Overlay::Tour) {
            on.hits.clear();
        }
        overlay::hits(model, layer, parts.body, &mut on.hits);
    }
    letters(model, parts.status, on);
    for (key, x, width) in model.top().map(overlay::key_spots).unwrap_or_default() {
        on.hits.add(Rect { x: parts.hints.x + 1 + x, width, ..parts.hints }, Spot::Key(key));
    }
    cursor
}

/// The pane, and its key figures where it leaves rows free. In a high window the lists do.
fn body(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let figures = if model.is_at_bench() { Vec::new() } else { large(model) };
    if area.height >= ROOM_FOR_FIGURES && !figures.is_empty() {
        let y = area.bottom() - FIGURE_ROWS;
        on.figures = Rect { y, width: width(&figures).min(area.width), height: FIGURE_ROWS, ..area };
    }
    let cursor = pane(model, area, on);
    draw_figures(&figures, area, on);
    cursor
}

fn pane(model: &Model, body: Rect, on: &mut Surface) -> Option<Position> {
    if model.day.is_open {
        return today::draw_today(model, body, on);
    }
    match model.pane {
        Pane::Yield if model.is_at_bench() => panes::bench::draw_bench(model, body, on),
        Pane::Yield if model.yields.view == YieldView::Plan => panes::plan::draw_plan(model, body, on),
        Pane::Yield => panes::yields::draw_yields(model, body, on),
        Pane::Mats => panes::mats::draw_mats(model, body, on),
        Pane::Palette => panes::palette::draw_palette(model, body, on),
        Pane::Stock => panes::stock::draw_stock(model, body, on),
    }
}

/// Words and large digits.
type LargeFigure = (String, Digits);

/// The pane's key figures.
fn large(model: &Model) -> Vec<LargeFigure> {
    let figure = |value| match value {
        FigureValue::Count(n) => Digits::of_count(n),
        FigureValue::Length(length) => Digits::of_length(length, model.screen.unit),
    };
    key_figures(model).into_iter().map(|f| (f.words, figure(f.value))).collect()
}

/// Columns that they take side by side.
fn width(figures: &[LargeFigure]) -> u16 {
    figures.iter().map(wide).sum()
}

fn wide((words, figure): &LargeFigure) -> u16 {
    figure.width().max(text::width(words) as u16) + 4
}

/// Draws as many of them as find rows left free at the left, at the lowest such place.
fn draw_figures(all: &[LargeFigure], area: Rect, on: &mut Surface) {
    let place = |shown: usize| Some((shown, free(area, width(&all[..shown]), on.buf)?));
    let Some((shown, y)) = (1..=all.len()).rev().find_map(place) else { return };
    let mut x = area.x;
    for figure in &all[..shown] {
        let room = Rect { x, y, width: wide(figure), height: FIGURE_ROWS };
        on.put(room, 0, 1, &[run(&figure.0, on.look.theme.dim)]);
        let digits = Rect { y: y + 2, height: digits::ROWS, ..room };
        figure.1.draw(&mut on.ink(digits, on.look.theme.title));
        x += room.width;
    }
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
fn too_small(model: &Model, screen: Rect, on: &mut Surface) {
    let mut words = format!(
        "trimside needs {} x {} cells, this window has {} x {}: make it larger, or press {} to leave",
        SMALLEST.0,
        SMALLEST.1,
        screen.width,
        screen.height,
        model.keymap.shown_text(CommandId::Quit)
    );
    if let Some(status) = model.status.as_ref().filter(|_| model.is_leaving) {
        words = format!("{} {words}", text::harmless(&status.text));
    }
    on.paragraph(screen, 0, &words, on.look.theme.text);
}

/// Fewest columns of a project's name that is cut.
const FEW_LETTERS: usize = 8;
/// Columns below which the names of the panes stand close.
const NARROW: u16 = 100;

/// Where each pane's name stands in the header: first column and width.
pub fn pane_names(header: Rect) -> Vec<(Pane, u16, u16)> {
    // A narrow screen gives its blanks to the name of the project.
    let (from, gap) = if header.width < NARROW { (9, 0) } else { (11, 1) };
    let mut x = header.x + from;
    Pane::ALL
        .into_iter()
        .map(|pane| {
            let width = text::width(command(pane.command()).title) as u16 + 4;
            let at = x;
            x += width + gap;
            (pane, at, width)
        })
        .collect()
}

fn header(model: &Model, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let is_today = model.day.is_open;
    let style = if is_today { theme.picked } else { theme.dim };
    on.put(area, 0, 0, &[run(" 0 Today ", style)]);
    on.hits.add(Rect { x: 0, width: 9, height: 1, ..area }, Spot::Hint(CommandId::Today));
    for (n, (pane, x, width)) in pane_names(area).into_iter().enumerate() {
        let is_here = model.pane == pane && !is_today;
        let style = if is_here { theme.picked } else { theme.dim };
        let name = format!(" {} {} ", n + 1, command(pane.command()).title);
        on.put(Rect { x, width, ..area }, 0, 0, &[run(name, style)]);
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
    let none = if model.book.projects().is_empty() { "" } else { "no project" };
    let project = model.book.active_project().map_or_else(|| none.to_owned(), |p| text::harmless(&p.name));
    let joint = format!(" {} ", on.look.glyphs.dot);
    let room = usize::from(area.right().saturating_sub(end + 2));
    let name_room = room.saturating_sub(text::width(&mark) + text::width(&joint));
    let shown = text::fit(&project, name_room, on.look.glyphs.ellipsis);
    // Some letters of a name say nothing.
    let is_named = shown == project || text::width(&shown) >= FEW_LETTERS;
    let project = shown;
    let (project, joint) = if is_named { (project, joint) } else { Default::default() };
    let right = text::width(&project) + text::width(&joint) + text::width(&mark);
    let x = usize::from(area.width).saturating_sub(right + 1) as u16;
    let named = text::width(&project) as u16;
    on.hits.add(Rect { x, width: named, height: 1, ..area }, Spot::Hint(CommandId::Project));
    let wide = text::width(&mark) as u16;
    on.hits.add(Rect { x: area.width.saturating_sub(wide + 1), width: wide, height: 1, ..area }, Spot::Saved);
    on.put(area, x, 0, &[run(project, theme.text), run(joint, theme.dim), run(mark, mark_style)]);
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 1, &[run(rule, theme.line)]);
}

fn status(model: &Model, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let status = model.status.as_ref();
    if let Saving::Failed(why) = &model.saving
        && status.is_none_or(|s| s.tone != Tone::Refused)
    {
        let words = format!("Kept here and tried again: {why}");
        said(&Told { words, keys: Vec::new() }, theme.bad, area, on);
        return;
    }
    if let Some(work) = working::now(model).filter(|_| status.is_none_or(|s| s.tone != Tone::Refused)) {
        let done = bar(i64::from(work.done), i64::from(work.of), None, 24, &on.look.glyphs);
        let room = usize::from(area.width).saturating_sub(28);
        let words = format!("  {}", text::fit(&work.words, room, on.look.glyphs.ellipsis));
        on.put(area, 1, 0, &[run(done, theme.good), run(words, theme.text)]);
        return;
    }
    let Some(status) = status else { return };
    let style = match status.tone {
        Tone::Note => theme.text,
        Tone::Done => theme.good,
        Tone::Refused => theme.warn,
    };
    said(&Told { words: status.text.clone(), keys: status.keys.clone() }, style, area, on);
}

/// What the letters of patterns stand for, where some stand on the screen and the row says nothing else: at its right end, or it
/// would read as one more row of what stands above.
fn letters(model: &Model, area: Rect, on: &mut Surface) {
    let is_said = model.status.is_some() || matches!(model.saving, Saving::Failed(_));
    if on.letters.is_empty() || is_said || working::now(model).is_some() {
        return;
    }
    let mut kinds = on.letters.clone();
    kinds.sort_by_key(|kind| kind.letter());
    let told = kinds.iter().filter_map(|kind| Some(format!("{} {}", kind.letter()?, kind.word())));
    let told = format!("patterns: {}", told.collect::<Vec<_>>().join(", "));
    let x = area.width.saturating_sub(text::width(&told) as u16 + 1);
    on.put(area, x, 0, &[run(told, on.look.theme.dim)]);
}

/// A sentence in the status line; a longer one takes rows of the pane above it, since half a reason helps nobody.
fn said(told: &Told, style: Style, area: Rect, on: &mut Surface) {
    let words = on.look.marked(&told.words, style);
    let lines = text::wrap(&text::harmless(&words), usize::from(area.width.saturating_sub(2))).len() as u16;
    let more = lines.saturating_sub(1).min(MOST_SAID - 1);
    let room = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    if more == 0 {
        on.told(room, 0, told, style);
        return;
    }
    let over = Rect { y: area.y.saturating_sub(more + 1), height: more + 2, ..area };
    on.clear(over);
    on.put(over, 0, 0, &[run(on.look.glyphs.rule.repeat(usize::from(over.width)), on.look.theme.line)]);
    on.told(Rect { y: over.y + 1, height: more + 1, ..room }, 0, told, style);
}

/// While a sequence of keys is begun: what can follow, over the last rows of the pane.
fn following(model: &Model, body: Rect, on: &mut Surface) {
    if model.pending.is_empty() {
        return;
    }
    let theme = &on.look.theme;
    let next = model.keymap.following(&resolve::contexts(model), &model.pending);
    let across = if body.width >= 100 { 4 } else { 3 };
    let rows = next.len().div_ceil(across) as u16;
    let height = (rows + 1).min(body.height);
    let area = Rect::new(body.x, body.bottom() - height, body.width, height);
    on.clear(area);
    on.put(area, 0, 0, &[run(on.look.glyphs.rule.repeat(usize::from(area.width)), theme.line)]);
    let title = format!(" {} and then ", written(&model.pending));
    on.put(area, 2, 0, &[run(title, theme.title)]);
    let width = area.width / across as u16;
    for (n, (key, id)) in next.iter().enumerate() {
        let (x, y) = ((n % across) as u16 * width + 1, 1 + (n / across) as u16);
        let cell = Rect { width: (x + width - 1).min(area.width), ..area };
        let (key, words) = (key.to_string(), format!(" {}", command(*id).title));
        on.put(cell, x, y, &[run(key, theme.key), run(words, theme.text)]);
        let spot = Rect { x: area.x + x, y: area.y + y, width: width.saturating_sub(1), height: 1 };
        on.hits.add(spot, Spot::Hint(*id));
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
fn hints(model: &Model, area: Rect, on: &mut Surface) {
    for (h, x, _) in &places(model, area) {
        hint(h, area, *x, on);
    }
    if let Some(top) = model.top() {
        on.put(area, 1, 0, &overlay::key_runs(top, on.look));
    }
}

fn hint(h: &resolve::Hint, area: Rect, x: u16, on: &mut Surface) {
    let theme = &on.look.theme;
    let (key, words) = if h.is_live { (theme.key, theme.text) } else { (theme.dim, theme.dim) };
    let end = on.put(area, x, 0, &[run(&h.key, key), run(" ", words), run(h.title, words)]);
    // Where no color says that it has no use right now, parentheses in the blanks round it do.
    if !h.is_live && theme.name == theme::MONO.name {
        on.put(area, x.saturating_sub(1), 0, &[run("(", words)]);
        on.put(area, end, 0, &[run(")", words)]);
    }
}
