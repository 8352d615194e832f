//! What the parts of a small drawing are, beside it: the outermost first, each with its colour, its name, and its size or its
//! paper, the one in hand marked.
//!
//! ```text
//! +---------+    [] base   8 1/2 x 5 1/2
//! | +-----+ |       oat husk, letter
//! | |     | |  > [] mat 1  4 x 5 1/4
//! | +-----+ |       moss pool, letter
//! +---------+
//! ```

use crate::app::model::Model;
use crate::app::panes::mats::words::{self, RowText};
use crate::domain::project::{CardColour, CardLayer};
use crate::ui::chips::{self, Of, ROOM};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Columns before a name: the mark and the chip.
const BEFORE: u16 = 1 + ROOM;

/// Draws it as far as each line stands whole; returns its rows.
pub(super) fn draw(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let parts = words::rows(&model.mats, &model.ctx());
    let papers = papers(model);
    let picked = model.mats.layer.row(parts.len());
    let name = parts.iter().map(|part| text::width(&part.name)).max().unwrap_or(0);
    let room = usize::from(area.width.saturating_sub(BEFORE));
    // Papers have a line each where all of them have room.
    let has_papers = 2 * parts.len() <= usize::from(area.height);
    let mut y = 0;
    for (n, part) in parts.iter().enumerate() {
        if y >= area.height {
            break;
        }
        let is_picked = picked == Some(n);
        let sign = if is_picked { on.look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, theme.mark)];
        match papers.get(n).copied().flatten() {
            Some(of) => {
                runs.extend(chips::runs(model, of, on.look));
                chips::told_below(model, of, on);
            }
            None => runs.push(run(" ".repeat(usize::from(ROOM)), theme.text)),
        }
        let style = if is_picked { theme.title } else { theme.text };
        runs.push(run(sized(part, name, room), style));
        on.put(area, 0, y, &runs);
        y += 1;
        let paper = text::harmless(&part.paper);
        if has_papers {
            on.put(area, BEFORE, y, &[run(text::fit(&paper, room, on.look.glyphs.ellipsis), theme.dim)]);
            y += 1;
        }
    }
    y
}

/// The name, with the size where both stand whole.
fn sized(part: &RowText, name: usize, room: usize) -> String {
    let both = format!("{}  {}", text::left(&part.name, name, ""), part.size);
    if text::width(&both) <= room { both } else { part.name.clone() }
}

/// Whose colour each row has: the paper of the base, of the layers or the colour chosen instead, of what is made beside.
pub(super) fn papers(model: &Model) -> Vec<Option<Of>> {
    let card = model.mats.card(&model.book);
    let layer = |layer: &CardLayer| match layer.colour {
        Some(CardColour::Swatch(id)) => Some(Of::Swatch(id)),
        _ => layer.item().map(Of::Item),
    };
    let beside = card.extras.iter().map(|extra| extra.item().map(Of::Item));
    let base = std::iter::once(card.base_item().map(Of::Item));
    base.chain(card.layers.iter().map(layer)).chain(beside).collect()
}
