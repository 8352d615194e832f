//! A key or a paste: it goes to what lies on top, else to the pane, where it is a command or one more key of a sequence.

use super::action::Action;
use super::commands::CommandId;
use super::effect::Effect;
use super::elsewhere;
use super::forming;
use super::help;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::narrow::narrow;
use super::overlay::{Confirm, Overlay};
use super::picking;
use super::printing;
use super::prompt;
use super::resolve;
use super::run::run_command;
use super::status::Status;
use super::tour;
use super::undo;
use super::welcome;

/// What comes of a key or a click.
#[derive(Debug)]
pub enum Then {
    /// It is done; these effects are left.
    Done(Vec<Effect>),
    /// The person said yes to this.
    Act(Box<Action>),
}

/// A key, for the layer on top or for the pane.
pub fn key(model: &mut Model, key: Key) -> Then {
    // These two always work, whatever lies over the pane.
    if key == Key::ctrl('c') {
        return Then::Done(run_command(model, CommandId::Quit));
    }
    if key == Key::ctrl('z') && model.can_stop {
        return Then::Done(vec![Effect::Suspend]);
    }
    model.status = None;
    let Some(top) = model.overlays.pop() else { return Then::Done(pane_key(model, key)) };
    Then::Done(match top {
        Overlay::Prompt(p) => prompt::key(model, p, key),
        Overlay::Picker(p) => picking::key(model, p, key),
        Overlay::Form(filling) => forming::key(model, filling, key),
        Overlay::Help(h) => help::key(model, h, key),
        Overlay::Print(desk) => printing::key(model, desk, key),
        Overlay::History(cursor) => undo::list::key(model, cursor, key),
        Overlay::Welcome(welcome) => welcome::key(model, welcome, key),
        Overlay::Tour => tour_key(model, key),
        Overlay::Confirm(c) => return confirm_key(model, c, key),
    })
}

/// A key in a window too small to show what it does: it leaves or stops for the shell, or does nothing.
pub fn unseen(model: &mut Model, key: Key) -> Vec<Effect> {
    let leaves = key == Key::ctrl('c') || key == Key::plain(KeyCode::Char('q'));
    match key {
        _ if leaves => run_command(model, CommandId::Quit),
        _ if key == Key::ctrl('z') && model.can_stop => vec![Effect::Suspend],
        _ => Vec::new(),
    }
}

/// A key for the pane: a command of its own, or one more key of a sequence.
fn pane_key(model: &mut Model, key: Key) -> Vec<Effect> {
    if !model.pending.is_empty() && key.code == KeyCode::Esc {
        model.pending.clear();
        return Vec::new();
    }
    let contexts = resolve::contexts(model);
    model.pending.push(key);
    if let Some(id) = model.keymap.command_of(&contexts, &model.pending) {
        model.pending.clear();
        return run_command(model, id);
    }
    if model.keymap.following(&contexts, &model.pending).is_empty() {
        let words = elsewhere::words(model, &contexts);
        model.tell(Status::note(words));
        model.pending.clear();
        undo::forget_named(model);
    }
    Vec::new()
}

/// The tour takes a few keys; all others are the pane's.
fn tour_key(model: &mut Model, key: Key) -> Vec<Effect> {
    if let Some(effects) = tour::key(model, key) {
        return effects;
    }
    let effects = pane_key(model, key);
    // What the pane opened lies over the tour's sentence.
    if model.tour.is_some() {
        model.overlays.insert(0, Overlay::Tour);
    }
    effects
}

/// A paste, for the layer on top.
pub fn paste(model: &mut Model, text: &str) -> Vec<Effect> {
    match model.overlays.pop() {
        Some(Overlay::Prompt(p)) => return prompt::paste(model, p, text),
        Some(Overlay::Form(filling)) => return forming::paste(model, filling, text),
        Some(Overlay::Picker(mut p)) => {
            p.filter.paste(text);
            narrow(&mut p);
            model.overlays.push(Overlay::Picker(p));
        }
        Some(Overlay::Help(mut h)) => {
            if h.is_typing {
                h.filter.paste(text);
            }
            model.overlays.push(Overlay::Help(h));
        }
        Some(Overlay::Print(mut desk)) => {
            printing::paste(&mut desk, text);
            model.overlays.push(Overlay::Print(desk));
        }
        Some(Overlay::Welcome(mut w)) => {
            w.field.paste(text);
            model.overlays.push(Overlay::Welcome(w));
        }
        Some(other) => model.overlays.push(other),
        None => model.tell(Status::note("There is nothing to paste into: open a field first.")),
    }
    Vec::new()
}

fn confirm_key(model: &mut Model, confirm: Confirm, key: Key) -> Then {
    match key.code {
        KeyCode::Char('y') => return Then::Act(confirm.yes),
        KeyCode::Char('n') | KeyCode::Esc | KeyCode::Enter => {}
        _ => model.overlays.push(Overlay::Confirm(confirm)),
    }
    Then::Done(Vec::new())
}
