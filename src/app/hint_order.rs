//! Which hints a view begins with, and which it does without: what one came to it for stands before the ranks that the commands
//! have in their context. A narrow window shows little more than these.

use super::commands::CommandId as Id;
use super::model::Model;
use super::pane::Pane;
use super::state::mats::MatsView;

/// The hints of a view that do not go by their rank.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct HintOrder {
    /// What stands first, in this order.
    pub first: &'static [Id],
    /// What has no use here: left out, not dimmed.
    pub left_out: &'static [Id],
}

/// Those of the view in sight.
pub fn of(model: &Model) -> HintOrder {
    if model.day.is_open {
        return HintOrder::default();
    }
    match model.pane {
        Pane::Mats if model.mats.ruler.open => on_ruler(model.mats.ruler.practice.is_some()),
        Pane::Mats => HintOrder { first: in_mats(model.mats.view), left_out: &[] },
        Pane::Yield | Pane::Palette | Pane::Stock => HintOrder::default(),
    }
}

/// A view whose list may be out of sight begins with what it shows, and with the key that goes on.
const fn in_mats(view: MatsView) -> &'static [Id] {
    match view {
        MatsView::Card => &[Id::LayerOpen, Id::AddLayer, Id::MatsView],
        MatsView::Drawing => &[Id::MatsView, Id::Reveal, Id::AddLayer],
        MatsView::Made => &[Id::AddPart, Id::MatsView],
        MatsView::Post => &[Id::CardEnvelope, Id::MatsView],
    }
}

/// Enter has nothing to answer unless a question is asked.
const fn on_ruler(is_asked: bool) -> HintOrder {
    if is_asked {
        return HintOrder { first: &[Id::RulerEnter, Id::RulerClose], left_out: &[] };
    }
    HintOrder { first: &[Id::TickLeft, Id::TickRight, Id::RulerClose], left_out: &[Id::RulerEnter] }
}
