//! Running a command from anywhere, as the finder does: a command means something in one context only, so its view is
//! gone to first, or the sentence says why it cannot be gone to. No command changes a list that is out of sight.

use super::commands::{Command, CommandId, Context, When, command};
use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::mats::ruler;
use super::panes::{bench, plan, stock, yields};
use super::resolve;
use super::state::views::{StockView, YieldView};
use super::status::Status;
use super::update;

/// Runs a command where it means something.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let context = command(id).context;
    if resolve::contexts(model).contains(&context) {
        return update::run(model, id);
    }
    if let Err(why) = can_go(model, context) {
        model.tell(Status::refused(why));
        return Vec::new();
    }
    let mut effects = go(model, context);
    // At the bench a step is ticked by somebody who sees it: the view is opened and no more.
    if context != Context::Bench && resolve::contexts(model).contains(&context) {
        effects.extend(update::run(model, id));
    }
    effects
}

/// Whether the finder can run a command now: where its view is not open, what the row in it allows is seen there.
pub fn is_live(model: &Model, row: &Command) -> bool {
    if resolve::contexts(model).contains(&row.context) {
        return resolve::holds(model, row.when);
    }
    let by_row = matches!(
        row.when,
        When::HasRow | When::HasItem | When::IsOnOrder | When::IsNotOnOrder | When::NoPreview
    );
    can_go(model, row.context).is_ok() && (by_row || resolve::holds(model, row.when))
}

/// Why a context cannot be gone to now.
///
/// # Errors
/// The sentence.
fn can_go(model: &Model, context: Context) -> Result<(), &'static str> {
    use Context as C;
    let stock = &model.stock;
    let (is_there, why) = match context {
        C::Plan => (model.book.active().is_some(), resolve::why_not(When::HasProject)),
        C::Bench => {
            (model.yields.run.is_some(), "nothing lies on the bench: in Yield b takes the cuts there")
        }
        C::Photo => (model.palette.photo.is_some(), "no photo is open: in Palette p reads one"),
        C::Preview => (stock.preview.is_some(), "no list from outside is open: on the shelf i reads one"),
        C::Shelf
        | C::ItemForm
        | C::Bin
        | C::StockLog
        | C::Reorder
        | C::Classes
        | C::ClassForm
        | C::Bookings
        | C::CountDay
            if stock.preview.is_some() =>
        {
            (false, resolve::why_not(When::NoPreview))
        }
        C::ItemForm => (stock.open_item().is_some(), "no line is open: on the shelf e opens one"),
        C::ClassForm => {
            (stock.open_class().is_some(), "no class is open: in the list of classes l opens one")
        }
        C::CountDay => (stock.count.is_some(), "no count day goes on: on the shelf c begins one"),
        _ => (true, ""),
    };
    if is_there { Ok(()) } else { Err(why) }
}

/// Opens the view of a context that can be gone to.
fn go(model: &mut Model, context: Context) -> Vec<Effect> {
    use Context as C;
    let view = match context {
        C::Everywhere => return Vec::new(),
        C::Yield | C::Chart => {
            model.yields.view = if context == C::Chart { YieldView::Chart } else { YieldView::Answer };
            let mut effects = update::go(model, Pane::Yield);
            if context == C::Chart {
                effects.extend(yields::ask_chart(model));
            }
            return effects;
        }
        C::Plan => {
            model.pane = Pane::Yield;
            return plan::open(model);
        }
        C::Bench => {
            model.pane = Pane::Yield;
            bench::reopen(model);
            return Vec::new();
        }
        C::Mats | C::Ruler => {
            match context {
                C::Ruler => ruler::open(model),
                _ => model.mats.ruler.open = false,
            }
            return update::go(model, Pane::Mats);
        }
        C::Palette | C::Photo => {
            model.palette.look_at_photo(context == C::Photo);
            return update::go(model, Pane::Palette);
        }
        C::Stock | C::Preview | C::ItemForm | C::ClassForm => None,
        C::Shelf => Some(StockView::Shelf),
        C::Bin => Some(StockView::Bin),
        C::StockLog => Some(StockView::Log),
        C::Reorder => Some(StockView::Reorder),
        C::Classes => Some(StockView::Classes),
        C::Bookings => Some(StockView::Bookings),
        C::CountDay => Some(StockView::Count),
    };
    let effects = update::go(model, Pane::Stock);
    if let Some(view) = view.filter(|_| !resolve::contexts(model).contains(&context)) {
        stock::open_view(model, view);
    }
    effects
}
