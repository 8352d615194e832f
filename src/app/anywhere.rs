//! Running a command from anywhere, as the finder does: its view is gone to first, or the sentence says why it cannot be gone
//! to. No command changes a list that is out of sight.

use super::carry::carry_or_tell;
use super::commands::{CommandId, Context, command};
use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::{asked, bench, plan, stock};
use super::places;
use super::reach;
use super::reply::Reply;
use super::resolve;
use super::run;
use super::state::views::{StockView, YieldView};
use super::status::Status;

/// Runs a command where it means something.
pub fn run_anywhere(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let context = command(id).context;
    if resolve::contexts(model).contains(&context) {
        return run::run_command(model, id);
    }
    if let Err(why) = reach::can_go(model, context) {
        model.tell(Status::refused(why));
        return Vec::new();
    }
    let mut effects = go(model, context);
    // At the bench a step is ticked by somebody who sees it: the view is opened and no more.
    if context != Context::Bench && resolve::contexts(model).contains(&context) {
        effects.extend(run::run_command(model, id));
    }
    effects
}

/// Opens the view of a context that can be gone to.
fn go(model: &mut Model, context: Context) -> Vec<Effect> {
    use Context as C;
    match context {
        C::Everywhere => Vec::new(),
        C::Today => run::run_command(model, CommandId::Today),
        C::Yield | C::Chart | C::Plan | C::Further | C::Bench => go_in_yield(model, context),
        C::Mats | C::Ruler => {
            match context {
                C::Ruler => model.mats.ruler.take_keys(),
                _ => model.mats.ruler.open = false,
            }
            places::go(model, Pane::Mats)
        }
        C::Palette | C::Photo => {
            model.palette.look_at_photo(context == C::Photo);
            places::go(model, Pane::Palette)
        }
        _ => go_in_stock(model, context),
    }
}

fn go_in_yield(model: &mut Model, context: Context) -> Vec<Effect> {
    model.day.is_open = false;
    model.pane = Pane::Yield;
    let (panes, ctx) = model.panes();
    let pane = panes.yields;
    let replies: Vec<Reply> = match context {
        Context::Plan => plan::open(pane, &ctx),
        Context::Further => {
            pane.view = YieldView::Further;
            Vec::new()
        }
        Context::Bench => bench::reopen(pane).into_iter().collect(),
        Context::Chart => {
            pane.view = YieldView::Chart;
            asked::answer(pane).into_iter().chain(asked::chart(pane)).collect()
        }
        _ => {
            pane.view = YieldView::Answer;
            asked::answer(pane).into_iter().collect()
        }
    };
    carry_or_tell(model, Ok(replies))
}

fn go_in_stock(model: &mut Model, context: Context) -> Vec<Effect> {
    use Context as C;
    let view = match context {
        C::Shelf => Some(StockView::Shelf),
        C::Bin => Some(StockView::Bin),
        C::StockLog => Some(StockView::Log),
        C::Reorder => Some(StockView::Reorder),
        C::Classes => Some(StockView::Classes),
        C::Bookings => Some(StockView::Bookings),
        C::CountDay => Some(StockView::Count),
        _ => None,
    };
    let effects = places::go(model, Pane::Stock);
    if let Some(view) = view.filter(|_| !resolve::contexts(model).contains(&context)) {
        let (panes, ctx) = model.panes();
        stock::open_view(panes.stock, &ctx, view);
    }
    effects
}
