//! A count day: the lines that the shelf showed, in the order in which they lie, and what was counted of each. Nothing
//! is logged before the person says so; then every difference is a line of one step.

use super::ask;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::Move;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Purpose, StockAsk};
use crate::app::prompt;
use crate::app::state::stock::count::CountDay;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::edit::count_of;
use crate::domain::stock::shelf;

/// Runs a command of the count day.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    match id {
        CommandId::StartCount => start(model),
        CommandId::CountType => open(model),
        CommandId::CountClear => clear(model),
        CommandId::CountWrite => return write(model),
        CommandId::CountLeave => leave(model),
        _ => {}
    }
    Vec::new()
}

/// Takes the count of the line in hand back.
fn clear(model: &mut Model) {
    let Some(count) = &mut model.stock.count else { return };
    let row = count.cursor.row(count.items.len());
    let taken = row.and_then(|n| count.counted.get_mut(n)).and_then(Option::take);
    if taken.is_none() {
        model.tell(Status::note("This line has no count yet: Enter types one."));
    }
}

/// Begins a walk, or goes on with the one that was left.
fn start(model: &mut Model) {
    let is_left = model.stock.count.as_ref().is_some_and(|c| !c.done().is_empty());
    if is_left {
        model.tell(Status::note("These counts are not logged yet: go on, w logs them."));
    } else {
        model.stock.count = Some(CountDay::of(&model.book, &model.stock.shown));
    }
    model.stock.view = StockView::Count;
    if !is_left {
        open(model);
    }
}

fn leave(model: &mut Model) {
    model.stock.view = StockView::Shelf;
    let n = model.stock.count.as_ref().map_or(0, |c| c.done().len());
    if n == 0 {
        model.stock.count = None;
    } else {
        let words = count_of(n as u64, "count");
        model.tell(Status::note(format!("{words} kept, not logged: c comes back to them.")));
    }
}

/// Opens the prompt for the line in hand.
fn open(model: &mut Model) {
    let Some(count) = &model.stock.count else { return };
    let Some((row, id)) = count.cursor.row(count.items.len()).and_then(|n| Some((n, *count.items.get(n)?)))
    else {
        return;
    };
    let place = model.book.items().get(id).map(|i| i.place.clone()).unwrap_or_default();
    let place = if place.is_empty() { String::new() } else { format!("{place}: ") };
    let label =
        format!("{} of {}  {place}{}. Counted:", row + 1, count.items.len(), model.book.items().name_of(id));
    let text = count.counted.get(row).copied().flatten().map_or_else(String::new, |n| n.to_string());
    prompt::open(model, Purpose::Stock(StockAsk::Counted(row)), &label, &text);
}

/// How a count is read.
pub fn echo(model: &Model, row: usize, text: &str) -> Echo {
    let Some(id) = model.stock.count.as_ref().and_then(|c| c.items.get(row)) else { return Echo::Nothing };
    let held = model.book.on_hand(*id) as i64;
    match ask::count(text, 0) {
        Ok(n) if i64::from(n) == held => Echo::Read(format!("the book says {held} too")),
        Ok(n) => Echo::Read(format!("the book says {held}: {:+}", i64::from(n) - held)),
        Err(why) => Echo::Refused(why),
    }
}

/// Takes a count and goes to the next line; nothing typed passes the line over.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, row: usize, text: &str) -> Result<Vec<Effect>, String> {
    let n = if text.trim().is_empty() { None } else { Some(ask::count(text, 0)?) };
    let Some(count) = &mut model.stock.count else { return Ok(Vec::new()) };
    if let Some(cell) = count.counted.get_mut(row).filter(|_| n.is_some()) {
        *cell = n;
    }
    if row + 1 < count.items.len() {
        count.cursor.go(Move::By(1), count.items.len());
        open(model);
    } else {
        model.tell(Status::note("That was the last line: w logs the differences."));
    }
    Ok(Vec::new())
}

fn write(model: &mut Model) -> Vec<Effect> {
    let Some(count) = &model.stock.count else { return Vec::new() };
    let done = count.done();
    if done.is_empty() {
        model.tell(Status::refused("nothing is counted yet: l types the count of a line"));
        return Vec::new();
    }
    let Some(edit) = shelf::count_day(&model.book, &done) else {
        model.stock.count = None;
        model.stock.view = StockView::Shelf;
        let words = count_of(done.len() as u64, "line");
        model.tell(Status::note(format!("{words} counted, all as the book says: nothing to log.")));
        return Vec::new();
    };
    match update::make(model, edit) {
        Ok(effects) => {
            model.stock.count = None;
            model.stock.view = StockView::Shelf;
            effects
        }
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}
