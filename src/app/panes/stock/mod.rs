//! Stock: the shelf, the bin, the log, what to order, classes and what is set aside for them. Every count shown is a
//! fold of the log.
//!
//! | file | decides |
//! |---|---|
//! | `ask` | what is typed: counts, prices, days, names |
//! | `reorder` | the rows of the reorder list, ticking ordered and arrived |
//! | `placing` | how many are ordered, how many are still to come, and when |
//! | `class_more` | another paper, designs, seats, who came, what sold |
//! | `classes` | making, changing, booking and closing a class |
//! | `count` | a count day |
//! | `list` | lists from outside: import and the yearly refresh, looked at before they are taken in |
//! | `form` | one line field by field |
//! | `new_line`, `receive`, `receive_marked`, `pack_forms`, `new_class`, `new_offcut` | the forms |
//! | `several` | marking rows, and what is done to all that are marked |
//! | `packs` | packs of several designs: made, received, changed |
//! | `ways` | what can be done where a class runs short |
//! | `doubts` | what is asked about once |
//! | `facts` | what the pane says, a fact a line |

pub mod ask;
pub mod class_more;
pub mod classes;
pub mod count;
pub mod doubts;
pub mod facts;
pub mod form;
pub mod gives;
pub mod in_hand;
pub mod list;
pub mod new_class;
pub mod new_line;
pub mod new_offcut;
pub mod new_sale;
pub mod pack_forms;
pub mod packs;
pub mod placing;
pub mod receive;
pub mod receive_marked;
pub mod reorder;
pub mod several;
pub mod typed;
pub mod ways;

use crate::app::ctx::Ctx;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::log_line;
use crate::app::state::stock::texts::StockChoice;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::Tab;
use crate::app::state::yields::Handover;
use crate::app::state::yields::SheetChoice;
use crate::app::status::Status;
use crate::domain::stock::class_change::ClassChange;

use crate::app::commands::{CommandId, Context, When};
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::state::views::StockView;
use crate::domain::edit::{Edit, Row};
use crate::domain::figures::ProjectField;
use crate::domain::stock::calendar::{DAYS, calendar, wanted};
use crate::domain::stock::{Item, LogLine};

/// Runs a command of this pane.
pub fn run_stock(pane: &mut StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    if let Some(replies) = several::run_on_marked(pane, ctx, id) {
        moved(pane, ctx);
        return replies;
    }
    match id {
        Id::ItemDown => go(pane, ctx, Move::By(1)),
        Id::ItemUp => go(pane, ctx, Move::By(-1)),
        Id::ItemPageDown => go(pane, ctx, Move::By(PAGE)),
        Id::ItemPageUp => go(pane, ctx, Move::By(-PAGE)),
        Id::ItemFirst => go(pane, ctx, Move::First),
        Id::ItemLast => go(pane, ctx, Move::Last),
        Id::StockTab => return turn(pane, ctx, 1),
        Id::StockTabBack => return turn(pane, ctx, -1),
        Id::StockSort => return vec![sort(pane, ctx)],
        Id::StockFilter => return vec![open_filter(pane, ctx)],
        Id::StockAll => show_all(pane, ctx),
        Id::ItemEdit | Id::ItemField | Id::ItemFormClose => return form::run_item_form(pane, ctx, id),
        Id::ItemToYield => return to_yield(pane, ctx).into_iter().collect(),
        Id::ItemHistory | Id::LogHistory => history(pane, ctx),
        Id::LogVoid => return picked_line(pane, ctx).map(void).into_iter().collect(),
        Id::SoldAlone => return sold_alone(pane, ctx).into_iter().collect(),
        Id::BookingRelease => return release(pane).into_iter().collect(),
        Id::ClassCalendar => return open_tab(pane, ctx, Tab::Bookings),
        Id::ReceivePack | Id::EditPack => return vec![packs::open(ctx, id)],
        Id::OffcutAdd => return vec![Reply::Form(FormFor::Offcut(None))],
        Id::StartCount | Id::CountType | Id::CountClear | Id::CountWrite | Id::CountLeave => {
            return count::run_count(pane, ctx, id);
        }
        Id::ImportList
        | Id::RefreshList
        | Id::PreviewTake
        | Id::PreviewLeave
        | Id::PreviewSeller
        | Id::PreviewLast
        | Id::PreviewFirst
        | Id::PreviewExchange => return list::run_list(pane, ctx, id),
        Id::OrderTick
        | Id::MarkOrdered
        | Id::MarkArrived
        | Id::OrderRemove
        | Id::OrderCopy
        | Id::OrderExport => return reorder::run_reorder(pane, ctx, id),
        Id::OrderCount | Id::OrderDue => return placing::open(pane, ctx, id),
        Id::ClassOpen
        | Id::ClassNew
        | Id::ClassBook
        | Id::ClassTaught
        | Id::ClassCancel
        | Id::ClassPaper
        | Id::ClassDrop
        | Id::ClassAdd
        | Id::ClassSeats
        | Id::ClassCame
        | Id::ClassSold
        | Id::ClassKits
        | Id::ClassNames
        | Id::ClassYear
        | Id::ClassField
        | Id::ClassClose => return classes::run_classes(pane, ctx, id),
        Id::ClassWays => return ways::open(pane, ctx).unwrap_or_else(|why| vec![Reply::refuse(why)]),
        Id::OrderWays => return ways::open_line(pane, ctx).unwrap_or_else(|why| vec![Reply::refuse(why)]),
        _ => return ask::open(pane, ctx, id).into_iter().collect(),
    }
    Vec::new()
}

/// The cursor of the list in view, with the number of its rows.
pub fn cursor<'a>(pane: &'a mut StockPane, ctx: &Ctx) -> (&'a mut Cursor, usize) {
    let rows = match pane.view {
        StockView::Item(_) => form::fields(pane, ctx).len(),
        StockView::Class(id) => ctx.book.projects().get(id).map_or(0, |p| ProjectField::of(p).len()),
        _ => pane.rows(ctx.book),
    };
    let StockPane { view, field, count, preview, cursor, .. } = pane;
    let cursor = match (view, count, preview) {
        (StockView::Item(_) | StockView::Class(_), ..) => field,
        (StockView::Count, Some(count), _) => &mut count.cursor,
        (StockView::Preview, _, Some(preview)) => &mut preview.cursor,
        _ => cursor,
    };
    (cursor, rows)
}

/// What follows when another row is picked.
pub fn moved(pane: &mut StockPane, ctx: &Ctx) {
    if pane.view == StockView::Classes {
        look(pane, ctx);
    }
}

/// Looks at the class under the cursor, where classes are in view.
pub fn look(pane: &mut StockPane, ctx: &Ctx) {
    if pane.tab() == Tab::Classes {
        let picked = pane.picked_class();
        pane.classes.look(ctx.book, picked, ctx.settling);
        pane.classes.look_at_all(ctx.book, ctx.today);
        if pane.classes.years.is_none() {
            pane.classes.years = Some(class_more::years(ctx));
        }
    }
    // The days ahead of a line are told alike in every list that has them.
    if pane.tab() != Tab::Classes && pane.calendar.is_none() {
        // By what is booked, else by bounds: the list says the same whichever class was looked at before.
        let has_days = matches!(pane.tab(), Tab::Bookings | Tab::Reorder);
        pane.calendar =
            Some(if has_days { calendar(ctx.book, ctx.today, DAYS, |_| None) } else { Vec::new() });
        pane.wanted = wanted(ctx.book, |_| None);
        if pane.tab() == Tab::Bookings {
            pane.aside.look(ctx.book);
        }
    }
    if pane.tab() == Tab::Bookings {
        let picked = pane.cursor.row(pane.bookings.len()).and_then(|n| pane.bookings.get(n)).copied();
        pane.aside.follow(ctx.book, picked);
    }
}

fn go(pane: &mut StockPane, ctx: &Ctx, step: Move) {
    let (cursor, rows) = cursor(pane, ctx);
    cursor.go(step, rows);
    moved(pane, ctx);
}

fn turn(pane: &mut StockPane, ctx: &Ctx, by: isize) -> Vec<Reply> {
    let tab = pane.tab().step(by);
    open_tab(pane, ctx, tab)
}

/// Another list; a count day and a list from outside are left first, so that no key loses them unseen.
pub fn open_tab(pane: &mut StockPane, ctx: &Ctx, tab: Tab) -> Vec<Reply> {
    if pane.preview_in_view().is_some() {
        return vec![Reply::refuse(When::NoPreview.why_not())];
    }
    pane.go(tab.view(), ctx.book, ctx.today);
    Vec::new()
}

/// Opens a view that the finder goes to; a count day that was left is there again as it was.
pub fn open_view(pane: &mut StockPane, ctx: &Ctx, view: StockView) {
    if view == StockView::Count {
        pane.view = view;
    } else {
        pane.go(view, ctx.book, ctx.today);
    }
}

/// Sorts the list in view the next way, and shows its top.
fn sort(pane: &mut StockPane, ctx: &Ctx) -> Reply {
    let inner = match pane.view {
        StockView::Item(_) => Some(Context::ItemForm),
        StockView::Class(_) => Some(Context::ClassForm),
        StockView::Count => Some(Context::CountDay),
        _ => None,
    };
    if let Some(why) = inner.and_then(Context::why_this_order) {
        return Reply::Tell(Status::note(why));
    }
    let by = pane.sorts.next(pane.tab());
    pane.arrange(ctx.book, ctx.today);
    pane.cursor = Cursor::default();
    moved(pane, ctx);
    Reply::Tell(Status::note(format!("{}: {}.", pane.tab().title(), by.words())))
}

fn show_all(pane: &mut StockPane, ctx: &Ctx) {
    if pane.has_marks() {
        pane.marks.clear(pane.tab());
    } else if !pane.filter.is_empty() {
        pane.filter_by("", ctx.book, ctx.unit);
    } else if pane.history().is_some() {
        history(pane, ctx);
    }
}

fn open_filter(pane: &mut StockPane, ctx: &Ctx) -> Reply {
    if pane.tab() == Tab::Shelf {
        pane.view = StockView::Shelf;
    } else {
        pane.go(StockView::Shelf, ctx.book, ctx.today);
    }
    // Made ready now, so that the first letter finds as fast as the next ones.
    pane.make_ready(ctx.book);
    typed::prompt(StockText::Filter, "Show lines with:", pane.filter.clone())
}

fn to_yield(pane: &StockPane, ctx: &Ctx) -> Option<Reply> {
    let id = pane.picked_item()?;
    Some(match SheetChoice::of_item(ctx.book, id) {
        Some(choice) => Reply::Cut(Handover { piece: None, sheet: Some(choice) }),
        None => Reply::refuse("this line has no size, so nothing can be cut from it"),
    })
}

/// From the shelf to the item's own lines; in the log, between one item's lines and all of them.
fn history(pane: &mut StockPane, ctx: &Ctx) {
    let item = match pane.view {
        StockView::History(_) => None,
        StockView::Log => picked_line(pane, ctx).map(|line| line.item),
        _ => pane.picked_item(),
    };
    let view = item.map_or(StockView::Log, StockView::History);
    pane.go(view, ctx.book, ctx.today);
}

fn picked_line<'a>(pane: &StockPane, ctx: &Ctx<'a>) -> Option<&'a LogLine> {
    let row = pane.cursor.row(pane.rows(ctx.book))?;
    log_line(pane, ctx.book, row)
}

fn void(line: &LogLine) -> Reply {
    Reply::Edit(Edit::Void { line: line.seq })
}

fn sold_alone(pane: &StockPane, ctx: &Ctx) -> Option<Reply> {
    let id = pane.picked_item()?;
    let was = ctx.book.items().get(id)?.clone();
    let now = Item { sold_alone: !was.sold_alone, ..was.clone() };
    let words = if now.sold_alone { "can be ordered alone" } else { "comes only in packs of several" };
    let label = format!("{} {words}", was.name);
    Some(Reply::Edit(Edit::batch(label, vec![Edit::Item(Row::alter(id, was, now))])))
}

fn release(pane: &StockPane) -> Option<Reply> {
    let row = pane.cursor.row(pane.bookings.len())?;
    let id = pane.bookings.get(row)?;
    Some(Reply::Edit(Edit::Booking(Row::Remove(*id))))
}

/// What choosing a row of this pane's lists does.
///
/// # Errors
/// The sentence that refuses it.
pub fn choose(pane: &StockPane, ctx: &Ctx, choice: &StockChoice) -> Replies {
    Ok(match choice {
        StockChoice::Pack(id) => vec![Reply::Form(FormFor::ReceivePack(*id))],
        StockChoice::PackFields(id) => packs::fields(ctx, *id).into_iter().collect(),
        StockChoice::PackField(id, field) => packs::change(ctx, *id, *field).into_iter().collect(),
        StockChoice::Way(id, item, words) => ways::take_way(pane, ctx, *id, *item, words)?,
        StockChoice::SwapFrom(id, from) => class_more::swap_to(ctx, *id, *from)?,
        StockChoice::SwapTo(id, from, to) => {
            class_more::changed(ctx, *id, &ClassChange::Swap { from: *from, to: *to })?
        }
        StockChoice::DropDesign(id, at) => class_more::dropped(ctx, *id, *at)?,
        StockChoice::CloseClass(id, how) => classes::closed(ctx, *id, *how)?,
    })
}
