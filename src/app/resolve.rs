//! From a key to a command: the stack of contexts, the conditions, and what the hint line offers.

use super::commands::{COMMANDS, Command, CommandId, Context, When};
use super::effect::ListUse;
use super::hint_order::{self, HintOrder};
use super::keys::Key;
use super::model::Model;
use super::pane::Pane;
use super::panes::{bench, stock};
use super::state::photo::PhotoView;
use super::state::views::{PaletteView, StockView, YieldView};
use super::undo;
use crate::app::state::bench::BenchRun;

/// Contexts that count now, innermost first.
pub fn contexts(model: &Model) -> Vec<Context> {
    if model.day.is_open {
        return vec![Context::Today, Context::Everywhere];
    }
    let inner = match model.pane {
        Pane::Yield => match model.yields.view {
            YieldView::Answer => Context::Yield,
            YieldView::Chart => Context::Chart,
            YieldView::Plan => Context::Plan,
            YieldView::Further => Context::Further,
            YieldView::Bench => return vec![Context::Bench],
        },
        Pane::Mats if model.mats.ruler.open => Context::Ruler,
        Pane::Mats => Context::Mats,
        Pane::Palette if model.palette.view == PaletteView::Photo => Context::Photo,
        Pane::Palette => Context::Palette,
        Pane::Stock => return contexts_of_stock(model.stock.view),
    };
    vec![inner, Context::Everywhere]
}

fn contexts_of_stock(view: StockView) -> Vec<Context> {
    let inner = match view {
        StockView::Shelf => Context::Shelf,
        StockView::Item(_) => Context::ItemForm,
        StockView::Count => Context::CountDay,
        StockView::Bin => Context::Bin,
        StockView::Log | StockView::History(_) => Context::StockLog,
        StockView::Reorder => Context::Reorder,
        StockView::Bookings => Context::Bookings,
        StockView::Preview => Context::Preview,
        StockView::Classes => Context::Classes,
        StockView::Class(_) => {
            return vec![Context::ClassForm, Context::Classes, Context::Stock, Context::Everywhere];
        }
    };
    vec![inner, Context::Stock, Context::Everywhere]
}

/// The command that a key means now.
pub fn command(model: &Model, key: Key) -> Option<CommandId> {
    model.keymap.command(&contexts(model), key)
}

/// Whether a condition holds now.
pub fn holds(model: &Model, when: When) -> bool {
    match when {
        When::Always => true,
        When::CanStop => model.can_stop,
        When::CanUndo => undo::can_undo(model),
        When::CanRedo => undo::can_redo(model),
        When::HasPieces => model.yields.has_pieces(),
        When::SheetInStock => model.yields.has_pieces() && model.yields.sheet.paper.is_some(),
        When::HasLayer => model.mats.picked_layer(&model.book).is_some(),
        When::HasSwatch => model.palette.picked().is_some(),
        When::HasPattern => model.palette.paper().is_some() && model.palette.picked().is_some(),
        When::HasPhoto => photo(model).is_some(),
        When::IsPaperPhoto => photo(model).is_some_and(|view| !view.is_scene),
        When::IsPicture => photo(model).is_some_and(|view| view.is_scene),
        When::HasItem => model.stock.picked_item().is_some() || has_marked_lines(model),
        When::HasShelf => !model.book.items().is_empty(),
        When::HasRow => model.stock.rows(&model.book) > 0,
        When::CanMark => model.stock.has_markable(&model.book),
        When::HasProject => model.book.active().is_some(),
        When::HasPlan => model.yields.plan.plan.is_some(),
        When::CanBookPlan => model.yields.plan.can_be_booked(),
        When::HasBegun => model.yields.run.as_ref().is_some_and(BenchRun::is_begun),
        When::CanProve => bench::can_prove(&model.yields),
        When::CanGoBack => !model.trail.is_empty(),
        When::HasProjects => !model.book.projects().is_empty(),
        When::IsOnOrder => stock::reorder::has(&model.stock, true),
        When::IsNotOnOrder => stock::reorder::has(&model.stock, false),
        When::HasCounts => model.stock.count.as_ref().is_some_and(|c| !c.done().is_empty()),
        When::NoPreview => model.stock.preview_in_view().is_none(),
        When::IsYearly => model.stock.preview_in_view().is_some_and(|p| p.what == ListUse::Refresh),
    }
}

/// Marked lines of the shelf, which a filter may hide.
fn has_marked_lines(model: &Model) -> bool {
    model.stock.view == StockView::Shelf && model.stock.has_marks()
}

/// The photo whose colours are there.
fn photo(model: &Model) -> Option<&PhotoView> {
    model.palette.photo.as_ref().filter(|view| !view.rows.is_empty())
}

/// A key with its words, for the hint line and the help screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    /// Which command.
    pub id: CommandId,
    /// The key or keys that are shown for it.
    pub key: String,
    /// Two or three words.
    pub title: &'static str,
    /// False where it cannot run now: shown dimmed.
    pub is_live: bool,
}

/// What the hint line offers for the context: what this view is for, then the rest of its context by rank.
pub fn hints(model: &Model) -> Vec<Hint> {
    let here = contexts(model);
    let HintOrder { first, left_out } = hint_order::of(model);
    let is_here = |c: &&Command| {
        (c.hint > 0 || first.contains(&c.id)) && here.contains(&c.context) && !left_out.contains(&c.id)
    };
    let mut rows: Vec<&Command> = COMMANDS.iter().filter(is_here).collect();
    // What belongs to the other kind of picture is no use to wait for: it is left out, not dimmed.
    rows.retain(|c| !matches!(c.when, When::IsPaperPhoto | When::IsPicture) || holds(model, c.when));
    let place = |c: &Command| first.iter().position(|id| *id == c.id).unwrap_or(first.len());
    rows.sort_by_key(|c| (place(c), c.hint));
    // A key that an inner context takes for itself is not offered for the outer one's command.
    let is_reached = |c: &&Command| {
        model.keymap.shown(c.id).is_none_or(|keys| model.keymap.command_of(&here, keys) == Some(c.id))
    };
    rows.into_iter()
        .filter(is_reached)
        .map(|c| Hint {
            id: c.id,
            key: model.keymap.shown_text(c.id),
            title: c.title,
            is_live: holds(model, c.when),
        })
        .collect()
}
