//! The steps that can be taken back, as a list: newest first, each with its day and what it did.

use super::action::Action;
use super::effect::Effect;
use super::input::list::{Cursor, list_move};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Confirm, Overlay};
use super::status::Status;
use super::update;
use crate::domain::history::{Step, Wish};

/// The steps, newest first.
pub fn steps(model: &Model) -> Vec<&Step> {
    model.history.done().rev().collect()
}

/// Gives a key to the list.
pub fn key(model: &mut Model, mut cursor: Cursor, key: Key) -> Vec<Effect> {
    let count = model.history.done().len();
    match key.code {
        KeyCode::Esc | KeyCode::Char('q') => return Vec::new(),
        KeyCode::Enter => {
            model.overlays.push(Overlay::History(cursor));
            ask(model, cursor);
            return Vec::new();
        }
        _ => {
            if let Some(step) = list_move(key) {
                cursor.go(step, count);
            }
        }
    }
    model.overlays.push(Overlay::History(cursor));
    Vec::new()
}

/// Asks before anything is taken back.
fn ask(model: &mut Model, cursor: Cursor) {
    let all = steps(model);
    let Some(row) = cursor.row(all.len()) else { return };
    let (label, seq) = (all[row].label.clone(), all[row].seq);
    let question = match row {
        0 => format!("Take back the last step, \"{label}\"?"),
        n => format!("Take back the last {} steps, down to and with \"{label}\"?", n + 1),
    };
    model.overlays.push(Overlay::Confirm(Confirm { question, yes: Box::new(Action::UndoTo(seq)) }));
}

/// Takes back steps from the newest down to this one; stops at the first that is refused.
pub fn undo_to(model: &mut Model, seq: u64) -> Vec<Effect> {
    let mut effects = Vec::new();
    let mut count = 0_usize;
    while model.history.next_undo().is_some_and(|s| s.seq >= seq) {
        match update::perform(model, &Wish::Undo(None)) {
            Ok((_, effect)) => effects.push(effect),
            Err(why) => {
                model.tell(Status::refused(format!("Taken back {count}, then: {why}")));
                return effects;
            }
        }
        count += 1;
    }
    let words =
        if count == 1 { "1 step is taken back".to_owned() } else { format!("{count} steps are taken back") };
    model.tell(Status::done(format!("{words}; redo makes them again, one by one.")));
    effects
}
