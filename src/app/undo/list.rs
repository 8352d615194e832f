//! The steps that can be taken back, as a list: newest first, each with its day, what it did and where.

use super::{place_of, standing, take_back};
use crate::app::action::Action;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, list_move};
use crate::app::keys::{Key, KeyCode};
use crate::app::model::Model;
use crate::app::overlay::{Confirm, Overlay};
use crate::app::state::timeline::Did;
use crate::app::state::timeline::Whose;
use crate::app::status::Status;

/// The steps, newest first.
pub fn steps(model: &Model) -> Vec<&Did> {
    model.timeline.done.iter().rev().filter(|d| standing::is_at_hand(model, d)).collect()
}

/// What a step did, where, and whose it is where it is not of this sitting.
pub fn what(model: &Model, did: &Did) -> String {
    let whose = match did.whose {
        Whose::Here(_) => String::new(),
        other => format!("; {}", whose_words(other)),
    };
    format!("{} ({}{whose})", did.label, place_of(model, did))
}

/// Steps of this sitting.
const HERE: &str = "in this window";

/// Whose a step is.
const fn whose_words(whose: Whose) -> &'static str {
    match whose {
        Whose::Here(_) => HERE,
        Whose::Before => "before this sitting",
        Whose::Elsewhere => "another window or a command",
    }
}

/// A row of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DoneRow {
    /// Whose the steps below it are.
    Whose(&'static str),
    /// A step, by its place among all of them.
    Step(usize),
}

/// The list as it is shown: whose the steps are is said once above those that it holds for; of this sitting they are where
/// nothing else is said.
pub fn step_rows(steps: &[&Did]) -> Vec<DoneRow> {
    let mut last = HERE;
    let mut all = Vec::new();
    for (n, step) in steps.iter().enumerate() {
        let whose = whose_words(step.whose);
        if whose != last {
            all.push(DoneRow::Whose(whose));
            last = whose;
        }
        all.push(DoneRow::Step(n));
    }
    all
}

/// What a step did, and where: for a row below whose it is.
pub fn what_and_where(model: &Model, did: &Did) -> String {
    format!("{} ({})", did.label, place_of(model, did))
}

/// Gives a key to the list.
pub fn key(model: &mut Model, mut cursor: Cursor, key: Key) -> Vec<Effect> {
    let count = steps(model).len();
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
    let (label, id) = (what(model, all[row]), all[row].id);
    let question = match row {
        0 => format!("Take back the last step, \"{label}\"?"),
        n => format!("Take back the last {} steps, down to and including \"{label}\"?", n + 1),
    };
    model.overlays.push(Overlay::Confirm(Confirm { question, yes: Box::new(Action::UndoTo(id)) }));
}

/// Takes back steps from the newest down to this one; stops at the first that is refused.
pub fn undo_to(model: &mut Model, id: u64) -> Vec<Effect> {
    model.timeline.pending.is_undo = true;
    let all: Vec<u64> = steps(model).iter().map(|d| d.id).collect();
    let Some(last) = all.iter().position(|one| *one == id) else { return Vec::new() };
    let (mut effects, mut told) = (Vec::new(), String::new());
    for (count, one) in all.iter().take(last + 1).enumerate() {
        match take_back(model, *one) {
            Ok((words, effect)) => {
                told = words;
                effects.extend(effect);
            }
            Err(why) => {
                model.tell(Status::refused(format!("Taken back {count}, then: {why}")));
                return effects;
            }
        }
    }
    let words = match last {
        0 => format!("Taken back: {told}"),
        n => format!("{} steps are taken back, down to {told}", n + 1),
    };
    model.tell(Status::done(words));
    effects
}
