//! Where one was: every change of pane or view leaves a place behind, and "back" returns to the last of them.

use super::carry::carry_or_tell;
use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::asked;
use super::state::views::YieldView;
use crate::app::state::views::ViewPlace;

/// Most places that are remembered.
const MOST: usize = 40;

/// Where one is now.
pub fn here(model: &Model) -> ViewPlace {
    ViewPlace { pane: model.pane, yields: model.yields.below_bench(), day: model.day.is_open }
}

/// Remembers a place that was left.
pub fn left(model: &mut Model, place: ViewPlace) {
    if model.trail.len() == MOST {
        model.trail.remove(0);
    }
    model.trail.push(place);
}

/// Goes back to the place before.
pub fn back(model: &mut Model) -> Vec<Effect> {
    let Some(place) = model.trail.pop() else { return Vec::new() };
    (model.pane, model.day.is_open) = (place.pane, place.day);
    // A plan that is gone meanwhile stays gone.
    let is_gone = match place.yields {
        YieldView::Plan => model.yields.plan.plan.is_none(),
        YieldView::Further => model.yields.further.asked.is_none(),
        _ => false,
    };
    model.yields.view = if is_gone { YieldView::Answer } else { place.yields };
    let ask = if model.pane == Pane::Yield { asked::answer(&mut model.yields) } else { None };
    carry_or_tell(model, Ok(ask.into_iter().collect()))
}

/// Goes to a pane.
pub fn go(model: &mut Model, pane: Pane) -> Vec<Effect> {
    model.day.is_open = false;
    model.pane = pane;
    let (panes, ctx) = model.panes();
    let ask = match pane {
        Pane::Yield => asked::answer(panes.yields),
        Pane::Stock => {
            // Days have gone by, or the book was changed from another pane.
            panes.stock.arrange(ctx.book, ctx.today);
            None
        }
        Pane::Mats | Pane::Palette => None,
    };
    carry_or_tell(model, Ok(ask.into_iter().collect()))
}
