//! Handing cards on: the card or the project in hand to a file, and one from a file into the book.

use super::edit;
use crate::app::action::Action;
use crate::app::ctx::Ctx;
use crate::app::effect::{Effect, HandOn};
use crate::app::overlay::Confirm;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::mats::FIRST_LAYER;
use crate::app::state::mats::MatsPane;
use crate::app::state::mats::MatsText;
use crate::domain::book::Book;
use crate::domain::cards::file::Handed;
use crate::domain::cardwork;

/// What can be written.
pub const CHOICES: [(&str, &str, MatsText); 2] = [
    ("this card", "as a card file, which trimside mats reads too", MatsText::WriteCard),
    ("the whole project", "its cards, pieces and supplies", MatsText::WriteProject),
];

/// Takes the path that was typed.
///
/// # Errors
/// The sentence for a path of nothing.
pub fn take_card_text(pane: &MatsPane, ctx: &Ctx, what: MatsText, text: &str) -> Replies {
    let path = text.trim().to_owned();
    if path.is_empty() {
        return Err("type the file's name, such as card.ron".to_owned());
    }
    let book = ctx.book;
    let handed = match what {
        MatsText::Read => return Ok(vec![Reply::Do(Effect::TakeIn(path, ctx.unit))]),
        MatsText::WriteProject => match book.active_project() {
            Some(project) => Handed::Project(Box::new(cardwork::project_to_file(book, project))),
            None => return Err("no project is active".to_owned()),
        },
        _ => Handed::Card(Box::new(cardwork::to_file(book, pane.card(book)))),
    };
    let file = HandOn { path, what: handed, replace: false, unit: ctx.unit };
    Ok(vec![Reply::Do(Effect::HandOn(Box::new(file)))])
}

/// A file of that name is there already: the person says whether it goes.
pub fn is_there(file: HandOn) -> Reply {
    let question = format!("Write over the file {}? It is there already.", file.path);
    let yes = Box::new(Action::WriteOver(Box::new(HandOn { replace: true, ..file })));
    Reply::Confirm(Confirm { question, yes })
}

/// Takes what a file held into the book.
pub fn read(book: &Book, handed: &Handed) -> Vec<Reply> {
    let (mut replies, notes) = match handed {
        Handed::Card(file) => {
            let (card, notes) = cardwork::from_file(book, file);
            let name = cardwork::free_name(book, &card.name);
            (edit::add_card(book, card, &name), notes)
        }
        Handed::Project(file) => {
            let (mut project, notes) = cardwork::project_from_file(book, file);
            project.name = cardwork::free_name(book, &project.name);
            (vec![Reply::Edit(edit::new_project(book, project)), Reply::Layer(0, FIRST_LAYER)], notes)
        }
    };
    if !notes.is_empty() {
        replies.push(Reply::Beside(notes));
    }
    replies
}
