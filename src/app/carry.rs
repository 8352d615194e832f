//! Carries out what panes ask for: edits, questions, prompts, lists. Decides nothing about their content.

use super::effect::{Ask, Effect};
use super::input::field::Field;
use super::model::Model;
use super::overlay::{Echo, Overlay, Prompt};
use super::pane::Pane;
use super::panes::mats;
use super::prompt;
use super::reply::{Opening, Reply};
use super::status::Status;
use super::update;

/// Carries replies out in order.
///
/// # Errors
/// The sentence of the first one that is refused; what stands after it is not done.
pub fn carry(model: &mut Model, replies: Vec<Reply>) -> Result<Vec<Effect>, String> {
    let mut effects = Vec::new();
    for reply in replies {
        effects.extend(one(model, reply)?);
    }
    Ok(effects)
}

/// Carries replies out; a refusal is told.
pub fn carry_or_tell(model: &mut Model, replies: Result<Vec<Reply>, String>) -> Vec<Effect> {
    let done = replies.and_then(|replies| carry(model, replies));
    done.unwrap_or_else(|why| {
        model.tell(Status::refused(why));
        Vec::new()
    })
}

fn one(model: &mut Model, reply: Reply) -> Result<Vec<Effect>, String> {
    match reply {
        Reply::Edit(edit) => return update::make(model, edit),
        Reply::Card(label, card) => return mats::edit::put(model, &label, *card),
        Reply::Ask(ask) => return Ok(vec![send(model, ask)]),
        Reply::Do(effect) => return Ok(vec![effect]),
        Reply::Prompt(opening) => open(model, opening),
        Reply::Pick(picker) => model.overlays.push(Overlay::Picker(picker)),
        Reply::Tell(status) => model.tell(status),
        Reply::Hush => model.status = None,
        Reply::Swatch(id) => {
            model.pane = Pane::Palette;
            let Model { palette, book, .. } = model;
            palette.show(id, book);
        }
    }
    Ok(Vec::new())
}

/// Gives a question its number; the pane that waits for the answer knows it by that.
fn send(model: &mut Model, mut ask: Ask) -> Effect {
    let number = model.next_ask();
    match &mut ask {
        Ask::Trios(_) => model.palette.trios_asked = Some(number),
        Ask::Photo(photo) => {
            photo.number = number;
            if let Some(view) = &mut model.palette.photo {
                view.waiting = Some(number);
            }
        }
        Ask::Yield(_) | Ask::Chart(_) | Ask::Advice(_) | Ask::Colours(_) => {}
    }
    Effect::Solve(number, ask)
}

fn open(model: &mut Model, opening: Opening) {
    let Opening { purpose, label, text, refused } = opening;
    let echo = refused.map_or_else(|| prompt::read_back(model, &purpose, &text), Echo::Refused);
    model.overlays.push(Overlay::Prompt(Prompt { purpose, label, field: Field::with(&text), echo }));
}
