//! Where one was: every change of pane or view leaves a place behind, and "back" returns to the last of them.

use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::yields;

/// Most places that are remembered.
const MOST: usize = 40;

/// A pane with the view that was open in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// The pane.
    pub pane: Pane,
    /// The chart of Yield was open.
    pub chart: bool,
    /// The plan of Yield was open.
    pub plan: bool,
}

/// Where one is now.
pub fn here(model: &Model) -> Place {
    Place { pane: model.pane, chart: model.yields.chart_open, plan: model.plan.open }
}

/// Remembers a place that was left.
pub fn left(model: &mut Model, place: Place) {
    if model.trail.len() == MOST {
        model.trail.remove(0);
    }
    model.trail.push(place);
}

/// Goes back to the place before.
pub fn back(model: &mut Model) -> Vec<Effect> {
    let Some(place) = model.trail.pop() else { return Vec::new() };
    model.pane = place.pane;
    model.yields.chart_open = place.chart;
    // A plan that is gone meanwhile stays gone.
    model.plan.open = place.plan && model.plan.plan.is_some();
    if model.pane == Pane::Yield { yields::ask(model) } else { Vec::new() }
}
