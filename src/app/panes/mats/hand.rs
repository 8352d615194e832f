//! Handing cards on: the card or the project in hand to a file, and one from a file into the book.

use super::ask;
use super::edit;
use super::pick;
use super::refuse;
use crate::app::action::Action;
use crate::app::commands::CommandId;
use crate::app::effect::{Effect, HandOn};
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::{Confirm, Overlay, Purpose};
use crate::app::prompt;
use crate::app::state::mats::FIRST_LAYER;
use crate::app::state::mats::MatsText;
use crate::app::update;
use crate::domain::cards::file::Handed;
use crate::domain::cardwork;

/// What can be written.
pub const CHOICES: [(&str, &str, MatsText); 2] = [
    ("this card", "as a card file, which trimside mats reads too", MatsText::WriteCard),
    ("the whole project", "its cards, pieces and supplies", MatsText::WriteProject),
];

/// Opens what a command asks for.
pub fn open(model: &mut Model, id: CommandId) {
    if id == CommandId::WriteCard {
        pick::open_writing(model);
        return;
    }
    let (label, now) = ask::opening(model, MatsText::Read);
    prompt::open(model, Purpose::Mats(MatsText::Read), &label, &now);
}

/// Takes the path that was typed.
///
/// # Errors
/// The sentence for a path of nothing.
pub fn take(model: &mut Model, what: MatsText, text: &str) -> Result<Vec<Effect>, String> {
    let path = text.trim().to_owned();
    if path.is_empty() {
        return Err("type the file's name, such as card.ron".to_owned());
    }
    let book = &model.book;
    let handed = match what {
        MatsText::Read => return Ok(vec![Effect::TakeIn(path, model.screen.unit)]),
        MatsText::WriteProject => match book.active_project() {
            Some(project) => Handed::Project(Box::new(cardwork::project_to_file(book, project))),
            None => return Err("no project is active".to_owned()),
        },
        _ => Handed::Card(Box::new(cardwork::to_file(book, model.mats.card(book)))),
    };
    let file = HandOn { path, what: handed, replace: false, unit: model.screen.unit };
    Ok(vec![Effect::HandOn(Box::new(file))])
}

/// A file of that name is there already: the person says whether it goes.
pub fn is_there(model: &mut Model, file: HandOn) {
    let question = format!("Write over the file {}? It is there already.", file.path);
    let yes = Box::new(Action::WriteOver(Box::new(HandOn { replace: true, ..file })));
    model.overlays.push(Overlay::Confirm(Confirm { question, yes }));
}

/// Takes what a file held into the book.
pub fn read(model: &mut Model, handed: &Handed) -> Vec<Effect> {
    let made = match handed {
        Handed::Card(file) => {
            let (card, notes) = cardwork::from_file(&model.book, file);
            let name = card.name.clone();
            edit::add_card(model, card, &cardwork::free_name(&model.book, &name)).map(|e| (e, notes))
        }
        Handed::Project(file) => {
            let (mut project, notes) = cardwork::project_from_file(&model.book, file);
            project.name = cardwork::free_name(&model.book, &project.name);
            let edit = edit::new_project(&model.book, project);
            model.mats.card = 0;
            model.mats.layer = Cursor::at(FIRST_LAYER);
            update::make(model, edit).map(|e| (e, notes))
        }
    };
    match made {
        Ok((effects, notes)) => {
            edit::tell_beside(model, &notes);
            effects
        }
        Err(why) => refuse(model, why),
    }
}
