//! What can be done where a class runs short, as rows to choose from. Each row is one step; they are worked out when they are
//! asked for and once more when one is taken, so that nothing is done by a list that is no longer true.

use super::typed::row;
use crate::app::ctx::Ctx;
use crate::app::reply::{Replies, Reply};
use crate::app::state::stock::StockPane;
use crate::app::state::stock::orders::OrderRow;
use crate::app::state::stock::texts::StockChoice;
use crate::app::status::Status;
use crate::domain::stock::outlook::outlook;
use crate::domain::stock::shortage::shortage;
use crate::domain::stock::ways::{ShortLine, ways_out};
use crate::domain::stock::{ItemId, ProjectId};

/// What a class runs short of, with every way out.
pub fn lines(ctx: &Ctx, id: ProjectId) -> Vec<ShortLine> {
    let look = outlook(ctx.book, id, ctx.settling.of(id));
    look.map(|look| ways_out(ctx.book, id, &look, ctx.today)).unwrap_or_default()
}

/// The rows of the class under the cursor.
///
/// # Errors
/// A sentence where there is nothing to choose from.
pub fn open(pane: &StockPane, ctx: &Ctx) -> Result<Reply, String> {
    let id = pane.picked_class().ok_or("no class is picked")?;
    super::classes::check_open(ctx.book, id)?;
    choose_from(ctx, id, &lines(ctx, id))
}

/// The rows of the line of the reorder list under the cursor, for the class that is the first to run short of it.
///
/// # Errors
/// A sentence where no class is short of it.
pub fn open_line(pane: &StockPane, ctx: &Ctx) -> Result<Reply, String> {
    let item = match super::reorder::picked(pane) {
        Some(OrderRow::Item(_, line)) => line.item,
        Some(OrderRow::Missing(missing)) => missing.item,
        _ => return Err("this is no line that a class could be short of".to_owned()),
    };
    let name = ctx.book.items().name_of(item);
    let short = shortage(ctx.book, item);
    let id =
        short.ok_or_else(|| format!("no class is short of {name}: it is listed for its low mark"))?.project;
    let lines: Vec<ShortLine> = lines(ctx, id).into_iter().filter(|l| l.item == item).collect();
    choose_from(ctx, id, &lines)
}

fn choose_from(ctx: &Ctx, id: ProjectId, lines: &[ShortLine]) -> Result<Reply, String> {
    let name = ctx.book.projects().name_of(id);
    let currency = &ctx.book.settings().currency;
    if lines.is_empty() {
        return Ok(Reply::Tell(Status::note(format!("Nothing is short for {name}."))));
    }
    let rows: Vec<_> = lines
        .iter()
        .flat_map(|line| line.ways.iter().map(move |way| (line, way)))
        .map(|(line, way)| {
            let choice = StockChoice::Way(id, line.item, way.words.clone());
            let of = format!("{} of {} short", line.missing, ctx.book.items().name_of(line.item));
            row(way.words.clone(), format!("{of}: {}", way.detail(currency)), choice)
        })
        .collect();
    if rows.is_empty() {
        let short = lines.iter().map(|l| format!("{} of {}", l.missing, ctx.book.items().name_of(l.item)));
        let short = short.collect::<Vec<_>>().join("; ");
        return Err(format!("{short} short, and nothing on the shelf or at its seller mends it"));
    }
    Ok(Reply::pick("Short: choose what is done. Esc changes nothing", rows))
}

/// Takes one of them.
///
/// # Errors
/// A sentence where the book was changed since, so that it is no way any more.
pub fn take(ctx: &Ctx, id: ProjectId, item: ItemId, words: &str) -> Replies {
    let all = lines(ctx, id);
    let found = all.into_iter().filter(|l| l.item == item).flat_map(|l| l.ways).find(|w| w.words == words);
    let way = found.ok_or("the book was changed since: ask anew what can be done")?;
    Ok(vec![Reply::Edit(way.edit)])
}
