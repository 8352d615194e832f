//! The further answers of Yield: heading, sentences, the list; beside it, for a sheet that is used up, the layout and its
//! cards.
//!
//! ```text
//! 12x12: 12 x 12 in used up for fronts of ...   +---+---+
//! > 25 cards, 3 sizes of panel, 1 setting       | 1 | 2 |
//!   24 cards, ...                               +---+---+
//! fence at 2 1/8 in                             [ ] [ ] [ ]
//! ```

use super::{beside, laid, listed};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::further::words::{FurtherPage, page};
use crate::app::state::further::{FurtherAsk, FurtherFound};
use crate::domain::cutting::geometry::{Panel, Placed};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::plan_words::kind_letter;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::steps;
use crate::domain::cutting::used_up::{Suggestion, UsedUpAsk};
use crate::domain::size::Size;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::diagram::{Diagram, scaled};
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// Columns from which a drawing stands beside the list.
const WIDE: u16 = 76;
/// The same for the layout of the row in hand, which is asked for where there is room.
const VERY_WIDE: u16 = 116;
/// Rows from which a table has a blank row above it.
const HIGH: u16 = 24;
/// Rows below a table for the same size on what else is held.
const BELOW: u16 = 14;
/// Most rows of the fronts below a layout.
const FRONTS: u16 = 9;

/// Draws the view; returns where the cursor belongs.
pub fn draw_further(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let page = page(&model.yields, &model.ctx());
    let used = used_up(model);
    let is_laid = used.is_none() && area.width >= VERY_WIDE && laid::is_there(model);
    let has_drawing = is_laid || used.is_some() && area.width >= WIDE;
    let mut width = if has_drawing { area.width * 11 / 20 } else { area.width };
    if is_laid {
        // What the layout leaves at its side is the list's.
        width = width.max(area.width.saturating_sub(laid::widest(model, area) + 2));
    }
    let left = Rect { width, ..area };
    let at = match listed::rows(model) {
        Some(rows) => table(model, (&page, rows), left, on),
        None => list(model, &page, left, on),
    };
    let right = Rect { x: area.x + width + 2, width: area.width.saturating_sub(width + 2), ..area };
    match used {
        Some((ask, one)) if has_drawing => drawing(ask, one, right, on),
        None if has_drawing => laid::draw(model, right, on),
        _ => {}
    }
    at
}

/// The suggestion in hand.
fn used_up(model: &Model) -> Option<(&UsedUpAsk, &Suggestion)> {
    let further = &model.yields.further;
    let (FurtherAsk::UsedUp(ask, ..), FurtherFound::UsedUp(used)) = further.both()? else { return None };
    Some((ask, used.suggestions.get(further.picked()?)?))
}

/// What was asked and what holds for all of it; returns the row after it.
fn head(page: &FurtherPage, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let mut y = on.paragraph(area, 0, &page.heading, theme.title);
    for line in &page.lines {
        y = on.paragraph(area, y, line, theme.dim);
    }
    y
}

/// The answer as a table; below it, where the size in hand is one of a scrap, the same size on what else is held.
fn table(model: &Model, (page, rows): (&FurtherPage, u16), area: Rect, on: &mut Surface) -> Option<Position> {
    let y = head(page, area, on) + u16::from(area.height >= HIGH);
    let room = Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area };
    if model.yields.beside.asked.is_some() && matches!(model.yields.further.asked, Some(FurtherAsk::Scrap(_)))
    {
        // A long list leaves some rows for it in a high window.
        let most = if room.height >= HIGH + BELOW { room.height - BELOW } else { room.height };
        let used = (rows + 1).min(most);
        beside::draw_beside(model, Rect { y: room.y + used, height: room.height - used, ..room }, on);
        return listed::draw(model, Rect { height: rows.min(used.saturating_sub(1)), ..room }, on);
    }
    listed::draw(model, Rect { height: rows.min(room.height), ..room }, on)
}

fn list(model: &Model, page: &FurtherPage, area: Rect, on: &mut Surface) -> Option<Position> {
    let theme = &on.look.theme;
    let mut y = head(page, area, on) + 1;
    let room = area.height.saturating_sub(y);
    // What is said of the row in hand has the lower half where there is enough for both.
    let below = if page.detail.is_empty() { 0 } else { room / 2 };
    let rows = usize::from(room - below);
    let picked = model.yields.further.cursor.row(page.rows.len())?;
    let wrapped: Vec<Vec<String>> =
        page.rows.iter().map(|r| text::wrap(r, usize::from(area.width.saturating_sub(2)))).collect();
    let first = first_row(&wrapped, picked, rows);
    let mut at = None;
    on.hits.add(Rect { y: area.y + y, height: rows as u16, ..area }, Spot::In(List::Further));
    let (end, mut shown) = (y + rows as u16, 0);
    let top = y;
    for (n, lines) in wrapped.iter().enumerate().skip(first) {
        if y + lines.len() as u16 > end {
            break;
        }
        let is_picked = n == picked;
        let (sign, style) = if is_picked { (on.look.glyphs.pick, theme.picked) } else { (" ", theme.text) };
        on.hits.add(Rect { y: area.y + y, height: lines.len() as u16, ..area }, Spot::Row(List::Further, n));
        if is_picked {
            at = Some(Position::new(area.x, area.y + y));
        }
        for (m, line) in lines.iter().enumerate() {
            on.put(
                area,
                0,
                y,
                &[run(if m == 0 { sign } else { " " }, theme.mark), run(format!(" {line}"), style)],
            );
            y += 1;
        }
        shown += 1;
    }
    let hidden = wrapped.len() - shown;
    if hidden > 0 {
        // In the blank row above the list.
        on.put(area, 1, top - 1, &[run(format!("{hidden} hidden"), theme.dim)]);
    }
    let below = Rect { y: area.y + end, height: area.height.saturating_sub(end), ..area };
    detail(page, below, on);
    at
}

/// The first row that is shown, so that the picked one is.
fn first_row(rows: &[Vec<String>], picked: usize, room: usize) -> usize {
    let most = rows.iter().map(Vec::len).max().unwrap_or(1).max(1);
    first_shown(picked, rows.len(), (room / most).max(1))
}

fn detail(page: &FurtherPage, area: Rect, on: &mut Surface) {
    if page.detail.is_empty() || area.height < 2 {
        return;
    }
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, on.look.theme.line)]);
    let mut y = 1;
    for line in &page.detail {
        y = on.paragraph(area, y, line, on.look.theme.text);
    }
}

/// The layout, and below it a front with its panel for each size, in the letters of the layout.
fn drawing(ask: &UsedUpAsk, one: &Suggestion, area: Rect, on: &mut Surface) {
    let list = steps::cut_list(ask.sheet, &one.tree, &Trimmer::default(), 1);
    let names: Vec<String> = list.layout.pieces.iter().map(|p| kind_letter(p.piece)).collect();
    let fronts = FRONTS.min(area.height / 3);
    let room = Rect { height: area.height.saturating_sub(fronts + 2), ..area };
    let groups: Vec<_> = list.steps.iter().map(|s| s.cuts.clone()).collect();
    let (layout, names) = (&list.layout, Some(names.as_slice()));
    Diagram { sheet: ask.sheet, layout, steps: &groups, in_hand: None, names, paper: None }.draw(room, on);
    let mut x = 0;
    for (n, (panel, count)) in one.panels.iter().enumerate() {
        let place =
            Rect { x: area.x + x, y: room.bottom(), width: area.width.saturating_sub(x), height: fronts };
        let Some((columns, _)) = scaled(ask.front, place) else { break };
        if columns + 1 > place.width || place.width < 6 {
            break;
        }
        front(ask.front, *panel, place, on);
        let words = format!("{count} {} {}", on.look.glyphs.times, kind_letter(n));
        on.put(place, 0, fronts, &[run(words, on.look.theme.dim)]);
        x += columns.max(6) + 3;
    }
}

/// One front with its panel in the middle.
fn front(face: Size, panel: Size, area: Rect, on: &mut Surface) {
    let at = |whole: crate::domain::length::Length, part| (whole - part).half();
    let placed = Placed {
        piece: 0,
        turned: false,
        panel: Panel { x: at(face.width, panel.width), y: at(face.height, panel.height), size: panel },
    };
    let layout = Layout { pieces: vec![placed], ..Layout::default() };
    let names = [String::new()];
    Diagram { sheet: face, layout: &layout, steps: &[], in_hand: None, names: Some(&names), paper: None }
        .draw(area, on);
}
