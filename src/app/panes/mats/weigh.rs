//! What the reveals round the chosen one would yield from the paper at hand, asked of a worker while the card is in view.

use crate::app::action::Solved;
use crate::app::ctx::Ctx;
use crate::app::effect::{AdviceAsk, Ask};
use crate::app::reply::Reply;
use crate::app::state::mats::Advice;
use crate::app::state::mats::MatsPane;
use crate::app::state::yields::SheetChoice;
use crate::domain::cards::layer::Shape;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

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
    let ask = question(pane, ctx, sheet);
    if ask == pane.advice.asked {
        return Vec::new();
    }
    pane.advice = Advice { asked: ask.clone(), ..Advice::default() };
    ask.map(|ask| Reply::Ask(Ask::Advice(Box::new(ask)))).into_iter().collect()
}

/// Takes a worker's answer, unless it is to an older question; true where it was for this room.
pub fn solved(pane: &mut MatsPane, number: u64, solved: &Solved) -> bool {
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
