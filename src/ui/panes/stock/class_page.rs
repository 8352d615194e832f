//! One class: its figures, and everything that follows from them.
//!
//! ```text
//! Hedgerow notes  open                    Its plan takes 20 sheets. Nothing is short.
//! name        Hedgerow notes               item          need cut booked short   cost
//! day         2026-12-12                   chalk, letter   12   -     12     -   1.80
//! seats       12                           material                              6.40
//! material        $6.40                    1 bramble note, base  5 1/2 x 8 1/2   31
//! break-even      $1.10                    what is due: 2026-12-11 cut 20 sheets
//! ```

use super::class_look::{DayPart, Look, heading};
use super::shared::{below, rule};
use crate::app::action::List;
use crate::domain::figures::ProjectField;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::Rect;

/// Screens at least this wide have the figures beside the tables, at the whole height.
const BROAD: u16 = 108;
/// Columns of a figure's word.
const WORD: usize = 24;
/// Rows below the figures on the lowest screens: a rule, how it stands, the lists.
const UNDER: u16 = 7;
/// Columns that the costs take beside the table on a narrow screen.
const COSTS: u16 = 29;

/// Draws it; returns the row of the figure in hand.
pub(super) fn draw(look: Look<'_>, area: Rect, on: &mut Surface) -> Option<u16> {
    let amiss = look.model.stock.picked_class().and_then(|id| look.model.stock.classes.state_of(id));
    let (state, style) = match amiss {
        Some(words) => (words, on.look.theme.bad),
        None => (look.project.progress.word(), on.look.theme.dim),
    };
    // A name may have a comma of its own.
    let name = format!("{}  ", look.project.name);
    on.put(area, 0, 0, &[run(name, on.look.theme.title), run(state, style)]);
    if area.width >= BROAD { broad(look, area, on) } else { narrow(look, area, on) }
}

/// Figures and money at the left, tables and days at the right.
fn broad(look: Look<'_>, area: Rect, on: &mut Surface) -> Option<u16> {
    let wide = if area.width >= 150 { 58 } else { 46 };
    let left = below(Rect { width: wide, ..area }, 1);
    let right = Rect { x: left.right() + 2, width: area.width.saturating_sub(wide + 2), ..area };
    let (mut y, at) = figures(look, left, on);
    y += 1;
    y = heading("money", left, y, on);
    y += look.money(below(left, y), on) + 1;
    if y + 5 < left.height {
        y = heading("how far it has come", left, y, on);
        y += look.stages(below(left, y), on) + 1;
    }
    // Its days stand under the figures where they have room there: how it is cut needs that at the right.
    let (_, more) =
        look.whole_parts(&[DayPart::Due, DayPart::Note, DayPart::Others, DayPart::Used], below(left, y), on);
    let mut y = look.standing(Rect { height: 4.min(right.height), ..right }, on) + 1;
    y += look.needs(below(right, y), on) + 1;
    y += look.kit(below(right, y), on) + 1;
    y += look.notes(below(right, y), on);
    y += u16::from(!look.outlook.notes.is_empty());
    let is_due = more.contains(&DayPart::Due);
    let first = if is_due { vec![DayPart::Due, DayPart::Cuts] } else { vec![DayPart::Cuts] };
    let rest = more.into_iter().filter(|part| *part != DayPart::Due);
    let parts: Vec<DayPart> = first.into_iter().chain(rest).collect();
    days_and_designs(look, &parts, below(right, y), on);
    at
}

/// Its days at the left, the cards drawn at the right of it, as large as there is room.
fn days_and_designs(look: Look<'_>, parts: &[DayPart], area: Rect, on: &mut Surface) {
    let days = if area.width >= 90 { area.width / 2 - 2 } else { area.width };
    look.dates(parts, Rect { width: days, ..area }, on);
    let x = area.x + days + 2;
    look.designs(Rect { x, width: area.right().saturating_sub(x), ..area }, on);
}

/// Figures and kit above, the table and what it costs below.
fn narrow(look: Look<'_>, area: Rect, on: &mut Surface) -> Option<u16> {
    let rows = ProjectField::of(look.project).len() as u16;
    let most =
        if area.height >= 34 { rows } else { rows.min(9).min(area.height.saturating_sub(UNDER).max(3)) };
    let left =
        Rect { y: area.y + 1, width: 48.min(area.width * 3 / 5 + 2), height: most.min(area.height), ..area };
    let (_, at) = figures(look, left, on);
    let right = Rect { x: left.right() + 2, width: area.width.saturating_sub(left.width + 2), ..left };
    look.kit(Rect { y: area.y, height: (most + 1).min(area.height), ..right }, on);
    let room = below(area, most + 2);
    if room.height < 3 {
        return at;
    }
    rule(Rect { y: room.y - 1, height: 1, ..area }, on);
    let y = look.standing(Rect { height: 4.min(room.height), ..room }, on);
    let room = below(room, y);
    let left = Rect { width: room.width.saturating_sub(COSTS + 2), ..room };
    let right = Rect { x: left.right() + 2, width: COSTS, ..room };
    let mut y = look.needs(left, on);
    let money = look.money(right, on);
    look.notes(below(right, money), on);
    y = y.max(money) + 1;
    let rest = below(room, y);
    look.dates(&DayPart::ALL, rest, on);
    if rest.height < 3 {
        let line = Rect { y: below(area, most + 2).y - 1, height: 1, ..area };
        let needs = if left.height < 2 { look.outlook.needs.len() } else { 0 };
        look.left_out(needs, line, on);
    }
    at
}

/// The figures, as many as there is room for, the one in hand among them; the row after them, and the screen row in hand.
fn figures(look: Look<'_>, area: Rect, on: &mut Surface) -> (u16, Option<u16>) {
    let theme = &on.look.theme;
    let (model, project) = (look.model, look.project);
    let fields = ProjectField::of(project);
    let picked = model.stock.field.row(fields.len());
    let currency = &model.book.settings().currency;
    let room = usize::from(area.height);
    let first = first_shown(picked.unwrap_or(0), fields.len(), room);
    let shown = room.min(fields.len() - first);
    let place = |n: usize| Rect { y: area.y + (n - first) as u16, height: 1, ..area };
    on.hits.list(area, List::Stock, (first..first + shown).map(|n| (n, place(n))));
    for (n, field) in fields.iter().enumerate().skip(first).take(shown) {
        let y = (n - first) as u16;
        let is_picked = picked == Some(n);
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let style = if is_picked { theme.picked } else { theme.text };
        let words = text::left(field.word(), WORD, "");
        on.put(
            area,
            0,
            y,
            &[run(sign, theme.mark), run(words, theme.dim), run(field.shown(project, currency), style)],
        );
    }
    let hidden = fields.len() - shown;
    if hidden > 0 {
        // Beside the last figure it would read as its value: it stands over the list.
        let words = format!("{hidden} more");
        let x = area.width.saturating_sub(text::width(&words) as u16);
        on.put(Rect { y: area.y.saturating_sub(1), ..area }, x, 0, &[run(words, theme.dim)]);
    }
    (shown as u16, picked.map(|n| area.y + (n - first) as u16))
}
