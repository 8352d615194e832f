//! The layout of what is in hand in the chart or in a further answer: which question that is, and when it is asked.

use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::reply::Reply;
use crate::app::state::further::{FurtherAsk, FurtherFound};
use crate::app::state::laid::LaidAsk;
use crate::app::state::views::YieldView;
use crate::app::state::yields::{SheetChoice, YieldPane};
use crate::domain::cutting::one_size::SheetYield;
use crate::domain::cutting::question::{Question, Trimmer};
use crate::domain::sheet::Sheet;

/// The size in hand on its sheet; `None` where nothing in hand is one size on one sheet.
pub fn in_hand(pane: &YieldPane, ctx: &Ctx) -> Option<LaidAsk> {
    match pane.view {
        YieldView::Chart => {
            let question = Question { piece: pane.picked_size()?, ..pane.question() };
            Some(LaidAsk { question: edge_to_edge(question), paper: pane.sheet.paper })
        }
        YieldView::Further => of_row(pane, ctx),
        YieldView::Answer | YieldView::Plan | YieldView::Bench => None,
    }
}

/// The row of a list: a paper for the piece, a smaller size, a size out of a scrap.
fn of_row(pane: &YieldPane, ctx: &Ctx) -> Option<LaidAsk> {
    let row = pane.further.picked()?;
    let own = || edge_to_edge(pane.question());
    let of = |id| SheetChoice::of_item(ctx.book, id);
    match pane.further.both()? {
        (FurtherAsk::Papers(asked), FurtherFound::Papers(choice)) => {
            let paper = &choice.rows.get(row)?.paper;
            let may_turn = asked.may_turn && !paper.one_way;
            let question = Question { piece: asked.piece, sheet: of(paper.item)?.sheet, may_turn, ..own() };
            Some(LaidAsk { question, paper: Some(paper.item) })
        }
        (FurtherAsk::Near(asked, _), FurtherFound::Near(_)) => {
            let (one, at) = pane.further.picked_near()?;
            let (sheet, near) = (asked.sheets.get(one.sheet)?, one.near.rows.get(at)?);
            let choice = match sheet.item.filter(|_| !sheet.is_own) {
                Some(id) => of(id)?,
                None => pane.sheet.clone(),
            };
            let may_turn = asked.pieces.get(one.piece)?.may_turn && !sheet.one_way;
            let question = Question { piece: near.cut, sheet: choice.sheet, may_turn, ..own() };
            Some(LaidAsk { question, paper: choice.paper })
        }
        (FurtherAsk::Scrap(asked), FurtherFound::Scrap(rows)) => {
            let piece = asked.pieces.get(rows.get(row)?.piece)?;
            let sheet = Sheet::offcut(asked.name.clone(), asked.size, asked.grain);
            let question = Question { piece: piece.size, sheet, may_turn: piece.may_turn, ..own() };
            let of = asked.offcut.and_then(|id| ctx.book.offcuts().get(id));
            Some(LaidAsk { question, paper: of.map(|offcut| offcut.item) })
        }
        _ => None,
    }
}

/// As the lists count: no cut stops inside the sheet.
fn edge_to_edge(question: Question) -> Question {
    Question { trimmer: Trimmer { stop_cuts: false, ..question.trimmer }, ..question }
}

/// Asks, where what is there answers another question.
pub fn follow(pane: &mut YieldPane, ctx: &Ctx) -> Option<Reply> {
    let asked = in_hand(pane, ctx)?;
    let new = pane.laid.asks(asked)?;
    Some(Reply::Ask(Ask::Laid(Box::new(new.question.clone()))))
}

/// What is in hand, and its layout once it is there.
pub fn shown<'a>(pane: &'a YieldPane, ctx: &Ctx) -> Option<(&'a LaidAsk, Option<&'a SheetYield>)> {
    let asked = pane.laid.asked.as_ref()?;
    (in_hand(pane, ctx).as_ref() == Some(asked)).then_some((asked, pane.laid.found.as_deref()))
}
