//! A count day: the lines that the shelf showed, in the order in which they lie, and what was counted of each. Nothing
//! is logged before the person says so; then every difference is a line of one step.

use crate::app::panes::stock::typed;

use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::input::list::Move;
use crate::app::overlay::Echo;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::count::CountDay;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::domain::plural::count_of;
use crate::domain::stock::{ItemId, shelf};

/// Runs a command of the count day.
pub fn run_count(pane: &mut StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    match id {
        CommandId::StartCount => start(pane, ctx),
        CommandId::CountType => open(pane, ctx).into_iter().collect(),
        CommandId::CountClear => clear(pane, ctx).into_iter().collect(),
        CommandId::CountWrite => write(pane, ctx),
        CommandId::CountLeave => leave(pane).into_iter().collect(),
        _ => Vec::new(),
    }
}

/// Takes the count of the line in hand back.
fn clear(pane: &mut StockPane, ctx: &Ctx) -> Option<Reply> {
    let count = pane.count.as_mut()?;
    let row = count.cursor.row(count.items.len());
    let taken = row.and_then(|n| count.counted.get_mut(n)).and_then(Option::take);
    let words = ctx.keys.say("This line has no count yet: <count-type> types one.");
    taken.is_none().then(|| Reply::Tell(Status::note(words)))
}

/// Begins a walk along the lines shown, or goes on with the one that was left.
fn start(pane: &mut StockPane, ctx: &Ctx) -> Vec<Reply> {
    let shown = pane.shown.clone();
    start_with(pane, ctx, &shown)
}

/// Begins a walk along these lines, or goes on with the one that was left.
pub(super) fn start_with(pane: &mut StockPane, ctx: &Ctx, lines: &[ItemId]) -> Vec<Reply> {
    let is_left = pane.count.as_ref().is_some_and(|c| !c.done().is_empty());
    pane.view = StockView::Count;
    if is_left {
        let words = ctx.keys.say("These counts are not logged yet: go on, <count-write> logs them.");
        return vec![Reply::Tell(Status::note(words))];
    }
    pane.count = Some(CountDay::of(ctx.book, lines));
    open(pane, ctx).into_iter().collect()
}

fn leave(pane: &mut StockPane) -> Option<Reply> {
    pane.view = StockView::Shelf;
    let n = pane.count.as_ref().map_or(0, |c| c.done().len());
    if n == 0 {
        pane.count = None;
        return None;
    }
    let words = count_of(n as u64, "count");
    Some(Reply::Tell(Status::note(format!("{words} kept, not logged: <count-day> comes back to them."))))
}

/// The prompt for the line in hand.
fn open(pane: &StockPane, ctx: &Ctx) -> Option<Reply> {
    let count = pane.count.as_ref()?;
    let row = count.cursor.row(count.items.len())?;
    let id = *count.items.get(row)?;
    let place = ctx.book.items().get(id).map(|i| i.place.clone()).unwrap_or_default();
    let place = if place.is_empty() { String::new() } else { format!("{place}: ") };
    let (name, of) = (ctx.book.items().name_of(id), count.items.len());
    let label = format!("{} of {of}  {place}{name}. Counted:", row + 1);
    let text = count.counted.get(row).copied().flatten().map_or_else(String::new, |n| n.to_string());
    Some(typed::prompt(StockText::Counted(row), label, text))
}

/// How a count is read.
pub fn echo(pane: &StockPane, ctx: &Ctx, row: usize, text: &str) -> Echo {
    let Some(id) = pane.count.as_ref().and_then(|c| c.items.get(row)) else { return Echo::Nothing };
    let held = ctx.book.on_hand(*id) as i64;
    match typed::count(text, 0) {
        Ok(n) if i64::from(n) == held => Echo::Read(format!("the book says {held} too")),
        Ok(n) => Echo::Read(format!("the book says {held}: {:+}", i64::from(n) - held)),
        Err(why) => Echo::Refused(why),
    }
}

/// Takes a count and goes to the next line; nothing typed passes the line over.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &mut StockPane, ctx: &Ctx, row: usize, text: &str) -> Replies {
    let n = if text.trim().is_empty() { None } else { Some(typed::count(text, 0)?) };
    let Some(count) = &mut pane.count else { return Ok(Vec::new()) };
    if let Some(cell) = count.counted.get_mut(row).filter(|_| n.is_some()) {
        *cell = n;
    }
    if row + 1 < count.items.len() {
        count.cursor.go(Move::By(1), count.items.len());
        return Ok(open(pane, ctx).into_iter().collect());
    }
    let words = ctx.keys.say("That was the last line: <count-write> logs the differences.");
    Ok(vec![Reply::Tell(Status::note(words))])
}

fn write(pane: &mut StockPane, ctx: &Ctx) -> Vec<Reply> {
    let Some(count) = &pane.count else { return Vec::new() };
    let done = count.done();
    if done.is_empty() {
        return vec![Reply::refuse(
            ctx.keys.say("nothing is counted yet: <count-type> types the count of a line"),
        )];
    }
    if let Some(edit) = shelf::count_day(ctx.book, &done) {
        return vec![Reply::Edit(edit), Reply::CountLogged];
    }
    pane.end_count();
    let words = count_of(done.len() as u64, "line");
    vec![Reply::Tell(Status::note(format!("{words} counted, all as the book says: nothing to log.")))]
}
