//! The page of the day over the four panes: what is next, short, half cut, on order. A pane's key leaves it for the pane as
//! it was left; Enter goes to the place of the row in hand, and "back" returns. With an empty book it is the first evening:
//! four things to do, each done here. It holds no figure of its own.

pub mod rows;

use super::carry::carry_or_tell;
use super::commands::CommandId;
use super::effect::Effect;
use super::input::list::{Move, PAGE};
use super::model::Model;
use super::pane::Pane;
use super::panes::{bench, stock};
use super::panes::{mats, plan, yields};
use super::places;
use super::state::stock::orders::OrderRow;
use super::state::today::{DaySeen, FirstThing, Goes};
use super::state::views::{StockView, YieldView};
use super::status::Status;
use crate::app::input::list::Cursor;
use crate::domain::screen::Start;
use crate::domain::stock::{BookingId, ItemId, OrderId};
use crate::domain::today::today;

/// Opens the page when the workbench opens, where there is work and the person did not choose otherwise.
pub fn begin(model: &mut Model) {
    if model.screen.start == Start::Today && model.overlays.is_empty() {
        look(model, true);
        model.day.is_open = model.day.figures.has_work() || rows::in_hand(&model.yields).is_some();
    }
}

/// Runs a command of the page, or the one that opens it.
pub fn run_today(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let step = match id {
        CommandId::Today => {
            model.day.is_open = true;
            look(model, true);
            return Vec::new();
        }
        CommandId::TodayClose => return places::go(model, model.pane),
        CommandId::TodayOpen => return open(model),
        CommandId::TodayDown => Move::By(1),
        CommandId::TodayUp => Move::By(-1),
        CommandId::TodayPageDown => Move::By(PAGE),
        CommandId::TodayPageUp => Move::By(-PAGE),
        CommandId::TodayFirst => Move::First,
        _ => Move::Last,
    };
    let rows = model.day.rows.len();
    model.day.cursor.go(step, rows);
    Vec::new()
}

/// Reads the day off the book, where something changed since it was read last.
pub fn look(model: &mut Model, anew: bool) {
    let now = seen(model);
    if !anew && model.day.seen.as_ref() == Some(&now) {
        return;
    }
    let figures = today(&model.book, model.today, &|id| model.settling.of(id));
    let rows = rows::rows(&model.yields, &model.ctx(), &figures);
    (model.day.figures, model.day.rows, model.day.seen) = (figures, rows, Some(now));
}

fn seen(model: &Model) -> DaySeen {
    DaySeen {
        book: (model.epoch, model.book.seq()),
        day: model.today,
        unit: model.screen.unit,
        run: rows::in_hand(&model.yields).map(|run| (run.done, run.strokes(), run.logged)),
        pace: model.yields.pace,
        after: model.yields.stage_paces,
        is_trimmer_said: rows::is_trimmer_said(&model.yields),
    }
}

/// Goes to the place of the row in hand.
fn open(model: &mut Model) -> Vec<Effect> {
    let Some(goes) = model.day.picked().map(|row| row.goes) else {
        model.tell(Status::note("There is no row to go to."));
        return Vec::new();
    };
    match goes {
        Goes::Here(thing) => {
            model.day.stays = true;
            here(model, thing)
        }
        Goes::Class(id) => stock_at(model, StockView::Classes, |model| {
            let row = model.stock.classes.ids.iter().position(|c| *c == id);
            model.stock.cursor = Cursor::at(row.unwrap_or(0));
            model.stock.view = StockView::Class(id);
            model.stock.field = Cursor::default();
        }),
        Goes::Reorder(item) => stock_at(model, StockView::Reorder, |model| pick_order(model, item)),
        Goes::Awaited(order) => stock_at(model, StockView::Reorder, |model| pick_awaited(model, order)),
        Goes::Booking(booking) => stock_at(model, StockView::Bookings, |model| pick_booking(model, booking)),
        Goes::Item(item) => {
            let effects = places::go(model, Pane::Stock);
            model.stock.show(item, &model.book, model.today);
            effects
        }
        Goes::List(tab) => stock_at(model, tab.view(), |_| {}),
        Goes::Plan => {
            let mut effects = places::go(model, Pane::Yield);
            let (panes, ctx) = model.panes();
            let replies = plan::open(panes.yields, &ctx);
            effects.extend(carry_or_tell(model, Ok(replies)));
            effects
        }
        Goes::Bench => {
            let effects = places::go(model, Pane::Yield);
            // The bench lies over the answer, as when it is opened from there.
            if model.yields.view == YieldView::Further {
                model.yields.view = YieldView::Answer;
            }
            let reply = bench::reopen(&mut model.yields);
            let more = carry_or_tell(model, Ok(reply.into_iter().collect()));
            effects.into_iter().chain(more).collect()
        }
        Goes::After(project) => {
            let mut effects = places::go(model, Pane::Yield);
            let (panes, ctx) = model.panes();
            let replies = bench::after::open(panes.yields, &ctx, project);
            effects.extend(carry_or_tell(model, Ok(replies)));
            effects
        }
    }
}

/// Does one of the four things of the first evening over the page.
fn here(model: &mut Model, thing: FirstThing) -> Vec<Effect> {
    let (panes, ctx) = model.panes();
    let replies = match thing {
        FirstThing::Trimmer => Ok(yields::run_yields(panes.yields, &ctx, CommandId::Trimmer)),
        FirstThing::Card => mats::run_mats(panes.mats, &ctx, CommandId::NewCard),
        FirstThing::Paper => Ok(stock::run_stock(panes.stock, &ctx, CommandId::NewItem)),
        FirstThing::Class => Ok(stock::run_stock(panes.stock, &ctx, CommandId::ClassNew)),
    };
    carry_or_tell(model, replies)
}

/// Opens a list of Stock and picks a row of it.
fn stock_at(model: &mut Model, view: StockView, pick: impl FnOnce(&mut Model)) -> Vec<Effect> {
    let effects = places::go(model, Pane::Stock);
    let (panes, ctx) = model.panes();
    panes.stock.filter.clear();
    stock::open_view(panes.stock, &ctx, view);
    pick(model);
    let (panes, ctx) = model.panes();
    stock::look(panes.stock, &ctx);
    effects
}

fn pick_order(model: &mut Model, item: ItemId) {
    let is_it = |row: &OrderRow| match row {
        OrderRow::Item(_, line) => line.item == item,
        OrderRow::Pack(_, pack) => pack.covers.iter().any(|(i, _)| *i == item),
        OrderRow::Missing(missing) => missing.item == item,
        _ => false,
    };
    let at = model.stock.orders.rows.iter().position(is_it);
    model.stock.cursor = Cursor::at(at.unwrap_or(0));
}

fn pick_awaited(model: &mut Model, order: OrderId) {
    let is_it = |row: &OrderRow| match row {
        OrderRow::Awaited(id) => *id == order,
        OrderRow::Parcel(_, ids) => ids.contains(&order),
        _ => false,
    };
    let at = model.stock.orders.rows.iter().position(is_it);
    model.stock.cursor = Cursor::at(at.unwrap_or(0));
}

fn pick_booking(model: &mut Model, booking: BookingId) {
    let at = model.stock.bookings.iter().position(|b| *b == booking);
    model.stock.cursor = Cursor::at(at.unwrap_or(0));
}
