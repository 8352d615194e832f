//! The help screen: what it lists (keys of the table, words of the craft) and the keys that it takes itself.

use super::commands::{Command, Context, offered};
use super::effect::Effect;
use super::input::list::{Cursor, Move, list_move};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Help, Overlay};
use super::resolve;
use crate::domain::craft::{Topic, topics};
use crate::domain::near::one_spelling;

/// Further down than the list ever goes; the drawing side stops at its end.
const END: usize = 4_000;

/// The contexts of the keys, those that count now first.
pub fn order(model: &Model) -> Vec<Context> {
    let here = resolve::contexts(model);
    let mut all = here.clone();
    all.extend(Context::ALL.into_iter().filter(|c| !here.contains(c)));
    all
}

/// The commands of a context that match the filter.
pub fn keys_of(model: &Model, help: &Help, context: Context) -> Vec<&'static Command> {
    let filter = one_spelling(help.filter.text());
    let matches = |c: &Command| {
        let words = format!("{} {} {} {}", c.title, c.line, c.name, model.keymap.texts(c.id).join(" "));
        let words = one_spelling(&words);
        filter.split_whitespace().all(|part| words.contains(part))
    };
    offered(model.can_stop).filter(|c| c.context == context && matches(c)).collect()
}

/// The topics of the craft that match the filter.
pub fn craft(help: &Help) -> Vec<&'static Topic> {
    topics().iter().filter(|t| t.matches(help.filter.text())).collect()
}

/// How many keys and topics match.
pub fn matches(model: &Model, help: &Help) -> usize {
    order(model).into_iter().map(|c| keys_of(model, help, c).len()).sum::<usize>() + craft(help).len()
}

/// Goes through the matches: `n` and `N`, and the arrows once one is picked. False where the key is not for them.
fn go_to_match(model: &Model, help: &mut Help, key: Key) -> bool {
    if help.filter.text().trim().is_empty() {
        return false;
    }
    let count = matches(model, help);
    let step = match (key.code, help.found) {
        (KeyCode::Char('n' | 'N'), None) => {
            help.found = Some(Cursor::default());
            return true;
        }
        (KeyCode::Char('n'), Some(_)) => Move::By(1),
        (KeyCode::Char('N'), Some(_)) => Move::By(-1),
        (_, Some(_)) => match list_move(key) {
            Some(step) => step,
            None => return false,
        },
        _ => return false,
    };
    if let Some(found) = &mut help.found {
        found.go(step, count);
    }
    true
}

/// Gives a key to the help screen.
pub fn key(model: &mut Model, mut help: Help, key: Key) -> Vec<Effect> {
    let is_close = key.code == KeyCode::Esc || key == Key::char('?') || key == Key::char('q');
    if help.is_typing {
        match key.code {
            KeyCode::Esc => help = Help { craft: help.craft, ..Help::default() },
            KeyCode::Enter => help.is_typing = false,
            _ => {
                help.filter.key(key);
                (help.top, help.found) = (0, None);
            }
        }
    } else if key == Key::char('/') {
        (help.is_typing, help.found) = (true, None);
    } else if go_to_match(model, &mut help, key) {
        // Where it stands follows while drawing.
    } else if matches!(key.code, KeyCode::Tab | KeyCode::BackTab) {
        (help.craft, help.top, help.found) = (!help.craft, 0, None);
    } else if is_close {
        return Vec::new();
    } else if let Some(step) = list_move(key) {
        help.top = match step {
            Move::By(n) => help.top.saturating_add_signed(n).min(END),
            Move::First => 0,
            Move::Last => END,
        };
    }
    model.overlays.push(Overlay::Help(help));
    Vec::new()
}
