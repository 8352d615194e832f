//! Which hints a view begins with, and which it does without: what one came to it for stands before the ranks that the commands
//! have in their context. A narrow window shows little more than these.

use super::commands::CommandId as Id;
use super::model::Model;
use super::pane::Pane;
use super::state::mats::MatsView;
use super::state::palette::Focus;
use super::state::views::{PaletteView, StockView};

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
        Pane::Mats => HintOrder { first: in_mats(model), left_out: &[] },
        Pane::Palette => in_palette(model),
        Pane::Stock => in_stock(model),
        Pane::Yield => HintOrder::default(),
    }
}

/// Marks, filters and sorts are of lists: a form has no use for them.
const OF_LISTS: &[Id] = &[Id::StockFilter, Id::StockSort, Id::MarkRow];

/// The line in hand and the ways through the lists first; where a class is short, what can be done about it.
fn in_stock(model: &Model) -> HintOrder {
    let outlook = model.stock.classes.outlook.as_ref();
    let is_short = outlook.is_some_and(|(_, look)| look.needs.iter().any(|need| need.missing > 0));
    let (first, left_out): (&[Id], &[Id]) = match (model.stock.view, is_short) {
        (StockView::Shelf, _) => {
            (&[Id::ItemEdit, Id::Use, Id::Receive, Id::StockFilter, Id::StockTab, Id::ItemHistory], &[])
        }
        (StockView::Item(_), _) => (&[Id::ItemField, Id::ItemFormClose], OF_LISTS),
        // Its lines alone are shown by now; what leads back to all of them is what one looks for.
        (StockView::History(_), _) => (&[Id::StockAll, Id::LogVoid, Id::StockTab], &[Id::LogHistory]),
        (StockView::Reorder, _) => (&[Id::OrderTick, Id::MarkOrdered, Id::MarkArrived, Id::OrderCount], &[]),
        (StockView::Classes, true) => (&[Id::ClassOpen, Id::ClassBook, Id::ClassWays], &[]),
        (StockView::Class(_), true) => {
            (&[Id::ClassField, Id::ClassClose, Id::ClassBook, Id::ClassWays], OF_LISTS)
        }
        (StockView::Class(_), false) => (&[], OF_LISTS),
        _ => (&[], &[]),
    };
    HintOrder { first, left_out }
}

/// Among the trios their own keys stand first; the order of the swatches is named where swatches are gone through.
fn in_palette(model: &Model) -> HintOrder {
    match (model.palette.view, model.palette.focus) {
        (PaletteView::Library, Focus::Trios) => HintOrder {
            first: &[Id::OtherList, Id::ApplyTrio, Id::FavouriteTrio, Id::TrioNote, Id::OwnTrio],
            left_out: &[Id::SwatchOrder, Id::Identify, Id::Photo],
        },
        (PaletteView::Library, Focus::Swatches) => {
            HintOrder { first: &[Id::OtherList, Id::ApplyTrio, Id::SwatchOrder], left_out: &[] }
        }
        _ => HintOrder::default(),
    }
}

/// A view whose list may be out of sight begins with what it shows, and with the keys that go on: to the next view, and to the
/// next card where there is one.
fn in_mats(model: &Model) -> &'static [Id] {
    let has_more = model.book.active_project().is_some_and(|project| project.cards.len() > 1);
    let all: &[Id] = match model.mats.view {
        MatsView::Card => &[Id::LayerOpen, Id::AddLayer, Id::MatsView, Id::NextCard],
        MatsView::Drawing => &[Id::MatsView, Id::Reveal, Id::AddLayer, Id::NextCard],
        MatsView::Made => &[Id::AddPart, Id::MatsView, Id::NextCard],
        MatsView::Post => &[Id::CardEnvelope, Id::MatsView, Id::NextCard],
    };
    let alone = all.len() - usize::from(!has_more);
    all.get(..alone).unwrap_or(all)
}

/// Enter has nothing to answer unless a question is asked.
const fn on_ruler(is_asked: bool) -> HintOrder {
    if is_asked {
        return HintOrder { first: &[Id::RulerEnter, Id::RulerClose], left_out: &[] };
    }
    HintOrder { first: &[Id::TickLeft, Id::TickRight, Id::RulerClose], left_out: &[Id::RulerEnter] }
}
