//! Mats: the card and its layers as a list, the nested drawing beside it, the ruler below. Side by side where there is
//! room for both, switched by a key where there is not.
//!
//! ```text
//! bramble note  1 of 2, layers             +-------------------+
//! Front  4 1/4 x 5 1/2 in                  | +---------------+ |
//!   layer      cut to          reveal      | | +-----------+ | |
//! > mat 1      4 x 5 1/4       1/8         | | |           | | |
//!   mat 2      3 7/8 x 5 1/8   1/16        | | +-----------+ | |
//! reveal 1/8 in border each side           +-------------------+
//! yield  1/16: 4  [1/8: 6]  3/16: 6        |'''|'''|'''|'''|'''|
//! ```

mod apart;
mod blanks;
pub(in crate::ui::panes) mod drawing;
mod key;
mod list;
mod ruler;
mod wide;

use crate::app::model::Model;
use crate::app::state::mats::{MatsView, Picked};
use crate::ui::surface::Surface;
use ratatui::layout::{Position, Rect};

/// From this width of the pane on, list and drawing stand side by side.
const BESIDE: u16 = 116;
/// Rows of the ruler with its words.
const RULER_ROWS: u16 = 10;
/// The least columns for a second drawing beside the first, and the least rows for it and the cards below it.
const OTHER: u16 = 20;
const OPEN: u16 = 14;
/// The least rows that a card below facts needs.
const CARD: u16 = 12;
/// Columns that facts and figures have beside a drawing, and the least that they need.
const FIGURES: u16 = 70;
const FACTS: u16 = 36;

/// Draws the pane.
pub fn draw_mats(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let head = list::heading(model, area, on);
    let body = Rect { y: area.y + head, height: area.height.saturating_sub(head), ..area };
    let wants_ruler = model.mats.ruler.open;
    if area.width >= BESIDE && model.mats.view != MatsView::Drawing {
        return side_by_side(model, body, on);
    }
    match model.mats.view {
        MatsView::Drawing => large(model, body, on),
        _ if wants_ruler => large(model, body, on),
        MatsView::Card => list::draw(model, body, on).0,
        // On a narrow screen the words need all of it.
        MatsView::Made if model.mats.card(&model.book).extras.is_empty() => {
            Some(list::facts_only(model, body, on).0)
        }
        MatsView::Made => {
            let (left, right) = halves(body, body.width / 2);
            construction(model, right, on);
            Some(list::facts_only(model, left, on).0)
        }
        MatsView::Post => Some(list::facts_only(model, body, on).0),
    }
}

fn halves(area: Rect, left: u16) -> (Rect, Rect) {
    let left = left.min(area.width);
    let right = Rect { x: area.x + left + 2, width: area.width.saturating_sub(left + 2), ..area };
    (Rect { width: left, ..area }, right)
}

/// List at the left, drawing over ruler at the right; the post needs the right side for its reasons, and has the card below
/// both where there is room.
fn side_by_side(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let (left, right) = halves(area, left_width(area.width));
    if model.mats.view == MatsView::Post && !model.mats.ruler.open {
        let (_, told) = list::facts_only(model, right, on);
        let (at, said) = list::rows_only(model, left, on);
        let under = Rect { y: area.y + told.max(said) + 1, ..area };
        let room = Rect { height: area.bottom().saturating_sub(under.y), ..under };
        if room.height >= CARD {
            let (drawn, figures) = halves(room, (room.width / 2).max(room.width.saturating_sub(FIGURES)));
            let used = what_is_drawn(model, drawn, on);
            beside(model, drawn, used, on);
            wide::tables(model, on.above_figures(figures), on);
        }
        return at;
    }
    let (row, rest) = list::draw(model, left, on);
    let rest = Rect { y: rest.y + 1, height: rest.height.saturating_sub(1), ..rest };
    if model.mats.view != MatsView::Post {
        wide::tables(model, on.above_figures(rest), on);
    }
    let ruler = picture(model, right, on);
    if model.mats.ruler.open { ruler } else { row }
}

/// Columns of the list and its figures: more of them the wider the window.
const fn left_width(width: u16) -> u16 {
    match width {
        0..140 => 64,
        140..180 => 78,
        _ => 92,
    }
}

/// The drawing as large as the room lets it be, what is said of it at its right, the ruler under both.
fn large(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let (top, bottom) = over_ruler(area);
    let (left, right) = halves(top, (area.width / 2).max(area.width.saturating_sub(FIGURES)));
    if right.width >= FACTS {
        let used = what_is_drawn(model, left, on);
        beside(model, left, used, on);
        round_the_card(model, right, on);
    } else {
        what_is_drawn(model, top, on);
    }
    ruler::draw(model, bottom, on)
}

/// What is said of the row in hand, the parts side by side, what sheets give of them and what the project takes.
fn round_the_card(model: &Model, area: Rect, on: &mut Surface) {
    let below = |used: u16, area: Rect| {
        let used = if used == 0 { 0 } else { (used + 1).min(area.height) };
        Rect { y: area.y + used, height: area.height - used, ..area }
    };
    let rest = below(list::in_hand_only(model, area, on), area);
    let rest = below(apart::draw(model, rest, on), rest);
    wide::tables(model, rest, on);
}

/// The room above the ruler, and the ruler's own: a low screen gives the ruler fewer rows.
fn over_ruler(area: Rect) -> (Rect, Rect) {
    let low = if area.height < 20 { RULER_ROWS - 2 } else { RULER_ROWS }.min(area.height);
    let high = area.height - low;
    let top = Rect { height: high.saturating_sub(1), ..area };
    (top, Rect { y: area.y + high, height: low, ..area })
}

/// The drawing of what is in hand, with the ruler under it.
fn picture(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let has_extras = !model.mats.card(&model.book).extras.is_empty();
    if model.mats.view == MatsView::Made && !has_extras && !model.mats.ruler.open {
        construction(model, area, on);
        return None;
    }
    let (top, bottom) = over_ruler(area);
    let used = what_is_drawn(model, top, on);
    if model.mats.view == MatsView::Card {
        beside(model, top, used, on);
    }
    ruler::draw(model, bottom, on)
}

/// What has room beside the drawing: the card laid open, or closed where it is drawn open, and the project's cards small.
fn beside(model: &Model, top: Rect, used: u16, on: &mut Surface) {
    let x = used + 3;
    let room = Rect { x: top.x + x, width: top.width.saturating_sub(x), ..top };
    if room.width < OTHER || used == 0 {
        return;
    }
    if room.height < OPEN {
        key::draw(model, room, on);
        return;
    }
    let upper = Rect { height: room.height / 2, ..room };
    let drawn = match model.mats.picked(&model.book) {
        Picked::Base => drawing::nested(model, upper, on),
        _ => drawing::base(model, upper, on),
    };
    let y = if drawn == (0, 0) { 0 } else { drawn.1 + 1 };
    let below = Rect { y: room.y + y, height: room.height.saturating_sub(y), ..room };
    wide::cards(model, below, on);
}

/// Draws what is in hand; returns the columns it takes.
fn what_is_drawn(model: &Model, top: Rect, on: &mut Surface) -> u16 {
    match (model.mats.view, model.mats.picked(&model.book)) {
        (MatsView::Made, _) | (_, Picked::Extra(_)) => {
            construction(model, top, on);
            top.width
        }
        (_, Picked::Base) => drawing::base(model, top, on).0,
        _ => drawing::nested(model, top, on).0,
    }
}

/// The construction in hand: of the picked row, or the first where another row is picked.
fn construction(model: &Model, area: Rect, on: &mut Surface) {
    if model.mats.card(&model.book).extras.is_empty() {
        let all = model.mats.offered(&model.book, model.screen.unit);
        blanks::offered(&all, model.screen.unit, area, on);
        return;
    }
    let n = match model.mats.picked(&model.book) {
        Picked::Extra(n) => n,
        _ => 0,
    };
    if let Ok(made) = model.mats.made(&model.book, model.screen.unit, n) {
        blanks::constructions(&made, area, on);
    }
}
