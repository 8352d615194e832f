//! What stands beside Yield's answer: when it is asked for, and its rows in words for table and plain mode alike.

use super::further::ask;
use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::reply::Reply;
use crate::app::state::beside::{BesideAsk, BesideFound};
use crate::app::state::further::FurtherAsk;
use crate::app::state::yields::YieldPane;
use crate::domain::cutting::neighbours;
use crate::domain::length::Unit;
use crate::domain::shelf_answers::held;
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperRow};

/// Asks, where what is there answers another question.
pub fn follow(pane: &mut YieldPane, ctx: &Ctx) -> Option<Reply> {
    if ctx.book.items().is_empty() {
        return None;
    }
    let (FurtherAsk::Papers(papers), FurtherAsk::Near(near, _)) =
        (ask::papers(pane, ctx), ask::near(pane, ctx))
    else {
        return None;
    };
    let offcuts = PaperAsk { papers: held::offcuts(ctx.book), ..papers.clone() };
    let asked = BesideAsk { papers, offcuts, near };
    let new = pane.beside.asks(asked)?;
    Some(Reply::Ask(Ask::Beside(Box::new(new.clone()))))
}

/// A paper or an offcut with what it gives: name, size, pieces a sheet, waste, cost of a piece, on hand, free of bookings,
/// sheets for the count (with a mark where too few are free).
pub fn row(row: &PaperRow, of: &PaperAsk, on_hand: u64, unit: Unit) -> Vec<String> {
    let sheets = match of.count {
        Some(_) if row.is_enough => row.sheets.to_string(),
        Some(_) => format!("{}!", row.sheets),
        None => String::new(),
    };
    vec![
        row.paper.name.clone(),
        row.paper.size.as_made(unit),
        row.a_sheet.to_string(),
        format!("{} %", row.waste_percent(of.piece)),
        row.each().map_or_else(|| "-".to_owned(), |each| each.show(&of.currency)),
        on_hand.to_string(),
        row.paper.free.to_string(),
        sheets,
    ]
}

/// Sizes near the piece that give more, each once with the papers that it is so on.
pub fn near_lines(asked: &BesideAsk, found: &BesideFound, unit: Unit) -> Vec<String> {
    let mut all: Vec<(String, Vec<usize>)> = Vec::new();
    for one in &found.near {
        let Some(piece) = asked.near.pieces.get(one.piece) else { continue };
        for row in &one.near.rows {
            let words = neighbours::words(row, piece.size, one.near.now, unit);
            match all.iter_mut().find(|(same, _)| *same == words) {
                Some((_, sheets)) => sheets.extend(one.sheets()),
                None => all.push((words, one.sheets())),
            }
        }
    }
    all.into_iter().map(|(words, sheets)| format!("{words}, on {}", asked.near.named(&sheets))).collect()
}
