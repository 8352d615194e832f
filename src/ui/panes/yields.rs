//! Yield: what was asked, the three counts with the winner marked, the sheet to scale, the cuts as steps; or the chart.
//!
//! ```text
//! Sheet  letter 8 1/2 x 11 in             +--1--2---+-------+
//! Piece  2 x 3 in                         | 1  | 2  |   3   |
//! upright 12   turned 10   > best 14      +----+----+-------+
//! 2 more than all one way                 | 4  | 5  |   6   |
//! slack ...                               +----+----+-------+
//! cuts: fence, along, strokes             |.................|
//! ```

mod chart;

use crate::app::facts;
use crate::app::model::Model;
use crate::domain::cutting::one_size::Answer;
use crate::domain::cutting::question::Preference;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::diagram::Diagram;
use crate::ui::widgets::lines::{paragraph, put, run};
use crate::ui::widgets::table::first_shown;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::widgets::Widget;

/// Draws the pane.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    if model.yields.chart_open {
        return chart::draw(model, area, buf, look);
    }
    let width = left_width(area);
    let left = Rect { width, ..area };
    let right = Rect { x: area.x + width + 2, width: area.width.saturating_sub(width + 2), ..area };
    let after = asked(model, left, buf, look);
    let Some(answer) = model.yields.current_answer() else {
        put(buf, left, 0, after + 1, &[run("working it out", look.theme.dim)], look);
        return None;
    };
    let after = counts(model, answer, left, after + 1, buf, look);
    sheet(model, answer, right, buf, look);
    let steps = Rect { y: left.y + after + 1, height: left.height.saturating_sub(after + 1), ..left };
    list(model, answer, steps, buf, look)
}

/// The numbers and steps keep a readable width; the drawing takes the rest.
fn left_width(area: Rect) -> u16 {
    (area.width / 2).clamp(38, 64).min(area.width)
}

/// What was asked; returns the row after it.
fn asked(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> u16 {
    let (pane, unit, theme) = (&model.yields, model.screen.unit, &look.theme);
    let sheet = &pane.sheet.sheet;
    let label = |words: &str| run(text::left(words, 7, ""), theme.dim);
    let mut y = 0;
    let held = pane.sheet.paper.map(|id| format!("  {} on hand", model.book.on_hand(id))).unwrap_or_default();
    let size = sheet.actual().show_with_unit(unit);
    put(
        buf,
        area,
        0,
        y,
        &[label("Sheet"), run(format!("{} ", sheet.name), theme.title), run(held, theme.dim)],
        look,
    );
    y += 1;
    let measured = if sheet.measured.is_some() { ", as measured" } else { "" };
    let lost = if sheet.usable().size == sheet.actual() {
        String::new()
    } else {
        format!(", {} usable", sheet.usable().size.show(unit))
    };
    put(buf, area, 0, y, &[label(""), run(format!("{size}{measured}{lost}"), theme.text)], look);
    y += 1;
    let piece = pane.piece;
    put(
        buf,
        area,
        0,
        y,
        &[
            label("Piece"),
            run(piece.show_with_unit(unit), theme.title),
            run(format!("  {}", piece.about(unit.other())), theme.dim),
        ],
        look,
    );
    y += 1;
    let mut wishes = vec![if pane.may_turn { "may turn" } else { "must stay upright" }.to_owned()];
    if let Some(n) = pane.count {
        wishes.insert(0, format!("{n} wanted"));
    }
    if pane.preference == Preference::LargestOffcut {
        wishes.push("biggest offcut".to_owned());
    }
    if let Some(l) = pane.trimmer.longest_cut {
        wishes.push(format!("cuts to {}", l.about(unit)));
    }
    put(buf, area, 0, y, &[label(""), run(wishes.join(&format!(" {} ", look.glyphs.dot)), theme.text)], look);
    y + 1
}

/// The three counts, gain, slack, sheets; returns the row after them.
fn counts(model: &Model, a: &Answer, area: Rect, y: u16, buf: &mut Buffer, look: &Look) -> u16 {
    let theme = &look.theme;
    let best = look.glyphs.best;
    put(
        buf,
        area,
        0,
        y,
        &[
            run(format!("{best} {} a sheet", a.best), theme.good),
            run(format!("   upright {}", a.upright), theme.text),
            run(format!("   turned {}", a.turned), theme.text),
        ],
        look,
    );
    let proof = if a.proved { "proved best" } else { "best found" };
    let words = format!("{}, {proof}.", facts::gain_words(model));
    let mut row = paragraph(buf, area, y + 1, &capital(&words), theme.text, look);
    let exact = a.best > 0 && !(a.slack.width.is_positive() && a.slack.height.is_positive());
    let slack = format!("Slack {}.", facts::slack_words(model));
    row = paragraph(buf, area, row, &slack, if exact { theme.warn } else { theme.dim }, look);
    if let (Some(count), Some((sheets, spare))) = (model.yields.count, model.yields.sheets_needed()) {
        let sheets = text::count(sheets, "sheet", "sheets");
        let words = format!("{sheets} for {count}, {spare} to spare.");
        row = paragraph(buf, area, row, &words, theme.title, look);
    }
    row
}

fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default()
}

fn sheet(model: &Model, a: &Answer, area: Rect, buf: &mut Buffer, look: &Look) {
    let room = Rect { height: area.height.saturating_sub(1), ..area };
    let in_hand = model.yields.step.row(a.steps.len());
    let steps: Vec<_> = a.steps.iter().map(|s| s.cuts.clone()).collect();
    Diagram { sheet: a.sheet, layout: &a.layout, steps: &steps, in_hand, look }.render(room, buf);
    let waste = look.glyphs.waste;
    let legend = format!("t turned  {waste} offcut  numbers on lines: steps");
    put(buf, area, 0, area.height.saturating_sub(1), &[run(legend, look.theme.dim)], look);
}

/// The steps, one a line, and the one in hand in full below.
fn list(model: &Model, a: &Answer, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    let (steps, theme, unit) = (&a.steps, &look.theme, model.screen.unit);
    if steps.is_empty() {
        let words = if a.best == 0 {
            "Nothing to cut. Press p for another size or s for another sheet."
        } else {
            "No cut is needed: the sheet is the piece."
        };
        paragraph(buf, area, 0, words, theme.text, look);
        return None;
    }
    let picked = model.yields.step.row(steps.len())?;
    let full = steps.get(picked).map(|s| s.words(unit)).unwrap_or_default();
    let lines = text::wrap(&full, usize::from(area.width)).len() as u16;
    let room = usize::from(area.height.saturating_sub(lines + 2).max(1));
    let settings = text::count(a.settings as u64, "fence setting", "fence settings");
    let strokes = steps.first().map_or(0, |s| s.of_strokes);
    let heading = format!("{} at {settings}", text::count(u64::from(strokes), "cut", "cuts"));
    put(buf, area, 0, 0, &[run(heading, theme.title)], look);
    let first = first_shown(picked, steps.len(), room);
    let mut at = None;
    for (n, step) in steps.iter().enumerate().skip(first).take(room) {
        let y = 1 + (n - first) as u16;
        let is_picked = n == picked;
        let style = if is_picked { theme.picked } else { theme.text };
        let sign = if is_picked { look.glyphs.pick } else { " " };
        let words = format!(
            "{:>3}  fence {:<8} cut {:<8} {}",
            n + 1,
            step.fence.about(unit),
            step.along.about(unit),
            step.short_words(unit)
        );
        let words = text::left(&words, usize::from(area.width.saturating_sub(1)), look.glyphs.ellipsis);
        put(buf, area, 0, y, &[run(sign, theme.key), run(words, style)], look);
        if is_picked {
            at = Some(Position::new(area.x, area.y + y));
        }
    }
    let below = 1 + room.min(steps.len()) as u16;
    paragraph(buf, area, below, &full, theme.text, look);
    at
}
