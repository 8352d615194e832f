//! What stands beside Yield's answer: when it is asked for, and its rows in words for table and plain mode alike.

use super::further::ask;
use super::laid;
use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::reply::Reply;
use crate::app::state::beside::{BesideAsk, BesideFound};
use crate::app::state::further::FurtherAsk;
use crate::app::state::laid::LaidAsk;
use crate::app::state::views::YieldView;
use crate::app::state::yields::YieldPane;
use crate::domain::cutting::neighbours::{self, Neighbour};
use crate::domain::length::Unit;
use crate::domain::shelf_answers::held;
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperRow};

/// Asks, where what is there answers another question.
pub fn follow(pane: &mut YieldPane, ctx: &Ctx) -> Option<Reply> {
    if ctx.book.items().is_empty() || !is_wanted(pane) {
        return None;
    }
    let (FurtherAsk::Papers(mut papers), FurtherAsk::Near(mut near, _)) =
        (ask::papers(pane, ctx), ask::near(pane, ctx))
    else {
        return None;
    };
    if let Some(LaidAsk { question, paper }) = laid::in_hand(pane, ctx) {
        // The size in hand in the chart or of a scrap: as many as a sheet gives, its own sheet first.
        (papers.piece, papers.may_turn, papers.count) = (question.piece, question.may_turn, None);
        if let (Some(piece), Some(own)) = (near.pieces.first_mut(), near.sheets.first_mut()) {
            (piece.size, piece.may_turn) = (question.piece, question.may_turn);
            (own.name, own.room, own.item) =
                (question.sheet.name.clone(), question.sheet.usable().size, paper);
        }
    }
    let offcuts = PaperAsk { papers: held::offcuts(ctx.book), ..papers.clone() };
    let asked = BesideAsk { papers, offcuts, near };
    let new = pane.beside.asks(asked)?;
    Some(Reply::Ask(Ask::Beside(Box::new(new.clone()))))
}

/// Whether the view has room for it: the answer, the chart, what a scrap gives.
fn is_wanted(pane: &YieldPane) -> bool {
    match pane.view {
        YieldView::Answer | YieldView::Chart => true,
        YieldView::Further => matches!(pane.further.asked, Some(FurtherAsk::Scrap(_))),
        YieldView::Plan | YieldView::Bench => false,
    }
}

/// A paper with what it gives, where it is chosen: name, size, pieces a sheet, waste, cost of a piece, free of bookings, sheets
/// for the count where there is one (with a mark where too few are free), and what else to know.
pub fn paper_cells(row: &PaperRow, of: &PaperAsk, unit: Unit) -> Vec<String> {
    let [name, size, a_sheet, waste, each, _, free, sheets] = row_cells(row, of, 0, unit);
    let leaving = row.paper.is_leaving().then(|| row.paper.state.word());
    let found = (!row.proved).then_some("best found");
    let known: Vec<&str> = leaving.into_iter().chain(found).collect();
    let sheets = of.count.map(|_| sheets);
    let cells = [name, size, a_sheet, waste, each, free].into_iter().chain(sheets);
    cells.chain([known.join(", ")]).collect()
}

/// A paper or an offcut with what it gives: name, size, pieces a sheet, waste, cost of a piece, on hand, free of bookings,
/// sheets for the count (with a mark where too few are free).
pub fn row_cells(row: &PaperRow, of: &PaperAsk, on_hand: u64, unit: Unit) -> [String; 8] {
    let sheets = match of.count {
        Some(_) if row.is_enough => row.sheets.to_string(),
        Some(_) => format!("{}!", row.sheets),
        None => String::new(),
    };
    [
        row.paper.name.clone(),
        row.paper.size.as_made_and_own(unit),
        row.a_sheet.to_string(),
        format!("{} %", row.waste_percent(of.piece)),
        row.each().map_or_else(|| "-".to_owned(), |each| each.show_finely(&of.currency)),
        on_hand.to_string(),
        row.paper.free.to_string(),
        sheets,
    ]
}

/// A size near the piece that gives more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearSize {
    /// The size to cut, such as `4 x 5 3/8 in`.
    pub size: String,
    /// Pieces that a sheet gives of it, and of the piece as it is.
    pub gives: (u32, u32),
    /// What is made smaller: `1/8 in narrower`.
    pub less: String,
    /// The papers that it is so on.
    pub on: String,
    /// All of it in a sentence.
    pub words: String,
}

/// Sizes near the piece that give more, each once with the papers that it is so on, those on the sheet in use first.
pub fn near_sizes(asked: &BesideAsk, found: &BesideFound, unit: Unit) -> Vec<NearSize> {
    let mut all: Vec<(NearSize, Vec<usize>)> = Vec::new();
    for one in &found.near {
        let Some(piece) = asked.near.pieces.get(one.piece) else { continue };
        // What a larger size gives as well is no news.
        let is_news = |row: &&Neighbour| !one.near.rows.iter().any(|other| other.is_better_than(row));
        for row in one.near.rows.iter().filter(is_news) {
            let near = NearSize {
                size: row.cut.show_with_unit(unit),
                gives: (row.gives, one.near.now),
                less: neighbours::less_words(row, piece.size, unit),
                on: String::new(),
                words: neighbours::words(row, piece.size, one.near.now, unit),
            };
            match all.iter_mut().find(|(same, _)| same.words == near.words) {
                Some((_, sheets)) => sheets.extend(one.sheets()),
                None => all.push((near, one.sheets())),
            }
        }
    }
    let named = |(near, sheets): (NearSize, Vec<usize>)| {
        let on = asked.near.named(&sheets);
        NearSize { words: format!("{}, on {on}", near.words), on, ..near }
    };
    all.into_iter().map(named).collect()
}
