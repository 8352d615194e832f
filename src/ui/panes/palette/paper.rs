//! The card of a patterned paper: both sides' colours, how it is bought, which plain papers match.

use super::chip::{BLOCK, chip};
use crate::app::model::Model;
use crate::app::panes::palette::paper;
use crate::domain::library::papers::PaperSide;
use crate::domain::pages::measure::INCH;
use crate::domain::stock::{ItemId, SwatchId};
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Columns and rows of a piece of the paper, and those that the names of its colours need.
const PATCH: (u16, u16) = (20, 6);
const NAMES: u16 = 34;

/// Draws the card from row `y`.
pub(super) fn draw(model: &Model, id: ItemId, area: Rect, y: u16, on: &mut Surface) {
    let theme = &on.look.theme;
    let Some(item) = model.book.items().get(id) else { return };
    on.put(area, 0, y, &[run(&item.name, theme.title), run("  patterned paper", theme.dim)]);
    patch(model, id, area, y, on);
    let mut row = y + 1;
    for side in PaperSide::ALL {
        row = colours(model, side, &side.colours(item), (area, row), on);
    }
    for (label, words) in paper::lines(&model.book, (id, item), model.screen.unit) {
        on.put(area, 0, row, &[run(format!("{label:<11}"), theme.dim), run(words, theme.text)]);
        row += 1;
    }
    let words = format!("Plain papers that match: {}", paper::matching(&model.book, id));
    row = on.paragraph(area, row, &words, theme.text);
    on.paragraph(area, row, "z 1 and z 2: picked color front, back", theme.dim);
}

/// A piece of the paper itself, where it has room beside the names of its colours.
fn patch(model: &Model, id: ItemId, area: Rect, y: u16, on: &mut Surface) {
    let Some(x) = area.width.checked_sub(PATCH.0).filter(|x| *x >= NAMES && area.height > y + PATCH.1) else {
        return;
    };
    let place = Rect { x: area.x + x, y: area.y + y, width: PATCH.0, height: PATCH.1 };
    Painted::item(model, id, on.look).patch(place, INCH / 8, on);
}

fn colours(
    model: &Model,
    side: PaperSide,
    all: &[SwatchId],
    (area, y): (Rect, u16),
    on: &mut Surface,
) -> u16 {
    let (pane, theme) = (&model.palette, &on.look.theme);
    if all.is_empty() {
        on.put(
            area,
            0,
            y,
            &[run(format!("{:<6}", side.word()), theme.dim), run("no color noted", theme.dim)],
        );
        return y + 1;
    }
    let mut row = y;
    for (n, colour) in all.iter().enumerate() {
        let Some(s) = pane.colour(*colour) else { continue };
        let label = if n == 0 { side.word() } else { "" };
        let mut runs = vec![run(format!("{label:<6}"), theme.dim)];
        chip(pane, s, BLOCK * 2, &mut runs, on.look);
        runs.push(run(&s.name, if pane.picked() == Some(*colour) { theme.picked } else { theme.text }));
        if pane.figures {
            runs.push(run(format!("  {}", s.hex), theme.dim));
        }
        on.put(area, 0, row, &runs);
        row += 1;
    }
    row
}
