//! What the reveals round the chosen one would yield from the paper at hand, asked of a worker while the card is in view.

use crate::app::action::Solved;
use crate::app::ctx::Ctx;
use crate::app::effect::{AdviceAsk, Ask};
use crate::app::reply::Reply;
use crate::app::state::mats::Advice;
use crate::app::state::mats::MatsPane;
use crate::app::state::yields::SheetChoice;
use crate::domain::cards::every_yield::{EveryYield, PartAsk};
use crate::domain::cards::layer::Shape;
use crate::domain::cardwork::CardPart;
use crate::domain::cutlist::{ListPart, ListPiece};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;
use crate::domain::stock::outlook::outlook;

/// Marks looked at on each side of the chosen reveal.
const REACH: u32 = 2;

/// What would be asked now: for a mat with one reveal all round, on its paper or on the sheet of Yield.
pub fn question(pane: &MatsPane, ctx: &Ctx, sheet: &Sheet) -> Option<AdviceAsk> {
    let (book, unit) = (ctx.book, ctx.unit);
    let n = pane.picked_layer(book)?;
    let layer = pane.card(book).layers.get(n)?;
    let Shape::Inset(reveal) = layer.shape else { return None };
    let chosen = reveal.uniform().filter(|r| r.is_positive())?;
    let size = *pane.sizes(book, unit).ok()?.get(n)?;
    let below = Size::new(size.exact.width + reveal.width(), size.exact.height + reveal.height());
    let own = layer.item().and_then(|id| SheetChoice::of_item(book, id));
    let row = pane.row_in_hand(book)?;
    Some(AdviceAsk {
        below,
        chosen,
        reach: REACH,
        tools: MatsPane::tools(book, unit),
        sheet: own.map_or_else(|| sheet.clone(), |choice| choice.sheet),
        may_turn: row.may_turn,
        pieces: row.made,
    })
}

/// Asks anew where the card in view has changed. Runs after every action; asks nothing twice.
pub fn follow(pane: &mut MatsPane, ctx: &Ctx, sheet: &Sheet) -> Vec<Reply> {
    let mut all = follow_advice(pane, ctx, sheet);
    all.extend(follow_every(pane, ctx, sheet));
    all
}

fn follow_advice(pane: &mut MatsPane, ctx: &Ctx, sheet: &Sheet) -> Vec<Reply> {
    let ask = question(pane, ctx, sheet);
    if ask == pane.advice.asked {
        return Vec::new();
    }
    pane.advice = Advice { asked: ask.clone(), ..Advice::default() };
    ask.map(|ask| Reply::Ask(Ask::Advice(Box::new(ask)))).into_iter().collect()
}

/// What would be asked now of every part of the card, strips and base too: each on its own paper, or on the sheet of Yield.
pub fn every_question(pane: &MatsPane, ctx: &Ctx, sheet: &Sheet) -> Option<EveryYield> {
    let (book, unit) = (ctx.book, ctx.unit);
    let card = pane.card(book);
    let sizes = pane.sizes(book, unit).ok()?;
    let mat = |part: CardPart| {
        let CardPart::Layer(n) = part else { return None };
        let Shape::Inset(reveal) = card.layers.get(n)?.shape else { return None };
        let chosen = reveal.uniform().filter(|r| r.is_positive())?;
        let size = sizes.get(n)?;
        Some((Size::new(size.exact.width + reveal.width(), size.exact.height + reveal.height()), chosen))
    };
    let one = |row: ListPiece| {
        let ListPart::Card(_, part) = row.part else { return None };
        let own = row.paper.and_then(|id| SheetChoice::of_item(book, id));
        Some(PartAsk {
            name: pane.part_name(book, part),
            size: row.cut_size(),
            mat: mat(part),
            sheet: own.map_or_else(|| sheet.clone(), |choice| choice.sheet),
            may_turn: row.may_turn,
            pieces: row.made,
        })
    };
    let parts = pane.list_rows(book).into_iter().filter_map(one).collect();
    Some(EveryYield { parts, reach: REACH, tools: MatsPane::tools(book, unit) })
}

/// Asks anew what sheets give of every part, and looks anew how the project stands, where card or book have changed.
fn follow_every(pane: &mut MatsPane, ctx: &Ctx, sheet: &Sheet) -> Vec<Reply> {
    look_round(pane, ctx);
    let ask = every_question(pane, ctx, sheet);
    if ask == pane.every.asked {
        return Vec::new();
    }
    (pane.every.asked, pane.every.parts) = (ask.clone(), None);
    ask.map(|ask| Reply::Ask(Ask::EveryYield(Box::new(ask)))).into_iter().collect()
}

/// How the active project stands.
fn look_round(pane: &mut MatsPane, ctx: &Ctx) {
    let Some(id) = ctx.book.active() else {
        pane.every.outlook = None;
        return;
    };
    let settled = ctx.settling.of(id);
    let now = (ctx.book.seq(), settled.is_some());
    if pane.every.outlook.as_ref().is_some_and(|(seen, _)| *seen == now) {
        return;
    }
    pane.every.outlook = outlook(ctx.book, id, settled).map(|look| (now, look));
}

/// Takes a worker's answer, unless it is to an older question; true where it was for this room.
pub fn solved(pane: &mut MatsPane, number: u64, solved: &Solved) -> bool {
    if pane.every.waiting == Some(number) {
        pane.every.waiting = None;
        if let Solved::EveryYield(parts) = solved {
            pane.every.parts = Some(parts.clone());
        }
        return true;
    }
    let advice = &mut pane.advice;
    if advice.waiting != Some(number) {
        return false;
    }
    advice.waiting = None;
    if let Solved::Advice(choices) = solved {
        advice.choices = Some(choices.clone());
    }
    true
}
