//! The further answers of Yield: what each command asks, what Enter does with the row in hand, what can be typed.
//!
//! | room | decides |
//! |---|---|
//! | this file | opening, moving, taking a row |
//! | [`ask`] | the questions, from the pane and the book |
//! | [`typed`] | the texts: how far smaller, a scrap's size, what a sheet is used up for, strips |
//! | [`words`] | heading, sentences and rows, for the screen and for plain mode alike |

pub mod ask;
pub mod typed;
pub mod words;

use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::overlay::Purpose;
use crate::app::panes::asked;
use crate::app::reply::{Replies, Reply};
use crate::app::state::further::{FurtherAsk, FurtherFound};
use crate::app::state::mats::FIRST_LAYER;
use crate::app::state::views::YieldView;
use crate::app::state::yields::{Handover, SheetChoice, YieldPane, YieldText};
use crate::app::status::Status;
use crate::domain::cards::layer::Shape;
use crate::domain::cutting::used_up::Suggestion;
use crate::domain::edit::Edit;
use crate::domain::sheet::Sheet;
use crate::domain::shelf_answers::used_up_cards;

/// Puts a question and opens the view on it.
pub fn put(pane: &mut YieldPane, ask: FurtherAsk) -> Vec<Reply> {
    pane.view = YieldView::Further;
    if pane.further.asked.as_ref() == Some(&ask)
        && (pane.further.found.is_some() || pane.further.waiting.is_some())
    {
        return Vec::new();
    }
    pane.further.cursor = Cursor::default();
    pane.further.found = None;
    pane.further.asked = Some(ask.clone());
    vec![Reply::Ask(Ask::Further(Box::new(ask)))]
}

/// Takes a worker's answer, unless it is to an older question; true where it was for this view.
pub fn solved(pane: &mut YieldPane, number: u64, found: &FurtherFound) -> bool {
    let is_asked = so_far(pane, number, found.clone());
    if is_asked {
        pane.further.waiting = None;
    }
    is_asked
}

/// Shows what is known by now of the answer that is waited for; true where it is. The row in hand stays in hand.
pub fn so_far(pane: &mut YieldPane, number: u64, found: FurtherFound) -> bool {
    let further = &mut pane.further;
    if further.waiting != Some(number) {
        return false;
    }
    let picked = further.picked_suggestion().cloned();
    further.found = Some(Box::new(found));
    if let (Some(was), Some(FurtherFound::UsedUp(used))) = (picked, further.found.as_deref()) {
        let is_it = |s: &Suggestion| s.tree == was.tree;
        let at = used.suggestions.iter().position(is_it);
        if let Some(at) = at {
            further.cursor = Cursor::at(at);
        }
    }
    true
}

/// Runs a command that opens an answer, or one of the view.
pub fn run_further(pane: &mut YieldPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let rows = pane.further.rows();
    let step = match id {
        Id::FurtherDown => Move::By(1),
        Id::FurtherUp => Move::By(-1),
        Id::FurtherPageDown => Move::By(PAGE),
        Id::FurtherPageUp => Move::By(-PAGE),
        Id::FurtherFirst => Move::First,
        Id::FurtherLast => Move::Last,
        Id::FurtherTake => return take(pane, ctx),
        Id::FurtherClose => {
            pane.view = YieldView::Answer;
            return asked::answer(pane).into_iter().collect();
        }
        Id::FurtherChange => return typed::change(pane, ctx),
        _ => return open(pane, ctx, id),
    };
    pane.further.cursor.go(step, rows);
    Vec::new()
}

/// Puts the question of a command.
fn open(pane: &mut YieldPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let ask = match id {
        Id::NearSizes => ask::near(pane, ctx),
        Id::WhichPaper => ask::papers(pane, ctx),
        Id::UseUp => match ask::use_up(pane, ctx) {
            Ok(ask) => ask,
            Err(why) => return vec![typed::again(pane, ctx, &why)],
        },
        Id::Strips => ask::strips(pane),
        Id::ScrapGives => {
            let now = pane.sheet.sheet.actual().exact(ctx.unit);
            return vec![Reply::prompt(Purpose::Yield(YieldText::Scrap), typed::SCRAP, now)];
        }
        Id::MostCards | Id::PlanMost => {
            let Some(ask) = ask::most_cards(pane, ctx) else {
                let why = "no piece of this project has a paper of the shelf: choose papers in Mats";
                return vec![Reply::refuse(why)];
            };
            ask
        }
        _ => ask::from_bin(pane, ctx),
    };
    put(pane, ask)
}

/// Takes a text and asks anew.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &mut YieldPane, ctx: &Ctx, what: YieldText, text: &str) -> Replies {
    let ask = typed::question(pane, ctx, what, text)?;
    Ok(put(pane, ask))
}

/// What Enter does with the row in hand.
fn take(pane: &mut YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let Some((ask, found)) = pane.further.both() else {
        return vec![Reply::refuse("it is being worked out")];
    };
    let Some(row) = pane.further.picked() else { return vec![Reply::refuse("there is no row to take")] };
    match (ask.clone(), found) {
        (FurtherAsk::Near(_, card), _) => take_near(pane, ctx, card.map(|c| *c)),
        (FurtherAsk::Papers(_), FurtherFound::Papers(choice)) => {
            let item = choice.rows.get(row).map(|r| r.paper.item);
            let sheet = item.and_then(|id| SheetChoice::of_item(ctx.book, id));
            vec![Reply::Cut(Handover { piece: None, sheet })]
        }
        (FurtherAsk::Bin(asks), FurtherFound::Bin(all)) => {
            let project = all.get(row).and_then(|(at, _)| asks.get(*at)).map(|a| a.project);
            let Some(id) = project.filter(|id| ctx.book.projects().get(*id).is_some()) else {
                return vec![Reply::refuse("its project is gone")];
            };
            if ctx.book.active() == Some(id) {
                return vec![Reply::Tell(Status::note("All panes work for its project already."))];
            }
            vec![Reply::Edit(Edit::Activate { was: ctx.book.active(), now: Some(id) })]
        }
        (FurtherAsk::Scrap(ask), FurtherFound::Scrap(rows)) => {
            let Some(piece) = rows.get(row).and_then(|r| ask.pieces.get(r.piece)) else { return Vec::new() };
            let sheet = Sheet::offcut(ask.name.clone(), ask.size, ask.grain);
            let given = Handover {
                piece: Some((piece.size, piece.may_turn, None)),
                sheet: Some(SheetChoice { sheet, paper: None }),
            };
            vec![Reply::Cut(given)]
        }
        (FurtherAsk::UsedUp(ask, name, paper), FurtherFound::UsedUp(used)) => {
            let Some(one) = used.suggestions.get(row) else { return Vec::new() };
            let edit = used_up_cards::project(ctx.book, &ask, one, (paper, &name));
            vec![Reply::Edit(edit), Reply::Layer(0, FIRST_LAYER)]
        }
        _ => vec![Reply::Tell(Status::note("This row is only for reading: there is nothing to take over."))],
    }
}

/// A smaller size becomes the piece, on its sheet; a mat of the card in hand gets the wider reveal.
fn take_near(
    pane: &mut YieldPane,
    ctx: &Ctx,
    card: Option<crate::domain::project::ProjectCard>,
) -> Vec<Reply> {
    let Some(FurtherAsk::Near(ask, _)) = &pane.further.asked else { return Vec::new() };
    let Some((one, at)) = pane.further.picked_near() else { return Vec::new() };
    let (Some(piece), Some(sheet), Some(row)) =
        (ask.pieces.get(one.piece), ask.sheets.get(one.sheet), one.near.rows.get(at))
    else {
        return Vec::new();
    };
    let Some(card) = card else {
        let choice = sheet.item.and_then(|id| SheetChoice::of_item(ctx.book, id));
        return vec![Reply::Cut(Handover {
            piece: Some((row.cut, pane.may_turn, pane.count)),
            sheet: choice.filter(|_| !sheet.is_own),
        })];
    };
    if card != *ctx.card {
        return vec![Reply::refuse("the card has changed since: ask again in Mats")];
    }
    let (Some(layer), Some(reveal)) = (piece.layer, piece.reveal_of(row)) else {
        return vec![Reply::refuse("this layer has no reveal: type its measures in Mats")];
    };
    let mut now = card;
    if let Some(l) = now.layers.get_mut(layer) {
        l.shape = Shape::Inset(reveal);
    }
    let label = format!("reveal {}", reveal.show(ctx.unit));
    vec![Reply::Card(label, Box::new(now)), Reply::Mats]
}
