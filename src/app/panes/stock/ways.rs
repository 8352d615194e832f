//! What can be done where a class runs short, as rows to choose from. Each row is one step. A worker tries the ways as soon
//! as a class in view runs short, so that the key finds them there; one is taken only while the book is the one it was tried
//! on.

use super::typed::row;
use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::reply::{Replies, Reply};
use crate::app::state::stock::StockPane;
use crate::app::state::stock::orders::OrderRow;
use crate::app::state::stock::texts::StockChoice;
use crate::app::state::stock::ways::{Ways, WaysAsk};
use crate::app::status::Status;
use crate::domain::project::Progress;
use crate::domain::stock::outlook::{Outlook, outlook};
use crate::domain::stock::shortage::shortage;
use crate::domain::stock::ways::ShortLine;
use crate::domain::stock::{ItemId, ProjectId};

/// Asks for the ways out of the class in view, where it is open and runs short.
pub fn follow(pane: &mut StockPane, ctx: &Ctx) -> Option<Reply> {
    let (id, look) = pane.classes.outlook.as_ref()?;
    let is_open = ctx.book.projects().get(*id)?.progress == Progress::Open;
    if is_open && is_short(look) { ask(&mut pane.ways, ctx, *id, look) } else { None }
}

fn is_short(look: &Outlook) -> bool {
    look.needs.iter().any(|n| n.missing > 0)
}

/// Asks, where what was asked last is another question. It comes with every key, so nothing is copied to find that out.
fn ask(ways: &mut Ways, ctx: &Ctx, project: ProjectId, look: &Outlook) -> Option<Reply> {
    let now = (ctx.book.seq(), ctx.today, project, look);
    if ways.asked.as_ref().is_some_and(|(seq, today, of, look)| (*seq, *today, *of, look) == now) {
        return None;
    }
    ways.asked = Some((ctx.book.seq(), ctx.today, project, look.clone()));
    (ways.found, ways.waiting) = (None, None);
    let ask = WaysAsk { book: ctx.book.clone(), project, look: look.clone(), today: ctx.today };
    Some(Reply::Ask(Ask::Ways(Box::new(ask))))
}

/// The rows of the class under the cursor.
///
/// # Errors
/// A sentence where there is nothing to choose from.
pub fn open(pane: &mut StockPane, ctx: &Ctx) -> Replies {
    let id = pane.picked_class().ok_or("no class is picked")?;
    super::classes::check_open(ctx.book, id)?;
    show(pane, ctx, id, None)
}

/// The rows of the line of the reorder list under the cursor, for the class that is the first to run short of it.
///
/// # Errors
/// A sentence where no class is short of it.
pub fn open_line(pane: &mut StockPane, ctx: &Ctx) -> Replies {
    let item = match super::reorder::picked(pane) {
        Some(OrderRow::Item(_, line)) => line.item,
        Some(OrderRow::Missing(missing)) => missing.item,
        _ => return Err("this is no line that a class could be short of".to_owned()),
    };
    let name = ctx.book.items().name_of(item);
    let short = shortage(ctx.book, item);
    let id =
        short.ok_or_else(|| format!("no class is short of {name}: it is listed for its low mark"))?.project;
    show(pane, ctx, id, Some(item))
}

/// Shows the list, or has it shown as soon as a worker knows it.
fn show(pane: &mut StockPane, ctx: &Ctx, id: ProjectId, of: Option<ItemId>) -> Replies {
    let look = outlook(ctx.book, id, ctx.settling.of(id)).ok_or("this class is gone")?;
    if !is_short(&look) {
        let name = ctx.book.projects().name_of(id);
        return Ok(vec![Reply::Tell(Status::note(format!("Nothing is short for {name}.")))]);
    }
    let asked = ask(&mut pane.ways, ctx, id, &look);
    if let Some(lines) = pane.ways.of(ctx.book, id) {
        return choose_from(ctx, id, lines, of).map(|reply| vec![reply]);
    }
    pane.ways.open = Some(of);
    let words = Status::note("What can be done is being worked out.");
    Ok(asked.into_iter().chain([Reply::Tell(words)]).collect())
}

/// Takes a worker's answer, and shows it where that was asked for and the list has room now; `None` where it is to an older
/// question.
pub fn solved(
    pane: &mut StockPane,
    ctx: &Ctx,
    (number, has_room): (u64, bool),
    lines: Vec<ShortLine>,
) -> Option<Reply> {
    if pane.ways.waiting != Some(number) {
        return None;
    }
    (pane.ways.waiting, pane.ways.found) = (None, Some(lines));
    let of = pane.ways.open.take().filter(|_| has_room)?;
    let (_, _, id, _) = pane.ways.asked.as_ref()?;
    let lines = pane.ways.of(ctx.book, *id)?;
    Some(choose_from(ctx, *id, lines, of).unwrap_or_else(Reply::refuse))
}

fn choose_from(ctx: &Ctx, id: ProjectId, lines: &[ShortLine], of: Option<ItemId>) -> Result<Reply, String> {
    let currency = &ctx.book.settings().currency;
    let lines = || lines.iter().filter(|line| of.is_none_or(|item| item == line.item));
    let short = |line: &ShortLine| format!("{} of {}", line.missing, ctx.book.items().name_of(line.item));
    let rows: Vec<_> = lines()
        .flat_map(|line| line.ways.iter().map(move |way| (line, way)))
        .map(|(line, way)| {
            let choice = StockChoice::Way(id, line.item, way.words.clone());
            row(way.words.clone(), format!("{} short: {}", short(line), way.detail(currency)), choice)
        })
        .collect();
    if rows.is_empty() {
        let short = lines().map(short).collect::<Vec<_>>().join("; ");
        return Err(format!("{short} short, and nothing on the shelf or at its seller fixes it"));
    }
    Ok(Reply::pick("Short: choose what is done. Esc changes nothing", rows))
}

/// Takes one of them.
///
/// # Errors
/// A sentence where the book was changed since, so that it is no way any more.
pub fn take_way(pane: &StockPane, ctx: &Ctx, id: ProjectId, item: ItemId, words: &str) -> Replies {
    let lines = pane.ways.of(ctx.book, id).unwrap_or_default();
    let found = lines.iter().filter(|l| l.item == item).flat_map(|l| &l.ways).find(|w| w.words == words);
    let way = found.ok_or("the book was changed since: ask again what can be done")?;
    Ok(vec![Reply::Edit(way.edit.clone())])
}
