//! A list from outside, looked at before it is taken in: an import, or the range of the new year. Every row of it stands
//! here as what it would do; taking it in is one step that one undo takes back.

use super::{ask, done};
use crate::app::action::ListRead;
use crate::app::commands::CommandId;
use crate::app::effect::{Effect, ListUse};
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::{Purpose, StockAsk};
use crate::app::prompt;
use crate::app::state::stock::preview::Preview;
use crate::app::state::stock::preview::Sign;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::domain::stock::refresh::{self};

/// Runs a command about lists.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    match id {
        Id::ImportList => open_file(model, ListUse::Import, "Take in the list in the file:"),
        Id::RefreshList => open_file(model, ListUse::Refresh, "The new year's list is in the file:"),
        Id::PreviewTake => return take(model),
        Id::PreviewLeave => {
            close(model);
            model.tell(Status::note("The list was left: nothing is changed."));
        }
        _ => open_figure(model, id),
    }
    Vec::new()
}

fn open_file(model: &mut Model, what: ListUse, label: &str) {
    prompt::open(model, Purpose::Stock(StockAsk::ListFile(what)), label, "");
}

/// Asks the outside to read a list.
///
/// # Errors
/// A sentence where no name is typed.
pub fn ask(model: &Model, what: ListUse, text: &str) -> Result<Vec<Effect>, String> {
    let currency = model.book.settings().currency.clone();
    Ok(vec![Effect::ReadList { path: ask::file(text)?, unit: model.screen.unit, currency, what }])
}

/// A list was read: here is what it would do.
pub fn read(model: &mut Model, list: ListRead) -> Vec<Effect> {
    let seller =
        list.rows.as_ref().map_or_else(|_| String::new(), |rows| refresh::seller_of(&model.book, rows));
    let mut preview = Preview {
        path: list.path,
        what: list.what,
        seller,
        last: model.today,
        first: model.today.tomorrow().unwrap_or(model.today),
        lines: Vec::new(),
        cursor: Cursor::default(),
        summary: String::new(),
        rows: list.rows,
        edit: None,
    };
    preview.work_out(&model.book, model.today);
    let pane = &mut model.stock;
    pane.preview = Some(preview);
    pane.under = pane.below_preview();
    pane.view = StockView::Preview;
    Vec::new()
}

fn close(model: &mut Model) {
    model.stock.preview = None;
    model.stock.view = model.stock.below_preview();
}

fn take(model: &mut Model) -> Vec<Effect> {
    let Some(preview) = &model.stock.preview else { return Vec::new() };
    match preview.edit.clone() {
        Some(edit) => {
            close(model);
            done(model, edit)
        }
        None if preview.lines.iter().any(|l| l.sign == Sign::Refused) => {
            let why = preview.summary.clone();
            model.tell(Status::refused(why));
            Vec::new()
        }
        None => {
            model.tell(Status::note("The list says nothing new: there is nothing to take in."));
            Vec::new()
        }
    }
}

fn open_figure(model: &mut Model, id: CommandId) {
    let Some(preview) = &model.stock.preview else { return };
    let (ask, label, text) = match id {
        CommandId::PreviewSeller => (StockAsk::ListSeller, "Whose list is it?", preview.seller.clone()),
        CommandId::PreviewLast => (StockAsk::ListLast, "Last day of what leaves:", preview.last.to_string()),
        _ => (StockAsk::ListFirst, "First day of what arrives:", preview.first.to_string()),
    };
    prompt::open(model, Purpose::Stock(ask), label, &text);
}

/// Takes a figure of the yearly list.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, ask: &StockAsk, text: &str) -> Result<Vec<Effect>, String> {
    let Some(preview) = &mut model.stock.preview else { return Ok(Vec::new()) };
    match ask {
        StockAsk::ListLast => preview.last = super::ask::day(text)?,
        StockAsk::ListFirst => preview.first = super::ask::day(text)?,
        _ => text.trim().clone_into(&mut preview.seller),
    }
    preview.work_out(&model.book, model.today);
    Ok(Vec::new())
}
