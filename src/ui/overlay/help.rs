//! All keys from the table of commands, and the words of the craft, narrowed by what is typed.

use super::frame::boxed;
use super::ways::ways_runs;
use crate::app::commands::Command;
use crate::app::help::{craft, keys_of, order};
use crate::app::model::Model;
use crate::app::overlay::Help;
use crate::app::resolve;
use crate::domain::craft::Topic;
use crate::ui::look::Look;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};
use ratatui::layout::{Position, Rect};

/// Draws the help screen; returns where the cursor belongs: in the filter while it is typed, else at the match in hand or at the
/// first row.
pub fn draw_help(model: &Model, help: &Help, body: Rect, on: &mut Surface) -> Position {
    let title = if help.craft { "The craft, then keys" } else { "Keys, then the craft" };
    let area = boxed(body, 104, body.height, title, on);
    let list = Listed::of(model, help, usize::from(area.width));
    let found = help.found.and_then(|f| f.row(list.matches.len()));
    let picked = found.and_then(|n| list.matches.get(n).copied());
    let room = usize::from(area.height.saturating_sub(1));
    let wanted = picked.map_or(help.top, |n| list.starts[n].saturating_sub(room / 3));
    let top = wanted.min(list.end.saturating_sub(room));
    list.draw(model, Rect { height: room as u16, ..area }, (top, picked), on);
    let more = list.end.saturating_sub(top + room);
    let bottom = area.height.saturating_sub(1);
    if help.is_typing || !help.filter.text().is_empty() {
        let mut runs = vec![
            run("/", on.look.theme.key),
            run(" ", on.look.theme.text),
            run(help.filter.text(), on.look.theme.text),
        ];
        runs.extend(counted(help, found, list.matches.len(), on.look));
        on.put(area, 0, bottom, &runs);
        let column = help.filter.cursor_column() as u16;
        if help.is_typing {
            return Position::new(area.x + 2 + column, area.y + bottom);
        }
        let row = picked.and_then(|n| list.starts[n].checked_sub(top)).unwrap_or(0);
        return Position::new(area.x, area.y + row as u16);
    }
    if more > 0 {
        let words = format!("{more} more below   ( ): nothing to do it to right now");
        on.put(area, 0, bottom, &[run(words, on.look.theme.dim)]);
    }
    Position::new(area.x, area.y)
}

/// Which match of how many, once the search is typed.
fn counted(help: &Help, found: Option<usize>, of: usize, look: &Look) -> Vec<Run> {
    let (key, dim) = (|key: &str| run(key, look.theme.key), |words: &str| run(words, look.theme.dim));
    match found {
        _ if help.is_typing => Vec::new(),
        Some(n) => {
            vec![dim(&format!("   {} of {of}, ", n + 1)), key("n"), dim(" next, "), key("N"), dim(" before")]
        }
        None => {
            let matches = text::count(of as u64, "match", "matches");
            vec![dim(&format!("   {matches}, ")), key("n"), dim(" goes through them")]
        }
    }
}

/// Columns that the keys take before the sentence.
const KEYS: usize = 17;

/// A part of the list. Of all parts only the rows are counted: lines are made for those in view.
enum Part {
    Gap,
    Heading(&'static str),
    Key(&'static Command),
    Topic(&'static Topic),
    Nothing,
}

impl Part {
    /// True for what the search goes through.
    const fn is_match(&self) -> bool {
        matches!(self, Self::Key(_) | Self::Topic(_))
    }

    fn rows(&self, width: usize) -> usize {
        match self {
            Self::Gap | Self::Heading(_) | Self::Nothing => 1,
            Self::Key(c) => text::rows(c.line, beside_keys(width)),
            Self::Topic(t) => 1 + text::rows(&t.text, width) + text::rows(&source(t), width),
        }
    }

    fn lines(&self, model: &Model, width: usize, look: &Look) -> Vec<Vec<Run>> {
        let theme = &look.theme;
        match self {
            Self::Gap => vec![Vec::new()],
            Self::Heading(words) => vec![vec![run(*words, theme.title)]],
            Self::Nothing => vec![vec![run("Nothing matches. Esc shows everything again.", theme.dim)]],
            Self::Key(c) => key_lines(model, c, width, look),
            Self::Topic(t) => {
                let mut out = vec![vec![run(&t.title, theme.title)]];
                out.extend(text::wrap(&t.text, width).into_iter().map(|l| vec![run(l, theme.text)]));
                out.extend(text::wrap(&source(t), width).into_iter().map(|l| vec![run(l, theme.dim)]));
                out
            }
        }
    }
}

fn beside_keys(width: usize) -> usize {
    width.saturating_sub(KEYS + 1)
}

fn source(topic: &Topic) -> String {
    format!("Source: {}", topic.source)
}

/// All parts, and the row on which each begins.
struct Listed {
    parts: Vec<Part>,
    starts: Vec<usize>,
    /// Rows in all.
    end: usize,
    /// Which parts the search goes through.
    matches: Vec<usize>,
}

impl Listed {
    fn of(model: &Model, help: &Help, width: usize) -> Self {
        let parts = parts(model, help);
        let mut end = 0;
        let mut begin = |part: &Part| {
            let start = end;
            end += part.rows(width);
            start
        };
        let starts = parts.iter().map(&mut begin).collect();
        let matches = (0..parts.len()).filter(|n| parts[*n].is_match()).collect();
        Self { parts, starts, end, matches }
    }

    /// Draws the rows from `top` on; of the picked part the first row is marked.
    fn draw(&self, model: &Model, area: Rect, (top, picked): (usize, Option<usize>), on: &mut Surface) {
        let width = usize::from(area.width);
        let bottom = top + usize::from(area.height);
        let first = self.starts.partition_point(|start| *start <= top).saturating_sub(1);
        for (n, start) in self.starts.iter().enumerate().skip(first).take_while(|(_, start)| **start < bottom)
        {
            for (row, mut line) in self.parts[n].lines(model, width, on.look).into_iter().enumerate() {
                if picked == Some(n) && row == 0 {
                    for (_, style) in &mut line {
                        *style = on.look.theme.picked;
                    }
                }
                if let Some(y) = (start + row).checked_sub(top) {
                    on.put(area, 0, y as u16, &line);
                }
            }
        }
    }
}

/// All parts in the order shown.
fn parts(model: &Model, help: &Help) -> Vec<Part> {
    let (keys, craft) = (key_parts(model, help), craft_parts(help));
    let (mut all, second) = if help.craft { (craft, keys) } else { (keys, craft) };
    if !all.is_empty() && !second.is_empty() {
        all.push(Part::Gap);
    }
    all.extend(second);
    if all.is_empty() {
        all.push(Part::Nothing);
    }
    all
}

fn key_parts(model: &Model, help: &Help) -> Vec<Part> {
    let mut all = Vec::new();
    for context in order(model) {
        let rows = keys_of(model, help, context);
        if rows.is_empty() {
            continue;
        }
        if !all.is_empty() {
            all.push(Part::Gap);
        }
        all.push(Part::Heading(context.title()));
        all.extend(rows.into_iter().map(Part::Key));
    }
    all
}

fn craft_parts(help: &Help) -> Vec<Part> {
    let mut all: Vec<Part> = craft(help).into_iter().flat_map(|t| [Part::Topic(t), Part::Gap]).collect();
    all.pop();
    all
}

fn key_lines(model: &Model, c: &Command, width: usize, look: &Look) -> Vec<Vec<Run>> {
    let theme = &look.theme;
    let is_live = resolve::holds(model, c.when);
    let style = if is_live { theme.text } else { theme.dim };
    // In words too: gray is no gray where no color is shown.
    let words = if is_live { c.line.to_owned() } else { format!("({})", c.line) };
    let mut keys = Some(ways_runs(&model.keymap.texts(c.id), KEYS, look));
    let line = |words| {
        let mut runs = keys.take().unwrap_or_default();
        let used: usize = runs.iter().map(|(words, _)| text::width(words)).sum();
        runs.extend([run(" ".repeat((KEYS + 1).saturating_sub(used)), style), run(words, style)]);
        runs
    };
    text::wrap(&words, beside_keys(width)).into_iter().map(line).collect()
}
