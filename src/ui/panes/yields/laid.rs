//! The layout of the size in hand beside the chart or a list: its counts both ways and mixed, the drawing, the cuts.
//!
//! ```text
//! 2 x 3 in on letter, 8 1/2 x 11 in       +--1--2---+-------+
//! > 14 a sheet   upright 12   turned 10   | 1  | 2  |   3   |
//! 10 % left over; slack ...               +----+----+-------+
//! 8 cuts at 3 fence settings
//! ```

use super::drawn_key::key_below;
use crate::app::model::Model;
use crate::app::panes::laid::shown;
use crate::app::panes::yields::words;
use crate::app::state::laid::LaidAsk;
use crate::app::state::views::YieldView;
use crate::app::state::yields::step_rows;
use crate::domain::cutting::one_size::{SheetYield, sheets_for};
use crate::domain::plural::count_of;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::diagram::{Diagram, scaled};
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Fewest columns and rows that say something.
pub(super) const FEW: (u16, u16) = (34, 12);
/// Columns that words beside a drawing need; columns from which they stand there in a low room.
const WORDS: u16 = 34;
const LOW: u16 = 24;
/// Rows of its words above the drawing at the least, and columns in which none of them is wrapped.
const ABOVE: u16 = 6;
const FULL_WORDS: u16 = 48;
/// Columns from which the count says what it is of.
const COUNTS: u16 = 44;
/// Columns from which steps are told in full.
const IN_FULL: u16 = 80;

/// True where something in hand has a layout.
pub(super) fn is_there(model: &Model) -> bool {
    shown(&model.yields, &model.ctx()).is_some()
}

/// Columns that it takes at the most where it stands at the right of an area: those of its words, or of the drawing below them.
pub(super) fn widest(model: &Model, area: Rect) -> u16 {
    let ctx = model.ctx();
    let Some((asked, _)) = shown(&model.yields, &ctx) else { return area.width };
    let room = Rect { height: area.height.saturating_sub(ABOVE), ..area };
    let drawn = scaled(asked.question.sheet.actual(), room).map_or(0, |(columns, _)| columns + 1);
    drawn.max(FULL_WORDS)
}

/// Draws it; nothing before it is worked out.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) {
    if area.width < FEW.0 || area.height < FEW.1 {
        return;
    }
    let ctx = model.ctx();
    let Some((asked, found)) = shown(&model.yields, &ctx) else { return };
    let sheet = &asked.question.sheet;
    let piece = asked.question.piece.show_with_unit(model.screen.unit);
    let size = sheet.actual().as_made_and_own(model.screen.unit);
    // An offcut has its size in its name.
    let of = if sheet.name.contains(&sheet.actual().as_made(model.screen.unit)) {
        String::new()
    } else {
        format!(", {size}")
    };
    let title = format!("{piece} on {}{of}", sheet.name);
    let y = on.paragraph(area, 0, &title, on.look.theme.title);
    let rest = Rect { y: area.y + y, height: area.height - y, ..area };
    let Some(answer) = found else {
        on.put(rest, 0, 0, &[run("its layout is being worked out", on.look.theme.dim)]);
        return;
    };
    if answer.best == 0 {
        on.put(rest, 0, 0, &[run("It does not fit this sheet.", on.look.theme.text)]);
        return;
    }
    if rest.height < LOW && rest.width >= WORDS * 2 {
        let drawn = scaled(answer.sheet, rest).map_or(0, |(columns, _)| columns + 5);
        let left = Rect { width: drawn.min(rest.width - WORDS), ..rest };
        drawing(model, asked, answer, left, on);
        let x = rest.x + left.width;
        counts(model, (asked, answer), Rect { x, width: rest.right().saturating_sub(x), ..rest }, on);
        return;
    }
    let y = counts_rows(model, answer, rest.width).min(rest.height / 2);
    let words = Rect { height: y, ..rest };
    counts(model, (asked, answer), words, on);
    let room = Rect { y: rest.y + y + 1, height: rest.height.saturating_sub(y + 1), ..rest };
    drawing(model, asked, answer, room, on);
}

fn drawing(model: &Model, asked: &LaidAsk, answer: &SheetYield, room: Rect, on: &mut Surface) {
    let paper = asked.paper.map(|id| Painted::item(model, id, on.look));
    let steps: Vec<_> = step_rows(answer, model.screen.unit).into_iter().map(|r| r.cuts).collect();
    let layout = &answer.layout;
    let diagram = Diagram { sheet: answer.sheet, layout, steps: &steps, in_hand: None, names: None, paper };
    diagram.draw(room, on);
    // The chart says it below its table; a drawing as high as its room has no row for it.
    let has_row = diagram.cells(room).is_some_and(|(_, rows)| rows < room.height);
    if has_row && model.yields.view != YieldView::Chart {
        key_below(&diagram, (room, room), on);
    }
}

/// What is said of it, a line each: waste and slack first, then the cuts.
fn lines(model: &Model, a: &SheetYield, width: u16) -> Vec<String> {
    let (pane, unit) = (&model.yields, model.screen.unit);
    let used = a.piece.area() * i128::from(a.best);
    let whole = a.sheet.area().max(1);
    let left = (200 * (whole - used) + whole) / (2 * whole);
    let mut all = vec![format!("{left} % left over"), format!("slack {}", words::slack_of(a, unit))];
    if let Some((count, (sheets, spare))) = pane.count.and_then(|n| Some((n, sheets_for(n, a.best)?))) {
        all.push(words::sheets_for_words(sheets, count, spare));
    }
    all.push(words::cuts_words(a, pane.trimmer.profile.set_by));
    let rows = step_rows(a, unit).into_iter().map(|row| if width >= IN_FULL { row.full } else { row.short });
    all.extend(rows.enumerate().map(|(n, row)| format!("{:>2} {row}", n + 1)));
    all
}

fn counts_rows(model: &Model, a: &SheetYield, width: u16) -> u16 {
    1 + lines(model, a, width).iter().map(|l| text::rows(l, usize::from(width)) as u16).sum::<u16>()
}

fn counts(model: &Model, (asked, a): (&LaidAsk, &SheetYield), area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let way = if a.gain() > 0 { " mixed" } else { "" };
    let of = if asked.question.sheet.is_offcut { " from it" } else { " a sheet" };
    let of = if area.width < COUNTS { "" } else { of };
    let turned = words::turned_words(a.turned, asked.question.may_turn);
    let runs = [
        run(format!("{} {}{of}{way}", on.look.glyphs.best, a.best), theme.good),
        run(format!("   upright {}   {turned}", a.upright), theme.text),
    ];
    on.put(area, 0, 0, &runs);
    let mut y = 1;
    let all = lines(model, a, area.width);
    for (n, line) in all.iter().enumerate() {
        let counted = u16::from(n + 1 < all.len());
        if y + text::rows(line, usize::from(area.width)) as u16 + counted > area.height {
            let more = count_of((all.len() - n) as u64, "more line");
            on.put(area, 0, y, &[run(more, theme.dim)]);
            return;
        }
        let style = if n < 2 { theme.text } else { theme.dim };
        // A step keeps its columns where it is whole in one row.
        if text::width(line) <= usize::from(area.width) {
            on.put(area, 0, y, &[run(line, style)]);
            y += 1;
        } else {
            y = on.paragraph(area, y, line, style);
        }
    }
}
