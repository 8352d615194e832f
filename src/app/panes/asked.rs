//! What Yield asks a worker: the answer to the question on screen, and the chart of its sheet. Nothing is asked twice.

use crate::app::effect::Ask;
use crate::app::reply::Reply;
use crate::app::state::yields::YieldPane;

/// Puts the question on screen to a worker, unless its answer is there.
pub fn answer(pane: &mut YieldPane) -> Option<Reply> {
    if pane.current_answer().is_some() {
        pane.waiting = None;
        return None;
    }
    Some(Reply::Ask(Ask::Yield(Box::new(pane.question()))))
}

/// Asks for the chart of the sheet on screen, unless it is there.
pub fn chart(pane: &YieldPane) -> Option<Reply> {
    let ask = pane.chart_ask();
    let is_there = pane.chart.as_ref().is_some_and(|c| c.ask == ask);
    (!is_there).then(|| Reply::Ask(Ask::Chart(Box::new(ask))))
}
