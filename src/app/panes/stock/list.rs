//! A list from outside, looked at before it is taken in: an import, or the range of the new year. Every row of it stands
//! here as what it would do; taking it in is one step that one undo takes back.

use crate::app::panes::stock::typed;

use crate::app::action::ListRead;
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::{Effect, ListUse};
use crate::app::input::list::Cursor;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::preview::Preview;
use crate::app::state::stock::preview::Sign;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::domain::stock::refresh::{self};
use jiff::civil::Date;

/// Runs a command about lists.
pub fn run_list(pane: &mut StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let file = |what, label: &str| typed::prompt(StockText::ListFile(what), label, "");
    match id {
        Id::ImportList => vec![file(ListUse::Import, "Bring in the list from the file:")],
        Id::RefreshList => vec![file(ListUse::Refresh, "The new year's list is in the file:")],
        Id::PreviewTake => take(pane).into_iter().collect(),
        Id::PreviewLeave => {
            close(pane);
            vec![Reply::Tell(Status::note("Nothing was brought in from the list."))]
        }
        Id::PreviewExchange => exchange(pane, ctx).into_iter().collect(),
        _ => open_figure(pane, id).into_iter().collect(),
    }
}

/// Cards take what takes the place of what leaves, or keep their papers again.
fn exchange(pane: &mut StockPane, ctx: &Ctx) -> Option<Reply> {
    let preview = pane.preview.as_mut()?;
    preview.exchange = !preview.exchange;
    preview.work_out(ctx.book, ctx.today);
    Some(Reply::Tell(Status::note(if preview.exchange {
        "Cards of open projects take what takes the place of what leaves; <preview-exchange> takes that back."
    } else {
        "Cards keep their papers."
    })))
}

/// Asks the outside to read a list.
///
/// # Errors
/// A sentence where no name is typed.
pub fn ask(ctx: &Ctx, what: ListUse, text: &str) -> Replies {
    let currency = ctx.book.settings().currency.clone();
    Ok(vec![Reply::Do(Effect::ReadList { path: typed::file(text)?, unit: ctx.unit, currency, what })])
}

/// A list was read: here is what it would do.
pub fn read(pane: &mut StockPane, ctx: &Ctx, list: ListRead) {
    let seller = list.rows.as_ref().map_or_else(|_| String::new(), |rows| refresh::seller_of(ctx.book, rows));
    let mut preview = Preview {
        path: list.path,
        what: list.what,
        seller,
        last: None,
        first: None,
        exchange: false,
        lines: Vec::new(),
        cursor: Cursor::default(),
        summary: String::new(),
        rows: list.rows,
        edit: None,
    };
    preview.work_out(ctx.book, ctx.today);
    pane.preview = Some(preview);
    pane.under = pane.below_preview();
    pane.view = StockView::Preview;
}

fn close(pane: &mut StockPane) {
    pane.preview = None;
    pane.view = pane.below_preview();
}

fn take(pane: &mut StockPane) -> Option<Reply> {
    let preview = pane.preview.as_ref()?;
    if preview.wants().is_some() && !preview.lines.iter().any(|l| l.sign == Sign::Refused) {
        // The day that is missing is asked for: a list is never taken in by a day that nobody said.
        let which = if preview.last.is_none() { CommandId::PreviewLast } else { CommandId::PreviewFirst };
        return open_figure(pane, which);
    }
    Some(match preview.edit.clone() {
        Some(edit) => {
            close(pane);
            Reply::Edit(edit)
        }
        None if preview.lines.iter().any(|l| l.sign == Sign::Refused) => Reply::refuse(&*preview.summary),
        None => Reply::Tell(Status::note("The list holds nothing new.")),
    })
}

fn open_figure(pane: &StockPane, id: CommandId) -> Option<Reply> {
    let preview = pane.preview.as_ref()?;
    Some(match id {
        CommandId::PreviewSeller => {
            typed::prompt(StockText::ListSeller, "Whose list is it?", preview.seller.clone())
        }
        CommandId::PreviewLast => {
            typed::prompt(StockText::ListLast, "Last day of what leaves:", typed_day(preview.last))
        }
        _ => typed::prompt(StockText::ListFirst, "First day of what arrives:", typed_day(preview.first)),
    })
}

fn typed_day(day: Option<Date>) -> String {
    day.map_or_else(String::new, |d| d.to_string())
}

/// Takes a figure of the yearly list.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &mut StockPane, ctx: &Ctx, asked: &StockText, text: &str) -> Result<(), String> {
    let Some(preview) = &mut pane.preview else { return Ok(()) };
    match asked {
        StockText::ListLast => preview.last = Some(typed::day(text)?),
        StockText::ListFirst => preview.first = Some(typed::day(text)?),
        _ => text.trim().clone_into(&mut preview.seller),
    }
    preview.work_out(ctx.book, ctx.today);
    Ok(())
}
