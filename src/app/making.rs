//! Making an edit: in the book on screen at once, and on its way to the disk.

use super::effect::Effect;
use super::model::Model;
use super::status::{Saving, Status};
use crate::domain::capital::capitalized;
use crate::domain::edit::Edit;
use crate::domain::history::Intent;

/// Makes an edit now, in the book on screen, and sends it to the disk.
///
/// # Errors
/// The sentence that refuses it; nothing has changed then.
pub fn make(model: &mut Model, edit: Edit) -> Result<Vec<Effect>, String> {
    let intent = Intent::Do(edit);
    let (label, effect) = perform(model, &intent)?;
    model.tell(Status::done(format!("{}. <undo> takes it back.", capitalized(&label))));
    Ok(vec![effect])
}

/// Changes the book on screen; returns what was done in words, and the effect that saves it.
///
/// # Errors
/// The sentence that refuses it; nothing has changed then.
pub fn perform(model: &mut Model, intent: &Intent) -> Result<(String, Effect), String> {
    if let Some(why) = &model.read_only {
        return Err(why.clone());
    }
    let (entry, applied) =
        model.history.perform(&mut model.book, intent, model.today).map_err(|e| e.to_string())?;
    if matches!(intent, Intent::Do(_)) {
        model.timeline.pending.edits.push((entry.seq, applied.label.clone(), model.today));
    }
    model.saving = match model.saving {
        Saving::Pending(n) => Saving::Pending(n + 1),
        _ => Saving::Pending(1),
    };
    model.follow_book();
    Ok((applied.label, Effect::Save { epoch: model.epoch, entry: Box::new(entry) }))
}
