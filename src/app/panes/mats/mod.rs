//! Mats: a card, its layers and what is made beside it. Works on the active project's cards, or on a loose card that is
//! not kept.
//!
//! | room | decides |
//! |---|---|
//! | [`edit`] | what each key changes, and what a changed card must still be |
//! | [`ask`] | what is asked for in a prompt, with the text as it is now |
//! | [`take`] | how a text is read while it is typed, and what taking it does |
//! | [`pick`] | what is chosen from a list: papers, colours, foam, envelopes, kinds |
//! | [`read`] | texts of more than one measure: a fold, a frame, a paper |
//! | [`ruler`] | the ruler under the drawing: its tick, its divisions, practice |
//! | [`folded`] | how what can be made beside the card is cut, scored and folded |
//! | [`round`] | what stands round the card: yields of every part, the project's cards, papers and cost |
//! | [`new_card`] | the form of a new card with its usual layers |
//! | [`weigh`] | what other reveals would yield, asked of a worker |
//! | [`hand`] | writing a card or project to a file, and reading one in |
//! | [`words`] | what follows from the card, one fact each |

pub mod ask;
pub mod edit;
pub mod folded;
pub mod hand;
pub mod new_card;
pub mod pick;
pub mod read;
pub mod round;
pub mod ruler;
pub mod take;
pub mod weigh;
pub mod words;

use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::input::list::{Move, PAGE};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::mats::FIRST_LAYER;
use crate::app::state::mats::MatsPane;
use crate::app::state::mats::MatsText;
use crate::app::state::mats::MatsView;
use crate::app::state::mats::Picked;
use crate::app::state::yields::Handover;
use crate::app::state::yields::SheetChoice;
use crate::domain::cards::layer::Shape;
use crate::domain::stock::needs::way_on_a_sheet;

/// Runs a command of this pane or of its ruler.
pub fn run_mats(pane: &mut MatsPane, ctx: &Ctx, id: CommandId) -> Replies {
    use CommandId as Id;
    let rows = pane.rows(ctx.book);
    let id = for_row(pane, ctx, id);
    match id {
        Id::NextCard | Id::CardBefore => {
            let cards = ctx.book.active_project().map_or(1, |p| p.cards.len().max(1));
            let step = if id == Id::NextCard { 1 } else { cards - 1 };
            pane.pick((pane.card + step) % cards, FIRST_LAYER);
        }
        Id::LayerPageDown => pane.layer.go(Move::By(PAGE), rows),
        Id::LayerPageUp => pane.layer.go(Move::By(-PAGE), rows),
        Id::LayerDown => pane.layer.go(Move::By(1), rows),
        Id::LayerUp => pane.layer.go(Move::By(-1), rows),
        Id::LayerFirst => pane.layer.go(Move::First, rows),
        Id::LayerLast => pane.layer.go(Move::Last, rows),
        Id::MatsView => {
            pane.view = pane.view.next();
            if pane.view == MatsView::Post && ctx.country.is_none() {
                return Ok(vec![pick::countries()]);
            }
        }
        Id::PostCountries if ctx.country.is_none() => return Ok(vec![pick::countries()]),
        Id::PostCountries => (pane.view, pane.every_country) = (MatsView::Post, !pane.every_country),
        Id::MatsMade => pane.view = MatsView::Made,
        Id::MatsSide => pane.side = pane.side.other(),
        Id::OpenRuler => pane.ruler.take_keys(),
        Id::LayerToYield => return Ok(vec![to_yield(pane, ctx)?]),
        Id::NewCard => return Ok(vec![Reply::Form(FormFor::Card)]),
        Id::WriteCard => return Ok(vec![pick::writing()]),
        Id::ReadCard => return Ok(vec![ask::prompt(pane, ctx, MatsText::Read)]),
        Id::AddPart
        | Id::LayerKind
        | Id::LayerPaper
        | Id::InsertPaper
        | Id::LayerColour
        | Id::LayerRaise
        | Id::LayerMadeBy
        | Id::LayerOn
        | Id::CardEnvelope => return Ok(vec![pick::open(pane, ctx, id)?]),
        _ if ask::text_of(id).is_some() => return ask::open(pane, ctx, id),
        _ => match edit::run_card_edit(pane, ctx, id) {
            Some(replies) => return replies,
            None => return Ok(ruler::run_ruler(pane, ctx, id)),
        },
    }
    Ok(Vec::new())
}

/// What a key that means one thing for every row does for the one in hand: Enter opens what makes it, the count of the base
/// is the batch.
fn for_row(pane: &MatsPane, ctx: &Ctx, id: CommandId) -> CommandId {
    use CommandId as Id;
    let picked = pane.picked(ctx.book);
    let is_mat = || match picked {
        Picked::Layer(n) => {
            pane.card(ctx.book).layers.get(n).is_some_and(|l| matches!(l.shape, Shape::Inset(_)))
        }
        Picked::Base | Picked::Extra(_) => false,
    };
    match (id, picked) {
        (Id::LayerOpen, Picked::Base) => Id::Face,
        (Id::LayerOpen, _) if is_mat() => Id::Reveal,
        (Id::LayerOpen, _) => Id::LayerSize,
        (Id::LayerCount, Picked::Base) => Id::CardBatch,
        _ => id,
    }
}

/// The row in hand goes to Yield as the cut list has it: the size to cut, allowance included, how it may lie, and how many
/// the batch takes; with its paper as the sheet where it has one.
fn to_yield(pane: &MatsPane, ctx: &Ctx) -> Result<Reply, String> {
    let book = ctx.book;
    let Some(piece) = pane.row_in_hand(book) else {
        return Err(pane.worked(book, ctx.unit).err().unwrap_or_default());
    };
    let (size, may_turn) = way_on_a_sheet(book, &piece).unwrap_or((piece.cut_size(), piece.may_turn));
    Ok(Reply::Cut(Handover {
        piece: Some((size, may_turn, Some(piece.made).filter(|n| *n > 1))),
        sheet: piece.paper.and_then(|id| SheetChoice::of_item(book, id)),
    }))
}
