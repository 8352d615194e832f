//! Stock: the shelf, the bin, the log, what to order, classes and what is set aside for them. Every count shown is a
//! fold of the log.
//!
//! | file | decides |
//! |---|---|
//! | `ask` | what is typed: counts, prices, days, names |
//! | `reorder` | the rows of the reorder list, ticking ordered and arrived |
//! | `classes` | making, changing, booking and closing a class |
//! | `count` | a count day |
//! | `list` | lists from outside: import and the yearly refresh, looked at before they are taken in |
//! | `form` | one line field by field |
//! | `packs` | packs of several designs: made, received, changed |
//! | `facts` | what the pane says, a fact a line |

pub mod ask;
pub mod classes;
pub mod count;
pub mod facts;
pub mod form;
pub mod list;
pub mod packs;
pub mod reorder;

use crate::app::state::stock::StockPane;
use crate::app::state::stock::bin;
use crate::app::state::stock::log_line;
pub use crate::app::state::views::Tab;

use crate::app::commands::{CommandId, When};
use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::model::Model;
use crate::app::overlay::{Echo, Overlay, PickRow, Purpose, StockAsk, Target};
use crate::app::pane::Pane;
use crate::app::panes::yields;
use crate::app::prompt;
use crate::app::resolve::why_not;
use crate::app::state::views::{StockView, YieldView};
use crate::app::status::Status;
use crate::app::update;
use crate::domain::edit::{Edit, Row};
use crate::domain::stock::{Item, LogLine, ProjectId};

/// Rows of the list in view.
pub fn rows(model: &Model) -> usize {
    let (pane, book) = (&model.stock, &model.book);
    if let Some(preview) = pane.preview_in_view() {
        return preview.lines.len();
    }
    if let Some(count) = pane.count_in_view() {
        return count.items.len();
    }
    match pane.tab() {
        Tab::Shelf => pane.shown.len(),
        Tab::Bin => bin(book).len(),
        Tab::Log => pane.history().map_or(book.log().len(), |item| book.lines_of(item).count()),
        Tab::Reorder => pane.orders.rows.len(),
        Tab::Classes => pane.classes.ids.len(),
        Tab::Bookings => pane.bookings.len(),
    }
}

/// Narrows the shelf.
pub fn filter(model: &mut Model, text: &str) {
    text.trim().clone_into(&mut model.stock.filter);
    model.stock.cursor = Cursor::default();
    model.stock.narrow(&model.book, model.screen.unit);
}

/// Runs a command of this pane.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    match id {
        Id::ItemDown => go(model, Move::By(1)),
        Id::ItemUp => go(model, Move::By(-1)),
        Id::ItemPageDown => go(model, Move::By(PAGE)),
        Id::ItemPageUp => go(model, Move::By(-PAGE)),
        Id::ItemFirst => go(model, Move::First),
        Id::ItemLast => go(model, Move::Last),
        Id::StockTab => turn(model, 1),
        Id::StockTabBack => turn(model, -1),
        Id::StockFilter => open_filter(model),
        Id::StockAll => show_all(model),
        Id::ItemEdit | Id::ItemField | Id::ItemFormClose => return form::run(model, id),
        Id::ItemToYield => return to_yield(model),
        Id::ItemHistory | Id::LogHistory => history(model),
        Id::LogVoid => return void(model),
        Id::SoldAlone => return sold_alone(model),
        Id::BookingRelease => return release(model),
        Id::ReceivePack | Id::EditPack => packs::open(model, id),
        Id::OffcutAdd => open_papers(model),
        Id::StartCount | Id::CountType | Id::CountClear | Id::CountWrite | Id::CountLeave => {
            return count::run(model, id);
        }
        Id::ImportList
        | Id::RefreshList
        | Id::PreviewTake
        | Id::PreviewLeave
        | Id::PreviewSeller
        | Id::PreviewLast
        | Id::PreviewFirst => return list::run(model, id),
        Id::OrderTick
        | Id::MarkOrdered
        | Id::MarkArrived
        | Id::OrderRemove
        | Id::OrderCopy
        | Id::OrderExport => return reorder::run(model, id),
        Id::ClassOpen
        | Id::ClassNew
        | Id::ClassBook
        | Id::ClassTaught
        | Id::ClassCancel
        | Id::ClassField
        | Id::ClassClose => return classes::run(model, id),
        _ => ask::open(model, id),
    }
    Vec::new()
}

/// The cursor of the list in view, with the number of its rows.
pub fn cursor(model: &mut Model) -> (&mut Cursor, usize) {
    let rows = match model.stock.view {
        StockView::Item(_) => form::fields(model).len(),
        StockView::Class(_) => classes::FIELDS.len(),
        _ => rows(model),
    };
    let StockPane { view, field, count, preview, cursor, .. } = &mut model.stock;
    let cursor = match (view, count, preview) {
        (StockView::Item(_) | StockView::Class(_), ..) => field,
        (StockView::Count, Some(count), _) => &mut count.cursor,
        (StockView::Preview, _, Some(preview)) => &mut preview.cursor,
        _ => cursor,
    };
    (cursor, rows)
}

/// What follows when another row is picked.
pub fn moved(model: &mut Model) {
    if model.stock.view == StockView::Classes {
        look(model);
    }
}

/// Looks at the class under the cursor, where classes are in view.
pub fn look(model: &mut Model) {
    let Model { stock: pane, book, settling, .. } = model;
    if pane.tab() == Tab::Classes {
        pane.classes.look(book, pane.picked_class(), settling);
    }
}

fn go(model: &mut Model, step: Move) {
    let (cursor, rows) = cursor(model);
    cursor.go(step, rows);
    moved(model);
}

fn turn(model: &mut Model, by: isize) {
    open_tab(model, model.stock.tab().step(by));
}

/// Another list; a count day and a list from outside are left first, so that no key loses them unseen.
pub fn open_tab(model: &mut Model, tab: Tab) {
    if model.stock.preview_in_view().is_some() {
        model.tell(Status::refused(why_not(When::NoPreview)));
        return;
    }
    model.stock.go(tab.view(), &model.book, model.today);
}

/// Opens a view that the finder goes to; a count day that was left is there again as it was.
pub fn open_view(model: &mut Model, view: StockView) {
    if view == StockView::Count {
        model.stock.view = view;
    } else {
        model.stock.go(view, &model.book, model.today);
    }
}

fn show_all(model: &mut Model) {
    if !model.stock.filter.is_empty() {
        filter(model, "");
    } else if model.stock.history().is_some() {
        history(model);
    }
}

fn open_filter(model: &mut Model) {
    if model.stock.tab() == Tab::Shelf {
        model.stock.view = StockView::Shelf;
    } else {
        model.stock.go(StockView::Shelf, &model.book, model.today);
    }
    // Made ready now, so that the first letter finds as fast as the next ones.
    model.stock.make_ready(&model.book);
    let now = model.stock.filter.clone();
    prompt::open(model, Purpose::StockFilter, "Show lines with:", &now);
}

fn to_yield(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.stock.picked_item() else { return Vec::new() };
    let Some(choice) = yields::sheet_of_item(model, id) else {
        model.tell(Status::refused("this line has no size, so nothing can be cut from it"));
        return Vec::new();
    };
    model.pane = Pane::Yield;
    model.yields.view = YieldView::Answer;
    yields::take_sheet(model, choice)
}

/// From the shelf to the item's own lines; in the log, between one item's lines and all of them.
fn history(model: &mut Model) {
    let pane = &model.stock;
    let row = || pane.cursor.row(rows(model)).and_then(|n| log_line(pane, &model.book, n));
    let item = match pane.view {
        StockView::History(_) => None,
        StockView::Log => row().map(|line| line.item),
        _ => pane.picked_item(),
    };
    let view = item.map_or(StockView::Log, StockView::History);
    model.stock.go(view, &model.book, model.today);
}

fn picked_line(model: &Model) -> Option<&LogLine> {
    let row = model.stock.cursor.row(rows(model))?;
    log_line(&model.stock, &model.book, row)
}

fn void(model: &mut Model) -> Vec<Effect> {
    let Some(line) = picked_line(model).map(|l| l.seq) else { return Vec::new() };
    done(model, Edit::Void { line })
}

fn sold_alone(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.stock.picked_item() else { return Vec::new() };
    let Some(was) = model.book.items().get(id).cloned() else { return Vec::new() };
    let now = Item { sold_alone: !was.sold_alone, ..was.clone() };
    let words = if now.sold_alone { "can be ordered alone" } else { "comes only in packs of several" };
    let label = format!("{} {words}", was.name);
    done(model, Edit::batch(label, vec![Edit::Item(Row::alter(id, was, now))]))
}

fn release(model: &mut Model) -> Vec<Effect> {
    let row = model.stock.cursor.row(model.stock.bookings.len());
    let Some(id) = row.and_then(|n| model.stock.bookings.get(n).copied()) else { return Vec::new() };
    done(model, Edit::Booking(Row::Remove(id)))
}

/// Makes an edit, or says why not.
pub fn done(model: &mut Model, edit: Edit) -> Vec<Effect> {
    update::make(model, edit).unwrap_or_else(|why| {
        model.tell(Status::refused(why));
        Vec::new()
    })
}

/// A row to choose.
fn row(label: impl Into<String>, detail: impl Into<String>, target: Target) -> PickRow {
    PickRow { label: label.into(), detail: detail.into(), target, is_live: true }
}

fn open_papers(model: &mut Model) {
    let rows = model.book.items().iter().filter(|(_, i)| i.kind.is_paper()).map(|(id, i)| {
        let size = i.cutting_size().map(|s| s.as_made(model.screen.unit)).unwrap_or_default();
        row(&i.name, size, Target::OffcutOf(id))
    });
    let rows = rows.collect();
    model.overlays.push(Overlay::Picker(finder::picker("An offcut of which paper?", rows)));
}

/// What choosing a row of this pane's lists does.
pub fn choose(model: &mut Model, target: &Target) -> Vec<Effect> {
    match target {
        Target::OffcutOf(item) => {
            let name = model.book.items().name_of(*item);
            let label = format!("{name}. Offcut (4x11, 3, grain long):");
            prompt::open(model, Purpose::Stock(StockAsk::OffcutAdd(*item)), &label, "");
        }
        Target::Pack(_) | Target::PackFields(_) | Target::PackField(..) => {
            return packs::choose(model, target);
        }
        Target::ClassLike(like) => classes::open_name(model, *like),
        Target::CloseClass(id, how) => return classes::close(model, *id, *how),
        _ => {}
    }
    Vec::new()
}

/// How a prompt's text is read, while it is typed.
pub fn echo(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    ask::echo_count(model, purpose, text)
}

/// Takes a prompt's text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    ask::accept_count(model, purpose, text)
}

/// The project of a picked class.
pub fn picked_class(model: &Model) -> Option<ProjectId> {
    model.stock.picked_class()
}
