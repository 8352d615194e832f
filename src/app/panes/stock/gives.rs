//! What the offcuts in view give: asked of a worker while their list is in view and there is room to tell it, those near
//! the cursor of a long one.

use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::reply::Reply;
use crate::app::state::stock::gives::Gives;
use crate::app::state::stock::{StockPane, bin};
use crate::app::state::views::StockView;
use crate::domain::cutting::question::Trimmer;
use crate::domain::length::Unit;
use crate::domain::shelf_answers::scrap::{ScrapAsk, ScrapRow};
use crate::domain::stock::OffcutId;

/// Rows of a long list that are asked for at once, and how many of them stay when the next are.
const ROWS: (usize, usize) = (48, 24);

/// Asks, where what was asked last is another question.
pub fn follow(pane: &mut StockPane, ctx: &Ctx, trimmer: &Trimmer) -> Option<Reply> {
    if pane.view != StockView::Bin {
        return None;
    }
    let ids = bin(pane, ctx.book);
    let first = (pane.cursor.row(ids.len())? / ROWS.1).saturating_sub(1) * ROWS.1;
    let ids: Vec<OffcutId> = ids.into_iter().skip(first).take(ROWS.0 + ROWS.1).collect();
    let of = Some((ctx.book.seq(), *trimmer, ids));
    if pane.gives.of == of {
        return None;
    }
    let ids = of.iter().flat_map(|(.., ids)| ids);
    let asked: Vec<ScrapAsk> = ids.filter_map(|id| ScrapAsk::of_offcut(ctx.book, *id, trimmer)).collect();
    pane.gives = Gives { of, asked: asked.clone(), ..Gives::default() };
    Some(Reply::Ask(Ask::Gives(asked)))
}

/// Takes a worker's answer, unless it is to an older question.
pub fn solved(pane: &mut StockPane, number: u64, found: Vec<Vec<ScrapRow>>) {
    if pane.gives.waiting == Some(number) {
        pane.gives.waiting = None;
        pane.gives.found = found;
    }
}

/// The size that uses most of an offcut, for a cell: `2 of 4 x 5 1/4 in, 92 %`; `nothing` where no size fits, empty where it
/// is not known.
pub fn most_words(pane: &StockPane, id: OffcutId, unit: Unit) -> String {
    let Some((ask, rows)) = pane.gives.of(id) else { return String::new() };
    let first = rows.first().and_then(|row| Some((row, ask.pieces.get(row.piece)?)));
    first.map_or_else(
        || "nothing".to_owned(),
        |(row, piece)| {
            format!("{} of {}, {} %", row.gives, piece.size.as_made_and_own(unit), row.used_percent)
        },
    )
}
