//! What the reveals round the chosen one would yield from the paper at hand, asked of a worker while the card is in view.

use super::row_in_hand;
use crate::app::action::Solved;
use crate::app::effect::{AdviceAsk, Ask, Effect};
use crate::app::model::Model;
use crate::app::pane::Pane;
use crate::app::panes::yields;
use crate::app::state::mats::Advice;
use crate::app::state::mats::{MatsPane, Picked};
use crate::domain::cards::layer::Shape;
use crate::domain::size::Size;

/// Marks looked at on each side of the chosen reveal.
const REACH: u32 = 2;

/// What would be asked now: for a mat with one reveal all round, on its paper or on the sheet of Yield.
pub fn question(model: &Model) -> Option<AdviceAsk> {
    let (book, unit) = (&model.book, model.screen.unit);
    let Picked::Layer(n) = model.mats.picked(book) else { return None };
    let card = model.mats.card(book);
    let layer = card.layers.get(n)?;
    let Shape::Inset(reveal) = layer.shape else { return None };
    let chosen = reveal.uniform().filter(|r| r.is_positive())?;
    let size = *model.mats.sizes(book, unit).ok()?.get(n)?;
    let below = Size::new(size.exact.width + reveal.width(), size.exact.height + reveal.height());
    let sheet = match layer.paper.and_then(|id| yields::sheet_of_item(model, id)) {
        Some(choice) => choice.sheet,
        None => model.yields.sheet.sheet.clone(),
    };
    let row = row_in_hand(model)?;
    Some(AdviceAsk {
        below,
        chosen,
        reach: REACH,
        tools: MatsPane::tools(book, unit),
        sheet,
        may_turn: row.may_turn,
        pieces: row.made,
    })
}

/// Asks anew where the card in view has changed. Runs after every action; asks nothing twice.
pub fn follow(model: &mut Model) -> Vec<Effect> {
    if model.pane != Pane::Mats {
        return Vec::new();
    }
    let ask = question(model);
    if ask == model.mats.advice.asked {
        return Vec::new();
    }
    model.mats.advice = Advice { asked: ask.clone(), ..Advice::default() };
    let Some(ask) = ask else { return Vec::new() };
    let number = model.next_ask();
    model.mats.advice.waiting = Some(number);
    vec![Effect::Solve(number, Ask::Advice(Box::new(ask)))]
}

/// Takes a worker's answer, unless it is to an older question; true where it was for this room.
pub fn solved(model: &mut Model, number: u64, solved: &Solved) -> bool {
    let advice = &mut model.mats.advice;
    if advice.waiting != Some(number) {
        return false;
    }
    advice.waiting = None;
    if let Solved::Advice(choices) = solved {
        advice.choices = Some(choices.clone());
    }
    true
}
