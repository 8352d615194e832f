//! What is on screen and stands nowhere but here, so that the header never calls it saved. Knows the views that hold
//! work of the person which is not an edit of the book yet; what a pane works out anew by itself is no such work.

use super::model::Model;
use super::overlay::Overlay;
use super::pane::Pane;
use super::state::views::{PaletteView, StockView, YieldView};
use crate::domain::edit::count_of;

/// What would be gone if the bench were closed now, in at most three words; nothing where all is written.
pub fn words(model: &Model) -> Option<String> {
    if matches!(model.overlays.last(), Some(Overlay::Prompt(p)) if p.field.is_changed()) {
        return Some("not entered".to_owned());
    }
    let counted = model.stock.count.as_ref().map_or(0, |c| c.done().len());
    if counted > 0 {
        return Some(format!("{} not logged", count_of(counted as u64, "count")));
    }
    let is_unwritten = |what: &str| Some(format!("{what} not kept"));
    match model.pane {
        Pane::Stock if model.stock.view == StockView::Preview => is_unwritten("list"),
        Pane::Palette if model.palette.view == PaletteView::Photo => is_unwritten("photo"),
        Pane::Yield if model.yields.view == YieldView::Plan => {
            let has_found = model.plan.plan.is_some() && model.plan.booked.is_none();
            has_found.then(|| "plan not booked".to_owned())
        }
        _ if model.is_forgetful => is_unwritten("choices"),
        _ => None,
    }
}
