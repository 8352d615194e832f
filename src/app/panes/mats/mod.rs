//! Mats: a card, its layers and what is made beside it. Works on the active project's cards, or on a loose card that is
//! not kept.
//!
//! | room | decides |
//! |---|---|
//! | [`edit`] | what each key changes, and what a changed card must still be |
//! | [`ask`] | what is asked for in a prompt, and how its text is read |
//! | [`pick`] | what is chosen from a list: papers, colours, foam, envelopes, kinds |
//! | [`read`] | texts of more than one measure: a fold, a frame, a paper |
//! | [`ruler`] | the ruler under the drawing: its tick, its divisions, practice |
//! | [`weigh`] | what other reveals would yield, asked of a worker |
//! | [`hand`] | writing a card or project to a file, and reading one in |
//! | [`tell`] | what follows from the card, one fact each |

pub mod ask;
pub mod edit;
pub mod hand;
pub mod pick;
pub mod read;
pub mod ruler;
pub mod tell;
pub mod weigh;

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, Move};
use crate::app::model::Model;
use crate::app::pane::Pane;
use crate::app::panes::yields;
use crate::app::state::mats::FIRST_LAYER;
use crate::app::state::mats::MatsView;
use crate::app::state::mats::Picked;
use crate::app::state::views::YieldView;
use crate::app::status::Status;
use crate::domain::cardwork::CardPart;
use crate::domain::cutlist::{self, ListPiece, Part};
use crate::domain::project::Project;
use crate::domain::stock::needs::way_on_a_sheet;

/// Runs a command of this pane or of its ruler.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let rows = model.mats.rows(&model.book);
    match id {
        Id::NextCard => {
            let cards = model.book.active_project().map_or(1, |p| p.cards.len().max(1));
            model.mats.card = (model.mats.card + 1) % cards;
            model.mats.layer = Cursor::at(FIRST_LAYER);
        }
        Id::LayerDown => model.mats.layer.go(Move::By(1), rows),
        Id::LayerUp => model.mats.layer.go(Move::By(-1), rows),
        Id::LayerFirst => model.mats.layer.go(Move::First, rows),
        Id::LayerLast => model.mats.layer.go(Move::Last, rows),
        Id::MatsView => model.mats.view = model.mats.view.next(),
        Id::MatsMade => model.mats.view = MatsView::Made,
        Id::MatsSide => model.mats.side = model.mats.side.other(),
        Id::OpenRuler => ruler::open(model),
        Id::LayerToYield => return to_yield(model),
        Id::WriteCard | Id::ReadCard => hand::open(model, id),
        _ => return edit::run(model, id).or_else(|| ruler::run(model, id)).unwrap_or_default(),
    }
    Vec::new()
}

/// The row in hand goes to Yield as the cut list has it: the size to cut, allowance included, how it may lie, and how many
/// the batch takes; with its paper as the sheet where it has one.
fn to_yield(model: &mut Model) -> Vec<Effect> {
    let (book, unit) = (&model.book, model.screen.unit);
    let Some(piece) = row_in_hand(model) else {
        let why = model.mats.worked(book, unit).err().unwrap_or_default();
        model.tell(Status::refused(why));
        return Vec::new();
    };
    let (size, may_turn) = way_on_a_sheet(book, &piece).unwrap_or((piece.cut_size(), piece.may_turn));
    model.yields.piece = size;
    model.yields.may_turn = may_turn;
    model.yields.count = Some(piece.made).filter(|n| *n > 1);
    model.pane = Pane::Yield;
    model.yields.view = YieldView::Answer;
    match piece.paper.and_then(|id| yields::sheet_of_item(model, id)) {
        Some(choice) => yields::take_sheet(model, choice),
        None => yields::ask(model),
    }
}

/// The row in hand as the cut list has it; that of a card outside any project for one set.
pub fn row_in_hand(model: &Model) -> Option<ListPiece> {
    let (book, card) = (&model.book, model.mats.card(&model.book));
    let part = match model.mats.picked(book) {
        Picked::Base => CardPart::Base,
        Picked::Layer(n) => CardPart::Layer(n),
        Picked::Extra(n) => CardPart::Beside(n),
    };
    let around = book.active_project().cloned().unwrap_or_default();
    let alone = Project { cards: vec![card.clone()], pieces: Vec::new(), supplies: Vec::new(), ..around };
    cutlist::of_project(book, &alone).pieces.into_iter().find(|p| p.part == Part::Card(0, part))
}

fn refuse(model: &mut Model, why: String) -> Vec<Effect> {
    model.tell(Status::refused(why));
    Vec::new()
}
