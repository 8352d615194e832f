//! A form: its fields one under another, each with how it is read; below them how the field in hand is written and what can
//! be chosen there; at the bottom what a click does.
//!
//! ```text
//! +- New line -------------------------------------------+
//! |  kind        card stock                              |
//! |  size        letter       = 8 1/2 x 11 in            |
//! | >name        fern                                    |
//! |  = a new line                                        |
//! | ---------------------------------------------------- |
//! | name: what you call it                               |
//! | [Keep]  [Keep, one more]  [Leave]                    |
//! +------------------------------------------------------+
//! ```

use super::frame::{boxed, hidden, inside, middle};
use super::prompt::skip_columns;
use crate::app::action::{FormSpot, Spot};
use crate::app::model::Model;
use crate::app::overlay::Echo;
use crate::app::panes::form::{self, FieldLine, FieldTakes, Offer};
use crate::app::panes::forms::table;
use crate::app::state::forms::Filling;
use crate::ui::hits::Hits;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

/// Columns of the box where there is room.
const WIDE: u16 = 96;
/// Columns that a text has beside its reading.
const TEXT: usize = 24;
/// Rows under the fields: a line, how the field is written, what is offered, what a click does.
const BELOW: u16 = 6;
/// Rows for what is offered.
const OFFERED: usize = 2;

/// Everything that drawing and clicks need to agree on.
struct Sheet {
    area: Rect,
    lines: Vec<FieldLine>,
    offers: Vec<Offer>,
    /// Row of the screen, from the top of the area, and the line there.
    places: Vec<(u16, usize)>,
    /// Every reading stands under its field.
    spacious: bool,
    /// How the field in hand is read, in lines.
    said: Vec<String>,
    label: usize,
    /// Where that stands.
    indent: u16,
    /// How the field in hand is written.
    hint: String,
    has_more: bool,
}

fn rows_wanted(lines: usize, spacious: bool) -> u16 {
    let each = if spacious { 2 } else { 1 };
    (lines * each) as u16 + if spacious { 0 } else { 2 } + BELOW
}

/// Rows of the whole box, with its frame.
fn height(lines: usize, body: Rect) -> (u16, bool) {
    let room = body.height.saturating_sub(2);
    let spacious = rows_wanted(lines, true) <= room;
    (rows_wanted(lines, spacious).min(room) + 2, spacious)
}

fn sheet(model: &Model, filling: &Filling, body: Rect) -> Sheet {
    let (rows, ctx) = (table(&filling.what), model.ctx());
    let lines = form::lines(rows, &ctx, filling);
    let (high, spacious) = height(lines.len(), body);
    let area = inside(middle(body, WIDE, high));
    let at = lines.iter().position(|l| l.row == filling.form.at).unwrap_or(0);
    let label = lines.iter().map(|l| text::width(l.word)).max().unwrap_or(0) + 2;
    let indent = if spacious { label + 2 } else { 2 };
    let said =
        lines.get(at).map(|l| said(l, usize::from(area.width).saturating_sub(indent))).unwrap_or_default();
    let room = usize::from(area.height.saturating_sub(BELOW));
    let mut places = Vec::new();
    let more = said.len().max(usize::from(spacious));
    let each = if spacious { 2 } else { 1 };
    let fits = (room.saturating_sub(more + 1) / each + 1).max(1);
    let first = first_shown(at, lines.len(), fits);
    let mut y = 0_usize;
    for (n, _) in lines.iter().enumerate().skip(first) {
        let takes = if n == at { 1 + more } else { each };
        if y + takes > room && n > at {
            break;
        }
        places.push((y as u16, n));
        y += takes;
    }
    let offers = form::offers(rows, &ctx, filling);
    let hint = rows.rows.get(filling.form.at).map_or(String::new(), |r| format!("{}: {}", r.word, r.hint));
    let has_more = form::again(rows, &ctx, filling).is_some();
    Sheet { area, lines, offers, places, spacious, said, label, indent: indent as u16, hint, has_more }
}

fn said(line: &FieldLine, width: usize) -> Vec<String> {
    let words = match &line.echo {
        Echo::Nothing => return Vec::new(),
        Echo::Read(words) => format!("= {words}"),
        Echo::Refused(why) => why.clone(),
    };
    text::wrap(&text::harmless(&words), width).into_iter().take(3).collect()
}

/// Draws the form; returns where the cursor belongs.
pub fn draw_filling(model: &Model, filling: &Filling, body: Rect, on: &mut Surface) -> Position {
    let sheet = sheet(model, filling, body);
    let (high, _) = height(sheet.lines.len(), body);
    let title = form::title(table(&filling.what), &model.ctx(), filling);
    boxed(body, WIDE, high, &title, on);
    let mut cursor = Position::new(sheet.area.x, sheet.area.y);
    for (y, n) in &sheet.places {
        let Some(line) = sheet.lines.get(*n) else { continue };
        if line.row == filling.form.at {
            cursor = in_hand(&sheet, filling, line, *y, on);
        } else {
            other(&sheet, line, *y, on);
        }
    }
    below(&sheet, filling, on);
    let rule = Rect { y: sheet.area.bottom().saturating_sub(BELOW), height: 1, ..sheet.area };
    hidden(sheet.lines.len() - sheet.places.len(), rule, on);
    cursor
}

fn style_of(line: &FieldLine, on: &Surface) -> Style {
    if line.fits { on.look.theme.dim } else { on.look.theme.text }
}

fn echo_style(line: &FieldLine, on: &Surface) -> Style {
    if matches!(line.echo, Echo::Refused(_)) { on.look.theme.warn } else { on.look.theme.dim }
}

fn other(sheet: &Sheet, line: &FieldLine, y: u16, on: &mut Surface) {
    let word = text::left(line.word, sheet.label, "");
    let (words, dim) = (style_of(line, on), on.look.theme.dim);
    let reading = said(line, usize::MAX).concat();
    let style = echo_style(line, on);
    if sheet.spacious {
        on.put(sheet.area, 0, y, &[run("  ", dim), run(word, dim), run(&line.text, words)]);
        on.put(sheet.area, sheet.label as u16 + 2, y + 1, &[run(reading, style)]);
        return;
    }
    let room = text::width(&text::harmless(&line.text)).max(TEXT);
    let room = room.min(usize::from(sheet.area.width / 2));
    let shown = text::left(&text::harmless(&line.text), room, on.look.glyphs.ellipsis);
    on.put(
        sheet.area,
        0,
        y,
        &[run("  ", dim), run(word, dim), run(shown, words), run(" ", dim), run(reading, style)],
    );
}

fn in_hand(sheet: &Sheet, filling: &Filling, line: &FieldLine, y: u16, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let (title, text_style) = (theme.title, if line.fits { theme.picked } else { theme.text });
    let (good, warn, key) = (theme.good, theme.warn, theme.mark);
    let start = sheet.label as u16 + 2;
    let room = usize::from(sheet.area.width.saturating_sub(start + 1));
    let at = filling.form.entries.get(filling.form.at).map_or(0, |e| e.field.cursor_column());
    let hidden = at.saturating_sub(room);
    let shown = text::fit(&skip_columns(&text::harmless(&line.text), hidden), room + 1, "");
    let word = text::left(line.word, sheet.label, "");
    let sign = text::left(on.look.glyphs.pick, 2, "");
    on.put(sheet.area, 0, y, &[run(sign, key), run(word, title), run(shown, text_style)]);
    let style = if matches!(line.echo, Echo::Refused(_)) { warn } else { good };
    for (n, words) in sheet.said.iter().enumerate() {
        on.put(sheet.area, sheet.indent, y + 1 + n as u16, &[run(words, style)]);
    }
    Position::new(sheet.area.x + start + (at - hidden) as u16, sheet.area.y + y)
}

/// The room under the fields.
fn foot(sheet: &Sheet) -> Rect {
    let high = BELOW.min(sheet.area.height);
    Rect { y: sheet.area.bottom() - high, height: high, ..sheet.area }
}

/// Where each offer stands: its number, its place in the foot, what is shown of it.
fn offer_places(sheet: &Sheet) -> Vec<(usize, u16, u16, String)> {
    let width = usize::from(sheet.area.width);
    let hint = text::wrap(&sheet.hint, width).len().max(1);
    let most = (OFFERED + 1).saturating_sub(hint);
    let (mut x, mut y) = (0, 0);
    let mut all = Vec::new();
    for (n, offer) in sheet.offers.iter().enumerate() {
        let words = text::fit(&text::harmless(&offer.name), width / 2, "…");
        let wide = text::width(&words);
        if x > 0 && x + wide > width.saturating_sub(4) {
            (x, y) = (0, y + 1);
        }
        if y >= most {
            break;
        }
        all.push((n, x as u16, (1 + hint + y) as u16, words));
        x += wide + 3;
    }
    all
}

fn below(sheet: &Sheet, filling: &Filling, on: &mut Surface) {
    let foot = foot(sheet);
    let rule = on.look.glyphs.rule.repeat(usize::from(foot.width));
    on.put(foot, 0, 0, &[run(rule, on.look.theme.line)]);
    let row = table(&filling.what).rows.get(filling.form.at);
    let lines = text::wrap(&sheet.hint, usize::from(foot.width));
    for (n, words) in lines.iter().take(usize::from(BELOW) - 3).enumerate() {
        on.put(foot, 0, 1 + n as u16, &[run(words, on.look.theme.text)]);
    }
    let is_choice = row.is_some_and(|r| r.takes == FieldTakes::Choice);
    let now = filling.form.value(filling.form.at);
    let places = offer_places(sheet);
    for (n, x, y, words) in &places {
        let is_it = is_choice && sheet.offers.get(*n).is_some_and(|o| o.name.trim() == now);
        let style = if is_it { on.look.theme.picked } else { on.look.theme.key };
        on.put(foot, *x, *y, &[run(words, style)]);
    }
    if places.len() < sheet.offers.len() {
        let x = foot.width.saturating_sub(3);
        on.put(foot, x, 1 + OFFERED as u16, &[run("...", on.look.theme.dim)]);
    }
    for (x, words, _) in buttons(sheet) {
        on.put(foot, x, BELOW - 1, &[run(words, on.look.theme.title)]);
    }
}

fn buttons(sheet: &Sheet) -> Vec<(u16, &'static str, FormSpot)> {
    let mut all = vec![("[Keep]", FormSpot::Keep)];
    if sheet.has_more {
        all.push(("[Keep, one more]", FormSpot::Again));
    }
    all.push(("[Leave]", FormSpot::Leave));
    let mut x = 0;
    let place = |(words, spot): (&'static str, FormSpot)| {
        let at = x;
        x += text::width(words) as u16 + 2;
        (at, words, spot)
    };
    all.into_iter().map(place).collect()
}

/// What takes a click.
pub fn hits(model: &Model, filling: &Filling, body: Rect, hits: &mut Hits) {
    let sheet = sheet(model, filling, body);
    for (y, n) in &sheet.places {
        let Some(line) = sheet.lines.get(*n) else { continue };
        let high = if sheet.spacious { 2 } else { 1 };
        let row = Rect { y: sheet.area.y + y, height: high, ..sheet.area };
        hits.add(row, Spot::Form(FormSpot::Field(line.row)));
    }
    let foot = foot(&sheet);
    for (n, x, y, words) in offer_places(&sheet) {
        let at = Rect { x: foot.x + x, y: foot.y + y, width: text::width(&words) as u16, height: 1 };
        hits.add(at, Spot::Form(FormSpot::Offer(n)));
    }
    for (x, words, spot) in buttons(&sheet) {
        let at = Rect { x: foot.x + x, y: foot.y + BELOW - 1, width: text::width(words) as u16, height: 1 };
        hits.add(at, Spot::Form(spot));
    }
}
