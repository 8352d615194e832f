//! All keys from the table of commands, and the words of the craft, narrowed by what is typed.

use super::frame::boxed;
use crate::app::help::{craft, keys_of, order};
use crate::app::model::Model;
use crate::app::overlay::Help;
use crate::app::resolve;
use crate::ui::look::Look;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};
use ratatui::layout::{Position, Rect};

/// Draws the help screen; returns where the cursor belongs while the filter is typed.
pub fn draw(model: &Model, help: &Help, body: Rect, on: &mut Surface) -> Option<Position> {
    let title = if help.craft { "The craft, then keys" } else { "Keys, then the craft" };
    let area = boxed(body, 100, body.height, title, on);
    let (mut lines, starts) = lines(model, help, usize::from(area.width), on.look);
    let room = usize::from(area.height.saturating_sub(1));
    let found = help.found.and_then(|f| f.row(starts.len()));
    let start = found.and_then(|n| starts.get(n)).copied();
    if let Some(line) = start.and_then(|at| lines.get_mut(at)) {
        for (_, style) in line.iter_mut() {
            *style = on.look.theme.picked;
        }
    }
    let wanted = start.map_or(help.top, |at| at.saturating_sub(room / 3));
    let top = wanted.min(lines.len().saturating_sub(room));
    let more = lines.len().saturating_sub(top + room);
    for (n, line) in lines.iter().skip(top).take(room).enumerate() {
        on.put(area, 0, n as u16, line);
    }
    let bottom = area.height.saturating_sub(1);
    if help.is_typing || !help.filter.text().is_empty() {
        on.put(
            area,
            0,
            bottom,
            &[
                run("/ ", on.look.theme.key),
                run(help.filter.text(), on.look.theme.text),
                run(counted(help, found, starts.len()), on.look.theme.dim),
            ],
        );
        let column = help.filter.cursor_column() as u16;
        return help.is_typing.then(|| Position::new(area.x + 2 + column, area.y + bottom));
    }
    if more > 0 {
        on.put(area, 0, bottom, &[run(format!("{more} more below"), on.look.theme.dim)]);
    }
    None
}

/// Which match of how many, once the search is typed.
fn counted(help: &Help, found: Option<usize>, of: usize) -> String {
    match found {
        _ if help.is_typing => String::new(),
        Some(n) => format!("   {} of {of}, n next, N before", n + 1),
        None => format!("   {}, n goes through them", text::count(of as u64, "match", "matches")),
    }
}

/// Lines, and on which of them each match begins.
type Listed = (Vec<Vec<Run>>, Vec<usize>);

/// Columns that the keys take before the sentence.
const KEYS: usize = 14;

fn lines(model: &Model, help: &Help, width: usize, look: &Look) -> Listed {
    let keys = key_lines(model, help, width, look);
    let craft = craft_lines(help, width, look);
    let ((mut out, mut starts), second) = if help.craft { (craft, keys) } else { (keys, craft) };
    if !out.is_empty() && !second.0.is_empty() {
        out.push(Vec::new());
    }
    starts.extend(second.1.iter().map(|at| at + out.len()));
    out.extend(second.0);
    if out.is_empty() {
        out.push(vec![run("Nothing matches. Esc shows everything again.", look.theme.dim)]);
    }
    (out, starts)
}

fn key_lines(model: &Model, help: &Help, width: usize, look: &Look) -> Listed {
    let theme = &look.theme;
    let (mut out, mut starts) = (Vec::new(), Vec::new());
    for context in order(model) {
        let rows = keys_of(model, help, context);
        if rows.is_empty() {
            continue;
        }
        if !out.is_empty() {
            out.push(Vec::new());
        }
        out.push(vec![run(context.title(), theme.title)]);
        for c in rows {
            let keys = text::left(&model.keymap.texts(c.id).join(" "), KEYS, look.glyphs.ellipsis);
            let style = if resolve::holds(model, c.when) { theme.text } else { theme.dim };
            let mut first = Some(keys);
            starts.push(out.len());
            for words in text::wrap(c.line, width.saturating_sub(KEYS + 1)) {
                let keys = first.take().unwrap_or_else(|| " ".repeat(KEYS));
                out.push(vec![run(keys, theme.key), run(" ", style), run(words, style)]);
            }
        }
    }
    (out, starts)
}

fn craft_lines(help: &Help, width: usize, look: &Look) -> Listed {
    let theme = &look.theme;
    let (mut out, mut starts) = (Vec::new(), Vec::new());
    for topic in craft(help) {
        starts.push(out.len());
        out.push(vec![run(&topic.title, theme.title)]);
        let body = text::wrap(&topic.text, width).into_iter().map(|l| vec![run(l, theme.text)]);
        out.extend(body);
        let source = text::wrap(&format!("Source: {}", topic.source), width);
        out.extend(source.into_iter().map(|l| vec![run(l, theme.dim)]));
        out.push(Vec::new());
    }
    out.pop();
    (out, starts)
}
